"""What a bay measures: its clear ring from web root to web root, and its sides in the skin. mm, rad.

A ring is laid flat on the plane that touches the bottom at its middle; one across the keel is opened at the
keel. Four corners (turns of more than 20°): b is the mean of the pair of opposite sides that is shorter, l of
the longer; where a side between corners bulges out, b is no less than the area over l. Any other
shape: l is the long side of the smallest enclosing rectangle, b the area over l.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.geometry.enclosing import smallest_rectangles
from stringerlab.geometry.faces import Faces, without_strips
from stringerlab.geometry.graph import Array, Index, Mask, floats, integers

CORNER = radians(20)
_STRAIGHT = 1e-3
_REFLEX = -0.5
"""Sides that turn out of a bay by more (sine) are moved in as strips, not to their crossing."""
_FLAT = 1e-3
"""A rise under a thousandth of b is no camber."""


@dataclass(frozen=True, slots=True, eq=False)
class Sizes:
    """Of n rings; nan where a ring is empty."""

    middle: Array
    """(n, 2) centroid in plan."""
    area: Array
    """(n,) in the skin."""
    b: Array
    l: Array
    deadrise: Array
    camber: Array
    corners: Index
    """(n,)."""


def clear_rings(faces: Faces, half: Array) -> list[Array]:
    """Return the ring left of every face when each side is moved in by half its member's base.

    Parameters
    ----------
    faces
        f of them.
    half
        (2e,) of every half-edge, in plan [mm].

    Returns
    -------
    list of Array
        (n, 2) each; empty where nothing is left. Where a base parts a face in two the larger is taken.
    """
    if not len(faces.rings):
        return []
    counts = np.diff(faces.starts)
    first = np.repeat(faces.starts[:-1], counts)
    place = np.arange(len(faces.rings))
    before = np.where(place == first, np.repeat(faces.starts[1:], counts) - 1, place - 1)
    after = np.where(place + 1 == np.repeat(faces.starts[1:], counts), first, place + 1)
    start = faces.points[faces.origin[faces.rings]]
    way = faces.points[faces.target[faces.rings]] - start
    way = way / np.hypot(*way.T)[:, None]
    left = np.stack([-way[:, 1], way[:, 0]], axis=1)
    d = half[faces.rings]
    turn = way[before, 0] * way[:, 1] - way[before, 1] * way[:, 0]
    straight = (np.abs(turn) < _STRAIGHT) & ((way[before] * way).sum(axis=1) > 0)
    safe = np.where(np.abs(turn) < _STRAIGHT, 1.0, turn)
    moved = start + (d[:, None] * way[before] - d[before, None] * way) / -safe[:, None]
    moved[straight] = start[straight] + (d[:, None] * left)[straight]
    whole = ((moved[after] - moved) * way).sum(axis=1) > 0
    convex = np.where(straight, np.abs(d - d[before]) < 1e-6, turn > _REFLEX)
    sound = np.add.reduceat((~(whole & convex)).astype(int), faces.starts[:-1]) == 0
    hollow = ~np.where(straight, np.abs(d - d[before]) < 1e-6, turn > 0)
    bulges = np.add.reduceat(hollow.astype(int), faces.starts[:-1]) == 0
    plain = np.add.reduceat(d, faces.starts[:-1]) == 0
    found: list[Array] = []
    for number, (a, b) in enumerate(zip(faces.starts[:-1].tolist(), faces.starts[1:].tolist(), strict=True)):
        if plain[number]:
            found.append(start[a:b])
        elif sound[number]:
            found.append(moved[a:b])
        elif bulges[number]:
            found.append(_inside(start[a:b], left[a:b], d[a:b]))
        else:
            strips = _strips(start[a:b], start[after[a:b]], way[a:b], left[a:b], d[a:b])
            found.append(next(iter(without_strips(start[a:b], strips)), np.zeros((0, 2))))
    return found


def _inside(ring: Array, left: Array, d: Array) -> Array:
    """Return what of a ring that bulges everywhere lies farther than d left of each of its sides."""
    kept = ring
    for at, normal, far in zip(ring, left, d, strict=True):
        if far <= 0 or not len(kept):
            continue
        depth = (kept - at) @ normal - far
        after, next_depth = np.roll(kept, -1, axis=0), np.roll(depth, -1)
        made: list[Array] = []
        for p, q, h, k in zip(kept, after, floats(depth), floats(next_depth), strict=True):
            if h >= 0:
                made.append(p)
            if h * k < 0:
                made.append(p + h / (h - k) * (q - p))
        kept = np.array(made).reshape(-1, 2)
    return kept if len(kept) >= 3 else np.zeros((0, 2))


def _strips(starts: Array, ends: Array, way: Array, left: Array, d: Array) -> list[Array]:
    """Return strips d wide on either side of legs, reaching d past their ends."""
    wide = np.nonzero(d > 0)[0]
    back, on, off = starts - d[:, None] * way, ends + d[:, None] * way, d[:, None] * left
    return [np.array([back[k] - off[k], on[k] - off[k], on[k] + off[k], back[k] + off[k]]) for k in wide]


def sizes_of(rings: Sequence[Array], bottom: Bottom) -> Sizes:
    """Return what rings (n, 2) in plan measure in the skin."""
    flat = laid_flat(rings, bottom)
    count, ring, laid, after = len(rings), flat.ring, flat.laid, flat.after
    step = laid[after] - laid
    arriving = np.empty_like(step)
    arriving[after] = step
    turn = np.arctan2(
        arriving[:, 0] * step[:, 1] - arriving[:, 1] * step[:, 0], (arriving * step).sum(axis=1)
    )
    corner = np.abs(turn) > CORNER
    corners = np.bincount(ring[corner], minlength=count)
    reflex = np.bincount(ring[turn < -CORNER], minlength=count) > 0
    four = (corners == 4) & ~reflex
    b, l = np.full(count, np.nan), np.full(count, np.nan)
    b[four], l[four] = _four_sided(laid[corner & four[ring]].reshape(-1, 4, 2))
    b[four] = np.minimum(np.maximum(b[four], flat.area[four] / l[four]), l[four])
    other = integers(np.nonzero(~four & (flat.number > 0))[0])
    if other:
        pieces = [laid[flat.starts[k] : flat.starts[k] + flat.number[k]] for k in other]
        l[other] = smallest_rectangles(pieces)[:, 1]
        b[other] = flat.area[other] / l[other]
    deadrise = np.clip(bottom.deadrise(np.nan_to_num(flat.middle[:, 0])), 0, None)
    camber = _cambers(flat, corner & four[ring], b, four, bottom)
    return Sizes(flat.middle, flat.area, b, l, deadrise, camber, corners)


@dataclass(frozen=True, slots=True, eq=False)
class Flat:
    """n rings of p points in all, laid flat in the skin; nan where a ring is empty."""

    points: Array
    """(p, 2) in plan."""
    laid: Array
    """(p, 2)."""
    ring: Index
    """(p,)."""
    after: Index
    """(p,) the next point of its ring."""
    number: Index
    """(n,) of points."""
    starts: Index
    """(n,)."""
    middle: Array
    """(n, 2) centroids in plan."""
    area: Array
    """(n,) in the skin."""
    across: Mask
    """(n,) where a ring lies on both sides of the keel."""


def laid_flat(rings: Sequence[Array], bottom: Bottom) -> Flat:
    """Return rings (n, 2) in plan laid flat in the planes that touch the bottom at their middles."""
    count = len(rings)
    number = np.array([len(ring) for ring in rings], np.intp)
    filled = number > 0
    ring = np.repeat(np.arange(count), number)
    points = np.concatenate([np.zeros((0, 2)), *rings])
    starts = np.cumsum(number) - number
    after = np.arange(1, len(points) + 1)
    after[(starts + number - 1)[filled]] = starts[filled]
    middle = np.full((count, 2), np.nan)
    middle[filled] = _centroids(points, after, ring, starts, count)[filled]
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    np.minimum.at(low, ring, points[:, 1])
    np.maximum.at(high, ring, points[:, 1])
    across = (low < -1.0) & (high > 1.0)
    laid = _laid(points, ring, middle, across, bottom)
    cross = laid[:, 0] * laid[after, 1] - laid[:, 1] * laid[after, 0]
    area = np.abs(np.bincount(ring, weights=cross, minlength=count)) / 2
    area[~filled] = np.nan
    return Flat(points, laid, ring, after, number, starts, middle, area, across)


def _centroids(points: Array, after: Index, ring: Index, starts: Index, count: int) -> Array:
    base = np.concatenate([points, np.zeros((1, 2))])[starts]
    p, q = points - base[ring], points[after] - base[ring]
    cross = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]
    twice = np.bincount(ring, weights=cross, minlength=count)
    moments = [np.bincount(ring, weights=cross * (p + q)[:, k], minlength=count) for k in (0, 1)]
    return base + np.stack(moments, axis=1) / np.where(twice == 0, 1.0, 3 * twice)[:, None]


def _laid(points: Array, ring: Index, middle: Array, across: Mask, bottom: Bottom) -> Array:
    """Return points laid flat in the planes that touch the bottom at their rings' middles."""
    at = np.nan_to_num(middle)
    slope = bottom.gradient(at)
    tangent = np.tan(bottom.deadrise(at[:, 0]))
    slope[across, 1] = 0.0
    stretch = np.where(across, np.sqrt(1 + tangent**2), 1.0)[ring]
    p = points - at[ring]
    p[:, 1] *= stretch
    zx, zy = slope[ring].T
    long = np.sqrt(1 + zx**2)
    along = p[:, 0] * long + zx * zy / long * p[:, 1]
    wide = np.sqrt(1 + zx**2 + zy**2) / long * p[:, 1]
    return np.stack([along, wide], axis=1)


