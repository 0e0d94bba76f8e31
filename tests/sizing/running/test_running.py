"""Running many tasks: the same packs however that is, in order; lost workers, cancel, time left."""

import os
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from stringerlab.assess.check import Cancelled
from stringerlab.errors import StringerlabError
from stringerlab.sizing.running import Pack, Running, left, pulse, run, runs
from stringerlab.sizing.running.crews import cores
from stringerlab.sizing.running.left import time_left
from stringerlab.sizing.running.pulse import pulse_felt
from tests.sizing.running import works
from tests.sizing.running.works import Throw

ROOT = Path(__file__).parents[3]
TASKS = [Throw(seed) for seed in range(12)]


@pytest.fixture(autouse=True)
def found_by_other_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(ROOT))


def same(these: Sequence[Pack], those: Sequence[Pack]) -> bool:
    return len(these) == len(those) and all(
        this.keys() == that.keys()
        and all(np.array_equal(np.asarray(this[name]), np.asarray(that[name])) for name in this)
        for this, that in zip(these, those, strict=True)
    )


def alone(tasks: Sequence[Throw]) -> list[Pack]:
    return [works.thrown(task) for task in tasks]


@pytest.mark.parametrize("workers", [0, 1, 2, 3])
def test_any_number_of_workers_gives_the_same_packs_in_order(workers: int) -> None:
    ran = run(works.thrown, TASKS, Running(workers=workers), digest="d", what="Throwing")
    assert same(ran.packs, alone(TASKS))
    assert ran.notes == ()


def test_nothing_to_do_is_done() -> None:
    assert run(works.thrown, [], Running(workers=2), digest="d", what="Throwing").packs == ()


def test_little_work_begins_no_process() -> None:
    packs = run(works.surroundings, TASKS[:4], Running(), digest="d", what="Throwing").packs
    assert {str(pack["process"]) for pack in packs} == {str(os.getpid())}


@pytest.mark.skipif(cores() < 2, reason="one core alone: more processes never help")
def test_much_work_begins_processes_that_count_on_one_core_and_know_no_window() -> None:
    packs = run(works.surroundings, TASKS, Running(), digest="d", what="Throwing", seconds=60.0).packs
    assert str(os.getpid()) not in {str(pack["process"]) for pack in packs}
    for pack in packs:
        assert (pack["threads"], pack["qt"], pack["heeds"]) == ("1", 0, 0)


def test_the_programs_own_surroundings_stay_as_they_were(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    run(works.thrown, TASKS, Running(workers=2), digest="d", what="Throwing")
    assert "OPENBLAS_NUM_THREADS" not in os.environ


def test_a_killed_worker_is_replaced_and_its_tasks_done_again(tmp_path: Path) -> None:
    tasks = [Throw(seed, marker=str(tmp_path / "killed") if seed == 5 else "") for seed in range(12)]
    ran = run(works.killed_once, tasks, Running(workers=2), digest="d", what="Throwing")
    assert (tmp_path / "killed").exists()
    assert same(ran.packs, alone(tasks))
    assert ran.notes == ("A worker was lost; its tasks were done again by a new one.",)


def test_a_task_that_always_ends_its_worker_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(runs, "_AGAIN", 1)
    tasks = [Throw(seed, marker="yes" if seed == 3 else "") for seed in range(6)]
    with pytest.raises(StringerlabError, match=r"Workers were lost 2 times.*memory"):
        run(works.killed_always, tasks, Running(workers=2), digest="d", what="Throwing")


@pytest.mark.parametrize("workers", [1, 2])
def test_what_a_task_refuses_is_said(workers: int) -> None:
    with pytest.raises(StringerlabError, match="task 2: The third is refused"):
        run(works.refused, TASKS, Running(workers=workers), digest="d", what="Throwing")


def test_progress_rises_to_the_whole_and_counts() -> None:
    seen: list[tuple[float, str]] = []
    run(works.thrown, TASKS, Running(workers=1), lambda *told: seen.append(told), digest="d", what="Throwing")
    parts = [part for part, _ in seen]
    assert parts == sorted(parts)
    assert (parts[0], parts[-1]) == (0.0, 1.0)
    assert seen[-1][1] == "Throwing: 12 of 12"


def test_time_left_is_told_once_the_pace_is_known() -> None:
    tasks = [Throw(seed, pause=0.3) for seed in range(6)]
    seen: list[str] = []
    run(
        works.thrown,
        tasks,
        Running(workers=1),
        lambda _, words: seen.append(words),
        digest="d",
        what="Throwing",
    )
    assert "Throwing: 5 of 6, a few seconds left" in seen


def told(monkeypatch: pytest.MonkeyPatch, tasks: int, at: Sequence[tuple[float, float]]) -> list[str]:
    """Return the time left that is told at times when so much is done."""
    now = 0.0
    monkeypatch.setattr(left.time, "monotonic", lambda: now)
    pace = left.Pace(tasks)
    words: list[str] = []
    for now, done in at:  # noqa: B007
        words.append(pace.words("Throwing", done).partition(", ")[2])
    return words


def test_workers_that_are_slow_to_begin_do_not_count_as_slow(monkeypatch: pytest.MonkeyPatch) -> None:
    at = [(0.1 * beat, float(max(0, (beat - 70) // 5))) for beat in range(270)]  # from 7.5 s on one in 0.5 s
    words = told(monkeypatch, 40, at)
    assert set(words[:85]) == {""}
    seconds = [int(one.split()[1]) for one in words if one.startswith("about")]
    assert max(seconds) == 20
    assert seconds == sorted(seconds, reverse=True)
    assert words[-8] == "a few seconds left"


def test_between_two_tasks_the_time_left_runs_down_and_never_below_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    at = [(0, 0), (20, 1), (40, 2), (60, 2), (70, 2), (900, 2)]
    assert told(monkeypatch, 4, at) == [
        "",
        "about 60 s left",
        "about 40 s left",
        "about 20 s left",
        "about 10 s left",
        "a few seconds left",
    ]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (3, "a few seconds left"),
        (42, "about 40 s left"),
        (200, "about 3 min left"),
        (9000, "about 2 h left"),
    ],
)
def test_time_left_in_words(seconds: float, words: str) -> None:
    assert time_left(seconds) == words


class _Patience:
    """A watch that gives up a while after the work began."""

    def __init__(self, seconds: float) -> None:
        self._end = time.monotonic() + seconds
        self.given_up = 0.0

    def __call__(self, _part: float, _words: str) -> None:
        if time.monotonic() > self._end:
            self.given_up = time.monotonic()
            raise Cancelled


@pytest.mark.parametrize(("work", "workers"), [(works.slow, 1), (works.deaf, 2)])
def test_a_run_is_cancelled_at_once(work: object, workers: int) -> None:
    watch = _Patience(1.0)
    with pytest.raises(Cancelled):
        run(
            works.slow if work is works.slow else works.deaf,
            TASKS,
            Running(workers=workers),
            watch,
            digest="d",
            what="Throwing",
        )
    assert watch.given_up
    assert time.monotonic() - watch.given_up < 5.0  # where a deaf task alone takes 30 s


def test_a_pulse_outside_a_run_does_nothing() -> None:
    felt: list[float] = []
    with pulse_felt(felt.append):
        pulse(0.25)
    pulse(0.5)
    assert felt == [0.25]
