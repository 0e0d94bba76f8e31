"""Torsion and shear of the section shown, in full, worked out off the window's thread when the hand rests."""

from PySide6.QtCore import QObject, Signal

from stringerlab.assess.live import Live, at_rest
from stringerlab.desktop.jobs import Job
from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import Resolved


class TorsionAtRest(QObject):
    """Takes a section's live numbers, and brings them with torsion and shear by finite elements."""

    found = Signal(object)
    """The ``Live`` asked about last, in full."""
    said = Signal()
    """There is something else in ``notes``."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.notes: tuple[Problem, ...] = ()
        self.job = Job(self)
        self.job.finished.connect(self._brought)
        self.job.failed.connect(self._failed)

    def ask(self, live: Live, resolved: Resolved) -> None:
        """Work out a section; what was asked before is dropped."""
        self._note(())
        self.job.start(lambda _: at_rest(live, resolved))

    def drop(self) -> None:
        """Ask nothing: the section is under the hand, or gone."""
        self._note(())
        self.job.cancel()

    def _brought(self, live: Live) -> None:
        self.found.emit(live)
        if live.torsion is not None:
            warning = live.torsion.warning
            self._note((*live.torsion.notes, *((warning,) if warning else ())))

    def _failed(self, error: StringerlabError) -> None:
        self._note(tuple(error.problems))

    def _note(self, notes: tuple[Problem, ...]) -> None:
        if notes != self.notes:
            self.notes = notes
            self.said.emit()
