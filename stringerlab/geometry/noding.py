"""Rings made to share vertices: what lies on a neighbour's edge becomes a vertex of that edge too. mm."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.intp]

SNAP = 1e-6
"""Vertices nearer to one another, or to an edge, are taken as one, or as on it [mm]."""
PAIRS = 1_000_000
"""Edges times vertices looked at at once."""


def noded(rings: Sequence[Array], snap: float = SNAP) -> list[Array]:
    """Return rings (n, 2) with coinciding vertices made equal and every vertex on an edge inserted in it.

    Parameters
    ----------
    rings
        Vertices of each, the first not repeated.
    snap
        How near is on one another [mm]: gaps and overlaps as narrow close.
    """
    ends = np.cumsum([0, *(len(ring) for ring in rings)])
    points = _snapped(np.concatenate(rings), snap)
    snapped = [_without_repeats(points[first:last]) for first, last in pairwise(ends.tolist())]
    starts = np.concatenate(snapped)
    after = np.concatenate([np.roll(ring, -1, axis=0) for ring in snapped])
    edge, vertex = _vertices_on_edges(starts, after, snap)
    if not len(edge):
        return snapped
    every = np.insert(starts, edge + 1, vertex, axis=0)
    ring = np.repeat(np.arange(len(snapped)), [len(each) for each in snapped])
    more = np.bincount(ring[edge], minlength=len(snapped))
    ends = np.cumsum([0, *(len(each) + extra for each, extra in zip(snapped, more.tolist(), strict=True))])
    return [every[first:last] for first, last in pairwise(ends.tolist())]


def _snapped(points: Array, snap: float) -> Array:
    """Move every vertex onto the first of those within the snapping distance.

    Two vertices so near share a cell in at least one of four grids shifted by half a cell.
    """
    label = np.arange(len(points))
    scaled = points / (2 * snap)
    for shift in (0.0, 0.5), (0.5, 0.0), (0.5, 0.5), (0.0, 0.0):
        cell = np.floor(scaled + shift)
        _, place = np.unique(cell[:, 0] + 1j * cell[:, 1], return_inverse=True)
        least = np.full(len(points), len(points))
        np.minimum.at(least, place, label)
        near = np.abs(points[least[place]] - points).max(axis=1) <= snap
        label = np.where(near, np.minimum(label, least[place]), label)
    return points[label[label]]


def _without_repeats(ring: Array) -> Array:
    return ring[(ring != np.roll(ring, 1, axis=0)).any(axis=1)]


def _vertices_on_edges(starts: Array, ends: Array, snap: float) -> tuple[Index, Array]:
    """Return every edge that a vertex lies on with that vertex (m, 2), by edge and along it."""
    vertices = np.unique(starts[:, 0] + 1j * starts[:, 1])
    line = starts[:, 0] + 1j * starts[:, 1]
    way = ends[:, 0] + 1j * ends[:, 1] - line
    length = np.abs(way)
    way = way / np.maximum(length, snap)
    found: list[tuple[Index, Index, Array]] = []
    chunk = max(PAIRS // max(len(vertices), 1), 1)
    for first in range(0, len(line), chunk):
        part = slice(first, first + chunk)
        local = (vertices[None] - line[part, None]) * way[part, None].conj()
        on = (np.abs(local.imag) <= snap) & (local.real > snap)
        on &= local.real < length[part, None] - snap
        edge, vertex = np.nonzero(on)
        found.append((edge + first, vertex, local.real[edge, vertex]))
    edge, vertex, along = (np.concatenate(each) for each in zip(*found, strict=True))
    order = np.lexsort((along, edge))
    picked = vertices[vertex[order]]
    return edge[order], np.stack([picked.real, picked.imag], axis=1)
