"""A save is whole or not at all: the former file survives a failure, or a kill, at every step."""

import errno
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load, save
from stringerlab.project import Project


def failing(monkeypatch: pytest.MonkeyPatch, name: str, number: int, error: OSError) -> list[str]:
    """Make one of os's functions fail at its call of this number, from 1, and note the calls."""
    real: Callable[..., Any] = getattr(os, name)
    calls: list[str] = []

    def call(*given: Any, **named: Any) -> Any:
        if ".lock" in str(given[0]):
            return real(*given, **named)
        calls.append(name)
        if len(calls) == number:
            raise error
        return real(*given, **named)

    monkeypatch.setattr(os, name, call)
    return calls


def files_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_saved_project_is_the_file_and_nothing_else_is_left(tmp_path: Path, boat: Project):
    path = tmp_path / "boat.json"
    save(boat, path)
    save(replace(boat, notes="second"), path)
    assert load(path) == replace(boat, notes="second")
    assert files_in(tmp_path) == ["boat.json"]


@pytest.mark.parametrize(
    ("name", "number"),
    [
        ("open", 1),  # the new file
        ("write", 2),  # its bytes; the first write is the lock's
        ("fsync", 1),  # the new file on disk
        ("replace", 1),
        ("open", 2),  # the folder
        ("fsync", 2),  # the folder on disk
    ],
)
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO])
def test_failure_at_any_step_leaves_the_former_file(
    tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch, name: str, number: int, code: int
):
    path = tmp_path / "boat.json"
    save(boat, path)
    former = path.read_bytes()
    calls = failing(monkeypatch, name, number, OSError(code, os.strerror(code)))
    with pytest.raises(StringerlabError) as raised:
        save(replace(boat, notes="second"), path)
    monkeypatch.undo()
    assert len(calls) >= number
    assert path.read_bytes() == former
    assert files_in(tmp_path) == ["boat.json"]
    [problem] = raised.value.problems
    assert problem.where == str(path)
    assert problem.remedy
    assert ("the disk is full" in problem.what) == (code == errno.ENOSPC)


@pytest.mark.parametrize(
    ("name", "number"), [("open", 1), ("write", 2), ("fsync", 1), ("replace", 1), ("fsync", 2)]
)
def test_failure_of_a_first_save_leaves_nothing(
    tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch, name: str, number: int
):
    failing(monkeypatch, name, number, OSError(errno.ENOSPC, "No space left on device"))
    with pytest.raises(StringerlabError, match="the disk is full"):
        save(boat, tmp_path / "boat.json")
    monkeypatch.undo()
    assert files_in(tmp_path) == []


def test_file_system_without_links_keeps_a_copy(
    tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch
):
    path = tmp_path / "boat.json"
    save(boat, path)
    calls = failing(monkeypatch, "link", 1, OSError(errno.EPERM, "Operation not permitted"))
    save(replace(boat, notes="second"), path)
    assert calls == ["link"]
    assert load(path).notes == "second"
    assert files_in(tmp_path) == ["boat.json"]


def test_disk_full_while_the_former_is_copied(tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "boat.json"
    save(boat, path)
    failing(monkeypatch, "link", 1, OSError(errno.EPERM, "Operation not permitted"))

    def full(source: Any, target: Any, **_: Any) -> None:
        Path(target).write_bytes(b"half")
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("stringerlab.files.store.copy2", full)
    with pytest.raises(StringerlabError, match="the disk is full"):
        save(replace(boat, notes="second"), path)
    assert load(path) == boat
    assert files_in(tmp_path) == ["boat.json"]


def test_short_writes_are_carried_on(tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch):
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, bytes(data)[:1000]))
    save(boat, tmp_path / "boat.json")
    monkeypatch.undo()
    assert (tmp_path / "boat.json").read_bytes() == dumps(boat)


KILLED = """
import os, signal, sys
from dataclasses import replace
from stringerlab.files import load, save
name, number, path = sys.argv[1], int(sys.argv[2]), sys.argv[3]
boat = load(path)
real, calls = getattr(os, name), []
def call(*given, **named):
    calls.append(name)
    if len(calls) == number:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(*given, **named)
setattr(os, name, call)
save(replace(boat, notes="second"), path)
"""


