"""The pane of the grid: what every span carries, reactions, frequencies; what is laid over the plan."""

from functools import partial
from math import isfinite

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QLabel,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QTabWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess.grid import GridResults, Reaction
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.plan.panes.grid_rows import REACTIONS, SPANS, SpanRow, span_rows
from stringerlab.desktop.plan.panes.legend import LegendView
from stringerlab.desktop.plan.panes.readings import ReadingsModel
from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.player import PictureView
from stringerlab.desktop.session import Session
from stringerlab.drawing import Picture
from stringerlab.drawing.plan_deflected import deflected_picture
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plan_results import Overlaid, Overlay, governing_case, plan_results
from stringerlab.project.finding import layout_in_use

_NAMES = {
    None: ("None", "The plan alone"),
    Overlay.USE: ("Utilisation", "The worst aspect of every panel and span"),
    Overlay.MOMENT: ("Moment", "Bending moments along members, both signs, worst of all load cases"),
    Overlay.SHEAR: ("Shear", "Shear forces along members, worst of all load cases"),
    Overlay.DEFLECTION: (
        "Deflection",
        "Under the case that governs the selected span, else the worst span's",
    ),
    Overlay.REACTIONS: ("Reactions", "What the supports take"),
    Overlay.PATCH: ("Patch", "The slam patch that governs the selected panel or span"),
}
_BAR = 14
"""Room for a scroll bar."""
_RULE = "Load shared by the grid is first principles, and never rule compliance."


