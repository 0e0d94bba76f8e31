"""What slam patches press of each piece of the bottom. Unfolded, mm, MPa, N."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import sparse

from stringerlab.assess.grid.patches import Patches
from stringerlab.assess.grid.pieces import Pieces
from stringerlab.assess.grid.records import Array, Index, Mask

_STRAIGHT = 1e-9
"""Directions that differ by no more are one."""


def on_pieces(patches: Patches, pieces: Pieces) -> Any:
    """Return the force of every patch on every piece of the bottom, (c, p) sparse [N].

    A piece half under a patch's edge carries half; a patch that lies wholly on the bottom has its own area,
    any other no more than that.
    """
    strips = _strips(patches)
    piece, strip, long, across, sizes = _candidates(strips, pieces)
    width = patches.half[strips.first[strip], 1]
    part = pieces.area[piece] * _covered(across, width, sizes[1])
    size = sizes[0]
    patch, row = _over(strips, strip, long, size + patches.half[strips.first[strip], 0])
    slid = strips.along[patch]
    area = part[row] * _covered(long[row] - slid, patches.half[patch, 0], size[row])
    own = 4 * patches.half[:, 0] * patches.half[:, 1]
    under = np.bincount(patch, weights=area, minlength=len(own))
    scale = own / np.where(under > 0, under, np.inf)
    scale = np.where(patches.whole, scale, np.minimum(scale, 1.0))
    force = area * (scale * patches.pressure)[patch]
    return sparse.csc_matrix((force, (piece[row], patch)), shape=(len(pieces.area), len(patches.pressure)))


def _covered(off: Array, half: Array, size: Array) -> Array:
    """Return which part of pieces, ``size`` on either side of their middles, lies within a strip."""
    low, high = np.maximum(off - size, -half), np.minimum(off + size, half)
    return np.maximum(high - low, 0.0) / (2 * size)


@dataclass(frozen=True, slots=True, eq=False)
class _Strips:
    """What runs of patches, slid straight on by equal steps, sweep over."""

    middle: Array
    """(r, 2) of the first patch and the last together."""
    way: Array
    half: Array
    first: Index
    """(r,) patches."""
    count: Index
    step: Array
    along: Array
    """(p,) each patch's middle from its strip's [mm]."""


def _strips(patches: Patches) -> _Strips:
    p, each = len(patches.pressure), max(patches.each, 1)
    starts = np.arange(p) % each == 0
    starts[1:] |= (np.abs(np.diff(patches.way, axis=0)) > _STRAIGHT).any(axis=1)
    first: Index = np.flatnonzero(starts)
    count = np.diff(np.append(first, p))
    last = first + count - 1
    of = np.repeat(np.arange(len(first)), count)
    middle = (patches.middle[first] + patches.middle[last]) / 2
    way = patches.way[first]
    along = ((patches.middle - middle[of]) * way[of]).sum(axis=1)
    half = patches.half[first] + np.stack([along[last], np.zeros(len(first))], axis=1)
    step = 2 * along[last] / np.maximum(count - 1, 1)
    return _Strips(middle, way, half, first, count, np.where(count > 1, step, 1.0), along)


def _over(strips: _Strips, strip: Index, long: Array, reach: Array) -> tuple[Index, Index]:
    """Return patches, and rows, such that a row's piece lies within reach of the patch along its strip."""
    zero = strips.along[strips.first[strip]]
    low = np.floor((long - reach - zero) / strips.step[strip]).astype(np.intp)
    high = np.ceil((long + reach - zero) / strips.step[strip]).astype(np.intp)
    low, high = np.maximum(low, 0), np.minimum(high, strips.count[strip] - 1)
    count = np.maximum(high - low + 1, 0)
    within = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count)
    return np.repeat(strips.first[strip] + low, count) + within, np.repeat(np.arange(len(strip)), count)


def _candidates(strips: _Strips, pieces: Pieces) -> tuple[Index, Index, Array, Array, tuple[Array, Array]]:
    """Return pieces and strips that touch, how far these are off their middles, and half of their sizes.

    Both are along a strip and across it.
    """
    reach = np.abs(strips.way) * strips.half[:, :1] + np.abs(strips.way[:, ::-1]) * strips.half[:, 1:]
    low, high = strips.middle - reach, strips.middle + reach
    bounds = pieces.bounds
    under = (bounds[:, None, :2] < high) & (bounds[:, None, 2:] > low)
    meets: Mask = np.asarray(under.all(axis=2), bool)
    starts = np.searchsorted(pieces.ring, np.arange(len(bounds) + 1))
    # Reached at all: by the largest piece of a ring.
    largest = np.maximum.reduceat(pieces.half, starts[:-1]) if len(bounds) else np.zeros((0, 2))
    (cos, sin), (x_0, y_0) = strips.way.T, strips.middle.T
    ahead, aside = x_0 * cos + y_0 * sin, y_0 * cos - x_0 * sin
    x, y = np.ascontiguousarray(pieces.at.T)
    none = np.zeros(0, np.intp)
    found = [(none, none, np.zeros(0), np.zeros(0))]
    for ring in np.unique(np.nonzero(meets)[0]).tolist():
        here = np.flatnonzero(meets[ring])
        first, last = int(starts[ring]), int(starts[ring + 1])
        c, s = cos[here, None], sin[here, None]
        most = np.abs(c) * largest[ring] + np.abs(s) * largest[ring, ::-1] + strips.half[here]
        long = x[first:last] * c + y[first:last] * s - ahead[here, None]
        across = y[first:last] * c - x[first:last] * s - aside[here, None]
        row, at = np.nonzero((np.abs(across) < most[:, 1:]) & (np.abs(long) < most[:, :1]))
        found.append((first + at, here[row], long[row, at], across[row, at]))
    piece, strip, long, across = (np.concatenate(each) for each in zip(*found, strict=True))
    a, b = pieces.half[piece].T
    c, s = np.abs(cos[strip]), np.abs(sin[strip])
    return piece, strip, long, across, (a * c + b * s, a * s + b * c)
