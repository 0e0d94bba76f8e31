"""Vertices and legs: put in, taken out, placed, rounded, and dimensioned by numbers."""

from collections.abc import Callable
from functools import lru_cache
from math import dist, inf, nan
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.geometry.fillet import rounded
from stringerlab.laminate import Moduli
from stringerlab.project import Project, drafting, resolve
from stringerlab.section import Fill, Section, Wall, properties

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "eelgrass_workboat.json"
HAT, FLOOR = "s5", "s7"


@lru_cache(1)
def workboat() -> Project:
    return load(SAMPLE)


def section(project: Project, section_id: str = HAT) -> Section:
    return next(each for each in project.sections if each.id == section_id)


def part(project: Project, part_id: str = "w6", section_id: str = HAT) -> Wall | Fill:
    held = section(project, section_id)
    return next(each for each in (*held.walls, *held.fills) if each.id == part_id)


def fillets(project: Project) -> tuple[float, ...]:
    wall = part(project)
    assert isinstance(wall, Wall)
    return wall.fillets


def test_vertex_on_a_leg_changes_nothing_but_the_drawing():
    grown = drafting.vertex_inserted(workboat(), HAT, "w6", (0.0, 135.0))
    assert part(grown).points[3] == (0.0, 135.0)
    assert fillets(grown) == (0, 12, 15, 0, 15, 12, 0)
    before, after = (
        properties(resolve(boat).shapes[HAT], None, Moduli.PLAIN) for boat in (workboat(), grown)
    )
    assert after.EI_y == pytest.approx(before.EI_y, rel=1e-12)
    assert part(drafting.vertex_removed(grown, HAT, "w6", 3)) == part(workboat())


def test_vertex_goes_into_the_leg_that_is_named_rather_than_the_nearest():
    grown = drafting.vertex_inserted(workboat(), HAT, "w6", (0.0, 135.0), 4)
    assert part(grown).points[5] == (0.0, 135.0)


def test_vertex_goes_into_a_fills_closing_leg():
    grown = drafting.vertex_inserted(workboat(), FLOOR, "f13", (-4.0, 1.5))
    assert part(grown, "f13", FLOOR).points[-1] == (-4.0, 1.5)


def test_point_takes_one_coordinate_or_both():
    assert part(drafting.with_point_at(workboat(), HAT, "w6", 2, y=-50.0)).points[2] == (-50.0, 135.0)
    assert part(drafting.with_point_at(workboat(), HAT, "w6", 2, z=140.0)).points[2] == (-45.0, 140.0)
    both = drafting.with_point_at(workboat(), HAT, "w6", 2, y=-50.0, z=140.0)
    assert part(both).points[2] == (-50.0, 140.0)


def test_corners_are_rounded_together():
    rounder = drafting.filleted(workboat(), HAT, [("w6", 2), ("w6", 3)], 20.0)
    assert fillets(rounder) == (0, 12, 20, 20, 12, 0)
    assert not resolve(rounder).problems


def test_largest_radius_that_fits_is_said_and_fits():
    with pytest.raises(StringerlabError, match=r"the largest that does is (\d+\.\d\d) mm") as refused:
        drafting.filleted(workboat(), HAT, [("w6", 2), ("w6", 3)], 200.0)
    said = float(str(refused.value).split("largest that does is ")[1].split(" ")[0])
    fits = drafting.filleted(workboat(), HAT, [("w6", 2), ("w6", 3)], said - 0.006)
    assert len(rounded(part(fits).points, fillets(fits))) == 6 - 4 + 4 * 9
    with pytest.raises(StringerlabError):
        drafting.filleted(workboat(), HAT, [("w6", 2), ("w6", 3)], said + 0.006)


