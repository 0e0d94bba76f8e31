"""Trial functions of Rayleigh and Ritz on −1 … 1: Legendre polynomials and their derivatives at points."""

from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre

from stringerlab.workings import Array


@lru_cache(maxsize=8)
def gauss(count: int) -> tuple[Array, Array]:
    """Return Gauss's points and weights on −1 … 1."""
    points, weights = legendre.leggauss(count)
    return np.asarray(points, dtype=np.float64), np.asarray(weights, dtype=np.float64)


def legendre_at(degree: int, order: int, points: Array) -> Array:
    """Return a derivative of the Legendre polynomials 0 … degree at points, (degree + 1, points)."""
    return _legendre(degree, order, tuple(points.tolist()))


@lru_cache(maxsize=2048)
def _legendre(degree: int, order: int, points: tuple[float, ...]) -> Array:
    derived = np.eye(degree + 1)
    if order:
        derived = legendre.legder(derived, order)
    rows = np.asarray(legendre.legval(np.array(points), derived), dtype=np.float64)
    rows.setflags(write=False)
    return rows


def zero_at_ends(count: int, order: int, points: Array) -> Array:
    """Return functions that vanish at both ends: differences of Legendre polynomials, (count, points)."""
    values = legendre_at(count + 1, order, points)
    return values[2:] - values[:-2]


def zero_at_start(count: int, order: int, points: Array) -> Array:
    """Return functions that vanish at −1 and are free at 1, (count, points)."""
    values = legendre_at(count, order, points)
    return values[1:] + values[:-1]


def zero_but_first(count: int, parity: int, order: int, points: Array) -> Array:
    """Return functions of one parity of which only the first is not zero at the ends, (count, points)."""
    values = legendre_at(2 * count - 1, order, points)[parity::2].copy()
    values[1:] -= values[:-1].copy()
    return values
