"""A table whose rows are things: whole rows are selected, copied, pasted, opened by Enter or double click."""

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from stringerlab.desktop.verdicts import CellDelegate

_COPY, _PASTE = QKeySequence.StandardKey.Copy, QKeySequence.StandardKey.Paste


class RowsTable(QTableView):
    """A table of whole rows. What copying, pasting and opening mean is for its page to say."""

    copy_wanted = Signal()
    paste_wanted = Signal()
    opened = Signal(QModelIndex)
    """Enter on a row, or a double click on a cell that cannot be edited."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setObjectName(name)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.setItemDelegate(CellDelegate(self))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(26)
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        self.doubleClicked.connect(self._double)

    def chosen(self) -> list[int]:
        """Return the selected rows in the order shown."""
        return sorted({index.row() for index in self.selectionModel().selectedRows()})

    def event(self, event: QEvent) -> bool:
        """Keep copy and paste for the table while it has the keyboard."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and (event.matches(_COPY) or event.matches(_PASTE))
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy, paste, open."""
        if event.matches(_COPY):
            self.copy_wanted.emit()
        elif event.matches(_PASTE):
            self.paste_wanted.emit()
        elif (
            event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
            and self.state() != QAbstractItemView.State.EditingState
            and self.currentIndex().isValid()
        ):
            self.opened.emit(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def _double(self, index: QModelIndex) -> None:
        if not index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.opened.emit(index)
