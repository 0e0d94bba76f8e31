"""Shear and moment along a span by its two ends, as factors of the load: what openings and crossings need.

From the closed forms of single beams: `stringerlab.methods.ends` has the same at ends and middle. Or what a
span is known to carry.
"""

from collections.abc import Sequence
from math import nan

import numpy as np

from stringerlab.layout import End
from stringerlab.methods.mechanics.records import LoadedSpan
from stringerlab.workings import Array

_HELD, _SIMPLE, _FREE = End.HELD, End.SIMPLE, End.FREE
_FACTORS = {
    (_HELD, _HELD): (1 / 2, -1 / 12),
    (_HELD, _SIMPLE): (5 / 8, -1 / 8),
    (_SIMPLE, _HELD): (3 / 8, 0.0),
    (_SIMPLE, _SIMPLE): (1 / 2, 0.0),
    (_HELD, _FREE): (1.0, -1 / 2),
    (_FREE, _HELD): (0.0, 0.0),
}


def aft_factors(ends: tuple[End, End]) -> tuple[float, float]:
    """Return shear over pl, and moment over pl², at the aft end; nan where the ends leave a mechanism."""
    return _FACTORS.get(ends, (nan, nan))


def end_share(ends: tuple[End, End], forward: bool) -> float:
    """Return what an end takes of the span's whole load; nan where the ends leave a mechanism."""
    aft = aft_factors(ends)[0]
    return 1 - aft if forward else aft


def carried_at(
    loaded: Sequence[LoadedSpan], shear_at: Sequence[float], moment_at: Sequence[float]
) -> tuple[Array, Array] | None:
    """Return what spans carry at places along them, shear [N] and moment [N·mm]; None where it is not known.

    Parameters
    ----------
    loaded
        (n,) spans.
    shear_at, moment_at
        (n,) from the aft end of each [mm].
    """
    known = [one.carried for one in loaded if one.carried is not None]
    if not known or len(known) < len(loaded):
        return None
    return (
        np.array([one.shear(x) for one, x in zip(known, shear_at, strict=True)]),
        np.array([one.moment(x) for one, x in zip(known, moment_at, strict=True)]),
    )
