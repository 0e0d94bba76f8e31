"""Records of the project as a list of names, each with a line under it; renamed in place."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QObject, Qt

from stringerlab.desktop.models.rows import NOWHERE, SECOND_LINE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.project import edits

ROLE = Qt.ItemDataRole


@dataclass(frozen=True, slots=True)
class NamedRow:
    """A record: its id, its name, and what is said of it under the name."""

    id: str
    name: str
    summary: str


class NamedList(QAbstractListModel):
    """Records of one kind in the project's order."""

    def __init__(
        self,
        session: Session,
        kind: str,
        rows: Callable[[Session], Iterable[NamedRow]],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._kind, self._made = session, kind, rows
        self._rows: list[NamedRow] = []

    def refresh(self) -> None:
        """Show the records as they are now."""
        show_rows(self, self._rows, list(self._made(self._session)), lambda row: row.id)

    def row_of(self, id: str) -> int:  # noqa: A002
        """Return the row of a record, −1 when it is not there."""
        return next((i for i, row in enumerate(self._rows) if row.id == id), -1)

    def id_at(self, row: int) -> str:
        """Return the id of the record at a row, empty when there is none."""
        return self._rows[row].id if 0 <= row < len(self._rows) else ""

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of records."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return a record's name, the line under it, or its id."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        match role:
            case ROLE.DisplayRole | ROLE.EditRole:
                return row.name
            case ROLE.UserRole:
                return row.id
            case ROLE.ToolTipRole | ROLE.AccessibleDescriptionRole:
                return f"{row.name} ({row.id}): {row.summary}. Double-click to rename."
            case _:
                return row.summary if role == SECOND_LINE else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return that names may be edited."""
        found = super().flags(index)
        return found | Qt.ItemFlag.ItemIsEditable if index.isValid() else found

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Rename a record; an empty name is none."""
        if role != ROLE.EditRole or not index.isValid():
            return False
        row, name = self._rows[index.row()], str(value).strip()
        if not name or name == row.name:
            return False
        return self._session.edit(f"Rename {self._kind} {row.name}", edits.renamed, row.id, name)
