"""A journal: resume after a stop or a kill, torn lines, another run's, a full disk."""

import errno
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from stringerlab.assess.check import Cancelled
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.sizing.running import Pack, Ran, Running, digest_of, run
from stringerlab.sizing.running import journal as journals
from stringerlab.sizing.running.packing import as_plain, from_plain
from tests.sizing.running import works
from tests.sizing.running.test_running import ROOT, alone, same
from tests.sizing.running.works import Throw

TASKS = [Throw(seed) for seed in range(8)]


def ran(journal: Path, digest: str = "d", tasks: list[Throw] = TASKS) -> Ran:
    return run(works.thrown, tasks, Running(workers=1, journal=journal), digest=digest, what="Throwing")


def lines(journal: Path) -> list[bytes]:
    return journal.read_bytes().splitlines(keepends=True)


def never(task: Throw) -> Pack:
    raise AssertionError(f"task {task.seed} was done again")


def test_what_is_done_is_not_done_again(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    first = ran(path)
    again = run(never, TASKS, Running(journal=path), digest="d", what="Throwing")
    assert same(again.packs, first.packs)
    assert again.notes == (f"8 of 8 parts were in the journal {path} and were not done again.",)


def test_a_cancelled_run_goes_on_from_its_journal(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"

    def patience(part: float, words: str) -> None:
        if part > 0.4:
            raise Cancelled

    with pytest.raises(Cancelled):
        run(works.thrown, TASKS, Running(workers=1, journal=path), patience, digest="d", what="Throwing")
    assert len(lines(path)) == 1 + 4
    resumed = ran(path)
    assert same(resumed.packs, alone(TASKS))
    assert "4 of 8 parts were in the journal" in resumed.notes[0]


SCRIPT = """
import sys
from pathlib import Path
from stringerlab.sizing.running import Running, run
from tests.sizing.running.works import Throw, thrown
if __name__ == "__main__":
    tasks = [Throw(seed, pause=0.05) for seed in range(200)]
    running = Running(workers=int(sys.argv[2]), journal=Path(sys.argv[1]))
    run(thrown, tasks, running, digest="d", what="Throwing")
"""


@pytest.mark.skipif(sys.platform == "win32", reason="ends a process by a signal")
@pytest.mark.parametrize("workers", [1, 2])
def test_a_killed_run_goes_on_from_its_journal_and_leaves_no_worker(tmp_path: Path, workers: int) -> None:
    path, script = tmp_path / "run.journal", tmp_path / "script.py"
    script.write_text(SCRIPT, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, str(script), str(path), str(workers)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    ) as process:
        assert process.stdout is not None
        end = time.monotonic() + 30
        while not (path.is_file() and len(lines(path)) > 5) and time.monotonic() < end:
            time.sleep(0.02)
        process.send_signal(signal.SIGKILL)
        process.wait()
        # the pipe ends when the last that inherited it has gone: every worker as well
        assert process.stdout.read() == b""
    held = len(lines(path)) - 1
    assert 0 < held < 200
    tasks = [Throw(seed) for seed in range(200)]
    resumed = ran(path, tasks=tasks)
    assert same(resumed.packs, alone(tasks))
    assert "of 200 parts were in the journal" in resumed.notes[0]


@pytest.mark.parametrize("cut", [1, 40])
def test_a_torn_last_line_counts_as_not_written(tmp_path: Path, cut: int) -> None:
    path = tmp_path / "run.journal"
    ran(path)
    whole = path.read_bytes()
    path.write_bytes(whole[:-cut])
    resumed = ran(path)
    assert same(resumed.packs, alone(TASKS))
    assert resumed.notes == (
        f"7 of 8 parts were in the journal {path} and were not done again.",
        "A line of the journal, torn or damaged, counted as not written.",
    )
    assert path.read_bytes() == whole


def test_a_journal_torn_in_its_first_line_begins_anew(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    ran(path)
    whole = path.read_bytes()
    for cut in (0, 1, 10, 30):
        path.write_bytes(whole[:cut])
        assert ran(path).notes == ()
        assert path.read_bytes() == whole


def test_a_changed_line_counts_as_not_written(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    ran(path)
    held = lines(path)
    said: dict[str, Any] = json.loads(held[3])
    said["pack"]["sum"] += 1.0
    held[3] = json.dumps(said).encode() + b"\n"
    path.write_bytes(b"".join(held))
    resumed = ran(path)
    assert same(resumed.packs, alone(TASKS))
    assert "7 of 8 parts" in resumed.notes[0]


def test_a_journal_of_another_run_is_refused_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "run.journal"
    ran(path)
    before = path.read_bytes()
    with pytest.raises(StringerlabError, match=r"another run.*Name another file"):
        ran(path, digest="other")
    with pytest.raises(StringerlabError, match="another run"):
        ran(path, tasks=TASKS[:5])
    assert path.read_bytes() == before


def test_a_journal_of_another_version_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "run.journal"
    ran(path)
    monkeypatch.setattr(journals, "__version__", "99.0")
    with pytest.raises(StringerlabError, match=r"of stringerlab .*; this is 99\.0"):
        ran(path)


@pytest.mark.parametrize("holds", [b'{"name": "a boat"}', b'{"name": "a boat"}\n', b"\xff\xfe\n", b"[1]\n"])
def test_a_file_that_is_no_journal_is_never_written_over(tmp_path: Path, holds: bytes) -> None:
    path = tmp_path / "boat.json"
    path.write_bytes(holds)
    with pytest.raises(StringerlabError, match="no journal"):
        ran(path)
    assert path.read_bytes() == holds


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_full_disk_at_the_start_is_said() -> None:
    with pytest.raises(StringerlabError, match=r"cannot be written: No space left.*another disk"):
        ran(Path("/dev/full"))


def test_a_place_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    with pytest.raises(StringerlabError, match="cannot be written"):
        ran(tmp_path / "nowhere" / "run.journal")
    with pytest.raises(StringerlabError, match="cannot be written"):
        ran(tmp_path)


def test_a_disk_that_fills_midway_stops_the_journal_and_not_the_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "run.journal"
    left = 700

    def filling(file: int, what: memoryview) -> int:
        nonlocal left
        if not left:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        some = os.write(file, what[:left])
        left -= some
        return some

    with monkeypatch.context() as patched:
        patched.setattr(journals, "written", filling)
        first = ran(path)
    assert same(first.packs, alone(TASKS))
    assert len(first.notes) == 1
    assert "No space left on device" in first.notes[0]
    assert "went on without it" in first.notes[0]
    again = ran(path)
    assert same(again.packs, first.packs)
    assert any("torn or damaged" in note for note in again.notes)


def test_a_pack_comes_back_to_the_last_bit() -> None:
    pack: Pack = {
        "doubles": np.array([[0.1, np.nan], [np.inf, -0.0]]),
        "whole": np.arange(6, dtype=np.int64).reshape(1, 2, 3)[:, ::-1],
        "yes": np.array([True, False]),
        "names": np.array(["mat", "Röving"]),
        "none": np.zeros((0, 3)),
        "scalar": np.array(2.5),
        "number": 0.1 + 0.2,
        "lost": float("nan"),
        "far": float("inf"),
        "said": "ü\n→",
        "of numpy": np.float64(1 / 3),
    }
    back = from_plain(json.loads(json.dumps(as_plain(pack))))
    assert back.keys() == pack.keys()
    assert from_plain(json.loads(json.dumps(as_plain({"many": 2**80})))) == {"many": 2**80}
    for name, value in pack.items():
        got, held = np.asarray(back[name]), np.asarray(value)
        assert got.dtype == held.dtype
        assert got.shape == held.shape
        assert got.tobytes() == held.tobytes()


def test_what_cannot_be_kept_is_refused() -> None:
    for wrong in (np.array([object()]), None, [1, 2]):
        with pytest.raises(TypeError, match="cannot keep"):
            as_plain({"wrong": wrong})  # pyright: ignore[reportArgumentType]


def test_a_digest_tells_one_run_from_another() -> None:
    boat = load(folder("sample_projects") / "first_hat_lesson.json")
    from dataclasses import replace

    told = digest_of(boat, boat.wishes.sizing, np.arange(3), 1)
    assert told == digest_of(boat, boat.wishes.sizing, np.arange(3), 1)
    others = [
        digest_of(replace(boat, name="Other"), boat.wishes.sizing, np.arange(3), 1),
        digest_of(boat, replace(boat.wishes.sizing, seed=2), np.arange(3), 1),
        digest_of(boat, boat.wishes.sizing, np.arange(3.0), 1),
        digest_of(boat, boat.wishes.sizing, np.arange(3), 2),
    ]
    assert len({told, *others}) == 5
