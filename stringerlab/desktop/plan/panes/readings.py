"""Tables that are read and not typed in: what was found in a layout, and what the grid carries."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QObject, Qt

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.verdicts import STALE_ROLE, USE_ROLE, VERDICT_ROLE
from stringerlab.methods import Verdict
from stringerlab.units import System

Row = TypeVar("Row")
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True, kw_only=True)
class Column(Generic[Row]):
    """A column: its title, what it means, how wide it begins, what a row shows in it."""

    title: str
    meaning: str
    text: Callable[[Row, System], str]
    width: int = 90
    right: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A row's verdict and how much is used; None where there is none."""

    verdict: Verdict | None = None
    use: float | None = None


class ReadingsModel(QAbstractTableModel, Generic[Row]):
    """Rows of columns that know how to say themselves."""

    def __init__(
        self,
        columns: Sequence[Column[Row]],
        key: Callable[[Row], Hashable],
        judged: Callable[[Row], Judged] | None = None,
        tip: Callable[[Row, System], str] | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.key = key
        self._judged, self._tip = judged, tip
        self._rows: list[Row] = []
        self._system, self._stale = System.METRIC, False

    @property
    def rows(self) -> Sequence[Row]:
        """What is shown."""
        return self._rows

    def show_all(self, rows: Sequence[Row], system: System, *, stale: bool = False) -> None:
        """Show rows, paler where they are of an earlier project."""
        repaint = (system, stale) != (self._system, self._stale)
        self._system, self._stale = system, stale
        show_rows(self, self._rows, rows, self.key, len(self.columns))
        if repaint and self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(self.columns) - 1))

    def as_text(self, rows: Sequence[int]) -> str:
        """Return rows as lines with tabs between, a head first."""
        lines = ["\t".join(column.title for column in self.columns)]
        lines += [
            "\t".join(column.text(self._rows[row], self._system) for column in self.columns) for row in rows
        ]
        return "\n".join(lines)

    # -- as Qt asks ------------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title and meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return column.title
            case Qt.ItemDataRole.ToolTipRole:
                return column.meaning
            case Qt.ItemDataRole.TextAlignmentRole:
                return _RIGHT if column.right else _LEFT
            case _:
                return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row, column = self._rows[index.row()], self.columns[index.column()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return column.text(row, self._system)
            case Qt.ItemDataRole.ToolTipRole:
                return self._tip(row, self._system) if self._tip else column.meaning
            case Qt.ItemDataRole.AccessibleTextRole:
                first = self.columns[0].text(row, self._system)
                return f"{first}, {column.title}: {column.text(row, self._system)}"
            case Qt.ItemDataRole.TextAlignmentRole:
                return _RIGHT if column.right else _LEFT
            case _ if role == STALE_ROLE:
                return self._stale
            case _ if self._judged is not None and role == VERDICT_ROLE:
                return self._judged(row).verdict
            case _ if self._judged is not None and role == USE_ROLE:
                return self._judged(row).use
            case _:
                return None
