"""Utilisations of one subject by several methods: a line an aspect, on it each method's mark and letter."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from stringerlab.desktop.curves import ticks
from stringerlab.desktop.models.against import SideRow, letter_of
from stringerlab.desktop.theme import tokens_of
from stringerlab.desktop.verdicts import use_text
from stringerlab.methods import SHORT_ABOVE, TIGHT_ABOVE

_LINE = 32
_LABEL = 168
_RIGHT = 22
_APART = 12.0
"""Between letters over marks, in pixels."""
_LEAST = 1.1
"""Where the scale ends at least, so that the whole capacity is always in sight."""
_MOST = 2.5
"""Where it ends at most; what lies beyond stands at the end with an arrow."""


@dataclass(frozen=True, slots=True)
class _Mark:
    at: QPointF
    method: int
    words: str


class AgainstChart(QWidget):
    """The chart of one subject."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("against_chart")
        self.setAccessibleName("Utilisation by method")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._rows: tuple[SideRow, ...] = ()
        self._methods: tuple[str, ...] = ()

    def show_rows(self, methods: Sequence[str], rows: Sequence[SideRow]) -> None:
        """Show the aspects of a subject that any method judges."""
        self._methods = tuple(methods)
        self._rows = tuple(row for row in rows if any(_uses(row)))
        self.setAccessibleDescription("; ".join(self._said(row) for row in self._rows))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for a line an aspect and the scale."""
        return QSize(420, _LINE * len(self._rows) + 26)

    def minimumSizeHint(self) -> QSize:
        """Return the least room."""
        return QSize(320, self.sizeHint().height())

    def marks(self) -> list[tuple[QPointF, str]]:
        """Return where each mark stands and what it says."""
        return [(mark.at, mark.words) for row in range(len(self._rows)) for mark in self._marks_of(row)]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint scale, joined marks, aspects."""
        del event
        if not self._rows:
            return
        tokens = tokens_of(self.palette())
        ink, faint = QColor(tokens.ink), QColor(tokens.faint)
        rule, short = QColor(tokens.rule), QColor(tokens.short)
        accent = QColor(tokens.accent)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        foot = _LINE * len(self._rows)
        for at in ticks(0.0, self._end(), max((self.width() - _LABEL) / 70, 3)):
            x = self._x(at)
            painter.setPen(QPen(rule, 1))
            painter.drawLine(QPointF(x, 2), QPointF(x, foot))
            painter.setPen(faint)
            box = QRectF(x - 30, foot + 2, 60, 20)
            painter.drawText(box, int(Qt.AlignmentFlag.AlignHCenter), f"{at:.2g}" if at else "0")
        for at, colour in ((TIGHT_ABOVE, QColor(tokens.tight)), (SHORT_ABOVE, short)):
            painter.setPen(
                QPen(colour, 1.2, Qt.PenStyle.DashLine if at < SHORT_ABOVE else Qt.PenStyle.SolidLine)
            )
            painter.drawLine(QPointF(self._x(at), 2), QPointF(self._x(at), foot))
        for i, row in enumerate(self._rows):
            self._paint_row(painter, i, row, ink, faint, accent)

    def _paint_row(
        self,
        painter: QPainter,
        i: int,
        row: SideRow,
        ink: QColor,
        faint: QColor,
        accent: QColor,
    ) -> None:
        middle = self._middle(i)
        painter.setPen(ink)
        words = painter.fontMetrics().elidedText(row.words, Qt.TextElideMode.ElideRight, _LABEL - 12)
        box = QRectF(0, middle - _LINE / 2, _LABEL - 12, _LINE)
        painter.drawText(box, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter), words)
        marks = sorted(self._marks_of(i), key=lambda mark: mark.at.x())
        xs = [mark.at.x() for mark in marks]
        painter.setPen(QPen(faint, 2))
        painter.drawLine(QPointF(min(xs), middle), QPointF(max(xs), middle))
        letters = spread(xs, _APART, self.width() - _RIGHT / 2)
        for mark, x in zip(marks, letters, strict=True):
            painter.setPen(QPen(accent if mark.method == 0 else ink, 3 if mark.method == 0 else 1.6))
            painter.drawLine(mark.at + QPointF(0, -4.5), mark.at + QPointF(0, 4.5))
            font = painter.font()
            font.setBold(mark.method == 0)
            painter.setFont(font)
            over = QRectF(x - 10, middle - 21, 20, 16)
            painter.drawText(over, int(Qt.AlignmentFlag.AlignCenter), letter_of(mark.method))
            font.setBold(False)
            painter.setFont(font)
        if any(use > self._end() for use in _uses(row) if use):
            tip = QPointF(self.width() - 4, middle)
            painter.setBrush(ink)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.drawPolygon(QPolygonF([tip, tip + QPointF(-7, -4), tip + QPointF(-7, 4)]))

    def event(self, event: QEvent) -> bool:
        """Say what the mark under the pointer is."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            near = [words for at, words in self.marks() if (at - QPointF(event.pos())).manhattanLength() < 10]
            if near:
                QToolTip.showText(event.globalPos(), "\n".join(near), self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)

    def _end(self) -> float:
        uses = [use for row in self._rows for use in _uses(row) if use is not None]
        return min(max([_LEAST, *(1.05 * use for use in uses)]), _MOST)

    def _x(self, use: float) -> float:
        return _LABEL + (self.width() - _LABEL - _RIGHT) * min(use / self._end(), 1.0)

    def _middle(self, i: int) -> float:
        """Return the height of a row's line: letters stand above it."""
        return i * _LINE + 0.66 * _LINE

    def _marks_of(self, i: int) -> list[_Mark]:
        return [
            _Mark(QPointF(self._x(use), self._middle(i)), method, f"{self._methods[method]}: {use_text(use)}")
            for method, use in enumerate(_uses(self._rows[i]))
            if use is not None
        ]

    def _said(self, row: SideRow) -> str:
        uses = [
            f"{name} {use_text(use)}"
            for name, use in zip(self._methods, _uses(row), strict=True)
            if use is not None
        ]
        return f"{row.words}: {', '.join(uses)}"


def _uses(row: SideRow) -> list[float | None]:
    return [None if finding is None else finding.utilisation for finding in row.findings]


def spread(places: Sequence[float], apart: float, most: float) -> list[float]:
    """Return places in order moved no more than needed to stand so far apart, none beyond the most."""
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + apart) if moved else place)
    limit = most
    for i in reversed(range(len(moved))):
        moved[i] = min(moved[i], limit)
        limit = moved[i] - apart
    return moved
