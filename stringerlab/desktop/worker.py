"""Assess a project off the window's thread; a run that another overtakes stops, and its end is dropped."""

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal, SignalInstance

from stringerlab.assess import Cancelled, Results, check
from stringerlab.errors import StringerlabError
from stringerlab.project import Project


class _Run(QRunnable):
    def __init__(self, project: Project, assessor: "Assessor") -> None:
        super().__init__()
        self.setAutoDelete(False)
        self.project = project
        self.cancelled = False
        self._finished: SignalInstance = assessor.arrived
        self._progress: SignalInstance = assessor.progress

    def run(self) -> None:
        results: Results | None = None
        refused: StringerlabError | None = None
        try:
            results = check(self.project, watch=self._watch)
        except Cancelled:
            pass
        except StringerlabError as error:
            refused = error
        finally:  # whatever happened, nobody waits for a run that has ended
            self._finished.emit(self, results, refused)

    def _watch(self, fraction: float, what: str) -> None:
        if self.cancelled:
            raise Cancelled
        self._progress.emit(fraction, what)


class Assessor(QObject):
    """Runs checks one after another on one thread, only the latest to its end."""

    finished = Signal(object)
    """``Results`` of the latest project asked for."""
    failed = Signal(object)
    """``StringerlabError`` of the latest project asked for."""
    progress = Signal(float, str)
    busy_changed = Signal(bool)
    arrived = Signal(object, object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._run: _Run | None = None
        self._alive: set[_Run] = set()
        self.arrived.connect(self._arrived)

    @property
    def busy(self) -> bool:
        """Whether a run is under way."""
        return self._run is not None

    def start(self, project: Project) -> None:
        """Assess a project; a run under way is told to stop and its results are dropped."""
        self.cancel()
        self._run = _Run(project, self)
        self._alive.add(self._run)
        self._pool.start(self._run)
        self.busy_changed.emit(True)

    def cancel(self) -> None:
        """Stop the run under way; its results are dropped."""
        if self._run is not None:
            self._run.cancelled = True
            self._run = None
            self.busy_changed.emit(False)

    def stop(self) -> None:
        """Stop, and wait for the thread to end."""
        self.cancel()
        self._pool.waitForDone()
        self._alive.clear()

    def _arrived(self, run: _Run, results: object, error: object) -> None:
        self._alive.discard(run)
        if run is not self._run:
            return
        self._run = None
        self.busy_changed.emit(False)
        if results is not None:
            self.finished.emit(results)
        elif error is not None:
            self.failed.emit(error)
