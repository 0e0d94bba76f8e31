"""Designs as rows: what each comes to, what governs it, what it takes of every variable."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, groupby, pairwise
from math import inf, isnan
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, QSortFilterProxyModel, Qt

from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.desktop.sizing.said import NOTHING, Look, holds, is_nearest, value_of
from stringerlab.project.wishes import Aim
from stringerlab.sizing.records import Design, Sized
from stringerlab.sizing.searching.aims import aims_of
from stringerlab.units import rounded

ROLE = Qt.ItemDataRole
SORT_ROLE = ROLE.UserRole + 1
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_SHORT, _LONG = 13, 24
"""Letters of a title that stands on one line, and of one that stands on two."""
PRESENT = "present"
NEAREST = "nearest"
"""Instead, where the boat is none of the designs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Column:
    title: str
    tip: str
    text: Callable[[Design], str]
    tip_of: Callable[[Design], str] | None = None
    """What the tip of a cell says where that is more than its text."""
    key: Callable[[Design], float | str]
    number: bool = True


def all_designs(sized: Sized) -> tuple[Design, ...]:
    """Return the present boat and every design of the front after her."""
    return (sized.now, *sized.front)


def design_name(number: int) -> str:
    """Return what a design goes by: its place in ``all_designs``, 0 for the present boat."""
    return PRESENT if number == 0 else str(number)


class DesignsTable(QAbstractTableModel):
    """A row a design, the present boat first; sorted by a proxy above it."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._designs: tuple[Design, ...] = ()
        self._exact = True
        """Whether the first is the boat herself, not the choices nearest to her."""
        self._columns: tuple[_Column, ...] = ()

    @property
    def designs(self) -> tuple[Design, ...]:
        """What is shown, the present boat first."""
        return self._designs

    def is_number(self, column: int) -> bool:
        """Whether a column holds numbers; names of designs are as short."""
        return column == 0 or self._columns[column - 1].number

    def show_sized(self, sized: Sized | None, look: Look) -> None:
        """Show other designs, or none."""
        self.beginResetModel()
        self._designs = all_designs(sized) if sized else ()
        self._exact = sized is None or not is_nearest(sized)
        self._columns = _columns(sized, look) if sized else ()
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self._designs)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else 1 + len(self._columns) if self._columns else 0

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = ROLE.DisplayRole) -> Any:
        """Return a column's title and meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < self.columnCount():
            return None
        column = self._columns[section - 1] if section else None
        match role:
            case ROLE.DisplayRole:
                return folded(column.title) if column else "design"
            case ROLE.ToolTipRole:
                return column.tip if column else "Number of the design; a click on a title sorts by it"
            case ROLE.TextAlignmentRole:
                return _RIGHT if column and column.number else _LEFT
            case _:
                return None

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid() or not 0 <= index.row() < len(self._designs):
            return None
        design = self._designs[index.row()]
        if index.column() == 0:
            return self._first(index.row(), design, role)
        column = self._columns[index.column() - 1]
        match role:
            case ROLE.ToolTipRole if column.tip_of is not None:
                return column.tip_of(design)
            case ROLE.DisplayRole | ROLE.ToolTipRole:
                return column.text(design)
            case ROLE.TextAlignmentRole:
                return _RIGHT if column.number else _LEFT
            case _ if role == SORT_ROLE:
                return column.key(design)
            case _:
                return None

    def _first(self, row: int, design: Design, role: int) -> Any:
        name = design_name(row) if row or self._exact else NEAREST
        match role:
            case ROLE.DisplayRole:
                return name if holds(design) else f"× {name}"
            case ROLE.ToolTipRole | ROLE.AccessibleTextRole:
                what = (
                    f"Design {name}"
                    if row
                    else "The boat as she is"
                    if self._exact
                    else "Choices nearest to her"
                )
                return f"{what}: {'every demand holds' if holds(design) else 'not every demand holds'}"
            case ROLE.TextAlignmentRole:
                return _LEFT
            case _ if role == SORT_ROLE:
                return row
            case _:
                return None

    def as_text(self, rows: Sequence[int]) -> str:
        """Return rows with the titles, as tab-separated text."""
        lines = [[self.headerData(i, Qt.Orientation.Horizontal) for i in range(self.columnCount())]]
        lines = [[str(title).replace("\n", " ") for title in lines[0]]]
        whole = [column.tip_of or column.text for column in self._columns]
        for row in rows:
            first = str(self.index(row, 0).data())
            lines.append([first, *(text(self._designs[row]) for text in whole)])
        return "\n".join("\t".join(map(str, cells)) for cells in lines)


