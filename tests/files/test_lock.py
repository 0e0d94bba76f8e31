import json
import os
import socket
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import Lock, load, save
from stringerlab.project import Project

HOLDER = """
import sys
from stringerlab.files import Lock
with Lock(sys.argv[1]):
    print("held", flush=True)
    sys.stdin.readline()
"""


@pytest.fixture
def path(tmp_path: Path, boat: Project) -> Path:
    save(boat, tmp_path / "boat.json")
    return tmp_path / "boat.json"


def left_behind(path: Path, pid: int, host: str) -> Path:
    lock = path.with_name(f".{path.name}.lock")
    lock.write_text(json.dumps({"pid": pid, "host": host, "time": "2026-03-01T08:00:00+00:00"}))
    return lock


def dead_process() -> int:
    done = subprocess.Popen([sys.executable, "-c", ""])
    done.wait()
    return done.pid


def test_second_process_is_refused_and_told_who_writes(path: Path, boat: Project):
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as holder:
        assert holder.stdin is not None
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(StringerlabError) as raised:
            save(replace(boat, notes="mine"), path)
        [problem] = raised.value.problems
        assert (
            f"Process {holder.pid} on '{socket.gethostname()}' holds the project for writing, since 20"
            in (problem.what)
        )
        assert problem.where == str(path)
        assert "Close it there or save under another name" in problem.remedy
        assert load(path) == boat
        holder.stdin.write("\n")
        holder.stdin.flush()
        holder.wait()
    save(replace(boat, notes="mine"), path)
    assert load(path).notes == "mine"


def test_lock_of_a_killed_process_is_taken_over(path: Path, boat: Project):
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        holder.kill()
        holder.wait()
    lock = Lock(path)
    assert lock.path.exists()
    with lock:
        owner = lock.owner()
        assert owner is not None
        assert owner.pid == os.getpid()
    assert not lock.path.exists()


def test_lock_of_another_machine_is_never_taken_over(path: Path, boat: Project):
    lock = left_behind(path, dead_process(), "drawing-office-2")
    with pytest.raises(StringerlabError, match="on 'drawing-office-2' holds the project") as raised:
        save(boat, path)
    assert str(lock) in raised.value.problems[0].remedy
    assert lock.exists()


@pytest.mark.parametrize("text", ["", "not json", "[]", '{"pid": "x", "host": 1, "time": 2}'])
def test_lock_that_does_not_read_holds_and_says_what_to_delete(path: Path, boat: Project, text: str):
    lock = path.with_name(".boat.json.lock")
    lock.write_text(text)
    with pytest.raises(StringerlabError, match="its lock does not say which") as raised:
        save(boat, path)
    assert f"delete {lock}" in raised.value.problems[0].remedy


def test_writer_saves_under_its_own_lock_as_often_as_it_likes(path: Path, boat: Project):
    with Lock(path) as lock:
        save(replace(boat, notes="one"), path, lock=lock)
        save(replace(boat, notes="two"), path, lock=lock)
        assert lock.path.exists()
    assert load(path).notes == "two"


def test_two_windows_of_one_program_do_not_write_over_each_other(path: Path, boat: Project):
    with Lock(path), pytest.raises(StringerlabError, match="in another window"):
        save(boat, path)


def test_lock_is_one_for_a_file_and_a_link_to_it(path: Path, boat: Project):
    link = path.with_name("latest.json")
    link.symlink_to(path)
    with Lock(path), pytest.raises(StringerlabError, match="holds the project"):
        save(boat, link)


def test_lock_is_given_back_when_the_work_fails(path: Path):
    lock = Lock(path)
    with pytest.raises(ZeroDivisionError), lock:
        raise ZeroDivisionError
    assert not lock.path.exists()
    assert not lock.held


def test_lock_taken_by_another_since_is_left_alone(path: Path):
    lock = Lock(path)
    lock.acquire()
    left_behind(path, 1, "drawing-office-2")
    lock.release()
    assert lock.path.exists()


TAKER = """
import sys
from stringerlab.errors import StringerlabError
from stringerlab.files import Lock
sys.stdin.readline()
try:
    with Lock(sys.argv[1]):
        print("held", flush=True)
        sys.stdin.readline()
except StringerlabError:
    print("refused", flush=True)
"""


def test_of_many_that_find_a_lock_left_behind_one_takes_it(path: Path):
    left_behind(path, dead_process(), socket.gethostname())
    takers = [
        subprocess.Popen(
            [sys.executable, "-c", TAKER, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        for _ in range(4)
    ]
    for taker in takers:
        assert taker.stdin is not None
        taker.stdin.write("\n")
        taker.stdin.flush()
    said: list[str] = []
    for taker in takers:
        assert taker.stdout is not None
        said.append(taker.stdout.readline().strip())
    for taker in takers:
        taker.communicate("\n")
    assert sorted(said) == ["held", "refused", "refused", "refused"]
