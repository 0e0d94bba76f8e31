"""A journal: what of a run is done, a line a task, so that a run stopped or killed goes on from there.

JSON lines. The first says which run it is; each other one task's pack with its checksum. A line torn by a
kill, or damaged, counts as not written.
"""

import json
import os
import zlib
from pathlib import Path
from typing import Any, Self, cast

from stringerlab import __version__
from stringerlab.errors import Problem, StringerlabError
from stringerlab.sizing.running.packing import as_plain, from_plain
from stringerlab.sizing.running.records import Pack

_KIND = "stringerlab journal"
_FORMAT = 1
_OTHER_FILE = "Name another file, or remove this one to begin anew."


class Journal:
    """One open journal: what it held when it was opened, and where the rest is written."""

    def __init__(self, path: Path, done: dict[int, Pack], notes: list[str], file: int | None) -> None:
        self.path = path
        self.done = done
        """What earlier runs did, by the task's number."""
        self.notes = notes
        self._file = file

    @classmethod
    def opened(cls, path: Path, *, digest: str, tasks: int) -> Self:
        """Open a journal of this run, or begin one.

        Raises
        ------
        StringerlabError
            When the file is none, is another run's, or cannot be written.
        """
        try:
            held = path.read_bytes() if path.is_file() else b""
        except OSError as error:
            raise _unwritable(path, error) from error
        done: dict[int, Pack] = {}
        notes: list[str] = []
        whole = 0
        if not _torn_head(held):
            whole = held.rfind(b"\n") + 1
            lines = held[:whole].splitlines()
            _agree(path, lines[0] if lines else held, digest, tasks)
            damaged = 0
            for line in lines[1:]:
                kept = _read(line, tasks)
                if kept is None:
                    damaged += 1
                else:
                    done[kept[0]] = kept[1]
            notes += _told(path, done, tasks, damaged + (whole < len(held)))
        try:
            file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o666)
        except OSError as error:
            raise _unwritable(path, error) from error
        journal = cls(path, done, notes, file)
        try:
            if whole < len(held):
                os.ftruncate(file, whole)
            if not whole:
                journal._write(_head(digest, tasks))
        except OSError as error:
            journal.close()
            raise _unwritable(path, error) from error
        return journal

    def keep(self, task: int, pack: Pack) -> None:
        """Write down a task that is done; where that fails the run goes on without, and says so."""
        if self._file is None:
            return
        try:
            self._write(_line(task, pack))
        except OSError as error:
            self.notes.append(
                f"The journal {self.path} could not be written on ({error.strerror or error}): the run went "
                f"on without it."
            )
            self.close()

    def close(self) -> None:
        """Close the file."""
        if self._file is not None:
            os.close(self._file)
            self._file = None

    def _write(self, line: str) -> None:
        rest = memoryview(line.encode("utf-8"))
        while rest and self._file is not None:
            rest = rest[written(self._file, rest) :]


def written(file: int, what: memoryview) -> int:
    """Write to a file and return how many bytes went.

    Raises
    ------
    OSError
        When the disk is full, or gone.
    """
    return os.write(file, what)


def _head(digest: str, tasks: int) -> str:
    return _json({"kind": _KIND, "format": _FORMAT, "version": __version__, "digest": digest, "tasks": tasks})


def _line(task: int, pack: Pack) -> str:
    plain = as_plain(pack)
    return _json({"task": task, "sum": _sum(plain), "pack": plain})


def _read(line: bytes, tasks: int) -> tuple[int, Pack] | None:
    """Return a task and its pack; None where the line is damaged."""
    try:
        said = json.loads(line)
        task, plain = int(said["task"]), cast("dict[str, Any]", said["pack"])
        if said["sum"] != _sum(plain) or not 0 <= task < tasks:
            return None
        return task, from_plain(plain)
    except (ValueError, KeyError, TypeError):
        return None


def _torn_head(held: bytes) -> bool:
    """Whether a file is empty, or holds only the beginning of a journal's first line."""
    begins = _json({"kind": _KIND}).encode()[:-2]
    return b"\n" not in held and (begins.startswith(held) or held.startswith(begins))


def _agree(path: Path, head: bytes, digest: str, tasks: int) -> None:
    try:
        said: Any = json.loads(head)
        kind, form = said["kind"], said["format"]
    except (ValueError, KeyError, TypeError):
        kind, form, said = "", 0, {}
    if kind != _KIND:
        raise StringerlabError(
            Problem("The file is there and is no journal.", str(path), "Name another file.")
        )
    if form != _FORMAT or said.get("version") != __version__:
        raise StringerlabError(
            Problem(
                f"The journal is of stringerlab {said.get('version')}; this is {__version__}.",
                str(path),
                _OTHER_FILE,
            )
        )
    if said.get("digest") != digest or said.get("tasks") != tasks:
        raise StringerlabError(
            Problem(
                "The journal is of another run: of another project, or of other wishes.",
                str(path),
                _OTHER_FILE,
            )
        )


def _told(path: Path, done: dict[int, Pack], tasks: int, damaged: int) -> list[str]:
    told: list[str] = []
    if done:
        told.append(f"{len(done)} of {tasks} parts were in the journal {path} and were not done again.")
    if damaged:
        lines = "A line" if damaged == 1 else f"{damaged} lines"
        told.append(f"{lines} of the journal, torn or damaged, counted as not written.")
    return told


def _sum(plain: dict[str, Any]) -> int:
    return zlib.crc32(_json(plain).encode("utf-8"))


def _json(said: dict[str, Any]) -> str:
    return json.dumps(said, separators=(",", ":"), ensure_ascii=False) + "\n"


def _unwritable(path: Path, error: OSError) -> StringerlabError:
    return StringerlabError(
        Problem(
            f"The journal cannot be written: {error.strerror or error}.",
            str(path),
            "Name a file on another disk.",
        )
    )
