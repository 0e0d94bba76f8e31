"""Rings made to share vertices: what lies on a neighbour's edge becomes a vertex of that edge too. mm."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SNAP = 1e-6
"""Vertices nearer to one another, or to an edge, are taken as one, or as on it [mm]."""


def noded(rings: Sequence[Array]) -> list[Array]:
    """Return rings (n, 2) with coinciding vertices made equal and every vertex on an edge inserted in it."""
    snapped = [_without_repeats(ring) for ring in _snapped(rings)]
    vertices = np.unique(np.concatenate(snapped), axis=0)
    return [_with_vertices(ring, vertices) for ring in snapped]


def _snapped(rings: Sequence[Array]) -> list[Array]:
    """Move every vertex onto the first one met within the snapping distance."""
    cells: dict[tuple[int, int], list[tuple[float, float]]] = {}

    def settled(y: float, z: float) -> tuple[float, float]:
        column, row = round(y / SNAP), round(z / SNAP)
        for dy in (-1, 0, 1):
            for dz in (-1, 0, 1):
                for known in cells.get((column + dy, row + dz), ()):
                    if abs(known[0] - y) <= SNAP and abs(known[1] - z) <= SNAP:
                        return known
        cells.setdefault((column, row), []).append((y, z))
        return y, z

    return [np.array([settled(y, z) for y, z in ring.tolist()]) for ring in rings]


def _without_repeats(ring: Array) -> Array:
    return ring[(ring != np.roll(ring, 1, axis=0)).any(axis=1)]


def _with_vertices(ring: Array, vertices: Array) -> Array:
    pieces: list[Array] = []
    for start, end in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        low, high = np.minimum(start, end) - SNAP, np.maximum(start, end) + SNAP
        near = vertices[((vertices >= low) & (vertices <= high)).all(axis=1)]
        edge = end - start
        length = float(np.hypot(*edge))
        along = (near - start) @ edge / length
        off = np.abs((near[:, 0] - start[0]) * edge[1] - (near[:, 1] - start[1]) * edge[0]) / length
        on = (along > SNAP) & (along < length - SNAP) & (off <= SNAP)
        pieces += [start[None], near[on][np.argsort(along[on])]]
    return np.concatenate(pieces)
