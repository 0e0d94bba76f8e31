"""What bounds each bay, side by side: a beam, the hull's edge, a bulkhead, or a line that is no member.

Unfolded, mm. A member that ends within a bay is a side of it too, from both.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.grid.pieces import edges_of, within
from stringerlab.assess.grid.records import NO_BEAM, Array, Beams, Index, Mask, unfolded
from stringerlab.craft import Bottom

MEMBERS, CHINE, FORWARD, TRANSOM, BULKHEADS, LINES = range(6)
LABELS = ("members", "chine", "forward", "transom", "bulkheads", "keel and lines")
_NEAR = 2.0
"""A side lies on a beam nearer than this [mm], or than this part of its length."""
_PART = 0.01
_EDGE = 5.0
_ALONG = 0.1
"""Greatest sine of the angle between a side and the beam it lies on."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sides:
    """Sides of b rings, e of each at the most: ends, and to what a force on them goes."""

    edges: Array
    """(b, e, 2, 2)."""
    real: Mask
    """(b, e) False for what only fills up."""
    label: Index
    """(b, e) in ``LABELS``."""
    beam: Index
    """(b, e, 2) of a member, itself twice; of a line, the beams it ends on; -1 where it goes to the hull."""
    along: Array
    """(b, e, 2) of those beams, at both ends of the side."""


def sides_of(bottom: Bottom, beams: Beams, rings: Sequence[Array]) -> Sides:
    """Return the sides of rings.

    Parameters
    ----------
    bottom
        The hull's.
    beams
        The grid.
    rings
        Each (n, 2), unfolded.
    """
    edges = edges_of(rings)
    real = np.hypot(*np.moveaxis(edges[:, :, 1] - edges[:, :, 0], 2, 0)) > 1e-6
    ends = beams.grid.nodes[beams.grid.beams]
    label, beam = _what(bottom, beams, edges, real, ends)
    _without_bridges(edges, real, label)
    edges, real, label, beam = _with_stubs(edges, real, label, beam, ends)
    both = np.repeat(beam[..., None], 2, axis=2)
    along = np.zeros(both.shape)
    own, lines = label == MEMBERS, real & (label == LINES)
    for end in (0, 1):
        points = edges[:, :, end]
        along[own, end] = _along(points[own], ends[beam[own]])
        if lines.any():
            both[lines, end], along[lines, end] = on_pieces(
                points[lines], np.full(int(lines.sum()), _NEAR), ends
            )
    return Sides(edges=edges, real=real, label=label, beam=both, along=along)


def _what(bottom: Bottom, beams: Beams, edges: Array, real: Mask, ends: Array) -> tuple[Index, Index]:
    """Return what each side is, and its beam."""
    way = (edges[:, :, 1] - edges[:, :, 0])[real]
    size = np.hypot(*way.T)
    middle = edges[real].mean(axis=1)
    near = np.maximum(_NEAR, _PART * size)
    held = np.array(beams.held, float).reshape(-1, 2, 2)
    held = unfolded(bottom.deadrise(held[..., 0]), held)
    which, _ = on_pieces(middle, near, ends, way / size[:, None])
    bulkhead, _ = on_pieces(middle, near, held, way / size[:, None])
    x, y = middle[:, 0], np.abs(middle[:, 1])
    far = np.maximum(_EDGE, near)
    edge = np.where(np.abs(y - bottom.half_beam(x) / np.cos(bottom.deadrise(x))) < far, CHINE, LINES)
    edge = np.where(np.abs(x - bottom.x[-1]) < _EDGE, FORWARD, edge)
    edge = np.where(np.abs(x - bottom.x[0]) < _EDGE, TRANSOM, edge)
    label, beam = np.full(real.shape, LINES, np.intp), np.full(real.shape, NO_BEAM, np.intp)
    label[real] = np.where(which >= 0, MEMBERS, np.where(bulkhead >= 0, BULKHEADS, edge))
    beam[real] = which
    return label, beam


def _without_bridges(edges: Array, real: Mask, label: Index) -> None:
    """Take away lines that a ring runs along both ways: they only tie an island to its surroundings."""
    for ring in np.flatnonzero((real & (label == LINES)).sum(axis=1) > 1).tolist():
        mine = np.flatnonzero(real[ring] & (label[ring] == LINES))
        back = edges[ring, mine][:, ::-1]
        same = np.abs(edges[ring, mine][:, None] - back[None]).max(axis=(2, 3)) < 1e-3
        real[ring, mine[same.any(axis=1)]] = False


def _with_stubs(
    edges: Array, real: Mask, label: Index, beam: Index, ends: Array
) -> tuple[Array, Mask, Index, Index]:
    """Add beams that bound no ring, as they end within one."""
    missing = np.setdiff1d(np.arange(len(ends)), beam[real & (label == MEMBERS)])
    if not len(missing):
        return edges, real, label, beam
    middles = np.broadcast_to(ends[missing].mean(axis=1), (len(edges), len(missing), 2))
    ring, number = np.nonzero(within(edges, middles))
    count = np.bincount(ring, minlength=len(edges))
    more = int(count.max(initial=0))
    if not more:
        return edges, real, label, beam
    b, e = real.shape
    wide = np.concatenate([edges, np.repeat(edges[:, :1, :1], 2, axis=2).repeat(more, axis=1)], axis=1)
    real = np.concatenate([real, np.zeros((b, more), bool)], axis=1)
    label = np.concatenate([label, np.full((b, more), LINES, np.intp)], axis=1)
    beam = np.concatenate([beam, np.full((b, more), NO_BEAM, np.intp)], axis=1)
    place = e + np.arange(len(ring)) - np.concatenate([[0], np.cumsum(count)])[ring]
    wide[ring, place], real[ring, place] = ends[missing[number]], True
    label[ring, place], beam[ring, place] = MEMBERS, missing[number]
    return wide, real, label, beam


def on_pieces(points: Array, near: Array, pieces: Array, way: Array | None = None) -> tuple[Index, Array]:
    """Return on which piece (m, 2, 2) each point lies, -1 for none, and where along it (0 to 1).

    Parameters
    ----------
    points
        (n, 2).
    near
        (n,) how near is on it [mm].
    pieces
        (m, 2, 2) ends.
    way
        (n, 2) directions the piece must share, if any.
    """
    if not len(pieces) or not len(points):
        return np.full(len(points), NO_BEAM, np.intp), np.zeros(len(points))
    (x_0, y_0), (dx, dy) = pieces[:, 0].T, (pieces[:, 1] - pieces[:, 0]).T
    long = np.maximum(dx * dx + dy * dy, 1e-12)
    x, y = points[:, :1] - x_0, points[:, 1:] - y_0
    t = np.clip((x * dx + y * dy) / long, 0, 1)
    x -= t * dx
    y -= t * dy
    gone = x * x + y * y
    if way is not None:
        turned = np.abs(way[:, :1] * dy - way[:, 1:] * dx) >= _ALONG * np.sqrt(long)
        gone[turned] = np.inf
    best = gone.argmin(axis=1)
    rows = np.arange(len(points))
    return np.where(gone[rows, best] <= near * near, best, NO_BEAM), t[rows, best]


def _along(points: Array, pieces: Array) -> Array:
    step = pieces[:, 1] - pieces[:, 0]
    return ((points - pieces[:, 0]) * step).sum(axis=1) / np.maximum((step * step).sum(axis=1), 1e-12)
