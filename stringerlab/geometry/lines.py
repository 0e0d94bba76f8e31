"""Many drawn lines at once: corners to rounded vertices, and the mitre at each vertex.

A point is the complex number y + iz, y to the right, z up; turns are positive to the left. Lines are flat:
the points of all of them one after another, with the index at which each starts. A closed line's first vertex
is repeated at its end once it is rounded. mm, rad.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import CHORDS, Array, Points, arcs

Index = NDArray[np.intp]
Mask = NDArray[np.bool_]

TOUCH = 1e-9
"""Two points closer than this are one [mm]."""
SHARPEST = float(np.radians(160.0))
"""A corner that turns more doubles back: its mitre would reach nearly six times the laminate's thickness."""


@dataclass(frozen=True, slots=True, eq=False)
class Corners:
    """The corners of w lines as drawn, n in all."""

    points: Points
    """(n,)."""
    radii: Array
    """(n,), 0 where sharp and at open ends."""
    starts: Index
    """(w,)."""
    ends: Index
    """(w,) the last corner of each line."""
    closed: Mask
    """(w,)."""
    arriving: Points
    """(n,) unit direction of the leg that arrives (of the one that leaves, at an open start)."""
    length: Array
    """(n,) of the leg that leaves; infinite at an open end."""
    turn: Array
    """(n,) change of direction, 0 at open ends."""
    overrun: Array
    """(n,) by how much the fillets at its two ends are too large for the leg that leaves [mm]."""

    @property
    def repeated(self) -> Mask:
        """(n,) corners that lie on the next one."""
        return self.length < TOUCH

    @property
    def doubling(self) -> Mask:
        """(n,) corners at which the line doubles back."""
        return np.abs(self.turn) > SHARPEST

    @property
    def sound(self) -> bool:
        """Whether every line can be drawn."""
        return not (
            self.overrun.max() > TOUCH or self.length.min() < TOUCH or np.abs(self.turn).max() > SHARPEST
        )

    @property
    def one_way(self) -> Mask:
        """(w,) open lines whose headings stay within half a circle.

        Such a line, and every offset of it that does not fold, advances in one direction throughout: neither
        it nor what is built on it can meet itself.
        """
        total = np.cumsum(self.turn)
        extent = np.maximum.reduceat(total, self.starts) - np.minimum.reduceat(total, self.starts)
        return ~self.closed & (extent <= np.pi + TOUCH)


