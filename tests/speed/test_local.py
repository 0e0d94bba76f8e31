"""How long the local failure of a span takes within its boat, beside its section's stiffness."""

from time import perf_counter
from typing import Any, cast

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.layout import SpanCase
from stringerlab.methods.mechanics import OURS, LoadedSpan
from stringerlab.methods.mechanics.local import judge
from stringerlab.methods.records import Judged
from stringerlab.project import resolve
from stringerlab.section import Plating, facts, properties
from stringerlab.section.loads import SectionLoads

LIMIT = 1e-3
"""Seconds a span."""


def loaded(case: SpanCase) -> LoadedSpan:
    plating = Plating(stack=case.plating, width=300.0, deadrise=case.drawn_deadrise)
    moment, shear = 0.02 * case.span.s * case.span.lu**2 / 12, 0.01 * case.span.s * case.span.lu
    return LoadedSpan(
        case=case,
        plating=plating,
        properties=properties(case.section, plating, Moduli.CONTRACTED),
        facts=facts(case.section, case.drawn_deadrise),
        P=0.02,
        end=SectionLoads(V_z=shear, M_y=-moment),
        middle=SectionLoads(M_y=moment / 2),
    )


def test_spans_of_a_boat(benchmark: BenchmarkFixture, capsys: pytest.CaptureFixture[str]) -> None:
    cases = resolve(load(folder("sample_projects") / "tidewrack_grid.json")).spans
    spans = [loaded(case) for case in cases]
    found = cast(
        tuple[Judged, ...], benchmark.pedantic(judge, args=(spans, OURS), rounds=20, warmup_rounds=2)
    )
    assert found
    if not benchmark.enabled:
        return
    each = float(cast(Any, benchmark.stats).stats.median) / len(spans)
    start = perf_counter()
    for case in cases:
        loaded(case)
    stiffness = (perf_counter() - start) / len(cases)
    with capsys.disabled():
        print(
            f"\nlocal failure {1e3 * each:.2f} ms a span, {each / stiffness:.2f} of its section's stiffness"
        )
    assert each < LIMIT
