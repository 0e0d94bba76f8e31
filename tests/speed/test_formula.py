"""What a formula costs: making it, calling it. Comparisons are with the bare function in the same run."""

import timeit
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab import units
from stringerlab.units import KPa, Mm, MPa, Ratio
from stringerlab.workings import Formula, Known, Source, formula, maths
from stringerlab.workings.maths import sqrt

SOURCE = Source("A book", "1", Known.STATED)
FORMULAS = 300
DECORATING = 0.015
"""Seconds for that many."""
OVERHEAD = 250e-9
"""Seconds a plain call may take beyond its function: twice what a quiet machine shows."""


@formula(symbol="y", source=SOURCE)
def plain(b: Mm, k_C: Ratio, sigma_d: MPa) -> Mm:
    """Without a conversion."""
    return b * k_C / sigma_d


@formula(symbol="t_req", source=SOURCE)
def thickness(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Mm:
    """With a conversion."""
    return b * k_C * sqrt(P * k_2 / (1000 * sigma_d))


def _best(call: Callable[[], Any], number: int) -> float:
    return min(timeit.repeat(call, number=number, repeat=15)) / number


def _timed(benchmark: BenchmarkFixture) -> None:
    if benchmark.disabled:
        pytest.skip("times count with --benchmark-enable")


def test_decorating_three_hundred_formulas_is_soon_done(benchmark: BenchmarkFixture) -> None:
    names = [f"f{number}" for number in range(FORMULAS)]
    source = "\n".join(
        f"def {name}(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Mm:\n"
        f'    """Thickness {name}."""\n'
        "    q = P * k_2 / 1000\n"
        "    return b * k_C * sqrt(q / sigma_d)\n"
        for name in names
    )
    scope: dict[str, Any] = {**vars(units), **vars(maths)}
    exec(compile(source, "<formulas>", "exec"), scope)
    functions = [scope[name] for name in names]

    def decorate() -> list[Formula]:
        return [formula(symbol="t_req", source=SOURCE)(function) for function in functions]

    made = benchmark(decorate)
    assert len(made) == FORMULAS
    assert all("body" not in vars(item) for item in made), "the display is made when first shown"
    _timed(benchmark)
    assert _best(decorate, 1) < DECORATING


def test_a_plain_call_costs_little_more_than_its_function(benchmark: BenchmarkFixture) -> None:
    assert benchmark(plain, 400.0, 1.0, 76.0) == plain.function(400.0, 1.0, 76.0)
    _timed(benchmark)
    bare = plain.function
    extra = _best(lambda: plain(400.0, 1.0, 76.0), 20_000) - _best(lambda: bare(400.0, 1.0, 76.0), 20_000)
    benchmark.extra_info["overhead_ns"] = round(extra * 1e9)
    assert extra < OVERHEAD


def test_on_a_million_rows_only_the_conversion_of_the_pressure_costs(benchmark: BenchmarkFixture) -> None:
    rows = 1_000_000
    b, P = np.linspace(200.0, 900.0, rows), np.linspace(0.005, 0.05, rows)
    P_clause = P / 1e-3
    result = benchmark(thickness, b, 1.0, P, 0.5, 76.0)
    bare: Any = thickness.function
    np.testing.assert_array_equal(result, bare(b, 1.0, P_clause, 0.5, 76.0))
    _timed(benchmark)
    converted = _best(lambda: thickness(b, 1.0, P, 0.5, 76.0), 1)
    raw = _best(lambda: bare(b, 1.0, P / 1e-3, 0.5, 76.0), 1)
    assert converted < 1.25 * raw
