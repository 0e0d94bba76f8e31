"""A table that is only read: heads with their meaning, rows of words, and a utilisation with its bar."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt

from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.desktop.verdicts import USE_ROLE, VERDICT_ROLE
from stringerlab.methods import SHORT_ABOVE, TIGHT_ABOVE, Verdict

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class Head:
    """Of a column: its words, its meaning, whether it holds numbers."""

    words: str
    tip: str = ""
    number: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """Words of each cell, what they say in full where they are short, and a utilisation for the verdict."""

    cells: tuple[str, ...]
    tip: str = ""
    use: float | None = None


class ReadTable(QAbstractTableModel):
    """Rows under heads."""

    def __init__(self, heads: Sequence[Head] = (), parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._heads = tuple(heads)
        self._rows: tuple[Row, ...] = ()

    @property
    def rows(self) -> tuple[Row, ...]:
        """What is shown."""
        return self._rows

    def show(self, rows: Sequence[Row], heads: Sequence[Head] | None = None) -> None:
        """Show rows, under other heads where they are given."""
        self.beginResetModel()
        self._rows = tuple(rows)
        if heads is not None:
            self._heads = tuple(heads)
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(self._heads)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title, or its meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self._heads):
            return None
        head = self._heads[section]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return head.words
            case Qt.ItemDataRole.ToolTipRole:
                return head.tip or head.words
            case Qt.ItemDataRole.TextAlignmentRole:
                return _RIGHT if head.number else _LEFT
            case _:
                return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid() or not 0 <= index.row() < len(self._rows):
            return None
        row = self._rows[index.row()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return row.cells[index.column()]
            case Qt.ItemDataRole.ToolTipRole:
                return row.tip or row.cells[index.column()]
            case Qt.ItemDataRole.TextAlignmentRole:
                return _RIGHT if self._heads[index.column()].number else _LEFT
            case _ if role == USE_ROLE:
                return row.use
            case _ if role == VERDICT_ROLE and row.use is not None:
                return verdict_of(row.use)
            case _:
                return None

    def as_text(self) -> str:
        """Return everything as tab-separated text."""
        lines = ["\t".join(head.words for head in self._heads)]
        return "\n".join([*lines, *("\t".join(row.cells) for row in self._rows)])


def verdict_of(use: float) -> Verdict:
    """Return the verdict of a utilisation."""
    if use > SHORT_ABOVE:
        return Verdict.SHORT
    return Verdict.TIGHT if use > TIGHT_ABOVE else Verdict.HOLDS
