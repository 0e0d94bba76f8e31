"""Starter shapes by their parameters, recognised again in the drawing, and dragged by their handles."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from math import radians, tan
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.geometry.fillet import rounded
from stringerlab.project import Project, drafting, edits, resolve
from stringerlab.project.drafting import FloorParameters, HandleName, HatParameters
from stringerlab.section import Reference, Section, Wall, facts

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "eelgrass_workboat.json"
HAT, FLOOR = "s5", "s7"

PARAMETERS = HatParameters(
    laminate="l2",
    height=120.0,
    crown_width=80.0,
    flange_width=55.0,
    draft=6.0,
    crown_radius=14.0,
    root_radius=12.0,
)
PLATE = FloorParameters(
    plate="l3",
    tab="l4",
    putty="putty",
    depth=170.0,
    tab_height=60.0,
    tab_width=70.0,
    root_radius=12.0,
    bed=3.0,
)


@lru_cache(1)
def workboat() -> Project:
    return load(SAMPLE)


def section(project: Project, section_id: str = HAT) -> Section:
    return next(each for each in project.sections if each.id == section_id)


def hat_wall(project: Project) -> Wall:
    return section(project).walls[0]


def test_sample_hat_is_recognised_with_the_numbers_it_was_drawn_with():
    assert drafting.hat_parameters(workboat(), HAT) == HatParameters(
        laminate="l2",
        height=135.0,
        crown_width=90.0,
        flange_width=60.0,
        draft=5.0,
        crown_radius=15.0,
        root_radius=12.0,
    )
    assert drafting.hat_parameters(workboat(), FLOOR) is None
    assert drafting.hat_parameters(workboat(), section(workboat()), "w6") is not None


@settings(max_examples=80, deadline=None)
@given(
    st.floats(40, 400),
    st.floats(30, 300),
    st.floats(20, 120),
    st.floats(0, 25),
    st.floats(0, 20),
    st.floats(0, 20),
    st.floats(-300, 300),
    st.sampled_from([0.0, 12.5, 22.0]),
    st.booleans(),
)
def test_hat_drawn_from_parameters_is_recognised_as_them(
    height: float,
    crown_width: float,
    flange_width: float,
    draft: float,
    crown_radius: float,
    root_radius: float,
    centre: float,
    deadrise: float,
    reverse: bool,
):
    hat = HatParameters(
        laminate="l2",
        height=height,
        crown_width=crown_width,
        flange_width=flange_width,
        draft=draft,
        crown_radius=crown_radius,
        root_radius=root_radius,
        centre=centre,
    )
    reference = Reference(laminate="l1", width=300.0, deadrise=deadrise)
    try:
        boat = drafting.with_shape(workboat(), None, hat, bead=4.0, reference=reference)
    except StringerlabError:
        assume(False)
        return
    drawn = boat.sections[-1]
    if reverse:
        boat = drafting.direction_reversed(boat, drawn.id, drawn.walls[0].id)
    found = drafting.hat_parameters(boat, drawn.id)
    assert found is not None
    for name in ("height", "crown_width", "flange_width", "draft", "crown_radius", "root_radius", "centre"):
        assert getattr(found, name) == pytest.approx(getattr(hat, name), abs=2e-6), name


@pytest.mark.parametrize(
    "spoil",
    [
        lambda boat: drafting.with_point_at(boat, HAT, "w6", 2, z=136.0),
        lambda boat: drafting.with_point_at(boat, HAT, "w6", 0, y=-130.0),
        lambda boat: drafting.filleted(boat, HAT, [("w6", 2)], 9.0),
        lambda boat: drafting.side_swapped(boat, HAT, ["w6"]),
        lambda boat: drafting.vertex_inserted(boat, HAT, "w6", (0.0, 135.0)),
        lambda boat: drafting.moved(boat, HAT, ["w6"], 0.0, 2.0),
        lambda boat: drafting.turned(boat, HAT, ["w6"], 3.0),
    ],
)
def test_what_is_no_hat_any_more_is_not_taken_for_one(spoil: Callable[[Project], Project]):
    assert drafting.hat_parameters(spoil(workboat()), HAT) is None
    assert drafting.hat_handles(spoil(workboat()), HAT, "w6") == ()


def test_hat_moved_along_the_shell_is_still_one():
    moved = drafting.moved(workboat(), HAT, ["w6"], 85.5, 0.0)
    found = drafting.hat_parameters(moved, HAT)
    assert found is not None
    assert found.centre == 85.5
    assert _near(drafting.with_hat(moved, HAT, "w6", found), moved)


def _near(one: Project, other: Project) -> bool:
    pairs = zip(hat_wall(one).points, hat_wall(other).points, strict=True)
    return all(abs(a[0] - b[0]) < 1e-6 and abs(a[1] - b[1]) < 1e-6 for a, b in pairs)


def test_hat_redrawn_keeps_its_id_name_and_laps():
    redrawn = drafting.with_hat(workboat(), HAT, "w6", PARAMETERS)
    assert (hat_wall(redrawn).id, hat_wall(redrawn).name) == ("w6", "hat")
    assert drafting.hat_parameters(redrawn, HAT) == PARAMETERS
    assert redrawn.counter == workboat().counter


def test_new_hat_has_the_crown_and_webs_of_its_parameters():
    boat = drafting.with_shape(
        workboat(), None, PARAMETERS, name="Fore stringer", reference=Reference(laminate="l1", width=200.0)
    )
    drawn = boat.sections[-1]
    assert (drawn.id, drawn.name, drawn.walls[0].id) == ("s29", "Fore stringer", "w30")
    measured = facts(resolve(boat).shapes[drawn.id])
    assert measured.base_width == pytest.approx(80.0 + 2 * 120.0 * tan(radians(6.0)), abs=1e-6)
    assert not resolve(boat).problems


def test_shape_replaces_a_sections_drawing_and_keeps_the_section():
    boat = drafting.with_shape(workboat(), HAT, PLATE)
    drawn = section(boat)
    assert (drawn.name, drawn.bead, drawn.reference) == (
        section(workboat()).name,
        section(workboat()).bead,
        section(workboat()).reference,
    )
    assert [wall.id for wall in drawn.walls] == ["w29", "w30", "w31"]
    assert [fill.name for fill in drawn.fills] == ["left putty", "right putty", "bed"]
    assert not resolve(boat).problems
    back = drafting.with_shape(boat, HAT, PARAMETERS)
    assert drafting.hat_parameters(back, HAT) == PARAMETERS
    assert section(back).fills == ()


def test_floor_is_drawn_as_the_sample_has_it():
    *floor, cap = section(workboat(), FLOOR).walls
    assert cap.name == "cap"
    boat = drafting.with_shape(workboat(), FLOOR, replace(PLATE, depth=190.0))
    drawn = section(boat, FLOOR)
    for before, after in zip(floor, drawn.walls, strict=True):
        assert [v for p in after.points for v in p] == pytest.approx([v for p in before.points for v in p])
        assert after.laminate == before.laminate


@pytest.mark.parametrize("name", list(HandleName))
def test_handle_put_where_it_stands_changes_nothing(name: HandleName):
    handle = next(each for each in drafting.hat_handles(workboat(), HAT, "w6") if each.name == name)
    assert drafting.with_handle_at(workboat(), HAT, "w6", name, handle.at) == workboat()


@pytest.mark.parametrize(
    ("name", "by", "field", "value"),
    [
        (HandleName.HEIGHT, (30.0, 15.0), "height", 150.0),
        (HandleName.CROWN_WIDTH, (5.0, 40.0), "crown_width", 100.0),
        (HandleName.FLANGE_WIDTH, (12.0, 0.0), "flange_width", 72.0),
        (HandleName.DRAFT, (-500.0, 0.0), "draft", 0.0),
        (HandleName.DRAFT, (500.0, 0.0), "draft", 40.0),
        (HandleName.CROWN_RADIUS, (-50.0, 50.0), "crown_radius", 0.0),
    ],
)
def test_handle_changes_its_own_number_alone(
    name: HandleName, by: tuple[float, float], field: str, value: float
):
    handle = next(each for each in drafting.hat_handles(workboat(), HAT, "w6") if each.name == name)
    at = (handle.at[0] + by[0], handle.at[1] + by[1])
    before = drafting.hat_parameters(workboat(), HAT)
    after = drafting.hat_parameters(drafting.with_handle_at(workboat(), HAT, "w6", name, at), HAT)
    assert before is not None
    assert after == replace(before, **{field: value})


@pytest.mark.parametrize("name", list(HandleName))
def test_handle_comes_to_lie_where_it_is_dragged_on_its_way(name: HandleName):
    """Each handle follows the pointer along the way it moves: up, across, or along the corner's bisector."""
    boat = drafting.with_reference(workboat(), HAT, deadrise=10.0)
    boat = drafting.with_hat(boat, HAT, "w6", PARAMETERS)
    handle = next(each for each in drafting.hat_handles(boat, HAT, "w6") if each.name == name)
    changed = replace(PARAMETERS, **{name.value.replace(" ", "_"): handle.value + 2.5})
    moved = drafting.with_hat(boat, HAT, "w6", changed)
    goal = next(each for each in drafting.hat_handles(moved, HAT, "w6") if each.name == name)
    assert goal.value == pytest.approx(handle.value + 2.5)
    dragged = drafting.with_handle_at(boat, HAT, "w6", name, goal.at)
    assert drafting.hat_parameters(dragged, HAT) == changed


