"""Recording of formulas as they run, and the way back from a result to what it came from."""

from collections.abc import Generator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from stringerlab.workings.source import Known, weakest

if TYPE_CHECKING:
    from stringerlab.workings.formula import Array, Formula, Value


@dataclass(frozen=True, slots=True, eq=False)
class Step:
    """One formula as it ran: its inputs and its result in the program's units, for all rows at once."""

    formula: "Formula"
    inputs: "Mapping[str, Value]"
    result: "Array"


@dataclass(slots=True, eq=False)
class Recording:
    """Formulas in the order they ran."""

    steps: list[Step] = field(default_factory=list[Step])
    _made_by: dict[int, int] = field(default_factory=dict[int, int])

    def add(self, step: Step) -> None:
        """Keep a step; its result is known again by identity when it goes into a later one."""
        self._made_by[id(step.result)] = len(self.steps)
        self.steps.append(step)

    def behind(self, *values: Any) -> tuple[Step, ...]:
        """Return the steps that these very results came from, in the order they ran."""
        wanted: set[int] = set()
        waiting = [self._made_by[id(value)] for value in values if id(value) in self._made_by]
        while waiting:
            index = waiting.pop()
            if index in wanted:
                continue
            wanted.add(index)
            inputs = self.steps[index].inputs.values()
            waiting.extend(self._made_by[id(value)] for value in inputs if id(value) in self._made_by)
        return tuple(self.steps[index] for index in sorted(wanted))


active: ContextVar[Recording | None] = ContextVar("workings", default=None)


@contextmanager
def workings() -> Generator[Recording]:
    """Record every formula called inside.

    ``with workings() as w:`` gives the recording; a recording inside another hides it until it ends.
    """
    recording = Recording()
    token = active.set(recording)
    try:
        yield recording
    finally:
        active.reset(token)


def row_of(value: Any, row: int) -> float:
    """Return a value's number in one row; a number common to all rows is the same in each."""
    array = np.asarray(value, dtype=float)
    return float(array) if array.ndim == 0 else float(array[row])


def marks_of(steps: tuple[Step, ...]) -> Known:
    """Return the weakest mark of the formulas in these steps."""
    return weakest(step.formula.source.known for step in steps)
