"""The plot of designs: picked by mouse and keys, told by hover, told apart by shape as well as colour."""

from __future__ import annotations

from collections.abc import Iterator
from math import nan
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QPalette
from PySide6.QtWidgets import QToolTip

from stringerlab.desktop.sizing.front_chart import FrontChart, Spot
from stringerlab.desktop.theme import PAPER, SLATE, Tokens, palette

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

SPOTS = (
    Spot(x=52.0, y=0.96, holds=False, words="present", present=True),
    Spot(x=48.0, y=0.99, holds=True, words="first\nhat height: 125 mm"),
    Spot(x=50.0, y=0.90, holds=True, words="second"),
    Spot(x=nan, y=0.90, holds=True, words="not priced"),
)


@pytest.fixture
def chart(qtbot: QtBot) -> Iterator[FrontChart]:
    chart = FrontChart()
    chart.resize(480, 300)
    chart.show_spots(SPOTS, "mass (kg)", "highest utilisation")
    chart.show()
    qtbot.waitExposed(chart)
    yield chart
    chart.close()
    chart.deleteLater()


def test_lighter_stands_left_and_higher_used_above(chart: FrontChart) -> None:
    assert chart.place(1).x() < chart.place(2).x() < chart.place(0).x()
    assert chart.place(1).y() < chart.place(0).y() < chart.place(2).y()


def test_a_click_on_a_mark_picks_it_and_beside_it_nothing(qtbot: QtBot, chart: FrontChart) -> None:
    with qtbot.waitSignal(chart.picked) as heard:
        qtbot.mouseClick(chart, Qt.MouseButton.LeftButton, pos=chart.place(2).toPoint())
    assert heard.args == [2]
    with qtbot.assertNotEmitted(chart.picked):
        qtbot.mouseClick(chart, Qt.MouseButton.LeftButton, pos=QPoint(240, 150))
    assert chart.current == 2


def test_arrows_go_from_left_to_right_and_leave_out_what_has_no_number(
    qtbot: QtBot, chart: FrontChart
) -> None:
    seen: list[int] = []
    chart.picked.connect(seen.append)
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Left):
        qtbot.keyClick(chart, key)
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    qtbot.keyClick(chart, Qt.Key.Key_End)
    assert seen == [1, 2, 0, 2, 1, 0]
    with qtbot.waitSignal(chart.opened):
        qtbot.keyClick(chart, Qt.Key.Key_Return)


def test_hover_tells_the_values(qtbot: QtBot, chart: FrontChart) -> None:
    qtbot.mouseMove(chart, chart.place(1).toPoint())
    qtbot.waitUntil(lambda: QToolTip.text() == SPOTS[1].words)
    qtbot.mouseMove(chart, QPoint(240, 150))
    QToolTip.hideText()


@pytest.mark.parametrize("tokens", [PAPER, SLATE], ids=["paper", "slate"])
def test_what_holds_differs_in_shape_from_what_does_not(qtbot: QtBot, tokens: Tokens) -> None:
    """Drawn in one and the same colour by a palette of no use, the marks still differ."""
    grey = palette(tokens)

    def drawn(*, holds: bool, present: bool) -> QImage:
        chart = FrontChart()
        qtbot.addWidget(chart)
        chart.setPalette(QPalette(grey))
        chart.resize(300, 200)
        chart.show_spots([Spot(x=1, y=1, holds=holds, words="", present=present)], "", "")
        at = chart.place(0).toPoint()
        image = chart.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
        image = image.copy(at.x() - 8, at.y() - 8, 17, 17)
        ground = image.pixelColor(0, 0).value()
        for x in range(17):
            for y in range(17):
                apart = abs(image.pixelColor(x, y).value() - ground) > 40
                image.setPixelColor(x, y, Qt.GlobalColor.black if apart else Qt.GlobalColor.white)
        return image

    pictures = [drawn(holds=h, present=p) for h in (True, False) for p in (True, False)]
    for i, one in enumerate(pictures):
        for other in pictures[i + 1 :]:
            differ = sum(one.pixelColor(x, y) != other.pixelColor(x, y) for x in range(17) for y in range(17))
            assert differ > 12


def test_a_single_design_has_room_about_it(qtbot: QtBot) -> None:
    chart = FrontChart()
    qtbot.addWidget(chart)
    chart.resize(300, 200)
    chart.show_spots(SPOTS[:1], "mass", "use")
    at = chart.place(0)
    assert 60 < at.x() < 280
    assert 20 < at.y() < 160