class SortedDesigns(QSortFilterProxyModel):
    """Designs in the order of a column."""

    def __init__(self, model: DesignsTable, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.setSourceModel(model)
        self.setSortRole(SORT_ROLE)

    def number(self, row: int) -> int:
        """Return which design a row shown is of."""
        return self.mapToSource(self.index(row, 0)).row()

    def row(self, number: int) -> int:
        """Return in which row a design is shown."""
        source = self.sourceModel()
        return self.mapFromSource(source.index(number, 0)).row()


def folded(title: str) -> str:
    """Return a long title on two lines or three, broken between words where the longest is shortest."""
    words = title.split(" ")
    if len(title) <= _SHORT or len(words) < 2:
        return title
    lines = 2 if len(title) <= _LONG or len(words) < 3 else 3
    parted = (
        "\n".join(" ".join(words[a:b]) for a, b in pairwise((0, *cuts, len(words))))
        for cuts in combinations(range(1, len(words)), lines - 1)
    )
    return min(parted, key=lambda one: max(map(len, one.split("\n"))))


def shortened(value: str) -> str:
    """Return plies with each run of the same told once: "csm450, 3× m1808"."""
    runs = [(ply, len(tuple(same))) for ply, same in groupby(value.split(", "))]
    return ", ".join(ply if count == 1 else f"{count}× {ply}" for ply, count in runs)


def _columns(sized: Sized, look: Look) -> tuple[_Column, ...]:
    designs = all_designs(sized)
    shown: list[_Column] = [
        _Column(
            title="mass",
            tip="Of members as taken off, and of the plating of panels judged",
            text=lambda one: look.mass(one.mass),
            key=lambda one: one.mass,
        )
    ]
    if any(one.cost is not None for one in designs):
        shown.append(
            _Column(
                title=f"cost ({look.currency})" if look.currency else "cost",
                tip="Of what is priced on Take-off",
                text=lambda one: replace(look, currency="").cost(one.cost),
                key=lambda one: _known(one.cost),
            )
        )
    if any(one.hours is not None for one in designs):
        shown.append(
            _Column(
                title="labour",
                tip="By the rates on Take-off",
                text=lambda one: look.hours(one.hours),
                key=lambda one: _known(one.hours),
            )
        )
    if Aim.MIX in aims_of(sized.plan):
        shown.append(
            _Column(
                title="mix",
                tip="The weighted mix",
                text=lambda one: rounded(value_of(one, Aim.MIX, sized.plan)),
                key=lambda one: _known(value_of(one, Aim.MIX, sized.plan)),
            )
        )
    shown.append(
        _Column(
            title="use",
            tip="Highest utilisation of the rule findings that something marked here changes",
            text=lambda one: look.use(one.use),
            key=lambda one: one.use,
        )
    )
    if any(one.mechanics is not None for one in designs):
        shown.append(
            _Column(
                title="mechanics",
                tip="Highest utilisation that the mechanics and the grid find; no rule",
                text=lambda one: NOTHING if one.mechanics is None else look.use(one.mechanics),
                key=lambda one: _known(one.mechanics),
            )
        )
    shown += [_variable(designs, place, name) for place, name in enumerate(sized.names)]
    shown.append(
        _Column(
            title="governs",
            tip="Which rule finding is highest used",
            text=lambda one: one.governing or NOTHING,
            key=lambda one: one.governing,
            number=False,
        )
    )
    if any(one.mechanics is not None for one in designs):
        shown.append(
            _Column(
                title="governs there",
                tip="Which finding of the mechanics is highest used",
                text=lambda one: one.mechanics_governing or NOTHING,
                key=lambda one: one.mechanics_governing,
                number=False,
            )
        )
    return tuple(shown)


def _variable(designs: Sequence[Design], place: int, name: str) -> _Column:
    numbers = [_leading(one.values[place]) for one in designs]
    told = dict(zip((one.values[place] for one in designs), numbers, strict=True))
    by_number = all(number is not None for number in numbers)

    def key(design: Design) -> float | str:
        number = told[design.values[place]]
        return number if by_number and number is not None else design.values[place]

    return _Column(
        title=name,
        tip=f"What {name} becomes",
        text=lambda one: shortened(one.values[place]),
        tip_of=lambda one: one.values[place],
        key=key,
        number=False,
    )


def _leading(text: str) -> float | None:
    """Return the number a text begins with, None for none."""
    try:
        return float(text.split()[0]) if text else None
    except ValueError:
        return None


def _known(value: float | None) -> float:
    return inf if value is None or isnan(value) else value
