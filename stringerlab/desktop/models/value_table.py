"""A material's values as a table, each with unit, source and mark; beside it another material's.

Own materials are edited through the session; shipped ones are read only.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt
from PySide6.QtGui import QFont

from stringerlab.desktop.models.known import IN_WORDS
from stringerlab.desktop.models.material_values import (
    Line,
    lines_of,
    with_choice,
    with_known,
    with_number,
    with_source,
)
from stringerlab.desktop.models.ply_rows import numbers_of
from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.laminate import Ply, PlyNumbers
from stringerlab.materials import AnyMaterial, Book, shipped
from stringerlab.materials.records import Reinforcement
from stringerlab.project import Project, book_of, edits
from stringerlab.units import Kind, System, format, rounded, trimmed
from stringerlab.workings import Known

ROLE = Qt.ItemDataRole
NOTHING = "—"
TESTED_HEAD = "Own tests, each in place of the estimate"
LAID_HEAD = "As laid, by the estimate or own tests"

_LAID: tuple[tuple[str, str, Kind, str], ...] = (
    ("thickness", "Thickness", Kind.LENGTH, "Of a ply of the nominal weight and glass content"),
    ("mass", "Mass", Kind.AREAL_MASS, "Fibre and resin"),
    ("E1", "E1", Kind.STRESS, "Modulus along the ply's own fibres"),
    ("E2", "E2", Kind.STRESS, "Modulus across the ply's own fibres"),
    ("G12", "G12", Kind.STRESS, "Shear modulus in the ply's own axes"),
    ("nu12", "Poisson's ratio ν12", Kind.RATIO, "Contraction across while stretched along"),
    ("tension_1", "Tensile strength 1", Kind.STRESS, "Stress along the fibres at which it fails"),
    ("compression_1", "Compressive strength 1", Kind.STRESS, "Stress along the fibres at which it fails"),
    ("tension_2", "Tensile strength 2", Kind.STRESS, "Stress across the fibres at which it fails"),
    ("compression_2", "Compressive strength 2", Kind.STRESS, "Stress across the fibres at which it fails"),
    ("shear", "Shear strength in plane", Kind.STRESS, "Stress at which it fails"),
    ("flexural", "Flexural strength", Kind.STRESS, "Stress at which it fails in bending"),
    ("interlaminar", "Interlaminar shear strength", Kind.STRESS, "Stress at which plies part"),
)


class Column(IntEnum):
    """The columns, left to right; the last four stand there while two are side by side."""

    NAME = 0
    VALUE = 1
    SOURCE = 2
    KNOWN = 3
    OTHER = 4
    OTHER_SOURCE = 5
    OTHER_KNOWN = 6
    RATIO = 7


_TITLES = ("Quantity", "Value", "Source", "Known", "", "Source", "Known", "Ratio")
_TIPS = (
    "What the value is",
    "The value with its unit",
    "Where the value comes from",
    "How well the value is known",
    "The other material's value",
    "Where the other's value comes from",
    "How well the other's value is known",
    "This material's value over the other's",
)
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class ValueRow:
    """A line of a material, something that follows from its lines, or the head over such."""

    name: str
    tip: str = ""
    text: str = ""
    source: str = ""
    known: Known | None = None
    number: float | None = None
    line: Line | None = None
    other: str = ""
    other_source: str = ""
    other_known: Known | None = None
    ratio: str = ""

    @property
    def is_head(self) -> bool:
        """Whether it is a head."""
        return not self.text


class ValueTable(QAbstractTableModel):
    """The values of one material, and of another beside it."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[ValueRow] = []
        self._compared = False
        self._other_name = ""
        self.material: AnyMaterial | None = None
        self.own = False

    @property
    def rows(self) -> tuple[ValueRow, ...]:
        """What is shown."""
        return tuple(self._rows)

    def show_material(self, material: AnyMaterial | None, own: bool, other: AnyMaterial | None) -> None:
        """Show a material, own or shipped, and another of its kind beside it when one is given."""
        project, system = self._session.shown, self._session.units
        rows = _rows(material, own, other, project, system) if material else []
        same = (
            material is not None
            and self.material is not None
            and (material.id, own) == (self.material.id, self.own)
            and self._compared == (other is not None)
        )
        self.material, self.own = material, own
        name = other.name if other else ""
        if not same:
            self.beginResetModel()
            self._rows, self._compared, self._other_name = rows, other is not None, name
            self.endResetModel()
            return
        show_rows(
            self, self._rows, rows, lambda row: (row.name, row.line and row.line.path), self.columnCount()
        )
        if name != self._other_name:
            self._other_name = name
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, Column.OTHER, Column.OTHER)

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of lines, heads among them."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(Column) if self._compared else Column.OTHER

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return a column's title, and its meaning as tip."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == ROLE.DisplayRole:
            return self._other_name if section == Column.OTHER else _TITLES[section]
        if role == ROLE.ToolTipRole:
            return _TIPS[section]
        if role == ROLE.TextAlignmentRole:
            return _RIGHT if section in (Column.VALUE, Column.OTHER, Column.RATIO) else _LEFT
        return None

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows, or for editing its bare value."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row, column = self._rows[index.row()], index.column()
        match role:
            case ROLE.DisplayRole:
                return _cell(row, column)
            case ROLE.EditRole:
                return row.number if column == Column.VALUE and row.number is not None else _cell(row, column)
            case ROLE.UserRole:
                return row.line
            case ROLE.ToolTipRole:
                return _tip(row, column)
            case ROLE.TextAlignmentRole:
                return _RIGHT if column in (Column.VALUE, Column.OTHER, Column.RATIO) else _LEFT
            case ROLE.FontRole if row.is_head:
                return _bold()
            case ROLE.AccessibleTextRole:
                return f"{row.name}, {_TITLES[column].lower()}: {_cell(row, column)}"
            case _:
                return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what may be edited: an own material's values, sources and marks."""
        if not index.isValid() or index.row() >= len(self._rows):
            return Qt.ItemFlag.NoItemFlags
        row = self._rows[index.row()]
        found = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
        if not self.own or row.line is None:
            return found
        stated = index.column() in (Column.SOURCE, Column.KNOWN) and row.known is not None
        return found | Qt.ItemFlag.ItemIsEditable if index.column() == Column.VALUE or stated else found

    def setData(self, index: Index, value: Any, role: int = ROLE.EditRole) -> bool:
        """Do an edit: a number in the record's unit, None for no value, a choice, a source or a mark."""
        editable = bool(self.flags(index) & Qt.ItemFlag.ItemIsEditable)
        if role != ROLE.EditRole or not editable or self.material is None:
            return False
        line = self._rows[index.row()].line
        if line is None:
            return False
        changed, what = self._changed(self.material, line, index.column(), value)
        if changed is None or changed == self.material:
            return False
        label = f"Change {what}{line.name[0].lower()}{line.name[1:]} of {self.material.name}"
        return self._session.edit(label, edits.replaced, changed)

    def _changed(
        self, material: AnyMaterial, line: Line, column: int, value: Any
    ) -> tuple[AnyMaterial | None, str]:
        match column:
            case Column.SOURCE:
                words = str(value).strip()
                return (with_source(material, line, words) if words else None), "source of "
            case Column.KNOWN:
                return with_known(material, line, Known(value)), "mark of "
            case _ if line.choices:
                return with_choice(material, line, str(value)), ""
            case _ if value is None and not line.optional:
                return None, ""
            case _:
                return with_number(material, line, None if value is None else float(value)), ""


