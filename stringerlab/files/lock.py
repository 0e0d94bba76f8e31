"""A lock against two writers of one project: a file beside it that says who writes, where, since when."""

import json
import os
import socket
import sys
from collections.abc import Generator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self, cast

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.trouble import trouble

_TRIES = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Owner:
    """Who holds a lock: process, host, and since when (UTC, ISO 8601)."""

    pid: int
    host: str
    time: str

    def is_gone(self) -> bool:
        """Whether the process ran on this machine and runs no more; another's never counts as gone."""
        if self.host != socket.gethostname() or sys.platform == "win32":
            return False
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return True
        except PermissionError:
            return False
        return False


class Lock:
    """Holds a project file for one writer: ``with Lock(path): …``. One whose owner is gone is taken over."""

    def __init__(self, project: Path | str) -> None:
        self.project = Path(os.path.realpath(project))
        self.path = self.project.with_name(f".{self.project.name}.lock")
        self._mine: bytes | None = None

    @property
    def held(self) -> bool:
        """Whether this lock is held by us."""
        return self._mine is not None

    def owner(self) -> Owner | None:
        """Return who holds the project, None when nobody does or it does not say."""
        try:
            return _owner(self.path.read_bytes())
        except OSError:
            return None

    def acquire(self) -> None:
        """Take the lock.

        Raises
        ------
        StringerlabError
            When another writer holds it, or the folder cannot be written.
        """
        if self.held:
            return
        now = datetime.now(UTC).isoformat(timespec="microseconds")
        mine = json.dumps(asdict(Owner(pid=os.getpid(), host=socket.gethostname(), time=now))).encode()
        for _ in range(_TRIES):
            try:
                handle = os.open(self.path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o644)
            except FileExistsError:
                self._remove_if_owner_is_gone()
                continue
            except OSError as error:
                raise trouble(error, "be locked for writing", self.project) from error
            try:
                os.write(handle, mine)
            except OSError as error:
                self.path.unlink(missing_ok=True)
                raise trouble(error, "be locked for writing", self.project) from error
            finally:
                os.close(handle)
            self._mine = mine
            return
        raise self._refusal(self.owner())

    def release(self) -> None:
        """Give the lock back; one that another has taken since is left alone."""
        with suppress(OSError):
            if self._mine is not None and self.path.read_bytes() == self._mine:
                self.path.unlink()
        self._mine = None

    def __enter__(self) -> Self:
        self.acquire()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.release()

    def _remove_if_owner_is_gone(self) -> None:
        """Remove a lock left behind; two that find it at once must not remove each other's new one."""
        with suppress(FileNotFoundError), self.path.open("rb") as file, _alone(file.fileno()):
            owner = _owner(file.read())
            if owner is None or not owner.is_gone():
                raise self._refusal(owner)
            if os.fstat(file.fileno()).st_ino == self.path.stat().st_ino:
                self.path.unlink()

    def _refusal(self, owner: Owner | None) -> StringerlabError:
        if owner is None:
            what = "Another program holds the project for writing; its lock does not say which."
        elif owner.pid == os.getpid() and owner.host == socket.gethostname():
            what = (
                f"This program (process {owner.pid}) holds the project in another window, since {owner.time}."
            )
        else:
            what = f"Process {owner.pid} on '{owner.host}' holds the project for writing, since {owner.time}."
        remedy = f"Close it there or save under another name, or, if none runs there, delete {self.path}."
        return StringerlabError(Problem(what, str(self.project), remedy))


def _owner(data: bytes) -> Owner | None:
    try:
        given: Any = json.loads(data)
    except ValueError:
        return None
    if not isinstance(given, dict):
        return None
    said = cast(dict[str, object], given)
    match said.get("pid"), said.get("host"), said.get("time"):
        case int(pid), str(host), str(time):
            return Owner(pid=pid, host=host, time=time)
        case _:
            return None


@contextmanager
def _alone(handle: int) -> Generator[None]:
    """Keep other processes from examining the same file meanwhile, where the system can."""
    if sys.platform != "win32":
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX)
    yield
