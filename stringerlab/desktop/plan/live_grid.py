"""The grid under the hand: a coarse envelope of the project shown, off the window's thread, latest first."""

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from stringerlab.assess.grid import GridResults, analysed, ground_of
from stringerlab.desktop.jobs import Job, Watch
from stringerlab.methods import method_named
from stringerlab.project import Project, Resolved


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoarseGrid:
    """A project, committed or of a drag's frame, and its layout analysed coarsely."""

    project: Project
    resolved: Resolved
    grid: GridResults


class LiveGrid(QObject):
    """Analyses one project after another; of those asked for meanwhile only the last."""

    found = Signal(object)
    """A ``CoarseGrid``."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job = Job(self)
        self._job.finished.connect(self._done)
        self._job.failed.connect(self._go_on)
        self._next: tuple[Project, Resolved] | None = None

    def follow(self, project: Project, resolved: Resolved) -> None:
        """Analyse a project, once what is under way is done."""
        self._next = (project, resolved)
        if not self._job.busy:
            self._go_on()

    def leave(self) -> None:
        """Let go of what is under way and asked for."""
        self._next = None
        self._job.cancel()

    # -- inside ----------------------------------------------------------------------------------

    def _done(self, found: CoarseGrid | None) -> None:
        if found is not None:
            self.found.emit(found)
        self._go_on()

    def _go_on(self, _: object = None) -> None:
        if self._next is None:
            return
        (project, resolved), self._next = self._next, None
        method_named(project.method)  # read in here: two threads that import it at once may find it half made

        def work(watch: Watch) -> CoarseGrid | None:
            ground = ground_of(project, resolved)
            if ground is None or not ground.spans:
                return None
            grid = analysed(ground, method_named(project.method), watch, coarse=True)
            return CoarseGrid(project=project, resolved=resolved, grid=grid)

        self._job.start(work)
