"""A finding as a row of a narrow list."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPalette
from PySide6.QtWidgets import QStyleOptionViewItem

from stringerlab.desktop.models.findings import FINDING_ROLE, MOVED_ROLE
from stringerlab.desktop.verdicts import (
    MARK,
    CellDelegate,
    colour_of,
    paint_bar,
    paint_mark,
    use_text,
    verdict_at,
)
from stringerlab.methods import Finding


class FindingRow(CellDelegate):
    """A finding on two lines: aspect and verdict, then the span, how much is used, and which way it moves."""

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Leave room for two lines."""
        del index
        return QSize(200, 2 * option.fontMetrics.height() + 10)

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
        """Paint both lines."""
        del text
        finding, verdict = index.data(FINDING_ROLE), verdict_at(index)
        if not isinstance(finding, Finding) or verdict is None:
            return
        ink = palette.color(role)
        faint = ink if selected else palette.color(QPalette.ColorRole.PlaceholderText)
        colour = ink if selected else colour_of(verdict, palette)
        line = painter.fontMetrics().height()
        left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        upper = QRect(box.left() + MARK + 7, box.top() + 4, box.width() - MARK - 7, line)
        lower = upper.translated(0, line + 1)
        word = verdict.value
        side = max(painter.fontMetrics().horizontalAdvance("not judged"), 70)
        paint_mark(painter, QPointF(box.left() + MARK / 2, upper.center().y() + 1), verdict, colour)
        painter.setPen(ink)
        _words(painter, upper.adjusted(0, 0, -side - 6, 0), left, finding.aspect.value)
        painter.setPen(colour)
        painter.drawText(upper, int(right), word)
        painter.setPen(faint)
        _words(painter, lower.adjusted(0, 0, -side - 40, 0), left, finding.name)
        painter.setPen(ink)
        moved = index.data(MOVED_ROLE)
        used = use_text(finding.utilisation)
        painter.drawText(lower, int(right), f"{moved} {used}" if moved else used)
        number = painter.fontMetrics().horizontalAdvance("▲ 0.00") + 8
        bar = QRectF(lower.right() - side - 30, lower.center().y() - 2, side + 30 - number, 5)
        paint_bar(painter, bar, finding.utilisation, colour, ink)


def _words(painter: QPainter, box: QRect, flags: Qt.AlignmentFlag, text: str) -> None:
    shown_text = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, box.width())
    painter.drawText(box, int(flags), shown_text)
