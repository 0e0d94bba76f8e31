"""A search that loses a worker, or its own process, midway: the same answer, less work, and it says so."""

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stringerlab.sizing.records import Sized
from stringerlab.sizing.running import Running
from stringerlab.sizing.searching.size import size
from tests.sizing.running import searches
from tests.sizing.running.searches import answer
from tests.sizing.running.test_running import ROOT

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends a process by a signal")
SEARCHING = "Searching designs: "
_FULL = 2_000


@pytest.fixture(autouse=True)
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    searches.in_small_tasks(monkeypatch)


@pytest.fixture(scope="module")
def undisturbed() -> Sized:
    with pytest.MonkeyPatch.context() as patch:
        searches.in_small_tasks(patch)
        boat = searches.boat()
        return size(boat, searches.plan(boat), running=Running(workers=1))


def test_a_search_whose_worker_is_killed_gives_the_same_answer_and_says_so(undisturbed: Sized) -> None:
    killed: list[int] = []

    def kill_one(_part: float, words: str) -> None:
        if not killed and words.startswith(SEARCHING) and not words.startswith(f"{SEARCHING}0 "):
            process = multiprocessing.active_children()[0]
            assert process.pid is not None
            os.kill(process.pid, signal.SIGKILL)
            killed.append(process.pid)

    boat = searches.boat()
    found = size(boat, searches.plan(boat), running=Running(workers=2), watch=kill_one)
    assert killed
    assert answer(found) == answer(undisturbed)
    assert len(found.front) > 3
    assert "A worker was lost; its tasks were done again by a new one." in found.notes


SCRIPT = """
import sys
from pathlib import Path
import pytest
from stringerlab.sizing.running import Running
from stringerlab.sizing.searching.size import size
from tests.sizing.running import searches
if __name__ == "__main__":
    with pytest.MonkeyPatch.context() as patch:
        searches.in_small_tasks(patch)
        boat = searches.boat()
        size(boat, searches.plan(boat), running=Running(workers=1, journal=Path(sys.argv[1])))
"""


def test_a_search_that_is_killed_goes_on_from_its_journal(tmp_path: Path, undisturbed: Sized) -> None:
    journal, script = tmp_path / "run.journal", tmp_path / "script.py"
    script.write_text(SCRIPT, encoding="utf-8")
    with subprocess.Popen(
        [sys.executable, str(script), str(journal)], env={**os.environ, "PYTHONPATH": str(ROOT)}
    ) as process:
        end = time.monotonic() + 60
        while not (journal.is_file() and journal.read_bytes().count(b"\n") > 1):
            assert process.poll() is None
            assert time.monotonic() < end
            time.sleep(0.01)
        process.send_signal(signal.SIGKILL)
        assert process.wait() == -signal.SIGKILL
    held = journal.read_bytes().count(b"\n") - 1
    assert 1 <= held < searches.TASKS
    told: list[str] = []
    boat = searches.boat()
    resumed = size(
        boat,
        searches.plan(boat),
        running=Running(workers=1, journal=journal),
        watch=lambda _part, words: told.append(words),
    )
    assert answer(resumed) == answer(undisturbed)
    assert any(f"{held} of {searches.TASKS} parts were in the journal" in note for note in resumed.notes)
    # the rest alone was done: the first that is told of the search is that so many are
    assert next(words for words in told if words.startswith(SEARCHING)).startswith(f"{SEARCHING}{held} of")


@pytest.mark.skipif(not hasattr(os, "fork"), reason="limits the size of a file, as only POSIX can")
def test_a_disk_that_fills_midway_costs_the_journal_and_not_the_search(
    tmp_path: Path, undisturbed: Sized
) -> None:
    import resource

    journal = tmp_path / "run.journal"
    boat = searches.boat()
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    heeded = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (_FULL, before[1]))
    try:
        found = size(boat, searches.plan(boat), running=Running(workers=1, journal=journal))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, heeded)
    assert answer(found) == answer(undisturbed)
    assert sum("went on without it" in note for note in found.notes) == 1
    assert journal.stat().st_size <= _FULL
