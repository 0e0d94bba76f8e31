"""A beat from inside a task: lets a person cancel while it runs in the program's own process."""

from collections.abc import Callable, Generator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from time import monotonic

_EVERY = 0.1
"""Seconds between two beats without news."""


@dataclass(slots=True)
class _Felt:
    by: Callable[[float], None]
    part: float = 0.0
    at: float = 0.0

    def feel(self, part: float) -> None:
        self.part, self.at = part, monotonic()
        self.by(part)


_felt: ContextVar[_Felt | None] = ContextVar("felt", default=None)


def pulse(part: float = 0.0) -> None:
    """Say how much of the present task is done; call it every 0.2 s of work or oftener.

    In a worker process and on a cluster it does nothing: there a task is ended from outside.

    Raises
    ------
    Cancelled
        When the run's watch raises it.
    """
    felt = _felt.get()
    if felt is not None:
        felt.feel(part)


def beat() -> None:
    """Say that work goes on, without news of how much is done; may be called as often as one likes.

    Raises
    ------
    Cancelled
        When the run's watch raises it.
    """
    felt = _felt.get()
    if felt is not None and monotonic() - felt.at >= _EVERY:
        felt.feel(felt.part)


@contextmanager
def pulse_felt(by: Callable[[float], None]) -> Generator[None]:
    """Have the pulse felt within."""
    token = _felt.set(_Felt(by))
    try:
        yield
    finally:
        _felt.reset(token)
