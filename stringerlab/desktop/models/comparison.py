"""Layouts and boats side by side as a table: a row a measure under its group, a column each."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt
from PySide6.QtGui import QFont

from stringerlab.compare import Comparison, Group, Measure
from stringerlab.compare.sentences import titled
from stringerlab.compare.shown import cell
from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.units import System

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class ComparisonTable(QAbstractTableModel):
    """What is measured of each."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._found: Comparison | None = None
        self._rows: list[Group | Measure] = []
        self._system = System.METRIC

    @property
    def rows(self) -> Sequence[Group | Measure]:
        """What stands in each row: a group's heading, or a measure."""
        return self._rows

    def show(self, found: Comparison | None, system: System) -> None:
        """Show a comparison; None for none."""
        self.beginResetModel()
        self._found, self._system = found, system
        self._rows = (
            [] if found is None else [row for group, measures in found.groups() for row in (group, *measures)]
        )
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        if parent.isValid():
            return 0
        return 1 + (len(self._found.items) if self._found is not None else 0)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's letter, and in its tip what goes by it."""
        if orientation is not Qt.Orientation.Horizontal or self._found is None:
            return None
        if not 0 <= section <= len(self._found.items):
            return None
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return "Measure" if section == 0 else self._found.items[section - 1].letter
            case Qt.ItemDataRole.ToolTipRole if section > 0:
                one = self._found.items[section - 1]
                return f"{titled(one)}\n{one.boat}"
            case Qt.ItemDataRole.TextAlignmentRole:
                return _LEFT if section == 0 else _RIGHT
            case _:
                return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows, and in its tip why it is not known or what must be said of it."""
        if self._found is None or not index.isValid() or not 0 <= index.row() < len(self._rows):
            return None
        row = self._rows[index.row()]
        if isinstance(row, Group):
            return self._heading(row, index.column(), role)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _LEFT if index.column() == 0 else _RIGHT
        if index.column() == 0:
            shown = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole)
            return f"{row.name[0].upper()}{row.name[1:]}" if role in shown else None
        one = self._found.items[index.column() - 1]
        held = one.measured[row.id]
        text = cell(row, held, self._system)
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return text
            case Qt.ItemDataRole.ToolTipRole:
                return "\n".join([held.why or text, *held.notes])
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{row.name}, {one.letter}: {text}{f', {held.why}' if held.why else ''}"
            case _:
                return None

    def as_text(self) -> str:
        """Return everything as tab-separated text."""
        if self._found is None:
            return ""
        lines = ["\t".join(["", *(f"{one.letter} {titled(one)}" for one in self._found.items)])]
        for row in self._rows:
            if isinstance(row, Group):
                lines += ["", row.value]
            else:
                cells = (cell(row, one.measured[row.id], self._system) for one in self._found.items)
                lines.append("\t".join([row.name, *cells]))
        return "\n".join(lines)

    @staticmethod
    def _heading(group: Group, column: int, role: int) -> Any:
        if column:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return group.value[0].upper() + group.value[1:]
        if role == Qt.ItemDataRole.FontRole:
            font = QFont()
            font.setBold(True)
            return font
        return None
