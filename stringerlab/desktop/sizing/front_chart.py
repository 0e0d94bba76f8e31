"""Designs as marks: what is lowered first runs across, what is lowered beside it up; picked by mouse or keys.

A circle holds, a square with a cross in it does not; the present boat is a diamond with a word beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from stringerlab.desktop.curves import ticks
from stringerlab.desktop.theme import Tokens, tokens_of
from stringerlab.units import trimmed

_LEFT, _RIGHT, _TOP, _FOOT = 58, 18, 26, 42
_MARK = 5.0
_REACH = 16.0
"""How near to a mark the pointer takes it, in pixels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A design on the chart; ``x`` and ``y`` in the units of the axes."""

    x: float
    y: float
    holds: bool
    words: str
    present: bool = False
    name: str = ""
    """What stands beside the present boat."""


class FrontChart(QWidget):
    """The chart."""

    picked = Signal(int)
    """A design is picked by a person: its place among the spots."""
    opened = Signal()
    """Enter, or a double click on the design picked."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Plot of the designs")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMouseTracking(True)
        self._spots: tuple[Spot, ...] = ()
        self._titles = ("", "")
        self._current = -1
        self._hovered = -1

    @property
    def current(self) -> int:
        """Which spot is picked, −1 for none."""
        return self._current

    def show_spots(self, spots: Sequence[Spot], across: str, up: str) -> None:
        """Show designs by two axes; those of no known number are left out of the picture."""
        self._spots, self._titles = tuple(spots), (across, up)
        self._current = self._hovered = -1
        self.setAccessibleDescription(f"{across} across, {up} up; {len(spots)} designs. Arrow keys pick.")
        self.update()

    def pick(self, spot: int) -> None:
        """Show a spot as picked."""
        if spot != self._current:
            self._current = spot
            self.update()

    def place(self, spot: int) -> QPointF:
        """Return where a spot stands on screen."""
        return self._at(self._spots[spot])

    def sizeHint(self) -> QSize:
        """Return room enough to tell marks apart."""
        return QSize(420, 260)

    def minimumSizeHint(self) -> QSize:
        """Return the least room."""
        return QSize(280, 170)

    # -- events ----------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick the nearest mark."""
        near = self._near(event.position())
        if event.button() is Qt.MouseButton.LeftButton and near >= 0:
            self._take(near)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Open the design picked."""
        if self._near(event.position()) == self._current >= 0:
            self.opened.emit()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Let the mark under the pointer stand out, and tell its values."""
        near = self._near(event.position())
        if near != self._hovered:
            self._hovered = near
            self.update()
            if near >= 0:
                QToolTip.showText(event.globalPosition().toPoint(), self._spots[near].words, self)
            else:
                QToolTip.hideText()

    def leaveEvent(self, event: QEvent) -> None:
        """Let no mark stand out."""
        del event
        self._hovered = -1
        self.update()

    def event(self, event: QEvent) -> bool:
        """Tell the values of the mark under a resting pointer."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            near = self._near(QPointF(event.pos()))
            if near >= 0:
                QToolTip.showText(event.globalPos(), self._spots[near].words, self)
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go along the designs from left to right; Home and End to the ends; Enter opens."""
        order = self._order()
        key = event.key()
        if not order:
            super().keyPressEvent(event)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._current >= 0:
            self.opened.emit()
        elif key in (Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Up):
            step = 1 if key in (Qt.Key.Key_Right, Qt.Key.Key_Down) else -1
            at = order.index(self._current) + step if self._current in order else 0
            self._take(order[min(max(at, 0), len(order) - 1)])
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self._take(order[0 if key == Qt.Key.Key_Home else -1])
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keys pick here."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that they no longer do."""
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint axes and marks, the picked one last."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tokens = tokens_of(self.palette())
        frame = QRectF(0.5, 0.5, self.width() - 1, self.height() - 1)
        painter.fillRect(frame, QColor(tokens.sheet))
        painter.setPen(QPen(QColor(tokens.accent if self.hasFocus() else tokens.rule), 1))
        painter.drawRect(frame)
        if not self._shown():
            return
        self._paint_axes(painter, tokens)
        for spot in sorted(self._order(), key=lambda i: (i == self._current, self._spots[i].present)):
            self._paint_spot(painter, tokens, spot)
        self._paint_legend(painter, tokens)

    # -- inside ----------------------------------------------------------------------------------

    def _paint_axes(self, painter: QPainter, tokens: Tokens) -> None:
        (left, right), (low, high) = self._ranges()
        box = self._box()
        rule, faint = QPen(QColor(tokens.rule), 1), QColor(tokens.faint)
        for value in ticks(left, right, max(box.width() / 80, 2)):
            x = box.left() + box.width() * (value - left) / (right - left)
            painter.setPen(rule)
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
            painter.setPen(faint)
            text = QRectF(x - 40, box.bottom() + 3, 80, 18)
            painter.drawText(text, int(Qt.AlignmentFlag.AlignHCenter), trimmed(value, 6))
        for value in ticks(low, high, max(box.height() / 45, 2)):
            y = box.bottom() - box.height() * (value - low) / (high - low)
            painter.setPen(rule)
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(faint)
            text = QRectF(0, y - 9, _LEFT - 7, 18)
            flags = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            painter.drawText(text, flags, trimmed(value, 6))
        painter.setPen(QColor(tokens.ink))
        across = QRectF(box.left(), box.bottom() + 20, box.width(), 18)
        painter.drawText(across, int(Qt.AlignmentFlag.AlignRight), self._titles[0])
        painter.setPen(faint)
        painter.drawText(across, int(Qt.AlignmentFlag.AlignLeft), "better: to the left and down")
        painter.setPen(QColor(tokens.ink))
        painter.drawText(QRectF(10, 4, box.width() / 2, 18), int(Qt.AlignmentFlag.AlignLeft), self._titles[1])

    def _paint_spot(self, painter: QPainter, tokens: Tokens, number: int) -> None:
        spot = self._spots[number]
        at = self._at(spot)
        colour = QColor(tokens.holds if spot.holds else tokens.short)
        if number == self._current:
            painter.setPen(QPen(QColor(tokens.accent), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            around = _MARK + (9 if spot.present else 5)
            painter.drawEllipse(at, around, around)
        grown = _MARK + (1.5 if number in (self._hovered, self._current) else 0)
        _paint_shape(painter, at, spot, colour, QColor(tokens.sheet), grown)
        if spot.present:
            painter.setPen(QColor(tokens.ink))
            words = spot.name or "present boat"
            wide = painter.fontMetrics().horizontalAdvance(words)
            x = at.x() + 16 if at.x() + 20 + wide < self.width() - 4 else at.x() - 16 - wide
            painter.drawText(QPointF(x, at.y() - 8), words)

    def _paint_legend(self, painter: QPainter, tokens: Tokens) -> None:
        x = float(self.width() - 10)
        for words, spot in (
            ("does not hold", Spot(x=0, y=0, holds=False, words="")),
            ("holds", Spot(x=0, y=0, holds=True, words="")),
        ):
            x -= painter.fontMetrics().horizontalAdvance(words)
            painter.setPen(QColor(tokens.faint))
            painter.drawText(QPointF(x, 17), words)
            colour = QColor(tokens.holds if spot.holds else tokens.short)
            _paint_shape(painter, QPointF(x - 10, 13), spot, colour, QColor(tokens.sheet), 4.5)
            x -= 30

    def _shown(self) -> list[int]:
        return [i for i, spot in enumerate(self._spots) if isfinite(spot.x) and isfinite(spot.y)]

    def _order(self) -> list[int]:
        return sorted(self._shown(), key=lambda i: (self._spots[i].x, -self._spots[i].y, i))

    def _box(self) -> QRectF:
        return QRectF(_LEFT, _TOP, self.width() - _LEFT - _RIGHT, self.height() - _TOP - _FOOT)

    def _ranges(self) -> tuple[tuple[float, float], tuple[float, float]]:
        spots = [self._spots[i] for i in self._shown()]
        return _about([spot.x for spot in spots]), _about([spot.y for spot in spots])

    def _at(self, spot: Spot) -> QPointF:
        (left, right), (low, high) = self._ranges()
        box = self._box()
        return QPointF(
            box.left() + box.width() * (spot.x - left) / (right - left),
            box.bottom() - box.height() * (spot.y - low) / (high - low),
        )

    def _near(self, at: QPointF) -> int:
        apart = [((self._at(self._spots[i]) - at).manhattanLength(), i) for i in self._shown()]
        nearest = min(apart, default=(_REACH, -1))
        return nearest[1] if nearest[0] < _REACH else -1

    def _take(self, spot: int) -> None:
        if spot != self._current:
            self.pick(spot)
            self.picked.emit(spot)


def _about(values: Sequence[float]) -> tuple[float, float]:
    """Return a range with room about values, never of no width."""
    low, high = min(values), max(values)
    room = 0.08 * (high - low) or max(0.05 * abs(high), 0.05)
    return low - room, high + room


def _paint_shape(
    painter: QPainter, at: QPointF, spot: Spot, colour: QColor, ground: QColor, half: float
) -> None:
    painter.setPen(QPen(colour, 1.8))
    if spot.present:
        painter.setBrush(ground if not spot.holds else colour)
        half += 3.5
        painter.drawPolygon(
            [
                QPointF(at.x(), at.y() - half),
                QPointF(at.x() + half, at.y()),
                QPointF(at.x(), at.y() + half),
                QPointF(at.x() - half, at.y()),
            ]
        )
        if spot.holds:
            return
        half *= 0.4
        painter.setPen(QPen(colour, 1.2))
    elif spot.holds:
        painter.setPen(QPen(ground, 1))  # so that marks close by stay apart
        painter.setBrush(colour)
        painter.drawEllipse(at, half + 0.5, half + 0.5)
        return
    else:
        painter.setBrush(ground)
        painter.drawRect(QRectF(at.x() - half, at.y() - half, 2 * half, 2 * half))
    painter.drawLine(at + QPointF(-half, -half), at + QPointF(half, half))
    painter.drawLine(at + QPointF(-half, half), at + QPointF(half, -half))
