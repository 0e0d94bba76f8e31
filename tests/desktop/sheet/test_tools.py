"""Tools without a mouse: touches in, previews and edits out."""

from math import dist

import pytest

from stringerlab.desktop.sheet.align import Align
from stringerlab.desktop.sheet.block import DrawBlock
from stringerlab.desktop.sheet.corner import Corner
from stringerlab.desktop.sheet.draw_wall import DrawWall
from stringerlab.desktop.sheet.fill import PickRegion
from stringerlab.desktop.sheet.join import Join
from stringerlab.desktop.sheet.measure import Measure
from stringerlab.desktop.sheet.offset import Offset
from stringerlab.desktop.sheet.split import Split
from stringerlab.desktop.sheet.tool import Scene, Step, Tool
from stringerlab.desktop.sheet.tools import KEYS, TOOLS, listed
from stringerlab.desktop.sheet.transform import Copy, Mirror, Move, Rotate
from stringerlab.project import Project
from stringerlab.section import Section, Side, Wall

from .conftest import at, clicked, done, scene_of, selecting


def section_of(project: Project, name: str) -> Section:
    return next(section for section in project.sections if section.id == name)


def wall_of(project: Project, name: str) -> Wall:
    return next(wall for section in project.sections for wall in section.walls if wall.id == name)


def last_wall(project: Project, section: str = "s5") -> Wall:
    return section_of(project, section).walls[-1]


# -- drawing -------------------------------------------------------------------------------------


def test_an_open_wall_is_drawn_by_clicks_and_ended_by_enter(hat: Scene):
    step = clicked(hat, Step(tool=DrawWall(name="wall")), (0, 200), (50, 200), (50, 260))
    assert step.tool.busy
    ended = step.tool.entered(hat)
    wall = last_wall(done(ended, hat))
    assert wall.points == ((0, 200), (50, 200), (50, 260))
    assert (wall.laminate, wall.side, wall.closed) == ("l2", Side.RIGHT, False)
    assert not ended.tool.busy
    assert ended.fresh


def test_a_click_on_the_first_point_closes(hat: Scene):
    step = clicked(hat, Step(tool=DrawWall()), (0, 200), (50, 200), (50, 260), (0.5, 199.5))
    wall = last_wall(done(step, hat))
    assert wall.closed
    assert wall.points == ((0, 200), (50, 200), (50, 260))


def test_two_points_do_not_close(hat: Scene):
    step = clicked(hat, Step(tool=DrawWall()), (0, 200), (50, 200), (0.5, 200))
    assert step.edit is None
    assert step.tool.busy


def test_lengths_angles_and_points_are_typed(hat: Scene):
    tool: Tool = DrawWall()
    pointer = at(500, 200)
    for text in ("0;200", "50", "60<90", "@-20;10"):
        tool = tool.typed(hat, text, pointer).tool
    wall = last_wall(done(tool.entered(hat), hat))
    assert [pytest.approx(point) for point in ((0, 200), (50, 200), (50, 260), (30, 270))] == list(
        wall.points
    )


def test_what_does_not_read_is_refused_and_changes_nothing(hat: Scene):
    tool = clicked(hat, Step(tool=DrawWall()), (0, 200)).tool
    step = tool.typed(hat, "up a bit", at(0, 300))
    assert "does not read" in step.refused
    assert step.tool == tool


def test_backspace_takes_points_back_one_by_one(hat: Scene):
    tool = clicked(hat, Step(tool=DrawWall()), (0, 200), (50, 200), (50, 260)).tool
    tool = tool.back(hat).tool
    assert tool.origin == (50, 200)
    tool = tool.back(hat).tool.back(hat).tool
    assert not tool.busy


def test_one_point_is_no_wall(hat: Scene):
    step = clicked(hat, Step(tool=DrawWall()), (0, 200)).tool.entered(hat)
    assert step.edit is None
    assert "second point" in step.refused


def test_an_arc_becomes_a_fillet_of_its_radius(hat: Scene):
    tool = clicked(hat, Step(tool=DrawWall()), (0, 200), (40, 200)).tool
    armed = tool.lettered(hat, "A")
    assert armed is not None
    quarter = 40 + 30 * 0.70710678, 230 - 30 * 0.70710678
    tool = clicked(hat, armed, quarter, (70, 230)).tool
    wall = last_wall(done(tool.entered(hat), hat))
    assert wall.points == (pytest.approx((0, 200)), pytest.approx((70, 200)), pytest.approx((70, 230)))
    assert wall.fillets == (0, pytest.approx(30, abs=1e-4), 0)


