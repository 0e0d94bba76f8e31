"""Walls as lines: split and joined, parallel, reversed, closed, drawn with arcs."""

from cmath import rect
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import dist, hypot, radians
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.geometry.fillet import rounded
from stringerlab.laminate import Moduli
from stringerlab.project import Project, drafting, edits, resolve
from stringerlab.project.drafting import Arc, Leg
from stringerlab.section import Properties, Section, Side, Wall, properties

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "eelgrass_workboat.json"
HAT, FLOOR = "s5", "s7"


@lru_cache(1)
def workboat() -> Project:
    return load(SAMPLE)


def section(project: Project, section_id: str = HAT) -> Section:
    return next(each for each in project.sections if each.id == section_id)


def wall(project: Project, wall_id: str = "w6", section_id: str = HAT) -> Wall:
    return next(each for each in section(project, section_id).walls if each.id == wall_id)


def stiffness(project: Project, section_id: str = HAT) -> Properties:
    return properties(resolve(project).shapes[section_id], None, Moduli.PLAIN)


def drawn(*points: tuple[float, float], side: Side = Side.LEFT, closed: bool = False) -> Project:
    """The workboat with a wall w29 of these points in its hat's section."""
    start, *others = points
    steps = [Leg(point) for point in others]
    return drafting.wall_drawn(workboat(), HAT, start, steps, "l2", side, closed=closed)


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 4), st.floats(0.0, 1.0))
def test_split_and_joined_has_the_same_properties(leg: int, along: float):
    line = wall(workboat())
    start, end = line.points[leg], line.points[leg + 1]
    at = (start[0] + along * (end[0] - start[0]), start[1] + along * (end[1] - start[1]))
    try:
        parts = drafting.split(workboat(), HAT, "w6", at)
    except StringerlabError:
        assume(False)
        return
    before, after = stiffness(workboat()), stiffness(parts)
    assert after.EI_y == pytest.approx(before.EI_y, rel=1e-9)
    for pair in (("w6", "w29"), ("w29", "w6")):
        one = stiffness(drafting.joined(parts, HAT, *pair))
        assert one.EI_y == pytest.approx(before.EI_y, rel=1e-9)
        assert (one.EI_z, one.EA) == pytest.approx((before.EI_z, before.EA), rel=1e-9)
        assert one.EI_yz == pytest.approx(before.EI_yz, abs=1e-6 * before.EI_y)


def test_split_then_join_is_the_very_wall():
    parts = drafting.split(workboat(), HAT, "w6", (0.0, 137.0))
    assert wall(parts).points[-1] == wall(parts, "w29").points[0] == (0.0, 135.0)
    assert wall(drafting.joined(parts, HAT, "w6", "w29")) == wall(workboat())


def test_split_parts_share_laps():
    boat = edits.replaced(workboat(), replace(section(workboat(), FLOOR), laps=(("w8", "w9"),)))
    parts = drafting.split(boat, FLOOR, "w8", (0.0, 100.0))
    assert section(parts, FLOOR).laps == (("w8", "w9"), ("w29", "w9"))
    assert section(drafting.joined(parts, FLOOR, "w8", "w29"), FLOOR).laps == (("w8", "w9"),)


def test_closed_wall_split_becomes_one_open_wall_with_its_ends_there():
    box = drawn((0, 200), (60, 200), (60, 260), (0, 260), closed=True)
    opened = wall(drafting.split(box, HAT, "w29", (30.0, 201.0)), "w29")
    assert not opened.closed
    assert opened.points[0] == opened.points[-1] == (30.0, 200.0)
    assert len(opened.points) == 6


def test_wall_is_not_cut_within_a_fillet():
    for at in ((-44.0, 135.0), (-56.0, 12.0), 2):
        with pytest.raises(StringerlabError, match="fillet"):
            drafting.split(workboat(), HAT, "w6", at)


def test_wall_is_not_cut_at_its_end():
    for at in (0, 5, (-200.0, 9.2)):
        with pytest.raises(StringerlabError, match="open end"):
            drafting.split(workboat(), HAT, "w6", at)


@pytest.mark.parametrize("flip_first", [False, True])
@pytest.mark.parametrize("flip_second", [False, True])
@pytest.mark.parametrize("swap", [False, True])
def test_walls_join_whichever_way_they_are_drawn(flip_first: bool, flip_second: bool, swap: bool):
    parts = drafting.split(workboat(), HAT, "w6", (0.0, 135.0))
    if flip_first:
        parts = drafting.direction_reversed(parts, HAT, "w6")
    if flip_second:
        parts = drafting.direction_reversed(parts, HAT, "w29")
    pair = ("w29", "w6") if swap else ("w6", "w29")
    joined = drafting.joined(parts, HAT, *pair)
    assert [each.id for each in section(joined).walls] == [pair[0]]
    assert stiffness(joined).EI_y == pytest.approx(stiffness(workboat()).EI_y, rel=1e-12)


