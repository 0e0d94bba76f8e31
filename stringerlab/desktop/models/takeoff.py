"""A take-off as two tables: members or sections, a row each; and one of them material by material.

Prices are typed into the second table. Lengths in m or ft, areas in m² or ft², masses in kg or lb; the head
of a column has its unit.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QObject, Qt, Signal
from PySide6.QtGui import QFont

from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import Amount, Item
from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.errors import StringerlabError
from stringerlab.units import Kind, System, display_unit, money, parse, rounded, trimmed, unit_named

ROLE = Qt.ItemDataRole
SHARE_ROLE = ROLE.UserRole + 1
"""Part of a material in the mass of all, from 0 to 1."""
SORT_ROLE = ROLE.UserRole + 2
"""What a material is, as the value of `Sort`."""
NOTHING = "—"
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """How numbers are shown: units, currency, and whether items are a length rather than a whole member."""

    system: System = System.METRIC
    currency: str = ""
    per_length: bool = False

    @property
    def length(self) -> str:
        """Symbol of the unit of lengths."""
        return "m" if self.system is System.METRIC else "ft"

    @property
    def area(self) -> str:
        """Symbol of the unit of areas."""
        return f"{self.length}²"

    @property
    def mass(self) -> str:
        """Symbol of the unit of masses."""
        return display_unit(Kind.MASS, self.system).symbol

    @property
    def volume(self) -> str:
        """Symbol of the unit of volumes."""
        return display_unit(Kind.VOLUME, self.system).symbol

    @property
    def part(self) -> float:
        """What is shown of an item: of a metre's a foot, where feet are shown."""
        return unit_named(self.length).factor / unit_named("m").factor if self.per_length else 1.0

    def number(self, value: float, symbol: str) -> str:
        """Return a number in a unit as it is read, a dash for 0."""
        return rounded(value / unit_named(symbol).factor, 3) if value else NOTHING


@dataclass(frozen=True, slots=True, kw_only=True)
class Column(Generic[Row]):
    """A column: its title, what it means, its unit, what a row shows in it."""

    title: str
    tip: str
    text: Callable[[Row, Shown], str]
    unit: Callable[[Shown], str] = lambda _: ""
    right: bool = True

    def head(self, shown: Shown) -> str:
        """Return title and unit: ``Mass, kg``."""
        return ", ".join(part for part in (self.title, self.unit(shown)) if part)


def _mass(title: str, tip: str, *sorts: Sort) -> Column[Item]:
    return Column(
        title=title,
        tip=tip,
        unit=lambda shown: shown.mass,
        text=lambda item, shown: shown.number(shown.part * item.mass(*sorts), shown.mass),
    )


def _cost(title: str, tip: str, of: Callable[[Item], float | None]) -> Column[Item]:
    def text(item: Item, shown: Shown) -> str:
        value = of(item)
        return NOTHING if value is None else money(shown.part * value)

    return Column(title=title, tip=tip, unit=lambda shown: shown.currency, text=text)


def _hours(item: Item, shown: Shown) -> str:
    return NOTHING if item.hours is None else rounded(shown.part * item.hours, 3)


ITEM_COLUMNS: tuple[Column[Item], ...] = (
    Column(
        title="Member",
        tip="A span; how many the boat has of it stands beside it",
        text=lambda item, _: item.name + (f"  × {item.count}" if item.count > 1 and item.section else ""),
        right=False,
    ),
    Column(
        title="Length",
        tip="Of all of it, between supports",
        unit=lambda shown: shown.length,
        text=lambda item, shown: shown.number(shown.part * item.length, shown.length),
    ),
    _mass("Mass", "Of everything built in"),
    Column(
        title="Fabric",
        tip="Area of every fabric ply; a fabric of several layers counts once",
        unit=lambda shown: shown.area,
        text=lambda item, shown: shown.number(shown.part * item.area(Sort.FABRIC), shown.area),
    ),
    _mass("Resin", "Built in with the fabrics", Sort.RESIN),
    _mass("Gel coat", "Built in", Sort.GEL_COAT),
    _mass("Core", "Built in", Sort.CORE),
    _mass("Fills", "Foam, blocks and putty", Sort.FILL),
    _mass("Adhesive", "Of the bead under the bonding flanges", Sort.ADHESIVE),
    Column(
        title="Hours",
        tip="By the rates set; tasks without a rate are not in it",
        unit=lambda _: "h",
        text=_hours,
    ),
    _cost("Materials", "What is bought, as far as it has a price", lambda item: item.material_cost),
    _cost("Cost", "Materials and labour, as far as they are priced", lambda item: item.cost),
)
SECTION_COLUMNS = (
    replace(ITEM_COLUMNS[0], title="Section", tip="Drawn once, for so long"),
    *ITEM_COLUMNS[1:],
)


