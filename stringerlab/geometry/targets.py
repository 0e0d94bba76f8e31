"""What a pointer can catch on, as arrays built once from what is drawn.

A point is a pair (y, z) in mm, y to the right, z up. Curves come from the rooms that know what is drawn.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Point = tuple[float, float]
Array = NDArray[np.float64]
Index = NDArray[np.intp]
Mask = NDArray[np.bool_]

TINY = 1e-9
"""Lengths below it are none [mm]."""


class Kind(StrEnum):
    """What was caught, the most wanted first."""

    END = "end"
    INTERSECTION = "intersection"
    MIDDLE = "middle"
    CENTRE = "centre"
    PERPENDICULAR = "perpendicular"
    TANGENT = "tangent"
    FACE = "face"
    """The nearest place on a laminate's, a fill's or the shell's face."""
    NEAREST = "nearest"
    """The nearest place on a line."""
    GRID = "grid"
    LOCK = "lock"
    """Nothing but the direction that ortho or angle lock holds."""


ALL = frozenset(Kind)


@dataclass(frozen=True, slots=True)
class Snap:
    """Where the pointer is caught, by what, and the subject it belongs to ('' for grid and lock)."""

    kind: Kind
    at: Point
    subject: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """A drawn line to catch on, fillets as chords."""

    subject: str
    points: Array
    """(n, 2); a closed one ends on its first point again."""
    chord: Mask | None = None
    """(n − 1,) segments that are chords of an arc: they have neither ends nor middles; None for no arcs."""
    face: bool = False
    """Whether it is the face of something solid rather than a drawn line."""
    corners: Array | None = None
    """(m, 2) points to catch beside those on the line, as a rounded corner's own."""
    circles: tuple[tuple[Point, float], ...] = ()
    """Centres and radii of its arcs [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Targets:
    """Everything to catch on, as arrays; see ``of``."""

    subjects: tuple[str, ...]
    starts: Array
    """(s, 2) where segments start …"""
    ways: Array
    """(s, 2) … and how far they run."""
    low: Array
    """(s, 2) corners of the boxes around them …"""
    high: Array
    segment_of: Index
    """(s,) subject of each."""
    chord: Mask
    """(s,)."""
    face: Mask
    """(s,)."""
    points: Array
    """(p, 2) ends and middles."""
    point_of: Index
    """(p,) subject of each."""
    middle: Mask
    """(p,) whether it is a middle."""
    circles: Array
    """(c, 3) y, z and radius of arcs."""
    circle_of: Index
    """(c,) subject of each."""
    grid: float
    """Spacing, 0 for none [mm]."""

    @classmethod
    def of(cls, curves: Iterable[Curve], grid: float = 0.0) -> "Targets":
        """Return the targets of curves, and of a grid through the origin of a spacing [mm]."""
        held = [curve for curve in curves if len(curve.points)]
        starts = [curve.points[:-1] for curve in held]
        ways = [np.diff(curve.points, axis=0) for curve in held]
        chords = [_chords(curve) for curve in held]
        ends = [_ends(curve, chord) for curve, chord in zip(held, chords, strict=True)]
        middles = [
            (start + way / 2)[~chord & (np.abs(way).max(axis=1, initial=0.0) > TINY)]
            for start, way, chord in zip(starts, ways, chords, strict=True)
        ]
        circles = [np.array([(*centre, radius) for centre, radius in curve.circles], float) for curve in held]
        start, way = _stacked(starts, 2), _stacked(ways, 2)
        return cls(
            subjects=tuple(curve.subject for curve in held),
            starts=start,
            ways=way,
            low=np.minimum(start, start + way),
            high=np.maximum(start, start + way),
            segment_of=_owner(starts),
            chord=np.concatenate([*chords, np.zeros(0, bool)]),
            face=np.repeat([curve.face for curve in held], [len(each) for each in starts]).astype(bool),
            points=_stacked([*ends, *middles], 2),
            point_of=np.concatenate([_owner(ends), _owner(middles)]),
            middle=np.repeat([False, True], [sum(map(len, ends)), sum(map(len, middles))]),
            circles=_stacked(circles, 3),
            circle_of=_owner(circles),
            grid=grid,
        )


def _chords(curve: Curve) -> Mask:
    if curve.chord is None:
        return np.zeros(max(len(curve.points) - 1, 0), bool)
    return curve.chord


def _ends(curve: Curve, chord: Mask) -> Array:
    """Vertices where something ends: all but those within an arc, and the curve's own corners."""
    inner = np.zeros(len(curve.points), bool)
    inner[1:-1] = chord[:-1] & chord[1:]
    own = curve.points[~inner]
    return own if curve.corners is None else np.concatenate([own, curve.corners])


def _stacked(parts: Sequence[Array], width: int) -> Array:
    kept = [part for part in parts if len(part)]
    return np.concatenate(kept) if kept else np.zeros((0, width))


def _owner(parts: Sequence[Array]) -> Index:
    return np.repeat(np.arange(len(parts)), [len(part) for part in parts]).astype(np.intp)
