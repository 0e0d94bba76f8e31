"""Verdicts as they are painted: a shape, a word and a colour each, and how much of the capacity is used.

Circle holds, triangle tight, square short, a ring with a gap not judged: they stay apart without colour.
"""

from collections.abc import Mapping

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QApplication, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from stringerlab.desktop.theme import tokens_of
from stringerlab.methods import SHORT_ABOVE, TIGHT_ABOVE, Verdict, utilisation_text

VERDICT_ROLE = Qt.ItemDataRole.UserRole + 1
"""``Verdict`` of a row, None for none."""
USE_ROLE = Qt.ItemDataRole.UserRole + 2
"""Utilisation of a row, None where it is not judged."""
STALE_ROLE = Qt.ItemDataRole.UserRole + 3
"""Whether what a row says is of an earlier state of the project."""

SIGNS: Mapping[Verdict, str] = {
    Verdict.HOLDS: "●",
    Verdict.TIGHT: "▲",
    Verdict.SHORT: "■",
    Verdict.NOT_JUDGED: "○",
    Verdict.ADVICE: "◇",
}
"""The same shapes among text."""
_FULL_SCALE = 1.25
MARK = 10


def colour_of(verdict: Verdict, palette: QPalette) -> QColor:
    """Return the colour of a verdict in the theme a palette belongs to."""
    tokens = tokens_of(palette)
    return QColor(
        {
            Verdict.HOLDS: tokens.holds,
            Verdict.TIGHT: tokens.tight,
            Verdict.SHORT: tokens.short,
            Verdict.NOT_JUDGED: tokens.unknown,
            Verdict.ADVICE: tokens.accent,
        }[verdict]
    )


def verdict_at(index: QModelIndex | QPersistentModelIndex) -> Verdict | None:
    """Return the verdict of a row, None where it has none; Qt hands it on as its word."""
    word = index.data(VERDICT_ROLE)
    return Verdict(word) if word else None


def use_text(utilisation: float | None) -> str:
    """Return a utilisation as it is read."""
    return utilisation_text(utilisation)


def paint_mark(painter: QPainter, centre: QPointF, verdict: Verdict, colour: QColor) -> None:
    """Paint a verdict's shape around a point."""
    half = MARK / 2
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    box = QRectF(centre.x() - half, centre.y() - half, MARK, MARK)
    match verdict:
        case Verdict.HOLDS:
            painter.drawEllipse(box)
        case Verdict.TIGHT:
            painter.drawPolygon(
                QPolygonF([QPointF(box.center().x(), box.top()), box.bottomRight(), box.bottomLeft()])
            )
        case Verdict.SHORT:
            painter.drawRect(box)
        case Verdict.NOT_JUDGED:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(colour, 1.6))
            painter.drawArc(box.adjusted(1, 1, -1, -1), 60 * 16, 300 * 16)
        case Verdict.ADVICE:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(colour, 1.6))
            middle = box.center()
            left, right = QPointF(box.left(), middle.y()), QPointF(box.right(), middle.y())
            top, bottom = QPointF(middle.x(), box.top()), QPointF(middle.x(), box.bottom())
            painter.drawPolygon(QPolygonF([left, top, right, bottom]))
    painter.restore()


