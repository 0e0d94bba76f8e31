"""Projects on disk: read whole or not at all, written whole or not at all, and begun from a sample."""

import os
import stat
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from difflib import get_close_matches
from pathlib import Path
from shutil import copy2
from uuid import uuid4

from stringerlab.data import folder
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.codec import dumps, loads
from stringerlab.files.lock import Lock
from stringerlab.files.reading import LARGEST, refuse_too_large
from stringerlab.files.trouble import trouble
from stringerlab.project.records import Project


def load(path: Path | str) -> Project:
    """Return the project in a file.

    Raises
    ------
    StringerlabError
        When the file cannot be read, is too large, or is of the wrong shape: every fault listed.
    """
    file = Path(path)
    return loads(read_whole(file, "project", LARGEST, refuse_too_large), file.name)


def read_whole(file: Path, kind: str, largest: int, refuse_too_large: Callable[[int, str], None]) -> bytes:
    """Return the bytes of an ordinary file, one more than the largest allowed at most.

    Parameters
    ----------
    file
        Its path.
    kind
        What it should be, for messages: "project".
    largest
        Bytes that are read.
    refuse_too_large
        Called with the size and the path before anything is read; raises when that is too much.

    Raises
    ------
    StringerlabError
        When the system refuses, it is no ordinary file, or it is too large.
    """
    try:
        status = file.stat()
        if stat.S_ISDIR(status.st_mode):
            raise IsADirectoryError(21, "Is a directory")
        if not stat.S_ISREG(status.st_mode):
            raise StringerlabError(
                Problem(
                    "Cannot be read: it is no ordinary file.", str(file), f"Give the name of a {kind} file."
                )
            )
        refuse_too_large(status.st_size, str(file))
        with file.open("rb") as opened:
            return opened.read(largest + 1)
    except OSError as error:
        raise trouble(error, "be read", file) from error


def save(project: Project, path: Path | str, *, lock: Lock | None = None) -> None:
    """Write a project so that its file is at any moment the former or the new one, whole.

    Parameters
    ----------
    project
        What to write.
    path
        Its file; a former one is kept as ``.bak`` until the new one is safe.
    lock
        The writer's own lock on this file, when it holds one; otherwise the file is locked meanwhile.

    Raises
    ------
    StringerlabError
        When another writer holds the file, or the system refuses; the former file is then as it was.
    """
    _save(project, Path(path), lock=lock, anew=False)


def samples() -> list[str]:
    """Return the names of the sample projects."""
    return sorted(file.stem for file in folder("sample_projects").glob("*.json"))


def new_from_sample(name: str, path: Path | str) -> None:
    """Write a copy of a sample project to a new file.

    Raises
    ------
    StringerlabError
        When there is no such sample, or the file exists already.
    """
    known = samples()
    if name not in known:
        near = get_close_matches(name, known, n=1)
        remedy = f"Did you mean '{near[0]}'?" if near else f"Choose one of: {', '.join(known)}."
        raise StringerlabError(Problem(f"There is no sample '{name}'.", "sample projects", remedy))
    _save(load(folder("sample_projects") / f"{name}.json"), Path(path), lock=None, anew=True)


def _save(project: Project, path: Path, *, lock: Lock | None, anew: bool) -> None:
    write_whole(dumps(project), path, lock=lock, anew=anew)


def write_whole(data: bytes, path: Path, *, lock: Lock | None = None, anew: bool = False) -> None:
    """Write bytes so that the file is at any moment the former or the new one, whole.

    Parameters
    ----------
    data
        What to write.
    path
        The file; a former one is kept as ``.bak`` until the new one is safe.
    lock
        The writer's own lock on this file, when it holds one; otherwise the file is locked meanwhile.
    anew
        Refuse to replace a file that is there.

    Raises
    ------
    StringerlabError
        When another writer holds the file, or the system refuses; the former file is then as it was.
    """
    own = Lock(path)
    file = own.project
    with ExitStack() as holding:
        if lock is None or not lock.held or lock.project != file:
            _refuse_missing_folder(file)
            holding.enter_context(own)
        former = _former(file)
        if anew and former is not None:
            raise StringerlabError(
                Problem("There is a file already; it is left as it is.", str(file), "Choose another name.")
            )
        try:
            _replace(file, data, former)
        except OSError as error:
            raise trouble(error, "be saved", file) from error


def _refuse_missing_folder(file: Path) -> None:
    if not file.parent.is_dir():
        raise trouble(FileNotFoundError(2, "No such file or directory"), "be saved", file)


def _former(file: Path) -> os.stat_result | None:
    """Return the status of the file to be replaced, None without one; refuse what must not be replaced."""
    try:
        status = file.stat()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise trouble(error, "be saved", file) from error
    if stat.S_ISDIR(status.st_mode):
        raise trouble(IsADirectoryError(21, "Is a directory"), "be saved", file)
    if not stat.S_ISREG(status.st_mode):
        raise StringerlabError(
            Problem("Cannot be saved: it is no ordinary file.", str(file), "Choose another name.")
        )
    if not status.st_mode & stat.S_IWUSR:
        raise StringerlabError(
            Problem(
                "Cannot be saved: the file is marked read-only.",
                str(file),
                "Save under another name, or take the mark off.",
            )
        )
    return status


def _replace(file: Path, data: bytes, former: os.stat_result | None) -> None:
    """Write beside the file, make it safe on disk, keep the former, replace, make the folder safe."""
    fresh = file.with_name(f".{file.name}.{uuid4().hex[:12]}.part")
    backup: Path | None = None
    try:
        _write(fresh, data, former)
        backup = _kept(file) if former else None
        fresh.replace(file)
    except OSError:
        _remove(backup)
        raise
    finally:
        _remove(fresh)
    try:
        _sync_folder(file.parent)
    except OSError:
        backup.replace(file) if backup else file.unlink()
        raise
    _remove(backup)


def _write(fresh: Path, data: bytes, former: os.stat_result | None) -> None:
    handle = os.open(fresh, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
    try:
        view = memoryview(data)
        while view:
            view = view[os.write(handle, view) :]
        if former is not None:
            fresh.chmod(stat.S_IMODE(former.st_mode))
        os.fsync(handle)
    finally:
        os.close(handle)


def _kept(file: Path) -> Path:
    """Keep the former file under a name of its own, never over a file that is there."""
    backup = next(path for path in _backup_names(file) if not path.exists())
    try:
        backup.hardlink_to(file)
    except OSError:  # a file system without links
        try:
            copy2(file, backup)
        except OSError:
            _remove(backup)
            raise
    return backup


def _remove(path: Path | None) -> None:
    if path is not None:
        with suppress(OSError):
            path.unlink(missing_ok=True)


def _backup_names(file: Path) -> Iterator[Path]:
    yield file.with_name(f"{file.name}.bak")
    number = 1
    while True:
        yield file.with_name(f"{file.name}.{number}.bak")
        number += 1


def _sync_folder(path: Path) -> None:
    if os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
