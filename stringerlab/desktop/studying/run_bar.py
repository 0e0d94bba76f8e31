"""Ask for something that takes a while: a button, the progress with its words, Stop; what came of it, kept.

What a run brought is of the project it was asked of; when the boat has changed since, it says so and stays.
"""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QSizePolicy, QWidget

from stringerlab.desktop.jobs import Job, Watch
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.methods import method_named
from stringerlab.project import Paper, Project
from stringerlab.project.wishes import Wishes
from stringerlab.units import System

Token = tuple[Project, object]
"""A boat without what no run looks at, and the wish."""
_STALE_BOAT = "Of an earlier state of the boat: run again."
_STALE_WISH = "Of an earlier state of what is asked: run again."


class RunBar(QWidget):
    """Runs one thing off the window's thread at a time."""

    run_wanted = Signal()
    """The button was pressed."""
    finished = Signal(object)
    """What the run has brought."""
    failed = Signal(object)
    """The ``StringerlabError`` it ended with."""
    begun = Signal()
    """Another project was opened or begun: what was found is of none of it."""
    changed = Signal()
    """A run has begun or ended, or what came of one has become stale."""

    def __init__(
        self, session: Session, words: str, tip: str, parent: QWidget | None = None, *, worded: bool = False
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._worded = worded
        """Whether what a run brings are words with units in them, so that other units make it stale."""
        self._of: Token | None = None
        self._asked: Token | None = None
        self._plan: Callable[[], object] = lambda: None
        self.run = QPushButton(words)
        self.run.setToolTip(tip)
        self.run.clicked.connect(self.run_wanted)
        self.stop = QPushButton("Stop")
        self.stop.setToolTip("End the run; what the last one brought stays")
        self.stop.clicked.connect(self.cancel)
        self.bar = QProgressBar()
        self.bar.setAccessibleName(f"Progress: {words}")
        self.bar.setRange(0, 1000)
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(140)
        self.says = QLabel()
        self.says.setAccessibleName(f"State: {words}")
        self.says.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.job = Job(self)
        self.job.finished.connect(self._take)
        self.job.failed.connect(self._fail)
        self.job.progress.connect(self._progress)
        self.job.busy_changed.connect(self._busy)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for part in (self.run, self.stop, self.bar):
            row.addWidget(part)
        row.addWidget(self.says, 1)
        self._busy(False)
        session.project_changed.connect(self._project_changed)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def busy(self) -> bool:
        """Whether a run is under way."""
        return self.job.busy

    @property
    def stale(self) -> bool:
        """Whether what the last run brought is of another boat, or of another wish, than there is now."""
        return self._of is not None and self._of != self._now()

    @property
    def has_run(self) -> bool:
        """Whether a run has brought something."""
        return self._of is not None

    def wish(self, plan: Callable[[], object]) -> None:
        """Say what, beside the boat, a run is asked by: when it has changed, what came is stale too."""
        self._plan = plan

    def start(self, work: Callable[[Watch], object]) -> None:
        """Run something; what is under way ends."""
        with suppress(StringerlabError):  # loaded here first, as for the check; a run says what is missing
            method_named(self._session.project.method)
        self._asked = self._now()
        self.bar.setValue(0)
        self.says.setText("Running …")
        self.job.start(work)

    def cancel(self) -> None:
        """End what is under way."""
        if self.job.busy:
            self.job.cancel()
            self.says.setText("Stopped.")
            self.look(keep=True)

    def forget(self) -> None:
        """End what is under way, and know nothing of what came before."""
        self.job.cancel()
        self._of = None
        self.says.setText("")

    @property
    def token(self) -> Token | None:
        """What the last run was asked of."""
        return self._of

    def recall(self, token: Token | None) -> None:
        """Take what is shown now to be of that, None for nothing, as when another of several is chosen."""
        self._of = token
        if not self.job.busy and self.says.text() not in (_STALE_BOAT, _STALE_WISH):
            self.says.setText("")
        self.look()

    def look(self, *, keep: bool = False) -> None:
        """Say whether what there is is still of this boat."""
        if not self.job.busy and self.stale and not keep:
            boat = self._of is None or self._of[0] != self._now()[0]
            self.says.setText(_STALE_BOAT if boat else _STALE_WISH)
        elif self.says.text() in (_STALE_BOAT, _STALE_WISH) and not self.stale:
            self.says.setText("")
        self.changed.emit()

    # -- inside ----------------------------------------------------------------------------------

    def _now(self) -> Token:
        """Return the boat without what no run looks at, and the wish."""
        held = self._session.project
        units = held.units if self._worded else System.METRIC
        bare = replace(held, wishes=Wishes(), paper=Paper(), units=units, notes="", counter=1)
        return bare, self._plan()

    def _project_changed(self) -> None:
        if self._session.undo_label is None and self._session.redo_label is None:
            self.forget()
            self.begun.emit()
        self.look()

    def _busy(self, busy: bool) -> None:
        self.run.setEnabled(not busy)
        self.stop.setVisible(busy)
        self.bar.setVisible(busy)
        self.changed.emit()

    def _progress(self, part: float, words: str) -> None:
        self.bar.setValue(round(part * 1000))
        self.says.setText(f"{words}, {part:.0%}")
        self.says.setToolTip(self.says.text())

    def _take(self, brought: object) -> None:
        self._of = self._asked
        self.says.setText("")
        self.finished.emit(brought)
        self.look()

    def _fail(self, error: StringerlabError) -> None:
        self.says.setText("It could not be done.")
        self.failed.emit(error)
