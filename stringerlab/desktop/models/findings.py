"""Findings as rows of a table, and the filter and order in front of them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, QSortFilterProxyModel, Qt

from stringerlab.assess.relative import Beside
from stringerlab.desktop.models.known import mark_in_words
from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.verdicts import SIGNS, STALE_ROLE, USE_ROLE, VERDICT_ROLE, use_text
from stringerlab.methods import Finding, FindingKey, Verdict
from stringerlab.units import System, format

SORT_ROLE = Qt.ItemDataRole.UserRole + 10
FINDING_ROLE = Qt.ItemDataRole.UserRole + 11
MOVED_ROLE = Qt.ItemDataRole.UserRole + 12
"""``▲`` where more is used than before, ``▼`` where less, empty where nothing is compared or has moved."""

PANEL, SPAN = "panel", "span"
_NOTHING = 5e-6
"""Part of a utilisation below which it has not moved."""
_WORST_FIRST = [Verdict.SHORT, Verdict.TIGHT, Verdict.HOLDS, Verdict.NOT_JUDGED, Verdict.ADVICE]


@dataclass(frozen=True, slots=True)
class _Column:
    title: str
    meaning: str
    text: Callable[[Finding, System], str]
    order: Callable[[Finding], float | str]
    right: bool = False


def _quantity(value: float | None, finding: Finding, system: System) -> str:
    return "—" if value is None else format(value, finding.unit.kind, system)


def _number(value: float | None) -> float:
    return -1.0 if value is None else value


COLUMNS = (
    _Column("subject", "The panel or span that is judged", lambda f, _: f.name, lambda f: f.name.casefold()),
    _Column("aspect", "What is judged about it", lambda f, _: f.aspect.value, lambda f: f.aspect.value),
    _Column(
        "demand",
        "What the clause asks for",
        lambda f, system: _quantity(f.demand, f, system),
        lambda f: _number(f.demand),
        right=True,
    ),
    _Column(
        "capacity",
        "What is there",
        lambda f, system: _quantity(f.capacity, f, system),
        lambda f: _number(f.capacity),
        right=True,
    ),
    _Column(
        "utilisation",
        "In load: (demand ÷ capacity)ⁿ, n the quantity's power of load. Ticks at 0.90 and 1.00",
        lambda f, _: use_text(f.utilisation),
        lambda f: _number(f.utilisation),
    ),
    _Column(
        "verdict",
        "holds up to 0.90, tight up to 1.00, short above: our own reading margin",
        lambda f, _: f.verdict.value,
        lambda f: float(-_WORST_FIRST.index(f.verdict)),
    ),
    _Column("source", "Where the clause is published", lambda f, _: f.source, lambda f: f.source),
    _Column(
        "known",
        "How well the weakest number that went in is known",
        lambda f, _: f.known.value,
        lambda f: float(f.known.rank),
    ),
    _Column(
        "of parent",
        "Utilisation over that of its like in the parent boat: no rule compliance",
        lambda _f, _system: "",
        lambda _f: -1.0,
        right=True,
    ),
)
SUBJECT, ASPECT, DEMAND, CAPACITY, UTILISATION, VERDICT, SOURCE, KNOWN, OF_PARENT = range(len(COLUMNS))
Besides = Mapping[FindingKey, Beside]


def row_text(finding: Finding, system: System, besides: Besides | None = None) -> str:
    """Return a finding as one line of tab-separated text, beside the parent's where there is one."""
    cells = [column.text(finding, system) for column in COLUMNS[:OF_PARENT]]
    more = [] if besides is None else [of_parent_text(besides.get(finding.key))]
    return "\t".join([*cells, *more])


def heading_text(*, of_parent: bool = False) -> str:
    """Return the names of the columns as one line of tab-separated text."""
    return "\t".join(column.title for column in COLUMNS[: None if of_parent else OF_PARENT])


def of_parent_text(beside: Beside | None) -> str:
    """Return a utilisation over the parent's as it is read."""
    return "—" if beside is None or beside.ratio is None else f"{beside.ratio:.2f}"


def spoken(finding: Finding, system: System) -> str:
    """Return a finding as a sentence, for a reader who hears the screen."""
    if finding.utilisation is None:
        return f"{finding.name}, {finding.aspect.value}: {finding.verdict.value}"
    return (
        f"{finding.name}, {finding.aspect.value}: {finding.verdict.value}, "
        f"utilisation {use_text(finding.utilisation)}, demand {_quantity(finding.demand, finding, system)}, "
        f"capacity {_quantity(finding.capacity, finding, system)}"
    )


