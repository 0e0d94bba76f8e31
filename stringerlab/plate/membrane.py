"""Membrane stiffness of a shallow cylinder, wave by wave. N, mm. The cylinder is curved along x (across b).

By Donnell's shallow shell: a wave w = C sin(mπx/b) sin(nπy/l) on edges that hold their shape in the plane but
may draw in (N = 0 across an edge, no slip along it) gives Airy's function β²/(R Δ) C sin sin and presses back
with k C. It fades as the panel grows long: what an arch between fixed edges would give is not counted.
"""

import numpy as np

from stringerlab.plate.records import Plates
from stringerlab.workings import Array

WAVES = 15
"""Half-waves along each side that are counted."""


def wave_stiffness(given: Plates, b: Array, l: Array) -> Array:
    """Return the pressure per deflection of each wave (n, waves²) [N/mm³]."""
    _, beta, across = _waves(given, b, l)
    return beta**4 * _curvature(given)[:, None] ** 2 / across


def thrust_in_middle(given: Plates, waves: Array, b: Array, l: Array) -> tuple[Array, Array]:
    """Return the membrane forces in the middle (n, 3) [N/mm] and the force they carry (n,) [N].

    Parameters
    ----------
    waves
        Amplitude of each wave (n, waves²) [mm].
    """
    alpha, beta, across = _waves(given, b, l)
    airy = beta**2 * _curvature(given)[:, None] / across * waves
    number = np.arange(1, WAVES + 1)
    there = np.sin(number * np.pi / 2)
    middle = np.outer(there, there).ravel()
    along = -(beta**2 * airy) @ middle
    cross = -(alpha**2 * airy) @ middle
    mean = 2 * (1 - np.cos(number * np.pi)) / (number * np.pi)
    carried = b * l / 4 * ((wave_stiffness(given, b, l) * waves) @ np.outer(mean, mean).ravel())
    return np.stack([along, cross, np.zeros(len(along))], axis=1), carried


def _curvature(given: Plates) -> Array:
    return 8 * given.rise / given.b**2


def _waves(given: Plates, b: Array, l: Array) -> tuple[Array, Array, Array]:
    """Return wave numbers in x and y and Airy's operator on each wave, (n, waves²)."""
    number = np.arange(1, WAVES + 1) * np.pi
    shape = (len(b), WAVES, WAVES)
    alpha = np.broadcast_to(number[:, None] / b[:, None, None], shape).reshape(len(b), -1)
    beta = np.broadcast_to(number / l[:, None, None], shape).reshape(len(b), -1)
    a = given.membrane
    mixed = 2 * a[:, 0, 1] + a[:, 2, 2]
    across = a[:, 1, 1, None] * alpha**4 + mixed[:, None] * (alpha * beta) ** 2 + a[:, 0, 0, None] * beta**4
    return alpha, beta, across
