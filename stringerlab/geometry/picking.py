"""What lies under a pointer, and what a rubber band takes: pure hit tests on drawn bodies.

A point is a pair (y, z) in mm. The radius is the pixels a pointer may be off, in mm.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Array = NDArray[np.float64]
Index = NDArray[np.intp]
Mask = NDArray[np.bool_]


class What(StrEnum):
    """What was hit, the most wanted first."""

    VERTEX = "vertex"
    FILLET = "fillet"
    SEGMENT = "segment"
    WALL = "wall"
    FILL = "fill"


@dataclass(frozen=True, slots=True)
class Picked:
    """What was hit: its subject, the number from 0 of its vertex, corner or leg, where, how far off."""

    what: What
    subject: str
    index: int
    at: Point
    distance: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """A wall or fill to hit."""

    subject: str
    corners: Array
    """(m, 2) as drawn."""
    line: Array
    """(n, 2) as rounded; a closed one ends on its first point again."""
    chord: Mask
    """(n − 1,) segments that are chords of a fillet."""
    corner_of: Index
    """(n,) corner that each vertex of the line is or rounds."""
    rings: tuple[Array, ...]
    """What it fills, even-odd; empty for a bare line."""
    closed: bool = False
    fill: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Pickable:
    """Bodies to hit, as arrays; see ``of``."""

    bodies: tuple[Body, ...]
    corners: Array
    """(c, 2)."""
    corner_owner: Index
    corner_number: Index
    starts: Array
    """(s, 2) segments …"""
    ways: Array
    segment_owner: Index
    segment_number: Index
    """(s,) the leg's number, or the corner's of a chord."""
    chord: Mask
    low: Array
    """(bodies, 2) box of each …"""
    high: Array
    sizes: Array
    """(bodies,) area of each box."""

    @classmethod
    def of(cls, bodies: Iterable[Body]) -> "Pickable":
        """Return bodies ready to be hit, from back to front."""
        held = tuple(body for body in bodies if len(body.line) > 1)
        around = [np.concatenate([body.line, *body.rings]) for body in held]
        low = np.array([points.min(axis=0) for points in around]).reshape(-1, 2)
        high = np.array([points.max(axis=0) for points in around]).reshape(-1, 2)
        return cls(
            bodies=held,
            corners=_stacked([body.corners for body in held]),
            corner_owner=_owner([len(body.corners) for body in held]),
            corner_number=_joined([np.arange(len(body.corners)) for body in held]),
            starts=_stacked([body.line[:-1] for body in held]),
            ways=_stacked([np.diff(body.line, axis=0) for body in held]),
            segment_owner=_owner([len(body.chord) for body in held]),
            segment_number=_joined([body.corner_of[:-1] for body in held]),
            chord=np.concatenate([*(body.chord for body in held), np.zeros(0, bool)]),
            low=low,
            high=high,
            sizes=(high - low).prod(axis=1),
        )


def pick(
    held: Pickable,
    cursor: Point,
    radius: float,
    *,
    only: Collection[What] = frozenset(What),
    first: Collection[str] = (),
) -> Picked | None:
    """Return what lies under a cursor: a vertex before a rounded corner or leg, a line before an area.

    Parameters
    ----------
    held
        The bodies.
    cursor
        Where the pointer is [mm].
    radius
        How far it may be off [mm].
    only
        What may be hit.
    first
        Subjects whose vertices and legs are hit before those of others: what is selected.
    """
    for among in (tuple(first), ()) if first else ((),):
        mask = np.array([not among or body.subject in among for body in held.bodies], bool)
        found = _vertex(held, cursor, radius, mask) if What.VERTEX in only else None
        found = found or _segment(held, cursor, radius, mask, only)
        if found is not None:
            return found
    return _area(held, cursor, only)


def picked_in(held: Pickable, one: Point, other: Point, *, touching: bool = False) -> tuple[str, ...]:
    """Return the subjects within a rubber band between two of its corners, in their order.

    Parameters
    ----------
    held
        The bodies.
    one, other
        Opposite corners of the band [mm].
    touching
        Whether what it touches or lies in is taken too; else only what lies in it whole.
    """
    low, high = np.minimum(one, other), np.maximum(one, other)
    inside: Mask = np.logical_and((held.low >= low).all(axis=1), (held.high <= high).all(axis=1))
    if not touching:
        return tuple(body.subject for body, taken in zip(held.bodies, inside.tolist(), strict=True) if taken)
    near: Mask = np.logical_and((held.low <= high).all(axis=1), (held.high >= low).all(axis=1))
    centre = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    return tuple(
        body.subject
        for index, body in enumerate(held.bodies)
        if inside[index] or (near[index] and (_crosses(_edges(body), low, high) or _holds(body, centre)))
    )


def vertices_in(held: Pickable, one: Point, other: Point) -> tuple[tuple[str, int], ...]:
    """Return the vertices (subject, number) within a rubber band between two of its corners [mm]."""
    low, high = np.minimum(one, other), np.maximum(one, other)
    found = np.flatnonzero(((held.corners >= low) & (held.corners <= high)).all(axis=1))
    return tuple(
        (held.bodies[int(held.corner_owner[index])].subject, int(held.corner_number[index]))
        for index in found.tolist()
    )


def _vertex(held: Pickable, cursor: Point, radius: float, mask: Mask) -> Picked | None:
    if not len(held.corners):
        return None
    off = np.hypot(*(held.corners - np.array(cursor)).T)
    off = np.where(mask[held.corner_owner], off, np.inf)
    # Of vertices that lie on one another the front body's is hit.
    best = len(off) - 1 - int(np.argmin(off[::-1]))
    if off[best] > radius:
        return None
    y, z = held.corners[best].tolist()
    subject = held.bodies[int(held.corner_owner[best])].subject
    return Picked(What.VERTEX, subject, int(held.corner_number[best]), (y, z), float(off[best]))


def _segment(
    held: Pickable, cursor: Point, radius: float, mask: Mask, only: Collection[What]
) -> Picked | None:
    wanted = np.where(held.chord, What.FILLET in only, What.SEGMENT in only) & mask[held.segment_owner]
    if not wanted.any():
        return None
    arm = np.array(cursor) - held.starts
    size = (held.ways**2).sum(axis=1)
    along = np.clip((arm * held.ways).sum(axis=1) / np.where(size > 0, size, 1.0), 0.0, 1.0)
    off = np.where(wanted, np.hypot(*(arm - along[:, None] * held.ways).T), np.inf)
    best = len(off) - 1 - int(np.argmin(off[::-1]))
    if off[best] > radius:
        return None
    y, z = (held.starts[best] + along[best] * held.ways[best]).tolist()
    what = What.FILLET if held.chord[best] else What.SEGMENT
    subject = held.bodies[int(held.segment_owner[best])].subject
    return Picked(what, subject, int(held.segment_number[best]), (y, z), float(off[best]))


def _area(held: Pickable, cursor: Point, only: Collection[What]) -> Picked | None:
    """Return the body around a cursor: a wall before a fill, then the smallest, then the front one."""
    at = np.array(cursor)
    around = np.flatnonzero((held.low <= at).all(axis=1) & (held.high >= at).all(axis=1))
    order = sorted(around.tolist(), key=lambda index: (held.bodies[index].fill, held.sizes[index], -index))
    for index in order:
        body = held.bodies[index]
        what = What.FILL if body.fill else What.WALL
        if what in only and _holds(body, cursor):
            return Picked(what, body.subject, 0, cursor, 0.0)
    return None


def _holds(body: Body, at: Point) -> bool:
    """Whether a point lies in what a body fills, even-odd."""
    inside = False
    for ring in body.rings:
        after = np.roll(ring, -1, axis=0)
        across = (ring[:, 1] > at[1]) != (after[:, 1] > at[1])
        start, end = ring[across], after[across]
        y = start[:, 0] + (at[1] - start[:, 1]) * (end[:, 0] - start[:, 0]) / (end[:, 1] - start[:, 1])
        inside ^= bool((y > at[0]).sum() % 2)
    return inside


def _edges(body: Body) -> list[Array]:
    closed = [np.concatenate([ring, ring[:1]]) for ring in body.rings]
    return [body.line, *closed]


def _crosses(lines: Sequence[Array], low: Array, high: Array) -> bool:
    """Whether any segment of lines comes into a box: clipped to it, something is left."""
    for line in lines:
        start, way = line[:-1], np.diff(line, axis=0)
        still = way == 0
        safe = np.where(still, 1.0, way)
        one, other = (low - start) / safe, (high - start) / safe
        outside = still & ((start < low) | (start > high))
        enter = np.where(still, 0.0, np.minimum(one, other)).max(axis=1)
        leave = np.where(still, 1.0, np.maximum(one, other)).min(axis=1)
        if bool((~outside.any(axis=1) & (np.maximum(enter, 0.0) <= np.minimum(leave, 1.0))).any()):
            return True
    return False


def _stacked(parts: Sequence[Array]) -> Array:
    return np.concatenate(parts) if parts else np.zeros((0, 2))


def _joined(parts: Sequence[Index]) -> Index:
    return np.concatenate([*parts, np.zeros(0, np.intp)]).astype(np.intp)


def _owner(counts: Sequence[int]) -> Index:
    return np.repeat(np.arange(len(counts)), counts).astype(np.intp)