class FindingsModel(QAbstractTableModel):
    """Findings, one a row, as they came."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[Finding] = []
        self._system = System.METRIC
        self._stale: bool = False
        self._title = ""
        self._before: Mapping[FindingKey, float] | None = None
        self._besides: Besides = {}

    @property
    def findings(self) -> Sequence[Finding]:
        """What is shown."""
        return self._rows

    def show(
        self,
        findings: Sequence[Finding],
        system: System,
        *,
        stale: bool = False,
        title: str = "",
        before: Mapping[FindingKey, float] | None = None,
        besides: Besides | None = None,
    ) -> None:
        """Show findings; rows of the same subject and aspect stay the same rows.

        ``title`` is the method's, which need not be said again in every row's source. ``before`` has the
        utilisations that those under a drag are compared with, by subject and aspect; ``besides`` what
        stands beside them of a parent boat.
        """
        self._title = title
        repaint: bool = system is not self._system or stale != self._stale or before is not self._before
        repaint = repaint or besides is not None or bool(self._besides)
        self._besides = besides or {}
        self._system, self._stale, self._before = system, stale, before
        show_rows(self, self._rows, findings, lambda finding: finding.key)
        # equal findings of a new run carry new workings
        self._rows[:] = findings
        if repaint and self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(COLUMNS) - 1))

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many findings there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title and meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(COLUMNS):
            return None
        column = COLUMNS[section]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return column.title
            case Qt.ItemDataRole.ToolTipRole:
                return column.meaning
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(column)
            case _:
                return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid() or not 0 <= index.row() < len(self._rows):
            return None
        finding, column = self._rows[index.row()], COLUMNS[index.column()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                text = self._text(finding, column)
                said = self._title and index.column() == SOURCE
                return text.removeprefix(f"{self._title}, ") if said else text
            case Qt.ItemDataRole.ToolTipRole:
                return self._tip(finding, index.column())
            case Qt.ItemDataRole.AccessibleTextRole:
                text = self._text(finding, column)
                return f"{column.title}: {text}"
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(column)
            case _:
                return self._own(finding, column, role)

    def _own(self, finding: Finding, column: _Column, role: int) -> Any:
        if role == SORT_ROLE:
            return self._of_parent(finding) if column is COLUMNS[OF_PARENT] else column.order(finding)
        if role == VERDICT_ROLE:
            return finding.verdict
        if role == USE_ROLE:
            return finding.utilisation
        if role == STALE_ROLE:
            return self._stale
        if role == MOVED_ROLE:
            return self._moved(finding)
        return finding if role == FINDING_ROLE else None

    def _text(self, finding: Finding, column: _Column) -> str:
        if column is COLUMNS[OF_PARENT]:
            return of_parent_text(self._besides.get(finding.key))
        return column.text(finding, self._system)

    def _of_parent(self, finding: Finding) -> float:
        beside = self._besides.get(finding.key)
        return _number(None if beside is None else beside.ratio)

    def _moved(self, finding: Finding) -> str:
        before = None if self._before is None else self._before.get(finding.key)
        now = finding.utilisation
        if before is None or now is None or abs(now - before) <= _NOTHING * max(now, before):
            return ""
        return "▲" if now > before else "▼"

    def _tip(self, finding: Finding, column: int) -> str:
        if column == KNOWN:
            return mark_in_words(finding.known)
        if column == SUBJECT:
            return f"{finding.name} ({finding.subject})"
        if column in (UTILISATION, VERDICT):
            return f"{SIGNS[finding.verdict]} {spoken(finding, self._system)}"
        if column == OF_PARENT:
            beside = self._besides.get(finding.key)
            return beside.words if beside else ""
        return COLUMNS[column].text(finding, self._system)


class FindingsFilter(QSortFilterProxyModel):
    """Findings that fit what is asked for, most used first until another order is chosen."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.setSortRole(SORT_ROLE)
        self._words: list[str] = []
        self._kinds: dict[str, str] = {}
        self._kind = self._aspect = self._verdict = self._by = ""
        self._system = System.METRIC

    @property
    def narrowed(self) -> bool:
        """Whether anything is asked for."""
        return bool(self._words or self._kind or self._aspect or self._verdict or self._by)

    def ask(
        self, *, text: str = "", kind: str = "", aspect: str = "", verdict: str = "", by: str = ""
    ) -> None:
        """Show only what fits; empty: any.

        Parameters
        ----------
        text
            Words, each of which a finding must have.
        kind, aspect, verdict
            Of the subject, and of the finding.
        by
            The method's own findings, or the mechanics': a kind of finding.
        """
        self._words = text.casefold().split()
        self._kind, self._aspect, self._verdict, self._by = kind, aspect, verdict, by
        self.invalidate()

    def know(self, kinds: dict[str, str], system: System) -> None:
        """Learn which subject is a panel and which a span, and the units that words are looked for in."""
        if kinds != self._kinds or system is not self._system:
            self._kinds, self._system = kinds, system
            self.invalidate()

    def filterAcceptsRow(self, source_row: int, source_parent: Index) -> bool:
        """Whether a finding fits."""
        model = self.sourceModel()
        finding = model.data(model.index(source_row, 0, source_parent), FINDING_ROLE)
        if not isinstance(finding, Finding):
            return False
        if self._kind and self._kinds.get(finding.subject) != self._kind:
            return False
        if self._aspect and finding.aspect.value != self._aspect:
            return False
        if self._by and finding.kind.value != self._by:
            return False
        if self._verdict and finding.verdict.value != self._verdict:
            return False
        if not self._words:
            return True
        text = "\t".join((finding.subject, row_text(finding, self._system), *finding.notes)).casefold()
        return all(word in text for word in self._words)


def _alignment(column: _Column) -> Qt.AlignmentFlag:
    side = Qt.AlignmentFlag.AlignRight if column.right else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter
