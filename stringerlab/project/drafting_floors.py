"""Drafting: a plate floor recognised in what is drawn, with handles to drag. mm; see ``drafting_shapes``.

A floor is a plate and two tabs as `stringerlab.section.shapes.plate_floor` would draw them within 0.05 mm,
with their putty, on the centre plane and square to the skin; whichever way each wall was drawn. What else a
section holds stays as it is.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import dist

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import edits
from stringerlab.project.drafting_parts import refusal, section_of
from stringerlab.project.drafting_shapes import (
    ALIKE,
    FloorHandle,
    FloorParameters,
    Handle,
    HandleName,
    deadrise_of,
    exact,
    floor_drawn,
    hat_handles,
    on_arc,
    radius_at,
    with_handle_at,
)
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Point, Section, Side, Wall

PUTTY = "putty"
"""Material of the fillets of a floor that has none yet."""
_FILLS = ("left putty", "right putty", "bed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """A floor found in a section."""

    parameters: FloorParameters
    plate: Wall
    left: Wall
    right: Wall
    fills: dict[str, Fill]
    """Those it has, by what each is."""

    @property
    def walls(self) -> tuple[Wall, Wall, Wall]:
        """Plate, left tab, right tab."""
        return self.plate, self.left, self.right


def floor_parameters(project: Project, section: Section | str) -> FloorParameters | None:
    """Return the parameters of the plate floor drawn in a section; None when there is none."""
    found = floor_in(project, section)
    return found.parameters if found else None


def floor_in(project: Project, section: Section | str) -> Floor | None:
    """Return the plate floor drawn in a section; None when there is none."""
    record = section if isinstance(section, Section) else section_of(project, section)
    if deadrise_of(record):
        return None
    for plate, left, right in _candidates(record):
        found = _recognised(project, record, plate, left, right)
        if found is not None:
            return found
    return None


def floor_handles(project: Project, section: Section | str, wall_id: str) -> tuple[Handle, ...]:
    """Return the handles of the floor that a wall is of, the tabs' on that tab; none when it is of none."""
    found = floor_in(project, section)
    if found is None or wall_id not in {wall.id for wall in found.walls}:
        return ()
    floor = found.parameters
    tab = found.left if wall_id == found.left.id else found.right
    top, corner, edge = sorted(tab.points, key=lambda point: (-point[1], abs(point[0])))
    middle = sum(point[0] for point in found.plate.points) / 2
    return (
        Handle(FloorHandle.DEPTH, (middle, floor.depth), floor.depth),
        Handle(FloorHandle.TAB_HEIGHT, top, floor.tab_height),
        Handle(FloorHandle.TAB_WIDTH, edge, floor.tab_width),
        Handle(FloorHandle.ROOT_RADIUS, on_arc(top, corner, edge, floor.root_radius), floor.root_radius),
    )


def with_floor(project: Project, section_id: str, parameters: FloorParameters) -> Project:
    """Return the project with a section's floor redrawn; its walls and fills keep their ids and names.

    Raises
    ------
    StringerlabError
        When there is no floor in it, or the parameters are impossible: all of them.
    """
    section = section_of(project, section_id)
    found = floor_in(project, section)
    if found is None:
        raise StringerlabError(
            Problem(
                "No plate floor is drawn in it, so it has no such handle.",
                f"section '{section.name}'",
                "Move its points instead.",
            )
        )
    walls, fills = floor_drawn(project, section, parameters)
    new_walls = {
        old.id: replace(drawn, id=old.id, name=old.name)
        for old, drawn in zip(found.walls, walls, strict=True)
    }
    wanted = {fill.name: fill for fill in fills}
    kept = {
        old.id: replace(wanted[role], id=old.id, name=old.name)
        for role, old in found.fills.items()
        if role in wanted
    }
    gone = {fill.id for fill in found.fills.values()} - set(kept)
    changed = replace(
        section,
        walls=tuple(new_walls.get(wall.id, wall) for wall in section.walls),
        fills=(
            *(kept.get(fill.id, fill) for fill in section.fills if fill.id not in gone),
            *(fill for role, fill in wanted.items() if role not in found.fills),
        ),
    )
    return edits.replaced(project, changed)


def with_floor_handle_at(
    project: Project, section_id: str, wall_id: str, name: FloorHandle, at: Point
) -> Project:
    """Return the project with a floor's handle dragged to a point; only its own parameter changes.

    Both tabs change together. A tab stays as high as the plate at most, a radius at or above 0.

    Raises
    ------
    StringerlabError
        When the wall is of no floor, or its parameters become impossible.
    """
    found = floor_in(project, section_id)
    if found is None or wall_id not in {wall.id for wall in found.walls}:
        what = "It is not drawn as part of a plate floor, so it has no such handle."
        raise refusal(project, section_id, wall_id, what, "Move its points instead.")
    floor = found.parameters
    tab = found.left if wall_id == found.left.id else found.right
    top, corner, edge = sorted(tab.points, key=lambda point: (-point[1], abs(point[0])))
    match name:
        case FloorHandle.DEPTH:
            changed = replace(floor, depth=exact(at[1]))
        case FloorHandle.TAB_HEIGHT:
            changed = replace(floor, tab_height=min(exact(at[1]), floor.depth))
        case FloorHandle.TAB_WIDTH:
            outward = 1.0 if edge[0] > corner[0] else -1.0
            changed = replace(floor, tab_width=exact(outward * (at[0] - corner[0])))
        case FloorHandle.ROOT_RADIUS:
            changed = replace(floor, root_radius=radius_at(top, corner, edge, at))
    return with_floor(project, section_id, changed)