class GridPane(QWidget):
    """Tables of the grid's results; ``overlaid`` tells what is to be laid over the plan."""

    title = "Grid"
    under = True
    """Whether it stands below the plan rather than beside it."""
    overlaid = Signal(object)
    """A `Picture`, empty for none."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._overlay: Overlay | None = None
        self.state = QLabel()
        self.state.setWordWrap(True)
        self.state.setAccessibleName("State of the grid")
        self.strip = ProblemStrip("Problems of the grid")
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setAccessibleName("What is laid over the plan")
        self.legend = LegendView()
        self.spans = ReadingsModel[SpanRow](SPANS, lambda row: row.span.id)
        self.reactions = ReadingsModel[Reaction](REACTIONS, lambda one: (one.key, one.at))
        self.span_table = PaneTable(
            session, "Spans", self.spans, lambda row: self.spans.rows[row].span.id, rows=6
        )
        self.reaction_table = PaneTable(session, "Reactions", self.reactions, lambda _: "")
        self.frequencies = QLabel()
        self.frequencies.setWordWrap(True)
        self.frequencies.setMargin(8)
        self.bent = PictureView("Deflected shape")
        self._of_bent: tuple[object, ...] = ()
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.setAccessibleName("Results of the grid")
        for widget, name in (
            (self.span_table, "Spans"),
            (self.reaction_table, "Reactions"),
            (self.frequencies, "Frequencies"),
            (self.bent, "Shape"),
        ):
            self.tabs.addTab(widget, name)
        self.tabs.currentChanged.connect(self._show_bent)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 4, 0)
        column.addLayout(self._buttons())
        for widget in (self.note, self.legend, self.state, self.strip):
            column.addWidget(widget)
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(left)
        scroll.setMinimumWidth(left.minimumSizeHint().width() + _BAR)
        halves = QSplitter()
        halves.addWidget(scroll)
        halves.addWidget(self.tabs)
        halves.setStretchFactor(1, 1)
        halves.setSizes([330, 600])
        halves.setChildrenCollapsible(False)
        row = QVBoxLayout(self)
        row.setContentsMargins(8, 8, 8, 8)
        row.addWidget(halves)
        session.results_changed.connect(self.refresh)
        session.selection_changed.connect(self._reselected)
        self.refresh()

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def overlay(self) -> Overlay | None:
        """What is laid over the plan, None for nothing."""
        return self._overlay

    @property
    def grid(self) -> GridResults | None:
        """The grid of the last check, which may be of an earlier project."""
        results = self._session.results
        return None if results is None else results.grid

    def lay(self, overlay: Overlay | None) -> None:
        """Lay something over the plan, or nothing."""
        self._overlay = overlay
        self.buttons[overlay].setChecked(True)
        self._lay()

    def refresh(self) -> None:
        """Show what the last check found."""
        session, grid = self._session, self.grid
        stale = not session.fresh
        solved = grid is not None and grid.is_solved
        self.spans.show_all(span_rows(grid) if grid and solved else (), session.units, stale=stale)
        self.reactions.show_all(grid.reactions if grid else (), session.units, stale=stale)
        self.state.setText(self._said(grid))
        problems = [(str(placed.problem), "") for placed in grid.problems] if grid else []
        self.strip.show_problems(problems)
        self.frequencies.setText(_frequency_words(grid))
        self._lay()
        self._show_bent()

    # -- inside ----------------------------------------------------------------------------------

    def _buttons(self) -> QGridLayout:
        self.buttons: dict[Overlay | None, QToolButton] = {}
        group = QButtonGroup(self)
        group.setExclusive(True)
        rows = QGridLayout()
        rows.setSpacing(4)
        for number, (overlay, (name, tip)) in enumerate(_NAMES.items()):
            button = QToolButton()
            button.setText(name)
            button.setToolTip(tip)
            button.setAccessibleName(f"Over the plan: {name}")
            button.setCheckable(True)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.setChecked(overlay is None)
            button.clicked.connect(partial(self.lay, overlay))
            group.addButton(button)
            rows.addWidget(button, number // 4, number % 4)
            self.buttons[overlay] = button
        return rows

    def _said(self, grid: GridResults | None) -> str:
        session = self._session
        if layout_in_use(session.project) is None:
            return "No layout is in use, so there is no grid."
        if grid is None:
            return "computing…" if not session.fresh else "The last check has no grid."
        if not grid.is_solved:
            return "The grid could not be analysed:"
        said = f"{len(grid.cases)} load cases on {len(grid.spans)} spans. {_RULE}"
        if isfinite(grid.residual):
            said += f" Residual {grid.residual:.0e}, out of balance {grid.imbalance:.0e} of the load."
        if grid.coarse:
            said += " Coarse: patches on their own subject only."
        return said if session.fresh else f"computing… These results are of before the last change. {said}"

    def _subject(self) -> str:
        grid, id_ = self.grid, self._session.selected
        if grid is None or id_ in grid.spans:
            return id_
        found = grid.ground.found
        if any(bay.id == id_ for bay in found.bays):
            return id_
        own = [span.id for span in found.spans if span.member == id_ and span.id in grid.spans]
        return max(own, key=lambda each: abs(grid.spans[each].M_max.value), default="")

    def _overlaid(self) -> Overlaid:
        results = self._session.results
        if self._overlay is None:
            return Overlaid(picture=Picture())
        if results is None or results.resolved.found is None:
            return Overlaid(picture=Picture(), note="computing…")
        layout = layout_in_use(results.project)
        widths = widths_of(results.resolved, layout) if layout else {}
        return plan_results(
            self._overlay,
            results.resolved.found,
            findings=results.findings,
            grid=self.grid,
            subject=self._subject(),
            options=PlanOptions(units=self._session.units, widths=widths, veil=True),
        )

    def _lay(self) -> None:
        over = self._overlaid()
        before = "" if self._session.fresh or not over.note else "Of before the last change: "
        self.note.setText(f"{before}{over.note}." if over.note else "")
        self.note.setVisible(bool(over.note))
        self.legend.show_rows(over.legend)
        self.overlaid.emit(over.picture)

    def _reselected(self) -> None:
        if self._overlay in (Overlay.DEFLECTION, Overlay.PATCH):
            self._lay()
        self._show_bent()

    def _show_bent(self) -> None:
        """Make the deflected shape where it is seen."""
        grid = self.grid
        if self.tabs.currentWidget() is not self.bent:
            return
        if grid is None or not grid.is_solved:
            self._of_bent = ()
            self.bent.show_picture(Picture())
            return
        case = governing_case(grid, self._subject())
        key = (grid, case, self._session.units)
        if key != self._of_bent:
            self._of_bent = key
            self.bent.show_picture(
                deflected_picture(grid, case, options=PlanOptions(units=self._session.units))
            )


def _frequency_words(grid: GridResults | None) -> str:
    if grid is None or not grid.frequencies:
        return "No natural frequencies are known."
    rows = [
        f"{number}.  {each:.1f} Hz,  {60 * each:.0f} a minute"
        for number, each in enumerate(grid.frequencies, 1)
    ]
    turning = [
        f"{thing.name} turns at {thing.speed / 60:.1f} Hz"
        for thing in grid.ground.layout.equipment
        if thing.speed > 0
    ]
    return "\n".join(["Natural frequencies in air; water that moves along lowers them.", *rows, *turning])
