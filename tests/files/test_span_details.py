"""Openings, landings, crossings and outboards of spans in a file: kept as typed, else refused."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from stringerlab.errors import Problem
from stringerlab.files import dumps, loads
from stringerlab.layout import (
    Backed,
    Crossing,
    Cut,
    End,
    Hole,
    Landing,
    LandsOn,
    Opening,
    TransomLoad,
)
from stringerlab.project import Project


def test_details_are_read_as_they_were_written(boat: Project):
    detailed = replace(
        boat.spans[0],
        ends=(End.HELD, End.SIMPLE),
        landings=(Landing(on=LandsOn.TRANSOM), Landing(on=LandsOn.TAPERED, taper=330.5, height=20)),
        openings=(
            Opening(x=100, height=30, width=40.25, radius=15),
            Opening(kind=Hole.LIGHTENING, x=400, height=40, width=40, bottom=30),
        ),
        crossings=(
            Crossing(x=500, height=180, backed=Backed.TABS, thickness=3.5, length=80),
            Crossing(x=700, height=90, crown=Cut.CONTINUOUS),
        ),
        transom=TransomLoad(thrust=6000, weight=3500.5, depth=400, overhang=300, share=0.5, times=3),
    )
    project = replace(boat, spans=(detailed, *boat.spans[1:]))
    data = dumps(project)
    assert loads(data) == project
    assert dumps(loads(data)) == data


def test_a_file_without_details_is_of_spans_without_any(boat: Project):
    for span in boat.spans:
        assert (span.openings, span.crossings, span.transom) == ((), (), None)
        assert span.landings == (Landing(), Landing())


def test_everything_of_no_shape_is_listed_at_once(
    bare: dict[str, Any], refused: Callable[[Any], tuple[Problem, ...]]
):
    span = bare["project"]["spans"][0]
    span["openings"] = [{"x": 100, "height": "tall", "width": 40}, {"kind": "porthole", "x": 1, "height": 2}]
    span["landings"] = [{"on": "skin"}]
    span["crossings"] = [{"x": 100, "height": 90, "backed": "glue"}]
    span["transom"] = {"thrust": 5000, "horsepower": 150}
    found = refused(bare)
    assert len(found) == 6
    assert all("span 'Main stringer, bay 2' (m9)" in problem.where for problem in found)
    said = " ".join(str(problem) for problem in found)
    for words in (
        "opening 1, height",
        "opening 2, kind",
        "opening 2: 'width' is missing",
        "'limber', 'lightening'",
        "landings",
        "crossing 1, backed",
        "'none', 'tabs', 'diaphragm'",
        "horsepower",
    ):
        assert words in said, said
