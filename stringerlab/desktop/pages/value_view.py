"""The table of a material's values as it is handled: cells typed with units, choices and marks picked."""

from typing import cast

from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeyEvent, QKeySequence, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from stringerlab.desktop.models.known import ENTERED, IN_WORDS
from stringerlab.desktop.models.material_values import Line
from stringerlab.desktop.models.rows import Index
from stringerlab.desktop.models.value_table import ROLE, Column, ValueTable
from stringerlab.desktop.pages.cell_editors import CellChoice, CellField, open_choice
from stringerlab.desktop.session import Session
from stringerlab.project import book_of

_SOURCES = (Column.SOURCE, Column.OTHER_SOURCE)


class ValueDelegate(QStyledItemDelegate):
    """Editors of a material's values."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return the editor of a cell."""
        line = cast(Line | None, index.data(ROLE.UserRole))
        if line is None:
            return super().createEditor(parent, option, index)
        if index.column() == Column.KNOWN:
            return self._choice(
                parent,
                f"How well {line.name} is known",
                [(f"{m.value}: {IN_WORDS[m]}", m.value) for m in ENTERED],
            )
        if index.column() == Column.VALUE and line.choices:
            book = book_of(self._session.project)
            offered = [(found.name if (found := book.find(one)) else one, one) for one in line.choices]
            return self._choice(parent, line.name, offered)
        if index.column() == Column.VALUE and line.unit is not None:
            return CellField(line.unit.kind, line.name, parent)
        return super().createEditor(parent, option, index)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show the cell's value in its editor."""
        line = cast(Line | None, index.data(ROLE.UserRole))
        if isinstance(editor, CellChoice):
            choice = index.column() == Column.VALUE and line is not None
            wanted = line.value if choice and line is not None else index.data(ROLE.DisplayRole)
            if isinstance(wanted, bool):
                wanted = "yes" if wanted else "no"
            editor.setCurrentIndex(editor.findData(wanted))
        elif isinstance(editor, CellField):
            editor.begin(line.number if line is not None else None, self._session.units)
        else:
            super().setEditorData(editor, index)

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Put what was typed into the project; what does not read is said and changes nothing."""
        if isinstance(editor, CellChoice):
            if editor.currentData() is not None:
                model.setData(index, editor.currentData())
        elif isinstance(editor, CellField):
            line = cast(Line | None, index.data(ROLE.UserRole))
            optional = line is not None and line.optional
            if editor.text().strip() or optional:
                editor.take(lambda value: model.setData(index, value), self._session.said.emit)
            else:
                self._session.said.emit("This value cannot be left out.")
        else:
            super().setModelData(editor, model, index)

    def _choice(self, parent: QWidget, name: str, offered: list[tuple[str, str]]) -> CellChoice:
        box = CellChoice(name, parent)
        for words, value in offered:
            box.addItem(words, value)
        box.view().setMinimumWidth(box.sizeHint().width())
        box.done.connect(lambda: self._done(box))
        return box

    def _done(self, box: CellChoice) -> None:
        self.commitData.emit(box)
        self.closeEditor.emit(box, QStyledItemDelegate.EndEditHint.NoHint)


class ValueView(QTableView):
    """A table of values."""

    def __init__(self, session: Session, model: ValueTable, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values = model
        self._widths: dict[int, int] = {}
        """Widths of the columns that do not stretch."""
        self.setModel(model)
        self.setItemDelegate(ValueDelegate(session, self))
        self.setAccessibleName("Values of the material")
        self.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
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
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setTextElideMode(Qt.TextElideMode.ElideRight)
        self.horizontalHeader().setSectionsClickable(False)
        model.modelReset.connect(self._lay_out)
        model.rowsInserted.connect(self._span)
        model.rowsRemoved.connect(self._span)
        copy = QAction("Copy", self)
        copy.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        copy.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        copy.triggered.connect(self.copy)
        self.addAction(copy)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        self._lay_out()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the editor with Enter; take an optional value away with Del."""
        index = self.currentIndex()
        editable = bool(index.flags() & Qt.ItemFlag.ItemIsEditable)
        if self.state() != QAbstractItemView.State.EditingState and editable:
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.edit(index)
                return
            if event.key() == Qt.Key.Key_Delete and index.column() == Column.VALUE:
                self.model().setData(index, None)
                return
        super().keyPressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Edit a cell; a choice shows its list at once."""
        super().mouseDoubleClickEvent(event)
        open_choice(self)

    def copy(self) -> None:
        """Copy the selected cells, or all, as text with tabs between."""
        model = self._values
        chosen = self.selectionModel().selectedIndexes()
        whole = len(chosen) < 2
        rows = range(model.rowCount()) if whole else sorted({index.row() for index in chosen})
        columns = range(model.columnCount()) if whole else sorted({index.column() for index in chosen})
        lines = [[str(model.index(row, column).data() or "") for column in columns] for row in rows]
        if whole:
            across = Qt.Orientation.Horizontal
            lines.insert(0, [str(model.headerData(column, across) or "") for column in columns])
        QGuiApplication.clipboard().setText("\n".join("\t".join(line) for line in lines))

    def _lay_out(self) -> None:
        head, measure = self.horizontalHeader(), self.fontMetrics().horizontalAdvance
        compared = self._values.columnCount() > Column.OTHER
        self._widths.clear()
        widths = {
            Column.NAME: "Failing strain 2, compression",
            Column.VALUE: "Orthophthalic polyest" if compared else "rule of mixtures and Halpin–Tsai 0",
            Column.KNOWN: "memory M0" if compared else "common practice",
            Column.OTHER: "Orthophthalic polyest",
            Column.OTHER_KNOWN: "memory M0",
            Column.RATIO: "0.000",
        }
        for column in _SOURCES:
            self.setColumnHidden(column, False)
        for column in range(self._values.columnCount()):
            stretch = column in _SOURCES
            mode = QHeaderView.ResizeMode.Stretch if stretch else QHeaderView.ResizeMode.Interactive
            head.setSectionResizeMode(column, mode)
            if not stretch:
                self._widths[column] = measure(widths[Column(column)]) + 16
                self.setColumnWidth(column, self._widths[column])
        self._make_room()
        self._span()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the sources out where two materials have no room for them; tips and the words below do."""
        super().resizeEvent(event)
        self._make_room()

    def _make_room(self) -> None:
        compared = self._values.columnCount() > Column.OTHER
        taken = sum(self._widths.values())
        least = self.fontMetrics().horizontalAdvance("nominal weight; usual glass")
        tight = compared and self.width() < taken + 2 * least
        if tight == self.isColumnHidden(Column.SOURCE):
            return
        for column in _SOURCES:
            self.setColumnHidden(column, tight)
        if compared:
            mode = QHeaderView.ResizeMode.Stretch if tight else QHeaderView.ResizeMode.Interactive
            self.horizontalHeader().setSectionResizeMode(Column.OTHER, mode)

    def _span(self) -> None:
        self.clearSpans()
        for i, row in enumerate(self._values.rows):
            if row.is_head:
                self.setSpan(i, 0, 1, self._values.columnCount())
