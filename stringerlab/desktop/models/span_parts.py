"""A span's openings, or its crossings, as an editable table."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt, Signal

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.models.span_columns import PARTS, WORDS, Part
from stringerlab.desktop.models.subject_field import Field
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.layout import Opening, Span
from stringerlab.project import span_details

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class SpanPartsModel(QAbstractTableModel):
    """The openings or crossings of one span; an edit is one step of the session's history."""

    refused = Signal(str)
    """Why what was typed in a cell is not taken."""

    def __init__(self, session: Session, kind: type[Part], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.kind = kind
        self.word = WORDS[kind]
        self.fields = PARTS[kind]
        self._span: Span | None = None
        self._rows: list[Part] = []
        self._units = session.units

    @property
    def records(self) -> Sequence[Part]:
        """What is shown."""
        return self._rows

    def show_span(self, span: Span | None) -> None:
        """Show what a span has, or nothing."""
        held: Sequence[Part] = ()
        if span is not None:
            held = span.openings if self.kind is Opening else span.crossings
        repaint = self._units is not self._session.units
        self._span, self._units = span, self._session.units
        show_rows(self, self._rows, held, lambda part: part, self.columnCount())
        if repaint and self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, self.columnCount() - 1))

    def field(self, index: Index) -> Field | None:
        """Return a cell's field."""
        return self.fields[index.column()] if 0 <= index.column() < len(self.fields) else None

    def put(self, index: Index, value: Any) -> bool:
        """Change what a cell holds, a quantity given in the program's unit; return whether it was done."""
        field = self.field(index)
        if field is None or self._span is None:
            return False
        number, part = index.row(), self._rows[index.row()]
        changed = field.put(part, value)
        if changed == part:
            return True
        label = f"Change {field.title} of {self.word} {number + 1} of span '{self._span.name}'"
        if isinstance(changed, Opening):
            return self._session.edit(label, span_details.with_opening, self._span.id, changed, number)
        return self._session.edit(label, span_details.with_crossing, self._span.id, changed, number)

    # -- as Qt asks ------------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(self.fields)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's name and meaning, or a row's number."""
        if orientation is Qt.Orientation.Vertical:
            return str(section + 1) if role == Qt.ItemDataRole.DisplayRole else None
        if not 0 <= section < len(self.fields):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.fields[section].title
        if role == Qt.ItemDataRole.TextAlignmentRole and self.fields[section].kind is not None:
            return _RIGHT
        return self.fields[section].meaning if role == Qt.ItemDataRole.ToolTipRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell's text."""
        field = self.field(index)
        if not index.isValid() or field is None:
            return None
        part, project = self._rows[index.row()], self._session.project
        if role == Qt.ItemDataRole.DisplayRole:
            return field.shown(part, project)
        if role == Qt.ItemDataRole.EditRole:
            return field.typed(part, project)
        if role == Qt.ItemDataRole.ToolTipRole:
            return field.meaning
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{field.title} of {self.word} {index.row() + 1}: {field.shown(part, project) or 'none'}"
        if role == Qt.ItemDataRole.TextAlignmentRole and field.kind is not None:
            return _RIGHT
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return every cell as one to edit."""
        held = super().flags(index)
        return held | Qt.ItemFlag.ItemIsEditable if index.isValid() else held

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take what was typed, in any unit; what does not read is refused with the reason."""
        field = self.field(index)
        if role != Qt.ItemDataRole.EditRole or not index.isValid() or field is None:
            return False
        try:
            read = field.read(str(value), self._session.project)
        except StringerlabError as error:
            self.refused.emit(f"{self.word.capitalize()} {index.row() + 1}, {field.title}: {error}")
            return False
        return self.put(index, read)