def test_walls_that_meet_at_both_ends_become_one_closed_wall():
    boat = drawn((0, 200), (60, 200), (60, 260))
    boat = drafting.wall_drawn(
        boat, HAT, (60.0, 260.0), [Leg((0.0, 260.0)), Leg((0.0, 200.0))], "l2", Side.LEFT
    )
    joined = wall(drafting.joined(boat, HAT, "w29", "w30"), "w29")
    assert joined.closed
    assert joined.points == ((0, 200), (60, 200), (60, 260), (0, 260))


def test_joining_refuses_what_would_change_the_part():
    parts = drafting.split(workboat(), HAT, "w6", (0.0, 135.0))
    swapped = drafting.side_swapped(parts, HAT, ["w29"])
    with pytest.raises(StringerlabError, match="opposite faces"):
        drafting.joined(swapped, HAT, "w6", "w29")
    moved = drafting.moved(parts, HAT, ["w29"], 3.0, 0.0)
    with pytest.raises(StringerlabError, match=r"3\.000 mm apart"):
        drafting.joined(moved, HAT, "w6", "w29")
    other = edits.replaced(parts, replace(wall(parts, "w29"), laminate="l4", closed=True))
    with pytest.raises(StringerlabError) as refused:
        drafting.joined(other, HAT, "w6", "w29")
    assert len(refused.value.problems) == 2
    with pytest.raises(StringerlabError, match="not joined to itself"):
        drafting.joined(parts, HAT, "w6", "w6")


def test_wider_tolerance_joins_to_the_first_walls_end():
    parts = drafting.moved(drafting.split(workboat(), HAT, "w6", (0.0, 135.0)), HAT, ["w29"], 0.0, 0.4)
    joined = wall(drafting.joined(parts, HAT, "w6", "w29", tolerance=1.0))
    assert joined.points[3] == (0.0, 135.0)


def test_reversing_keeps_the_laminate_on_its_face():
    turned = drafting.direction_reversed(workboat(), HAT, "w6")
    assert wall(turned).side is Side.LEFT
    assert stiffness(turned).EI_y == pytest.approx(stiffness(workboat()).EI_y, rel=1e-12)
    assert wall(drafting.direction_reversed(turned, HAT, "w6")) == wall(workboat())


def test_swapped_side_builds_the_laminate_outside():
    outside = drafting.side_swapped(workboat(), HAT, ["w6"])
    assert wall(outside).side is Side.LEFT
    assert stiffness(outside).z_na > stiffness(workboat()).z_na + 3.0


@pytest.mark.parametrize("distance", [4.0, -7.5])
def test_parallel_lies_at_its_distance_with_fillets_about_the_same_centres(distance: float):
    copy = wall(drafting.offset(workboat(), HAT, "w6", distance), "w29")
    line = rounded(wall(workboat()).points, wall(workboat()).fillets, chords=400)
    other = rounded(copy.points, copy.fillets, chords=400)
    for y, z in other[::20]:
        nearest = min(_to_segment((y, z), a, b) for a, b in pairwise(line))
        assert nearest == pytest.approx(abs(distance), abs=2e-3)
    # The laminate builds inside: positive is inward, where the crown's radius shrinks.
    assert copy.fillets[2] == pytest.approx(15.0 - distance)
    assert copy.fillets[1] == pytest.approx(12.0 + distance)


def _to_segment(point: tuple[float, float], start: tuple[float, float], end: tuple[float, float]) -> float:
    way = (end[0] - start[0], end[1] - start[1])
    arm = (point[0] - start[0], point[1] - start[1])
    along = min(max((arm[0] * way[0] + arm[1] * way[1]) / hypot(*way) ** 2, 0.0), 1.0)
    return dist(point, (start[0] + along * way[0], start[1] + along * way[1]))


def test_parallel_through_a_point_passes_it():
    copy = wall(drafting.offset_through(workboat(), HAT, "w6", (5.0, 141.0)), "w29")
    assert copy.points[2][1] == pytest.approx(141.0)
    inner = wall(drafting.offset_through(workboat(), HAT, "w6", (5.0, 120.0)), "w29")
    assert inner.points[2][1] == pytest.approx(120.0)


def test_parallel_that_swallows_a_leg_is_refused():
    with pytest.raises(StringerlabError, match="Leg 3 is too short"):
        drafting.offset(workboat(), HAT, "w6", 60.0)
    with pytest.raises(StringerlabError, match="no distance"):
        drafting.offset(workboat(), HAT, "w6", 0.0)


