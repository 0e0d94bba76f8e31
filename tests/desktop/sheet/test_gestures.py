"""Every gesture on the sheet through real events: mouse, wheel, keys, menus, the field."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QNativeGestureEvent, QPointingDevice, QWheelEvent
from PySide6.QtWidgets import QApplication

from stringerlab.desktop.sheet.tools import TOOLS
from stringerlab.desktop.sheet.view import View
from stringerlab.errors import StringerlabError
from stringerlab.geometry.snapping import Kind
from stringerlab.project.drafting import floor_parameters, hat_parameters, removed

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session
    from stringerlab.desktop.sheet import Sheet
    from stringerlab.desktop.sheet.tool import Scene
    from stringerlab.section import Section, Wall

LEFT, MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
NONE = Qt.KeyboardModifier.NoModifier
SHIFT, CTRL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier


def pixel(sheet: Sheet, y: float, z: float) -> QPoint:
    return QPointF(*sheet.view.to_screen((y, z))).toPoint()


def click(qtbot: QtBot, sheet: Sheet, y: float, z: float, keys: Qt.KeyboardModifier = NONE) -> None:
    qtbot.mouseMove(sheet, pixel(sheet, y, z))
    qtbot.mouseClick(sheet, LEFT, keys, pixel(sheet, y, z))


def drag(
    qtbot: QtBot,
    sheet: Sheet,
    start: tuple[float, float],
    end: tuple[float, float],
    keys: Qt.KeyboardModifier = NONE,
) -> None:
    qtbot.mouseMove(sheet, pixel(sheet, *start))
    qtbot.mousePress(sheet, LEFT, keys, pixel(sheet, *start))
    halfway = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    for place in (halfway, end):
        qtbot.mouseMove(sheet, pixel(sheet, *place))
        sheet.flush()
    qtbot.mouseRelease(sheet, LEFT, keys, pixel(sheet, *end))


def section(sheet: Sheet) -> Section:
    return next(each for each in sheet.session.project.sections if each.id == sheet.hand.section_id)


def scene(sheet: Sheet) -> Scene:
    found = sheet.hand.scene()
    assert found is not None
    return found


def wall(sheet: Sheet, name: str = "w6") -> Wall:
    return next(each for each in section(sheet).walls if each.id == name)


# -- looking -------------------------------------------------------------------------------------


def test_the_wheel_zooms_to_the_pointer(qtbot: QtBot, sheet: Sheet):
    at = QPointF(pixel(sheet, 45, 135))
    before = sheet.view.to_paper((at.x(), at.y()))
    for turn, grows in ((120, True), (-240, False)):
        scale = sheet.view.scale
        event = QWheelEvent(
            at,
            sheet.mapToGlobal(at),
            QPoint(),
            QPoint(0, turn),
            Qt.MouseButton.NoButton,
            NONE,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(sheet, event)
        assert (sheet.view.scale > scale) is grows
        assert sheet.view.to_paper((at.x(), at.y())) == pytest.approx(before)


def test_shift_and_the_wheel_pan_sideways(sheet: Sheet):
    at = QPointF(300, 300)
    event = QWheelEvent(
        at,
        sheet.mapToGlobal(at),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        SHIFT,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(sheet, event)
    assert (sheet.view.left, sheet.view.down, sheet.view.scale) == (520, 400, 2)


@pytest.mark.parametrize("spread", [0.25, -0.2])
def test_a_pinch_zooms_to_the_fingers(sheet: Sheet, spread: float):
    at = QPointF(pixel(sheet, 45, 135))
    before = sheet.view.to_paper((at.x(), at.y()))
    pinch = QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture,
        QPointingDevice.primaryPointingDevice(),
        2,
        at,
        at,
        sheet.mapToGlobal(at),
        spread,
        QPointF(),
    )
    QApplication.sendEvent(sheet, pinch)
    assert sheet.view.scale == pytest.approx(2 * (1 + spread))
    assert sheet.view.to_paper((at.x(), at.y())) == pytest.approx(before)


def test_the_middle_button_pans(qtbot: QtBot, sheet: Sheet):
    qtbot.mousePress(sheet, MIDDLE, NONE, QPoint(200, 200))
    qtbot.mouseMove(sheet, QPoint(230, 190))
    qtbot.mouseRelease(sheet, MIDDLE, NONE, QPoint(230, 190))
    assert sheet.view == View(scale=2, left=430, down=390)


def test_space_and_drag_pan_and_draw_nothing(qtbot: QtBot, sheet: Sheet):
    sheet.setFocus()
    qtbot.keyPress(sheet, Qt.Key.Key_Space)
    qtbot.mousePress(sheet, LEFT, NONE, QPoint(200, 200))
    qtbot.mouseMove(sheet, QPoint(210, 220))
    qtbot.mouseRelease(sheet, LEFT, NONE, QPoint(210, 220))
    qtbot.keyRelease(sheet, Qt.Key.Key_Space)
    assert sheet.view == View(scale=2, left=410, down=420)
    assert sheet.session.undo_label is None


@pytest.mark.parametrize("key", [Qt.Key.Key_Home, Qt.Key.Key_F])
def test_home_and_f_fit(qtbot: QtBot, sheet: Sheet, key: Qt.Key):
    qtbot.keyClick(sheet, key)
    low_y, low_z, high_y, high_z = sheet.view.window((800, 600))
    assert sheet.view.scale > 2
    assert low_y < -116
    assert high_y > 116
    assert low_z < 0
    assert high_z > 135


def test_the_status_line_says_where_and_what_the_next_click_does(qtbot: QtBot, sheet: Sheet):
    with qtbot.waitSignal(sheet.session.said) as said:
        qtbot.mouseMove(sheet, pixel(sheet, 10, 60))
        sheet.flush()
    assert said.args is not None
    assert said.args[0] == "y 10.00 mm  z 60.00 mm   Click a wall or fill, or drag a box around several."


# -- selecting and dragging ----------------------------------------------------------------------


def test_click_shift_click_and_click_on_nothing(qtbot: QtBot, sheet: Sheet):
    sheet.hand.show_section("s7")
    sheet._look(View(scale=2.0, left=400.0, down=400.0))
    click(qtbot, sheet, -3.2, 120)
    assert sheet.hand.selected == ("w8",)
    assert sheet.session.selected == "w8"
    click(qtbot, sheet, -50, 0, SHIFT)
    assert sheet.hand.selected == ("w8", "w9")
    click(qtbot, sheet, 60, 120)
    assert sheet.hand.selected == ()
    assert sheet.session.selected == "s7"


def test_a_rubber_band_selects(qtbot: QtBot, sheet: Sheet):
    drag(qtbot, sheet, (-150, 160), (150, -40))
    assert sheet.hand.selected == ("w6",)


def test_a_drag_is_previewed_committed_once_and_undone_by_its_name(qtbot: QtBot, sheet: Sheet):
    session, before = sheet.session, wall(sheet)
    sheet.hand.select(("w6",))
    qtbot.mousePress(sheet, LEFT, NONE, pixel(sheet, 20, 133))
    qtbot.mouseMove(sheet, pixel(sheet, 40, 143))
    sheet.flush()
    assert session.shown is not session.project
    assert session.undo_label is None
    assert sheet.hand.sight.properties is not None
    qtbot.mouseMove(sheet, pixel(sheet, 50, 153))
    qtbot.mouseRelease(sheet, LEFT, NONE, pixel(sheet, 50, 153))
    assert session.shown is session.project
    assert session.undo_label == "Move"
    assert wall(sheet).points[2] == pytest.approx((-15, 155))
    session.undo()
    assert wall(sheet) == before
    assert session.undo_label is None


def test_stiffness_follows_in_the_same_frame(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    assert sheet.hand.sight.properties is not None
    before = sheet.hand.sight.properties.EI_y
    qtbot.mousePress(sheet, LEFT, NONE, pixel(sheet, 0, 135))  # the height handle
    qtbot.mouseMove(sheet, pixel(sheet, 0, 150))
    sheet.flush()
    assert sheet.hand.sight.properties.EI_y > before * 1.1
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert sheet.hand.sight.properties.EI_y == before


def test_escape_during_a_drag_puts_everything_back(qtbot: QtBot, sheet: Sheet):
    before = sheet.session.project
    sheet.hand.select(("w6",))
    qtbot.mousePress(sheet, LEFT, NONE, pixel(sheet, 0, 133))
    qtbot.mouseMove(sheet, pixel(sheet, 20, 143))
    sheet.flush()
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert sheet.session.shown is before
    qtbot.mouseRelease(sheet, LEFT, NONE, pixel(sheet, 20, 143))
    assert sheet.session.project is before


def test_live_handles_stretch_the_hat(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    drag(qtbot, sheet, (0, 135), (0, 150))
    hat = hat_parameters(sheet.session.project, "s5")
    assert hat is not None
    assert hat.height == pytest.approx(150)
    assert sheet.session.undo_label == "Change height"
    drag(qtbot, sheet, (45, 150), (60, 150))
    hat = hat_parameters(sheet.session.project, "s5")
    assert hat is not None
    assert hat.crown_width == pytest.approx(120)


def test_live_handles_stretch_the_floor(qtbot: QtBot, sheet: Sheet):
    sheet.hand.show_section("s7")
    sheet._look(View(scale=2.0, left=400.0, down=450.0))
    sheet.hand.select(("w10",))
    before = floor_parameters(sheet.session.project, "s7")
    assert before is not None
    drag(qtbot, sheet, (-3.2656, 190), (20, 205))
    drag(qtbot, sheet, (73.2656, 0), (88.2656, 0))
    drag(qtbot, sheet, (3.2656, 60), (3.2656, 80))
    after = floor_parameters(sheet.session.project, "s7")
    assert after is not None
    assert after.depth == pytest.approx(205, abs=0.5)
    assert after.tab_width == pytest.approx(85, abs=0.5)
    assert after.tab_height == pytest.approx(80, abs=0.5)
    assert (after.root_radius, after.bed) == (before.root_radius, before.bed)
    assert wall(sheet, "w9").points[0] == pytest.approx((-88.2656, 0), abs=0.5)
    assert sheet.session.undo_label == "Change tab height"


def test_numbers_of_a_floor_are_typed(qtbot: QtBot, sheet: Sheet):
    sheet.hand.show_section("s7")
    sheet._look(View(scale=2.0, left=400.0, down=450.0))
    sheet.hand.select(("w10",))
    for name, typed in (("depth", "200"), ("tab width", "80"), ("tab height", "70"), ("root radius", "20")):
        sheet.repaint()
        patches = {number.name: patch for number, patch in sheet.numbers()}
        qtbot.mouseClick(sheet, LEFT, NONE, patches[name].center().toPoint())
        qtbot.keyClicks(sheet.inline, typed)
        qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
        assert not sheet.inline.isVisible(), sheet.inline.toolTip()
    floor = floor_parameters(sheet.session.project, "s7")
    assert floor is not None
    assert (floor.depth, floor.tab_width, floor.tab_height, floor.root_radius) == (200, 80, 70, 20)


def test_ctrl_drags_a_bare_point_and_delete_removes_it(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    drag(qtbot, sheet, (45, 135), (60, 140), CTRL)
    assert wall(sheet).points[3] == pytest.approx((60, 140))
    assert sheet.hand.chosen_point == ("w6", 3)
    qtbot.keyClick(sheet, Qt.Key.Key_Delete)
    assert len(wall(sheet).points) == 5
    assert sheet.session.undo_label == "Delete point"


def test_a_double_click_adds_a_point(qtbot: QtBot, sheet: Sheet):
    at = pixel(sheet, 20, 135)
    qtbot.mouseClick(sheet, LEFT, NONE, at)
    qtbot.mouseDClick(sheet, LEFT, NONE, at)
    qtbot.mouseRelease(sheet, LEFT, NONE, at)
    assert len(wall(sheet).points) == 7
    assert wall(sheet).points[3] == pytest.approx((20, 135))


def test_arrows_nudge_by_a_grid_step(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    step = sheet.hand.grid
    assert step == 5.0
    qtbot.keyClick(sheet, Qt.Key.Key_Right)
    qtbot.keyClick(sheet, Qt.Key.Key_Up, SHIFT)
    assert wall(sheet).points[2] == pytest.approx((-40, 135.5))
    assert sheet.session.undo_label == "Nudge"


def test_tab_goes_through_the_things_and_on(qtbot: QtBot, sheet: Sheet):
    sheet.hand.show_section("s7")
    sheet.setFocus()
    seen: list[str] = []
    for _ in range(7):
        qtbot.keyClick(sheet, Qt.Key.Key_Tab)
        seen += sheet.hand.selected
    assert seen == ["w8", "w9", "w10", "w1", "f11", "f12", "f13"]
    qtbot.keyClick(sheet, Qt.Key.Key_Tab)
    assert sheet.hand.selected == ()


def test_select_all_copy_beside_and_delete(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, Qt.Key.Key_A, CTRL)
    assert sheet.hand.selected == ("w6",)
    qtbot.keyClick(sheet, Qt.Key.Key_D, CTRL)
    assert len(section(sheet).walls) == 2
    assert sheet.hand.selected == (section(sheet).walls[1].id,)
    qtbot.keyClick(sheet, Qt.Key.Key_Delete)
    assert len(section(sheet).walls) == 1
    sheet.hand.select(("w6",))
    with qtbot.waitSignal(sheet.session.said) as said:
        qtbot.keyClick(sheet, Qt.Key.Key_Delete)
    assert said.args is not None
    assert "at least one wall" in said.args[0]
    assert len(section(sheet).walls) == 1


# -- drawing -------------------------------------------------------------------------------------


def test_every_letter_takes_up_its_tool(qtbot: QtBot, sheet: Sheet):
    for each in TOOLS:
        sheet.hand.take("select")
        qtbot.keyClick(sheet, each.key)
        assert sheet.hand.tool.name == each.id
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert sheet.hand.tool.name == "select"


def test_a_wall_is_drawn_by_clicks(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    for place in ((-150, 150), (-100, 150), (-100, 180)):
        click(qtbot, sheet, *place)
    qtbot.keyClick(sheet, Qt.Key.Key_Backspace)
    click(qtbot, sheet, -100, 190)
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    drawn = section(sheet).walls[-1]
    assert drawn.points == ((-150, 150), (-100, 150), (-100, 190))
    assert sheet.session.undo_label == "Draw wall"
    assert sheet.hand.selected == (drawn.id,)


def test_a_wall_is_closed_on_its_first_point(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    for place in ((-150, 150), (-100, 150), (-100, 180), (-150, 150)):
        click(qtbot, sheet, *place)
    assert section(sheet).walls[-1].closed


def test_an_arc_is_drawn_by_a_and_two_clicks(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    click(qtbot, sheet, -150, 150)
    click(qtbot, sheet, -100, 150)
    qtbot.keyClick(sheet, "A")
    assert "the arc runs through" in sheet.hand.tool.hint(scene(sheet))
    # A quarter of the circle of 50 mm about (−100, 200), by a point at 3:4:5 on it.
    click(qtbot, sheet, -70, 160)
    click(qtbot, sheet, -50, 200)
    click(qtbot, sheet, -50, 230)
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    drawn = section(sheet).walls[-1]
    assert drawn.points == (pytest.approx((-150, 150)), pytest.approx((-50, 150)), pytest.approx((-50, 230)))
    assert drawn.fillets == pytest.approx((0, 50, 0))
    assert sheet.session.undo_label == "Draw wall"


def test_an_arc_is_taken_back_by_backspace_and_given_up_by_a(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    click(qtbot, sheet, -150, 150)
    qtbot.keyClick(sheet, "A")
    click(qtbot, sheet, -130, 160)
    qtbot.keyClick(sheet, Qt.Key.Key_Backspace)
    qtbot.keyClick(sheet, "A")
    click(qtbot, sheet, -100, 150)
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert section(sheet).walls[-1].points == ((-150, 150), (-100, 150))


def test_a_measure_is_read_on_the_sheet_and_changes_nothing(qtbot: QtBot, sheet: Sheet):
    before = sheet.session.project
    qtbot.keyClick(sheet, "D")
    assert sheet.hand.tool.name == "measure"
    click(qtbot, sheet, -150, 150)
    qtbot.mouseMove(sheet, pixel(sheet, -120, 190))
    sheet.flush()
    assert sheet.hand.sketch().note == "50.00 mm   Δy 30.00 mm   Δz 40.00 mm   53.1°"
    click(qtbot, sheet, -120, 190)
    qtbot.mouseMove(sheet, pixel(sheet, 0, 0))
    sheet.flush()
    assert sheet.hand.sketch().note.startswith("50.00 mm")
    click(qtbot, sheet, -120, 150)
    qtbot.mouseMove(sheet, pixel(sheet, -120, 130))
    sheet.flush()
    assert sheet.hand.sketch().note == "20.00 mm   Δy 0 mm   Δz 20.00 mm   −90.0°"
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert sheet.hand.sketch().note == ""
    assert sheet.session.project is before


def test_a_length_is_typed_into_the_field_that_a_digit_opens(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    click(qtbot, sheet, -150, 150)
    qtbot.mouseMove(sheet, pixel(sheet, -20, 150))
    sheet.flush()
    qtbot.keyClick(sheet, "6")
    assert sheet.inline.isVisible()
    assert sheet.inline.text() == "6"
    qtbot.keyClicks(sheet.inline, "0 mm")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert not sheet.inline.isVisible()
    qtbot.keyClick(sheet, "@")
    assert sheet.inline.text() == "@"
    qtbot.keyClicks(sheet.inline, "0;25,5")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert not sheet.inline.isVisible(), sheet.inline.toolTip()
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert [pytest.approx(point) for point in ((-150, 150), (-90, 150), (-90, 175.5))] == list(
        section(sheet).walls[-1].points
    )


def test_what_does_not_read_stays_in_the_field_with_the_reason(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    click(qtbot, sheet, -150, 150)
    qtbot.keyClick(sheet, "5")
    qtbot.keyClicks(sheet.inline, "x")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert sheet.inline.isVisible()
    assert "no unit known here" in sheet.inline.toolTip()
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Escape)
    assert not sheet.inline.isVisible()
    assert sheet.hand.tool.busy
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    assert not sheet.hand.tool.busy


def test_ortho_lock_by_key_and_by_shift(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "W")
    click(qtbot, sheet, -150, 150)
    qtbot.keyClick(sheet, "O")
    assert sheet.hand.ortho
    click(qtbot, sheet, -100, 157)
    qtbot.keyClick(sheet, "O")
    click(qtbot, sheet, -93, 190, SHIFT)
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert [pytest.approx(point) for point in ((-150, 150), (-100, 150), (-100, 190))] == list(
        section(sheet).walls[-1].points
    )


def test_snaps_catch_what_is_drawn_and_s_turns_them_off(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, "S")
    assert sheet.hand.snaps
    qtbot.keyClick(sheet, "W")
    found: dict[tuple[float, float], Kind | None] = {}
    for place in ((-114, 8), (1, 134), (-150, 1), (-150, 52)):
        qtbot.mouseMove(sheet, pixel(sheet, *place))
        sheet.flush()
        touch = sheet.hand.touch
        assert touch is not None
        found[place] = touch.snap.kind if touch.snap else None
        if place == (1, 134):
            assert touch.at == pytest.approx((0, 135))
    assert list(found.values()) == [Kind.END, Kind.MIDDLE, Kind.FACE, Kind.GRID]
    qtbot.keyClick(sheet, "S")
    qtbot.mouseMove(sheet, pixel(sheet, -114, 8.5))
    sheet.flush()
    assert sheet.hand.touch is not None
    assert sheet.hand.touch.snap is None


def test_a_flange_is_set_on_the_shell_exactly(qtbot: QtBot, sheet: Sheet):
    sheet.hand.switch(snaps=True)
    qtbot.keyClick(sheet, "W")
    click(qtbot, sheet, -160, 0.7)
    click(qtbot, sheet, -130, 0.8)
    qtbot.keyClick(sheet, Qt.Key.Key_Return)
    assert [z for _, z in section(sheet).walls[-1].points] == [0, 0]


# -- the other tools -----------------------------------------------------------------------------


def test_move_copy_rotate_mirror_by_clicks(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    qtbot.keyClick(sheet, "G")
    click(qtbot, sheet, 0, 0)
    click(qtbot, sheet, 10, 20)
    assert wall(sheet).points[2] == pytest.approx((-35, 155))
    qtbot.keyClick(sheet, "C")
    click(qtbot, sheet, 0, 0)
    click(qtbot, sheet, 100, 30)
    assert len(section(sheet).walls) == 2
    sheet.session.undo()
    sheet.hand.select(("w6",))
    qtbot.keyClick(sheet, "T")
    click(qtbot, sheet, 0, 0)
    qtbot.keyClick(sheet, "9")
    qtbot.keyClicks(sheet.inline, "0")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert wall(sheet).points[2] == pytest.approx((-155, -35))
    sheet.session.undo()
    qtbot.keyClick(sheet, "M")
    click(qtbot, sheet, 0, 0)
    click(qtbot, sheet, 0, 100)
    assert wall(sheet).points[2] == pytest.approx((35, 155))
    assert sheet.session.undo_label == "Mirror"


def test_fillet_offset_split_join_align_fill_block_by_clicks(qtbot: QtBot, sheet: Sheet):
    session = sheet.session
    qtbot.keyClick(sheet, "R")
    click(qtbot, sheet, -45, 135)
    qtbot.keyClick(sheet, "2")
    qtbot.keyClicks(sheet.inline, "5")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert wall(sheet).fillets[2] == 25
    session.undo()
    qtbot.keyClick(sheet, "P")
    click(qtbot, sheet, 0, 135)
    click(qtbot, sheet, 0, 155)
    assert section(sheet).walls[-1].points[2][1] == pytest.approx(155)
    session.undo()
    qtbot.keyClick(sheet, "X")
    click(qtbot, sheet, 0, 135)
    assert len(section(sheet).walls) == 2
    qtbot.keyClick(sheet, "J")
    click(qtbot, sheet, -20, 135)
    click(qtbot, sheet, 20, 135)
    assert len(section(sheet).walls) == 1
    assert len(wall(sheet).points) == 6
    qtbot.keyClick(sheet, "L")
    click(qtbot, sheet, 0, 60)
    assert [fill.material for fill in section(sheet).fills] == ["pu_foam32"]
    session.undo()
    qtbot.keyClick(sheet, "B")
    click(qtbot, sheet, -20, 135)
    click(qtbot, sheet, 20, 100)
    assert [fill.material for fill in section(sheet).fills] == ["frp_block"]
    session.undo()
    sheet.hand.select(("w6",))
    qtbot.keyClick(sheet, "A")
    qtbot.keyClick(sheet, "T")
    click(qtbot, sheet, 0, 200)
    assert wall(sheet).points[2][1] == pytest.approx(200)
    assert session.undo_label == "Align"


def test_a_refusal_is_a_problem_shown_and_changes_nothing(qtbot: QtBot, sheet: Sheet):
    before = sheet.session.project
    qtbot.keyClick(sheet, "L")
    with qtbot.waitSignal(sheet.session.problem) as seen:
        click(qtbot, sheet, 0, 165)
    assert seen.args is not None
    assert isinstance(seen.args[0], StringerlabError)
    assert sheet.session.project is before


# -- numbers on the sheet ------------------------------------------------------------------------


def test_a_number_is_clicked_and_typed(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    sheet.repaint()
    patches = {number.name: patch for number, patch in sheet.numbers()}
    assert {"height", "crown width", "flange width", "draft", "crown radius", "root radius"} == set(patches)
    qtbot.mouseClick(sheet, LEFT, NONE, patches["height"].center().toPoint())
    assert sheet.inline.isVisible()
    assert sheet.inline.text() == "135.0 mm"
    qtbot.keyClicks(sheet.inline, "15,5 cm")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    hat = hat_parameters(sheet.session.project, "s5")
    assert hat is not None
    assert hat.height == pytest.approx(155)
    assert sheet.session.undo_label == "Change height"


def test_a_number_that_does_not_fit_stays_to_be_corrected(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    sheet.repaint()
    patch = next(patch for number, patch in sheet.numbers() if number.name == "crown radius")
    qtbot.mouseClick(sheet, LEFT, NONE, patch.center().toPoint())
    qtbot.keyClicks(sheet.inline, "400")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert sheet.inline.isVisible()
    assert sheet.session.undo_label is None
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Escape)


def test_legs_of_another_wall_have_lengths_and_slopes_to_type(qtbot: QtBot, sheet: Sheet):
    sheet.hand.show_section("s7")
    sheet._look(View(scale=2.0, left=400.0, down=450.0))
    sheet.session.edit("Delete", removed, "s7", ["w10"])  # a plate with one tab is no floor
    sheet.hand.select(("w8",))
    sheet.repaint()
    patches = {number.name: patch for number, patch in sheet.numbers()}
    qtbot.mouseClick(sheet, LEFT, NONE, patches["length of leg 1"].center().toPoint())
    qtbot.keyClicks(sheet.inline, "150")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert wall(sheet, "w8").points[1] == pytest.approx((-3.265625, 153))
    sheet.repaint()
    patches = {number.name: patch for number, patch in sheet.numbers()}
    qtbot.mouseClick(sheet, LEFT, NONE, patches["slope of leg 1"].center().toPoint())
    qtbot.keyClicks(sheet.inline, "-270")
    qtbot.keyClick(sheet.inline, Qt.Key.Key_Return)
    assert wall(sheet, "w8").points[1] == pytest.approx((-3.265625, 153))


def test_numbers_follow_the_units(sheet: Sheet):
    from dataclasses import replace

    from stringerlab.project import Project
    from stringerlab.units import System

    def to_us(project: Project) -> Project:
        return replace(project, units=System.US)

    sheet.hand.select(("w6",))
    sheet.session.edit("US units", to_us)
    sheet.repaint()
    words = {number.name: number.text(System.US) for number, _ in sheet.numbers()}
    assert words["height"] == "5.315 in"


# -- menus, copies, leaving ----------------------------------------------------------------------


def test_the_menu_does_what_it_says(qtbot: QtBot, sheet: Sheet):
    sheet.hand.select(("w6",))
    menu = sheet.menu()
    names = [action.text() for action in menu.actions() if action.text()]
    assert {"Build on the other side", "Close", "Copy beside", "Delete", "Zoom to fit"} <= set(names)
    next(action for action in menu.actions() if action.text() == "Build on the other side").trigger()
    assert wall(sheet).side == "left"
    assert sheet.session.undo_label == "Swap side"
    menu.deleteLater()


def test_copy_puts_svg_and_image_on_the_clipboard(qtbot: QtBot, sheet: Sheet):
    qtbot.keyClick(sheet, Qt.Key.Key_C, CTRL)
    data = QGuiApplication.clipboard().mimeData()
    assert b"<svg" in bytes(data.data("image/svg+xml").data())
    assert data.hasImage()
    QGuiApplication.clipboard().clear()


@pytest.mark.parametrize(("ending", "start"), [("svg", b"<"), ("png", b"\x89PNG"), ("dxf", b"  0")])
def test_the_drawing_is_exported(sheet: Sheet, tmp_path: Path, ending: str, start: bytes):
    path = tmp_path / f"hat.{ending}"
    sheet.export(path)
    assert path.read_bytes().startswith(start)
    assert path.stat().st_size > 2000


def test_an_export_that_cannot_be_written_says_so(sheet: Sheet, tmp_path: Path):
    with pytest.raises(StringerlabError, match="Cannot be saved"):
        sheet.export(tmp_path / "no" / "hat.svg")
    with pytest.raises(StringerlabError, match=r"\.svg, \.png, \.dxf"):
        sheet.export(tmp_path / "hat.pdf")


def test_leaving_the_sheet_forgets_the_pointer(qtbot: QtBot, sheet: Sheet):
    qtbot.mouseMove(sheet, pixel(sheet, 0, 135))
    sheet.flush()
    assert sheet.hand.hovered is not None
    sheet.hand.leave()
    assert sheet.hand.hovered is None
    assert sheet.hand.touch is None


def test_what_is_selected_elsewhere_is_shown(sheet: Sheet):
    sheet.session.select("w9")
    assert sheet.hand.section_id == "s7"
    assert sheet.hand.selected == ("w9",)
    sheet.session.select("s5")
    assert sheet.hand.section_id == "s5"
    assert sheet.hand.selected == ()


def test_a_section_with_a_fault_is_drawn_as_lines(qtbot: QtBot, sheet: Sheet, session: Session):
    sheet.hand.select(("w6",))
    drag(qtbot, sheet, (-116, 9.2), (60, 100), CTRL)  # the left flange's end across the web
    assert sheet.hand.sight.shape is None
    sheet.repaint()
    assert len(sheet.picture().items) > 0
    session.undo()
    assert sheet.hand.sight.shape is not None