def corners_of(points: Points, radii: Array, starts: Index, closed: Mask) -> Corners:
    """Return the corners of w lines with their legs and turns.

    Parameters
    ----------
    points
        (n,), at least two a line [mm].
    radii
        (n,) [mm].
    starts
        (w,) first point of each line.
    closed
        (w,) whether the last point joins the first.
    """
    order = _order(tuple(starts.tolist()), len(points), tuple(closed.tolist()))
    leg = points[order.after] - points
    length = np.abs(leg)
    heading = leg / np.maximum(length, TOUCH)
    arriving = heading[order.before]
    first, last = order.open_starts, order.open_ends
    heading[last] = arriving[last]
    arriving[first] = heading[first]
    length[last] = np.inf
    radii = radii * order.inner
    turn = np.angle(heading * arriving.conj())
    tangent = radii * np.tan(np.minimum(np.abs(turn), SHARPEST) / 2)
    return Corners(
        points=points,
        radii=radii,
        starts=starts,
        ends=order.ends,
        closed=closed,
        arriving=arriving,
        length=length,
        turn=turn,
        overrun=tangent + tangent[order.after] - length,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Order:
    """Which corner follows which: the same for every drawing of as many points."""

    ends: Index
    after: Index
    before: Index
    open_starts: Index
    open_ends: Index
    inner: Array
    """0 at open ends, 1 elsewhere."""


@lru_cache(256)
def _order(starts: tuple[int, ...], n: int, closed: tuple[bool, ...]) -> _Order:
    ends = np.array([*(start - 1 for start in starts[1:]), n - 1], np.intp)
    after, before = np.arange(1, n + 1), np.arange(-1, n - 1)
    after[ends] = starts
    before[list(starts)] = ends
    is_open = ~np.array(closed, bool)
    open_starts, open_ends = np.array(starts, np.intp)[is_open], ends[is_open]
    inner = np.ones(n)
    inner[open_starts] = inner[open_ends] = 0.0
    return _Order(ends, after, before, open_starts, open_ends, inner)


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Rounded lines: v vertices in all, a closed line's first vertex repeated at its end."""

    points: Points
    """(v,)."""
    starts: Index
    """(w,)."""
    counts: Index
    """(w,) vertices of each line."""
    closed: Mask
    """(w,)."""
    chord: Mask
    """(v,) whether the segment that leaves the vertex is a chord of a fillet."""
    mitres: Points
    """(v,) an offset by d to the left moves the vertex by d times this."""
    direction: Points
    """(v,) unit direction of the segment that leaves; at a line's end without meaning."""
    length: Array
    """(v,) of the segment that leaves; infinite at a line's end."""

    def part(self, line: int) -> slice:
        """Return where one line's vertices lie."""
        first = int(self.starts[line])
        return slice(first, first + int(self.counts[line]))

    def offset(self, reach: Array) -> Points:
        """Return the vertices (v,) when each line is offset by ``reach`` (w,) to the left [mm]."""
        return self.points + np.repeat(reach, self.counts) * self.mitres

    def offset_lengths(self, reach: Array) -> Array:
        """Return the lengths (v,) of the segments when each line is offset by ``reach`` (w,) to the left.

        Negative where the offset folds: the laminate is thicker than the inside of the bend allows. Infinite
        at a line's end.
        """
        lengths = self.length.copy()
        widening = (self.mitres[1:] - self.mitres[:-1]) * self.direction[:-1].conj()
        lengths[:-1] += np.repeat(reach, self.counts)[:-1] * widening.real
        return lengths


def lines_of(corners: Corners, *, chords: int = CHORDS) -> Lines:
    """Return the rounded lines of corners that are ``sound``."""
    filleted = (corners.radii > 0) & (np.abs(corners.turn) > TOUCH)
    made = np.ones(len(filleted), np.intp)
    made[filleted] = chords + 1
    made[corners.ends] += corners.closed
    starts = made.cumsum() - made
    points = corners.points.repeat(made)
    chord = np.zeros(len(points), bool)
    which = filleted.nonzero()[0]
    if len(which):
        at = starts[which, None] + np.arange(chords + 1)
        points[at] = arcs(
            corners.points[which],
            corners.arriving[which],
            corners.turn[which],
            corners.radii[which],
            chords=chords,
        )
        chord[at[:, :-1]] = True
    first = starts[corners.starts]
    final = starts[corners.ends] + made[corners.ends] - 1
    counts = final - first + 1
    _close(points, first, final, corners.closed)
    if corners.overrun.max() > -TOUCH:  # fillets that share a whole leg meet in one tangent point, not two
        points, chord, first, counts = _without_doubles(points, chord, first, counts, corners.closed)
    return _mitred(points, chord, first, counts, corners.closed)


def _close(points: Points, first: Index, final: Index, closed: Mask) -> None:
    if closed.any():
        points[final[closed]] = points[first[closed]]


def _without_doubles(
    points: Points, chord: Mask, first: Index, counts: Index, closed: Mask
) -> tuple[Points, Mask, Index, Index]:
    """Leave out every vertex that lies on the next one of its line."""
    line = np.repeat(np.arange(len(first)), counts)
    keep = np.ones(len(line), bool)
    keep[:-1] = (np.abs(np.diff(points)) >= TOUCH) | (np.diff(line) > 0)
    counts = np.bincount(line[keep], minlength=len(first))
    points, chord, first = points[keep], chord[keep], np.cumsum(counts) - counts
    _close(points, first, first + counts - 1, closed)
    return points, chord, first, counts


def _mitred(points: Points, chord: Mask, starts: Index, counts: Index, closed: Mask) -> Lines:
    """Return lines with their mitres: along the sum of the two left normals; square at open ends."""
    ends = starts + counts - 1
    leaving = np.empty_like(points)
    np.subtract(points[1:], points[:-1], out=leaving[:-1])
    leaving[ends] = leaving[ends - 1]
    length = np.abs(leaving)
    leaving /= length
    length[ends] = np.inf
    arriving = np.empty_like(points)
    arriving[1:] = leaving[:-1]
    arriving[starts] = leaving[starts]
    if closed.any():
        first, last = starts[closed], ends[closed]
        arriving[first] = leaving[last - 1]
        leaving[last] = leaving[first]
    return Lines(
        points=points,
        starts=starts,
        counts=counts,
        closed=closed,
        chord=chord,
        mitres=2j / (arriving + leaving).conj(),
        direction=leaving,
        length=length,
    )
