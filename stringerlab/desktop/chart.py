"""Curves over a place, with marks: axes in the units shown, and a reading line for mouse and keyboard."""

from collections.abc import Sequence
from math import isfinite

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from stringerlab.desktop.curves import Axis, ChartMark, Curve, ticks
from stringerlab.desktop.player import theme_of
from stringerlab.drawing.display import Role, Shape
from stringerlab.drawing.palette import Theme
from stringerlab.units import in_unit, trimmed

_REACH = 12.0
"""How near the pointer must be to a mark, in pixels."""
_HALF = 5.0
"""Half the size of a mark, in pixels."""


class Chart(QWidget):
    """A chart from zero up. The arrow keys move a reading line, a double click or Enter goes to a mark."""

    read = Signal(str)
    """What the reading line or the mark under the pointer says; empty for nothing."""
    activated = Signal(str)
    """The id of a mark a person wants to be taken to."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(320, 180)
        self._across: Axis | None = None
        self._up: Axis | None = None
        self._curves: tuple[Curve, ...] = ()
        self._marks: tuple[ChartMark, ...] = ()
        self._instead = ""
        self._at: float | None = None
        self._selected = ""

    # -- what is shown ---------------------------------------------------------------------------

    def show_curves(
        self, across: Axis, up: Axis, curves: Sequence[Curve], marks: Sequence[ChartMark] = ()
    ) -> None:
        """Show curves and marks, values from zero up."""
        self._across, self._up = across, up
        self._curves, self._marks, self._instead = tuple(curves), tuple(marks), ""
        self.setAccessibleDescription(self._described())
        self._say()
        self.update()

    def show_words(self, words: str) -> None:
        """Show words in place of curves."""
        self._curves, self._marks, self._instead = (), (), words
        self.setAccessibleDescription(words)
        self._say()
        self.update()

    def select(self, subject: str) -> None:
        """Show a subject's mark as selected."""
        if subject != self._selected:
            self._selected = subject
            self.update()

    def place_of(self, mark: ChartMark) -> QPointF:
        """Return where a mark stands in the widget, in pixels."""
        frame, (left, right), (_, top) = self._frame()
        return self._point(frame, left, right, top, mark.x, mark.y)

    @property
    def marks(self) -> tuple[ChartMark, ...]:
        """The marks shown."""
        return self._marks

    @property
    def curves(self) -> tuple[Curve, ...]:
        """The curves shown."""
        return self._curves

    @property
    def reading(self) -> str:
        """What the reading line or the mark under it says."""
        if self._at is None or not self._curves or self._up is None or self._across is None:
            return ""
        mark = self._mark_at_line()
        if mark is not None:
            return mark.words
        values = "; ".join(
            f"{curve.name} {in_unit(float(np.interp(self._at, curve.x, curve.y)), self._up.unit, digits=3)}"
            for curve in self._curves
        )
        return f"x = {in_unit(self._at, self._across.unit)}: {values}"

    # -- events ----------------------------------------------------------------------------------

    def sizeHint(self) -> QSize:
        """Return the size it likes."""
        return QSize(560, 280)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the reading line to the pointer, or onto the mark under it."""
        self._read_at(event.position())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Go to the mark under the pointer."""
        mark = self._mark_near(event.position())
        if mark is not None and mark.subject:
            self.activated.emit(mark.subject)

    def leaveEvent(self, event: object) -> None:
        """Take the reading line away, unless the keyboard holds it."""
        del event
        if not self.hasFocus():
            self._move_to(None)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the reading line away."""
        super().focusOutEvent(event)
        self._move_to(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the reading line by arrows, Home, End; from mark to mark with Page Up and Down."""
        key = event.key()
        if not self._curves:
            super().keyPressEvent(event)
            return
        _, (left, right), _ = self._frame()
        now = left if self._at is None else self._at
        step = (right - left) / (20 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 100)
        steps = {Qt.Key.Key_Left: now - step, Qt.Key.Key_Right: now + step}
        steps |= {Qt.Key.Key_Home: left, Qt.Key.Key_End: right}
        if key in steps:
            self._move_to(min(max(steps[Qt.Key(key)], left), right))
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self._to_next_mark(1 if key == Qt.Key.Key_PageUp else -1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and (mark := self._mark_at_line()):
            self.activated.emit(mark.subject)
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, grid, curves, marks and the reading line."""
        del event
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self.palette().color(QPalette.ColorRole.Base))
        painter.setPen(self.palette().color(QPalette.ColorRole.Text))
        if not self._curves:
            inside = QRectF(self.rect()).adjusted(24, 12, -24, -12)
            painter.drawText(inside, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self._instead)
        else:
            self._paint(painter, theme_of(self.palette()))
        if self.hasFocus():
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

    # -- painting --------------------------------------------------------------------------------

    def _paint(self, painter: QPainter, theme: Theme) -> None:
        assert self._across is not None
        assert self._up is not None
        frame, (left, right), (_, top) = self._frame()
        metrics = QFontMetricsF(self.font())
        ink = self.palette().color(QPalette.ColorRole.Text)
        faint = self.palette().color(QPalette.ColorRole.PlaceholderText)
        rule = QPen(_colour(theme, Role.GRID), theme.pen(Role.GRID).width)
        for value in ticks(
            left / self._across.unit.factor, right / self._across.unit.factor, frame.width() / 90
        ):
            x = self._point(frame, left, right, top, value * self._across.unit.factor, 0).x()
            painter.setPen(rule)
            painter.drawLine(QPointF(x, frame.top()), QPointF(x, frame.bottom()))
            painter.setPen(faint)
            _centred(painter, metrics, x, frame.bottom() + 5, trimmed(value))
        for value in ticks(0, top / self._up.unit.factor, frame.height() / 42):
            y = self._point(frame, left, right, top, left, value * self._up.unit.factor).y()
            painter.setPen(rule)
            painter.drawLine(QPointF(frame.left(), y), QPointF(frame.right(), y))
            painter.setPen(faint)
            text = trimmed(value)
            width = metrics.horizontalAdvance(text)
            painter.drawText(QPointF(frame.left() - 8 - width, y + metrics.ascent() / 2 - 1), text)
        painter.setPen(ink)
        _centred(
            painter, metrics, frame.center().x(), frame.bottom() + 7 + metrics.height(), self._across.title
        )
        painter.save()
        painter.translate(metrics.height() / 2 + 4, frame.center().y())
        painter.rotate(-90)
        _centred(painter, metrics, 0, -metrics.height() / 2, self._up.title)
        painter.restore()
        self._paint_legend(painter, theme, metrics, frame, ink)
        painter.setPen(QPen(ink, 1))
        painter.drawLine(frame.bottomLeft(), frame.bottomRight())
        painter.save()
        painter.setClipRect(frame.adjusted(-1, -2, 1, 2))
        for curve in self._curves:
            points = [
                self._point(frame, left, right, top, float(x), float(y))
                for x, y in zip(curve.x, curve.y, strict=True)
            ]
            painter.setPen(_pen(theme, curve))
            painter.drawPolyline(QPolygonF(points))
        painter.restore()
        for mark in self._marks:
            place = self._point(frame, left, right, top, mark.x, mark.y)
            painter.setPen(QPen(_colour(theme, Role.GRID), 1, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(place.x(), place.y() + _HALF), QPointF(place.x(), frame.bottom()))
        for mark in self._marks:
            place = self._point(frame, left, right, top, mark.x, mark.y)
            chosen = mark.subject and mark.subject == self._selected
            self._paint_mark(painter, theme, mark, place, 1.5 if chosen else 1.0)
        if self._at is not None:
            x = self._point(frame, left, right, top, self._at, 0).x()
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Highlight), 1.2))
            painter.drawLine(QPointF(x, frame.top()), QPointF(x, frame.bottom()))

    def _paint_mark(
        self, painter: QPainter, theme: Theme, mark: ChartMark, place: QPointF, size: float = 1.0
    ) -> None:
        half = _HALF * size
        painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Base), 1.2))
        painter.setBrush(_colour(theme, mark.role))
        match mark.shape:
            case Shape.SQUARE:
                painter.drawRect(
                    QRectF(place.x() - half * 0.85, place.y() - half * 0.85, half * 1.7, half * 1.7)
                )
            case Shape.TRIANGLE:
                x, y = place.x(), place.y()
                painter.drawPolygon(
                    QPolygonF(
                        [
                            QPointF(x, y - half),
                            QPointF(x + half, y + half * 0.8),
                            QPointF(x - half, y + half * 0.8),
                        ]
                    )
                )
            case _:
                painter.drawEllipse(place, half, half)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _paint_legend(
        self, painter: QPainter, theme: Theme, metrics: QFontMetricsF, frame: QRectF, ink: QColor
    ) -> None:
        x, y = frame.left(), metrics.height() / 2 + 7
        for curve in self._curves:
            painter.setPen(_pen(theme, curve))
            painter.drawLine(QPointF(x, y), QPointF(x + 30, y))
            painter.setPen(ink)
            painter.drawText(QPointF(x + 36, y + metrics.ascent() / 2 - 1), curve.name)
            x += 36 + metrics.horizontalAdvance(curve.name) + 18
        shapes = {mark.shape: mark for mark in self._marks}
        for shape, words in ((Shape.SQUARE, "panels"), (Shape.TRIANGLE, "spans")):
            if shape in shapes:
                self._paint_mark(painter, theme, shapes[shape], QPointF(x + 6, y))
                painter.setPen(ink)
                painter.drawText(QPointF(x + 16, y + metrics.ascent() / 2 - 1), words)
                x += 16 + metrics.horizontalAdvance(words) + 18

    # -- geometry --------------------------------------------------------------------------------

    def _frame(self) -> tuple[QRectF, tuple[float, float], tuple[float, float]]:
        """Return the frame in pixels, and the values at its edges, in the program's units."""
        metrics = QFontMetricsF(self.font())
        line = metrics.height()
        left = min((float(curve.x[0]) for curve in self._curves), default=0.0)
        right = max((float(curve.x[-1]) for curve in self._curves), default=1.0)
        highest = [float(np.nanmax(curve.y)) for curve in self._curves] + [mark.y for mark in self._marks]
        top = max([value for value in highest if isfinite(value)], default=1.0) * 1.08 or 1.0
        numbers = metrics.horizontalAdvance("0000")
        frame = QRectF(self.rect()).adjusted(numbers + line + 18, line + 16, -18, -(2 * line + 14))
        return frame, (left, right if right > left else left + 1.0), (0.0, top)

    @staticmethod
    def _point(frame: QRectF, left: float, right: float, top: float, x: float, y: float) -> QPointF:
        return QPointF(
            frame.left() + (x - left) / (right - left) * frame.width(),
            frame.bottom() - y / top * frame.height(),
        )

    def _mark_near(self, pointer: QPointF) -> ChartMark | None:
        near = [
            (apart, mark)
            for mark in self._marks
            if (apart := (self.place_of(mark) - pointer).manhattanLength()) <= _REACH
        ]
        return min(near, key=lambda pair: pair[0])[1] if near else None

    def _mark_at_line(self) -> ChartMark | None:
        return next((mark for mark in self._marks if mark is self._held), None)

    _held: ChartMark | None = None

    # -- reading ---------------------------------------------------------------------------------

    def _read_at(self, pointer: QPointF) -> None:
        if not self._curves:
            return
        mark = self._mark_near(pointer)
        frame, (left, right), _ = self._frame()
        x = left + (pointer.x() - frame.left()) / max(frame.width(), 1.0) * (right - left)
        self._move_to(mark.x if mark else min(max(x, left), right), mark)

    def _to_next_mark(self, way: int) -> None:
        order = sorted(self._marks, key=lambda mark: (mark.x, mark.words))
        if not order:
            return
        held = self._mark_at_line()
        if held is not None:
            mark = order[(order.index(held) + way) % len(order)]
        else:
            mark = order[0 if way > 0 else -1]
        self._move_to(mark.x, mark)

    def _move_to(self, at: float | None, mark: ChartMark | None = None) -> None:
        self._at, self._held = at, mark
        self._say()
        self.update()

    def _say(self) -> None:
        self.read.emit(self.reading)

    def _described(self) -> str:
        if self._up is None:
            return ""
        parts = [
            f"{curve.name} {in_unit(float(curve.y.min()), self._up.unit, digits=3)} to "
            f"{in_unit(float(curve.y.max()), self._up.unit, digits=3)}"
            for curve in self._curves
        ]
        return "; ".join([*parts, *(mark.words for mark in self._marks)])


def _colour(theme: Theme, role: Role) -> QColor:
    pen = theme.pen(role)
    colour = QColor(pen.colour)
    colour.setAlphaF(pen.opacity)
    return colour


def _pen(theme: Theme, curve: Curve) -> QPen:
    colour = QColor(theme.pen(curve.role).colour)
    pen = QPen(colour, curve.width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
    if curve.width > 3:  # a band under the others
        colour.setAlphaF(0.5)
        pen.setColor(colour)
    if curve.dash:
        pen.setDashPattern(list(curve.dash))
    return pen


def _centred(painter: QPainter, metrics: QFontMetricsF, x: float, top: float, text: str) -> None:
    painter.drawText(QPointF(x - metrics.horizontalAdvance(text) / 2, top + metrics.ascent()), text)
