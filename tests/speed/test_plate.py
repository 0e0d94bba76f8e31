"""How long plates take: one panel, two thousand in one call, beside one call a panel in the same run."""

from time import perf_counter
from typing import Any, cast

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.plate.bending import bent
from stringerlab.plate.records import CLAMPED, Bent, Plates

ONE_LIMIT, MANY_LIMIT = 5e-3, 1.0
MANY = 2000


def plates(n: int) -> Plates:
    rng = np.random.default_rng(5)
    D = np.zeros((n, 3, 3))
    D[:, 0, 0] = rng.uniform(5e4, 5e5, n)
    D[:, 1, 1] = D[:, 0, 0] * rng.uniform(0.5, 1.5, n)
    D[:, 0, 1] = D[:, 1, 0] = 0.25 * D[:, 0, 0] * np.minimum(1, D[:, 1, 1] / D[:, 0, 0])
    D[:, 2, 2] = 0.3 * D[:, 0, 0]
    b = rng.uniform(250, 600, n)
    return Plates(
        b=b,
        l=b * rng.uniform(1, 3, n),
        D=D,
        S=np.tile(rng.uniform(300, 2e4, n)[:, None], 2),
        spring_x=np.full(n, CLAMPED),
        spring_y=np.full(n, CLAMPED),
        rise=np.zeros(n),
        membrane=np.broadcast_to(np.eye(3), (n, 3, 3)),
    )


def test_one_panel(benchmark: BenchmarkFixture) -> None:
    given, q = plates(1), np.full(1, 0.03)
    found = cast(Bent, benchmark.pedantic(bent, args=(given, q), rounds=50, warmup_rounds=3))
    assert found.w[0] > 0
    if benchmark.enabled:
        assert float(cast(Any, benchmark.stats).stats.median) < ONE_LIMIT


def test_two_thousand_panels_in_one_call(
    benchmark: BenchmarkFixture, capsys: pytest.CaptureFixture[str]
) -> None:
    given, q = plates(MANY), np.full(MANY, 0.03)
    found = cast(Bent, benchmark.pedantic(bent, args=(given, q), rounds=3, warmup_rounds=1))
    assert np.all(found.w > 0)
    if not benchmark.enabled:
        return
    seconds = float(cast(Any, benchmark.stats).stats.min)
    alone, one = plates(1), np.full(1, 0.03)
    start = perf_counter()
    for _ in range(50):
        bent(alone, one)
    each = (perf_counter() - start) / 50
    with capsys.disabled():
        print(f"\n{MANY} panels {seconds:.2f} s, {each * MANY / seconds:.1f} times as fast as one by one")
    assert seconds < MANY_LIMIT