def shape_handles(project: Project, section: Section | str, wall_id: str) -> tuple[Handle, ...]:
    """Return the live handles of the starter shape that a wall is, or is of; none when it is of none."""
    return hat_handles(project, section, wall_id) or floor_handles(project, section, wall_id)


def with_shape_handle_at(
    project: Project, section_id: str, wall_id: str, name: HandleName | FloorHandle, at: Point
) -> Project:
    """Return the project with a starter shape's handle dragged to a point; only its own parameter changes.

    Raises
    ------
    StringerlabError
        When the wall is of no such shape, or its parameters become impossible.
    """
    if isinstance(name, FloorHandle):
        return with_floor_handle_at(project, section_id, wall_id, name, at)
    return with_handle_at(project, section_id, wall_id, name, at)


def _candidates(section: Section) -> Iterator[tuple[Wall, Wall, Wall]]:
    """Walls that may be plate, left tab and right tab: a tab on the shell, its image, a plate on its face."""
    runs = [(wall, _run(wall).points) for wall in section.walls if not wall.closed]
    tabs = [(wall, points) for wall, points in runs if len(points) == 3 and abs(points[1][1]) <= ALIKE]
    plates = [(wall, points) for wall, points in runs if len(points) == 2]
    for right, points in tabs:
        if points[1][0] <= 0 or points[2][0] <= points[1][0]:
            continue
        image = tuple((-y, z) for y, z in reversed(points))
        lefts = [wall for wall, others in tabs if _near(others, image)]
        upright = [wall for wall, ends in plates if all(abs(y + points[1][0]) <= ALIKE for y, _ in ends)]
        yield from ((plate, left, right) for left in lefts for plate in upright)


def _recognised(project: Project, section: Section, plate: Wall, left: Wall, right: Wall) -> Floor | None:
    upright, tabs = _run(plate), (_run(left), _run(right))
    foot, head = upright.points
    radius = (right.fillets or (0.0,) * 3)[1]
    (inner, width), height = _reach(tabs[1]), tabs[1].points[0][1]
    if left.laminate != right.laminate or head[1] <= foot[1] or min(width, height) <= 0 or inner <= 0:
        return None
    fills = dict(_fills(section, foot[1], inner))
    solids = [fill.material for fill in fills.values()]
    floor = FloorParameters(
        plate=plate.laminate,
        tab=right.laminate,
        putty=solids[0] if solids else PUTTY,
        depth=exact(head[1]),
        tab_height=exact(height),
        tab_width=exact(width),
        root_radius=radius,
        bed=max(exact(foot[1]), 0.0),
    )
    try:
        walls, wanted = floor_drawn(project, section, floor)
    except StringerlabError:
        return None
    if not all(_alike(one, other) for one, other in zip((upright, *tabs), walls, strict=True)):
        return None
    if len(set(solids)) > 1 or set(fills) != {fill.name for fill in wanted}:
        return None
    if not all(_near(fills[fill.name].points, fill.points) for fill in wanted):
        return None
    return Floor(parameters=floor, plate=plate, left=left, right=right, fills=fills)


def _run(wall: Wall) -> Wall:
    """Return a wall the way a floor's is drawn: a plate upwards, a tab from left to right."""
    first, last = wall.points[0], wall.points[-1]
    turned = first[1] > last[1] if len(wall.points) == 2 else first[0] > last[0]
    if not turned:
        return wall
    side = Side.LEFT if wall.side is Side.RIGHT else Side.RIGHT
    return replace(wall, points=wall.points[::-1], fillets=wall.fillets[::-1], side=side)


def _reach(right: Wall) -> tuple[float, float]:
    """Place of a right tab's face on the plate, and its width along the shell [mm]."""
    return right.points[1][0], right.points[2][0] - right.points[1][0]


def _fills(section: Section, bed: float, half: float) -> Iterator[tuple[str, Fill]]:
    """Fills of a section that may be a floor's, by what they would be: by where they lie."""
    for fill in section.fills:
        if not fill.points:
            continue
        low, high = min(y for y, _ in fill.points), max(y for y, _ in fill.points)
        if low >= half - ALIKE and _touches(fill.points, (half, 0.0)):
            yield _FILLS[1], fill
        elif high <= -half + ALIKE and _touches(fill.points, (-half, 0.0)):
            yield _FILLS[0], fill
        elif bed > 0 and _near(fill.points, ((-half, 0.0), (half, 0.0), (half, bed), (-half, bed))):
            yield _FILLS[2], fill


def _touches(points: Iterable[Point], corner: Point) -> bool:
    return any(dist(point, corner) <= ALIKE for point in points)


def _alike(one: Wall, other: Wall) -> bool:
    radii = [wall.fillets or (0.0,) * len(wall.points) for wall in (one, other)]
    apart = max((abs(a - b) for a, b in zip(*radii, strict=True)), default=0.0)
    return one.side is other.side and apart <= ALIKE and _near(one.points, other.points)


def _near(one: tuple[Point, ...], other: tuple[Point, ...]) -> bool:
    return len(one) == len(other) and all(dist(a, b) <= ALIKE for a, b in zip(one, other, strict=True))
