"""The pane of the grid: what every span carries, reactions, frequencies; what is laid over the plan."""

from collections.abc import Sequence
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
from stringerlab.desktop.plan.live_grid import CoarseGrid, LiveGrid
from stringerlab.desktop.plan.panes.grid_rows import (
    REACTIONS,
    SPANS,
    SpanRow,
    frequency_words,
    note_words,
    span_rows,
)
from stringerlab.desktop.plan.panes.legend import LegendView
from stringerlab.desktop.plan.panes.readings import ReadingsModel
from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.player import PictureView
from stringerlab.desktop.session import Session
from stringerlab.drawing import Picture
from stringerlab.drawing.plan_deflected import deflected_picture
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plan_results import Overlaid, Overlay, governing_case, plan_results
from stringerlab.methods import Finding
from stringerlab.project import Project, Resolved
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
_NO_GRID = "No span of this layout can be analysed: what is amiss is marked on the plan, and listed by F8."
_RULE = "Load shared by the grid is first principles, and never rule compliance."


class GridPane(QWidget):
    """Tables of the grid's results; ``overlaid`` tells what is to be laid over the plan."""

    title = "Grid"
    under = True
    """Whether it stands below the plan rather than beside it."""
    overlaid = Signal(object)
    """A `Picture`, empty for none."""
    moved = Signal(object)
    """The `Picture` for the frames of a drag, of a coarse analysis; empty for none."""

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
            session, "Spans", self.spans, lambda row: self.spans.rows[row].span.id, rows=2
        )
        self.reaction_table = PaneTable(session, "Reactions", self.reactions, lambda _: "")
        self.frequencies = QLabel()
        self.frequencies.setWordWrap(True)
        self.frequencies.setMargin(8)
        self.bent = PictureView("Deflected shape")
        self.notes = QLabel()
        self.notes.setWordWrap(True)
        self.notes.setMargin(8)
        self.notes.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.notes.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.frequencies.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._of_bent: tuple[object, ...] = ()
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.setAccessibleName("Results of the grid")
        for widget, name in (
            (self.span_table, "Spans"),
            (self.reaction_table, "Reactions"),
            (_rolled(self.frequencies), "Frequencies"),
            (self.bent, "Shape"),
            (_rolled(self.notes), "Notes"),
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
        scroll = _rolled(left)
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
        self._coarse: CoarseGrid | None = None
        self._live = LiveGrid(self)
        self._live.found.connect(self._found_coarse)
        session.shown_changed.connect(self._follow)
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
        self.frequencies.setText(frequency_words(grid))
        self.notes.setText(note_words(grid))
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
            return _NO_GRID if session.fresh else "computing…"
        if not grid.is_solved:
            return "The grid could not be analysed:"
        said = f"{len(grid.cases)} load cases on {len(grid.spans)} spans. {_RULE}"
        if isfinite(grid.residual):
            said += f" Residual {grid.residual:.0e}, out of balance {grid.imbalance:.0e} of the load."
        if grid.coarse:
            said += " Coarse: patches on their own subject only."
        return said if session.fresh else f"computing… These results are of before the last change. {said}"

    def _subject(self, grid: GridResults | None = None) -> str:
        grid, id_ = grid or self.grid, self._session.selected
        if grid is None or id_ in grid.spans:
            return id_
        found = grid.ground.found
        if any(bay.id == id_ for bay in found.bays):
            return id_
        own = [span.id for span in found.spans if span.member == id_ and span.id in grid.spans]
        return max(own, key=lambda each: abs(grid.spans[each].M_max.value), default="")

    def _overlaid(self) -> Overlaid:
        results, coarse = self._session.results, self._coarse
        if self._overlay is None:
            return Overlaid(picture=Picture())
        if coarse is not None and coarse.project is self._session.project and self._of_grid:
            return self._over(self._overlay, coarse.project, coarse.resolved, coarse.grid)
        if results is None:
            return Overlaid(picture=Picture(), note="computing…")
        return self._over(self._overlay, results.project, results.resolved, self.grid, results.findings)

    def _over(
        self,
        overlay: Overlay,
        project: Project,
        resolved: Resolved,
        grid: GridResults | None,
        findings: Sequence[Finding] = (),
        *,
        veil: bool = True,
    ) -> Overlaid:
        if resolved.found is None:
            return Overlaid(picture=Picture(), note="computing…")
        layout = layout_in_use(project)
        widths = widths_of(resolved, layout) if layout else {}
        return plan_results(
            overlay,
            resolved.found,
            findings=findings,
            grid=grid,
            subject=self._subject(grid),
            options=PlanOptions(units=self._session.units, widths=widths, veil=veil),
        )

    @property
    def _of_grid(self) -> bool:
        """Whether what is laid over the plan is of the grid rather than of findings."""
        return self._overlay not in (None, Overlay.USE)

    def _follow(self) -> None:
        """Have the grid of a drag's frame, or of the edit just made, analysed coarsely."""
        session = self._session
        if self._of_grid and (session.shown is not session.project or not session.fresh):
            self._live.follow(session.shown, session.resolved)
        else:
            self._live.leave()
            self.moved.emit(Picture())

    def _found_coarse(self, found: CoarseGrid) -> None:
        if self._overlay is None or not self._of_grid or not found.grid.is_solved:
            return
        if found.project is self._session.project:
            if not self._session.fresh:
                self._coarse = found
                self._lay()
        elif self._session.shown is not self._session.project:
            over = self._over(self._overlay, found.project, found.resolved, found.grid, veil=False)
            self.moved.emit(over.picture)

    def _lay(self) -> None:
        if self._session.fresh:
            self._coarse = None
        over = self._overlaid()
        quick = self._coarse is not None and self._coarse.project is self._session.project
        before = "Coarse, until the check is done: " if quick else "Of before the last change: "
        if self._session.fresh or not over.note:
            before = ""
        self.note.setText(f"{before}{over.note.rstrip('.')}." if over.note else "")
        self.note.setVisible(bool(over.note))
        self.legend.show_rows(over.legend)
        self.moved.emit(Picture())
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


def _rolled(widget: QWidget) -> QScrollArea:
    """Return room for a widget that scrolls where it is higher."""
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    scroll.setWidget(widget)
    return scroll
