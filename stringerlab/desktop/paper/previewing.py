"""When a document's pages are set anew: by itself where that is quick, else when a person asks for it."""

from collections.abc import Callable
from enum import Enum, auto
from time import monotonic

from PySide6.QtCore import QObject, QTimer, Signal

from stringerlab.desktop.jobs import Job, Watch
from stringerlab.desktop.paper.documents import Given, Made, Wanted, load_libraries, preview
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError

QUICK = 4.0
"""Seconds that pages may have taken for them to be set anew by themselves after an edit."""
_SETTLE = 350
"""Milliseconds without another edit before pages are set anew."""


class State(Enum):
    """What the pages shown are."""

    NONE = auto()
    WAITING = auto()
    """For the check, whose results they will show."""
    SETTING = auto()
    FRESH = auto()
    STALE = auto()
    """Of before the last change."""
    STOPPED = auto()
    REFUSED = auto()


class Previewer(QObject):
    """Keeps the pages of one document; ``changed`` tells of every change of state."""

    changed = Signal()
    progress = Signal(float, str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.maker: Callable[[Wanted, Given, Watch], Made] = preview
        self.wanted = Wanted()
        self.made: Made | None = None
        self.error: StringerlabError | None = None
        self.quick = QUICK
        self._stopped = False
        self._waits = False
        self._seen = False
        self._took = 0.0
        self._begun = 0.0
        self._of: tuple[object, ...] = ()
        """What the pages under way, or those last set or refused, are of."""
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._refuse)
        self._job.progress.connect(self.progress)
        self._pause = QTimer(self, singleShot=True, interval=_SETTLE)
        self._pause.timeout.connect(self._settled)
        session.project_changed.connect(self._went)
        session.results_changed.connect(self._judged)
        session.busy_changed.connect(self._ended)
        session.file_changed.connect(self._went)

    # -- what it is ------------------------------------------------------------------------------

    @property
    def state(self) -> State:
        """What the pages are."""
        if self._job.busy:
            return State.SETTING
        if self._waits or self._pause.isActive():
            return State.WAITING
        if self._stopped:
            return State.STOPPED
        if self.error is not None and self._is_now(self._of):
            return State.REFUSED
        if self.made is None:
            return State.NONE
        return State.FRESH if self._is_now(_of(self.made.wanted, self.made.given)) else State.STALE

    @property
    def settled(self) -> bool:
        """Whether nothing is under way and nothing is waited for."""
        return self.state not in (State.SETTING, State.WAITING)

    def given(self) -> Given:
        """Return what a document is made from now."""
        session = self._session
        results = session.results if session.fresh else None
        return Given(project=session.project, path=session.path, results=results)

    # -- what is asked of it ---------------------------------------------------------------------

    def want(self, wanted: Wanted) -> None:
        """Ask for another document, or for other things in it."""
        if wanted != self.wanted:
            self.wanted = wanted
            self.made = None
            self._took, self._stopped = 0.0, False
            self._job.cancel()
            if self._seen:
                self.refresh()
            self.changed.emit()

    def refresh(self) -> None:
        """Set the pages of the project as it is now."""
        self._stopped, self.error = False, None
        self._pause.stop()
        if self._session.busy and not self._session.fresh:
            self._waits = True  # the results of the check under way are those of the pages
        else:
            self._order()
        self.changed.emit()

    def stop(self) -> None:
        """Give up what is under way or waited for."""
        self._stopped = not self.settled
        self._waits = False
        self._pause.stop()
        self._job.cancel()
        self.changed.emit()

    def see(self, seen: bool) -> None:
        """Say whether the pages can be seen: while they cannot, none are set."""
        self._seen = seen
        if not seen:
            self._waits = False
            self._pause.stop()
            if self._job.busy:
                self._of = ()
                self._job.cancel()
        elif self.state in (State.NONE, State.STALE):
            self._went()

    # -- inside ----------------------------------------------------------------------------------

    def _is_now(self, of: tuple[object, ...]) -> bool:
        return of == _of(self.wanted, self.given())

    def _went(self) -> None:
        """Set the pages anew in a while, where that is quick; those of another boat go at once."""
        if self.made is not None and self._begun_anew():
            self.made, self._took = None, 0.0
        if self._job.busy and not self._is_now(self._of):
            self._job.cancel()
        if self._seen and not self._stopped and not self._is_now(self._of) and self._took <= self.quick:
            self._pause.start()
        self.changed.emit()

    def _begun_anew(self) -> bool:
        """Whether another project has been opened since the pages were set: nothing leads back to theirs."""
        session, made = self._session, self.made
        edited = session.undo_label is not None or session.redo_label is not None
        return made is not None and not edited and made.given.project is not session.project

    def _settled(self) -> None:
        self.refresh()

    def _ended(self, busy: bool) -> None:
        """Look again when the check has ended: its results, if any, come after this."""
        if not busy:
            QTimer.singleShot(0, self, self._judged)

    def _judged(self) -> None:
        if self._waits and (self._session.fresh or not self._session.busy):
            self._waits = False
            self._order()
        self.changed.emit()

    def _order(self) -> None:
        load_libraries()
        maker, wanted, given = self.maker, self.wanted, self.given()
        self._of = _of(wanted, given)
        self._begun = monotonic()
        self._job.start(lambda watch: maker(wanted, given, watch))

    def _take(self, made: Made) -> None:
        self.made, self.error = made, None
        self._took = monotonic() - self._begun
        self.changed.emit()

    def _refuse(self, error: StringerlabError) -> None:
        self.made, self.error = None, error
        self.changed.emit()


def _of(wanted: Wanted, given: Given) -> tuple[object, ...]:
    beside = given.path if given.project.parent is not None else None  # where the parent is looked for
    return wanted, given.project, beside


__all__ = ["QUICK", "Previewer", "State"]