class Of(IntEnum):
    """Columns of the table of materials, left to right."""

    NAME = 0
    SHARE = 1
    MASS = 2
    AREA = 3
    VOLUME = 4
    BOUGHT = 5
    PRICE = 6
    COST = 7
    KNOWN = 8


def _price(amount: Amount, shown: Shown) -> str:
    unit = display_unit(Kind.MASS, shown.system).factor
    return NOTHING if amount.per_kg is None else money(amount.per_kg * unit)


AMOUNT_COLUMNS: tuple[Column[Amount], ...] = (
    Column(title="Material", tip="What is built in", text=lambda one, _: one.name, right=False),
    Column(title="Of the mass", tip="Of everything built in", text=lambda _, __: ""),
    Column(
        title="Built in",
        tip="Mass as drawn",
        unit=lambda shown: shown.mass,
        text=lambda one, shown: shown.number(shown.part * one.mass, shown.mass),
    ),
    Column(
        title="Area",
        tip="Of fabric, core and gel coat as laid; of adhesive that bonded",
        unit=lambda shown: shown.area,
        text=lambda one, shown: shown.number(shown.part * one.area, shown.area),
    ),
    Column(
        title="Volume",
        tip="Of core, gel coat, fills and adhesive",
        unit=lambda shown: shown.volume,
        text=lambda one, shown: shown.number(shown.part * one.volume, shown.volume),
    ),
    Column(
        title="Bought",
        tip="Built in, plus waste",
        unit=lambda shown: shown.mass,
        text=lambda one, shown: shown.number(shown.part * one.bought, shown.mass),
    ),
    Column(
        title="Price",
        tip="What it costs by mass; type it here, empty it for none",
        unit=lambda shown: f"{shown.currency or 'per'}{'/' if shown.currency else ' '}{shown.mass}",
        text=_price,
    ),
    Column(
        title="Cost",
        tip="Of what is bought",
        unit=lambda shown: shown.currency,
        text=lambda one, shown: NOTHING if one.cost is None else money(shown.part * one.cost),
    ),
    Column(title="Known", tip="How well the mass is known", text=lambda one, _: one.known.value, right=False),
)


class TakeOffTable(QAbstractTableModel, Generic[Row]):
    """Rows of columns that know how to say themselves."""

    def __init__(self, columns: tuple[Column[Row], ...], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.columns = columns
        self.shown = Shown()
        self._rows: list[Row] = []

    @property
    def rows(self) -> tuple[Row, ...]:
        """What is shown."""
        return tuple(self._rows)

    def show_all(self, rows: Sequence[Row], shown: Shown, key: Callable[[Row], object]) -> None:
        """Show rows; ``key`` tells rows apart, so that what is selected stays so."""
        others = shown != self.shown
        self.shown = shown
        show_rows(self, self._rows, rows, key, len(self.columns))
        if others:
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)
        if others and self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(self.columns) - 1))

    def as_text(self, rows: Sequence[int]) -> str:
        """Return rows as lines with tabs between, a head with units first."""
        lines = ["\t".join(column.head(self.shown) for column in self.columns)]
        lines += ["\t".join(self.cell(row, column) for column in range(len(self.columns))) for row in rows]
        return "\n".join(lines)

    def cell(self, row: int, column: int) -> str:
        """Return what a cell says."""
        return self.columns[column].text(self._rows[row], self.shown)

    # -- what a view asks ------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(self.columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return a column's title with its unit, and its meaning as tip."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role == ROLE.DisplayRole:
            return column.head(self.shown).replace(", ", "\n")
        if role == ROLE.ToolTipRole:
            return column.tip
        if role == ROLE.TextAlignmentRole:
            return _RIGHT if column.right else _LEFT
        return None

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        column = self.columns[index.column()]
        match role:
            case ROLE.DisplayRole:
                return self.cell(index.row(), index.column())
            case ROLE.TextAlignmentRole:
                return _RIGHT if column.right else _LEFT
            case ROLE.AccessibleTextRole:
                text = self.cell(index.row(), index.column())
                return f"{self.cell(index.row(), 0)}, {column.head(self.shown)}: {text}"
            case _:
                return None


