"""Drafting: whole walls as lines: split, joined, parallel, reversed, closed and opened.

Numbers from 0; a leg is numbered by the point it starts from. mm. Where a line is cut or reversed its
laminate stays on the same physical face.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import isfinite

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import construct
from stringerlab.geometry.lines import TOUCH
from stringerlab.project import edits
from stringerlab.project.contents import Part
from stringerlab.project.drafting_parts import (
    MEETING,
    OTHER,
    leg_of,
    radii_of,
    refusal,
    section_of,
    vertex_of,
    wall_of,
    where,
    with_parts,
    with_points,
)
from stringerlab.project.records import Project
from stringerlab.section.records import Point, Side, Wall
from stringerlab.units import Kind
from stringerlab.units import format as shown

STRAIGHT = 1e-6
"""A corner that turns less is none [rad]."""


def split(project: Project, section_id: str, wall_id: str, at: Point | int) -> Project:
    """Return the project with a wall split in two; a closed wall becomes one open one.

    The first part keeps the wall's id, the second has its name, laminate and laps too. Split on a straight
    leg, the two are what the one was; at a sharp corner their ends are square where the mitre was.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    wall_id
        The wall.
    at
        The number of a point, or a place on or near the line [mm].

    Raises
    ------
    StringerlabError
        When there is no such wall or point, it is an open end, or the place lies within a fillet.
    """
    wall = wall_of(project, section_id, wall_id)
    if not isinstance(at, int):
        wall, at = _broken(project, section_id, wall, at)
    else:
        vertex_of(project, section_id, wall_id, at)
    points, radii = wall.points, radii_of(wall)
    if radii[at] > 0:
        what = f"Point {at + 1} is rounded: a wall is not cut within a fillet."
        raise refusal(
            project, section_id, wall_id, what, "Make the corner sharp, or split beside the fillet."
        )
    if wall.closed:
        order = [(at + step) % len(points) for step in range(len(points) + 1)]
        opened_wall = replace(
            with_points(wall, [points[index] for index in order], _ends_sharp([radii[i] for i in order])),
            closed=False,
        )
        return with_parts(project, section_id, {wall_id: opened_wall})
    if at in (0, len(points) - 1):
        what = f"Point {at + 1} is an open end: nothing would be cut off."
        raise refusal(project, section_id, wall_id, what, "Split between its ends.")
    first = with_points(wall, points[: at + 1], _ends_sharp(radii[: at + 1]))
    second = with_points(wall, points[at:], _ends_sharp(radii[at:]))
    grown = with_parts(project, section_id, {wall_id: first}, [second])
    section = section_of(grown, section_id)
    new = section.walls[-1].id
    laps = [
        (new if one == wall_id else one, new if other == wall_id else other)
        for one, other in section.laps
        if wall_id in (one, other)
    ]
    return edits.replaced(grown, replace(section, laps=(*section.laps, *laps))) if laps else grown


def _broken(project: Project, section_id: str, wall: Wall, at: Point) -> tuple[Wall, int]:
    """Return a wall with a point put into its nearest leg, and its number; of an end of a leg, that."""
    found = construct.nearest(wall.points, at, closed=wall.closed)
    if found is None:
        raise refusal(project, section_id, wall.id, "It has no leg to split.", "Draw it anew.")
    start, end = leg_of(project, section_id, wall.id, found.leg)
    for number in (start, end):
        if construct.distance(found.at, wall.points[number]) < MEETING:
            return wall, number
    radii, bends = radii_of(wall), construct.turns(wall.points, closed=wall.closed)
    for number in (start, end):
        reach = construct.tangent_length(radii[number], bends[number])
        if construct.distance(found.at, wall.points[number]) < reach - TOUCH:
            what = (
                f"The place lies within the fillet at point {number + 1}, "
                f"which takes {shown(reach, Kind.LENGTH)} of the leg."
            )
            raise refusal(project, section_id, wall.id, what, "Split beside the fillet.")
    number = start + 1
    points = (*wall.points[:number], found.at, *wall.points[number:])
    broken = replace(wall, points=points, fillets=(*radii[:number], 0.0, *radii[number:]))
    return broken, number


def _ends_sharp(radii: Sequence[float]) -> tuple[float, ...]:
    return (0.0, *radii[1:-1], 0.0)


def joined(
    project: Project, section_id: str, first_id: str, second_id: str, *, tolerance: float = MEETING
) -> Project:
    """Return the project with two walls made one where their ends meet; it keeps the first's id and name.

    The second is reversed when it must be, its side flipped with it, so that its laminate stays on the same
    face. Walls that meet at both ends become one closed wall. A point that the join leaves on a straight line
    goes.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    first_id, second_id
        The walls.
    tolerance
        How far apart the ends may lie; the first's end counts [mm].

    Raises
    ------
    StringerlabError
        When there are no such walls, they are one, one is closed, their ends do not meet, or their laminates
        differ or build on opposite faces: everything wrong at once.
    """
    first, second = wall_of(project, section_id, first_id), wall_of(project, section_id, second_id)
    place_of = f"{where(project, section_id, first_id)} and {where(project, section_id, second_id)}"
    if first_id == second_id:
        raise refusal(project, section_id, first_id, "A wall is not joined to itself.", "Close it instead.")
    problems = [
        Problem("It is closed: it has no end.", where(project, section_id, wall.id), "Open it first.")
        for wall in (first, second)
        if wall.closed
    ]
    if first.laminate != second.laminate:
        problems.append(
            Problem(
                f"Their laminates differ: {first.laminate} and {second.laminate}.",
                place_of,
                "Give both the same laminate, or let them meet as two walls.",
            )
        )
    if problems:
        raise StringerlabError(problems)
    leading, following, gap = _end_to_end(first, second)
    if gap > tolerance:
        what = f"Their nearest ends lie {shown(gap, Kind.LENGTH)} apart."
        raise StringerlabError(Problem(what, place_of, "Move one end onto the other first."))
    if leading.side is not following.side:
        what = "Where they meet, their laminates build on opposite faces."
        raise StringerlabError(Problem(what, place_of, "Swap the laminate's side of one of them."))
    points = [*leading.points, *following.points[1:]]
    radii = [*_ends_sharp(radii_of(leading)), *_ends_sharp(radii_of(following))[1:]]
    closing = construct.distance(points[0], points[-1]) <= tolerance and len(points) > 3
    if closing:
        del points[-1], radii[-1]
    bends = construct.turns(points, closed=closing)
    straight = {len(leading.points) - 1, *([0] if closing else [])}
    kept = [
        index
        for index in range(len(points))
        if index not in straight or abs(bends[index]) > STRAIGHT or radii[index] > 0
    ]
    one = replace(
        with_points(first, [points[index] for index in kept], [radii[index] for index in kept]),
        side=leading.side,
        closed=closing,
    )
    taken = with_parts(project, section_id, {first_id: one})
    section = section_of(taken, section_id)
    laps: dict[tuple[str, str], None] = {}
    for pair in section.laps:
        mine, other = (first_id if part_id == second_id else part_id for part_id in pair)
        if mine != other and (other, mine) not in laps:
            laps[mine, other] = None
    remaining = tuple(wall for wall in section.walls if wall.id != second_id)
    return edits.replaced(taken, replace(section, walls=remaining, laps=tuple(laps)))


def _end_to_end(first: Wall, second: Wall) -> tuple[Wall, Wall, float]:
    """Return the walls in the order in which they run on, the first's direction kept, and the gap."""
    start, end = first.points[0], first.points[-1]
    turned = _reversed(second)
    choices = [
        (construct.distance(end, second.points[0]), first, second),
        (construct.distance(second.points[-1], start), second, first),
        (construct.distance(end, second.points[-1]), first, turned),
        (construct.distance(second.points[0], start), turned, first),
    ]
    gap, leading, following = min(choices, key=lambda choice: choice[0])
    joint = end if leading is first else start
    if leading is first:
        following = replace(following, points=(joint, *following.points[1:]))
    else:
        leading = replace(leading, points=(*leading.points[:-1], joint))
    return leading, following, gap


def direction_reversed(project: Project, section_id: str, wall_id: str) -> Project:
    """Return the project with a wall drawn the other way; its laminate stays on the same face.

    Raises
    ------
    StringerlabError
        When there is no such wall.
    """
    wall = wall_of(project, section_id, wall_id)
    return with_parts(project, section_id, {wall_id: _reversed(wall)})


def _reversed(wall: Wall) -> Wall:
    return replace(wall, points=wall.points[::-1], fillets=wall.fillets[::-1], side=OTHER[wall.side])


def side_swapped(project: Project, section_id: str, ids: Iterable[str]) -> Project:
    """Return the project with the laminates of walls on the other face of their lines.

    Raises
    ------
    StringerlabError
        When there is no such wall.
    """
    changed: dict[str, Part | None] = {}
    for wall_id in ids:
        wall = wall_of(project, section_id, wall_id)
        changed[wall_id] = replace(wall, side=OTHER[wall.side])
    return with_parts(project, section_id, changed)


def offset(project: Project, section_id: str, wall_id: str, distance: float) -> Project:
    """Return the project with a parallel copy of a wall.

    Its fillets keep their centres; a corner stays a corner. The copy has the wall's laminate and side.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    wall_id
        The wall.
    distance
        Positive to the side on which the laminate builds, negative to the mould's side [mm].

    Raises
    ------
    StringerlabError
        When there is no such wall, the distance is 0 or no number, or a leg would vanish.
    """
    wall = wall_of(project, section_id, wall_id)
    if not isfinite(distance) or distance == 0:
        what = f"{distance:g} mm is no distance for a parallel."
        raise refusal(project, section_id, wall_id, what, "Give a length other than 0.")
    by = distance if wall.side is Side.LEFT else -distance
    try:
        points, radii = construct.parallel(wall.points, radii_of(wall), by, closed=wall.closed)
    except ValueError as error:
        raise refusal(project, section_id, wall_id, str(error), "Take a smaller distance.") from None
    return with_parts(project, section_id, {}, [with_points(wall, points, radii)])