def _rows(
    material: AnyMaterial, own: bool, other: AnyMaterial | None, project: Project, system: System
) -> list[ValueRow]:
    book = book_of(project)
    mine = _lines(material, project)
    theirs = {line.path: line for line in (_lines(other, project) if other else ())}
    plain = [_row(line, theirs.get(line.path), book, system) for line in mine if not _is_test(line)]
    tests = [
        _row(line, beside, book, system)
        for line, beside in ((line, theirs.get(line.path)) for line in mine)
        if _is_test(line)
        and (own or line.number is not None or (beside is not None and beside.number is not None))
    ]
    if isinstance(material, Reinforcement):
        plain += _as_laid(material, other, book, system)
    return [*plain, ValueRow(TESTED_HEAD), *tests] if tests else plain


def _is_test(line: Line) -> bool:
    return line.path[0] == "tested"


def _row(line: Line, beside: Line | None, book: Book, system: System) -> ValueRow:
    return ValueRow(
        line.name,
        line.tip,
        _named(line, book, system),
        line.source,
        line.known,
        line.number,
        line,
        _named(beside, book, system) if beside else "",
        beside.source if beside else "",
        beside.known if beside else None,
        _ratio(line.number, beside.number if beside else None),
    )


def _as_laid(
    material: Reinforcement, other: AnyMaterial | None, book: Book, system: System
) -> list[ValueRow]:
    mine = numbers_of(Ply(material=material.id), material, book)
    theirs = None
    if isinstance(other, Reinforcement):
        theirs = numbers_of(Ply(material=other.id), other, book)
    if mine is None:
        return []
    rows = [ValueRow(LAID_HEAD)]
    for field, name, kind, tip in _LAID:
        value, beside = getattr(mine, field), getattr(theirs, field) if theirs else None
        rows.append(
            ValueRow(
                name,
                tip,
                _shown(value, kind, system),
                _origin(mine, field, material) if value is not None else "",
                _mark(mine, field) if value is not None else None,
                other=_shown(beside, kind, system) if theirs else "",
                other_source=(
                    _origin(theirs, field, other)
                    if theirs and isinstance(other, Reinforcement) and beside is not None
                    else ""
                ),
                other_known=_mark(theirs, field) if theirs else None,
                ratio=_ratio(value, beside),
            )
        )
    return rows


