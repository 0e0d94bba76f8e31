"""A chance from replicates, with the interval in which it lies at 95 %."""

from collections.abc import Callable
from math import sqrt

import numpy as np
from numpy.typing import ArrayLike

from stringerlab.sizing.scatter.laws import normals
from stringerlab.sizing.scatter.places import parts, places
from stringerlab.workings import Array

_Z = 1.959963984540054
"""Of a normal law, 95 % lie within so many deviations."""


def chance(failed: ArrayLike, counts: ArrayLike) -> tuple[float, float, float]:
    """Return the chance, and the least and greatest it may be.

    The wider of two intervals: by how replicates scatter about their mean (Student's t), and by counting as
    if samples were drawn at random (Wilson), which also holds where no replicate saw one fail.

    Parameters
    ----------
    failed, counts
        (r,) how many of how many failed in each replicate.
    """
    from scipy.special import stdtrit

    held, of = np.asarray(failed, np.float64), np.asarray(counts, np.float64)
    total, seen = float(of.sum()), float(held.sum())
    each = held / of
    p, replicates = seen / total, len(each)
    half = float(stdtrit(replicates - 1, 0.975)) * float(each.std(ddof=1)) / sqrt(replicates)
    low, high = _wilson(p, total)
    return p, max(0.0, min(low, p - half)), min(1.0, max(high, p + half))


def _wilson(p: float, n: float) -> tuple[float, float]:
    middle = (p + _Z**2 / (2 * n)) / (1 + _Z**2 / n)
    half = _Z / (1 + _Z**2 / n) * sqrt(p * (1 - p) / n + _Z**2 / (4 * n**2))
    return (0.0 if p == 0 else middle - half), (1.0 if p == 1 else middle + half)


def probability(
    limit_state: Callable[[Array], Array], d: int, samples: int, seed: int
) -> tuple[float, float, float]:
    """Return the chance that a limit state is below 0, and its interval at 95 %.

    Parameters
    ----------
    limit_state
        Of standard normal values (n, d) to (n,): below 0 where it fails.
    d
        How many normal values it takes.
    samples
        How many are taken, at the least.
    seed
        The same seed takes the same.
    """
    failed: dict[int, float] = {}
    counts: dict[int, float] = {}
    for part in parts(samples):
        below = limit_state(normals(places(part, d, seed))) < 0
        failed[part.replicate] = failed.get(part.replicate, 0.0) + float(np.count_nonzero(below))
        counts[part.replicate] = counts.get(part.replicate, 0.0) + part.count
    return chance(np.array(list(failed.values())), np.array(list(counts.values())))
