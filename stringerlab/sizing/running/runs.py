"""Run many tasks: in this process, in several, or on a cluster, with the same packs in the same order.

One loop hands tasks to whatever stands behind the standard ``concurrent.futures`` interface. What a task
gives depends on the task alone, so that who did it, and when, changes nothing.
"""

import time
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, wait
from typing import TypeVar

from stringerlab.errors import Problem, StringerlabError
from stringerlab.sizing.running.crews import Crew, Processes, cores
from stringerlab.sizing.running.journal import Journal
from stringerlab.sizing.running.left import Pace
from stringerlab.sizing.running.pulse import pulse_felt
from stringerlab.sizing.running.records import Pack, Ran, Running

Watch = Callable[[float, str], None]
Task = TypeVar("Task")

_BEAT = 0.1
"""Seconds between two looks of the watch."""
_BEGINNING = 1.5
"""Seconds of work that a second process must save to be worth beginning."""
_AGAIN = 3
"""How often lost workers are replaced."""


def run(
    work: Callable[[Task], Pack],
    tasks: Sequence[Task],
    running: Running,
    watch: Watch | None = None,
    *,
    digest: str,
    what: str,
    seconds: float | None = None,
) -> Ran:
    """Return what every task comes to.

    Parameters
    ----------
    work
        A function of a module (so that other processes find it by its name) of one task alone: the same
        task gives the same pack. It may call ``pulse``.
    tasks
        What can be pickled: records, arrays, numbers. Best about a second of work each.
    running
        Where they run, and the journal.
    watch
        Told the part done and the time left; ends the run by raising. The journal keeps what was done.
    digest
        What tells this run from any other, see ``digest_of``.
    what
        What is being done, in words: ``Judging designs``.
    seconds
        About how long a task takes, where that is known; otherwise the first is timed.

    Raises
    ------
    StringerlabError
        When the journal is another run's or cannot be written, the cluster does not answer, or workers are
        lost again and again; and what a task raises.
    Cancelled
        When the watch raises it.
    """
    journal = (
        None if running.journal is None else Journal.opened(running.journal, digest=digest, tasks=len(tasks))
    )
    try:
        tally = _Tally(len(tasks), what, watch, journal)
        if tally.missing:
            _do(work, tasks, running, tally, seconds)
        return tally.ran()
    finally:
        if journal is not None:
            journal.close()


class _Tally:
    """What is done, told and kept."""

    def __init__(self, tasks: int, what: str, watch: Watch | None, journal: Journal | None) -> None:
        self._packs: dict[int, Pack] = {} if journal is None else dict(journal.done)
        self._tasks = tasks
        self._what = what
        self._watch = watch
        self._journal = journal
        self._pace = Pace(tasks, len(self._packs))
        self._notes: list[str] = []
        self.tell()

    @property
    def missing(self) -> list[int]:
        """Numbers of the tasks that are to be done."""
        return [number for number in range(self._tasks) if number not in self._packs]

    def keep(self, number: int, pack: Pack) -> None:
        self._packs[number] = pack
        if self._journal is not None:
            self._journal.keep(number, pack)
        self.tell()

    def tell(self, part: float = 0.0) -> None:
        """Tell the watch how far the run is, ``part`` of a task included."""
        if self._watch is not None:
            done = len(self._packs) + part
            self._watch(done / max(self._tasks, 1), self._pace.words(self._what, done))

    def note(self, said: str) -> None:
        self._notes.append(said)

    def ran(self) -> Ran:
        kept = [] if self._journal is None else self._journal.notes
        packs = tuple(self._packs[number] for number in range(self._tasks))
        return Ran(packs=packs, notes=(*kept, *self._notes))


def _do(
    work: Callable[[Task], Pack],
    tasks: Sequence[Task],
    running: Running,
    tally: _Tally,
    seconds: float | None,
) -> None:
    if running.scheduler:
        from stringerlab.sizing.running.cluster import Cluster

        _by(Cluster(running.scheduler), work, tasks, tally)
        return
    most = running.workers or cores()
    first, *rest = tally.missing
    if most > 1 and rest and not running.workers and seconds is None:
        began = time.monotonic()
        _here(work, tasks, [first], tally)
        seconds = time.monotonic() - began
    left = tally.missing
    workers = min(most, len(left))
    if workers > 1 and (running.workers or _pays(len(left) * (seconds or 0.0), workers)):
        _by(Processes(workers), work, tasks, tally)
    else:
        _here(work, tasks, left, tally)


def _pays(seconds: float, workers: int) -> bool:
    """Whether so much work is worth beginning processes for."""
    return seconds * (1 - 1 / workers) > _BEGINNING


def _here(work: Callable[[Task], Pack], tasks: Sequence[Task], numbers: Sequence[int], tally: _Tally) -> None:
    with pulse_felt(tally.tell):
        for number in numbers:
            tally.keep(number, work(tasks[number]))


def _by(crew: Crew, work: Callable[[Task], Pack], tasks: Sequence[Task], tally: _Tally) -> None:
    """Have a crew do what is missing, with new workers for those lost."""
    try:
        for lost in range(_AGAIN + 1):
            try:
                _handed_out(crew, work, tasks, tally)
                break
            except crew.broken as error:
                if lost == _AGAIN:
                    raise StringerlabError(
                        Problem(
                            f"Workers were lost {_AGAIN + 1} times.",
                            remedy="Often memory is short: run with fewer workers, or with one.",
                        )
                    ) from error
                crew.renew()
                tally.note("A worker was lost; its tasks were done again by a new one.")
        for said in crew.notes():
            tally.note(said)
    finally:
        crew.stop()


def _handed_out(crew: Crew, work: Callable[[Task], Pack], tasks: Sequence[Task], tally: _Tally) -> None:
    waiting = list(reversed(tally.missing))
    out: dict[Future[Pack], int] = {}
    while waiting or out:
        while waiting and len(out) < crew.at_hand:
            number = waiting.pop()
            out[crew.submit(work, tasks[number])] = number
        done, _ = wait(out, timeout=_BEAT, return_when=FIRST_COMPLETED)
        tally.tell()
        if not done:
            crew.look()
        lost: Exception | None = None
        for future in done:
            number = out.pop(future)
            error = CancelledError() if future.cancelled() else future.exception()
            if isinstance(error, crew.broken):
                lost = error
            elif error is not None:
                raise error
            else:
                tally.keep(number, future.result())
        if lost is not None:
            raise lost


__all__ = ["run"]
