"""A Dask cluster as the crew, through its standard executor. Optional: ``stringerlab[cluster]``."""

import asyncio
import logging
import threading
import time
from collections.abc import Callable, Mapping
from concurrent.futures import CancelledError, Executor, Future
from importlib import import_module
from typing import Any, TypeVar, cast

from stringerlab import __version__
from stringerlab.errors import Problem, StringerlabError

_CONNECT = 3.0
"""Seconds a scheduler has to answer, and ``_SLACK`` more to say who it is."""
_SLACK = 1.0
_COMING = 3.0
"""Seconds for a first worker to come."""
_ABSENT = 60.0
"""Seconds that a cluster may be without any worker."""
_LOOK = 2.0
"""Seconds between two looks at who is there."""
_AHEAD, _LEAST_AHEAD = 2, 8

Task = TypeVar("Task")
Done = TypeVar("Done")


class Cluster:
    """The workers of a Dask cluster. Its scheduler gives the tasks of a lost worker to the others."""

    def __init__(self, address: str) -> None:
        self._address = address
        dask = _distributed()
        self.broken: tuple[type[Exception], ...] = (dask.KilledWorker, CancelledError)
        try:
            self._client: Any = _connected(dask, address)
        except (OSError, ValueError, TypeError, RuntimeError, ImportError) as error:
            raise StringerlabError(
                Problem(
                    "No Dask scheduler answers.",
                    f"--scheduler {address}",
                    "Start one with 'dask scheduler', workers with 'dask worker ADDRESS', and give the "
                    "address it prints, such as tcp://127.0.0.1:8786.",
                )
            ) from error
        try:
            self._first = self._workers()
            self._same_program()
            self._executor = cast("Executor", self._client.get_executor())
        except BaseException:
            self._client.close()
            raise
        self._looked = self._seen = time.monotonic()
        self._lost: set[str] = set()

    @property
    def at_hand(self) -> int:
        """How many tasks are handed out at a time."""
        return max(_AHEAD * sum(self._first.values()), _LEAST_AHEAD)

    def submit(self, work: Callable[[Task], Done], task: Task) -> Future[Done]:
        """Hand out a task."""
        return self._executor.submit(work, task)

    def renew(self) -> None:
        """Look for workers that are left; the scheduler is asked again by the next task."""
        self._looked = 0.0
        self.look()

    def look(self) -> None:
        """See whether any worker is left."""
        now = time.monotonic()
        if now - self._looked < _LOOK:
            return
        self._looked = now
        try:
            there = self._workers()
        except (OSError, RuntimeError) as error:
            raise StringerlabError(
                Problem("The cluster's scheduler is gone.", f"--scheduler {self._address}", "Start it again.")
            ) from error
        self._lost |= self._first.keys() - there.keys()
        if there:
            self._seen = now
        elif now - self._seen > _ABSENT:
            raise _nobody(self._address)

    def notes(self) -> tuple[str, ...]:
        """Return how many workers were lost."""
        self._lost |= self._first.keys() - self._workers().keys()
        lost = len(self._lost)
        if not lost:
            return ()
        return (f"{lost} of the cluster's {len(self._first)} workers were lost; others did their tasks.",)

    def stop(self) -> None:
        """Leave the cluster; tasks that are not done are taken back."""
        self._executor.shutdown(wait=False)  # which takes back what is not done
        self._client.close()

    def _workers(self) -> dict[str, int]:
        """Return the threads of every worker, by its address."""
        return dict(cast("Mapping[str, int]", self._client.nthreads()))

    def _same_program(self) -> None:
        """Refuse a cluster without workers, or whose workers have no such program as this."""
        if not self._first:
            try:
                self._client.wait_for_workers(1, timeout=_COMING)
            except TimeoutError as error:
                raise _nobody(self._address) from error
            self._first = self._workers()
        try:
            versions = set(cast("Mapping[str, str]", self._client.run(version)).values())
        except (ImportError, AttributeError) as error:
            versions = {str(error)}
        if versions != {__version__}:
            raise StringerlabError(
                Problem(
                    f"A worker has not the stringerlab {__version__} of this program: "
                    f"{', '.join(sorted(versions - {__version__}))}.",
                    f"--scheduler {self._address}",
                    "Install the same version wherever workers run.",
                )
            )


def version() -> str:
    """Return the version of the program where this runs."""
    return __version__


def _connected(dask: Any, address: str) -> Any:
    """Return a client, or raise in good time, whatever it is that listens at the address and says nothing."""
    made: Future[Any] = Future()
    given_up = threading.Event()

    def connect() -> None:
        try:
            asyncio.run(_heard(dask, address))
            client = dask.Client(address, timeout=_CONNECT, set_as_default=False, name="stringerlab")
        except BaseException as error:  # who waits gets it
            made.set_exception(error)
            return
        if given_up.is_set():
            client.close()
        made.set_result(client)

    threading.Thread(target=connect, daemon=True).start()
    try:
        return made.result(_CONNECT + _SLACK)
    finally:
        given_up.set()


async def _heard(dask: Any, address: str) -> None:
    """Raise unless a scheduler answers: a client that is made of none clings to the program's end."""
    security = dask.Security().get_connection_args("client")
    heard = await import_module("distributed.comm").connect(address, timeout=_CONNECT, **security)
    await heard.close()


def _distributed() -> Any:
    try:
        found = import_module("distributed")
    except ImportError as error:
        raise StringerlabError(
            Problem(
                "A cluster needs Dask, which is not installed.",
                "--scheduler",
                "Install it with: pip install 'stringerlab[cluster]'.",
            )
        ) from error
    for handler in logging.getLogger("distributed").handlers:
        handler.setLevel(logging.CRITICAL)  # what goes wrong is told by the run itself
    return found


def _nobody(address: str) -> StringerlabError:
    return StringerlabError(
        Problem(
            "The cluster has no worker.",
            f"--scheduler {address}",
            f"Start some with: dask worker {address}.",
        )
    )
