"""The one bridge between widgets and the project: its history, its file, what is selected, its results.

A widget reads ``shown`` and calls ``edit`` or ``preview``; it never holds a project of its own. A preview (a
drag) never enters the history. Results come from a worker; a run that ends late is dropped.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Concatenate, ParamSpec

from PySide6.QtCore import QObject, Signal

from stringerlab.assess import Results
from stringerlab.desktop.worker import Assessor
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import Lock, load, save
from stringerlab.project import History, Project, Resolved, resolve
from stringerlab.project.again import resolved_again
from stringerlab.units import System

P = ParamSpec("P")


class Session(QObject):
    """An open project and everything a window shows of it."""

    project_changed = Signal()
    """The committed project is another one: an edit, undo, redo, or a file opened."""
    shown_changed = Signal()
    """What is to be drawn is another one: as above, or a preview began, moved or ended."""
    results_changed = Signal()
    """Results are fresh, or have become stale: see ``results`` and ``fresh``."""
    selection_changed = Signal(str)
    """Another thing is selected: its id, empty for nothing."""
    wanted = Signal(str)
    """A person asks to be taken to a thing, by its id: the window shows its page."""
    export_wanted = Signal()
    """A person asks for what is drawn as a file."""
    file_changed = Signal()
    """The path, or whether there is anything unsaved, has changed."""
    problem = Signal(object)
    """A ``StringerlabError`` a person should see; the document is as it was."""
    said = Signal(str)
    """A line for the status bar."""
    progress = Signal(float, str)
    """How far the check under way is, from 0 to 1, and what it is doing."""
    busy_changed = Signal(bool)
    """A check has begun or ended."""

    def __init__(
        self, project: Project, path: Path | None = None, parent: QObject | None = None, *, held: bool = False
    ) -> None:
        super().__init__(parent)
        self._history = History.of(project)
        self._saved: Project | None = project
        self._path = path
        self._lock: Lock | None = None
        self._preview: Project | None = None
        self._resolved: tuple[Project, Resolved] | None = None
        self._selected = ""
        self.results: Results | None = None
        """The latest results; they may be of an earlier project: see ``fresh``."""
        self._assessor = Assessor(self)
        self._assessor.finished.connect(self._take)
        self._assessor.failed.connect(self.problem)
        self._assessor.progress.connect(self.progress)
        self._assessor.busy_changed.connect(self.busy_changed)
        if held:
            self._assessor.hold()
        self._assessor.assess(project)

    # -- what is shown ---------------------------------------------------------------------------

    @property
    def project(self) -> Project:
        """The committed project."""
        return self._history.project

    @property
    def shown(self) -> Project:
        """The preview while there is one, else the committed project."""
        return self._preview or self.project

    @property
    def resolved(self) -> Resolved:
        """The shown project with ids swapped for objects."""
        shown, held = self.shown, self._resolved
        if held is None or held[0] is not shown:
            self._resolved = held = (shown, resolved_again(shown, *held) if held else resolve(shown))
        return held[1]

    @property
    def units(self) -> System:
        """Units shown."""
        return self.shown.units

    @property
    def fresh(self) -> bool:
        """Whether the results are those of the committed project."""
        return self.results is not None and self.results.project is self.project

    @property
    def selected(self) -> str:
        """Id of what is selected, empty for nothing."""
        return self._selected

    def select(self, id: str) -> None:  # noqa: A002
        """Select a thing by its id everywhere."""
        if id != self._selected:
            self._selected = id
            self.selection_changed.emit(id)

    def take_to(self, id: str) -> None:  # noqa: A002
        """Select a thing and ask the window to show it."""
        self.select(id)
        self.wanted.emit(id)

    # -- edits -----------------------------------------------------------------------------------

    def edit(
        self,
        label: str,
        change: Callable[Concatenate[Project, P], Project],
        *args: P.args,
        **named: P.kwargs,
    ) -> bool:
        """Do one named edit on the committed project; a refusal is shown and changes nothing.

        Returns whether the edit was done.
        """
        try:
            project = change(self.project, *args, **named)
        except StringerlabError as refused:
            self.preview(None)
            self.problem.emit(refused)
            return False
        self._preview = None
        self._went(self._history.did(label, project))
        return True

    def preview(self, project: Project | None) -> None:
        """Show a project that is not committed, as during a drag; None ends it."""
        if project is not self._preview:
            self._preview = project
            self.shown_changed.emit()

    @property
    def undo_label(self) -> str | None:
        """Label of the edit that undo takes back."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str | None:
        """Label of the edit that redo does again."""
        return self._history.redo_label

    def undo(self) -> None:
        """Take the last edit back."""
        if self.undo_label is not None:
            self._went(self._history.undo())

    def redo(self) -> None:
        """Do the edit again that was last taken back."""
        if self.redo_label is not None:
            self._went(self._history.redo())

    # -- file ------------------------------------------------------------------------------------

    @property
    def path(self) -> Path | None:
        """The project's file, None before it has one."""
        return self._path

    @property
    def unsaved(self) -> bool:
        """Whether the committed project differs from its file, or from what was begun with."""
        return self.project is not self._saved

    def open(self, path: Path) -> None:
        """Open a project file in place of the present project.

        A file in a folder that may not be written opens too; saving there is what will be refused.

        Raises
        ------
        StringerlabError
            When it cannot be read, or another writer holds it; the present project stays.
        """
        project = load(path)
        if self._lock is not None and self._lock.project == Lock(path).project:
            self.begin(project, path)
            return
        lock: Lock | None = Lock(path)
        try:
            lock.acquire()
        except StringerlabError as refused:
            if not isinstance(refused.__cause__, OSError):
                raise
            lock = None
            self.said.emit(f"{path.name} can be read but not written where it is.")
        self._hold(lock)
        self.begin(project, path)

    def begin(self, project: Project, path: Path | None = None, *, unsaved: bool = False) -> None:
        """Show another project with a history of its own."""
        if path is None:
            self._hold(None)
        self._path = path
        self._saved = None if unsaved else project
        self._preview = None
        self._selected = ""
        self._went(History.of(project))
        self.selection_changed.emit("")

    def recover(self, project: Project, path: Path | None) -> None:
        """Show work found again, as unsaved; its file is its own again unless another writer holds it."""
        lock: Lock | None = Lock(path) if path is not None and path.parent.is_dir() else None
        try:
            if lock is not None:
                lock.acquire()
        except StringerlabError as refused:
            self.problem.emit(refused)
            lock = None
        self._hold(lock)
        self.begin(project, path if lock is not None else None, unsaved=True)

    def save(self, path: Path | None = None) -> None:
        """Save to the project's file, or to another that becomes its file.

        Raises
        ------
        StringerlabError
            When there is no path, it cannot be written, or another writer holds it; nothing is lost.
        """
        target = path or self._path
        if target is None:
            raise StringerlabError(
                Problem("This project has no file yet.", remedy="Choose where to save it.")
            )
        lock = self._lock
        if lock is None or target != self._path:
            lock = Lock(target)
            lock.acquire()
        try:
            save(self.project, target, lock=lock)
        except StringerlabError:
            if lock is not self._lock:
                lock.release()
            raise
        self._hold(lock)
        self._path, self._saved = target, self.project
        self.file_changed.emit()

    @property
    def busy(self) -> bool:
        """Whether a check is under way."""
        return self._assessor.busy

    def cancel(self) -> None:
        """Stop the check under way; results stay as they were."""
        self._assessor.cancel()

    def let_go(self) -> None:
        """Let the checks of a session made ``held`` begin: till then the window has the machine alone."""
        self._assessor.let_go()

    def assess(self) -> None:
        """Check the project anew, as after a check that was stopped."""
        self._assessor.assess(self.project)

    def close(self) -> None:
        """Stop the worker and give the file up to other writers."""
        self._assessor.stop()
        self._hold(None)

    # -- inside ----------------------------------------------------------------------------------

    def _hold(self, lock: Lock | None) -> None:
        if self._lock is not None and self._lock is not lock:
            self._lock.release()
        self._lock = lock

    def _went(self, history: History) -> None:
        self._history = history
        self.project_changed.emit()
        self.shown_changed.emit()
        self.file_changed.emit()
        self.results_changed.emit()
        self._assessor.assess(self.project)

    def _take(self, results: Results) -> None:
        if results.project is self.project:
            self.results = results
            self.results_changed.emit()
