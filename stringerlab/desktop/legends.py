"""A picture's legend painted beside it."""

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QLinearGradient, QPainter, QTransform

from stringerlab.desktop.pens import brushes_of, colour_of, draw_mark, pen_of, sized
from stringerlab.drawing import LegendRow, Role, Shape, Swatch
from stringerlab.drawing.palette import Theme

PAD, SWATCH = 9.0, 26.0
"""Around and between, and the width of what stands before the words."""


def legend_size(rows: tuple[LegendRow, ...], font: QFont) -> QSizeF:
    """Return how large a legend is in a font."""
    return _Legend(rows, font).size


def paint_legend(painter: QPainter, rows: tuple[LegendRow, ...], at: QPointF, theme: Theme) -> None:
    """Paint a legend with its upper left corner at a point, in the painter's font."""
    if not rows:
        return
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    found = _Legend(rows, painter.font())
    painter.setPen(pen_of(theme.pen(Role.GRID)))
    painter.setBrush(colour_of(theme.background, 0.9))
    painter.drawRoundedRect(QRectF(at, found.size), 5, 5)
    painter.setFont(found.font)
    y = at.y() + PAD
    for row, text in zip(rows, found.texts, strict=True):
        box = QRectF(at.x() + PAD, y + 0.2 * found.line, SWATCH, 0.6 * found.line)
        _swatch(painter, row, box, theme)
        painter.setPen(QColor(theme.ink))
        for line in text:
            baseline = y + found.line / 2 + (found.metrics.ascent() - found.metrics.descent()) / 2
            painter.drawText(QPointF(box.right() + PAD, baseline), line)
            y += found.line
    painter.restore()


class _Legend:
    """A legend's words and measures in a font."""

    def __init__(self, rows: tuple[LegendRow, ...], font: QFont) -> None:
        self.font = sized(font, small=True)
        self.metrics = QFontMetricsF(self.font)
        self.line = self.metrics.lineSpacing() * 1.3
        self.texts = [
            [f"{row.ends[0]}  to  {row.ends[1]}", *row.text.split(": ")] if row.ends[0] else [row.text]
            for row in rows
        ]
        lines = [line for text in self.texts for line in text]
        width = max(map(self.metrics.horizontalAdvance, lines), default=0.0)
        self.size = QSizeF(3 * PAD + SWATCH + width, 2 * PAD + self.line * len(lines))


def _swatch(painter: QPainter, row: LegendRow, box: QRectF, theme: Theme) -> None:
    match row.swatch:
        case Swatch.AREA:
            brush, hatch = brushes_of(theme.brush(row.role, row.tint), QTransform())
            painter.setPen(pen_of(theme.pen(Role.PLY_EDGE)))
            painter.setBrush(brush)
            painter.drawRect(box)
            if hatch is not None:
                painter.fillRect(box, hatch)
        case Swatch.LINE:
            painter.setPen(pen_of(theme.pen(row.role)))
            painter.drawLine(QLineF(box.left(), box.center().y(), box.right(), box.center().y()))
        case Swatch.MARK:
            draw_mark(painter, box.center(), row.shape or Shape.CIRCLE, theme, row.role)
        case Swatch.RAMP:
            ramp = QLinearGradient(box.left(), 0, box.right(), 0)
            for part in (0.0, 0.5, 1.0):
                ramp.setColorAt(part, QColor(theme.value_colour(2 * part - 1)))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(ramp)
            painter.drawRect(box)
