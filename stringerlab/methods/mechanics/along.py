"""Shear and moment along a span by its two ends, as factors of the load: what openings and crossings need.

From the closed forms of single beams: `stringerlab.methods.ends` has the same at ends and middle.
"""

from math import nan

from stringerlab.layout import End

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
