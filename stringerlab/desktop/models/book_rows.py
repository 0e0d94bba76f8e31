"""What a book brings: its materials by what becomes of them as a list, one material's fields as a table."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QAbstractTableModel, QObject, Qt
from PySide6.QtGui import QFont

from stringerlab.desktop.models.known import mark_in_words
from stringerlab.desktop.models.rows import NOWHERE, SECOND_LINE, Index, show_rows
from stringerlab.materials import AnyMaterial
from stringerlab.materials.differences import Difference, Entry, everything, word
from stringerlab.materials.merging import Choice, Conflict, Merge
from stringerlab.units import System

ROLE = Qt.ItemDataRole
OPEN = "to settle"
CHOSEN = {Choice.MINE: "mine stays", Choice.THEIRS: "theirs in its place", Choice.BOTH: "both, theirs as {}"}
"""How a settled conflict is said; the braces stand for the new id."""


@dataclass(frozen=True, slots=True)
class BookRow:
    """A material of the book, or the head over those with which the same is done."""

    head: str
    material: AnyMaterial | None = None
    conflict: Conflict | None = None
    second: str = ""


class BookList(QAbstractListModel):
    """Materials in conflict, then new ones, then those that are the same."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[BookRow] = []

    def show(self, merge: Merge | None, choices: Mapping[str, Choice]) -> None:
        """Show a merge and how far it is settled."""
        rows = list(_rows(merge, choices)) if merge else []
        show_rows(self, self._rows, rows, lambda row: (row.head, row.material and row.material.id))

    def at(self, row: int) -> BookRow | None:
        """Return what a row shows, None for a head or outside."""
        if not 0 <= row < len(self._rows) or self._rows[row].material is None:
            return None
        return self._rows[row]

    def row_of(self, id: str) -> int:  # noqa: A002
        """Return the row of a material, −1 when it is not there."""
        return next((i for i, row in enumerate(self._rows) if row.material and row.material.id == id), -1)

    def first(self) -> int:
        """Return the first row with a material, −1 when there is none."""
        return next((i for i, row in enumerate(self._rows) if row.material), -1)

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows, heads among them."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return a material's name, or what becomes of it."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        if row.material is None:
            return row.head if role == ROLE.DisplayRole else _bold() if role == ROLE.FontRole else None
        match role:
            case ROLE.DisplayRole:
                return row.material.name
            case ROLE.UserRole:
                return row.material.id
            case ROLE.ToolTipRole | ROLE.AccessibleDescriptionRole:
                return f"{row.material.name} ({row.material.id}): {row.second}"
            case _:
                return row.second if role == SECOND_LINE else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return that heads cannot be picked."""
        if not index.isValid() or self.at(index.row()) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren


class FieldTable(QAbstractTableModel):
    """The fields in which two materials differ, side by side; of a new one all, under theirs."""

    TITLES = ("Field", "Mine", "Theirs")

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._differences: tuple[Difference, ...] = ()
        self._system = System.METRIC
        self._mine = True

    def show(self, row: BookRow | None, system: System) -> None:
        """Show what there is to see of a row."""
        self.beginResetModel()
        self._system = system
        self._mine = row is not None and row.conflict is not None
        if row is None or row.material is None:
            self._differences = ()
        else:
            self._differences = row.conflict.differences if row.conflict else everything(row.material)
        self.endResetModel()

    @property
    def has_mine(self) -> bool:
        """Whether there is anything of mine to be seen beside it."""
        return self._mine

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of fields."""
        return 0 if parent.isValid() else len(self._differences)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the columns: the field, mine and theirs, each with source and mark under the value."""
        return 0 if parent.isValid() else len(self.TITLES)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return a column's title."""
        if orientation is Qt.Orientation.Horizontal and role == ROLE.DisplayRole:
            return self.TITLES[section] if 0 <= section < len(self.TITLES) else None
        if orientation is Qt.Orientation.Horizontal and role == ROLE.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return a value with its unit, and where it comes from under it."""
        if not index.isValid() or index.row() >= len(self._differences):
            return None
        one = self._differences[index.row()]
        entry = (None, one.mine, one.theirs)[index.column()]
        if role == ROLE.DisplayRole:
            return (one.field, *one.values(self._system))[index.column()] + _source(entry)
        if role == ROLE.ToolTipRole:
            words = (one.field, *one.told(self._system))[index.column()]
            return f"{words}\n{mark_in_words(entry.known)}" if entry and entry.known else words
        return None


def _source(entry: Entry | None) -> str:
    return "" if entry is None or entry.known is None else f"\n{entry.known.value}: {entry.source}"


def _rows(merge: Merge, choices: Mapping[str, Choice]) -> Iterator[BookRow]:
    open_still = sum(one.id not in choices for one in merge.conflicts)
    left = f", {open_still} to settle" if open_still else ", all settled"
    new = dict(merge.renamed)
    conflicts = [
        BookRow("conflict", one.theirs, one, f"{word(one.theirs)}, {_said(one, choices)}")
        for one in merge.conflicts
    ]
    yield from _under(f"In conflict: {len(conflicts)}{left}", conflicts)
    added = [
        BookRow("added", one, None, f"{word(one)}, new" + (f", as {new[one.id]}" if one.id in new else ""))
        for one in merge.added
    ]
    yield from _under(f"Added: {len(added)}", added)
    same = [BookRow("same", one, None, f"{word(one)}, nothing to do") for one in merge.same]
    yield from _under(f"The same in both: {len(same)}", same)


def _under(head: str, rows: Sequence[BookRow]) -> Iterator[BookRow]:
    if rows:
        yield BookRow(head)
        yield from rows


def _said(conflict: Conflict, choices: Mapping[str, Choice]) -> str:
    choice = choices.get(conflict.id)
    if choice is None:
        return OPEN if conflict.own else f"{OPEN}, mine the shipped one"
    return CHOSEN[choice].format(conflict.new_id)


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font
