"""The parent boat of the project shown, judged off the window's thread and held beside its findings."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from stringerlab.assess import Relative, Results, check, relative, unknown_likenesses
from stringerlab.desktop.jobs import Job, Watch
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load_parent, parent_path

_TOLD = 2


@dataclass(frozen=True, slots=True)
class _Judged:
    """The parent's results, and what they were made of: file, its time and size, method."""

    key: tuple[Path, int, int, str]
    results: Results


@dataclass(frozen=True, slots=True)
class _Found:
    of: Results
    relative: Relative | None
    judged: _Judged | None
    problems: tuple[Problem, ...]


class Kinship(QObject):
    """One a session: see ``of_session``."""

    changed = Signal()
    """The parent, what stands beside the findings, or what is wrong with it is another."""

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._session = session
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._judged: _Judged | None = None
        self.relative: Relative | None = None
        """Of the latest results; None without a parent, or where it cannot be read."""
        self.problems: tuple[Problem, ...] = ()
        session.results_changed.connect(self._results_changed)
        session.project_changed.connect(self._project_changed)
        session.file_changed.connect(self._project_changed)
        self._at: tuple[Path | None, str] = self._named()
        self._results_changed()

    @classmethod
    def of_session(cls, session: Session) -> "Kinship":
        """Return a session's own, made once."""
        found = session.findChild(Kinship)
        return found if isinstance(found, Kinship) else cls(session)

    @property
    def parent_results(self) -> Results | None:
        """The parent boat's own results, None where there is none to read."""
        return self._judged.results if self.relative is not None and self._judged else None

    @property
    def troubles(self) -> tuple[str, ...]:
        """What keeps findings from being held against the parent: the first two, and how many more."""
        said = [f"{text[:1].upper()}{text[1:]}" for text in map(str, self.problems)]
        more = len(said) - _TOLD
        return (*said[:_TOLD], *([f"… and {more} more, on the page Boat."] if more > 0 else []))

    @property
    def busy(self) -> bool:
        """Whether the parent is being judged."""
        return self._job.busy

    def look_again(self) -> None:
        """Hold the findings against the parent anew, as when its file has changed."""
        self._results_changed()

    def _named(self) -> tuple[Path | None, str]:
        parent = self._session.project.parent
        return self._session.path, parent.file if parent else ""

    def _project_changed(self) -> None:
        """Forget a parent that is no longer named; look again where the file or its folder is another."""
        named = self._named()
        if named != self._at:
            self._at = named
            if self._session.project.parent is None:
                self._show(None, ())
            self._results_changed()

    def _results_changed(self) -> None:
        session, results = self._session, self._session.results
        if session.project.parent is None:
            self._job.cancel()
            self._show(None, ())
        elif results is not None and session.fresh:
            path, judged = session.path, self._judged
            self._job.start(lambda watch: _held(results, path, judged, watch))

    def _take(self, found: _Found) -> None:
        if found.of is self._session.results and self._session.project.parent is not None:
            self._judged = found.judged
            self._show(found.relative, found.problems)

    def _show(self, found: Relative | None, problems: tuple[Problem, ...]) -> None:
        if found is not self.relative or problems != self.problems:
            self.relative, self.problems = found, problems
            self.changed.emit()


def _held(results: Results, path: Path | None, judged: _Judged | None, watch: Watch) -> _Found:
    project = results.project
    assert project.parent is not None
    try:
        file = parent_path(path, project)
        now = _key(file, results.method.id)
        if judged is None or now is None or judged.key != now:
            parent = load_parent(path, project)
            judged = _Judged(now or (file, 0, 0, ""), check(parent, results.method, watch))
    except StringerlabError as error:
        return _Found(results, None, None, (*error.problems, *unknown_likenesses(project)))
    found = relative(results, judged.results, project.parent)
    return _Found(results, found, judged, found.problems)


def _key(file: Path, method: str) -> tuple[Path, int, int, str] | None:
    try:
        status = file.stat()
    except OSError:
        return None  # reading it says why
    return file, status.st_mtime_ns, status.st_size, method
