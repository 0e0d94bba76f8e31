"""From a place between 0 and 1 to a factor by its law."""

from math import log, sqrt

import numpy as np

from stringerlab.project.wishes import Law, Scatter
from stringerlab.workings import Array

LEAST_PART = 0.05
"""Of its middle a factor never falls below: a normal law has no end, a thickness has."""
_EDGE = 1e-12
"""As near to 0 and 1 as a place comes: what lies beyond is rarer than any run sees."""
FAR = 4.0
"""Deviations from its middle within which nearly all of a normal law lies."""


def normals(places: Array) -> Array:
    """Return the standard normal values that so much of all lies below."""
    from scipy.special import ndtri

    return np.asarray(ndtri(np.clip(places, _EDGE, 1 - _EDGE)), np.float64)


def factors(scatter: Scatter, places: Array) -> Array:
    """Return factors on a nominal value.

    Parameters
    ----------
    scatter
        Its law, middle and spread: the deviation, or half the width of a uniform or triangular law.
    places
        (n,) between 0 and 1: how much of all lies below.
    """
    mean, spread = scatter.mean, scatter.spread
    match scatter.law:
        case Law.NORMAL:
            found = mean + spread * normals(places)
        case Law.LOGNORMAL:
            wide = log(1 + (spread / mean) ** 2)
            found = mean * np.exp(sqrt(wide) * normals(places) - wide / 2)
        case Law.UNIFORM:
            found = mean + spread * (2 * places - 1)
        case Law.TRIANGULAR:
            rising = places < 0.5
            part = np.where(rising, np.sqrt(2 * places) - 1, 1 - np.sqrt(2 * np.where(rising, 0, 1 - places)))
            found = mean + spread * part
    return np.maximum(found, LEAST_PART * mean)


def reach(scatter: Scatter) -> tuple[float, float]:
    """Return between which factors nearly all of a law lies."""
    if scatter.law in (Law.UNIFORM, Law.TRIANGULAR):
        ends = factors(scatter, np.array([0.0, 1.0]))
    else:
        from scipy.special import ndtr

        ends = factors(scatter, np.asarray(ndtr(np.array([-FAR, FAR])), np.float64))
    return float(ends[0]), float(ends[1])
