"""What the sheet looks like at a fixed size, scale and place: a few pixels that do not depend on fonts."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage

from stringerlab.desktop.sheet.view import View
from stringerlab.drawing import LIGHT, Role

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.sheet import Sheet


def colours(image: QImage, x0: int, y0: int, x1: int, y1: int) -> set[str]:
    """Every colour within a box of pixels."""
    return {image.pixelColor(x, y).name() for x in range(x0, x1) for y in range(y0, y1)}


def shot(sheet: Sheet) -> QImage:
    return sheet.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)


@pytest.fixture
def near(sheet: Sheet) -> Sheet:
    """The crown's middle, 40 pixels a mm, so that every ply is wide: z = 135 at y = 200."""
    for each in ("axes", "numbers", "mould_face", "lens"):
        sheet.switches.switch(each, False)
    sheet._look(View(scale=40.0, left=400.0, down=200.0 + 135 * 40.0))
    return sheet


def test_plies_lie_in_their_order_and_thickness_under_the_tool_surface(near: Sheet):
    image = shot(near)
    stack = near.hand.sight.resolved.stacks["l2"]
    roles = [Role.GEL_COAT, Role.MAT, Role.ROVING, Role.MAT, Role.ROVING, Role.MAT]
    depth = 0.0
    for ply, role in zip(stack.plies, roles, strict=True):
        middle = 200 + round((depth + ply.thickness / 2) * 40)
        assert image.pixelColor(443, middle).name() == LIGHT.brush(role).colour, ply.name
        depth += ply.thickness
    below = colours(image, 440, 200 + round(depth * 40) + 6, 446, 200 + round(depth * 40) + 8)
    assert QColor(LIGHT.background).name() in below


def test_what_is_selected_is_outlined(near: Sheet):
    plain = shot(near)
    near.hand.select(("w6",))
    picked = shot(near)
    wanted = LIGHT.pen(Role.SELECTED).colour
    assert wanted not in colours(plain, 430, 196, 450, 204)
    assert wanted in colours(picked, 430, 196, 450, 204)


def test_the_neutral_axis_is_where_the_numbers_say(sheet: Sheet):
    sheet.switches.switch("mould_face", False)
    properties = sheet.hand.sight.properties
    assert properties is not None
    image = shot(sheet)
    row = round(400 - properties.z_na * 2)
    axis = QColor(LIGHT.pen(Role.AXIS).colour)

    def reddish(x: int, y: int) -> bool:
        seen = image.pixelColor(x, y)
        return seen.red() - seen.green() > 60 and abs(seen.hue() - axis.hue()) < 25

    assert sum(any(reddish(x, y) for y in (row - 1, row, row + 1)) for x in range(320, 380)) > 25
    assert not any(reddish(x, row + 12) for x in range(320, 380))


def test_a_drag_paints_what_stands_still_once(qtbot: QtBot, sheet: Sheet):
    sheet.hand.show_section("s7")
    sheet._look(View(scale=2.0, left=400.0, down=450.0))
    sheet.hand.select(("w8",))
    sheet.repaint()
    qtbot.mousePress(sheet, Qt.MouseButton.LeftButton, pos=QPointF(400 - 6.5, 450 - 380).toPoint())
    painted: list[int] = []
    looks: list[int] = []
    for step in range(1, 6):
        qtbot.mouseMove(sheet, QPointF(400 - 6.5 + step, 450 - 380 - 4 * step).toPoint())
        sheet.flush()
        sheet.repaint()
        painted.append(sheet.surface.layers.painted)
        looks.append(hash(bytes(shot(sheet).constBits())))
    assert len(set(painted)) == 1
    assert len(set(looks)) == 5
    qtbot.keyClick(sheet, Qt.Key.Key_Escape)
    qtbot.mouseRelease(sheet, Qt.MouseButton.LeftButton)


def test_thin_plies_are_looked_at_through_a_lens(qtbot: QtBot, sheet: Sheet):
    sheet._look(View(scale=0.8, left=400.0, down=400.0))
    qtbot.mouseMove(sheet, QPointF(*sheet.view.to_screen((0, 135))).toPoint())
    sheet.flush()
    factor = sheet.hand.lens(2.0)
    thinnest = min(ply.thickness for ply in sheet.hand.sight.resolved.stacks["l2"].plies)
    assert factor == pytest.approx(4.0 / (thinnest * 0.8))
    with_lens = shot(sheet)
    sheet.switches.switch("lens", False)
    assert shot(sheet) != with_lens
    sheet._look(View(scale=20.0, left=400.0, down=2900.0))
    qtbot.mouseMove(sheet, QPointF(*sheet.view.to_screen((0, 135))).toPoint())
    sheet.flush()
    assert sheet.hand.lens(2.0) is None