def paint_bar(
    painter: QPainter, box: QRectF, utilisation: float | None, colour: QColor, ground: QColor
) -> None:
    """Paint how much of the capacity is used: the whole is at the tick, 0.9 at the small one.

    A bar that reaches past the end of the scale ends in an arrow.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    track = QColor(ground)
    track.setAlphaF(0.18)
    painter.fillRect(box, track)
    if utilisation is not None:
        part = min(max(utilisation, 0.0) / _FULL_SCALE, 1.0)
        painter.fillRect(QRectF(box.left(), box.top(), box.width() * part, box.height()), colour)
        if utilisation > _FULL_SCALE:
            tip = QPointF(box.right() + 4, box.center().y())
            painter.setBrush(colour)
            painter.drawPolygon(QPolygonF([box.topRight(), tip, box.bottomRight()]))
    for at, reach in ((TIGHT_ABOVE, 1.0), (SHORT_ABOVE, 3.0)):
        x = box.left() + box.width() * at / _FULL_SCALE
        painter.setPen(QPen(ground, 1.0))
        painter.drawLine(QPointF(x, box.top() - reach), QPointF(x, box.bottom() + reach))
    painter.restore()


class CellDelegate(QStyledItemDelegate):
    """A cell with its style's ground, its text in line with its column's head; others paint more."""

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Paint the ground, then what `paint_inside` adds."""
        self.initStyleOption(option, index)
        text, option.text = option.text, ""
        style = option.widget.style() if option.widget else QApplication.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, option, painter, option.widget)
        selected = bool(option.state & QStyle.StateFlag.State_Selected)
        role = QPalette.ColorRole.HighlightedText if selected else QPalette.ColorRole.Text
        painter.save()
        painter.setFont(option.font)
        if index.data(STALE_ROLE):
            painter.setOpacity(0.55)
        if option.state & QStyle.StateFlag.State_HasFocus and index.flags() & Qt.ItemFlag.ItemIsEditable:
            painter.setPen(QPen(option.palette.color(role), 1.0))
            painter.drawRect(option.rect.adjusted(1, 1, -2, -2))
        inside = option.rect.adjusted(7, 0, -7, 0)
        self.paint_inside(painter, inside, index, text, option.palette, role, selected)
        painter.restore()

    def paint_inside(
        self,
        painter: QPainter,
        box: QRect,
        index: QModelIndex | QPersistentModelIndex,
        text: str,
        palette: QPalette,
        role: QPalette.ColorRole,
        selected: bool,
    ) -> None:
        """Paint the text, elided: in its middle in the first column, where ends of names tell rows apart."""
        del selected
        painter.setPen(palette.color(role))
        side = Qt.AlignmentFlag(
            index.data(Qt.ItemDataRole.TextAlignmentRole) or Qt.AlignmentFlag.AlignVCenter
        )
        cut = Qt.TextElideMode.ElideRight if index.column() else Qt.TextElideMode.ElideMiddle
        shown = painter.fontMetrics().elidedText(text, cut, box.width())
        painter.drawText(box, int(side), shown)


class VerdictDelegate(CellDelegate):
    """Shape and word of a row's verdict."""

    def paint_inside(
        self,
        painter: QPainter,
        box: QRect,
        index: QModelIndex | QPersistentModelIndex,
        text: str,
        palette: QPalette,
        role: QPalette.ColorRole,
        selected: bool,
    ) -> None:
        """Paint the shape, then the word."""
        verdict = verdict_at(index)
        painter.setPen(palette.color(role))
        if verdict is not None:
            colour = palette.color(role) if selected else colour_of(verdict, palette)
            paint_mark(painter, QPointF(box.left() + MARK / 2, box.center().y() + 0.5), verdict, colour)
            painter.setPen(colour)
            box = box.adjusted(MARK + 6, 0, 0, 0)
        shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), shown)

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Leave room for the shape."""
        hint = super().sizeHint(option, index)
        return QSize(hint.width() + MARK + 8, hint.height())


class UseDelegate(CellDelegate):
    """A utilisation as a bar and a number."""

    def paint_inside(
        self,
        painter: QPainter,
        box: QRect,
        index: QModelIndex | QPersistentModelIndex,
        text: str,
        palette: QPalette,
        role: QPalette.ColorRole,
        selected: bool,
    ) -> None:
        """Paint the number at the right, the bar in what is left."""
        verdict, use = verdict_at(index), index.data(USE_ROLE)
        colour = palette.color(role)
        number = painter.fontMetrics().horizontalAdvance("00.00") + 8
        if verdict is not None:
            bar = QRectF(box.left(), box.center().y() - 2.5, box.width() - number - 4, 6)
            if bar.width() > 16:
                paint_bar(painter, bar, use, colour if selected else colour_of(verdict, palette), colour)
        painter.setPen(colour)
        painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight), text)
