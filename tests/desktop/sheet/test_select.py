"""Selecting and dragging without a mouse."""

from dataclasses import replace

import pytest

from stringerlab.desktop.sheet.hits import What, fillet_handles, hit
from stringerlab.desktop.sheet.select import Select
from stringerlab.desktop.sheet.tool import Scene, Step
from stringerlab.project import Project, drafting
from stringerlab.project.drafting import FloorHandle, HandleName, hat_parameters
from stringerlab.section import Wall

from .conftest import at, done, scene_of, selecting


def wall_of(project: Project, name: str) -> Wall:
    return next(wall for section in project.sections for wall in section.walls if wall.id == name)


def loose(floor: Scene) -> Scene:
    """The same without its right tab: a plate and a tab, no floor with live handles any more."""
    return scene_of(drafting.removed(floor.project, "s7", ["w10"]), "s7")


def dragged(scene: Scene, start: tuple[float, float], end: tuple[float, float], **held: bool) -> Step:
    step = Select(name="select").pressed(scene, at(*start, **held))
    step = step.tool.moved(scene, at(*end, **held))
    assert step.tool.busy
    return step.tool.released(scene, at(*end, **held))


def test_a_click_selects_the_line_or_the_laminate_under_it(hat: Scene):
    assert Select().pressed(hat, at(0, 135.5)).select == ("w6",)
    assert Select().pressed(hat, at(0, 132.6)).select == ("w6",)
    assert Select().pressed(hat, at(0, 60)).select is None


def test_a_click_beside_everything_selects_nothing(hat: Scene):
    scene = selecting(hat, "w6")
    step = Select().pressed(scene, at(0, 60))
    assert step.tool.released(scene, at(0, 60)).select == ()


def test_shift_adds_and_takes_away(floor: Scene):
    scene = selecting(floor, "w8")
    assert Select().pressed(scene, at(-50, 0.2, shift=True)).select == ("w8", "w9")
    both = selecting(floor, "w8", "w9")
    assert Select().pressed(both, at(-50, 0.2, shift=True)).select == ("w8",)


def test_a_click_on_one_of_several_narrows_to_it_once_it_is_let_go(floor: Scene):
    both = selecting(floor, "w8", "w9")
    step = Select().pressed(both, at(-50, 0.2))
    assert step.select == ("w8", "w9")
    assert step.tool.released(both, at(-50, 0.2)).select == ("w9",)


def test_a_box_to_the_right_takes_what_lies_whole_in_it(floor: Scene):
    assert dragged(floor, (-6, 210), (6, 1)).select == ("w8",)
    assert set(dragged(floor, (-80, 210), (10, -5)).select or ()) >= {"w8", "w9"}


def test_a_box_to_the_left_takes_what_it_touches(floor: Scene):
    assert dragged(floor, (10, 120), (-30, 110)).select == ("w8",)


def test_a_box_with_shift_adds(floor: Scene):
    scene = selecting(floor, "w9")
    assert dragged(scene, (-6, 210), (6, 1), shift=True).select == ("w9", "w8")


def test_a_body_is_dragged_with_all_that_is_selected(floor: Scene):
    scene = selecting(floor, "w8", "w9")
    moved = done(dragged(scene, (-50, 0), (-40, 5)), scene)
    assert wall_of(moved, "w8").points[0] == pytest.approx((6.734375, 8))
    assert wall_of(moved, "w9").points[0] == pytest.approx((-63.265625, 5))


def test_a_point_is_stretched(floor: Scene):
    scene = selecting(loose(floor), "w8")
    step = Select().pressed(scene, at(-3.2, 190))
    assert step.tool.point == ("w8", 1)  # type: ignore[attr-defined]
    moved = done(dragged(scene, (-3.2, 190), (-3.2656, 220)), scene)
    assert wall_of(moved, "w8").points == (pytest.approx((-3.265625, 3)), (-3.2656, 220))


def test_a_small_tremble_is_no_drag(floor: Scene):
    scene = selecting(loose(floor), "w8")
    step = Select().pressed(scene, at(-3.2, 190))
    step = step.tool.moved(scene, at(-3.0, 190.5))
    assert step.preview is None
    assert step.tool.released(scene, at(-3.0, 190.5)).edit is None


def test_a_double_click_puts_a_point_into_a_leg(floor: Scene):
    step = Select().doubled(floor, at(-3.2656, 100))
    assert wall_of(done(step, floor), "w8").points[1] == (-3.2656, 100)
    assert step.tool.point == ("w8", 1)  # type: ignore[attr-defined]


