"""Lines laid under the sheet: seen, snapped to, hidden, cleared, kept by section."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QPoint, QPointF
from PySide6.QtGui import QColor

from stringerlab.desktop.sheet.strip import SwitchBar
from stringerlab.drawing.display import Role

from .conftest import BOAT

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.sheet import Sheet

LINES = [
    np.array([(-150.3, 160.7), (-90.3, 160.7), (-90.3, 200.0)]),
    np.array([(100.0, 170.0), (140.0, 190.0)]),
]


def pixel(sheet: Sheet, y: float, z: float) -> QPoint:
    return QPointF(*sheet.view.to_screen((y, z))).toPoint()


def caught(qtbot: QtBot, sheet: Sheet, y: float, z: float) -> tuple[float, float]:
    """Where a wall drawn from here would begin."""
    qtbot.mouseMove(sheet, pixel(sheet, y, z) + QPoint(3, 3))
    sheet.flush()
    assert sheet.hand.touch is not None
    return sheet.hand.touch.at


def seen(sheet: Sheet, y: float, z: float) -> bool:
    """Whether there is a line at a place, against the paper."""
    sheet.hand.leave()
    image = sheet.grab().toImage()
    at = pixel(sheet, y, z)
    ink = QColor(sheet.theme.pen(Role.UNDERLAY).colour)
    darkest = min((image.pixelColor(at + QPoint(0, by)) for by in (-1, 0, 1)), key=QColor.lightness)
    paper = QColor(sheet.theme.background)
    return abs(darkest.lightness() - ink.lightness()) < abs(darkest.lightness() - paper.lightness())


@pytest.fixture
def laid(sheet: Sheet) -> Sheet:
    sheet.lay_under(LINES)
    sheet.hand.switch(snaps=True)
    sheet.hand.take("wall")
    sheet.repaint()
    return sheet


def test_lines_are_seen_fitted_and_snapped_to(qtbot: QtBot, laid: Sheet):
    low_y, _, high_y, high_z = laid.view.window((laid.width(), laid.height()))
    assert low_y < -150.3
    assert high_y > 140
    assert high_z > 200
    assert seen(laid, -137.0, 160.7)
    assert caught(qtbot, laid, -90.3, 160.7) == pytest.approx((-90.3, 160.7))
    assert caught(qtbot, laid, 120.0, 180.0) == pytest.approx((120.0, 180.0))


def test_hidden_lines_are_neither_seen_nor_snapped_to(qtbot: QtBot, laid: Sheet):
    laid.switches.switch("underlay", on=False)
    assert not seen(laid, -137.0, 160.7)
    assert caught(qtbot, laid, -90.3, 160.7) != pytest.approx((-90.3, 160.7))
    laid.switches.switch("underlay", on=True)
    assert seen(laid, -137.0, 160.7)


def test_lines_are_cleared_by_the_bar(qtbot: QtBot, laid: Sheet):
    bar = SwitchBar(laid)
    qtbot.addWidget(bar)
    assert bar.clear.isEnabled()
    bar.clear.trigger()
    assert not seen(laid, -137.0, 160.7)
    menu = bar.overlays.menu()
    menu.aboutToShow.emit()
    assert not bar.clear.isEnabled()


def test_menu_of_the_sheet_clears_them(laid: Sheet):
    menu = laid.menu()
    (clear,) = [action for action in menu.actions() if action.text() == "Clear underlay"]
    clear.trigger()
    menu.deleteLater()
    assert laid.hand.sight.underlay is None


def test_each_section_keeps_its_own(laid: Sheet):
    laid.hand.show_section("s7")
    assert laid.hand.sight.underlay is None
    laid.hand.show_section("s5")
    assert laid.hand.sight.underlay is not None


def test_edits_and_undo_keep_them_and_another_project_has_none(laid: Sheet):
    laid.hand.select(("w6",))
    laid.hand.nudge(1, 0)
    laid.session.undo()
    assert laid.hand.sight.underlay is not None
    laid.session.begin(BOAT)
    assert laid.hand.sight.underlay is None


def test_underlay_is_no_part_of_the_project_or_of_what_is_exported(laid: Sheet, tmp_path: Path):
    assert laid.session.undo_label is None
    assert not any(item.role is Role.UNDERLAY for item in laid.picture())
    laid.export(tmp_path / "sheet.svg")
    assert "underlay" not in (tmp_path / "sheet.svg").read_text(encoding="utf-8")


def test_lines_far_outside_the_drawing_are_left_out(sheet: Sheet):
    sheet.lay_under([np.array([(0.0, 0.0), (1e9, 0.0)])])
    assert sheet.hand.sight.underlay is None