def test_the_rubber_band_says_length_and_slope(hat: Scene):
    tool = clicked(hat, Step(tool=DrawWall()), (0, 200)).tool
    sketch = tool.sketch(hat, at(30, 240))
    assert sketch.note == "50.00 mm  53.1°"
    assert sketch.lines == (((0, 200), (30, 240)),)


# -- transforming --------------------------------------------------------------------------------


def test_move_by_two_points_previews_and_edits(hat: Scene):
    scene = selecting(hat, "w6")
    step = clicked(scene, Step(tool=Move()), (0, 0))
    previewed = step.tool.moved(scene, at(5, 7)).preview
    assert previewed is not None
    assert wall_of(previewed, "w6").points[2] == pytest.approx((-40, 142))
    moved = done(step.tool.pressed(scene, at(5, 7)), scene)
    assert wall_of(moved, "w6").points[2] == pytest.approx((-40, 142))


def test_move_by_a_typed_step(hat: Scene):
    scene = selecting(hat, "w6")
    tool = clicked(scene, Step(tool=Move()), (0, 0)).tool
    moved = done(tool.typed(scene, "@12;3", at(0, 1)), scene)
    assert wall_of(moved, "w6").points[2] == pytest.approx((-33, 138))


def test_copy_keeps_the_original(hat: Scene):
    scene = selecting(hat, "w6")
    step = clicked(scene, Step(tool=Copy()), (0, 0), (400, 0))
    section = section_of(done(step, scene), "s5")
    assert len(section.walls) == 2
    assert section.walls[1].points[2] == pytest.approx((355, 135))
    assert step.fresh


def test_rotate_by_pointing_and_by_typing(hat: Scene):
    scene = selecting(hat, "w6")
    tool = clicked(scene, Step(tool=Rotate()), (0, 0)).tool
    typed = done(tool.typed(scene, "90", at(1, 1)), scene)
    pointed = done(clicked(scene, Step(tool=tool), (50, 0), (0, 80)), scene)
    for project in (typed, pointed):
        assert wall_of(project, "w6").points[2] == pytest.approx((-135, -45))


def test_mirror_flips_the_laminate_with_the_line_and_can_keep_the_original(hat: Scene):
    scene = selecting(hat, "w6")
    tool = clicked(scene, Step(tool=Mirror()), (200, 0)).tool
    mirrored = wall_of(done(tool.pressed(scene, at(200, 50)), scene), "w6")
    assert mirrored.points[2] == pytest.approx((445, 135))
    assert mirrored.side is Side.LEFT
    kept = section_of(done(tool.pressed(scene, at(200, 50, ctrl=True)), scene), "s5")
    assert len(kept.walls) == 2


def test_nothing_selected_is_said(hat: Scene):
    for tool in (Move(), Copy(), Rotate(), Mirror(), Align()):
        step = tool.pressed(hat, at(0, 0))
        assert step.edit is None
        assert "first" in step.refused


def test_two_points_that_are_one_do_nothing(hat: Scene):
    scene = selecting(hat, "w6")
    step = clicked(scene, Step(tool=Move()), (10, 10)).tool.pressed(scene, at(10, 10))
    assert step.edit is None
    assert "one" in step.refused


def test_align_brings_an_edge_to_a_place_and_letters_choose_it(floor: Scene):
    scene = selecting(floor, "w9", "w10")
    armed = Align().lettered(scene, "T")
    assert armed is not None
    aligned = done(armed.tool.pressed(scene, at(0, 100)), scene)
    tops = [max(z for _, z in wall_of(aligned, each).points) for each in ("w9", "w10")]
    assert tops == pytest.approx([100, 100])


# -- walls ---------------------------------------------------------------------------------------


def test_a_corner_is_rounded_by_dragging_and_by_typing(floor: Scene):
    tool = Corner().pressed(floor, at(-3.2656, 0)).tool
    typed = done(tool.typed(floor, "20", at(0, 0)), floor)
    assert wall_of(typed, "w9").fillets[1] == 20
    dragged = tool.moved(floor, at(-13, 10))
    assert dragged.preview is not None
    radius = wall_of(dragged.preview, "w9").fillets[1]
    # Along the bisector of a right angle: 12 mm and dist/(√2 − 1) more, in whole millimetres.
    assert radius == round(12 + dist((-3.2656, 0), (-13, 10)) / 0.41421)
    assert wall_of(done(dragged.tool.released(floor, at(-13, 10)), floor), "w9").fillets[1] == radius


