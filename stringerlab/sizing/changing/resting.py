"""Walls that lie on the inside face of another wall, moved with it when its laminate grows thicker. mm.

For sections drawn neither as a hat nor as a plate floor: their lines are the tool and stay; caps under a
crown, tabs over tabs and a floor's tabs lie on a laminate and go with its inside face.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from math import hypot

from stringerlab.errors import StringerlabError
from stringerlab.project.drafting_shapes import ALIKE, laminate_thickness
from stringerlab.project.records import Project
from stringerlab.section.records import Point, Section, Side, Wall

_PARALLEL = 1e-3
"""Sine of the angle up to which two legs lie along one another."""
_ACROSS = 0.1
"""Sine of the angle from which two faces hold a wall both ways."""

_Leg = tuple[Point, Point, Point]
"""Start, end, unit direction to the inside."""


def shifts(was: Project, section: Section, grown: Mapping[str, float]) -> dict[str, Point]:
    """Return by how much each wall of a section moves, by id; those that stay are left out.

    Parameters
    ----------
    was
        The project with the laminates the section is drawn for.
    section
        As it is drawn.
    grown
        By how much each of its laminates has grown [mm].
    """
    resting = {wall.id: list(_faces(was, section, wall)) for wall in section.walls}
    known: dict[str, Point] = {}

    def shift(wall: str, above: frozenset[str]) -> Point:
        if wall in known:
            return known[wall]
        held: list[tuple[Point, float, Point]] = []
        for other, inside in resting[wall]:
            if other.id in above:
                continue  # two that lie on one another: neither carries the other
            base = shift(other.id, above | {wall})
            reach = base[0] * inside[0] + base[1] * inside[1] + grown[other.laminate]
            held.append((inside, reach, base))
        known[wall] = _held(held)
        return known[wall]

    found = {wall.id: shift(wall.id, frozenset({wall.id})) for wall in section.walls}
    return {wall: by for wall, by in found.items() if hypot(*by) > 1e-9}


def _held(faces: list[tuple[Point, float, Point]]) -> Point:
    """Return the shift that keeps a wall on its faces: on the first, and on the first across it."""
    if not faces:
        return 0.0, 0.0
    one, reach, base = faces[0]
    for other, far, _ in faces[1:]:
        turn = one[0] * other[1] - one[1] * other[0]
        if abs(turn) >= _ACROSS:
            return (reach * other[1] - far * one[1]) / turn, (far * one[0] - reach * other[0]) / turn
    by = reach - (base[0] * one[0] + base[1] * one[1])
    return base[0] + by * one[0], base[1] + by * one[1]


def _faces(was: Project, section: Section, wall: Wall) -> Iterator[tuple[Wall, Point]]:
    """Yield the walls on whose inside face a wall lies, with the direction to the inside."""
    for other in section.walls:
        if other.id == wall.id:
            continue
        try:
            thick = laminate_thickness(was, other.laminate, "")
        except StringerlabError:
            continue
        for under in _legs(other):
            for leg in _legs(wall):
                if _lies_on(leg, under, thick):
                    yield other, under[2]


def _lies_on(leg: _Leg, under: _Leg, thick: float) -> bool:
    (p, q, own), (a, b, inside) = leg, under
    if abs(own[0] * inside[1] - own[1] * inside[0]) > _PARALLEL:
        return False
    depths = [(point[0] - a[0]) * inside[0] + (point[1] - a[1]) * inside[1] for point in (p, q)]
    if any(abs(depth - thick) > ALIKE for depth in depths):
        return False
    along = (-inside[1], inside[0])
    ends = sorted((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1] for point in (p, q))
    span = sorted((0.0, (b[0] - a[0]) * along[0] + (b[1] - a[1]) * along[1]))
    return min(ends[1], span[1]) - max(ends[0], span[0]) > ALIKE


def _legs(wall: Wall) -> Iterator[_Leg]:
    points = (*wall.points, wall.points[0]) if wall.closed else wall.points
    way = 1.0 if wall.side is Side.RIGHT else -1.0
    for a, b in pairwise(points):
        long = hypot(b[0] - a[0], b[1] - a[1])
        if long > ALIKE:
            yield a, b, (way * (b[1] - a[1]) / long, -way * (b[0] - a[0]) / long)
