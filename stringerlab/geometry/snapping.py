"""What a pointer catches: the best of all targets near a place, with locks.

A point is a pair (y, z) in mm, y to the right, z up; angles in rad. Nothing here knows of a screen:
the radius is the pixels a pointer may be off, in mm.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from math import hypot, pi

import numpy as np

from stringerlab.geometry.construct import tangents
from stringerlab.geometry.targets import (
    ALL,
    TINY,
    Array,
    Curve,
    Index,
    Kind,
    Mask,
    Point,
    Snap,
    Targets,
)

__all__ = ["ALL", "Curve", "Kind", "Point", "Snap", "Targets", "snap"]

SQUARE = pi / 2
"""Step of the ortho lock."""
FIFTEEN = pi / 12
"""Step of the angle lock."""
_CROSSED = 40
"""Segments near the pointer that are crossed with one another; more lie too close to tell apart."""
_PREFERENCE = 0.12
"""Share of the radius by which each kind of point is preferred to the next."""


def snap(
    targets: Targets,
    cursor: Point,
    radius: float,
    from_point: Point | None = None,
    ortho: bool = False,
    *,
    step: float = 0.0,
    kinds: Collection[Kind] = ALL,
    without: Collection[str] = (),
) -> Snap | None:
    """Return the best thing to catch near a cursor, None when there is none.

    Points (ends, crossings, middles, centres, feet, tangent points) come before lines, lines before the grid.
    Between points the nearer wins, unless it is hardly nearer than a better kind.

    Parameters
    ----------
    targets
        What can be caught.
    cursor
        Where the pointer is [mm].
    radius
        How far it may be off [mm].
    from_point
        Where the line being drawn comes from: for feet, tangents and locks [mm].
    ortho
        Whether the line from there is held level or upright.
    step
        Directions in which the line from there is held, 15° say; 0 for free, and without meaning in ortho
        [rad].
    kinds
        What may be caught.
    without
        Subjects that are not caught: what is being dragged.
    """
    search = _Search(targets, cursor, radius, frozenset(kinds), _masked(targets, without))
    hold = SQUARE if ortho else step
    if hold > 0 and from_point is not None:
        return _held(search, from_point, hold)
    return _best_point(search, from_point) or _on_line(search) or _on_grid(search)


@dataclass(frozen=True, slots=True, eq=False)
class _Search:
    targets: Targets
    cursor: Point
    radius: float
    kinds: frozenset[Kind]
    left_out: Mask | None
    """(subjects,) which are not caught; None for none."""

    def kept(self, found: Index, owner: Index) -> Index:
        """Drop what belongs to a subject left out."""
        return found if self.left_out is None else found[~self.left_out[owner[found]]]

    def segments(self, at: Point, radius: float) -> Index:
        """Return the segments whose boxes come near a place."""
        held = self.targets
        near = (
            (held.low[:, 0] <= at[0] + radius)
            & (held.high[:, 0] >= at[0] - radius)
            & (held.low[:, 1] <= at[1] + radius)
            & (held.high[:, 1] >= at[1] - radius)
        )
        return self.kept(np.flatnonzero(near), held.segment_of)


def _masked(targets: Targets, without: Collection[str]) -> Mask | None:
    return np.isin(targets.subjects, list(without)) if without else None


Scored = tuple[float, Snap]


def _best_point(search: _Search, from_point: Point | None) -> Snap | None:
    found: list[Scored] = []
    for kind, at, subject in _candidates(search, from_point):
        off = hypot(at[0] - search.cursor[0], at[1] - search.cursor[1])
        if off <= search.radius and kind in search.kinds:
            found.append((off + _RANK[kind] * _PREFERENCE * search.radius, Snap(kind, at, subject)))
    return min(found, key=lambda scored: scored[0])[1] if found else None


_RANK = {kind: rank for rank, kind in enumerate(Kind)}


def _candidates(search: _Search, from_point: Point | None) -> Iterator[tuple[Kind, Point, str]]:
    held = search.targets
    yield from _drawn_points(search)
    near = search.segments(search.cursor, search.radius)
    if Kind.INTERSECTION in search.kinds:
        yield from _crossings(search, near)
    cursor = np.array(search.cursor)
    if len(held.circles):
        off = np.hypot(*(held.circles[:, :2] - cursor).T)
        for index in search.kept(np.flatnonzero(off <= search.radius), held.circle_of).tolist():
            y, z, _ = held.circles[index].tolist()
            yield Kind.CENTRE, (y, z), held.subjects[int(held.circle_of[index])]
    if from_point is None:
        return
    if Kind.PERPENDICULAR in search.kinds and len(near):
        arm = np.array(from_point) - held.starts[near]
        along = _along(arm, held.ways[near])
        on = (along >= -TINY) & (along <= 1 + TINY) & ~held.chord[near]
        feet = held.starts[near] + along[:, None] * held.ways[near]
        for at, index in zip(feet[on].tolist(), near[on].tolist(), strict=True):
            yield Kind.PERPENDICULAR, (at[0], at[1]), held.subjects[int(held.segment_of[index])]
    if Kind.TANGENT in search.kinds and len(held.circles):
        off = np.abs(np.hypot(*(held.circles[:, :2] - cursor).T) - held.circles[:, 2])
        for index in search.kept(np.flatnonzero(off <= search.radius), held.circle_of).tolist():
            y, z, size = held.circles[index].tolist()
            for at in tangents(from_point, (y, z), size):
                yield from _if_on_arc(search, near, at, held.subjects[int(held.circle_of[index])])


def _drawn_points(search: _Search) -> Iterator[tuple[Kind, Point, str]]:
    held = search.targets
    if not len(held.points):
        return
    off = np.abs(held.points - np.array(search.cursor)).max(axis=1)
    for index in search.kept(np.flatnonzero(off <= search.radius), held.point_of).tolist():
        y, z = held.points[index].tolist()
        kind = Kind.MIDDLE if held.middle[index] else Kind.END
        yield kind, (y, z), held.subjects[int(held.point_of[index])]


def _if_on_arc(search: _Search, near: Index, at: Point, subject: str) -> Iterator[tuple[Kind, Point, str]]:
    """A tangent point counts where the arc is drawn: within a sagitta of one of its chords."""
    held = search.targets
    if not len(near):
        return
    chords = near[held.chord[near]]
    arm = np.array(at) - held.starts[chords]
    along = np.clip(_along(arm, held.ways[chords]), 0.0, 1.0)
    off = np.hypot(*(arm - along[:, None] * held.ways[chords]).T)
    if len(off) and float((off / np.maximum(np.hypot(*held.ways[chords].T), TINY)).min()) < 0.1:
        yield Kind.TANGENT, at, subject


def _crossings(search: _Search, near: Index) -> Iterator[tuple[Kind, Point, str]]:
    """Where segments of different curves, or far parts of one, cross near the cursor."""
    held = search.targets
    if len(near) < 2:
        return
    if len(near) > _CROSSED:
        off = _distances(held, near, search.cursor)
        near = near[np.argsort(off)[:_CROSSED]]
    one, other = np.triu_indices(len(near), 1)
    a, b = near[one], near[other]
    apart = (np.abs(a - b) > 1) | (held.segment_of[a] != held.segment_of[b])
    a, b = a[apart], b[apart]
    u, v, arm = held.ways[a], held.ways[b], held.starts[b] - held.starts[a]
    size = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    level = np.abs(size) <= 1e-9 * np.hypot(*u.T) * np.hypot(*v.T)
    size = np.where(level, 1.0, size)
    first = (arm[:, 0] * v[:, 1] - arm[:, 1] * v[:, 0]) / size
    second = (arm[:, 0] * u[:, 1] - arm[:, 1] * u[:, 0]) / size
    slack = 1e-9
    on = ~level & (first >= -slack) & (first <= 1 + slack) & (second >= -slack) & (second <= 1 + slack)
    for index in np.flatnonzero(on).tolist():
        y, z = (held.starts[a[index]] + first[index] * u[index]).tolist()
        yield Kind.INTERSECTION, (y, z), held.subjects[int(held.segment_of[a[index]])]


def _on_line(search: _Search) -> Snap | None:
    held = search.targets
    near = search.segments(search.cursor, search.radius)
    wanted = np.where(held.face[near], Kind.FACE in search.kinds, Kind.NEAREST in search.kinds)
    near = near[wanted]
    if not len(near):
        return None
    off = _distances(held, near, search.cursor)
    best = int(np.argmin(off))
    if off[best] > search.radius:
        return None
    index = int(near[best])
    arm = np.array(search.cursor) - held.starts[index]
    along = float(np.clip(_along(arm[None], held.ways[index][None])[0], 0.0, 1.0))
    y, z = (held.starts[index] + along * held.ways[index]).tolist()
    kind = Kind.FACE if held.face[index] else Kind.NEAREST
    return Snap(kind, (y, z), held.subjects[int(held.segment_of[index])])


def _on_grid(search: _Search) -> Snap | None:
    grid = search.targets.grid
    if grid <= 0 or Kind.GRID not in search.kinds:
        return None
    y, z = (round(value / grid) * grid + 0.0 for value in search.cursor)
    if hypot(y - search.cursor[0], z - search.cursor[1]) > search.radius:
        return None
    return Snap(Kind.GRID, (y, z))


def _held(search: _Search, from_point: Point, step: float) -> Snap | None:
    """Return where a held line goes: level with a point, across a line, on the grid, or free."""
    origin = complex(*from_point)
    arm = complex(*search.cursor) - origin
    if abs(arm) < TINY:
        return Snap(Kind.LOCK, from_point)
    heading = _unit(round(float(np.angle(arm)) / step) * step)
    reach = (arm * heading.conjugate()).real

    def on_ray(at: Point) -> complex:
        return origin + heading * ((complex(*at) - origin) * heading.conjugate()).real

    found: list[Scored] = []
    for kind, at, subject in _drawn_points(search):
        foot = on_ray(at)
        off = abs(foot - complex(*search.cursor))
        if kind in search.kinds:
            score = off + _RANK[kind] * _PREFERENCE * search.radius
            found.append((score, Snap(kind, _pair(foot), subject)))
    if Kind.INTERSECTION in search.kinds:
        for foot, subject in _across(search, origin, heading, _pair(origin + heading * reach)):
            off = abs(foot - (origin + heading * reach))
            score = off + _RANK[Kind.INTERSECTION] * _PREFERENCE * search.radius
            found.append((score, Snap(Kind.INTERSECTION, _pair(foot), subject)))
    if found:
        return min(found, key=lambda scored: scored[0])[1]
    free = origin + heading * reach
    grid = search.targets.grid
    if grid > 0 and Kind.GRID in search.kinds:
        level = abs(heading.real) > abs(heading.imag)
        value = free.real if level else free.imag
        part = heading.real if level else heading.imag
        from_value = origin.real if level else origin.imag
        on_grid = origin + heading * ((round(value / grid) * grid - from_value) / part)
        if abs(on_grid - free) <= search.radius:
            return Snap(Kind.GRID, _pair(on_grid))
    return Snap(Kind.LOCK, _pair(free))


def _across(search: _Search, origin: complex, heading: complex, at: Point) -> Iterator[tuple[complex, str]]:
    """Where a ray crosses what is drawn near a place on it."""
    held = search.targets
    for index in search.segments(at, search.radius).tolist():
        start, way = complex(*held.starts[index]), complex(*held.ways[index])
        size = (heading.conjugate() * way).imag
        if abs(size) <= 1e-9 * abs(way):
            continue
        arm = start - origin
        along = (arm.conjugate() * way).imag / size
        share = (arm.conjugate() * heading).imag / size
        foot = origin + heading * along
        if -TINY <= share <= 1 + TINY and abs(foot - complex(*at)) <= search.radius:
            yield foot, held.subjects[int(held.segment_of[index])]


def _unit(angle: float) -> complex:
    """Return a unit direction, exact where it is level or upright."""
    direction = np.exp(1j * angle)
    y, z = float(direction.real), float(direction.imag)
    return complex(0.0 if abs(y) < 1e-12 else y, 0.0 if abs(z) < 1e-12 else z)


def _pair(point: complex) -> Point:
    return point.real, point.imag


def _along(arm: Array, way: Array) -> Array:
    size = (way * way).sum(axis=1)
    return (arm * way).sum(axis=1) / np.where(size > 0, size, 1.0)


def _distances(held: Targets, near: Index, at: Point) -> Array:
    arm = np.array(at) - held.starts[near]
    along = np.clip(_along(arm, held.ways[near]), 0.0, 1.0)
    return np.hypot(*(arm - along[:, None] * held.ways[near]).T)
