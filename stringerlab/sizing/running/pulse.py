"""A beat from inside a task: lets a person cancel while it runs in the program's own process."""

from collections.abc import Callable, Generator
from contextlib import contextmanager
from contextvars import ContextVar

_felt: ContextVar[Callable[[float], None] | None] = ContextVar("felt", default=None)


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
        felt(part)


@contextmanager
def pulse_felt(by: Callable[[float], None]) -> Generator[None]:
    """Have the pulse felt within."""
    token = _felt.set(by)
    try:
        yield
    finally:
        _felt.reset(token)
