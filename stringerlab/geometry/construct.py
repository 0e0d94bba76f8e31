"""Constructions on drawn lines: turned, mirrored, parallel, nearest, arcs as corners with fillets.

A point is a pair (y, z) in mm, y to the right, z up; angles in rad, positive from y towards z. A leg is what
runs from one corner of a line to the next; a closed line's last leg runs back to its first corner.
"""

from cmath import exp, phase
from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, ceil, cos, degrees, floor, hypot, pi, tan

from stringerlab.geometry.lines import SHARPEST, TOUCH

Point = tuple[float, float]

DECIMALS = 10
"""Of a constructed coordinate: what arithmetic leaves beyond them is noise."""
WIDEST = pi * 2 / 3
"""An arc that turns more is drawn as several fillets, so that no corner is far from its arc [rad]."""


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight step of a drawn line to a point."""

    to: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """A step of a drawn line along the circle through a second point to a third."""

    through: Point
    to: Point


Step = Leg | Arc


@dataclass(frozen=True, slots=True)
class Nearest:
    """The place on a line nearest to a point."""

    leg: int
    at: Point
    along: float
    """Share of the leg, 0 at its start, 1 at its end."""
    distance: float


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle, and how far an arc on it sweeps from where it starts."""

    centre: Point
    radius: float
    start: float
    """Direction from the centre to the arc's start [rad]."""
    sweep: float
    """Positive from y towards z [rad]."""


def moved(points: Sequence[Point], dy: float, dz: float) -> tuple[Point, ...]:
    """Return points moved [mm]."""
    return tuple(_settled(complex(y + dy, z + dz)) for y, z in points)


def turned(points: Sequence[Point], angle: float, about: Point) -> tuple[Point, ...]:
    """Return points turned about one by an angle from y towards z [rad]."""
    centre, turn = complex(*about), exp(1j * angle)
    return tuple(_settled(centre + (complex(*point) - centre) * turn) for point in points)


def mirrored(points: Sequence[Point], at: Point, angle: float) -> tuple[Point, ...]:
    """Return points mirrored about the line through a point at an angle to y [rad]."""
    centre, turn = complex(*at), exp(2j * angle)
    return tuple(_settled(centre + (complex(*point) - centre).conjugate() * turn) for point in points)


def legs(count: int, *, closed: bool) -> int:
    """Return how many legs a line of so many corners has."""
    return count if closed and count > 2 else max(count - 1, 0)


def nearest(points: Sequence[Point], to: Point, *, closed: bool = False) -> Nearest | None:
    """Return the place on the sharp line nearest to a point; None when the line has no legs."""
    best: Nearest | None = None
    for leg in range(legs(len(points), closed=closed)):
        start, end = complex(*points[leg]), complex(*points[(leg + 1) % len(points)])
        along = share(points[leg], points[(leg + 1) % len(points)], to)
        along = min(max(along, 0.0), 1.0)
        foot = start + (end - start) * along
        distance = abs(complex(*to) - foot)
        if best is None or distance < best.distance:
            best = Nearest(leg, _settled(foot), along, distance)
    return best


def share(start: Point, end: Point, point: Point) -> float:
    """Return where along a leg, drawn on both ways, the foot of a point lies; 0 on a leg without length."""
    leg, arm = complex(*end) - complex(*start), complex(*point) - complex(*start)
    size = abs(leg) ** 2
    return (arm * leg.conjugate()).real / size if size > 0 else 0.0


def distance(one: Point, other: Point) -> float:
    """Return the distance between two points."""
    return hypot(one[0] - other[0], one[1] - other[1])


def polar(start: Point, end: Point) -> tuple[float, float]:
    """Return length [mm] and angle [deg, within ±180] from one point to another."""
    return hypot(end[0] - start[0], end[1] - start[1]), degrees(atan2(end[1] - start[1], end[0] - start[0]))


def turns(points: Sequence[Point], *, closed: bool = False) -> tuple[float, ...]:
    """Return the change of direction at each corner, positive to the left; 0 at open ends [rad]."""
    count = len(points)
    found: list[float] = []
    for index in range(count):
        if not closed and index in (0, count - 1):
            found.append(0.0)
            continue
        before, here = complex(*points[index - 1]), complex(*points[index])
        arriving, leaving = here - before, complex(*points[(index + 1) % count]) - here
        found.append(phase(leaving * arriving.conjugate()) if arriving and leaving else 0.0)
    return tuple(found)


def tangent_length(radius: float, turn: float) -> float:
    """Return how much of each of its legs a fillet takes [mm]."""
    return radius * tan(min(abs(turn), SHARPEST) / 2)