def test_delete_removes_the_point_taken_else_what_is_selected(floor: Scene):
    scene = selecting(floor, "w9")
    tool = Select(point=("w9", 2))
    assert wall_of(done(tool.deleted(scene), scene), "w9").points == (
        (-73.265625, 0),
        (-3.2656250000000004, 0),
    )
    left = done(Select().deleted(scene), scene)
    assert "w9" not in [wall.id for wall in left.sections[1].walls]


def test_the_last_wall_stays(hat: Scene):
    step = Select().deleted(selecting(hat, "w6"))
    assert step.edit is None
    assert "at least one wall" in step.refused


def test_nothing_selected_nothing_deleted(hat: Scene):
    assert Select().deleted(hat).refused == "Nothing is selected."


@pytest.mark.parametrize(
    ("name", "start", "end", "field", "value"),
    [
        (HandleName.HEIGHT, (0, 135), (3, 150), "height", 150),
        (HandleName.CROWN_WIDTH, (45, 135), (60, 137), "crown_width", 120),
        (HandleName.FLANGE_WIDTH, (116.0057, 9.2), (136.0057, 9.2), "flange_width", 80),
        (HandleName.DRAFT, (56.0057, 9.2), (45, 9.2), "draft", 0),
    ],
)
def test_a_live_handle_changes_its_own_number_alone(
    hat: Scene,
    name: HandleName,
    start: tuple[float, float],
    end: tuple[float, float],
    field: str,
    value: float,
):
    scene = selecting(hat, "w6")
    found = hit(scene, start)
    assert found is not None
    assert (found.what, found.handle) == (What.HANDLE, name)
    changed = hat_parameters(done(dragged(scene, start, end), scene), "s5")
    before = hat_parameters(scene.project, "s5")
    assert changed is not None
    assert before is not None
    assert getattr(changed, field) == pytest.approx(value, abs=1e-3)
    kept = {"height", "crown_width", "flange_width", "draft", "crown_radius", "root_radius"} - {field}
    assert {each: getattr(changed, each) for each in kept} == pytest.approx(
        {each: getattr(before, each) for each in kept}
    )


@pytest.mark.parametrize(
    ("start", "end", "name", "value"),
    [
        ((-3.2656, 190), (10, 210), FloorHandle.DEPTH, 210.0),
        ((3.2656, 60), (30, 75), FloorHandle.TAB_HEIGHT, 75.0),
        ((73.2656, 0), (83.265625, 4), FloorHandle.TAB_WIDTH, 80.0),
        ((6.78, 3.51), (3.265625, 0), FloorHandle.ROOT_RADIUS, 0.0),
    ],
)
def test_a_live_handle_of_a_floor_changes_its_own_number_alone(
    floor: Scene, start: tuple[float, float], end: tuple[float, float], name: FloorHandle, value: float
):
    scene = selecting(floor, "w10")
    found = hit(scene, start)
    assert found is not None
    assert (found.what, found.handle) == (What.HANDLE, name)
    before = drafting.floor_parameters(scene.project, "s7")
    changed = drafting.floor_parameters(done(dragged(scene, start, end), scene), "s7")
    assert before is not None
    assert changed == replace(before, **{name.value.replace(" ", "_"): pytest.approx(value, abs=0.02)})


def test_ctrl_takes_the_bare_point_of_a_floor(floor: Scene):
    scene = selecting(floor, "w8")
    moved = done(dragged(scene, (-3.2656, 190), (-3.2656, 220), ctrl=True), scene)
    assert wall_of(moved, "w8").points[1] == (-3.2656, 220)
    assert drafting.floor_parameters(moved, "s7") is not None


def test_ctrl_takes_the_bare_point_of_a_hat(hat: Scene):
    scene = selecting(hat, "w6")
    found = hit(scene, (45, 135), free=True)
    assert found is not None
    assert (found.what, found.index) == (What.POINT, 3)
    moved = done(dragged(scene, (45, 135), (60, 140), ctrl=True), scene)
    assert wall_of(moved, "w6").points[2:4] == ((-45, 135), (60, 140))


def test_a_fillet_is_dragged_by_its_handle(floor: Scene):
    scene = selecting(loose(floor), "w9")
    wall = floor.section.walls[1]
    handle = fillet_handles(wall, 9.0)[1]
    # 12 mm at 45°: the arc's middle lies 12·(√2 − 1) from the corner, less than the room of a handle.
    assert handle == pytest.approx((-3.265625 - 9 / 2**0.5, 9 / 2**0.5))
    end = handle[0] - 5, handle[1] + 5
    changed = done(dragged(scene, handle, end), scene)
    assert wall_of(changed, "w9").fillets[1] == round(12 + 50**0.5 / (2**0.5 - 1))


def test_escape_gives_the_drag_up(floor: Scene):
    step = Select(name="select").pressed(selecting(floor, "w8"), at(-3.2656, 100))
    assert step.tool.escaped() == Select(name="select")
