"""Who does the tasks beside the program's own process: worker processes on this machine.

Workers are spawned, so that they inherit neither the window nor its threads; each counts on one core. They
end when the run is stopped, and by themselves when the program is killed.
"""

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Generator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import Connection, wait
from typing import Protocol, TypeVar

_THREADS = "OPENBLAS_NUM_THREADS"
_AHEAD = 2
"""Tasks at hand for every worker, so that none waits."""

Task = TypeVar("Task")
Done = TypeVar("Done")

_in_worker = False


class Crew(Protocol):
    """Workers behind the standard executor's interface."""

    broken: tuple[type[Exception], ...]
    """Raised of a task whose worker was lost, and of all after it."""

    @property
    def at_hand(self) -> int:
        """How many tasks are handed out at a time."""
        ...

    def submit(self, work: Callable[[Task], Done], task: Task) -> Future[Done]:
        """Hand out a task."""
        ...

    def renew(self) -> None:
        """Take new workers for those lost.

        Raises
        ------
        StringerlabError
            When there are none to be had.
        """
        ...

    def look(self) -> None:
        """See whether anyone is still at work; called while nothing comes.

        Raises
        ------
        StringerlabError
            When nobody is.
        """
        ...

    def notes(self) -> tuple[str, ...]:
        """Return what a person should know of the crew."""
        ...

    def stop(self) -> None:
        """End every worker, whatever it does."""
        ...


class Processes:
    """Worker processes on this machine."""

    broken: tuple[type[Exception], ...] = (BrokenProcessPool,)

    def __init__(self, workers: int) -> None:
        self._workers = workers
        self._begin()

    def _begin(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._hold, self._stop = context.Pipe(duplex=False)
        self._executor: Executor = ProcessPoolExecutor(
            self._workers, mp_context=context, initializer=_settle, initargs=(self._hold,)
        )

    @property
    def at_hand(self) -> int:
        """How many tasks are handed out at a time."""
        return _AHEAD * self._workers

    def submit(self, work: Callable[[Task], Done], task: Task) -> Future[Done]:
        """Hand out a task."""
        with _fit_to_inherit():
            return self._executor.submit(work, task)

    def renew(self) -> None:
        """Begin new processes."""
        self.stop()
        self._begin()

    def look(self) -> None:
        """Do nothing: a process that is lost breaks its pool."""

    def notes(self) -> tuple[str, ...]:
        """Return nothing: who was lost is told as it happens."""
        return ()

    def stop(self) -> None:
        """End every process, whatever it does."""
        self._stop.send_bytes(b".")  # which nobody takes: it is there for every worker
        self._executor.shutdown(cancel_futures=True)
        self._stop.close()
        self._hold.close()


def cores() -> int:
    """Return how many cores this process may use; one within a worker, which has all it may use."""
    if _in_worker:
        return 1
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not told on this system
        return os.cpu_count() or 1


@contextmanager
def _fit_to_inherit() -> Generator[None]:
    """Within, a process begun counts on one core and leaves Ctrl-C to the program."""
    before = os.environ.get(_THREADS)
    os.environ[_THREADS] = "1"
    masks = hasattr(signal, "pthread_sigmask")
    held = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT}) if masks else set[signal.Signals]()
    try:
        yield
    finally:
        if masks:
            signal.pthread_sigmask(signal.SIG_SETMASK, held)
        if before is None:
            del os.environ[_THREADS]
        else:
            os.environ[_THREADS] = before


def _settle(stop: Connection) -> None:
    """Begin a worker: deaf to Ctrl-C, and gone once it is told, or its parent is."""
    global _in_worker
    _in_worker = True
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_leave, args=(stop,), daemon=True).start()


def _leave(stop: Connection) -> None:
    parent = multiprocessing.parent_process()
    wait([stop] if parent is None else [stop, parent.sentinel])
    os._exit(0)
