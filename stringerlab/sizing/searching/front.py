"""Which designs no other beats: values to be lowered, one column an aim; and how parts of designs add up.

A design beats another when it is no worse in every aim and better in one.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.sizing.records import Mask
from stringerlab.workings import Array

Indices = NDArray[np.intp]
PAIRS = 2_000_000
"""How many pairs are compared at once, so that memory stays bounded."""
DIGITS = 1e-9
"""Values nearer to one another than this, relative, are the same: sums in another order differ by less."""


@dataclass(frozen=True, slots=True, eq=False)
class Front:
    """Choices of some groups that no other beats."""

    values: Array
    """(n, k)."""
    picks: NDArray[np.int64]
    """(n, groups) which row of each group."""


def nondominated(values: Array) -> Indices:
    """Return the rows that no other beats, in rising order; of equal rows the first.

    Parameters
    ----------
    values
        (n, k), to be lowered; rows with inf or nan in them are never among the result.
    """
    sound = np.flatnonzero(np.isfinite(values).all(axis=1))
    rows = values[sound]
    if not len(rows):
        return sound
    if rows.shape[1] == 1:
        return sound[[int(np.argmin(rows[:, 0]))]]
    # By the first aim, then the next, then the order given: no later row beats an earlier one.
    order = np.lexsort((np.arange(len(rows)), *rows.T[::-1]))
    ordered = rows[order]
    if rows.shape[1] == 2:
        second = ordered[:, 1]
        lowest = np.minimum.accumulate(second)
        kept = np.concatenate([[True], second[1:] < lowest[:-1]])
        return np.sort(sound[order[kept]])
    return np.sort(sound[order[_swept(ordered)]])


def beaten(values: Array, by: Array) -> Mask:
    """Return which rows (n, k) any row of ``by`` (m, k) beats; equal is not beaten."""
    found = np.zeros(len(values), dtype=bool)
    if not len(by):
        return found
    step = max(PAIRS // (len(by) * by.shape[1]), 1)
    for first in range(0, len(values), step):
        some = values[first : first + step, None, :]
        beats = (by <= some).all(axis=2) & (by < some).any(axis=2)
        found[first : first + step] = np.any(beats, axis=1)
    return found


def rounded(values: Array) -> Array:
    """Return values in which numbers that differ by rounding alone are equal (nearly always).

    Rounding never turns round which of two is lower: what it makes equal is equal but for rounding.
    """
    finite = np.isfinite(values)
    some = np.where(finite & (values != 0), values, 1.0)
    quantum = DIGITS * 2.0 ** np.floor(np.log2(np.abs(some)))
    return np.where(finite, np.round(np.where(finite, values, 0.0) / quantum) * quantum, values)


def combined(first: Array, second: Array, adds: Mask) -> Array:
    """Return the values of two parts together: the sum in the aims that add, else the higher."""
    return np.where(adds, first + second, np.maximum(first, second))


def joined(first: Front, second: Front, adds: Mask) -> Front:
    """Return the front of every choice of one with every choice of the other.

    A part that another of its group beats can be left out before: sum and maximum both rise with what is
    added, so a design with the better part is no worse in any aim.

    Parameters
    ----------
    adds
        (k,) which aims add; the others are the higher of the two.
    """
    step = max(PAIRS // max(len(second.values) * len(adds), 1), 1)
    best = np.zeros((0, len(adds)))
    picks = np.zeros((0, first.picks.shape[1] + second.picks.shape[1]), dtype=np.int64)
    for at in range(0, len(first.values), step):
        some = first.values[at : at + step]
        values = combined(some[:, None, :], second.values[None, :, :], adds).reshape(-1, len(adds))
        kept = nondominated(values)
        mine, other = np.divmod(kept, len(second.values))
        best = np.concatenate([best, values[kept]])
        picks = np.concatenate([picks, np.hstack([first.picks[at + mine], second.picks[other]])])
        kept = nondominated(best)
        best, picks = best[kept], picks[kept]
    return Front(best, picks)


def spread_out(values: Array, count: int) -> Indices:
    """Return at most so many rows of a front, evenly along its first aim, each aim's lowest among them."""
    if len(values) <= count:
        return np.arange(len(values))
    order = np.lexsort(values.T[::-1])
    lowest = [int(np.argmin(column)) for column in values.T]
    even = order[np.round(np.linspace(0, len(order) - 1, max(count - len(lowest), 2))).astype(int)]
    return np.unique(np.concatenate([even, lowest]).astype(np.intp))


def _swept(ordered: Array) -> Indices:
    """Return which of the rows in lexical order none before them beats or equals."""
    front = np.zeros((0, ordered.shape[1]))
    kept: list[int] = []
    block = 512
    for first in range(0, len(ordered), block):
        some = ordered[first : first + block]
        left = np.flatnonzero(~_covered(some, front))
        rows = some[left]
        # Within the block an earlier row that is itself covered is covered by one kept: transitive.
        within = (rows[None, :, :] <= rows[:, None, :]).all(axis=2)
        fresh = left[~np.tril(within, -1).any(axis=1)]
        kept += [first + int(index) for index in fresh]
        front = np.concatenate([front, some[fresh]])
    return np.array(kept, dtype=np.intp)


def _covered(values: Array, by: Array) -> Mask:
    """Return which rows any of ``by`` is no worse than in every aim."""
    found = np.zeros(len(values), dtype=bool)
    if not len(by):
        return found
    step = max(PAIRS // (len(by) * by.shape[1]), 1)
    for first in range(0, len(values), step):
        covers = np.all(by <= values[first : first + step, None, :], axis=2)
        found[first : first + step] = np.any(covers, axis=1)
    return found
