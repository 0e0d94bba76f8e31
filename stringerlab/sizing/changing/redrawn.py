"""Sections redrawn for other parameters of their hats, other beads and other laminates. mm, as drawn.

A hat is drawn anew from the parameters it was recognised by, so that its flanges lie on the bead whatever its
laminate's thickness; so is a plate floor. What else a section holds moves as a whole with the leg of the hat
it lies nearest to, and where it lies inside it stays on the inside face it lies on, the hat's or another
wall's; a wall lying on the hull slides along it. What is part of neither shape stays as it is drawn, as it
does when its laminate is edited, but for walls and fills that lie on its faces: see ``left_as_drawn`` and
`resting`.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, hypot, radians, sin

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import drafting_floors as floors
from stringerlab.project import drafting_shapes as drafted
from stringerlab.project import edits
from stringerlab.project.drafting_parts import section_of, with_parts
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Point, Section, Wall
from stringerlab.sizing.changing.resting import filled, shifts

_SAME = 1e-9
"""Thicknesses that differ by less are the same [mm]."""


def redrawn(was: Project, now: Project, hats: Mapping[str, Mapping[str, float]]) -> Project:
    """Return a project whose sections are drawn for its laminates and beads.

    Parameters
    ----------
    was
        The project with laminates and beads as its sections are drawn for.
    now
        The same with other laminates and beads, its walls where they were.
    hats
        By section id, other values of its hats' parameters, by field name.

    Raises
    ------
    StringerlabError
        When a shape cannot be drawn: every problem of every section.
    """
    problems: list[Problem] = []
    for section in was.sections:
        try:
            now = _section(was, now, section, hats.get(section.id, {}))
        except StringerlabError as error:
            problems += error.problems
    if problems:
        raise StringerlabError(dict.fromkeys(problems))
    return now


def _section(was: Project, now: Project, section: Section, values: Mapping[str, float]) -> Project:
    grown = {laminate: _grown(was, now, laminate) for laminate in {wall.laminate for wall in section.walls}}
    bead = section_of(now, section.id).bead - section.bead
    if not values and not bead and not any(abs(by) > _SAME for by in grown.values()):
        return now
    found = drafted.hats(was, section)
    for wall_id, hat in found.items():
        fresh = replace(hat, **values)
        if fresh != hat or bead or abs(grown[hat.laminate]) > _SAME:
            now = drafted.with_hat(now, section.id, wall_id, fresh)
        if len(found) == 1:
            now = _followed(was, now, section, wall_id, grown)
    floor = floors.floor_in(was, section)
    if floor is not None and any(abs(grown[wall.laminate]) > _SAME for wall in floor.walls):
        now = _floor(now, section, floor)
    if not found and floor is None:
        by = shifts(was, section, grown)
        parts: dict[str, Wall | Fill | None] = {
            wall.id: _moved(wall, *by[wall.id]) for wall in section.walls if wall.id in by
        }
        parts |= filled(was, section, grown, by)
        now = with_parts(now, section.id, parts) if parts else now
    return now


def _grown(was: Project, now: Project, laminate: str) -> float:
    """Return how much thicker a laminate has become; nothing where it cannot be told."""
    before, after = (
        next((one for one in project.laminates if one.id == laminate), None) for project in (was, now)
    )
    if before is None or before is after:
        return 0.0
    try:
        old = drafted.laminate_thickness(was, laminate, "")
    except StringerlabError:
        return 0.0
    return drafted.laminate_thickness(now, laminate, "") - old


def _floor(now: Project, section: Section, floor: floors.Floor) -> Project:
    """Return a project with a floor drawn for its laminates' thicknesses; ids and names stay."""
    held = section_of(now, section.id)
    walls, fills = drafted.floor_drawn(now, held, floor.parameters)
    fresh = {
        old.id: replace(one, id=old.id, name=old.name) for old, one in zip(floor.walls, walls, strict=True)
    }
    wanted = {fill.name: fill for fill in fills}
    kept = {
        old.id: replace(wanted[role], id=old.id, name=old.name)
        for role, old in floor.fills.items()
        if role in wanted
    }
    changed = replace(
        held,
        walls=tuple(fresh.get(wall.id, wall) for wall in held.walls),
        fills=tuple(kept.get(fill.id, fill) for fill in held.fills),
    )
    return edits.replaced(now, changed)


def left_as_drawn(project: Project, laminates: Collection[str]) -> tuple[str, ...]:
    """Return the names of sections with walls of some laminates that are not redrawn for their thickness."""
    found: list[str] = []
    for section in project.sections:
        hats = drafted.hats(project, section)
        floor = floors.floor_in(project, section)
        followed = set(hats) | ({wall.id for wall in floor.walls} if floor else set[str]())
        if len(hats) == 1:
            followed |= {wall.id for wall in section.walls}
        if any(wall.laminate in laminates and wall.id not in followed for wall in section.walls):
            found.append(section.name)
    return tuple(found)


# -- what else is drawn --------------------------------------------------------------------------


def _followed(
    was: Project, now: Project, section: Section, wall_id: str, grown: Mapping[str, float]
) -> Project:
    """Return a project whose other walls and fills of a section have moved with its hat."""
    hat = next(wall for wall in section.walls if wall.id == wall_id)
    before = _left_to_right(hat)
    after = _left_to_right(next(wall for wall in section_of(now, section.id).walls if wall.id == wall_id))
    others = [_Lying.of(part, before) for part in (*section.walls, *section.fills) if part.id != wall_id]
    slope = radians(drafted.deadrise_of(section))
    faces = {number: [_face(was, hat, 0.0, grown, 0.0)] for number in range(len(before) - 1)}
    changed: dict[str, Wall | Fill | None] = {}
    for one in sorted(others, key=lambda each: each.depth):
        dy, dz = one.by(before, after)
        if one.depth > 0:
            _, deeper = min(faces[one.leg], key=lambda face: abs(face[0] - one.depth))
            deeper = next((by for at, by in faces[one.leg] if abs(at - one.depth) <= drafted.ALIKE), deeper)
            right = _right(before, one.leg)
            dy, dz = dy + deeper * right[0], dz + deeper * right[1]
            if isinstance(one.part, Wall):
                faces[one.leg].append(_face(was, one.part, one.depth, grown, deeper))
        if isinstance(one.part, Wall) and one.part.on_hull is not None:
            along = dy * cos(slope) + dz * sin(slope)
            dy, dz = along * cos(slope), along * sin(slope)
        if abs(dy) > _SAME or abs(dz) > _SAME:
            changed[one.part.id] = _moved(one.part, dy, dz)
    return with_parts(now, section.id, changed) if changed else now


@dataclass(frozen=True, slots=True)
class _Lying:
    """A part, the leg of the hat its middle lies nearest to, and how far inside of that leg [mm]."""

    part: Wall | Fill
    leg: int
    depth: float

    @classmethod
    def of(cls, part: Wall | Fill, hat: tuple[Point, ...]) -> "_Lying":
        middle = (
            sum(point[0] for point in part.points) / len(part.points),
            sum(point[1] for point in part.points) / len(part.points),
        )
        legs = list(pairwise(hat))
        leg = min(range(len(legs)), key=lambda each: _away(middle, *legs[each]))
        right, start = _right(hat, leg), hat[leg]
        return cls(part, leg, (middle[0] - start[0]) * right[0] + (middle[1] - start[1]) * right[1])

    def by(self, before: tuple[Point, ...], after: tuple[Point, ...]) -> Point:
        """Return by how much the leg's middle moved."""
        a, b, c, d = *before[self.leg : self.leg + 2], *after[self.leg : self.leg + 2]
        return (c[0] + d[0] - a[0] - b[0]) / 2, (c[1] + d[1] - a[1] - b[1]) / 2


def _face(
    was: Project, wall: Wall, depth: float, grown: Mapping[str, float], moved: float
) -> tuple[float, float]:
    """Return how deep the inside face of a wall lay that lies at a depth, and how much deeper it now lies."""
    try:
        thick = drafted.laminate_thickness(was, wall.laminate, "")
    except StringerlabError:
        thick = 0.0
    return depth + thick, moved + grown[wall.laminate]


def _right(points: tuple[Point, ...], leg: int) -> Point:
    """Return the unit direction to the right of a leg: inside a hat."""
    a, b = points[leg], points[leg + 1]
    long = hypot(b[0] - a[0], b[1] - a[1])
    return (b[1] - a[1]) / long, -(b[0] - a[0]) / long


def _moved(part: Wall | Fill, dy: float, dz: float) -> Wall | Fill:
    return replace(part, points=tuple((y + dy, z + dz) for y, z in part.points))


def _left_to_right(wall: Wall) -> tuple[Point, ...]:
    return wall.points if wall.points[0][0] <= wall.points[-1][0] else wall.points[::-1]


def _away(at: Point, a: Point, b: Point) -> float:
    long = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2
    part = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / long if long else 0.0
    part = min(max(part, 0.0), 1.0)
    return hypot(at[0] - a[0] - part * (b[0] - a[0]), at[1] - a[1] - part * (b[1] - a[1]))
