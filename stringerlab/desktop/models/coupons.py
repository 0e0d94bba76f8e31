"""A reinforcement's tested coupons as a table: as typed, by the stated rule, as a method uses it, estimate.

Edits go through the session. Numbers are in the units that the heads state.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from functools import partial
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt

from stringerlab.desktop.models.material_values import property_words
from stringerlab.desktop.models.ply_rows import numbers_of
from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Ply, PlyNumbers
from stringerlab.materials.coupons import CONFIDENCE, COVERAGE, RULE, coupon_value, in_words, used_coupons
from stringerlab.materials.records import CouponSet, Property, Reinforcement, Tested
from stringerlab.methods import Method, method_named
from stringerlab.methods.evaluation import STRENGTHS, Level
from stringerlab.project import Project, book_of
from stringerlab.project.coupons import coupons_changed
from stringerlab.units import Kind, System, display_unit, rounded, trimmed

ROLE = Qt.ItemDataRole
NOTHING = "—"
_FIELDS = {Property.MODULUS_1: "E1", Property.MODULUS_2: "E2", Property.SHEAR_MODULUS: "G12"}


class Column(IntEnum):
    """The columns, left to right."""

    PROPERTY = 0
    MEAN = 1
    DEVIATION = 2
    COUNT = 3
    GLASS = 4
    THICKNESS = 5
    STANDARD = 6
    SOURCE = 7
    BOUND = 8
    METHOD = 9
    ESTIMATE = 10


KINDS = {
    Column.MEAN: Kind.STRESS,
    Column.DEVIATION: Kind.STRESS,
    Column.COUNT: Kind.RATIO,
    Column.GLASS: Kind.RATIO,
    Column.THICKNESS: Kind.LENGTH,
    Column.BOUND: Kind.STRESS,
    Column.METHOD: Kind.STRESS,
    Column.ESTIMATE: Kind.STRESS,
}
"""What the columns of numbers hold."""
_TITLES = {
    Column.PROPERTY: "Property",
    Column.MEAN: "Mean",
    Column.DEVIATION: "Std dev",
    Column.COUNT: "n",
    Column.GLASS: "Glass",
    Column.THICKNESS: "Thick",
    Column.STANDARD: "Standard",
    Column.SOURCE: "Source",
    Column.BOUND: "Bound",
    Column.METHOD: "Used",
    Column.ESTIMATE: "Estimate",
}
_TIPS = {
    Column.PROPERTY: "What the coupons were tested for, in the ply's own axes",
    Column.MEAN: "Mean of the set",
    Column.DEVIATION: "Standard deviation of the set",
    Column.COUNT: "How many coupons; one alone is not used",
    Column.GLASS: "Glass content by mass of the laminate they were cut from",
    Column.THICKNESS: "Thickness of the coupons",
    Column.STANDARD: "Test standard",
    Column.SOURCE: "Who tested, and which report",
    Column.ESTIMATE: "What stands in their place without them",
}
_NAMES = {
    Column.PROPERTY: "property",
    Column.MEAN: "mean",
    Column.DEVIATION: "deviation",
    Column.COUNT: "number",
    Column.GLASS: "glass content",
    Column.THICKNESS: "thickness",
    Column.STANDARD: "standard",
    Column.SOURCE: "source",
}
"""The columns a person types in, as an edit is called."""
FIELDS = {
    Column.PROPERTY: "property",
    Column.MEAN: "mean",
    Column.DEVIATION: "deviation",
    Column.COUNT: "count",
    Column.GLASS: "glass",
    Column.THICKNESS: "thickness",
    Column.STANDARD: "standard",
    Column.SOURCE: "source",
}
"""The columns a person types in, and the field each is of."""


@dataclass(frozen=True, slots=True)
class CouponRow:
    """A set of coupons and what is made of it [MPa]."""

    coupons: CouponSet
    k: float | None
    value: float | None
    """By the stated rule; None for one coupon."""
    judged: float | None
    """As the method takes it; None where the set is not used."""
    estimate: float | None
    why_not: str


class CouponTable(QAbstractTableModel):
    """The coupons of one reinforcement, none while there is none."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[CouponRow] = []
        self._heads: object = None
        self.material: Reinforcement | None = None
        self.own = False

    @property
    def rows(self) -> Sequence[CouponRow]:
        """What is shown."""
        return tuple(self._rows)

    def show_material(self, material: Reinforcement | None, own: bool) -> None:
        """Show a reinforcement's coupons, or the same one's as they are now."""
        same = material is not None and self.material is not None and material.id == self.material.id
        same = same and own == self.own
        rows = coupon_rows(material, self._session.shown) if material is not None else []
        self.material, self.own = material, own
        if same:
            show_rows(self, self._rows, rows, lambda row: row.coupons, len(Column))
        else:
            self.beginResetModel()
            self._rows = rows
            self.endResetModel()
        heads = (self._session.units, self._session.shown.method)
        if heads != self._heads:
            self._heads = heads
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(Column) - 1)
            if self._rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(Column) - 1))

    # -- what a view asks ------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of sets."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(Column)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return a column's title with its unit, and its meaning as tip."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        column = Column(section)
        match role:
            case ROLE.DisplayRole:
                return f"{_TITLES[column]}\n{self._symbol(column)}"
            case ROLE.ToolTipRole if column is Column.BOUND:
                return f"The stated rule: {RULE}"
            case ROLE.ToolTipRole if column is Column.METHOD:
                return method_words(self._session.shown)
            case ROLE.ToolTipRole:
                return _TIPS[column]
            case ROLE.TextAlignmentRole:
                return _alignment(column)
            case _:
                return None

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows, or for editing its value in the program's unit."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row, column = self._rows[index.row()], Column(index.column())
        match role:
            case ROLE.DisplayRole:
                return self._text(row, column)
            case ROLE.EditRole:
                return getattr(row.coupons, FIELDS[column]) if column in FIELDS else self._text(row, column)
            case ROLE.ToolTipRole:
                return self._tip(row, column)
            case ROLE.TextAlignmentRole:
                return _alignment(column)
            case ROLE.AccessibleTextRole:
                words = f"{self._text(row, column)} {self._symbol(column)}".strip()
                return f"{_NAMES.get(column, _TITLES[column].lower())}: {words}"
            case _:
                return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what can be done with a cell: of an own material what was typed may be typed again."""
        found = super().flags(index)
        if index.isValid() and self.own and index.column() in FIELDS:
            found |= Qt.ItemFlag.ItemIsEditable
        return found

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Do an edit: a number in the program's unit, a property, words; None for no thickness."""
        editable = bool(self.flags(index) & Qt.ItemFlag.ItemIsEditable)
        if role != ROLE.EditRole or not editable or self.material is None:
            return False
        column = Column(index.column())
        try:
            typed = _read(column, value)
        except ValueError as error:
            self._session.said.emit(str(error))
            return False
        held = self._rows[index.row()].coupons
        if typed == getattr(held, FIELDS[column]):
            return False
        words = f"{_NAMES[column]} of {in_words(held.property)} coupons of {self.material.name}"
        label = f"Change {words}"
        change = partial(_changed, field=FIELDS[column], value=typed)
        return self._session.edit(label, coupons_changed, self.material.id, [index.row()], change)

    # -- inside ----------------------------------------------------------------------------------

    def _symbol(self, column: Column) -> str:
        kind = KINDS.get(column)
        return display_unit(kind, self._session.units).symbol if kind is not None else ""

    def _text(self, row: CouponRow, column: Column) -> str:
        coupons = row.coupons
        match column:
            case Column.PROPERTY:
                return short_words(coupons.property)
            case Column.COUNT:
                return str(coupons.count)
            case Column.STANDARD | Column.SOURCE:
                return str(getattr(coupons, FIELDS[column]))
            case Column.MEAN | Column.DEVIATION | Column.GLASS | Column.THICKNESS:
                return _number(getattr(coupons, FIELDS[column]), KINDS[column], self._session.units)
            case Column.BOUND:
                return _number(row.value, Kind.STRESS, self._session.units)
            case Column.METHOD:
                return "not used" if row.why_not else self._judged(row)
            case Column.ESTIMATE:
                return _number(row.estimate, Kind.STRESS, self._session.units)

    def _judged(self, row: CouponRow) -> str:
        return _number(row.judged, Kind.STRESS, self._session.units)

    def _tip(self, row: CouponRow, column: Column) -> str:
        match column:
            case Column.METHOD | Column.BOUND if row.why_not:
                return f"Not used: {row.why_not}; the estimate stands."
            case Column.BOUND if row.k is not None:
                coupons, system = row.coupons, self._session.units
                mean, deviation = (
                    _number(each, Kind.STRESS, system) for each in (coupons.mean, coupons.deviation)
                )
                symbol = self._symbol(column)
                return f"{mean} − {row.k:.3f} × {deviation} = {self._text(row, column)} {symbol}"
            case Column.BOUND:
                return "A modulus is the mean of its coupons."
            case Column.METHOD:
                return method_words(self._session.shown)
            case Column.STANDARD | Column.SOURCE:
                return self._text(row, column)
            case Column.PROPERTY:
                return f"{property_words(row.coupons.property)}. {_TIPS[column]}"
            case _:
                return _TIPS[column]


