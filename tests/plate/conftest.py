"""Plates of given stiffness, and their exact series, for the tests of this room."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from stringerlab.plate.records import Plates

ISOTROPIC = np.array([[1.0, 0.3, 0.0], [0.3, 1.0, 0.0], [0.0, 0.0, 0.35]])
THIN = 1e7


def make(
    r: Any,
    D: np.ndarray = ISOTROPIC,
    *,
    spring: float = 0.0,
    S: float = THIN,
    rise: float = 0.0,
    membrane: np.ndarray | None = None,
    b: float = 1.0,
) -> Plates:
    """Return plates of one stiffness at several aspect ratios."""
    ratios = np.atleast_1d(np.asarray(r, dtype=float))
    n = len(ratios)
    return Plates(
        b=np.full(n, b),
        l=ratios * b,
        D=np.broadcast_to(D, (n, 3, 3)),
        S=np.full((n, 2), S),
        spring_x=np.full(n, spring),
        spring_y=np.full(n, spring),
        rise=np.full(n, rise),
        membrane=np.broadcast_to(np.eye(3) if membrane is None else membrane, (n, 3, 3)),
    )


def series(
    r: float,
    D: np.ndarray = ISOTROPIC,
    *,
    S: float = np.inf,
    rise: float = 0.0,
    membrane: np.ndarray | None = None,
    terms: int = 399,
) -> dict[str, float]:
    """Return Navier's double series of a simply supported plate under unit pressure, b = 1.

    The shear part is exact for an isotropic plate; the membrane part is Donnell's shallow cylinder.
    """
    odd = np.arange(1, terms + 1, 2)
    m, n = np.meshgrid(odd, odd, indexing="ij")
    x, y = m * np.pi, n * np.pi / r
    load = 16 / (np.pi**2 * m * n)
    bend = D[0, 0] * x**4 + 2 * (D[0, 1] + 2 * D[2, 2]) * (x * y) ** 2 + D[1, 1] * y**4
    if np.isfinite(S):
        bend = 1 / (1 / bend + 1 / (S * (x**2 + y**2)))
    if membrane is not None:
        a = membrane
        across = a[1, 1] * x**4 + (2 * a[0, 1] + a[2, 2]) * (x * y) ** 2 + a[0, 0] * y**4
        bend = bend + (8 * rise) ** 2 * y**4 / across
    w = load / bend
    middle = np.sin(m * np.pi / 2) * np.sin(n * np.pi / 2)
    return {
        "w": float((w * middle).sum()),
        "M_x": float((w * (D[0, 0] * x**2 + D[0, 1] * y**2) * middle).sum()),
        "M_y": float((w * (D[0, 1] * x**2 + D[1, 1] * y**2) * middle).sum()),
    }


@pytest.fixture
def plate() -> Callable[..., Plates]:
    return make


@pytest.fixture
def navier() -> Callable[..., dict[str, float]]:
    return series