lengths = st.floats(1.0, 2000.0)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 4), lengths, st.booleans(), st.booleans())
def test_leg_has_the_length_that_is_typed(leg: int, length: float, keep_end: bool, carry: bool):
    before = part(workboat()).points
    changed = drafting.with_segment_length(workboat(), HAT, "w6", leg, length, keep_end=keep_end, carry=carry)
    points = part(changed).points
    assert dist(points[leg], points[leg + 1]) == pytest.approx(length, abs=1e-8)
    assert drafting.segment_length(changed, HAT, "w6", leg) == pytest.approx(length, abs=1e-8)
    assert drafting.segment_angle(changed, HAT, "w6", leg) == pytest.approx(
        drafting.segment_angle(workboat(), HAT, "w6", leg), abs=1e-6
    )
    kept = leg + 1 if keep_end else leg
    assert points[kept] == before[kept]
    if carry:
        others = [other for other in range(5) if other != leg]
        assert [dist(points[i], points[i + 1]) for i in others] == pytest.approx(
            [dist(before[i], before[i + 1]) for i in others], abs=1e-8
        )
    else:
        assert sum(one != other for one, other in zip(points, before, strict=True)) <= 1


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 4), st.floats(-179, 179), st.booleans(), st.booleans())
def test_leg_has_the_angle_that_is_typed(leg: int, angle: float, keep_end: bool, carry: bool):
    changed = drafting.with_segment_angle(workboat(), HAT, "w6", leg, angle, keep_end=keep_end, carry=carry)
    assert drafting.segment_angle(changed, HAT, "w6", leg) == pytest.approx(angle, abs=1e-6)
    assert drafting.segment_length(changed, HAT, "w6", leg) == pytest.approx(
        drafting.segment_length(workboat(), HAT, "w6", leg), abs=1e-8
    )


def test_closing_leg_of_a_fill_has_a_length_too():
    changed = drafting.with_segment_length(workboat(), FLOOR, "f13", 3, 5.0)
    assert dist(part(changed, "f13", FLOOR).points[3], part(changed, "f13", FLOOR).points[0]) == 5.0


BAD: dict[str, tuple[Callable[[Project], Project], str]] = {
    "on a point": (
        lambda boat: drafting.vertex_inserted(boat, HAT, "w6", (45.0, 135.0)),
        "would lie on a point",
    ),
    "no leg": (lambda boat: drafting.vertex_inserted(boat, HAT, "w6", (0, 0), 5), "There is no leg 6"),
    "no vertex": (lambda boat: drafting.vertex_removed(boat, HAT, "w6", 9), "There is no point 10"),
    "last two": (lambda boat: drafting.vertex_removed(boat, FLOOR, "w8", 0), "a line needs 2"),
    "too far": (lambda boat: drafting.with_point_at(boat, HAT, "w6", 0, y=-2e4), "outside the drawing"),
    "no number": (lambda boat: drafting.with_point_at(boat, HAT, "w6", 0, y=nan), "not a number"),
    "fillet of a fill": (lambda boat: drafting.filleted(boat, FLOOR, [("f11", 1)], 3), "It is a fill"),
    "fillet of an end": (lambda boat: drafting.filleted(boat, HAT, [("w6", 0)], 3), "open end"),
    "negative fillet": (lambda boat: drafting.filleted(boat, HAT, [("w6", 1)], -3), "no radius"),
    "endless fillet": (lambda boat: drafting.filleted(boat, HAT, [("w6", 1)], inf), "no radius"),
    "no corner": (lambda boat: drafting.filleted(boat, HAT, [], 3), "No corner is picked"),
    "length of 0": (lambda boat: drafting.with_segment_length(boat, HAT, "w6", 0, 0.0), "no length"),
    "length of nothing": (lambda boat: drafting.with_segment_length(boat, HAT, "w6", 0, nan), "no length"),
    "angle of nothing": (lambda boat: drafting.with_segment_angle(boat, HAT, "w6", 0, inf), "not a number"),
    "carried round": (
        lambda boat: drafting.with_segment_length(boat, FLOOR, "f13", 0, 9.0, carry=True),
        "closed",
    ),
}


@pytest.mark.parametrize(("edit", "said"), BAD.values(), ids=BAD)
def test_bad_vertex_or_dimension_is_refused(edit: Callable[[Project], Project], said: str):
    with pytest.raises(StringerlabError) as refused:
        edit(workboat())
    assert said in str(refused.value)
    assert all(problem.what and problem.where and problem.remedy for problem in refused.value.problems)


def test_leg_between_points_on_one_another_has_no_direction():
    flat = drafting.with_point_at(workboat(), HAT, "w6", 2, y=45.0)
    with pytest.raises(StringerlabError, match="no direction"):
        drafting.with_segment_length(flat, HAT, "w6", 2, 10.0)
