"""Whole walls and fills drafted: moved, turned, mirrored, copied, aligned, removed, and what is refused."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from math import inf, nan
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import dumps, load, loads
from stringerlab.laminate import Moduli
from stringerlab.project import Project, drafting, edits, resolve
from stringerlab.project.drafting import Arc, Edge, Leg
from stringerlab.section import Fill, Properties, Section, Side, Wall, properties

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
    """Of the section alone, about its own neutral point."""
    return properties(resolve(project).shapes[section_id], None, Moduli.PLAIN)


def points(part: Wall | Fill) -> list[float]:
    return [value for point in part.points for value in point]


shifts = st.floats(-400, 400)
angles = st.floats(-180, 180)


@settings(max_examples=25, deadline=None)
@given(shifts, st.floats(0, 400))
def test_move_keeps_stiffness_and_moves_the_neutral_axis_along(dy: float, dz: float):
    before = stiffness(workboat())
    after = stiffness(drafting.moved(workboat(), HAT, ["w6"], dy, dz))
    assert after.EI_y == pytest.approx(before.EI_y, rel=1e-9)
    assert (after.EI_z, after.EA) == pytest.approx((before.EI_z, before.EA), rel=1e-9)
    assert after.z_na == pytest.approx(before.z_na + dz, abs=1e-6)
    assert after.y_na == pytest.approx(before.y_na + dy, abs=1e-6)


@settings(max_examples=50, deadline=None)
@given(angles, shifts, shifts)
def test_mirror_twice_is_the_same_drawing(angle: float, y: float, z: float):
    once = drafting.mirrored(workboat(), FLOOR, ["w8", "w9", "f11"], (y, z), angle)
    twice = drafting.mirrored(once, FLOOR, ["w8", "w9", "f11"], (y, z), angle)
    for before, after in zip(section(workboat(), FLOOR).walls, section(twice, FLOOR).walls, strict=True):
        assert after.side is before.side
        assert points(after) == pytest.approx(points(before), abs=1e-8)


@settings(max_examples=50, deadline=None)
@given(angles, shifts, shifts)
def test_turned_back_is_the_same_drawing(angle: float, y: float, z: float):
    there = drafting.turned(workboat(), HAT, ["w6"], angle, (y, z))
    back = drafting.turned(there, HAT, ["w6"], -angle, (y, z))
    assert points(wall(back)) == pytest.approx(points(wall(workboat())), abs=1e-8)
    assert wall(back).fillets == wall(workboat()).fillets


def test_quarter_turn_swaps_the_two_stiffnesses():
    before, after = stiffness(workboat()), stiffness(drafting.turned(workboat(), HAT, ["w6"], 90.0))
    assert after.EI_y == pytest.approx(before.EI_z, rel=1e-9)
    assert after.EI_z == pytest.approx(before.EI_y, rel=1e-9)


def test_turn_without_a_point_keeps_the_middle_of_the_box():
    turned = wall(drafting.turned(workboat(), HAT, ["w6"], 180.0))
    assert min(z for _, z in turned.points) == pytest.approx(min(z for _, z in wall(workboat()).points))
    assert turned.points[2][1] == pytest.approx(wall(workboat()).points[0][1])


def test_mirrored_tab_keeps_its_laminate_on_the_mirrored_face():
    mirrored = drafting.mirrored(workboat(), FLOOR, ["w9"])
    left, right = wall(mirrored, "w9", FLOOR), wall(workboat(), "w10", FLOOR)
    assert [value for point in reversed(left.points) for value in point] == pytest.approx(points(right))
    assert (left.side, right.side) == (Side.RIGHT, Side.LEFT)


def test_mirror_with_a_copy_draws_the_other_tab():
    bare = drafting.removed(workboat(), FLOOR, ["w10", "f12"])
    both = drafting.mirrored(bare, FLOOR, ["w9", "f11"], keep=True)
    assert stiffness(both, FLOOR).EI_y == pytest.approx(stiffness(workboat(), FLOOR).EI_y, rel=1e-9)
    assert [each.id for each in section(both, FLOOR).walls] == ["w8", "w9", "w1", "w29"]
    assert [each.id for each in section(both, FLOOR).fills] == ["f11", "f13", "f30"]


def test_vertex_moved_stretches_its_legs_and_leaves_the_rest():
    moved = wall(drafting.moved(workboat(), HAT, [("w6", 2), ("w6", 3)], 0.0, 15.0))
    before = wall(workboat())
    assert [point[1] for point in moved.points[2:4]] == [150.0, 150.0]
    assert moved.points[:2] + moved.points[4:] == before.points[:2] + before.points[4:]
    assert moved.fillets == before.fillets


def test_copies_step_on_and_take_their_laps_along():
    boat = edits.replaced(workboat(), replace(section(workboat(), FLOOR), laps=(("w8", "w9"),)))
    copied = section(drafting.copied(boat, FLOOR, ["w8", "w9"], 100.0, count=2), FLOOR)
    assert [each.id for each in copied.walls] == ["w8", "w9", "w10", "w1", "w29", "w30", "w31", "w32"]
    assert copied.laps == (("w8", "w9"), ("w29", "w30"), ("w31", "w32"))
    assert copied.walls[-2].points[0][0] == pytest.approx(copied.walls[0].points[0][0] + 200.0)


def test_copy_goes_to_another_section():
    copied = drafting.copied(workboat(), FLOOR, ["w8"], to=HAT)
    assert section(copied, FLOOR) == section(workboat(), FLOOR)
    assert points(section(copied).walls[-1]) == pytest.approx(points(wall(workboat(), "w8", FLOOR)))


@pytest.mark.parametrize(
    ("edge", "value"),
    [
        (Edge.LEFT, lambda box: box[0]),
        (Edge.RIGHT, lambda box: box[2]),
        (Edge.BOTTOM, lambda box: box[1]),
        (Edge.TOP, lambda box: box[3]),
        (Edge.CENTRE, lambda box: (box[0] + box[2]) / 2),
        (Edge.MIDDLE, lambda box: (box[1] + box[3]) / 2),
    ],
)
def test_aligned_parts_share_the_edge(edge: Edge, value: Callable[[tuple[float, ...]], float]):
    aligned = section(drafting.aligned(workboat(), FLOOR, ["w8", "w9", "f12"], edge), FLOOR)
    parts: list[Wall | Fill] = [each for each in aligned.walls if each.id in ("w8", "w9")]
    parts += [each for each in aligned.fills if each.id == "f12"]
    values = {round(value(_box(part)), 6) for part in parts}
    assert len(values) == 1
    if edge is Edge.LEFT:
        assert values == {-73.265625}


def _box(part: Wall | Fill) -> tuple[float, float, float, float]:
    ys, zs = [y for y, _ in part.points], [z for _, z in part.points]
    return min(ys), min(zs), max(ys), max(zs)


def test_single_vertices_align_each_for_itself():
    aligned = wall(drafting.aligned(workboat(), HAT, [("w6", 0), ("w6", 5)], Edge.BOTTOM, 4.0))
    assert [aligned.points[0][1], aligned.points[5][1]] == pytest.approx([4.0, 4.0])
    assert aligned.points[1] == pytest.approx(wall(workboat()).points[1])


def test_removing_a_wall_takes_its_laps_and_keeps_the_rest():
    boat = edits.replaced(workboat(), replace(section(workboat(), FLOOR), laps=(("w8", "w9"), ("w8", "w10"))))
    gone = section(drafting.removed(boat, FLOOR, ["w9", ("w8", 0), ("w8", 1)]), FLOOR)
    assert [each.id for each in gone.walls] == ["w10", "w1"]
    assert gone.laps == ()


def test_every_edit_makes_a_project_that_a_file_holds():
    boat = drafting.wall_drawn(
        workboat(), HAT, (0.0, 200.0), [Leg((50.0, 200.0)), Arc((70.0, 220.0), (50.0, 240.0))], "l2"
    )
    boat = drafting.copied(boat, HAT, ["w6"], 300.0)
    boat = drafting.turned(boat, HAT, ["w30"], 12.0)
    assert loads(dumps(boat)) == boat


BAD: dict[str, tuple[Callable[[Project], Project], str]] = {
    "nothing picked": (lambda boat: drafting.moved(boat, HAT, [], 1, 0), "Nothing is picked"),
    "no section": (lambda boat: drafting.moved(boat, "s6", ["w6"], 1, 0), "There is no section 's6'"),
    "no part": (lambda boat: drafting.moved(boat, HAT, ["w66"], 1, 0), "Did you mean 'w6'?"),
    "part of another section": (lambda boat: drafting.moved(boat, HAT, ["w8"], 1, 0), "no wall or fill 'w8'"),
    "no vertex": (lambda boat: drafting.moved(boat, HAT, [("w6", 6)], 1, 0), "There is no point 7; it has 6"),
    "negative vertex": (lambda boat: drafting.moved(boat, HAT, [("w6", -1)], 1, 0), "There is no point 0"),
    "moved out": (lambda boat: drafting.moved(boat, HAT, ["w6"], 2e4, 0), "outside the drawing"),
    "moved by no number": (lambda boat: drafting.moved(boat, HAT, ["w6"], nan, 0), "not a number"),
    "moved by infinity": (lambda boat: drafting.moved(boat, HAT, ["w6"], inf, 0), "not a number"),
    "turned in part": (lambda boat: drafting.turned(boat, HAT, [("w6", 1)], 10), "Only some of its points"),
    "no copies": (lambda boat: drafting.copied(boat, HAT, ["w6"], count=0), "not 1 to 100"),
    "copy to nowhere": (lambda boat: drafting.copied(boat, HAT, ["w6"], to="s9"), "no section 's9'"),
    "too few points left": (
        lambda boat: drafting.removed(boat, HAT, [("w6", index) for index in range(5)]),
        "1 point would be left; a line needs 2",
    ),
    "fill of two points": (
        lambda boat: drafting.removed(boat, FLOOR, [("f13", 0), ("f13", 1)]),
        "2 points would be left; a closed line needs 3",
    ),
}


@pytest.mark.parametrize(("edit", "said"), BAD.values(), ids=BAD)
def test_bad_edit_is_refused_with_what_where_and_what_to_do(edit: Callable[[Project], Project], said: str):
    with pytest.raises(StringerlabError) as refused:
        edit(workboat())
    assert said in str(refused.value)
    assert all(problem.what and problem.where and problem.remedy for problem in refused.value.problems)


def test_everything_that_is_not_there_is_said_at_once():
    with pytest.raises(StringerlabError) as refused:
        drafting.moved(workboat(), FLOOR, ["w8", "w99", ("w9", 7), "f0"], 1.0, 0.0)
    assert len(refused.value.problems) == 3


numbers = st.one_of(st.floats(-300, 300), st.sampled_from([0.0, 1e-12, 1e5, nan, inf, -inf]))
spots = st.tuples(numbers, numbers)
picks = st.lists(st.sampled_from(["w6", "w8", "f11", "x", ("w6", 2), ("f11", 3), ("w6", 99)]), max_size=3)
ids = st.sampled_from(["w6", "w8", "w9", "f11", "x"])
WILD: dict[str, Callable[[Callable[..., Any], str], Project]] = {
    "moved": lambda some, at: drafting.moved(workboat(), at, some(picks), some(numbers), some(numbers)),
    "turned": lambda some, at: drafting.turned(workboat(), at, some(picks), some(numbers), some(spots)),
    "mirrored": lambda some, at: drafting.mirrored(workboat(), at, some(picks), some(spots), some(numbers)),
    "removed": lambda some, at: drafting.removed(workboat(), at, some(picks)),
    "split": lambda some, at: drafting.split(workboat(), at, some(ids), some(spots)),
    "joined": lambda some, at: drafting.joined(workboat(), at, some(ids), some(ids), tolerance=1000.0),
    "offset": lambda some, at: drafting.offset(workboat(), at, some(ids), some(numbers)),
    "offset through": lambda some, at: drafting.offset_through(workboat(), at, some(ids), some(spots)),
    "vertex": lambda some, at: drafting.vertex_inserted(workboat(), at, some(ids), some(spots)),
    "fillet": lambda some, at: drafting.filleted(workboat(), at, [(some(ids), 1)], some(numbers)),
    "region": lambda some, at: drafting.filled_region(workboat(), at, some(spots), "putty"),
    "block": lambda some, at: drafting.with_block(
        workboat(), at, some(ids), some(spots), some(numbers), some(numbers), "putty"
    ),
    "drawn": lambda some, at: drafting.wall_drawn(
        workboat(), at, some(spots), [Arc(some(spots), some(spots)), Leg(some(spots))], "l2"
    ),
}


@pytest.mark.parametrize("edit", WILD.values(), ids=WILD)
@settings(max_examples=30, deadline=None)
@given(data=st.data())
def test_wild_edit_is_done_or_refused_and_never_worse(
    edit: Callable[[Callable[..., Any], str], Project], data: st.DataObject
):
    """What is done can be saved, opened and looked at; what is not says why."""
    problems: tuple[Problem, ...] = ()
    after = workboat()
    try:
        after = edit(data.draw, data.draw(st.sampled_from([HAT, FLOOR])))
    except StringerlabError as refused:
        problems = refused.problems
    assert all(problem.what and problem.where for problem in problems)
    assert loads(dumps(after)) == after
    assert set(resolve(after).blocked) <= {subject.id for subject in (*after.panels, *after.spans)}
