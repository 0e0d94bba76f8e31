"""Mouldability on the sheet: marks and words at webs and corners, the tip, the line in the properties."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QPoint, Qt

from stringerlab.desktop.sheet import moulding
from stringerlab.desktop.sheet.inspector import Inspector
from stringerlab.drawing.display import Label, Mark, Role, Shape
from stringerlab.project import drafting, resolve
from stringerlab.section.mouldability import Aspect, Severity
from stringerlab.units import System

from .conftest import BOAT, RESOLVED

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.sheet import Sheet
    from stringerlab.project import Project
    from stringerlab.section import SectionShape


def hat(**changed: float) -> SectionShape:
    parameters = drafting.hat_parameters(BOAT, "s5")
    assert parameters is not None
    boat = drafting.with_hat(BOAT, "s5", "w6", replace(parameters, **changed))
    return resolve(boat).shapes["s5"]


def undercut(project: Project) -> Project:
    """The main stringer with its right web leaning outward going up."""
    return drafting.with_point_at(project, "s5", "w6", 4, y=40.0)


def read(shape: SectionShape) -> list[tuple[str, Severity]]:
    return [(each.words, each.severity) for each in moulding.moulded(shape, System.METRIC)]


def test_webs_say_their_draft_and_crown_and_flanges_nothing():
    assert read(hat()) == [("5.0° of draft", Severity.FINE)] * 2
    assert read(hat(draft=1.0)) == [("little draft: 1.0°", Severity.WATCH)] * 2
    assert read(hat(draft=0.0)) == [("no draft", Severity.WATCH)] * 2


def test_undercut_says_by_how_much():
    found = read(resolve(undercut(BOAT)).shapes["s5"])
    # From (45, 135) to (40, 9.2): atan(5 / 125.8).
    assert ("undercut 2.3°", Severity.LOCKED) in found


def test_corner_too_tight_says_its_bend_and_the_least():
    found = [
        each
        for each in moulding.moulded(hat(root_radius=6.0), System.METRIC)
        if each.reading.aspect is Aspect.RADIUS
    ]
    assert len(found) == 2
    assert all("least 10" in each.words and each.severity is Severity.WATCH for each in found)
    assert all("Round the tool" in each.tip and "no source" in each.tip for each in found)


def test_words_stand_off_the_tool_face():
    left, right = moulding.moulded(hat(), System.METRIC)
    assert left.away[0] < -0.9
    assert right.away[0] > 0.9


def test_marks_differ_by_shape_as_well_as_colour():
    shape = resolve(undercut(BOAT)).shapes["s5"]
    items = list(moulding.items(moulding.moulded(shape, System.METRIC)))
    marks = {item.role: item.shape for item in items if isinstance(item, Mark)}
    assert marks[Role.HOLDS] is Shape.CIRCLE
    assert marks[Role.SHORT] is Shape.SQUARE
    assert "undercut 2.3°" in {item.text.strip() for item in items if isinstance(item, Label)}
    rows = moulding.rows(moulding.moulded(shape, System.METRIC))
    assert {row.shape for row in rows} >= {Shape.CIRCLE, Shape.SQUARE}


def test_one_line_on_a_section_and_on_what_is_selected_of_it():
    assert moulding.line(hat()) == ("● Fine: least draft 5.0°.", "")
    words, places = moulding.line(resolve(undercut(BOAT)).shapes["s5"])
    assert words.startswith("■ Locked: least draft -2.3°, 1 undercut")
    assert "Lean it the other way" in places
    floor = RESOLVED.shapes["s7"]
    assert "3 walls laid up in place" in moulding.line(floor)[0]
    assert moulding.line(floor, ("w8",))[0] == "▲ Watch: least draft 0.0°."
    assert moulding.line(floor, ("f11",)) == ("", "")


def test_switch_shows_marks_with_a_tip_and_their_legend(qtbot: QtBot, sheet: Sheet):
    sheet.session.edit("Lean", undercut)
    sheet.repaint()
    assert sheet.surface.readings == []
    sheet.switches.switch("mould", on=True)
    sheet.repaint()
    places = {each.words: patch for each, patch in reversed(sheet.surface.readings)}
    at = places["undercut 2.3°"].center().toPoint()
    qtbot.mouseMove(sheet, at)
    sheet.flush()
    assert sheet.toolTip().startswith("Locked. Undercut by 2.28 deg")
    qtbot.mouseMove(sheet, QPoint(60, 60))
    sheet.flush()
    assert sheet.toolTip() == ""
    image = sheet.grab().toImage()
    wanted = sheet.theme.pen(Role.SHORT).colour
    assert image.pixelColor(at).name() == wanted
    patches = [patch for _, patch in sheet.surface.readings]
    words = patches[1::2]
    assert not any(one.intersects(other) for i, one in enumerate(words) for other in words[i + 1 :])


def test_words_keep_clear_of_those_of_the_drawing(qtbot: QtBot, sheet: Sheet):
    from PySide6.QtGui import QPainter, QPixmap

    from stringerlab.desktop.sheet import painting

    sheet.hand.show_section("s7")
    qtbot.waitUntil(lambda: sheet.session.fresh, timeout=10_000)
    for switch in ("findings", "mould"):
        sheet.switches.switch(switch, on=True)
    sheet.repaint()
    pixmap = QPixmap(10, 10)
    painter = QPainter(pixmap)
    painter.setFont(sheet.font())
    labels = [painting.label_patch(painter, sheet.view, each) for each in sheet.surface.layers.labels()]
    painter.end()
    assert len(labels) > 3
    words = [patch for _, patch in sheet.surface.readings if patch.width() > 20]
    assert words
    assert not any(one.intersects(other) for one in words for other in labels)


def test_exported_drawing_has_what_is_seen(sheet: Sheet):
    bare = len(sheet.picture().items)
    sheet.switches.switch("mould", on=True)
    assert len(sheet.picture().items) == bare + 4


def test_readings_follow_a_drag_and_read_only_what_is_in_the_hand(qtbot: QtBot, sheet: Sheet):
    sheet.switches.switch("mould", on=True)
    sheet.hand.select(("w6",))
    sheet.hand.press((56.0, 9.2), ctrl=True)
    sheet.hand.move((60.0, 20.0), ctrl=True)
    sheet.hand.move((40.0, 9.2), ctrl=True)
    sheet.repaint()
    assert "undercut 2.3°" in {each.words for each, _ in sheet.surface.readings}
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    sheet.repaint()
    assert {each.words for each, _ in sheet.surface.readings} == {"5.0° of draft"}


def test_properties_say_how_it_comes_off(qtbot: QtBot, sheet: Sheet):
    inspector = Inspector(sheet)
    qtbot.addWidget(inspector)
    assert inspector.mould.text() == "Mould: ● Fine: least draft 5.0°."
    sheet.session.edit("Lean", undercut)
    assert inspector.mould.text().startswith("Mould: ■ Locked")
    assert "Lean it the other way" in inspector.mould.toolTip()
    sheet.session.undo()
    sheet.hand.show_section("s7")
    sheet.hand.select(("f11",))
    assert inspector.mould.isHidden()
