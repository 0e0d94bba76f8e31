"""Drafting: edits on a section's walls and fills, each a pure function from a project to a new one.

All fail as a whole with a ``StringerlabError``. Parts go by id, vertices by (id, number from 0); a leg is
numbered by the point it starts from. mm; angles in degrees from y (to the right) towards z (up), as in the
document. A part's box is that of its drawn corners, as if sharp. What moves or mirrors a wall never lets its
laminate change to another physical face of it.
"""

from collections.abc import Iterable
from dataclasses import replace
from enum import StrEnum
from math import radians

from stringerlab.geometry import construct
from stringerlab.geometry.construct import Arc, Leg, Step
from stringerlab.project import edits
from stringerlab.project.contents import Part
from stringerlab.project.drafting_floors import (
    Floor,
    floor_handles,
    floor_in,
    floor_parameters,
    shape_handles,
    with_floor,
    with_floor_handle_at,
    with_shape_handle_at,
)
from stringerlab.project.drafting_lines import (
    closed_up,
    direction_reversed,
    joined,
    offset,
    offset_through,
    opened,
    side_swapped,
    split,
)
from stringerlab.project.drafting_new import fill_drawn, wall_drawn
from stringerlab.project.drafting_parts import (
    OTHER,
    Pick,
    Vertex,
    part_of,
    picked,
    radii_of,
    refusal,
    section_of,
    whole,
    with_parts,
    with_points,
)
from stringerlab.project.drafting_regions import (
    Face,
    filled_region,
    with_block,
    with_reference,
    without_reference,
)
from stringerlab.project.drafting_shapes import (
    FloorHandle,
    FloorParameters,
    Handle,
    HandleName,
    HatParameters,
    hat_handles,
    hat_parameters,
    hats,
    with_handle_at,
    with_hat,
    with_shape,
)
from stringerlab.project.drafting_vertices import (
    filleted,
    segment_angle,
    segment_length,
    vertex_inserted,
    vertex_removed,
    with_point_at,
    with_segment_angle,
    with_segment_length,
)
from stringerlab.project.records import Project
from stringerlab.section.records import Point, Wall

__all__ = [
    "Arc",
    "Edge",
    "Face",
    "Floor",
    "FloorHandle",
    "FloorParameters",
    "Handle",
    "HandleName",
    "HatParameters",
    "Leg",
    "Pick",
    "Step",
    "Vertex",
    "aligned",
    "closed_up",
    "copied",
    "direction_reversed",
    "fill_drawn",
    "filled_region",
    "filleted",
    "floor_handles",
    "floor_in",
    "floor_parameters",
    "hat_handles",
    "hat_parameters",
    "hats",
    "joined",
    "mirrored",
    "moved",
    "offset",
    "offset_through",
    "opened",
    "removed",
    "segment_angle",
    "segment_length",
    "shape_handles",
    "side_swapped",
    "split",
    "turned",
    "vertex_inserted",
    "vertex_removed",
    "wall_drawn",
    "with_block",
    "with_floor",
    "with_floor_handle_at",
    "with_handle_at",
    "with_hat",
    "with_point_at",
    "with_reference",
    "with_segment_angle",
    "with_segment_length",
    "with_shape",
    "with_shape_handle_at",
    "without_reference",
]


