"""Recording of formulas as they run, and the way back from a result to what it came from."""

from collections.abc import Generator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, TypeVar, cast

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


_Tie = tuple[Any, tuple[Any, ...]]


@dataclass(slots=True, eq=False)
class Recording:
    """Formulas in the order they ran."""

    steps: list[Step] = field(default_factory=list[Step])
    _made_by: dict[int, int] = field(default_factory=dict[int, int])
    _made_of: dict[int, tuple[Any, tuple[Any, ...]]] = field(
        default_factory=dict[int, tuple[Any, tuple[Any, ...]]]
    )

    def add(self, step: Step) -> "Array":
        """Keep a step and return its result, known again by identity when it goes into a later one.

        The result is a fresh object that cannot be written to: what is shown stays what was computed.
        """
        result = _fresh(step.result)
        self._made_by[id(result)] = len(self.steps)
        if result.ndim:
            self._made_by.setdefault(id(result.base), len(self.steps))
        self.steps.append(replace(step, result=result))
        return result

    def tie(self, value: Any, origins: tuple[Any, ...]) -> None:
        """Remember that a value was made of others without a formula: a choice of rows, a sum."""
        self._made_of[id(value)] = (value, origins)

    def behind(self, *values: Any) -> tuple[Step, ...]:
        """Return the steps that these very results came from, in the order they ran.

        A view of a result (a slice, a new axis) counts as the result; what other arithmetic made of it
        is known only when tied by ``traced``.
        """
        wanted: set[int] = set()
        seen: set[int] = set()
        waiting = list(values)
        while waiting:
            value = waiting.pop()
            if id(value) in seen:
                continue
            seen.add(id(value))
            if id(value) in self._made_of:
                waiting.extend(self._made_of[id(value)][1])
            index = self._made_by.get(id(value))
            if index is None and isinstance(value, np.ndarray):
                index = self._made_by.get(id(cast(Any, value).base))
            if index is not None and index not in wanted:
                wanted.add(index)
                waiting.extend(self.steps[index].inputs.values())
        return tuple(self.steps[index] for index in sorted(wanted))


def _fresh(result: "Array") -> "Array":
    if np.ndim(result) == 0:
        return cast("Array", np.float64(result))
    view = result.view()
    view.flags.writeable = False
    return view


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


_Made = TypeVar("_Made")


def traced(value: _Made, *origins: Any) -> _Made:
    """Return the value; while recording, remember what it was made of without a formula.

    ``traced(thickness[rows], thickness)`` keeps the way back from the chosen rows to the formula.
    """
    recording = active.get()
    if recording is not None:
        recording.tie(value, origins)
    return value


def row_of(value: Any, row: int | tuple[int, ...]) -> float:
    """Return a value's number in one row; a number common to all rows is the same in each.

    Parameters
    ----------
    value
        A number, or an array that broadcasts over the rows.
    row
        Row of a one-dimensional batch, or the place in a batch of more axes: (row, ply).

    Raises
    ------
    IndexError
        When there is no such row, or an axis of the value has no place given for it.
    """
    array = np.asarray(value, dtype=float)
    place = (row,) if isinstance(row, int) else tuple(row)
    if array.ndim > len(place):
        raise IndexError(f"a value of {array.ndim} axes needs a place in each, not {place}")
    aligned = place[len(place) - array.ndim :]
    return float(array[tuple(0 if size == 1 else at for size, at in zip(array.shape, aligned, strict=True))])


def marks_of(steps: tuple[Step, ...]) -> Known:
    """Return the weakest mark of the formulas in these steps."""
    return weakest(step.formula.source.known for step in steps)