class ItemsTable(TakeOffTable[Item]):
    """Members with their sum in bold below, or sections by length."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(ITEM_COLUMNS, parent)

    def show_all(self, rows: Sequence[Item], shown: Shown, key: Callable[[Item], object]) -> None:
        """Show members, or sections where they are by length."""
        self.columns = SECTION_COLUMNS if shown.per_length else ITEM_COLUMNS
        super().show_all(rows, shown, key)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows; what is not in a cost as its tip."""
        if index.isValid() and index.row() < len(self._rows):
            item = self._rows[index.row()]
            if role == ROLE.FontRole and not item.id:
                return _bold()
            if role == ROLE.ToolTipRole:
                if index.column() >= len(self.columns) - 3 and item.unpriced:
                    return f"Without a price or rate, so not in it: {', '.join(item.unpriced)}."
                named = f"{item.name}, of section {item.section}"
                return named if item.section and not index.column() else None
        return super().data(index, role)


class AmountsTable(TakeOffTable[Amount]):
    """The materials of one item; prices are typed here."""

    priced = Signal(str, object)
    """Id of a material and its price typed, for a kilogram; None to take it out."""
    refused = Signal(str)
    """Why what was typed is no price."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(AMOUNT_COLUMNS, parent)

    def cell(self, row: int, column: int) -> str:
        """Return what a cell says."""
        if column == Of.SHARE:
            return f"{trimmed(100 * self._share(row), 2)} %"
        return super().cell(row, column)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows; a price as it is typed."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        amount = self._rows[index.row()]
        match role:
            case ROLE.EditRole if index.column() == Of.PRICE:
                factor = display_unit(Kind.MASS, self.shown.system).factor
                return "" if amount.per_kg is None else trimmed(amount.per_kg * factor, 8)
            case ROLE.ToolTipRole:
                return _amount_tip(amount, index.column())
            case _ if role == SHARE_ROLE:
                return self._share(index.row())
            case _ if role == SORT_ROLE:
                return amount.sort.value
            case _:
                return super().data(index, role)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what may be done with a cell: prices are typed."""
        found = super().flags(index)
        return found | Qt.ItemFlag.ItemIsEditable if index.column() == Of.PRICE else found

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Ask for a price as it was typed: by the unit of mass that the head of its column names."""
        if role != ROLE.EditRole or not index.isValid() or index.column() != Of.PRICE:
            return False
        text = str(value).strip()
        if text == str(self.data(index, ROLE.EditRole)):
            return False
        try:
            typed = parse(text, Kind.RATIO) if text and text != NOTHING else None
        except StringerlabError as error:
            self.refused.emit(str(error))
            return False
        factor = display_unit(Kind.MASS, self.shown.system).factor
        per_kg = None if typed is None else float(f"{typed / factor:.12g}")
        self.priced.emit(self._rows[index.row()].material, per_kg)
        return True

    def _share(self, row: int) -> float:
        whole = sum(one.mass for one in self._rows)
        return self._rows[row].mass / whole if whole else 0.0


def _amount_tip(amount: Amount, column: int) -> str | None:
    match column:
        case Of.NAME:
            return f"{amount.sort.value} ({amount.material})"
        case Of.PRICE if amount.per_kg is None:
            return "No price is set, so it is in no cost. Type one here."
        case Of.COST if amount.cost is None:
            return "It has no price, so it is in no cost."
        case _:
            return None


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font