def offset_through(project: Project, section_id: str, wall_id: str, at: Point) -> Project:
    """Return the project with a parallel copy of a wall through a point [mm]; see ``offset``.

    Raises
    ------
    StringerlabError
        As ``offset``, and when the point lies on the line.
    """
    wall = wall_of(project, section_id, wall_id)
    found = construct.nearest(wall.points, at, closed=wall.closed)
    if found is None:
        raise refusal(project, section_id, wall_id, "It has no leg.", "Draw it anew.")
    start, end = leg_of(project, section_id, wall_id, found.leg)
    way = complex(*wall.points[end]) - complex(*wall.points[start])
    arm = complex(*at) - complex(*wall.points[start])
    left = (way.real * arm.imag - way.imag * arm.real) / max(abs(way), TOUCH)
    return offset(project, section_id, wall_id, left if wall.side is Side.LEFT else -left)


def closed_up(project: Project, section_id: str, wall_id: str) -> Project:
    """Return the project with a wall closed, its last point joined to its first by a leg.

    A last point that lies on the first goes.

    Raises
    ------
    StringerlabError
        When there is no such wall, it is closed, or has too few points.
    """
    wall = wall_of(project, section_id, wall_id)
    if wall.closed:
        raise refusal(project, section_id, wall_id, "It is closed already.", "Open it, or leave it.")
    points, radii = wall.points, radii_of(wall)
    if len(points) > 1 and construct.distance(points[0], points[-1]) < MEETING:
        points, radii = points[:-1], radii[:-1]
    return with_parts(project, section_id, {wall_id: replace(with_points(wall, points, radii), closed=True)})


def opened(project: Project, section_id: str, wall_id: str, leg: int | None = None) -> Project:
    """Return the project with a closed wall opened by taking a leg out; its closing one when none is given.

    Raises
    ------
    StringerlabError
        When there is no such wall or leg, or it is open.
    """
    wall = wall_of(project, section_id, wall_id)
    if not wall.closed:
        raise refusal(project, section_id, wall_id, "It is open already.", "Close it, or leave it.")
    count = len(wall.points)
    _, first = leg_of(project, section_id, wall_id, count - 1 if leg is None else leg)
    order = [(first + step) % count for step in range(count)]
    radii = radii_of(wall)
    line = with_points(wall, [wall.points[i] for i in order], _ends_sharp([radii[i] for i in order]))
    return with_parts(project, section_id, {wall_id: replace(line, closed=False)})
