"""A laminate's plies as a table: what each is of, what is typed of it, and what it amounts to.

Edits go through the session. A row changed elsewhere keeps what is selected.
"""

from collections.abc import Iterable
from enum import IntEnum
from functools import partial
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt
from PySide6.QtGui import QFont

from stringerlab.desktop.models.known import mark_in_words
from stringerlab.desktop.models.ply_rows import PlyRow, in_words, of_material, ply_rows
from stringerlab.desktop.models.ply_text import QUANTITIES, Quantity, head, known_of, shown, with_value
from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.laminate import Laminate, Ply, PlyNumbers
from stringerlab.materials.records import PlyKind, Reinforcement
from stringerlab.project import book_of
from stringerlab.project.ply_edits import plies_changed
from stringerlab.units import Kind, System, format, rounded

ROLE = Qt.ItemDataRole


class Column(IntEnum):
    """The columns, left to right."""

    NUMBER = 0
    MATERIAL = 1
    ANGLE = 2
    GLASS = 3
    WEIGHT = 4
    THICKNESS = 5
    MASS = 6
    E1 = 7
    KNOWN = 8


_TITLES = {Column.NUMBER: "Ply", Column.MATERIAL: "Material", Column.KNOWN: "Known"}
_TIPS = {
    Column.NUMBER: "Number of the ply, counted away from the mould",
    Column.MATERIAL: "What the ply is laid of; type words on it, or double-click, to search for another",
    Column.ANGLE: "Angle from the laminate's reference direction to the fibres, or to a ±45 fabric's roll",
    Column.GLASS: "Glass content by mass",
    Column.WEIGHT: "Weight of the dry fibre",
    Column.THICKNESS: "Thickness as laid; of a core or a gel coat as typed",
    Column.MASS: "Mass of the ply with its resin",
    Column.E1: "Modulus along the ply's own fibres; of a fabric of several layers along its roll",
    Column.KNOWN: "How well the modulus is known",
}
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


def quantity_of(column: int) -> Quantity | None:
    """Return the quantity a column holds, None for number, material and mark."""
    return QUANTITIES[column - Column.ANGLE] if Column.ANGLE <= column <= Column.E1 else None


class PlyTable(QAbstractTableModel):
    """The plies of one laminate of the project shown, none while ``laminate`` is None."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[PlyRow] = []
        self._system = session.units
        self.laminate: Laminate | None = None

    @property
    def rows(self) -> tuple[PlyRow, ...]:
        """What is shown."""
        return tuple(self._rows)

    def show_laminate(self, laminate: Laminate | None) -> None:
        """Show a laminate of the project shown, or the same one as it is now."""
        other = (laminate and laminate.id) != (self.laminate and self.laminate.id)
        session = self._session
        rows = ply_rows(session.shown, session.resolved, laminate) if laminate else ()
        self.laminate = laminate
        if other:
            self.beginResetModel()
            self._rows = list(rows)
            self.endResetModel()
        else:
            show_rows(self, self._rows, rows, lambda row: row.ply, len(Column))
        if self._system is not session.units:
            self._system = session.units
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(Column) - 1)
            if self._rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(Column) - 1))

    # -- what a view asks ------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of plies."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(Column)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return a column's title with its unit, and its meaning as tip."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == ROLE.DisplayRole:
            quantity = quantity_of(section)
            return head(quantity, self._system).replace(", ", "\n") if quantity else _TITLES[Column(section)]
        if role == ROLE.ToolTipRole:
            return _TIPS[Column(section)]
        if role == ROLE.TextAlignmentRole:
            return _RIGHT if quantity_of(section) else _LEFT
        return None

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows, or for editing its number in the program's unit."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row, column = self._rows[index.row()], index.column()
        match role:
            case ROLE.DisplayRole:
                return _text(row, column, self._system)
            case ROLE.EditRole:
                quantity = quantity_of(column)
                return quantity.number(row) if quantity else _text(row, column, self._system)
            case ROLE.UserRole:
                return row.ply.material
            case ROLE.ToolTipRole:
                return _tip(row, column, self._system)
            case ROLE.TextAlignmentRole:
                return _RIGHT if quantity_of(column) else _LEFT
            case ROLE.FontRole:
                return _bold() if _typed(row, column) or (row.problems and column == 0) else None
            case ROLE.AccessibleTextRole:
                return f"ply {row.number}, {self._title(column)}: {_text(row, column, self._system)}"
            case _:
                return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what may be done with a cell; angles of mats and glass of cores say nothing."""
        found = super().flags(index)
        if index.isValid() and index.row() < len(self._rows) and self._editable(index):
            found |= Qt.ItemFlag.ItemIsEditable
        return found

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Do an edit: a material's id, or a number in the program's unit, None for the material's own."""
        if role != ROLE.EditRole or not index.isValid() or not self._editable(index):
            return False
        return self.change([index.row()], index.column(), value)

    def change(self, rows: Iterable[int], column: int, value: Any) -> bool:
        """Put one value into a column of several plies as one edit."""
        if self.laminate is None:
            return False
        chosen = sorted(rows)
        quantity = quantity_of(column)
        if quantity is None:
            change = partial(of_material, material=str(value), book=book_of(self._session.project))
        else:
            change = partial(_changed, quantity=quantity, value=value)
        numbers = f"ply {chosen[0] + 1}" if len(chosen) == 1 else f"{len(chosen)} plies"
        what = self._title(column).lower() if column != Column.E1 else "E1"
        label = f"Change {what} of {numbers}"
        return self._session.edit(label, plies_changed, self.laminate.id, chosen, change)

    def _editable(self, index: Index) -> bool:
        row, column = self._rows[index.row()], index.column()
        reinforced = isinstance(row.material, Reinforcement)
        match column:
            case Column.MATERIAL | Column.THICKNESS:
                return True
            case Column.ANGLE:
                return row.turns
            case Column.GLASS:
                return reinforced or row.ply.glass is not None
            case Column.WEIGHT:
                return reinforced or row.ply.weight is not None
            case _:
                return False

    def _title(self, column: int) -> str:
        quantity = quantity_of(column)
        return quantity.title if quantity else _TITLES[Column(column)]