def _lines(material: AnyMaterial, project: Project) -> Sequence[Line]:
    held = (project.materials, shipped())
    fibres = dict.fromkeys(one.id for many in held for one in many.fibres)
    resins = dict.fromkeys(one.id for many in held for one in many.resins)
    return lines_of(material, tuple(fibres), tuple(resins))


def _named(line: Line, book: Book, system: System) -> str:
    """Return a line's value; a fibre or resin by its name."""
    if line.path[-1] in ("fibre", "resin") and (found := book.find(str(line.value))) is not None:
        return found.name
    return line.text(system)


def _shown(value: float | None, kind: Kind, system: System) -> str:
    if value is None:
        return NOTHING
    return rounded(value) if kind is Kind.RATIO else format(value, kind, system)


def _origin(numbers: PlyNumbers, field: str, material: Reinforcement) -> str:
    if material.layers:
        return "of its layers together, held flat"
    for one in numbers.coupons:
        if one.name == field:
            return f"{'mean' if one.k is None else 'lower bound'} of {one.count} coupons"
    return "own test" if field in numbers.tested else f"by {material.estimate.value}"


def _mark(numbers: PlyNumbers, field: str) -> Known | None:
    marks = dict(numbers.marks)
    return marks.get("thickness" if field == "mass" else field)


def _ratio(mine: float | None, theirs: float | None) -> str:
    if mine is None or not theirs:
        return ""
    return trimmed(mine / theirs, 3)


def in_full(row: ValueRow) -> str:
    """Return a line whole: value, what it means, where it comes from and how well it is known, in words."""
    if row.is_head:
        return ""
    parts = [f"{row.name} {row.text}. {row.tip}."]
    if row.known is not None:
        parts.append(f"Source: {row.source}; {IN_WORDS[row.known]}.")
    if row.other_known is not None:
        parts.append(f"The other: {row.other}. Source: {row.other_source}; {IN_WORDS[row.other_known]}.")
    return " ".join(parts)


def _cell(row: ValueRow, column: int) -> str:
    match column:
        case Column.NAME:
            return row.name
        case Column.VALUE:
            return row.text
        case Column.SOURCE:
            return row.source
        case Column.KNOWN:
            return row.known.value if row.known is not None else ""
        case Column.OTHER:
            return row.other
        case Column.OTHER_SOURCE:
            return row.other_source
        case Column.OTHER_KNOWN:
            return row.other_known.value if row.other_known is not None else ""
        case _:
            return row.ratio


def _tip(row: ValueRow, column: int) -> str:
    known = {Column.KNOWN: row.known, Column.OTHER_KNOWN: row.other_known}.get(Column(column))
    if known is not None:
        return IN_WORDS[known]
    source = {
        Column.VALUE: row.source,
        Column.SOURCE: row.source,
        Column.OTHER: row.other_source,
        Column.OTHER_SOURCE: row.other_source,
    }.get(Column(column), "")
    if column in (Column.SOURCE, Column.OTHER_SOURCE):
        return source
    return f"{row.tip}\nSource: {source}" if source else row.tip


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font
