"""Unsaved work kept beside the document while it is open, and found again after the program was killed.

Each window keeps one file in the state folder. An operating-system lock on its companion says whether the
window that wrote it still lives: the system lets go of it however the process ends.
"""

import json
import os
import sys
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, cast
from uuid import uuid4

from PySide6.QtCore import QObject, QTimer, Signal

from stringerlab.desktop.jobs import Job
from stringerlab.desktop.session import Session
from stringerlab.desktop.settings import state_folder, write_whole
from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, loads
from stringerlab.project import Project

AFTER = 2000
"""Milliseconds from an edit until it is kept."""
_FORMAT = "stringerlab recovery"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Work found again: the file it was of, when it was kept, and the text of the project."""

    file: Path
    name: str
    path: Path | None
    when: datetime
    text: str

    def project(self) -> Project:
        """Return the project kept.

        Raises
        ------
        StringerlabError
            When it does not read.
        """
        return loads(self.text.encode(), "recovered work")

    def discard(self) -> None:
        """Remove it for good."""
        for path in (self.file, _companion(self.file)):
            with suppress(OSError):
                path.unlink()


def recovery_folder() -> Path:
    """Return the folder of the files kept."""
    return state_folder() / "recovery"


def left_behind(folder: Path | None = None) -> list[Kept]:
    """Return work that windows now gone did not save, the latest first; what does not read is skipped."""
    found = [
        kept
        for file in sorted((folder or recovery_folder()).glob("*.recovery"))
        if not _is_alive(file) and (kept := _kept(file)) is not None
    ]
    return sorted(found, key=lambda kept: kept.when, reverse=True)


class Keeper(QObject):
    """Keeps a session's unsaved work soon after an edit, off the window's thread; gone once it is saved."""

    kept = Signal(bool)
    """Whether the latest keeping could be done."""

    def __init__(self, session: Session, folder: Path | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.file = (folder or recovery_folder()) / f"{uuid4().hex[:16]}.recovery"
        self._alive: int | None = None
        self._latest: Project | None = None
        self._job = Job(self)
        self._job.finished.connect(self._took)
        self._timer = QTimer(self, singleShot=True, interval=AFTER)
        self._timer.timeout.connect(self._keep)
        session.file_changed.connect(self._changed)

    def _changed(self) -> None:
        if not self._session.unsaved:
            self._timer.stop()
            self._clear()
        elif self._session.project is not self._latest and not self._timer.isActive():
            self._timer.start()

    def _keep(self) -> None:
        if self._alive is None:
            self._alive = _hold(_companion(self.file))
        project = self._latest = self._session.project
        path, file = self._session.path, self.file
        self._job.start(lambda _watch: _written(project, path, file))

    def _took(self, done: object) -> None:
        self.kept.emit(bool(done))

    def _clear(self) -> None:
        self._job.stop()
        self._latest = None
        with suppress(OSError):
            self.file.unlink()

    def close(self) -> None:
        """End cleanly: nothing stays to be found."""
        self._timer.stop()
        self._session.file_changed.disconnect(self._changed)
        self._clear()
        if self._alive is not None:
            os.close(self._alive)
            self._alive = None
        with suppress(OSError):
            _companion(self.file).unlink()


def _written(project: Project, path: Path | None, file: Path) -> bool:
    """Write a project as work to be found again; return whether that could be done."""
    try:
        text = dumps(project).decode()
    except StringerlabError:
        return False
    head = {
        "format": _FORMAT,
        "name": project.name,
        "path": str(path) if path else "",
        "when": datetime.now(UTC).isoformat(timespec="seconds"),
        "project": text,
    }
    return write_whole(file, json.dumps(head).encode())


def _kept(file: Path) -> Kept | None:
    try:
        given: Any = json.loads(file.read_bytes())
        if not isinstance(given, dict):
            return None
        said = cast(dict[str, object], given)
        if said.get("format") != _FORMAT:
            return None
        when = datetime.fromisoformat(str(said["when"]))
        path, text = str(said["path"]), str(said["project"])
        name = str(said["name"])
    except (OSError, ValueError, KeyError, RecursionError):
        return None
    return Kept(file=file, name=name, path=Path(path) if path else None, when=when, text=text)


def _companion(file: Path) -> Path:
    return file.with_suffix(".open")


def _hold(path: Path) -> int | None:
    """Take the operating system's lock on a file; None when another process has it or it cannot be."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(path, os.O_CREAT | os.O_RDWR, 0o600)
    except OSError:
        return None
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


def _is_alive(file: Path) -> bool:
    companion = _companion(file)
    if not companion.exists():
        return False
    handle = _hold(companion)
    if handle is None:
        return True
    os.close(handle)
    return False