def parallel(
    points: Sequence[Point], radii: Sequence[float], by: float, *, closed: bool = False
) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Return a line's parallel at a distance to its left, its fillets about the same centres.

    Parameters
    ----------
    points
        Corners [mm].
    radii
        One a corner [mm]; one that shrinks to nothing becomes a sharp corner.
    by
        Distance to the left, negative to the right [mm].

    Raises
    ------
    ValueError
        When the line repeats a point or doubles back, or a leg would be turned round; the message says which.
    """
    count = len(points)
    if count < 2:
        raise ValueError("It has no leg.")
    headings: list[complex] = []
    for leg in range(legs(count, closed=closed)):
        way = complex(*points[(leg + 1) % count]) - complex(*points[leg])
        if abs(way) < TOUCH:
            raise ValueError(f"Points {leg + 1} and {(leg + 1) % count + 1} lie on one another.")
        headings.append(way / abs(way))
    bends = turns(points, closed=closed)
    made: list[complex] = []
    for index, (point, bend) in enumerate(zip(points, bends, strict=True)):
        if abs(bend) > SHARPEST:
            raise ValueError(f"The line doubles back at point {index + 1}.")
        arriving = headings[index - 1] if closed or index else headings[0]
        leaving = headings[index] if closed or index < count - 1 else headings[-1]
        made.append(complex(*point) + by * 2j / (arriving + leaving).conjugate())
    for leg, heading in enumerate(headings):
        way = made[(leg + 1) % count] - made[leg]
        if (way * heading.conjugate()).real < TOUCH:
            raise ValueError(f"Leg {leg + 1} is too short: its neighbours meet before it.")
    fillets = [
        max(radius - by * (1 if bend > 0 else -1), 0.0) if radius > 0 and bend else radius
        for radius, bend in zip(radii, bends, strict=True)
    ]
    return tuple(_settled(point) for point in made), tuple(round(each, DECIMALS) for each in fillets)


def circle_through(start: Point, through: Point, end: Point) -> Circle | None:
    """Return the arc from a point through a second to a third; None when they lie on one line."""
    a, b, c = complex(*start), complex(*through), complex(*end)
    u, v = b - a, c - a
    cross = u.real * v.imag - u.imag * v.real
    if abs(cross) <= 1e-9 * max(abs(u), abs(v)) ** 2:
        return None
    centre = a + 1j * (v * abs(u) ** 2 - u * abs(v) ** 2) / (-2 * cross)
    first, last = phase(a - centre), phase(c - centre)
    sweep = (last - first) % (2 * pi)
    if (phase(b - centre) - first) % (2 * pi) > sweep:
        sweep -= 2 * pi
    return Circle((centre.real, centre.imag), abs(a - centre), first, sweep)


def flattened(start: Point, steps: Sequence[Step]) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """Return the corners and fillets of a line drawn in straight steps and arcs.

    An arc becomes corners where its tangents meet, each with the arc's radius as its fillet; where it
    leaves or meets a leg in its own direction, the point between them is left out.
    An arc of a straight line is a leg.
    """
    points: list[Point] = [start]
    radii: list[float] = [0.0]
    joints: set[int] = set()
    for step in steps:
        circle = circle_through(points[-1], step.through, step.to) if isinstance(step, Arc) else None
        if circle is not None:
            joints.add(len(points) - 1)
            for corner, after in _corners(circle):
                points += [corner, after]
                radii += [_fitting(circle.radius), 0.0]
                joints.add(len(points) - 1)
        points.append(step.to)
        radii.append(0.0)
        if circle is not None:
            del points[-2], radii[-2]
            joints.add(len(points) - 1)
    bends = turns(points)
    kept = [
        index
        for index in range(len(points))
        if index not in joints or index in (0, len(points) - 1) or abs(bends[index]) > 1e-6
    ]
    return tuple(_settled(complex(*points[index])) for index in kept), tuple(radii[index] for index in kept)


def _corners(circle: Circle) -> list[tuple[Point, Point]]:
    """Corners around an arc, each with the point on the arc that follows it."""
    parts = max(ceil(abs(circle.sweep) / WIDEST - 1e-9), 1)
    part = circle.sweep / parts
    centre = complex(*circle.centre)
    found: list[tuple[Point, Point]] = []
    for number in range(parts):
        begins = circle.start + number * part
        corner = centre + circle.radius / cos(part / 2) * exp(1j * (begins + part / 2))
        after = centre + circle.radius * exp(1j * (begins + part))
        found.append(((corner.real, corner.imag), (after.real, after.imag)))
    return found


def _fitting(radius: float) -> float:
    """Return a radius no larger than its legs have room for, once they are rounded."""
    return floor(radius * 1e6 + 1e-4) / 1e6


def tangents(from_point: Point, centre: Point, radius: float) -> tuple[Point, ...]:
    """Return where the tangents from a point touch a circle; none from within it."""
    arm = complex(*from_point) - complex(*centre)
    if abs(arm) <= radius or radius <= 0:
        return ()
    share_of_arm = radius / abs(arm)
    unit = arm / abs(arm)
    rise = (1 - share_of_arm**2) ** 0.5
    feet = [complex(*centre) + radius * unit * complex(share_of_arm, side * rise) for side in (1, -1)]
    return tuple((foot.real, foot.imag) for foot in feet)


def _settled(point: complex) -> Point:
    return round(point.real, DECIMALS) + 0.0, round(point.imag, DECIMALS) + 0.0
