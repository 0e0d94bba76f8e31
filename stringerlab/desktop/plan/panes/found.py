"""The pane of what is found: panels and spans with their sizes and how much of each is used."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import QLabel, QSplitter, QVBoxLayout, QWidget

from stringerlab.desktop.plan.panes.readings import Column, Judged, ReadingsModel
from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.session import Session
from stringerlab.drawing.plan_results import worst_of
from stringerlab.layout import Panel, Span
from stringerlab.methods import Finding, Verdict, utilisation_text
from stringerlab.units import Kind, System
from stringerlab.units import format as shown


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundRow:
    """A panel or span that was found, how many are alike, and its worst finding."""

    subject: Panel | Span
    count: int
    worst: Finding | None
    blocked: str = ""
    """Why it is not judged; empty where it is."""

    @property
    def verdict(self) -> Verdict | None:
        """Of its worst finding; not judged where something is wrong."""
        if self.blocked:
            return Verdict.NOT_JUDGED
        return self.worst.verdict if self.worst else None

    @property
    def use(self) -> float | None:
        """How much of it is used."""
        return None if self.blocked or self.worst is None else self.worst.utilisation


def _length(value: float, system: System) -> str:
    return shown(value, Kind.LENGTH, system)


def _verdict(row: FoundRow, system: System) -> str:
    del system
    if row.blocked:
        return f"{Verdict.NOT_JUDGED}: {row.blocked}"
    return "computing…" if row.worst is None else f"{row.worst.verdict}: {row.worst.aspect}"


_NAME: Column[FoundRow] = Column(
    title="name",
    meaning="Between what it lies; its id is on the plan",
    width=150,
    right=False,
    text=lambda row, _: row.subject.name or row.subject.id,
)
_ID: Column[FoundRow] = Column(
    title="id", meaning="As on the plan", width=64, right=False, text=lambda row, _: row.subject.id
)
_AFTER: tuple[Column[FoundRow], ...] = (
    Column(
        title="x",
        meaning="From the transom to its middle",
        width=76,
        text=lambda row, system: _length(row.subject.x, system),
    ),
    Column(title="alike", meaning="How many the boat has", width=48, text=lambda row, _: str(row.count)),
    Column(
        title="utilisation",
        meaning="The greatest among its findings; ticks at 0.90 and 1.00",
        width=92,
        text=lambda row, _: utilisation_text(row.use),
    ),
    Column(
        title="verdict",
        meaning="Of that finding, and its aspect",
        width=200,
        right=False,
        text=_verdict,
    ),
)
PANELS: tuple[Column[FoundRow], ...] = (
    _NAME,
    _ID,
    Column(
        title="b",
        meaning="Short side, in the skin, from web root to web root",
        width=76,
        text=lambda row, system: _length(row.subject.b, system) if isinstance(row.subject, Panel) else "",
    ),
    Column(
        title="l",
        meaning="Long side, in the skin",
        width=76,
        text=lambda row, system: _length(row.subject.l, system) if isinstance(row.subject, Panel) else "",
    ),
    *_AFTER,
)
SPANS: tuple[Column[FoundRow], ...] = (
    _NAME,
    _ID,
    Column(
        title="lu",
        meaning="Unsupported length",
        width=76,
        text=lambda row, system: _length(row.subject.lu, system) if isinstance(row.subject, Span) else "",
    ),
    Column(
        title="s",
        meaning="Spacing, centre to centre, in the skin",
        width=76,
        text=lambda row, system: _length(row.subject.s, system) if isinstance(row.subject, Span) else "",
    ),
    *_AFTER,
)


def found_rows(session: Session) -> tuple[list[FoundRow], list[FoundRow]]:
    """Return the panels and spans found in the layout in use, with what the last check said of them."""
    resolved = session.resolved
    found = resolved.found
    if found is None:
        return [], []
    worst: Mapping[str, Finding] = worst_of(session.results.findings) if session.results else {}
    why = {id_: problems[0].what for id_, problems in resolved.blocked.items() if problems}
    panels = [
        FoundRow(
            subject=bay.panel, count=len(bay.rings), worst=worst.get(bay.id), blocked=why.get(bay.id, "")
        )
        for bay in found.bays
        if bay.panel is not None
    ]
    spans = [
        FoundRow(subject=one.span, count=one.span.count, worst=worst.get(one.id), blocked=why.get(one.id, ""))
        for one in found.spans
        if one.span is not None
    ]
    return panels, spans


class FoundPane(QWidget):
    """Panels at the left, spans at the right."""

    title = "Found"
    under = True
    """Whether it stands below the plan rather than beside it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.panels = ReadingsModel[FoundRow](PANELS, _key, _judged, _tip)
        self.spans = ReadingsModel[FoundRow](SPANS, _key, _judged, _tip)
        self.state = QLabel()
        self.state.setWordWrap(True)
        self.state.setProperty("faint", True)
        self.state.setAccessibleName("State of what is found")
        self.refresh()
        self.panel_table = self._table("Panels", self.panels)
        self.span_table = self._table("Spans", self.spans)
        self.panel_table.setContentsMargins(0, 0, 6, 0)
        self.span_table.setContentsMargins(6, 0, 0, 0)
        halves = QSplitter(Qt.Orientation.Horizontal)
        halves.addWidget(self.panel_table)
        halves.addWidget(self.span_table)
        halves.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 8)
        column.addWidget(self.state)
        column.addWidget(halves, 1)
        session.shown_changed.connect(self.refresh)
        session.results_changed.connect(self.refresh)

    def refresh(self) -> None:
        """Show what is found now."""
        session = self._session
        if session.shown is not session.project:
            return
        panels, spans = found_rows(session)
        for model, rows in ((self.panels, panels), (self.spans, spans)):
            model.show_all(rows, session.units, stale=not session.fresh)
        said = f"{len(panels)} panels and {len(spans)} spans are judged, each with its alikes once"
        if session.resolved.found is None:
            said = "No layout is in use: choose one over the plan"
        elif not session.fresh:
            said += "; computing…" if session.results is None else "; computing…, verdicts are of before"
        self.state.setText(f"{said}.")

    def _table(self, title: str, model: ReadingsModel[FoundRow]) -> PaneTable:
        table = PaneTable(self._session, title, model, lambda row: model.rows[row].subject.id)
        use = len(model.columns) - 2
        table.verdicts_in(use, use + 1)
        table.table.opened.connect(partial(self._open, model))
        return table

    def _open(self, model: ReadingsModel[FoundRow], index: QModelIndex) -> None:
        """Show the findings of a row."""
        self._session.take_to(model.rows[index.row()].subject.id)


def _key(row: FoundRow) -> str:
    return row.subject.id


def _judged(row: FoundRow) -> Judged:
    return Judged(verdict=row.verdict, use=row.use)


def _tip(row: FoundRow, system: System) -> str:
    return f"{row.subject.name} ({row.subject.id})\n{_verdict(row, system)}\nEnter shows its findings"
