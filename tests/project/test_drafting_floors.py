"""A plate floor recognised in the drawing, redrawn by its parameters and dragged by its handles."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project, drafting, drafting_floors
from stringerlab.project.drafting import FloorHandle, FloorParameters
from stringerlab.section import Section

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "eelgrass_workboat.json"
FLOOR = "s7"
PLATE, LEFT, RIGHT = "w8", "w9", "w10"
CAP = "w1"
"""A strip along the plate's top edge: none of the floor's own walls."""
DRAWN = FloorParameters(
    plate="l3",
    tab="l4",
    putty="putty",
    depth=190.0,
    tab_height=60.0,
    tab_width=70.0,
    root_radius=12.0,
    bed=3.0,
)


@lru_cache(1)
def workboat() -> Project:
    return load(SAMPLE)


def section(project: Project) -> Section:
    return next(each for each in project.sections if each.id == FLOOR)


def handle_of(project: Project, name: FloorHandle, wall: str = RIGHT) -> drafting.Handle:
    return next(each for each in drafting.floor_handles(project, FLOOR, wall) if each.name == name)


def test_sample_floor_is_recognised_with_the_numbers_it_was_drawn_with():
    assert drafting.floor_parameters(workboat(), FLOOR) == DRAWN


@pytest.mark.parametrize(
    "changed",
    [
        {"depth": 150.0},
        {"tab_height": 45.0, "tab_width": 52.5},
        {"bed": 0.0},
        {"root_radius": 0.0},
        {"root_radius": 0.0, "bed": 0.0},
        {"root_radius": 20.0, "bed": 8.0, "tab_height": 190.0},
    ],
)
def test_floor_redrawn_is_recognised_as_its_parameters_and_keeps_its_ids(changed: dict[str, float]):
    wanted = replace(DRAWN, **changed)
    boat = drafting.with_floor(workboat(), FLOOR, wanted)
    assert drafting.floor_parameters(boat, FLOOR) == wanted
    assert [wall.id for wall in section(boat).walls] == [PLATE, LEFT, RIGHT, CAP]
    before = {fill.name: fill.id for fill in section(workboat()).fills}
    kept = {fill.name: fill.id for fill in section(boat).fills}
    assert kept.items() <= before.items()
    assert len(kept) == 2 * (wanted.root_radius > 0) + (wanted.bed > 0)


def test_putty_comes_back_when_the_corner_is_rounded_again():
    bare = drafting.with_floor(workboat(), FLOOR, replace(DRAWN, root_radius=0.0, bed=0.0))
    assert section(bare).fills == ()
    again = drafting.with_floor(bare, FLOOR, DRAWN)
    assert drafting.floor_parameters(again, FLOOR) == DRAWN
    ids = [fill.id for fill in section(again).fills]
    assert all(ids)
    assert len(set(ids)) == 3


def test_way_of_drawing_makes_no_difference():
    boat = workboat()
    for wall in (PLATE, LEFT, RIGHT):
        boat = drafting.direction_reversed(boat, FLOOR, wall)
    assert drafting.floor_parameters(boat, FLOOR) == DRAWN
    assert handle_of(boat, FloorHandle.TAB_WIDTH).at == pytest.approx((73.265625, 0.0))
    deeper = drafting.with_floor(boat, FLOOR, replace(DRAWN, depth=200.0))
    assert drafting.floor_parameters(deeper, FLOOR) == replace(DRAWN, depth=200.0)


@pytest.mark.parametrize(
    "spoil",
    [
        lambda boat: drafting.moved(boat, FLOOR, [PLATE], 1.0, 0.0),
        lambda boat: drafting.moved(boat, FLOOR, [PLATE, LEFT, RIGHT], 5.0, 0.0),
        lambda boat: drafting.removed(boat, FLOOR, [LEFT]),
        lambda boat: drafting.with_point_at(boat, FLOOR, RIGHT, 2, y=80.0),
        lambda boat: drafting.filleted(boat, FLOOR, [(RIGHT, 1)], 14.0),
        lambda boat: drafting.side_swapped(boat, FLOOR, [RIGHT]),
        lambda boat: drafting.removed(boat, FLOOR, [section(boat).fills[0].id]),
        lambda boat: drafting.with_reference(boat, FLOOR, deadrise=8.0),
    ],
)
def test_what_is_no_floor_any_more_is_not_taken_for_one(spoil: Callable[[Project], Project]):
    spoilt = spoil(workboat())
    assert drafting.floor_parameters(spoilt, FLOOR) is None
    assert drafting.floor_handles(spoilt, FLOOR, RIGHT) == ()
    with pytest.raises(StringerlabError, match="no such handle"):
        drafting.with_floor(spoilt, FLOOR, DRAWN)
    with pytest.raises(StringerlabError, match="no such handle"):
        drafting.with_floor_handle_at(spoilt, FLOOR, PLATE, FloorHandle.DEPTH, (0.0, 200.0))


def test_what_else_the_section_holds_stays():
    block = drafting.with_block(workboat(), FLOOR, PLATE, (-3.265625, 120.0), 40.0, 20.0, "frp_block")
    (added,) = [fill for fill in section(block).fills if fill.material == "frp_block"]
    deeper = drafting.with_floor(block, FLOOR, replace(DRAWN, depth=200.0, bed=0.0))
    assert added in section(deeper).fills


@pytest.mark.parametrize("wall", [PLATE, LEFT, RIGHT])
@pytest.mark.parametrize("name", list(FloorHandle))
def test_handle_put_where_it_stands_changes_nothing(name: FloorHandle, wall: str):
    handle = handle_of(workboat(), name, wall)
    dragged = drafting.with_shape_handle_at(workboat(), FLOOR, wall, name, handle.at)
    assert drafting.floor_parameters(dragged, FLOOR) == DRAWN


@pytest.mark.parametrize("wall", [LEFT, RIGHT])
@pytest.mark.parametrize("name", list(FloorHandle))
def test_handle_comes_to_lie_where_it_is_dragged_on_its_way(name: FloorHandle, wall: str):
    changed = replace(DRAWN, **{name.value.replace(" ", "_"): handle_of(workboat(), name).value + 2.5})
    goal = handle_of(drafting.with_floor(workboat(), FLOOR, changed), name, wall)
    dragged = drafting.with_floor_handle_at(workboat(), FLOOR, wall, name, goal.at)
    assert drafting.floor_parameters(dragged, FLOOR) == changed


def test_handles_stand_on_the_tab_that_is_asked_for():
    assert handle_of(workboat(), FloorHandle.TAB_WIDTH, LEFT).at == pytest.approx((-73.265625, 0.0))
    assert handle_of(workboat(), FloorHandle.TAB_HEIGHT, RIGHT).at == pytest.approx((3.265625, 60.0))
    assert handle_of(workboat(), FloorHandle.DEPTH, LEFT).at[1] == 190.0


def test_tab_is_not_dragged_above_the_plate_nor_a_depth_below_the_tab():
    tall = drafting.with_floor_handle_at(workboat(), FLOOR, RIGHT, FloorHandle.TAB_HEIGHT, (0.0, 500.0))
    assert drafting.floor_parameters(tall, FLOOR) == replace(DRAWN, tab_height=190.0)
    with pytest.raises(StringerlabError, match="higher than the plate"):
        drafting.with_floor_handle_at(workboat(), FLOOR, RIGHT, FloorHandle.DEPTH, (0.0, 50.0))


def test_hat_and_floor_go_by_one_call():
    hat = drafting.shape_handles(workboat(), "s5", "w6")
    assert [each.name for each in hat] == [each.name for each in drafting.hat_handles(workboat(), "s5", "w6")]
    assert [each.name for each in drafting.shape_handles(workboat(), FLOOR, PLATE)] == list(FloorHandle)


def test_looking_for_a_floor_among_many_walls_tries_only_what_may_be_one(monkeypatch: pytest.MonkeyPatch):
    boat = workboat()
    for step in range(1, 20):
        boat = drafting.copied(boat, FLOOR, [PLATE, LEFT, RIGHT], 40.0 * step, 0.0)
    tried = 0

    def counted(*given: object) -> object:
        nonlocal tried
        tried += 1
        return drawn(*given)  # type: ignore[arg-type]

    drawn = drafting_floors.floor_drawn
    monkeypatch.setattr(drafting_floors, "floor_drawn", counted)
    assert drafting.floor_parameters(boat, FLOOR) == DRAWN
    assert len(section(boat).walls) == 61
    assert tried == 1