def test_a_fillet_that_does_not_fit_is_refused_with_the_largest_that_does(floor: Scene):
    tool = Corner().pressed(floor, at(-3.2656, 0)).tool
    step = tool.typed(floor, "500", at(0, 0))
    with pytest.raises(Exception, match="largest that does"):
        done(step, floor)


def test_an_offset_runs_through_the_pointer_or_at_a_typed_distance(floor: Scene):
    tool = clicked(floor, Step(tool=Offset()), (-3.2656, 100)).tool
    assert tool.busy
    through = done(tool.pressed(floor, at(-43.2656, 120)), floor)
    assert last_wall(through, "s7").points[0][0] == pytest.approx(-43.2656, abs=1e-3)
    typed = done(tool.typed(floor, "10", at(0, 0)), floor)
    assert abs(last_wall(typed, "s7").points[0][0] + 3.2656) == pytest.approx(10, abs=1e-3)


def test_split_and_join_undo_each_other(hat: Scene):
    parted = done(Split().pressed(hat, at(0, 135)), hat)
    section = section_of(parted, "s5")
    assert [len(wall.points) for wall in section.walls] == [4, 4]
    scene = scene_of(parted)
    second = section.walls[1].id
    tool = Join().pressed(scene, at(-100, 9.2)).tool
    assert tool == Join(first="w6")
    joined = done(tool.pressed(scene, at(100, 9.2)), scene)
    assert list(wall_of(joined, "w6").points) == [pytest.approx(each) for each in hat.section.walls[0].points]
    assert second not in [wall.id for wall in section_of(joined, "s5").walls]


def test_split_beside_a_wall_is_refused(hat: Scene):
    assert "no wall" in Split().pressed(hat, at(0, 400)).refused


def test_a_closed_region_is_filled(hat: Scene):
    filled = section_of(done(PickRegion().pressed(hat, at(0, 60)), hat), "s5")
    assert [fill.material for fill in filled.fills] == ["pu_foam32"]
    ys = [y for y, _ in filled.fills[0].points]
    # From foot to foot of the hat, which spreads below its root fillets.
    assert -70 < min(ys) < -56
    assert 56 < max(ys) < 70


def test_an_open_region_is_refused(hat: Scene):
    with pytest.raises(Exception, match=r"encloses|leaks|open"):
        done(PickRegion().pressed(hat, at(0, 300)), hat)


def test_a_block_lies_against_the_face_that_is_pointed_to(hat: Scene):
    tool = DrawBlock().pressed(hat, at(-20, 135)).tool
    block = section_of(done(tool.pressed(hat, at(20, 100)), hat), "s5").fills[0]
    assert block.material == "frp_block"
    ys, zs = [y for y, _ in block.points], [z for _, z in block.points]
    assert (min(ys), max(ys)) == pytest.approx((-20, 20))
    assert max(zs) == pytest.approx(135 - hat.thickness["l2"])
    assert min(zs) == pytest.approx(100)


def test_measuring_changes_nothing(hat: Scene):
    step = clicked(hat, Step(tool=Measure()), (0, 0), (30, 40))
    assert step.edit is None
    assert step.tool.sketch(hat, None).note.startswith("50.00 mm   Δy 30.00 mm   Δz 40.00 mm")


# -- the table -----------------------------------------------------------------------------------


def test_every_tool_has_its_own_letter_and_says_what_a_click_does(hat: Scene):
    assert len({listed.key for listed in TOOLS}) == len(TOOLS)
    assert {"S", "O", "F"}.isdisjoint(listed.key for listed in TOOLS)
    for each in TOOLS:
        assert each.tool().hint(hat).endswith((".", "s.")), each.name
        assert f"({each.key})" in each.tooltip
        assert any(key == each.key for key, _ in KEYS)
    assert listed("wall").tool() == DrawWall(name="wall")


def test_without_a_laminate_nothing_is_drawn(hat: Scene):
    from dataclasses import replace

    scene = replace(hat, laminate="")
    assert "Make a laminate first" in DrawWall().pressed(scene, at(0, 0)).refused