def coupon_rows(material: Reinforcement, project: Project) -> list[CouponRow]:
    """Return a material's sets of coupons with what is made of them at its own glass content."""
    book = book_of(project)
    method = _method(project)
    bare = replace(material, coupons=(), tested=Tested())
    estimates = numbers_of(Ply(material=material.id), bare, book)
    laid = numbers_of(Ply(material=material.id), material, book) if material.coupons else None
    used = [worth.coupons for worth in used_coupons(material, material.glass).values()]
    rows: list[CouponRow] = []
    for coupons in material.coupons:
        worth = coupon_value(coupons, material.glass)
        taken = any(coupons is each for each in used)
        why = "" if taken else worth.why_not or "another set is nearer in glass content, or lower"
        rows.append(
            CouponRow(
                coupons=coupons,
                k=worth.k,
                value=worth.value,
                judged=_as_judged(laid, coupons.property, method) if taken else None,
                estimate=estimate_of(estimates, coupons.property),
                why_not=why,
            )
        )
    return rows


def short_words(tested: Property) -> str:
    """Return a property in one word: ``Compression 1``."""
    return in_words(tested).replace("_", " ").capitalize()


def estimate_of(numbers: PlyNumbers | None, tested: Property) -> float | None:
    """Return a ply's number of a property [MPa], None where it has none."""
    return None if numbers is None else getattr(numbers, _FIELDS.get(tested, tested.value))


