"""Size for me: what may change, what must hold, what to lower at the left; what was found at the right."""

from collections.abc import Callable
from time import monotonic

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.jobs import Job, Watch
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.asking import Asked, asked, sound_usual
from stringerlab.desktop.sizing.changing import Changing
from stringerlab.desktop.sizing.fields import line
from stringerlab.desktop.sizing.holding import Holding
from stringerlab.desktop.sizing.lowering import Lowering
from stringerlab.desktop.sizing.results import STALE_BOAT, STALE_PLAN, ResultsView
from stringerlab.desktop.title_block import Elided
from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.project.wish_edits import boat_alone, variables_in, with_variables
from stringerlab.project.wishes import Number, Plies
from stringerlab.sizing.records import Sized

Find = Callable[[Project, Watch, bool], Sized]
"""Finds designs of a project's plan, told whether the mechanics are asked too."""

_LEFT = 372
_SILENT = 3
"""After so many seconds without a part done it is said how long it takes already."""
_EMPTY, _FOUND = range(2)
_ANY_HEIGHT = 16_777_215
"""What Qt takes for no limit of a height, in pixels."""
_NOTHING_MARKED = (
    "The program proposes designs of this boat that hold and are lighter.\n\n"
    "Mark what may change at the left: heights, widths, plies, spacing, transverses. "
    "Then say what must hold and what to lower, and run."
)
_READY = (
    "Nothing is run yet.\n\n"
    "Look over what may change, what must hold and what to lower at the left, then press Run."
)
_SEEKING = "Seeking designs …\n\nWhat is found stands here at the end; look elsewhere meanwhile if you like."
_COUNTING = "Counting designs …"


def found(project: Project, watch: Watch, mechanics: bool) -> Sized:
    """Find designs as the command line does, on as many workers as help."""
    from stringerlab.sizing.searching.size import size

    return size(project, watch=watch, mechanics=mechanics)


