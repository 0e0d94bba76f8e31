"""Panels, spans or zones as an editable table, with what is wrong, and what is found or who lies there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import radians
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt, Signal

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.models.subject_columns import FIELDS
from stringerlab.desktop.models.subject_field import Field, Subject
from stringerlab.desktop.models.subject_fields import hull_deadrise, suggested
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import STALE_ROLE, USE_ROLE, VERDICT_ROLE, use_text
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Panel, Span, Surface, Zone
from stringerlab.methods import Finding, Verdict
from stringerlab.project import edits
from stringerlab.project.plating import zones_under
from stringerlab.units import Kind, format

_USE = ("utilisation", "The greatest among its findings; ticks at 0.90 and 1.00", 86)
_UNDER = ("lies under", "Panels and spans that take their plating from it, or what is wrong", 240)
_WORDS: dict[type[Subject], str] = {Panel: "panel", Span: "span", Zone: "zone"}
_VERDICT = ("verdict", "The verdict of that finding and its aspect, or what is wrong", 180)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A panel or span, and what is known of it."""

    record: Subject
    worst: Finding | None
    judged: int
    unjudged: int
    problems: tuple[Problem, ...]
    under: tuple[str, ...] = ()
    """Of a zone: names of the panels and spans that it lies under."""

    @property
    def verdict(self) -> Verdict | None:
        """The verdict shown, None while there is none."""
        if self.problems:
            return Verdict.NOT_JUDGED
        return None if self.worst is None else self.worst.verdict


