"""The bottom cut in small pieces, bay by bay; their areas add up to the bay's own. Unfolded, mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.grid.records import Array, Index, Mask


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pieces:
    """c pieces of b rings."""

    at: Array
    """(c, 2) middles."""
    area: Array
    """(c,) mm²."""
    half: Array
    """(c, 2) half of a piece's length and breadth [mm]."""
    ring: Index
    """(c,) which ring each lies in."""
    bounds: Array
    """(b, 4) least x and y, greatest x and y of each ring."""


FINE = ((12, 12), (18, 8), (24, 6), (36, 4), (48, 3))
"""Pieces a ring's bounds are cut in, the long way and the other: the more slender the more."""
COARSE = ((6, 6), (9, 4), (12, 3))
_WITHIN = 3
"""Places each way in a piece by which it is seen how much of it lies in its ring; one of coarse pieces."""


def pieces_of(rings: Sequence[Array], cuts: Sequence[tuple[int, int]] = FINE) -> Pieces:
    """Return rings' bounds cut in equal pieces, each of what of it lies within; in sum the ring's area.

    Parameters
    ----------
    rings
        Each (n, 2), not repeating its first point.
    cuts
        Pieces the long way and the other, all of one number; that which makes them most nearly square.
    """
    if not rings:
        none = np.zeros((0, 2))
        return Pieces(
            at=none, area=np.zeros(0), half=none, ring=np.zeros(0, np.intp), bounds=np.zeros((0, 4))
        )
    edges = edges_of(rings)
    a, b = edges[:, :, 0], edges[:, :, 1]
    p, n = a - a[:, :1], b - a[:, :1]
    area = np.abs((p[..., 0] * n[..., 1] - n[..., 0] * p[..., 1]).sum(axis=1)) / 2
    low, high = a.min(axis=1), a.max(axis=1)
    both = np.array([*cuts, *((few, many) for many, few in cuts[1:])])
    grids = np.stack([_grid(many, few) for many, few in both.tolist()])
    size = np.maximum(high - low, 1e-9)
    slender = np.log(size[:, 0] / size[:, 1])
    which = np.abs(slender[:, None] - np.log(both[:, 0] / both[:, 1])).argmin(axis=1)
    at = low[:, None] + grids[which] * (high - low)[:, None]
    half = size / (2 * both[which])
    each = 1 if cuts is COARSE else _WITHIN
    off = (2 * _grid(each, each) - 1)[None, None] * half[:, None, None]
    places = at[:, :, None] + off
    held = within(edges, places.reshape(len(at), -1, 2)).reshape(places.shape[:3])
    part = held.mean(axis=2)
    at = (places * held[..., None]).sum(axis=2) / np.maximum(held.sum(axis=2), 1)[..., None]
    empty: Mask = np.asarray(~part.any(axis=1), bool)
    if empty.any():  # a sliver: one piece in its middle
        part[empty, 0] = 1.0
        at[empty, 0] = [rings[row].mean(axis=0) for row in np.flatnonzero(empty).tolist()]
    inside = part > 0
    ring, _ = np.nonzero(inside)
    return Pieces(
        at=at[inside],
        area=(part * (area / part.sum(axis=1))[:, None])[inside],
        half=half[ring],
        ring=ring,
        bounds=np.concatenate([low, high], axis=1),
    )


def _grid(many: int, few: int) -> Array:
    x, y = (np.arange(many) + 0.5) / many, (np.arange(few) + 0.5) / few
    return np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)


def edges_of(rings: Sequence[Array]) -> Array:
    """Return rings as edges (b, e, 2, 2), the shorter filled up with edges of no length."""
    most = max(len(ring) for ring in rings)
    found = np.empty((len(rings), most, 2, 2))
    for number, ring in enumerate(rings):
        found[number, : len(ring), 0] = ring
        found[number, : len(ring), 1] = np.roll(ring, -1, axis=0)
        found[number, len(ring) :] = ring[0]
    return found


def within(edges: Array, points: Array) -> Mask:
    """Return which points (b, q, 2) lie within their ring of edges (b, e, 2, 2)."""
    x, y = np.ascontiguousarray(points[..., 0]), np.ascontiguousarray(points[..., 1])
    found = np.zeros(x.shape, bool)
    for edge in range(edges.shape[1]):
        a, b = edges[:, edge, 0, :, None], edges[:, edge, 1, :, None]
        straddles = (a[:, 1] > y) != (b[:, 1] > y)
        rise = np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
        found ^= straddles & (x < a[:, 0] + (y - a[:, 1]) * ((b[:, 0] - a[:, 0]) / rise))
    return found
