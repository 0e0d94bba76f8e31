"""The rulers as a picture, painted anew only when view, size, look or units change. Pixels."""

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPixmap

from stringerlab.desktop.sheet.painting import RULER, pen
from stringerlab.desktop.sheet.rulers import ticks
from stringerlab.desktop.sheet.tool import Touch
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing.display import Role
from stringerlab.drawing.palette import Theme
from stringerlab.units import System


class Rulers:
    """Both rulers along the top and the left of a sheet."""

    def __init__(self) -> None:
        self._of: tuple[object, ...] = ()
        self._top, self._left = QPixmap(), QPixmap()

    def paint(
        self, painter: QPainter, view: View, size: QSizeF, theme: Theme, system: System, touch: Touch | None
    ) -> None:
        """Paint both with the pointer's place on them."""
        ratio = painter.device().devicePixelRatioF()
        key = (view, size.width(), size.height(), theme, system, painter.font().toString(), ratio)
        if key != self._of:
            self._of = key
            self._top = _strip(size.width(), RULER, ratio, theme)
            self._left = _strip(RULER, size.height(), ratio, theme)
            _mark_top(self._top, painter.font(), view, size, theme, system)
            _mark_left(self._left, painter.font(), view, size, theme, system)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
        painter.drawPixmap(QPointF(0, 0), self._left)
        painter.drawPixmap(QPointF(0, 0), self._top)
        if touch is not None:
            x, y = view.to_screen(touch.at)
            painter.setPen(pen(theme, Role.SELECTED, width=1.5))
            painter.drawLines([QLineF(x, 0, x, RULER - 1), QLineF(0, y, RULER - 1, y)])


def _strip(width: float, height: float, ratio: float, theme: Theme) -> QPixmap:
    made = QPixmap(max(round(width * ratio), 1), max(round(height * ratio), 1))
    made.setDevicePixelRatio(ratio)
    made.fill(theme.background)
    return made


def _spacing(font: QFont) -> float:
    return max(QFontMetricsF(font).horizontalAdvance("−00 00/00"), 52.0)


def _mark_top(strip: QPixmap, font: QFont, view: View, size: QSizeF, theme: Theme, system: System) -> None:
    painter = QPainter(strip)
    painter.setFont(font)
    painter.setPen(pen(theme, Role.DIMENSION, width=1.0))
    low, _, high, _ = view.window((size.width(), size.height()))
    lines = [QLineF(0, RULER - 0.5, size.width(), RULER - 0.5)]
    for tick in ticks(low, high, view.scale, system, _spacing(font)):
        x = view.to_screen((tick.at, 0.0))[0]
        if x < RULER:
            continue
        lines.append(QLineF(x, RULER - (9 if tick.label else 4), x, RULER))
        if tick.label:
            painter.drawText(QPointF(x + 3, RULER - 8), tick.label)
    painter.drawLines(lines)
    corner = QRectF(0, 0, RULER - 1, RULER - 1)
    painter.fillRect(corner, theme.background)
    painter.drawText(corner, Qt.AlignmentFlag.AlignCenter, "mm" if system is System.METRIC else "in")
    painter.end()


def _mark_left(strip: QPixmap, font: QFont, view: View, size: QSizeF, theme: Theme, system: System) -> None:
    painter = QPainter(strip)
    painter.setFont(font)
    painter.setPen(pen(theme, Role.DIMENSION, width=1.0))
    _, low, _, high = view.window((size.width(), size.height()))
    lines = [QLineF(RULER - 0.5, 0, RULER - 0.5, size.height())]
    for tick in ticks(low, high, view.scale, system, _spacing(font)):
        y = view.to_screen((0.0, tick.at))[1]
        if y < RULER:
            continue
        lines.append(QLineF(RULER - (9 if tick.label else 4), y, RULER, y))
        if tick.label:
            painter.save()
            painter.translate(RULER - 8, y - 3)
            painter.rotate(-90)
            painter.drawText(QPointF(0, 0), tick.label)
            painter.restore()
    painter.drawLines(lines)
    painter.end()