class Edge(StrEnum):
    """What parts are aligned by."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"
    CENTRE = "centre"
    """Their middles, one above another."""
    MIDDLE = "middle"
    """Their middles, side by side."""


def moved(project: Project, section_id: str, ids: Iterable[Pick], dy: float, dz: float) -> Project:
    """Return the project with walls, fills or single vertices moved; other vertices stay, legs stretch.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    ids
        Ids of walls and fills to move whole, and vertices as (id, number from 0).
    dy, dz
        To the right and up [mm].

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, or a point would leave the drawing.
    """
    changed: dict[str, Part | None] = {}
    for part_id, numbers in picked(project, section_id, ids).items():
        part = part_of(project, section_id, part_id)
        points = list(part.points)
        for number, point in zip(
            numbers, construct.moved([points[number] for number in numbers], dy, dz), strict=True
        ):
            points[number] = point
        changed[part_id] = with_points(part, points)
    return with_parts(project, section_id, changed)


def turned(
    project: Project, section_id: str, ids: Iterable[Pick], angle: float, about: Point | None = None
) -> Project:
    """Return the project with walls and fills turned.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    ids
        What to turn: whole walls and fills.
    angle
        From y towards z [deg].
    about
        The point that stays; the middle of the box around them when none is given [mm].

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, or a point would leave the drawing.
    """
    parts = whole(project, section_id, ids)
    centre = about or _middle(parts)
    changed: dict[str, Part | None] = {
        part.id: with_points(part, construct.turned(part.points, radians(angle), centre)) for part in parts
    }
    return with_parts(project, section_id, changed)


def mirrored(
    project: Project,
    section_id: str,
    ids: Iterable[Pick],
    at: Point = (0.0, 0.0),
    angle: float = 90.0,
    *,
    keep: bool = False,
) -> Project:
    """Return the project with walls and fills mirrored; a wall's laminate is mirrored with it.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    ids
        What to mirror: whole walls and fills.
    at, angle
        A point of the line to mirror about [mm], and its angle from y; 90 for a vertical line [deg].
    keep
        Whether the originals stay and the images come beside them, with their laps.

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, or a point would leave the drawing.
    """
    images: dict[str, Part | None] = {}
    for part in whole(project, section_id, ids):
        image = with_points(part, construct.mirrored(part.points, at, radians(angle)))
        images[part.id] = replace(image, side=OTHER[image.side]) if isinstance(image, Wall) else image
    if keep:
        return _added(project, section_id, {part_id: part for part_id, part in images.items() if part})
    return with_parts(project, section_id, images)


def copied(
    project: Project,
    section_id: str,
    ids: Iterable[Pick],
    dy: float = 0.0,
    dz: float = 0.0,
    *,
    count: int = 1,
    to: str = "",
) -> Project:
    """Return the project with copies of walls and fills, each moved on from the one before.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    ids
        What to copy: whole walls and fills; laps between them are copied too.
    dy, dz
        Of each copy from the one before [mm].
    count
        How many copies.
    to
        Section that the copies go to; their own when none is given.

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, the count is not 1 to 100, or a point would
        leave the drawing.
    """
    parts = whole(project, section_id, ids)
    if not 1 <= count <= 100:
        what = f"{count} copies are not 1 to 100."
        raise refusal(project, section_id, "", what, "Give a number of copies from 1 to 100.")
    laps = section_of(project, section_id).laps
    for number in range(1, count + 1):
        copies = {
            part.id: with_points(part, construct.moved(part.points, number * dy, number * dz))
            for part in parts
        }
        project = _added(project, to or section_id, copies, laps)
    return project


def aligned(
    project: Project, section_id: str, ids: Iterable[Pick], edge: Edge, to: float | None = None
) -> Project:
    """Return the project with walls, fills or single vertices moved until they line up.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    ids
        What to align, each part for itself, vertices each for itself.
    edge
        What lines up.
    to
        Where [mm]; at the outermost of them, or the middle of the box around them, when none is given.

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, or a point would leave the drawing.
    """
    groups: list[tuple[str, tuple[int, ...]]] = []
    for part_id, numbers in picked(project, section_id, ids).items():
        entire = len(numbers) == len(part_of(project, section_id, part_id).points)
        groups += [(part_id, numbers)] if entire else [(part_id, (number,)) for number in numbers]
    axis = 0 if edge in (Edge.LEFT, Edge.RIGHT, Edge.CENTRE) else 1
    spans: list[tuple[float, float]] = []
    for part_id, numbers in groups:
        points = part_of(project, section_id, part_id).points
        values = [points[number][axis] for number in numbers]
        spans.append((min(values), max(values)))
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    share = {Edge.LEFT: 0.0, Edge.BOTTOM: 0.0, Edge.RIGHT: 1.0, Edge.TOP: 1.0}.get(edge, 0.5)
    goal = to if to is not None else low + share * (high - low)
    for (part_id, numbers), span in zip(groups, spans, strict=True):
        by = goal - (span[0] + share * (span[1] - span[0]))
        step = (by, 0.0) if axis == 0 else (0.0, by)
        project = moved(project, section_id, [(part_id, number) for number in numbers], *step)
    return project


def removed(project: Project, section_id: str, ids: Iterable[Pick]) -> Project:
    """Return the project without walls and fills, and their laps, or without single vertices.

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, or too few points would be left of a line.
    """
    wanted = list(ids)
    entire = {pick for pick in wanted if isinstance(pick, str)}
    changed: dict[str, Part | None] = {}
    for part_id, numbers in picked(project, section_id, wanted).items():
        part = part_of(project, section_id, part_id)
        if part_id in entire or len(numbers) == len(part.points):
            changed[part_id] = None
            continue
        kept = [number for number in range(len(part.points)) if number not in numbers]
        radii = [radii_of(part)[number] for number in kept]
        changed[part_id] = with_points(part, [part.points[number] for number in kept], radii)
    return with_parts(project, section_id, changed)


def _middle(parts: Iterable[Part]) -> Point:
    points = [point for part in parts for point in part.points]
    ys, zs = [y for y, _ in points], [z for _, z in points]
    return (min(ys) + max(ys)) / 2, (min(zs) + max(zs)) / 2


def _added(
    project: Project,
    section_id: str,
    copies: dict[str, Part],
    laps: tuple[tuple[str, str], ...] | None = None,
) -> Project:
    """Add copies by the ids of their originals, and the laps between the originals to the copies too."""
    if laps is None:
        laps = section_of(project, section_id).laps
    grown = with_parts(project, section_id, {}, list(copies.values()))
    section = section_of(grown, section_id)
    originals = [part_id for part_id, part in copies.items() if isinstance(part, Wall)]
    fresh = section.walls[len(section.walls) - len(originals) :]
    now = {before: wall.id for before, wall in zip(originals, fresh, strict=True)}
    new = [(now[one], now[other]) for one, other in laps if one in now and other in now]
    return edits.replaced(grown, replace(section, laps=(*section.laps, *new))) if new else grown
