"""The list of changes as a table: revision, date, by whom, what; all of it typed, none of it reckoned."""

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.project import Revision
from stringerlab.project.paper_edits import with_revision_values

_FIELDS = ("revision", "date", "author", "change")
_HEADINGS = ("Rev.", "Date", "By", "Change")
_WORDS = ("revision", "date", "author", "description")
_TIPS = (
    "Name of the revision, as A or 1",
    "As you write dates; the program enters none by itself",
    "Who made the change",
    "What was changed",
)
_WIDTHS = (40, 90, 52)
_LEAST = 84
"""Height of the table where there is little room."""


class RevisionModel(QAbstractTableModel):
    """The project's list of changes; typing into it is an edit."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[Revision] = []

    def show_changes(self, changes: Sequence[Revision]) -> None:
        """Show a list of changes."""
        show_rows(self, self._rows, changes, key=lambda line: line, columns=len(_FIELDS))

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many lines there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(_FIELDS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a column's name and meaning."""
        if orientation == Qt.Orientation.Vertical or not 0 <= section < len(_FIELDS):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return _HEADINGS[section]
        return _TIPS[section] if role == Qt.ItemDataRole.ToolTipRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell's words."""
        if not index.isValid():
            return None
        words = str(getattr(self._rows[index.row()], _FIELDS[index.column()]))
        match role:
            case Qt.ItemDataRole.DisplayRole | Qt.ItemDataRole.EditRole:
                return words
            case Qt.ItemDataRole.ToolTipRole:
                return words or _TIPS[index.column()]
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{_HEADINGS[index.column()]} of change {index.row() + 1}: {words or 'empty'}"
            case _:
                return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Everything is edited."""
        flags = super().flags(index)
        return flags | Qt.ItemFlag.ItemIsEditable if index.isValid() else flags

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Change a line by what was typed."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        row, column, words = index.row(), index.column(), str(value).strip()
        if words == getattr(self._rows[row], _FIELDS[column]):
            return False
        label = f"Change {_WORDS[column]} in the list of changes"
        return self._session.edit(label, with_revision_values, row, {_FIELDS[column]: words})


class RevisionTable(QTableView):
    """The table; Ins adds a line after the current, Del takes the selected out."""

    adding = Signal()
    removing = Signal()

    def __init__(self, model: RevisionModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("List of changes")
        self.setModel(model)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setTabKeyNavigation(False)
        self.setAlternatingRowColors(True)
        self.setWordWrap(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(26)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(len(_FIELDS) - 1, QHeaderView.ResizeMode.Stretch)
        for column, width in enumerate(_WIDTHS):
            self.setColumnWidth(column, width)

    def sizeHint(self) -> QSize:
        """Ask for little: it takes what is left."""
        return QSize(super().sizeHint().width(), _LEAST)

    def chosen(self) -> tuple[int, ...]:
        """Return the rows with something selected."""
        return tuple(sorted({index.row() for index in self.selectionModel().selectedIndexes()}))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Add and remove by key; Enter edits."""
        if event.key() == Qt.Key.Key_Insert:
            self.adding.emit()
        elif event.key() == Qt.Key.Key_Delete:
            self.removing.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            if self.state() != QAbstractItemView.State.EditingState:  # an editor's own Enter comes by here
                self.edit(self.currentIndex())
        else:
            super().keyPressEvent(event)


__all__ = ["RevisionModel", "RevisionTable"]