def _changed(ply: Ply, quantity: Quantity, value: float | None) -> Ply:
    return with_value(ply, quantity, value)


def _text(row: PlyRow, column: int, system: System) -> str:
    match column:
        case Column.NUMBER:
            return f"{row.number} !" if row.problems else str(row.number)
        case Column.MATERIAL:
            return row.name
        case Column.KNOWN:
            return known_of(row)
        case _:
            return shown(QUANTITIES[column - Column.ANGLE], row, system)


def _typed(row: PlyRow, column: int) -> bool:
    """Whether a cell shows what was typed for this ply in place of the material's own."""
    quantity = quantity_of(column)
    if quantity is None or not quantity.field:
        return False
    if quantity.kind is Kind.ANGLE:
        return row.turns and row.ply.angle != 0
    return getattr(row.ply, quantity.field) is not None


def _layer_text(layer: PlyNumbers, system: System) -> str:
    return ", ".join(
        [
            layer.name,
            format(layer.dry_weight, Kind.AREAL_MASS, system),
            f"glass {rounded(layer.glass)}",
            format(layer.thickness, Kind.LENGTH, system, digits=3),
        ]
    )


def _tip(row: PlyRow, column: int, system: System) -> str:
    if row.problems and column in (Column.NUMBER, Column.MATERIAL):
        return "\n".join(in_words(problem) for problem in row.problems)
    double = isinstance(row.material, Reinforcement) and row.material.kind is PlyKind.DOUBLE_BIAS
    match column:
        case Column.ANGLE if not row.turns:
            return f"{row.name} is the same all round, so it has no angle."
        case Column.ANGLE if double:
            return "The angle of the roll; the fibres lie at 45 deg to either side of it."
        case Column.GLASS | Column.WEIGHT | Column.THICKNESS if _typed(row, column):
            own = isinstance(row.material, Reinforcement)
            return "Typed for this ply." + (" Empty it to have the material's own again." if own else "")
        case Column.THICKNESS if row.numbers is not None:
            return "From dry weight and glass content. Type one to lay down a measured thickness."
        case Column.GLASS | Column.WEIGHT if isinstance(row.material, Reinforcement):
            return f"The material's own: {row.material.source}."
        case Column.MATERIAL | Column.MASS if len(row.layers) > 1:
            return "Counted as its layers, away from the mould:\n" + "\n".join(
                _layer_text(layer, system) for layer in row.layers
            )
        case Column.E1 if len(row.layers) > 1:
            return "Of its layers together, held flat, along the roll. A layer fails, not the fabric."
        case Column.KNOWN | Column.E1 if row.numbers is not None:
            return "\n".join(f"{name}: {mark_in_words(mark)}" for name, mark in row.numbers.marks)
        case _:
            return ""


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font