def bare_numbers(material: Reinforcement, project: Project) -> PlyNumbers | None:
    """Return a material's numbers by the estimate alone."""
    bare = replace(material, coupons=(), tested=Tested())
    return numbers_of(Ply(material=material.id), bare, book_of(project))


def method_words(project: Project) -> str:
    """Return how the project's method takes tested strengths."""
    method = _method(project)
    if method is None:
        return "The project names no method there is."
    return f"{method.name}: {method.evaluation.words(Level.COUPONS)}"


def used_words(project: Project) -> str:
    """Return in one line what the columns of bound and of what is used hold."""
    method = _method(project)
    used = f"; used: by {method.name}" if method is not None else ""
    return f"Bound: {COVERAGE:.0%} above it at {CONFIDENCE:.0%} confidence{used}".replace("%", " %")


def _method(project: Project) -> Method | None:
    try:
        return method_named(project.method)
    except StringerlabError:
        return None


def _as_judged(numbers: PlyNumbers | None, tested: Property, method: Method | None) -> float | None:
    if numbers is None or method is None:
        return None
    name = _FIELDS.get(tested, tested.value)
    return method.evaluation.strength(numbers, name) if name in STRENGTHS else getattr(numbers, name)


def _read(column: Column, value: Any) -> Any:
    """Return what a column's field is to hold.

    Raises
    ------
    ValueError
        With words for a person, when it cannot hold that.
    """
    match column:
        case Column.PROPERTY:
            return Property(value)
        case Column.STANDARD:
            return str(value).strip()
        case Column.SOURCE:
            if not str(value).strip():
                raise ValueError("Coupons need a source: who tested, and which report.")
            return str(value).strip()
        case Column.THICKNESS if value is None:
            return None
        case Column.COUNT:
            if value is None or float(value) != int(float(value)):
                raise ValueError("A number of coupons is whole.")
            return int(float(value))
        case _:
            if value is None:
                raise ValueError("This value cannot be left out.")
            return float(f"{float(value):.12g}")


def _changed(coupons: CouponSet, field: str, value: Any) -> CouponSet:
    return replace(coupons, **{field: value})


def _number(value: float | None, kind: Kind, system: System) -> str:
    if value is None:
        return NOTHING
    number = value / display_unit(kind, system).factor
    return rounded(number) if kind is Kind.STRESS else trimmed(number, 4)


def _alignment(column: Column) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if column in KINDS else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter
