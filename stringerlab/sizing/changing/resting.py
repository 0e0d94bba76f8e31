"""What lies on the inside face of a wall, moved with it when its laminate grows thicker. mm.

For sections drawn neither as a hat nor as a plate floor: their lines are the tool and stay; caps under a
crown, tabs over tabs and a floor's tabs lie on a laminate and go with its inside face, and so does putty on
either face. A fill between two faces of which one moves is stretched.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, pairwise
from math import dist, hypot

from stringerlab.errors import StringerlabError
from stringerlab.project.drafting_shapes import ALIKE, laminate_thickness
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Point, Section, Side, Wall

_PARALLEL = 1e-3
"""Sine of the angle up to which two legs lie along one another."""
_STILL = 1e-9
"""What moves by less stays [mm]."""
_ACROSS = 0.1
"""Sine of the angle from which two faces hold a wall both ways."""

_Leg = tuple[Point, Point, Point]
"""Start, end, unit direction to the inside."""
_Face = tuple[Point, float, Point]
"""Unit direction to the inside, how far it moves that way, the shift of its wall."""


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
        held: list[_Face] = []
        for other, inside in resting[wall]:
            if other.id in above:
                continue  # two that lie on one another: neither carries the other
            base = shift(other.id, above | {wall})
            reach = base[0] * inside[0] + base[1] * inside[1] + grown[other.laminate]
            held.append((inside, reach, base))
        known[wall] = _held(held)
        return known[wall]

    found = {wall.id: shift(wall.id, frozenset({wall.id})) for wall in section.walls}
    return {wall: by for wall, by in found.items() if hypot(*by) > _STILL}


def filled(
    was: Project, section: Section, grown: Mapping[str, float], moved: Mapping[str, Point]
) -> dict[str, Fill]:
    """Return the fills of a section that lie on faces that move, moved with them, by id.

    A fill is moved as a whole where that keeps it on every face it lies on; else each of its points goes
    with the faces it lies on itself, and the points between those, along its outline, by what lies between.

    Parameters
    ----------
    was, section, grown
        As of ``shifts``.
    moved
        By how much each wall moves, by id.
    """
    found: dict[str, Fill] = {}
    for fill in section.fills:
        edges = [_touched(was, section, grown, moved, a, b) for a, b in _edges(fill)]
        faces = [face for edge in edges for face, _ in edge]
        whole = _held(faces)
        if all(_keeps(whole, face) for face in faces):
            by = [whole] * len(fill.points)
        else:
            by = _between(
                fill.points,
                [
                    [face for face, leg in (*edges[place - 1], *edge) if _is_beside(at, leg)]
                    for place, (at, edge) in enumerate(zip(fill.points, edges, strict=True))
                ],
            )
        if any(hypot(*one) > _STILL for one in by):
            points = ((y + dy, z + dz) for (y, z), (dy, dz) in zip(fill.points, by, strict=True))
            found[fill.id] = replace(fill, points=tuple(points))
    return found


def _edges(fill: Fill) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of a fill, each beginning at the point of its number."""
    yield from zip(fill.points, (*fill.points[1:], fill.points[0]), strict=True)


def _touched(
    was: Project,
    section: Section,
    grown: Mapping[str, float],
    moved: Mapping[str, Point],
    a: Point,
    b: Point,
) -> list[tuple[_Face, _Leg]]:
    """Return the faces of walls, on either side, that an edge lies along, each with its leg."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    if long <= ALIKE:
        return []
    edge = (a, b, ((b[1] - a[1]) / long, -(b[0] - a[0]) / long))
    found: list[tuple[_Face, _Leg]] = []
    for wall in section.walls:
        base = moved.get(wall.id, (0.0, 0.0))
        try:
            thick = laminate_thickness(was, wall.laminate, "")
        except StringerlabError:
            thick = 0.0
        for leg in _legs(wall):
            inside = leg[2]
            by = base[0] * inside[0] + base[1] * inside[1]
            if _lies_on(edge, leg, 0.0):
                found.append(((inside, by, base), leg))
            elif thick and _lies_on(edge, leg, thick):
                found.append(((inside, by + grown[wall.laminate], base), leg))
    return found


def _is_beside(at: Point, leg: _Leg) -> bool:
    """Whether a point on a leg's face lies between the leg's ends."""
    a, b, inside = leg
    far = (at[0] - a[0]) * -inside[1] + (at[1] - a[1]) * inside[0]
    ends = sorted((0.0, (b[0] - a[0]) * -inside[1] + (b[1] - a[1]) * inside[0]))
    return ends[0] - ALIKE <= far <= ends[1] + ALIKE


def _between(points: Sequence[Point], faces: Sequence[list[_Face]]) -> list[Point]:
    """Return by how much each point of an outline moves: by its faces, or between those beside it."""
    fixed = [place for place, held in enumerate(faces) if held]
    found: list[Point] = [(0.0, 0.0)] * len(points)
    for start, stop in zip(fixed, (*fixed[1:], fixed[0] + len(points)), strict=True):
        stop = stop if stop > start else stop + len(points)
        places = [place % len(points) for place in range(start, stop + 1)]
        ways = [0.0, *accumulate(dist(points[a], points[b]) for a, b in pairwise(places))]
        first, last = _held(faces[places[0]]), _held(faces[places[-1]])
        for place, way in zip(places[:-1], ways, strict=False):
            part = way / ways[-1] if ways[-1] else 0.0
            found[place] = (
                first[0] + part * (last[0] - first[0]),
                first[1] + part * (last[1] - first[1]),
            )
    return found


def _keeps(by: Point, face: _Face) -> bool:
    """Whether a shift keeps what lies on a face on it."""
    inside, reach, _ = face
    return abs(by[0] * inside[0] + by[1] * inside[1] - reach) <= _STILL


def _held(faces: list[_Face]) -> Point:
    """Return the shift that keeps something on its faces: on the first, and on the first across it."""
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
