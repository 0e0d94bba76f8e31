"""How much room there is over a piece of the bottom: volume under a level top, lowest place, lengths, in mm.

The bottom is any surface that runs straight from keel to chine, z(x, y) with a kink at y = 0 and at the
stations. A volume is a line integral round the ring: across the boat in closed form, along it by Gauss's rule
between every two kinks; on plane pieces that is exact, elsewhere to rounding.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft.bottom import Bottom

Array = NDArray[np.float64]
Height = Callable[[Array, Array], Array]

_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(12)
_SAMPLES = np.linspace(0.0, 1.0, 17)
_STEPS = 60
_LEVEL = 1e-9
"""How near to a level a place is on it [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shell:
    """The hull bottom's inboard face: ``z`` of plan places, and the x of its stations, where it has kinks."""

    z: Height
    stations: tuple[float, ...] = ()

    def at(self, x: float, y: float) -> float:
        """Return its height at one place [mm]."""
        return float(self.z(np.array([x]), np.array([y]))[0])


def shell_of(bottom: Bottom) -> Shell:
    """Return a craft's bottom as a shell."""
    return Shell(
        z=lambda x, y: bottom.height(np.stack([x, y], axis=1)),
        stations=tuple(float(x) for x in bottom.x),
    )


def opened(ring: Array) -> Array:
    """Return a ring (n, 2) without its first point again at its end."""
    return ring[:-1] if len(ring) > 1 and abs(ring[0] - ring[-1]).max() < 1e-9 else ring


def plan_area(ring: Array) -> float:
    """Return a ring's area in plan [mm²]; a ring of no points has none."""
    return abs(_signed(ring)) if len(ring) > 2 else 0.0


def room_under(ring: Array, level: float, shell: Shell) -> float:
    """Return the volume between the bottom and a level top over a ring.

    Parameters
    ----------
    ring
        (n, 2) plan outline [mm], in either sense; it may cross the centreline.
    level
        Of the top [mm]; where the bottom lies above it there is no room.
    shell
        The bottom.

    Returns
    -------
    float
        Volume [mm³].
    """
    if len(ring) < 3:
        return 0.0
    ring = opened(ring)
    total = 0.0
    for start, end in _edges(ring):
        if start[0] == end[0]:
            continue
        cuts = _with_levels(start, end, _kinks(start, end, shell), level, shell)
        low, high = cuts[:-1], cuts[1:]
        part = (low[:, None] + high[:, None]) / 2 + (high - low)[:, None] / 2 * _POINTS
        weights = (high - low)[:, None] / 2 * _WEIGHTS
        x, y = _along(start, end, part.ravel())
        total -= float(weights.ravel() @ _across(x, y, level, shell)) * (end[0] - start[0])
    return float(total * np.sign(_signed(ring)))


def outline(ring: Array, shell: Shell) -> Array:
    """Return a ring (m, 2) with a point wherever an edge of it meets a kink of the bottom."""
    points: list[Array] = []
    for start, end in _edges(opened(ring)):
        x, y = _along(start, end, _kinks(start, end, shell)[:-1])
        points.append(np.column_stack([x, y]))
    return np.concatenate(points)


def lowest(ring: Array, shell: Shell) -> tuple[tuple[float, float], float]:
    """Return the lowest place of the bottom within a ring, and its height [mm].

    It lies on the outline or, where the ring crosses the centreline, on that: at its ends, which are points
    of the outline, or at a station between.
    """
    points = outline(ring, shell)
    stations = [x for x in shell.stations if points[:, 0].min() < x < points[:, 0].max()]
    if stations and points[:, 1].min() < 0 < points[:, 1].max():
        middle = np.column_stack([stations, np.zeros(len(stations))])
        points = np.concatenate([points, middle[within(ring, middle)]])
    z = shell.z(points[:, 0], points[:, 1])
    index = int(np.argmin(z))
    return (float(points[index, 0]), float(points[index, 1])), float(z[index])


def highest(ring: Array, shell: Shell) -> float:
    """Return the greatest height of the bottom on a ring's outline [mm]."""
    points = outline(ring, shell)
    return float(np.max(shell.z(points[:, 0], points[:, 1])))


def length_in_skin(points: Array, shell: Shell) -> float:
    """Return the length of a plan line (n, 2) as it lies on the bottom [mm]."""
    total = 0.0
    for start, end in pairwise(points):
        x, y = _along(start, end, _kinks(start, end, shell))
        total += float(np.hypot(np.hypot(np.diff(x), np.diff(y)), np.diff(shell.z(x, y))).sum())
    return total


def deadrise(x: Array, y: Array, shell: Shell) -> Array:
    """Return the slope of the bottom across the boat [rad], on the centreline as beside it."""
    beside = np.where(np.abs(y) < 1.0, 1.0, np.abs(y))
    return np.arctan2(shell.z(x, beside) - shell.z(x, np.zeros_like(x)), beside)


def within(ring: Array, points: Array) -> NDArray[np.bool_]:
    """Return which of the points (k, 2) lie inside a ring; on its outline either may be."""
    a = opened(ring)
    b = np.roll(a, -1, axis=0)
    x, y = points[:, 0][:, None], points[:, 1][:, None]
    spans = (a[:, 1] > y) != (b[:, 1] > y)
    rise = np.where(b[:, 1] == a[:, 1], 1.0, b[:, 1] - a[:, 1])
    left = x < a[:, 0] + (y - a[:, 1]) / rise * (b[:, 0] - a[:, 0])
    return np.count_nonzero(spans & left, axis=1) % 2 == 1


def _edges(ring: Array) -> list[tuple[Array, Array]]:
    return list(zip(ring, np.roll(ring, -1, axis=0), strict=True))


def _signed(ring: Array) -> float:
    x, y = ring[:, 0] - ring[0, 0], ring[:, 1] - ring[0, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2


def _along(start: Array, end: Array, part: Array) -> tuple[Array, Array]:
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def _kinks(start: Array, end: Array, shell: Shell) -> Array:
    """Return the parts of an edge, 0 and 1 among them, between which the bottom under it is smooth."""
    parts = [0.0, 1.0]
    for value, low, high in [(x, start[0], end[0]) for x in shell.stations] + [(0.0, start[1], end[1])]:
        if min(low, high) < value < max(low, high):
            parts.append((value - low) / (high - low))
    return np.array(sorted(set(parts)))


def _with_levels(start: Array, end: Array, cuts: Array, level: float, shell: Shell) -> Array:
    """Return an edge's cuts with those where the bottom, beside it or at the keel, passes through a level."""
    found = [cuts]
    for low, high in pairwise(cuts):
        part = low + _SAMPLES * (high - low)
        for keel in (False, True):

            def over(at: Array, *, keel: bool = keel) -> Array:
                x, y = _along(start, end, at)
                return level - shell.z(x, np.zeros_like(y) if keel else y)

            signs = np.sign(over(part))
            turns = np.flatnonzero(signs[:-1] * signs[1:] < 0)
            if turns.size:
                found.append(_crossings(over, part[turns], part[turns + 1]))
            found.append(part[signs == 0])
    return np.unique(np.concatenate(found))


def _crossings(over: Callable[[Array], Array], low: Array, high: Array) -> Array:
    """Return where a smooth function with other signs at low and high is zero, by false position."""
    of_low, of_high = over(low), over(high)
    before = np.zeros(low.shape)
    middle = (low + high) / 2
    for _ in range(_STEPS):
        middle = (low * of_high - high * of_low) / (of_high - of_low)
        found = over(middle)
        if np.max(np.abs(found)) < _LEVEL:
            break
        side = np.sign(found) * np.sign(of_low)  # 1: as at low, which moves up
        again = side == before
        up = side >= 0
        low, high = np.where(up, middle, low), np.where(up, high, middle)
        of_low, of_high = (
            np.where(up, found, np.where(again, of_low / 2, of_low)),
            np.where(up, np.where(again, of_high / 2, of_high), found),
        )
        before = side
    return middle


def _across(x: Array, y: Array, level: float, shell: Shell) -> Array:
    """Return the area between bottom and level from the centreline to y, of cuts square to the keel."""
    keel = level - shell.z(x, np.zeros_like(x))
    side = level - shell.z(x, y)
    drop = np.where(keel == side, 1.0, np.abs(keel - side))
    return np.where(
        (keel >= 0) & (side >= 0),
        y * (keel + side) / 2,
        y * np.maximum(np.maximum(keel, side), 0.0) ** 2 / (2 * drop),
    )


__all__ = [
    "Shell",
    "deadrise",
    "highest",
    "length_in_skin",
    "lowest",
    "opened",
    "outline",
    "plan_area",
    "room_under",
    "shell_of",
    "within",
]