class SubjectsModel(QAbstractTableModel):
    """The panels, or the spans, of the committed project."""

    refused = Signal(str)
    """Why what was typed in a cell is not taken."""

    def __init__(self, session: Session, kind: type[Subject], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.kind = kind
        self.word = _WORDS[kind]
        self.fields = FIELDS[kind]
        self.use_column = -1 if kind is Zone else len(self.fields)
        self.verdict_column = len(self.fields) + (kind is not Zone)
        self._rows: list[Row] = []
        self._units = session.units
        self._names: object = None
        self._stale = False
        self._blocked: Mapping[str, tuple[Problem, ...]] = {}
        session.project_changed.connect(self.refresh)
        session.results_changed.connect(self.refresh)
        self.refresh()

    @property
    def records(self) -> Sequence[Subject]:
        """The records shown."""
        return [row.record for row in self._rows]

    @property
    def rows(self) -> Sequence[Row]:
        """The rows shown."""
        return self._rows

    def refresh(self) -> None:
        """Show what the session has."""
        session = self._session
        project = session.project
        found: dict[str, list[Finding]] = {}
        for finding in session.results.findings if session.results else ():
            found.setdefault(finding.subject, []).append(finding)
        if session.shown is project:
            self._blocked = session.resolved.blocked
        blocked = self._blocked
        if self.kind is Zone:
            rows = [_zone_row(zone, session) for zone in project.zones]
        else:
            held: Sequence[Subject] = project.panels if self.kind is Panel else project.spans
            rows = [_row(record, found.get(record.id, ()), blocked.get(record.id, ())) for record in held]
        names = (project.laminates, project.sections, project.craft)
        repaint = session.units is not self._units or session.fresh is self._stale or names != self._names
        self._units, self._stale, self._names = session.units, not session.fresh, names
        show_rows(self, self._rows, rows, lambda row: row.record.id)
        self._rows[:] = rows
        if repaint and rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, self.columnCount() - 1))

    # -- edits -----------------------------------------------------------------------------------

    def put(self, index: Index, value: Any) -> bool:
        """Change what a cell holds, a quantity given in the program's unit; return whether it was done."""
        field, record = self.field(index), self._rows[index.row()].record
        if field is None:
            return False
        changed = field.put(record, value)
        if changed == record:
            return True
        words = "Rename" if field.key == "name" else f"Change {field.title} of"
        return self._session.edit(f"{words} {self.word} '{record.name}'", edits.replaced, changed)

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take what was typed, in any unit; what does not read is refused with the reason."""
        field = self.field(index)
        if role != Qt.ItemDataRole.EditRole or field is None or not index.isValid():
            return False
        try:
            read = field.read(str(value), self._session.project)
        except StringerlabError as error:
            self.refused.emit(f"{self._rows[index.row()].record.name}, {field.title}: {error}")
            return False
        return self.put(index, read)

    def field(self, index: Index) -> Field | None:
        """Return the field of a cell, None for what is computed."""
        return self.fields[index.column()] if index.column() < len(self.fields) else None

    # -- as Qt asks ------------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many records there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else self.verdict_column + 1

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return what can be done with a cell."""
        flags = super().flags(index)
        if index.isValid() and self.field(index) is not None:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title and meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < self.columnCount():
            return None
        title, meaning, _ = self._head(section)
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return title
            case Qt.ItemDataRole.ToolTipRole:
                return meaning
            case Qt.ItemDataRole.TextAlignmentRole:
                return self._alignment(section)
            case _:
                return None

    def width(self, column: int) -> int:
        """Return the width a column begins with."""
        return self._head(column)[2]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid() or not 0 <= index.row() < len(self._rows):
            return None
        row = self._rows[index.row()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return self._text(row, index)
            case Qt.ItemDataRole.EditRole:
                field = self.field(index)
                text = self._text(row, index)
                return text if field is None else field.typed(row.record, self._session.project)
            case Qt.ItemDataRole.ToolTipRole:
                return self._tip(row, index)
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{self._head(index.column())[0]}: {self._text(row, index)}"
            case Qt.ItemDataRole.TextAlignmentRole:
                return self._alignment(index.column())
            case _:
                return self._own(row, role)

    def _own(self, row: Row, role: int) -> Any:
        if role == VERDICT_ROLE:
            return row.verdict
        if role == USE_ROLE:
            return None if row.problems or row.worst is None else row.worst.utilisation
        return self._stale if role == STALE_ROLE else None

    def _text(self, row: Row, index: Index) -> str:
        field = self.field(index)
        project = self._session.project
        if field is not None:
            text = field.shown(row.record, project)
            hull = suggested(row.record, project, project.units) if field.key == "deadrise" else ""
            elsewhere = not isinstance(row.record, Zone) and row.record.surface is not Surface.BOTTOM
            if field.key == "name" and elsewhere:
                return f"{text} · {row.record.surface.value}"
            return f"{text} {hull}".rstrip()
        if self.kind is Zone:
            return _under_text(row)
        if index.column() == self.use_column:
            return use_text(None if row.problems or row.worst is None else row.worst.utilisation)
        return _verdict_text(row)

    def _tip(self, row: Row, index: Index) -> str:
        field = self.field(index)
        if field is None:
            said = _under_text(row) if self.kind is Zone else _judged_text(row)
            return "\n".join(str(problem) for problem in row.problems) or said
        wrong = [problem for problem in row.problems if _is_of(problem, field)]
        if wrong:
            return "\n".join(str(problem) for problem in wrong)
        if field.kind is None:
            return f"{self._text(row, index)}\n{field.meaning}"
        if isinstance(row.record, Zone) or field.key != "deadrise":
            return field.meaning
        if row.record.surface is not Surface.BOTTOM:
            return f"{field.meaning}.\nOnly a bottom's counts"
        hull = hull_deadrise(self._session.project, row.record.x)
        if hull is None:
            return field.meaning
        there = format(radians(hull), Kind.ANGLE, self._units)
        return f"{field.meaning}.\nThe hull's deadrise there: {there}"

    def _head(self, column: int) -> tuple[str, str, int]:
        if column < len(self.fields):
            field = self.fields[column]
            return field.title, field.meaning, field.width
        if self.kind is Zone:
            return _UNDER
        return _USE if column == self.use_column else _VERDICT

    def _alignment(self, column: int) -> Qt.AlignmentFlag:
        right = column < len(self.fields) and self.fields[column].kind is not None
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        return side | Qt.AlignmentFlag.AlignVCenter


def _row(record: Subject, findings: Sequence[Finding], problems: Sequence[Problem]) -> Row:
    judged: list[Finding] = [finding for finding in findings if finding.utilisation is not None]
    unjudged = [finding for finding in findings if finding.utilisation is None]
    worst = max(judged or unjudged, key=lambda finding: finding.utilisation or 0.0, default=None)
    return Row(
        record=record,
        worst=worst,
        judged=len(judged),
        unjudged=len(unjudged),
        problems=tuple(problems),
    )


def _zone_row(zone: Zone, session: Session) -> Row:
    """Return a zone with the subjects over it, as the shown project has them."""
    project, subjects = session.shown, session.resolved.subjects
    return Row(
        record=zone,
        worst=None,
        judged=0,
        unjudged=0,
        problems=tuple(
            problem for problem in session.resolved.problems if f"({zone.id})" in problem.where.split(",")[0]
        ),
        under=tuple(one.name for one in subjects if zone in zones_under(project, one)),
    )


def _under_text(row: Row) -> str:
    if row.problems:
        first, *others = row.problems
        return f"{first.what}{f' (+{len(others)})' if others else ''}"
    return ", ".join(row.under) or "nothing yet: no panel or span takes its plating by place here"


def _verdict_text(row: Row) -> str:
    if row.problems:
        first, *others = row.problems
        more = f" (+{len(others)})" if others else ""
        return f"{Verdict.NOT_JUDGED.value}: {first.what}{more}"
    if row.worst is None:
        return "…"
    return f"{row.worst.verdict.value}: {row.worst.aspect.value}"


def _judged_text(row: Row) -> str:
    if row.worst is None:
        return "Not checked yet"
    unjudged = f", {row.unjudged} not judged" if row.unjudged else ""
    return f"{row.judged} findings judged{unjudged}; see the page Findings"


def _is_of(problem: Problem, field: Field) -> bool:
    return problem.where.endswith(f", {field.key}")