def test_opened_and_closed_again():
    box = drawn((0, 200), (60, 200), (60, 260), (0, 260), closed=True)
    opened = drafting.opened(box, HAT, "w29", 1)
    assert wall(opened, "w29").points == ((60, 260), (0, 260), (0, 200), (60, 200))
    closed = wall(drafting.closed_up(opened, HAT, "w29"), "w29")
    assert closed.closed
    assert len(closed.points) == 4
    with pytest.raises(StringerlabError, match="open already"):
        drafting.opened(opened, HAT, "w29")
    with pytest.raises(StringerlabError, match="closed already"):
        drafting.closed_up(box, HAT, "w29")
    with pytest.raises(StringerlabError, match="needs 3"):
        drafting.closed_up(workboat(), FLOOR, "w8")


def test_drawn_arc_becomes_a_corner_with_its_radius():
    boat = drafting.wall_drawn(
        workboat(),
        HAT,
        (0.0, 200.0),
        [
            Leg((30.0, 200.0)),
            Arc((30.0 + 20 * 0.5**0.5, 220.0 - 20 * 0.5**0.5), (50.0, 220.0)),
            Leg((50.0, 260.0)),
        ],
        "l2",
        name="bracket",
    )
    line = wall(boat, "w29")
    assert [value for point in line.points for value in point] == pytest.approx([0, 200, 50, 200, 50, 260])
    assert line.fillets == pytest.approx((0, 20, 0))
    assert line.name == "bracket"


@settings(max_examples=60, deadline=None)
@given(st.floats(5, 300), st.floats(-170, 170), st.floats(20, 340), st.booleans())
def test_drawn_arc_lies_on_its_circle(radius: float, start: float, sweep: float, clockwise: bool):

    turn = -sweep if clockwise else sweep
    places = [100 + 200j + rect(radius, radians(start + part * turn)) for part in (0, 0.4, 1)]
    first, through, last = [(place.real, place.imag) for place in places]
    line = wall(drafting.wall_drawn(workboat(), HAT, first, [Arc(through, last)], "l2"), "w29")
    vertices = rounded(line.points, line.fillets)
    assert tuple(vertices[0]) == pytest.approx(first, abs=1e-6)
    assert tuple(vertices[-1]) == pytest.approx(last, abs=1e-6)
    assert [hypot(y - 100, z - 200) for y, z in vertices] == pytest.approx([radius] * len(vertices), abs=1e-4)
    length = sum(dist(a, b) for a, b in pairwise(vertices))
    assert length == pytest.approx(radius * radians(sweep), rel=4e-3)


def test_arc_through_three_points_on_a_line_is_a_leg():
    line = wall(
        drafting.wall_drawn(workboat(), HAT, (0.0, 200.0), [Arc((20.0, 210.0), (40.0, 220.0))], "l2"), "w29"
    )
    assert line.points == ((0, 200), (40, 220))
    assert line.fillets == ()


def test_drawn_wall_drops_steps_without_length_and_a_closing_one():
    steps = [Leg((0.0, 200.0)), Leg((60.0, 200.0)), Leg((60.0, 200.0)), Leg((60.0, 260.0)), Leg((0.0, 200.0))]
    line = wall(
        drafting.wall_drawn(workboat(), HAT, (0.0, 200.0), steps, "l2", Side.LEFT, closed=True), "w29"
    )
    assert line.closed
    assert line.points == ((0, 200), (60, 200), (60, 260))


BAD: dict[str, tuple[Callable[[Project], Project], str]] = {
    "one point": (lambda boat: drafting.wall_drawn(boat, HAT, (0, 0), [], "l2"), "a line needs 2"),
    "no laminate": (
        lambda boat: drafting.wall_drawn(boat, HAT, (0, 0), [Leg((9, 0))], "l9"),
        "laminate 'l9'",
    ),
    "not a number": (
        lambda boat: drafting.wall_drawn(boat, HAT, (0, 0), [Leg((float("nan"), 0))], "l2"),
        "not a number",
    ),
    "split a fill": (lambda boat: drafting.split(boat, FLOOR, "f11", 1), "It is a fill"),
    "split at no point": (lambda boat: drafting.split(boat, HAT, "w6", 6), "There is no point 7"),
    "swap a fill": (lambda boat: drafting.side_swapped(boat, FLOOR, ["f11"]), "It is a fill"),
}


@pytest.mark.parametrize(("edit", "said"), BAD.values(), ids=BAD)
def test_bad_line_is_refused(edit: Callable[[Project], Project], said: str):
    with pytest.raises(StringerlabError) as refused:
        edit(workboat())
    assert said in str(refused.value)
    assert all(problem.what and problem.where and problem.remedy for problem in refused.value.problems)