def _four_sided(corners: Array) -> tuple[Array, Array]:
    """Return the means of the shorter and the longer pair of opposite sides, of (n, 4, 2) corners."""
    side = np.hypot(*np.moveaxis(np.roll(corners, -1, axis=1) - corners, 2, 0))
    pairs = np.stack([side[:, 0] + side[:, 2], side[:, 1] + side[:, 3]], axis=1) / 2
    return pairs.min(axis=1), pairs.max(axis=1)


def _cambers(flat: Flat, corner: Mask, b: Array, four: Mask, bottom: Bottom) -> Array:
    """Return how far the drawn bottom bulges out over b, where a station within a bay bends it."""
    found = np.zeros(len(b))
    if not four.any():
        return found
    corners = flat.points[corner].reshape(-1, 4, 2)
    skin = flat.laid[corner].reshape(-1, 4, 2)
    side = np.hypot(*np.moveaxis(np.roll(skin, -1, axis=1) - skin, 2, 0))
    first = side[:, 0] + side[:, 2] <= side[:, 1] + side[:, 3]
    across_b = (
        np.where(
            first[:, None],
            corners[:, 1] - corners[:, 0] + corners[:, 2] - corners[:, 3],
            corners[:, 2] - corners[:, 1] + corners[:, 3] - corners[:, 0],
        )
        / 4
    )
    part = np.linspace(-1, 1, 17)
    at = flat.middle[four]
    line = at[:, None] + part[None, :, None] * across_b[:, None]
    sign = np.where(at[:, 1] < 0, -1.0, 1.0)
    line[..., 1] = np.maximum(line[..., 1] * sign[:, None], 0.0)
    z = bottom.height(line.reshape(-1, 2)).reshape(len(at), -1)
    chord = z[:, :1] + (part + 1) / 2 * (z[:, -1:] - z[:, :1])
    rise = (chord - z).max(axis=1)
    rise[flat.across[four] | (rise < _FLAT * b[four])] = 0.0
    found[four] = rise
    return found
