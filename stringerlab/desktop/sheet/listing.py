"""A project's sections as a list: name, and what is drawn in it; renamed in place."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QObject, Qt

from stringerlab.desktop.models.rows import NOWHERE, SECOND_LINE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.project import edits
from stringerlab.section import Section

ROLE = Qt.ItemDataRole


@dataclass(frozen=True, slots=True)
class _Row:
    id: str
    name: str
    summary: str


class SectionList(QAbstractListModel):
    """The sections of the project shown, in its order."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[_Row] = []
        self.refresh()
        session.project_changed.connect(self.refresh)

    def refresh(self) -> None:
        """Show the sections as they are now."""
        project = self._session.project
        spans = [span.section for span in project.spans]
        rows = [_Row(each.id, each.name, _summary(each, spans.count(each.id))) for each in project.sections]
        show_rows(self, self._rows, rows, lambda row: row.id)

    def row_of(self, id: str) -> int:  # noqa: A002
        """Return the row of a section, −1 when it is not there."""
        return next((i for i, row in enumerate(self._rows) if row.id == id), -1)

    def id_at(self, row: int) -> str:
        """Return the id of the section at a row, empty when there is none."""
        return self._rows[row].id if 0 <= row < len(self._rows) else ""

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of sections."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return a section's name, the line under it, or its id."""
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
        """Rename a section; an empty name is none."""
        if role != ROLE.EditRole or not index.isValid():
            return False
        row, name = self._rows[index.row()], str(value).strip()
        if not name or name == row.name:
            return False
        return self._session.edit(f"Rename section {row.name}", edits.renamed, row.id, name)


def _summary(section: Section, spans: int) -> str:
    parts = [_counted(len(section.walls), "wall")]
    if section.fills:
        parts.append(_counted(len(section.fills), "fill"))
    parts.append(f"in {_counted(spans, 'span')}" if spans else "in no span")
    return ", ".join(parts)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