def test_a_preview_shows_what_the_edit_will(qtbot: QtBot, sheet: Sheet):
    """The moving layer and the still one draw the same section the same way, but for the words' halo."""
    for each in ("axes", "numbers", "legend", "lens"):
        sheet.switches.switch(each, False)
    sheet.hand.select(("w6",))
    qtbot.mousePress(sheet, Qt.MouseButton.LeftButton, pos=QPointF(440, 400 - 267).toPoint())
    qtbot.mouseMove(sheet, QPointF(460, 400 - 287).toPoint())
    sheet.flush()
    dragged = sheet.surface.layers
    sheet.repaint()
    moving = dragged._moving.picture
    drawn = sheet.drawn()
    assert drawn is not None
    assert drawn.moving == {"w6"}
    qtbot.mouseRelease(sheet, Qt.MouseButton.LeftButton, pos=QPointF(460, 400 - 287).toPoint())
    sheet.repaint()
    still = [item for item in dragged.still.picture if item.subject.startswith("w6")]
    assert [type(item) for item in moving] == [type(item) for item in still]
    for one, other in zip(moving, still, strict=True):
        assert replace(one, subject="").role == replace(other, subject="").role


def test_fitting_leaves_room_for_the_legend_until_somebody_looks_closer(sheet: Sheet):
    sheet.fit()
    whole = sheet.view
    sheet.switches.switch("legend", on=True)
    room = sheet.surface.legend_room(sheet.picture())
    assert sheet.view.scale < whole.scale
    low_y, low_z, _, _ = sheet.picture().bounds() or (0.0, 0.0, 0.0, 0.0)
    left, bottom = sheet.view.to_screen((low_y, low_z))
    assert left > 22 + room[0] or bottom < sheet.height() - room[1]
    sheet.switches.switch("legend", on=False)
    assert sheet.view == whole
    sheet.zoom(2.0)
    closer = sheet.view
    sheet.switches.switch("legend", on=True)
    assert sheet.view == closer


def test_a_legend_stands_where_it_covers_least(sheet: Sheet):
    from PySide6.QtCore import QSizeF
    from PySide6.QtGui import QPainter, QPixmap

    from stringerlab.desktop.sheet import painting

    sheet.repaint()
    rows = sheet.surface.layers.legend(sheet.options)
    # Of everything drawn only the lower left corner's is left: the legend goes to another corner.
    drawn = sheet.view.to_paper((60.0, 560.0))
    stood: list[QPointF] = []

    def stands(painter: QPainter, given: object, at: QPointF, theme: object) -> None:
        stood.append(at)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(painting, "paint_legend", stands)
        pixmap = QPixmap(800, 600)
        painter = QPainter(pixmap)
        for points in (np.zeros((0, 2)), np.array([drawn])):
            painting.legend(painter, rows, QSizeF(800, 600), sheet.theme, sheet.view, points)
        painter.end()
    assert stood[0].x() == stood[1].x() == painting.RULER + 10
    assert stood[0].y() > 300
    assert stood[1].y() == painting.RULER + 10


def test_a_number_slides_along_its_line_off_the_words_of_the_drawing(sheet: Sheet):
    from PySide6.QtCore import QRectF
    from PySide6.QtGui import QPainter, QPixmap

    from stringerlab.desktop.sheet import painting

    sheet.hand.select(("w6",))
    sheet.repaint()
    height, patch = next(each for each in sheet.numbers() if each[0].name == "height")
    word = QRectF(patch).adjusted(-40, -2, -4, 2)
    pixmap = QPixmap(800, 600)
    painter = QPainter(pixmap)
    painter.setFont(sheet.font())
    units = sheet.session.units
    found = painting.dimension(painter, sheet.view, sheet.theme, height, units, [], words=[word])
    painter.end()
    assert found is not None
    assert not found.intersects(word)
    assert found.center().x() == pytest.approx(patch.center().x(), abs=0.6)
