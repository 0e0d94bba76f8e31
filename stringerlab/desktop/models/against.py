"""Findings by several methods as rows of a table: subjects by what governs, or the aspects of one."""

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.verdicts import USE_ROLE, VERDICT_ROLE, use_text
from stringerlab.methods import Finding
from stringerlab.units import System, format

ROW_ROLE = Qt.ItemDataRole.UserRole + 11
LETTERS = "ABCDEFGHIJ"
"""Methods' letters in heads and in the chart; the base is the first. Shapes are for verdicts."""
_HEAD = 18
"""Letters of a method's name that a line of its head holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideRow:
    """A row: what it is of, and each method's finding."""

    subject: str
    words: str
    findings: tuple[Finding | None, ...]


class SideBySide(QAbstractTableModel):
    """Rows with one column a method."""

    def __init__(self, title: str, parent: QObject | None = None, *, named: bool = True) -> None:
        super().__init__(parent)
        self._title = title
        self._named = named
        self._rows: list[SideRow] = []
        self._methods: tuple[str, ...] = ()
        self._system = System.METRIC

    @property
    def rows(self) -> Sequence[SideRow]:
        """What is shown."""
        return self._rows

    def show(self, methods: Sequence[str], rows: Sequence[SideRow], system: System) -> None:
        """Show rows by methods of these names."""
        if tuple(methods) != self._methods:
            self.beginResetModel()
            self._methods, self._rows, self._system = tuple(methods), list(rows), system
            self.endResetModel()
            return
        self._system = system
        show_rows(self, self._rows, rows, _key, self.columnCount())

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else 1 + len(self._methods)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title and meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < self.columnCount():
            return None
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return self._title if section == 0 else self._head(section - 1)
            case Qt.ItemDataRole.ToolTipRole:
                if section == 0:
                    return None
                base = "; the others are held against it" if section == 1 else ""
                return f"Utilisation by {self._methods[section - 1]}{base}"
            case Qt.ItemDataRole.TextAlignmentRole:
                return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            case _:
                return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid() or not 0 <= index.row() < len(self._rows):
            return None
        row = self._rows[index.row()]
        if role == ROW_ROLE:
            return row
        if index.column() == 0:
            shown = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole)
            return row.words if role in shown else None
        finding = row.findings[index.column() - 1]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return "—" if finding is None else use_text(finding.utilisation)
            case Qt.ItemDataRole.ToolTipRole:
                return self._tip(index.column() - 1, finding)
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{self._methods[index.column() - 1]}: {self._spoken(finding)}"
            case _:
                return _of_finding(finding, role)

    def _head(self, method: int) -> str:
        letter = letter_of(method)
        if not self._named:
            return letter
        return "\n".join(wrap(f"{letter} {self._methods[method]}", _HEAD))

    def _spoken(self, finding: Finding | None) -> str:
        if finding is None:
            return "no such aspect"
        if finding.utilisation is None or finding.demand is None or finding.capacity is None:
            return f"{finding.verdict.value}: {finding.notes[0]}" if finding.notes else finding.verdict.value
        kind = finding.unit.kind
        return (
            f"{finding.aspect.value}, {finding.verdict.value} at {use_text(finding.utilisation)}: demand "
            f"{format(finding.demand, kind, self._system)}, capacity "
            f"{format(finding.capacity, kind, self._system)}"
        )

    def _tip(self, method: int, finding: Finding | None) -> str:
        known = "" if finding is None else f"\nknown: {finding.known.value}"
        return f"{self._methods[method]}\n{self._spoken(finding)}{known}"


def letter_of(method: int) -> str:
    """Return the letter a method goes by."""
    return LETTERS[method % len(LETTERS)]


def _of_finding(finding: Finding | None, role: int) -> Any:
    if finding is not None and role == VERDICT_ROLE:
        return finding.verdict
    if finding is not None and role == USE_ROLE:
        return finding.utilisation
    return None


def _key(row: SideRow) -> tuple[str, str]:
    return row.subject, row.words