class SizePage(QWidget):
    """The page. A run goes on, and its result stays, while a person looks elsewhere."""

    title = "Size for me"

    def __init__(self, session: Session, parent: QWidget | None = None, find: Find = found) -> None:
        super().__init__(parent)
        self._session = session
        self._find = find
        self._running: Project | None = None
        self._of: list[Project] = []
        """What was sized, and the same boat with designs opened beside her."""
        self._stale = (False, False)
        """Whether the boat had been changed since before the last edit, and whether she is now."""
        self._asked_of: Project | None = None
        self._began = 0.0
        """When the search under way began [s]."""
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._failed)
        self._job.progress.connect(self._progress)
        self._job.busy_changed.connect(self._busy)
        self._count = Job(self)
        self._count.finished.connect(self._counted)
        self._count.failed.connect(session.problem)
        self._count.progress.connect(self._counted_so_far)
        self._usual = Job(self)
        self._usual.finished.connect(self._offered)
        self._usual.failed.connect(session.problem)
        self.changing = Changing(session)
        self.changing.usual_wanted.connect(self.take_usual)
        self.holding = Holding(session)
        self.lowering = Lowering(session)
        self.results = ResultsView(session)
        self.results.pane.found_of = lambda: tuple(self._of)
        self.results.pane.opened_beside.connect(self._opened_beside)
        self.count = QLabel()
        self.count.setAccessibleName("How many designs there are")
        self.count.setWordWrap(True)
        self.strip = ProblemStrip("What is wrong with what is asked")
        self.strip.wanted.connect(session.take_to)
        self.mechanics = QCheckBox("Mechanics of each too")
        self.mechanics.setToolTip(
            "Every design found is also checked by the mechanics and the grid: slower, and no rule.\n"
            "Without it the grid is judged only by Check it wholly"
        )
        self.run_button = QPushButton("Run")
        self.run_button.setDefault(True)
        self.run_button.setToolTip("Search for designs (Ctrl+Enter); again: stop")
        self.run_button.clicked.connect(self.run_or_stop)
        self.bar = QProgressBar()
        self.bar.setAccessibleName("Progress")
        self.bar.setTextVisible(False)
        self.bar.setRange(0, 1000)
        self.bar.setMinimumWidth(60)
        self.bar.hide()
        self.doing = Elided("What is being done")
        self.doing.setProperty("faint", True)
        self._state = QStackedWidget()
        """How many designs there are; while they are sought, what is being done."""
        self._state.addWidget(self.count)
        self._state.addWidget(self.doing)
        self._state.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self._lay_out()
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            short = QShortcut(QKeySequence(keys), self)
            short.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            short.activated.connect(self.run_or_stop)
        session.project_changed.connect(self.refresh)
        self.refresh()

    # -- parts -----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        groups = QWidget()
        column = QVBoxLayout(groups)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(4)
        for part in (self.changing, self.holding, self.lowering):
            column.addWidget(part)
        column.addStretch(1)
        form = QScrollArea()
        form.setWidget(groups)
        form.setWidgetResizable(True)
        form.setFrameShape(QFrame.Shape.NoFrame)
        form.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        form.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        left = QWidget()
        left.setFixedWidth(_LEFT)
        asks = QVBoxLayout(left)
        asks.setContentsMargins(0, 0, 0, 0)
        asks.setSpacing(6)
        asks.addWidget(heading)
        asks.addWidget(form, 1)
        asks.addWidget(self.strip)
        asks.addWidget(self._state)
        asks.addLayout(line(self.run_button, self.mechanics, self.bar, None))
        self.says = QLabel()
        self.says.setWordWrap(True)
        self.says.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.usual_button = QPushButton("Offer me the usual")
        self.usual_button.setToolTip("Let the heights of the hats in use and their plies change")
        self.usual_button.clicked.connect(self.take_usual)
        empty = QWidget()
        middle = QVBoxLayout(empty)
        middle.setContentsMargins(60, 0, 60, 0)
        middle.setSpacing(16)
        middle.addStretch(1)
        middle.addWidget(self.says)
        middle.addWidget(self.usual_button, 0, Qt.AlignmentFlag.AlignCenter)
        middle.addStretch(1)
        self._stack = QStackedWidget()
        self._stack.addWidget(empty)
        self._stack.addWidget(self.results)
        page = QHBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(16)
        page.addWidget(left)
        page.addWidget(self._stack, 1)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def sized(self) -> Sized | None:
        """What was found last."""
        return self.results.sized

    @property
    def busy(self) -> bool:
        """Whether designs are being sought."""
        return self._job.busy

    @property
    def counting(self) -> bool:
        """Whether the space is being counted, or what may change is being looked for."""
        return self._count.busy or self._usual.busy

    def refresh(self) -> None:
        """Show what the committed project asks, and whether the result is of an earlier state."""
        if self._another_boat():
            self._job.cancel()
            self._running, self._of = None, []
            self.results.clear()
        for part in (self.changing, self.holding, self.lowering):
            part.refresh()
        self.results.refresh()
        self._mark()
        self._show()
        self._ask()

    def take_usual(self) -> None:
        """Mark the usual as what may change, once it is seen how far the boat can be drawn so."""
        project = self._session.project
        self._usual.start(lambda watch: (project, sound_usual(project, watch)))

    def run_or_stop(self) -> None:
        """Seek designs of what is asked, or stop seeking; what was found before stays."""
        if self._job.busy:
            self._job.cancel()
            self._session.said.emit("The search is stopped; what was found before stays.")
            return
        if not self.run_button.isEnabled():
            return
        project = self._running = self._session.project
        find, mechanics = self._find, self.mechanics.isChecked()
        self.bar.setValue(0)
        self.doing.say("Beginning …")
        self._began = monotonic()
        self._job.start(lambda watch: find(project, watch, mechanics))

    def stop(self) -> None:
        """End everything under way, and wait for it."""
        for job in (self._job, self._count, self._usual):
            job.stop()
        self.results.pane.stop()

    def showEvent(self, event: QShowEvent) -> None:
        """Count what changed while this was not seen."""
        super().showEvent(event)
        self._ask()

    # -- inside ----------------------------------------------------------------------------------

    def _ask(self) -> None:
        """Count the designs and find what is wrong with the plan, where this is seen and another asks."""
        project = self._session.project
        if self.isVisible() and self._asked_of is not project:
            self._asked_of = project
            if not self.count.text():
                self.count.setText(_COUNTING)
            self._count.start(lambda watch: (project, asked(project, watch)))

    def _another_boat(self) -> bool:
        """Whether another project was begun since designs were sought: its history is then an empty one."""
        session = self._session
        known = [one for one in (self._running, *self._of) if one is not None]
        began = session.undo_label is None and session.redo_label is None
        return began and bool(known) and all(one is not session.project for one in known)

    def _counted_so_far(self, fraction: float, what: str) -> None:
        del fraction
        self.count.setText(what)

    def _offered(self, brought: tuple[Project, tuple[Number | Plies, ...]]) -> None:
        project, wished = brought
        if project is not self._session.project:
            return
        if wished:
            self._session.edit("Let the usual change", with_variables, *wished)
        else:
            self._session.said.emit("No section is drawn as a hat: choose from the menu what may change.")

    def _counted(self, brought: tuple[Project, Asked]) -> None:
        project, of = brought
        if project is not self._session.project:
            return
        self.count.setText(of.words)
        self.changing.say(of.problems)
        self.holding.say(of.problems)
        self.lowering.say(of.lower)
        self.strip.show_problems(of.elsewhere)
        self._show()
        self.run_button.setEnabled(self._job.busy or of.may_run)

    def _take(self, sized: Sized) -> None:
        self._of = [self._running] if self._running else []
        self.results.show_sized(sized)
        self._mark()
        self._show()
        count = len(sized.front)
        said = f"{count} design{'s' if count != 1 else ''} found" if count else "Nothing holds every demand"
        self._session.said.emit(f"Size for me: {said}.")

    def _failed(self, error: StringerlabError) -> None:
        self._session.problem.emit(error)
        self.strip.show_problems([(str(problem), "") for problem in error.problems])

    def _progress(self, fraction: float, what: str) -> None:
        self.bar.setValue(round(1000 * fraction))
        gone = round(monotonic() - self._began)
        self.doing.say(what if fraction > 0 or gone < _SILENT else f"{what}, {gone} s so far")

    def _busy(self, busy: bool) -> None:
        self.run_button.setText("Stop" if busy else "Run")
        self.bar.setVisible(busy)
        held = self._state.height() if busy else None  # nothing above moves when a run begins or ends
        self._state.setMinimumHeight(held or 0)
        self._state.setMaximumHeight(held or _ANY_HEIGHT)
        self._state.setCurrentWidget(self.doing if busy else self.count)
        self.mechanics.setEnabled(not busy)
        self._show()

    def _mark(self) -> None:
        """Mark the result as of an earlier state where the boat or the plan is another by now."""
        of, now = self._of, self._session.project
        self._stale = (self._stale[1], False)
        if of:
            boat = all(boat_alone(one) != boat_alone(now) for one in of)
            plan = of[0].wishes.sizing != now.wishes.sizing
            said = (*([STALE_BOAT] if boat else []), *([STALE_PLAN] if plan else []))
            self.results.mark_stale(" ".join(said))
            self._stale = (self._stale[0], boat)

    def _opened_beside(self) -> None:
        """Hold the boat to be the same with a design beside her, if she was before that."""
        if not self._stale[0]:
            self._of.append(self._session.project)
            self._mark()

    def _show(self) -> None:
        marked = bool(variables_in(self._session.project.wishes.sizing))
        busy = self._job.busy
        self.says.setText(_SEEKING if busy else _READY if marked else _NOTHING_MARKED)
        self.usual_button.setVisible(not marked and not busy)
        self._stack.setCurrentIndex(_EMPTY if self.sized is None else _FOUND)
