"""Drafting: vertices and legs of one wall or fill: put in, taken out, placed, rounded, dimensioned.

Numbers from 0; a leg is numbered by the point it starts from. mm; angles in degrees from y towards z.
"""

from cmath import phase
from collections.abc import Iterable
from math import degrees, hypot, isfinite, radians

from stringerlab.geometry import construct
from stringerlab.geometry.lines import TOUCH
from stringerlab.project.contents import Part
from stringerlab.project.drafting_parts import (
    Vertex,
    is_closed,
    leg_of,
    part_of,
    radii_of,
    refusal,
    vertex_of,
    wall_of,
    with_parts,
    with_points,
)
from stringerlab.project.records import Project
from stringerlab.section.records import Point
from stringerlab.units import Kind
from stringerlab.units import format as shown


def vertex_inserted(
    project: Project, section_id: str, part_id: str, at: Point, leg: int | None = None
) -> Project:
    """Return the project with a sharp vertex put into a wall or fill at a point.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    part_id
        The wall or fill.
    at
        Where the vertex comes to lie, on the line or off it [mm].
    leg
        The leg it breaks; the nearest one when none is given.

    Raises
    ------
    StringerlabError
        When there is no such part or leg, or the vertex would lie on a neighbour.
    """
    part = part_of(project, section_id, part_id)
    if leg is None:
        found = construct.nearest(part.points, at, closed=is_closed(part))
        if found is None:
            raise refusal(project, section_id, part_id, "It has no leg to break.", "Draw it anew.")
        leg = found.leg
    start, end = leg_of(project, section_id, part_id, leg)
    if min(construct.distance(at, part.points[number]) for number in (start, end)) < TOUCH:
        what = "The new point would lie on a point that is there."
        raise refusal(project, section_id, part_id, what, "Put it between two points.")
    number = start + 1
    points = (*part.points[:number], at, *part.points[number:])
    radii = radii_of(part)
    new = with_points(part, points, (*radii[:number], 0.0, *radii[number:]))
    return with_parts(project, section_id, {part_id: new})


def vertex_removed(project: Project, section_id: str, part_id: str, number: int) -> Project:
    """Return the project without a vertex of a wall or fill, and without its fillet.

    Raises
    ------
    StringerlabError
        When there is none, or too few points would be left.
    """
    part = part_of(project, section_id, part_id)
    vertex_of(project, section_id, part_id, number)
    kept = [index for index in range(len(part.points)) if index != number]
    radii = radii_of(part)
    new = with_points(part, [part.points[index] for index in kept], [radii[index] for index in kept])
    return with_parts(project, section_id, {part_id: new})


def with_point_at(
    project: Project,
    section_id: str,
    part_id: str,
    number: int,
    *,
    y: float | None = None,
    z: float | None = None,
) -> Project:
    """Return the project with a vertex at other coordinates; one not given stays [mm].

    Raises
    ------
    StringerlabError
        When there is no such vertex, or the point would leave the drawing.
    """
    old = vertex_of(project, section_id, part_id, number)
    part = part_of(project, section_id, part_id)
    point = (old[0] if y is None else y, old[1] if z is None else z)
    return _with_vertices(project, section_id, part, {number: point})


def filleted(project: Project, section_id: str, vertices: Iterable[Vertex], radius: float) -> Project:
    """Return the project with corners of walls rounded to a radius, 0 for sharp [mm].

    Raises
    ------
    StringerlabError
        When there is no such vertex, it is an open end, or the radius does not fit its legs: the largest that
        does is said.
    """
    wanted: dict[str, set[int]] = {}
    for part_id, number in vertices:
        wall_of(project, section_id, part_id)
        vertex_of(project, section_id, part_id, number)
        wanted.setdefault(part_id, set()).add(number)
    if not wanted:
        raise refusal(project, section_id, "", "No corner is picked.", "Pick the corners to round.")
    changed: dict[str, Part | None] = {}
    for part_id, numbers in wanted.items():
        wall = wall_of(project, section_id, part_id)
        if not (isfinite(radius) and radius >= 0):
            what = f"{radius:g} mm is no radius."
            raise refusal(project, section_id, part_id, what, "Give 0 for sharp, or a radius above 0.")
        ends = set[int]() if wall.closed else {0, len(wall.points) - 1}
        if radius > 0 and numbers & ends:
            number = min(numbers & ends) + 1
            what = f"Point {number} is an open end: there is no corner to round."
            raise refusal(project, section_id, part_id, what, "Pick a corner between two legs.")
        radii = [radius if index in numbers else old for index, old in enumerate(radii_of(wall))]
        most = _largest(wall.points, radii, numbers, closed=wall.closed)
        if radius > most + TOUCH:
            what = (
                f"A radius of {shown(radius, Kind.LENGTH)} does not fit the legs; "
                f"the largest that does is {shown(max(most, 0.0), Kind.LENGTH)}."
            )
            raise refusal(project, section_id, part_id, what, "Make the radius smaller or a leg longer.")
        changed[part_id] = with_points(wall, wall.points, radii)
    return with_parts(project, section_id, changed)


