"""The table of plies as it is handled: cells typed with units, rows picked and dragged to another place."""

from PySide6.QtCore import (
    QAbstractItemModel,
    QItemSelectionModel,
    QModelIndex,
    QPoint,
    QSignalBlocker,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from stringerlab.desktop.models.ply_rows import choices_by_head, searched
from stringerlab.desktop.models.ply_table import ROLE, Column, PlyTable, quantity_of
from stringerlab.desktop.models.rows import Index
from stringerlab.desktop.pages.cell_editors import CellChoice, CellField, SearchChoice, open_choice
from stringerlab.desktop.session import Session

_INDICATOR = 2
_MARGINS = 18
"""Of a cell and of its head, both sides together [px]."""
_WIDTHS = {
    Column.NUMBER: "00 !",
    Column.ANGLE: "−22.5",
    Column.GLASS: "Glass",
    Column.WEIGHT: "Dry weight",
    Column.THICKNESS: "Thickness",
    Column.MASS: "oz/yd²",
    Column.E1: "0000000",
    Column.KNOWN: "memory M",
}
_WIDE, _WIDE_MARK = 760, "common practice"
"""Wider than so [px] the longest mark has room beside the longest name."""


class PlyDelegate(QStyledItemDelegate):
    """Editors of a table of plies: a choice of materials, and fields that read units."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return the editor of a cell."""
        if index.column() == Column.MATERIAL:
            return self._choice(parent)
        quantity = quantity_of(index.column())
        if quantity is None:
            return super().createEditor(parent, option, index)
        return CellField(quantity.kind, f"{quantity.title} of ply {index.row() + 1}", parent)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show the cell's value in its editor."""
        if isinstance(editor, CellChoice):
            editor.setCurrentIndex(editor.findData(index.data(ROLE.UserRole)))
        elif isinstance(editor, CellField):
            editor.begin(index.data(ROLE.EditRole), self._session.units)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Put what was typed into the project; what does not read is said and changes nothing."""
        if isinstance(editor, CellChoice):
            if editor.currentData() not in (None, index.data(ROLE.UserRole)):
                model.setData(index, editor.currentData())
        elif isinstance(editor, CellField):
            editor.take(lambda value: model.setData(index, value), self._session.said.emit)

    def _choice(self, parent: QWidget) -> SearchChoice:
        box = SearchChoice("Material of the ply", "Search: 1808, carbon, mat 450 …", parent)
        held = self._session.project.materials
        own = {one.id for many in (held.reinforcements, held.cores, held.gel_coats) for one in many}
        for head, records in choices_by_head(self._session.project).items():
            box.add_head(head)
            for record in records:
                mine = record.id in own
                words = searched(record, f"{head} own" if mine else head)
                box.add(f"{record.name} (own)" if mine else record.name, record.id, words)
                box.setItemData(box.count() - 1, head, ROLE.ToolTipRole)
        box.done.connect(lambda: self._done(box))
        return box

    def _done(self, box: CellChoice) -> None:
        self.commitData.emit(box)
        self.closeEditor.emit(box, QStyledItemDelegate.EndEditHint.NoHint)


class PlyView(QTableView):
    """A table of plies: rows are selected, and dragged by a selected row or by the number."""

    moved = Signal(list, int)
    """Rows dragged, and the row before which they were dropped."""

    def __init__(self, session: Session, model: PlyTable, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pressed: QPoint | None = None
        self._drop: int | None = None
        self.setModel(model)
        self.setItemDelegate(PlyDelegate(session, self))
        self.setAccessibleName("Plies")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed)
        self.setShowGrid(False)
        self.setStyleSheet("QTableView::item { padding: 0 4px; }")
        self.setAlternatingRowColors(True)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setVisible(False)
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 9)
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionsClickable(False)
        head.setMinimumSectionSize(24)
        for column in Column:
            fixed = QHeaderView.ResizeMode.Interactive
            head.setSectionResizeMode(
                column, QHeaderView.ResizeMode.Stretch if column == Column.MATERIAL else fixed
            )
            if column in _WIDTHS:
                self.setColumnWidth(column, self.fontMetrics().horizontalAdvance(_WIDTHS[column]) + _MARGINS)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show marks whole where there is room for them."""
        super().resizeEvent(event)
        words = _WIDE_MARK if self.width() > _WIDE else _WIDTHS[Column.KNOWN]
        self.setColumnWidth(Column.KNOWN, self.fontMetrics().horizontalAdvance(words) + _MARGINS)

    def selected_rows(self) -> list[int]:
        """Return the selected rows in order."""
        return sorted(index.row() for index in self.selectionModel().selectedRows())

    def select_rows(self, rows: list[int], column: int | None = None) -> None:
        """Select rows, the first of them current."""
        model, flag = self.selectionModel(), QItemSelectionModel.SelectionFlag
        column = max(self.currentIndex().column(), 0) if column is None else column
        model.clearSelection()
        for row in rows:
            model.select(self.model().index(row, 0), flag.Select | flag.Rows)
        if rows:
            model.setCurrentIndex(self.model().index(rows[0], column), flag.NoUpdate)
            self.scrollTo(self.model().index(rows[-1], column))
            self.scrollTo(self.model().index(rows[0], column))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the editor with Enter; give a drag up with Escape."""
        if event.key() == Qt.Key.Key_Escape and self._pressed is not None:
            self._end_drag()
            return
        entered = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if entered and self.state() != QAbstractItemView.State.EditingState:
            if self.currentIndex().flags() & Qt.ItemFlag.ItemIsEditable:
                self.edit(self.currentIndex())
            return
        super().keyPressEvent(event)

    # -- dragging rows ---------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the selected rows, or of the row whose number is pressed."""
        at = event.position().toPoint()
        index = self.indexAt(at)
        plain = event.modifiers() == Qt.KeyboardModifier.NoModifier
        self._pressed = None
        if event.button() == Qt.MouseButton.LeftButton and plain and index.isValid():
            held = self.selectionModel().isRowSelected(index.row(), QModelIndex())
            if held or index.column() == Column.NUMBER:
                if not held:
                    self.select_rows([index.row()])
                with QSignalBlocker(self):
                    flag = QItemSelectionModel.SelectionFlag.NoUpdate
                    self.selectionModel().setCurrentIndex(index, flag)
                self._pressed = at
                self.setFocus(Qt.FocusReason.MouseFocusReason)
                return
        super().mousePressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Edit the cell, whether its row was selected before or not."""
        index = self.indexAt(event.position().toPoint())
        self._pressed = None
        if index.isValid() and index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.edit(index)
            open_choice(self)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Show where the rows held would go."""
        if self._pressed is None:
            super().mouseMoveEvent(event)
            return
        at = event.position().toPoint()
        if self._drop is None and (at - self._pressed).manhattanLength() < QApplication.startDragDistance():
            return
        self._drop = self._row_before(at)
        near = self.model().index(min(self._drop, self.model().rowCount() - 1), 0)
        self.scrollTo(near)
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        self.viewport().update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Drop the rows held, or select the one clicked."""
        if self._pressed is None or event.button() != Qt.MouseButton.LeftButton:
            super().mouseReleaseEvent(event)
            return
        drop, rows, clicked = self._drop, self.selected_rows(), self.indexAt(self._pressed)
        self._end_drag()
        if drop is not None:
            self.moved.emit(rows, drop)
        else:
            self.select_rows([clicked.row()], clicked.column())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the plies, and a line where those dragged would go."""
        super().paintEvent(event)
        if self._drop is None:
            return
        count = self.model().rowCount()
        end = self.rowViewportPosition(count - 1) + self.rowHeight(count - 1)
        y = self.rowViewportPosition(self._drop) if self._drop < count else end
        painter = QPainter(self.viewport())
        painter.setPen(QPen(self.palette().highlight(), _INDICATOR))
        painter.drawLine(0, max(y, 1), self.viewport().width(), max(y, 1))
        painter.end()

    def _row_before(self, at: QPoint) -> int:
        row = self.rowAt(at.y())
        if row < 0:
            return 0 if at.y() < 0 else self.model().rowCount()
        middle = self.rowViewportPosition(row) + self.rowHeight(row) / 2
        return row if at.y() < middle else row + 1

    def _end_drag(self) -> None:
        self._pressed = self._drop = None
        self.viewport().unsetCursor()
        self.viewport().update()
