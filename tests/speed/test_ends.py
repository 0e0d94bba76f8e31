"""Ends and openings of many spans in one call, against the same spans one by one in the same run."""

from time import perf_counter
from typing import Any, cast

from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.methods.mechanics import OURS, LoadedSpan, ends
from stringerlab.project import resolve
from stringerlab.section import Plating
from stringerlab.section.loads import SectionLoads

MANY = 200


def test_two_hundred_spans_take_under_a_millisecond_each(benchmark: BenchmarkFixture) -> None:
    resolved = resolve(load(folder("sample_projects") / "tidewrack_grid.json"))
    detailed = [case for case in resolved.spans if case.span.openings or case.span.transom]
    assert detailed
    held: list[LoadedSpan] = []
    for case in detailed * (MANY // len(detailed)):
        plating = Plating(stack=case.plating, width=300.0, deadrise=case.drawn_deadrise)
        held.append(
            LoadedSpan(
                case=case,
                plating=plating,
                properties=section_properties(case.section, plating, Moduli.CONTRACTED),
                facts=section_facts(case.section, case.drawn_deadrise),
                P=0.02,
                end=SectionLoads(),
                middle=SectionLoads(),
            )
        )
    ends.judge(held, OURS)
    began = perf_counter()
    for one in held:
        ends.judge([one], OURS)
    singly = perf_counter() - began
    benchmark(ends.judge, held, OURS)
    if benchmark.enabled:
        assert benchmark.stats is not None
        together = float(cast(Any, benchmark.stats).stats.median)
        print(f"\n{together / len(held) * 1e3:.3f} ms a span together, {singly / len(held) * 1e3:.3f} singly")
        assert together / len(held) < 1e-3
        assert together < singly