def test_radius_handles_stand_on_their_arcs():
    for handle in drafting.hat_handles(workboat(), HAT, "w6")[4:]:
        line = rounded(hat_wall(workboat()).points, hat_wall(workboat()).fillets)
        assert min(abs(y - handle.at[0]) + abs(z - handle.at[1]) for y, z in line) < 1e-6


BAD: dict[str, tuple[Callable[[Project], Project], str]] = {
    "hat without height": (
        lambda boat: drafting.with_hat(boat, HAT, "w6", replace(PARAMETERS, height=0.0, draft=50.0)),
        "wall 'hat' (w6), height",
    ),
    "hat of no laminate": (
        lambda boat: drafting.with_shape(boat, None, replace(PARAMETERS, laminate="l9")),
        "no laminate 'l9'",
    ),
    "radius too large": (
        lambda boat: drafting.with_shape(boat, HAT, replace(PARAMETERS, crown_radius=60.0)),
        "the fillets need",
    ),
    "floor of nothing": (
        lambda boat: drafting.with_shape(boat, FLOOR, replace(PLATE, putty="puty", tab="l8")),
        "no solid 'puty'",
    ),
    "floor on a slope": (
        lambda boat: drafting.with_shape(drafting.with_reference(boat, FLOOR, deadrise=10.0), FLOOR, PLATE),
        "square to the skin",
    ),
    "handle of a plate": (
        lambda boat: drafting.with_handle_at(boat, FLOOR, "w8", HandleName.HEIGHT, (0, 0)),
        "not drawn as a hat",
    ),
    "hat where a fill is": (lambda boat: drafting.with_hat(boat, FLOOR, "f11", PARAMETERS), "It is a fill"),
    "no section": (lambda boat: drafting.with_shape(boat, "s1", PARAMETERS), "no section 's1'"),
}


@pytest.mark.parametrize(("edit", "said"), BAD.values(), ids=BAD)
def test_bad_shape_is_refused(edit: Callable[[Project], Project], said: str):
    with pytest.raises(StringerlabError) as refused:
        edit(workboat())
    assert said in str(refused.value)
    assert all(problem.what and problem.where and problem.remedy for problem in refused.value.problems)


def test_every_impossible_parameter_is_said_at_once():
    with pytest.raises(StringerlabError) as refused:
        drafting.with_hat(
            workboat(), HAT, "w6", replace(PARAMETERS, height=-1.0, draft=50.0, root_radius=-1.0)
        )
    assert len(refused.value.problems) == 3


def test_hat_of_a_laminate_that_is_gone_is_no_hat():
    boat = edits.replaced(workboat(), replace(hat_wall(workboat()), laminate="l9"))
    assert drafting.hat_parameters(boat, HAT) is None
