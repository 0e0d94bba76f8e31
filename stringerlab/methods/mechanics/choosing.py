"""Of a subject's several places and ways of failing, the one that governs: one row a subject."""

from collections.abc import Callable, Generator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Protocol, TypeVar

import numpy as np

from stringerlab.methods.records import Judged, Mask, Remark
from stringerlab.methods.verdicts import SHORT_ABOVE, utilisation_text
from stringerlab.workings import Array
from stringerlab.workings.recording import active


class Case(Protocol):
    """One place of a subject that is judged."""

    @property
    def row(self) -> int:
        """Of its subject."""
        ...


_C = TypeVar("_C", bound=Case)
_HOLDS = 1 - 1e-9
"""Just below what is not judged."""


def governing(
    rows: int,
    cases: Sequence[_C],
    judge: Callable[[Sequence[_C]], tuple[Judged, ...]],
    ways: Sequence[str],
) -> tuple[Judged, ...]:
    """Return every way of failing over the subjects' rows, each applying where it governs, no two in one row.

    What fails governs, the worst first; else what cannot be judged; else the worst of what holds.

    Parameters
    ----------
    rows
        How many subjects.
    cases
        All places of all subjects.
    judge
        Judges cases, one row each, in each way of failing; called again with the governing case of each row.
    ways
        The ways in words, in their order: what the others come to at the same place is noted.
    """
    if not cases:
        return ()
    with unrecorded():  # a trial: what is shown is what governs
        trial = judge(cases)
    use = np.stack([np.broadcast_to(judged.utilisation, len(cases)) for judged in trial])
    applies = np.stack([_applies(judged, len(cases)) for judged in trial])
    severity = np.where(applies, _severity(use), -np.inf)
    use = np.where(applies, use, np.nan)
    owner = np.array([case.row for case in cases])
    chosen = np.zeros(rows, np.intp)
    way = np.full(rows, -1)
    others: list[list[Remark]] = [[] for _ in trial]
    for row in {case.row for case in cases}:
        held = np.flatnonzero(owner == row)
        here = severity[:, held]
        first, place = divmod(int(np.argmax(here)), len(held))
        if here[first, place] > -np.inf:
            chosen[row], way[row] = held[place], first
            if said := _others(use[:, held[place]], ways, first):
                others[first].append(Remark(said, np.arange(rows) == row))
    again = judge([cases[index] for index in chosen.tolist()])
    return tuple(
        replace(judged, applies=way == number, remarks=(*judged.remarks, *others[number]))
        for number, judged in enumerate(again)
        if np.any(way == number)
    )


def _others(use: Array, ways: Sequence[str], first: int) -> str:
    """Return what the ways of failing but the first come to at one place, from their utilisations there."""
    said = [
        f"{words} {utilisation_text(float(use[number]))}"
        for number, words in enumerate(ways)
        if number != first and not np.isnan(use[number])
    ]
    return f"at the same place: {', '.join(said)}" if said else ""


@contextmanager
def unrecorded() -> Generator[None]:
    """Let formulas run without being recorded."""
    token = active.set(None)
    try:
        yield
    finally:
        active.reset(token)


def _severity(use: Array) -> Array:
    """Return utilisations put in order: what is not judged between what is short and what holds."""
    return np.where(np.isnan(use) | (use > SHORT_ABOVE), np.fmax(use, SHORT_ABOVE), np.minimum(use, _HOLDS))


def _applies(judged: Judged, count: int) -> Mask:
    return np.broadcast_to(np.True_ if judged.applies is None else judged.applies, count)


def column(numbers: Sequence[float]) -> Array:
    """Return numbers of cases as an array."""
    return np.array(numbers, dtype=float)