def _largest(points: tuple[Point, ...], radii: list[float], numbers: set[int], *, closed: bool) -> float:
    """Return the largest radius that picked corners can share, the others keeping theirs."""
    bends = construct.turns(points, closed=closed)
    most = float("inf")
    for leg in range(construct.legs(len(points), closed=closed)):
        ends = (leg, (leg + 1) % len(points))
        length = construct.distance(points[ends[0]], points[ends[1]])
        taken = sum(construct.tangent_length(radii[end], bends[end]) for end in ends if end not in numbers)
        per_radius = sum(construct.tangent_length(1.0, bends[end]) for end in ends if end in numbers)
        if per_radius > 0:
            most = min(most, (length - taken) / per_radius)
    return most


def with_segment_length(
    project: Project,
    section_id: str,
    part_id: str,
    leg: int,
    length: float,
    *,
    keep_end: bool = False,
    carry: bool = False,
) -> Project:
    """Return the project with a leg of another length in the same direction.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    part_id
        The wall or fill.
    leg
        Numbered by the point it starts from.
    length
        Above 0 [mm].
    keep_end
        Whether its end stays and its start moves; else its start stays.
    carry
        Whether all points beyond the one that moves go along, so that no other leg changes; else the
        neighbour stretches. Not of closed lines.

    Raises
    ------
    StringerlabError
        When there is no such leg, it has no direction, the length is not above 0, or a point would leave the
        drawing.
    """
    if not (isfinite(length) and length > 0):
        what = f"{length:g} mm is no length of a leg."
        raise refusal(project, section_id, part_id, what, "Give a length above 0.")
    way = _way(project, section_id, part_id, leg)
    return _with_way(project, section_id, part_id, leg, way / abs(way) * length, keep_end, carry)


def with_segment_angle(
    project: Project,
    section_id: str,
    part_id: str,
    leg: int,
    angle: float,
    *,
    keep_end: bool = False,
    carry: bool = False,
) -> Project:
    """Return the project with a leg of the same length in another direction.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    part_id
        The wall or fill.
    leg
        Numbered by the point it starts from.
    angle
        Of the leg, as it is drawn, from y towards z [deg].
    keep_end
        Whether its end stays and its start moves; else its start stays.
    carry
        Whether all points beyond the one that moves go along, without turning. Not of closed lines.

    Raises
    ------
    StringerlabError
        When there is no such leg, it has no length, the angle is no number, or a point would leave the
        drawing.
    """
    if not isfinite(angle):
        raise refusal(project, section_id, part_id, "The angle is not a number.", "Give it in degrees.")
    way = _way(project, section_id, part_id, leg)
    ((y, z),) = construct.turned([(abs(way), 0.0)], radians(angle), (0.0, 0.0))
    return _with_way(project, section_id, part_id, leg, complex(y, z), keep_end, carry)


def segment_length(project: Project, section_id: str, part_id: str, leg: int) -> float:
    """Return the length of a leg between its corners as if sharp [mm].

    Raises
    ------
    StringerlabError
        When there is no such leg.
    """
    start, end = leg_of(project, section_id, part_id, leg)
    points = part_of(project, section_id, part_id).points
    return construct.distance(points[start], points[end])


def segment_angle(project: Project, section_id: str, part_id: str, leg: int) -> float:
    """Return the direction of a leg as it is drawn, from y towards z, within ±180 [deg].

    Raises
    ------
    StringerlabError
        When there is no such leg, or it has no length.
    """
    return degrees(phase(_way(project, section_id, part_id, leg)))


def _way(project: Project, section_id: str, part_id: str, leg: int) -> complex:
    start, end = leg_of(project, section_id, part_id, leg)
    points = part_of(project, section_id, part_id).points
    way = complex(*points[end]) - complex(*points[start])
    if hypot(way.real, way.imag) < TOUCH:
        what = f"Points {start + 1} and {end + 1} lie on one another: the leg has no direction."
        raise refusal(project, section_id, part_id, what, "Move one of them first.")
    return way


def _with_way(
    project: Project, section_id: str, part_id: str, leg: int, way: complex, keep_end: bool, carry: bool
) -> Project:
    part = part_of(project, section_id, part_id)
    if carry and is_closed(part):
        what = "Its line is closed: nothing lies beyond the point that moves."
        raise refusal(project, section_id, part_id, what, "Let the neighbouring leg stretch.")
    start, end = leg_of(project, section_id, part_id, leg)
    fixed, free = (end, start) if keep_end else (start, end)
    goal = complex(*part.points[fixed]) + (-way if keep_end else way)
    by = goal - complex(*part.points[free])
    beyond = range(start + 1) if keep_end else range(end, len(part.points))
    numbers = beyond if carry else [free]
    places = construct.moved([part.points[number] for number in numbers], by.real, by.imag)
    return _with_vertices(project, section_id, part, dict(zip(numbers, places, strict=True)))


def _with_vertices(project: Project, section_id: str, part: Part, places: dict[int, Point]) -> Project:
    points = [places.get(number, point) for number, point in enumerate(part.points)]
    return with_parts(project, section_id, {part.id: with_points(part, points)})
