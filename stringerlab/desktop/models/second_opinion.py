"""Rows of a second opinion: one number by both, and how far apart they are."""

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QObject, Qt

from stringerlab.assess.second_opinion import Difference
from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.units import System, format

HEADINGS = ("number", "ours", "sectionproperties", "difference")
NAME, OURS, THEIRS, OFF = range(4)


class DifferencesModel(QAbstractTableModel):
    """The rows as text; a row whose difference has a reason says it when the pointer rests on it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[Difference, ...] = ()
        self._system = System.METRIC

    def show(self, rows: Sequence[Difference], system: System) -> None:
        """Show other rows."""
        self.beginResetModel()
        self._rows, self._system = tuple(rows), system
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(row, index.column())
        if role == Qt.ItemDataRole.ToolTipRole:
            return row.why or None
        if role == Qt.ItemDataRole.TextAlignmentRole and index.column() != NAME:
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a column's heading."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return HEADINGS[section]
        return None

    def text(self) -> str:
        """Return all rows as tab-separated text."""
        lines = ["\t".join(HEADINGS)]
        lines += ["\t".join(self._text(row, column) for column in range(len(HEADINGS))) for row in self._rows]
        return "\n".join(lines)

    def _text(self, row: Difference, column: int) -> str:
        if column == NAME:
            return row.name
        if column == OFF:
            return row.words
        return format(row.ours if column == OURS else row.theirs, row.kind, self._system)
