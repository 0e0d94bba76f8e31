"""A project's laminates as a list: name, thickness and mass; renamed in place."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QObject, Qt

from stringerlab.desktop.models.rows import NOWHERE, SECOND_LINE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.laminate import Laminate, Stack, mass, thickness
from stringerlab.project import edits
from stringerlab.units import Kind, System, format

ROLE = Qt.ItemDataRole


@dataclass(frozen=True, slots=True)
class _Row:
    id: str
    name: str
    summary: str


class LaminateList(QAbstractListModel):
    """The laminates of the project shown, in its order."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[_Row] = []

    def refresh(self) -> None:
        """Show the laminates as they are now."""
        session = self._session
        stacks = session.resolved.stacks
        rows = [
            _Row(laminate.id, laminate.name, _summary(laminate, stacks.get(laminate.id), session.units))
            for laminate in session.shown.laminates
        ]
        show_rows(self, self._rows, rows, lambda row: row.id)

    def row_of(self, id: str) -> int:  # noqa: A002
        """Return the row of a laminate, −1 when it is not there."""
        return next((i for i, row in enumerate(self._rows) if row.id == id), -1)

    def id_at(self, row: int) -> str:
        """Return the id of the laminate at a row, empty when there is none."""
        return self._rows[row].id if 0 <= row < len(self._rows) else ""

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of laminates."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return a laminate's name, the line under it, or its id."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        match role:
            case ROLE.DisplayRole | ROLE.EditRole:
                return row.name
            case ROLE.UserRole:
                return row.id
            case ROLE.ToolTipRole | ROLE.AccessibleDescriptionRole:
                return f"{row.name} ({row.id}): {row.summary}"
            case _:
                return row.summary if role == SECOND_LINE else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return that names may be edited."""
        found = super().flags(index)
        return found | Qt.ItemFlag.ItemIsEditable if index.isValid() else found

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Rename a laminate; an empty name is none."""
        if role != ROLE.EditRole or not index.isValid():
            return False
        row, name = self._rows[index.row()], str(value).strip()
        if not name or name == row.name:
            return False
        return self._session.edit(f"Rename laminate {row.name}", edits.renamed, row.id, name)


def _summary(laminate: Laminate, stack: Stack | None, system: System) -> str:
    count = f"{len(laminate.plies)} {'ply' if len(laminate.plies) == 1 else 'plies'}"
    if stack is None:
        return f"{count}, not sound"
    laid = format(thickness(stack), Kind.LENGTH, system, digits=3)
    heavy = format(mass(stack), Kind.AREAL_MASS, system)
    return f"{count}, {laid}, {heavy}"