@pytest.mark.parametrize(
    ("name", "number", "notes"),
    [
        ("write", 2, "first"),
        ("fsync", 1, "first"),
        ("link", 1, "first"),
        ("replace", 1, "first"),
        ("fsync", 2, "second"),
    ],
)
def test_kill_at_any_step_leaves_a_whole_file_that_saves_again(
    tmp_path: Path, boat: Project, name: str, number: int, notes: str
):
    path = tmp_path / "boat.json"
    save(replace(boat, notes="first"), path)
    done = subprocess.run([sys.executable, "-c", KILLED, name, str(number), str(path)], check=False)
    assert done.returncode == -9
    assert load(path).notes == notes
    save(replace(boat, notes="third"), path)
    assert load(path).notes == "third"


def test_former_file_is_kept_beside_until_the_new_one_is_safe(
    tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch
):
    path = tmp_path / "boat.json"
    save(boat, path)
    former = path.read_bytes()
    real, seen = os.replace, list[bytes]()

    def replaced(source: Any, target: Any, **named: Any) -> None:
        real(source, target, **named)
        seen.append((tmp_path / "boat.json.bak").read_bytes())

    monkeypatch.setattr(os, "replace", replaced)
    save(replace(boat, notes="second"), path)
    assert seen == [former]


def test_backup_of_the_users_own_is_not_touched(tmp_path: Path, boat: Project):
    path, own = tmp_path / "boat.json", tmp_path / "boat.json.bak"
    own.write_bytes(b"mine")
    save(boat, path)
    save(replace(boat, notes="second"), path)
    assert own.read_bytes() == b"mine"
    assert files_in(tmp_path) == ["boat.json", "boat.json.bak"]


def test_read_only_folder_says_so(tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch):
    def refuse(path: Any, *given: Any, **named: Any) -> int:
        raise OSError(errno.EROFS, "Read-only file system", str(path))

    monkeypatch.setattr(os, "open", refuse)
    with pytest.raises(StringerlabError) as raised:
        save(boat, tmp_path / "boat.json")
    [problem] = raised.value.problems
    assert f"the folder '{tmp_path}' may not be written" in problem.what
    assert problem.where == str(tmp_path / "boat.json")
    assert problem.remedy == "Save to another folder, or change its rights."


def test_file_marked_read_only_is_not_replaced(tmp_path: Path, boat: Project):
    path = tmp_path / "boat.json"
    save(boat, path)
    path.chmod(0o444)
    with pytest.raises(StringerlabError, match="marked read-only"):
        save(replace(boat, notes="second"), path)
    assert load(path) == boat


def test_rights_of_the_former_file_stay(tmp_path: Path, boat: Project):
    path = tmp_path / "boat.json"
    save(boat, path)
    path.chmod(0o640)
    save(replace(boat, notes="second"), path)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_folder_in_the_way(tmp_path: Path, boat: Project):
    (tmp_path / "boat.json").mkdir()
    with pytest.raises(StringerlabError, match=r"Cannot be saved: it is a folder\."):
        save(boat, tmp_path / "boat.json")
    assert files_in(tmp_path) == ["boat.json"]


def test_folder_that_is_not_there(tmp_path: Path, boat: Project):
    with pytest.raises(StringerlabError, match=r"there is no folder .*none'\. Make the folder"):
        save(boat, tmp_path / "none" / "boat.json")


def test_link_to_a_project_stays_a_link(tmp_path: Path, boat: Project):
    real, link = tmp_path / "boat.json", tmp_path / "latest.json"
    save(boat, real)
    link.symlink_to(real)
    save(replace(boat, notes="second"), link)
    assert link.is_symlink()
    assert load(real).notes == "second"


def test_project_that_cannot_be_read_back_never_touches_the_disk(tmp_path: Path, boat: Project):
    path = tmp_path / "boat.json"
    save(boat, path)
    with pytest.raises(StringerlabError, match="NaN"):
        save(replace(boat, craft=replace(boat.craft, mass=float("nan"))), path)
    assert load(path) == boat


def test_long_name_says_so(tmp_path: Path, boat: Project):
    with pytest.raises(StringerlabError, match="its name is too long"):
        save(boat, tmp_path / ("b" * 300 + ".json"))
