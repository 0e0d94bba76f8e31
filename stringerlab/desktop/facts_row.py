"""A number of a section as it is painted: as little is asked of the model as can be, once every frame."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QPainter, QPalette
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


class FactsRow(QStyledItemDelegate):
    """Names at the left, numbers at the right, groups in bold."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint one cell."""
        selected = bool(option.state & QStyle.StateFlag.State_Selected)
        if selected:
            painter.fillRect(option.rect, option.palette.highlight())
        text = index.data()
        if not text:
            return
        painter.save()
        font = option.font
        if not index.internalId():
            font.setBold(True)
        painter.setFont(font)
        role = QPalette.ColorRole.HighlightedText if selected else QPalette.ColorRole.Text
        painter.setPen(option.palette.color(role))
        box = option.rect.adjusted(3, 0, -3, 0)
        if index.column():
            painter.drawText(box, _RIGHT, text)
        else:
            shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, box.width())
            painter.drawText(box, _LEFT, shown)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Return the same height for every row."""
        del index
        return QSize(60, option.fontMetrics.height() + 3)
