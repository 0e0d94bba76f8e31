"""A list whose items have a name and a fainter line under it."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPalette
from PySide6.QtWidgets import (
    QApplication,
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from stringerlab.desktop.models.rows import SECOND_LINE, Index

_PADDING = 5
_LESS = 0.9


class TwoLines(QStyledItemDelegate):
    """Paints both lines; the name alone is edited."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return room for the lines an item has."""
        hint = super().sizeHint(option, index)
        lines = 2 if index.data(SECOND_LINE) else 1
        return QSize(hint.width(), option.fontMetrics.height() * lines + 2 * _PADDING)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint an item."""
        second = index.data(SECOND_LINE)
        if not second:
            super().paint(painter, option, index)
            return
        own = QStyleOptionViewItem(option)
        self.initStyleOption(own, index)
        name, own.text = own.text, ""
        style = own.widget.style() if own.widget else QApplication.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, own, painter, own.widget)
        selected = bool(own.state & QStyle.StateFlag.State_Selected)
        active = bool(own.state & QStyle.StateFlag.State_Active)
        group = QPalette.ColorGroup.Active if active else QPalette.ColorGroup.Inactive
        role = QPalette.ColorRole.HighlightedText if selected else QPalette.ColorRole.Text
        ink = own.palette.color(group, role)
        faint = QColor(ink)
        faint.setAlphaF(0.72)
        rect: QRect = own.rect.adjusted(8, _PADDING, -6, -_PADDING)
        height = own.fontMetrics.height()
        painter.save()
        self._line(painter, rect.adjusted(0, 0, 0, height - rect.height()), name, ink)
        font = painter.font()
        font.setPointSizeF(own.font.pointSizeF() * _LESS)
        painter.setFont(font)
        self._line(painter, rect.adjusted(0, height, 0, 0), str(second), faint)
        painter.restore()

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        """Lay the editor over the name's line."""
        super().updateEditorGeometry(editor, option, index)
        if isinstance(editor, QLineEdit):
            rect: QRect = option.rect
            editor.setGeometry(rect.x() + 1, rect.y() + 1, rect.width() - 2, editor.sizeHint().height())

    def _line(self, painter: QPainter, rect: QRect, text: str, colour: QColor) -> None:
        painter.setPen(colour)
        fits = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, rect.width())
        painter.drawText(rect, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, fits)
