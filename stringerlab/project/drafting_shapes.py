"""Drafting: starter shapes by their parameters, recognised again in what is drawn, with handles to drag.

mm and degrees, as typed. A section's bead and the deadrise it is drawn at are the section's, not the shape's.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache
from math import atan, atan2, cos, degrees, dist, radians, sin, tan

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate import thickness_with_gel
from stringerlab.laminate.records import Laminate
from stringerlab.materials import Book, shipped
from stringerlab.materials.records import Materials
from stringerlab.project import edits
from stringerlab.project.drafting_parts import refusal, section_of, wall_of, where, with_parts
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.section import shapes
from stringerlab.section.records import Fill, Point, Reference, Section, Side, Wall

ALIKE = 0.05
"""A drawn hat whose points lie this near to where its parameters put them is that hat [mm]."""
DECIMALS = 6
"""Of a recognised parameter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HatParameters:
    """A top hat: see `stringerlab.section.shapes.hat`. Heights and widths are of the tool face."""

    laminate: str
    """Id."""
    height: float
    """From the shell below the crown's middle to the crown [mm]."""
    crown_width: float
    flange_width: float
    draft: float = 0.0
    """Of the webs from vertical [deg]."""
    crown_radius: float = 0.0
    root_radius: float = 0.0
    centre: float = 0.0
    """Place of the crown's middle to the right of the origin [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorParameters:
    """A plate floor bonded by a tab on each face: see `stringerlab.section.shapes.plate_floor` [mm]."""

    plate: str
    """Id of the plate's laminate."""
    tab: str
    """Id of the tabs' laminate."""
    putty: str
    """Id of the fills' material."""
    depth: float
    tab_height: float
    tab_width: float
    root_radius: float = 0.0
    bed: float = 0.0


class HandleName(StrEnum):
    """What a hat's handle changes."""

    HEIGHT = "height"
    CROWN_WIDTH = "crown width"
    DRAFT = "draft"
    FLANGE_WIDTH = "flange width"
    CROWN_RADIUS = "crown radius"
    ROOT_RADIUS = "root radius"


class FloorHandle(StrEnum):
    """What a plate floor's handle changes."""

    DEPTH = "depth"
    TAB_HEIGHT = "tab height"
    TAB_WIDTH = "tab width"
    ROOT_RADIUS = "root radius"


@dataclass(frozen=True, slots=True)
class Handle:
    """A handle on a drawn shape: what it changes, where it stands [mm], and its value [mm, deg]."""

    name: HandleName | FloorHandle
    at: Point
    value: float


def with_shape(
    project: Project,
    section_id: str | None,
    parameters: HatParameters | FloorParameters,
    *,
    name: str = "",
    bead: float | None = None,
    reference: Reference | None = None,
) -> Project:
    """Return the project with a new section of a starter shape, or with a section's drawing replaced by it.

    Parameters
    ----------
    project
        The project.
    section_id
        The section whose walls, fills and laps give way; None for a new section at the end.
    parameters
        Of the shape.
    name
        Of the section; what it is when none is given, or what it was.
    bead
        Adhesive under the flanges [mm]; 0, or what it was, when none is given.
    reference
        Plating shown with it; none, or what it was, when none is given. A hat is drawn on its deadrise.

    Raises
    ------
    StringerlabError
        When there is no such section, laminate or material, or the parameters are impossible: all of them.
    """
    if section_id is None:
        kind = "Hat" if isinstance(parameters, HatParameters) else "Plate floor"
        section = Section(id="", name=name or kind, walls=(), bead=bead or 0.0, reference=reference)
    else:
        old = section_of(project, section_id)
        section = replace(
            old,
            name=name or old.name,
            bead=old.bead if bead is None else bead,
            reference=reference or old.reference,
        )
    walls, fills = _drawn(project, section, parameters)
    new = replace(section, walls=walls, fills=fills, laps=())
    return edits.added(project, new) if section_id is None else edits.replaced(project, new)


def with_hat(project: Project, section_id: str, wall_id: str, parameters: HatParameters) -> Project:
    """Return the project with a wall redrawn as a hat; it keeps its id, name and laps.

    Raises
    ------
    StringerlabError
        When there is no such wall or laminate, or the parameters are impossible: all of them.
    """
    wall = wall_of(project, section_id, wall_id)
    section = section_of(project, section_id)
    drawn = _hat(project, section, parameters, where(project, section_id, wall_id))
    return with_parts(project, section_id, {wall_id: replace(drawn, id=wall.id, name=wall.name)})


def hat_parameters(
    project: Project, section: Section | str, wall_id: str | None = None
) -> HatParameters | None:
    """Return the parameters of a drawn hat: of this wall, or of the first that is one; None when none is.

    A hat is an open wall of six points with a level crown, equal webs, flanges and radii either side, its
    flanges on the bead: what ``with_hat`` would draw within 0.05 mm, whichever way it was drawn.
    """
    record = section if isinstance(section, Section) else section_of(project, section)
    found = hats(project, record)
    return next(iter(found.values()), None) if wall_id is None else found.get(wall_id)


def hats(project: Project, section: Section | str) -> dict[str, HatParameters]:
    """Return the parameters of every hat in a section, by wall id."""
    record = section if isinstance(section, Section) else section_of(project, section)
    found = {wall.id: _recognised(project, record, wall) for wall in record.walls}
    return {wall_id: parameters for wall_id, parameters in found.items() if parameters}


def hat_handles(project: Project, section: Section | str, wall_id: str) -> tuple[Handle, ...]:
    """Return the handles of a drawn hat, on its right half and at its crown; none when it is no hat."""
    record = section if isinstance(section, Section) else section_of(project, section)
    hat = hat_parameters(project, record, wall_id)
    if hat is None:
        return ()
    wall = next(wall for wall in record.walls if wall.id == wall_id)
    points = _left_to_right(wall).points
    left, right, root, edge = points[2:]
    return (
        Handle(HandleName.HEIGHT, ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2), hat.height),
        Handle(HandleName.CROWN_WIDTH, right, hat.crown_width),
        Handle(HandleName.DRAFT, root, hat.draft),
        Handle(HandleName.FLANGE_WIDTH, edge, hat.flange_width),
        Handle(HandleName.CROWN_RADIUS, on_arc(points[1], left, right, hat.crown_radius), hat.crown_radius),
        Handle(HandleName.ROOT_RADIUS, on_arc(points[0], points[1], left, hat.root_radius), hat.root_radius),
    )


def with_handle_at(project: Project, section_id: str, wall_id: str, name: HandleName, at: Point) -> Project:
    """Return the project with a hat's handle dragged to a point; only its own parameter changes.

    The crown's width changes on both sides of its middle. A draft stays within 0 and the most a hat may have,
    a radius at or above 0.

    Raises
    ------
    StringerlabError
        When the wall is no hat, or its parameters become impossible.
    """
    hat = hat_parameters(project, section_id, wall_id)
    if hat is None:
        what = "It is not drawn as a hat, so it has no such handle."
        raise refusal(project, section_id, wall_id, what, "Move its points instead.")
    section = section_of(project, section_id)
    points = _left_to_right(wall_of(project, section_id, wall_id)).points
    slope = tan(radians(deadrise_of(section)))
    match name:
        case HandleName.HEIGHT:
            changed = replace(hat, height=exact(at[1] - hat.centre * slope))
        case HandleName.CROWN_WIDTH:
            changed = replace(hat, crown_width=exact(2 * abs(at[0] - hat.centre)))
        case HandleName.DRAFT:
            crown, root = points[3], points[4]
            foot = root[1] + (at[0] - root[0]) * slope
            lean = degrees(atan2(at[0] - crown[0], crown[1] - foot))
            changed = replace(hat, draft=min(max(exact(lean), 0.0), shapes.MAX_DRAFT))
        case HandleName.FLANGE_WIDTH:
            angle, root = atan(slope), points[4]
            changed = replace(
                hat, flange_width=exact((at[0] - root[0]) * cos(angle) + (at[1] - root[1]) * sin(angle))
            )
        case HandleName.CROWN_RADIUS:
            changed = replace(hat, crown_radius=radius_at(points[1], points[2], points[3], at))
        case HandleName.ROOT_RADIUS:
            changed = replace(hat, root_radius=radius_at(points[0], points[1], points[2], at))
    return with_hat(project, section_id, wall_id, changed)


def _drawn(
    project: Project, section: Section, parameters: HatParameters | FloorParameters
) -> tuple[tuple[Wall, ...], tuple[Fill, ...]]:
    if isinstance(parameters, HatParameters):
        return (replace(_hat(project, section, parameters, f"section '{section.name}'"), name="hat"),), ()
    return floor_drawn(project, section, parameters)


def floor_drawn(
    project: Project, section: Section, parameters: FloorParameters
) -> tuple[tuple[Wall, Wall, Wall], tuple[Fill, ...]]:
    """Return a plate floor's walls (plate, left and right tab) and fills, without ids, for a section.

    Raises
    ------
    StringerlabError
        With everything that is missing or impossible.
    """
    place_of = f"section '{section.name}'"
    problems: list[Problem] = []
    thickness: dict[str, float] = {}
    for laminate in (parameters.plate, parameters.tab):
        try:
            thickness[laminate] = laminate_thickness(project, laminate, place_of)
        except StringerlabError as error:
            problems += error.problems
    if book_of(project).solid(parameters.putty) is None:
        problems.append(
            Problem(f"There is no solid '{parameters.putty}'.", place_of, "Pick a putty for the fillets.")
        )
    if deadrise_of(section):
        problems.append(
            Problem(
                f"A plate floor is drawn square to the skin, this section at {deadrise_of(section):g}°.",
                place_of,
                "Set the deadrise of its reference to 0.",
            )
        )
    if problems:
        raise StringerlabError(dict.fromkeys(problems))
    walls, fills = shapes.plate_floor(
        depth=parameters.depth,
        plate_laminate=parameters.plate,
        plate_thickness=thickness[parameters.plate],
        tab_laminate=parameters.tab,
        tab_thickness=thickness[parameters.tab],
        tab_height=parameters.tab_height,
        tab_width=parameters.tab_width,
        putty=parameters.putty,
        root_radius=parameters.root_radius,
        bed=parameters.bed,
    )
    plate, left, right = (replace(wall, id="") for wall in walls)
    return (plate, left, right), tuple(replace(fill, id="") for fill in fills)


def _hat(project: Project, section: Section, hat: HatParameters, place_of: str) -> Wall:
    """Return a hat as a wall without id or name."""
    slope = deadrise_of(section)
    try:
        (wall,) = shapes.hat(
            height=hat.height,
            crown_width=hat.crown_width,
            flange_width=hat.flange_width,
            laminate=hat.laminate,
            thickness=laminate_thickness(project, hat.laminate, place_of),
            draft=hat.draft,
            crown_radius=hat.crown_radius,
            root_radius=hat.root_radius,
            bead=section.bead,
            deadrise=slope,
        )
    except StringerlabError as error:
        raise StringerlabError(
            replace(problem, where=problem.where.replace("hat w1", place_of, 1)) for problem in error.problems
        ) from None
    rise = hat.centre * tan(radians(slope))
    points = tuple((y + hat.centre, z + rise) for y, z in wall.points) if hat.centre else wall.points
    return replace(wall, id="", name="", points=points)


def laminate_thickness(project: Project, laminate_id: str, place_of: str) -> float:
    """Return a laminate's thickness with any gel coat [mm], or raise when there is none, or none sound."""
    found = next((each for each in project.laminates if each.id == laminate_id), None)
    if found is not None:
        return _thick(found, project.materials)
    what = f"There is no laminate '{laminate_id}'."
    raise StringerlabError(Problem(what, place_of, "Pick a laminate of this project."))


@lru_cache(64)
def _thick(laminate: Laminate, materials: Materials) -> float:
    return thickness_with_gel(resolved_laminate(laminate, Book.of(materials, shipped())))


def deadrise_of(section: Section) -> float:
    """Return the slope that a section is drawn at [deg]."""
    return section.reference.deadrise if section.reference else 0.0


def _left_to_right(wall: Wall) -> Wall:
    if wall.points[0][0] <= wall.points[-1][0]:
        return wall
    side = Side.LEFT if wall.side is Side.RIGHT else Side.RIGHT
    return replace(wall, points=wall.points[::-1], fillets=wall.fillets[::-1], side=side)


def _recognised(project: Project, section: Section, wall: Wall) -> HatParameters | None:
    if len(wall.points) != 6 or wall.closed or len(wall.fillets) not in (0, 6):
        return None
    line = _left_to_right(wall)
    edge, root, left, right, other_root, other_edge = line.points
    radii = line.fillets or (0.0,) * 6
    if line.side is not Side.RIGHT or not left[0] < right[0] or left[1] <= root[1]:
        return None
    if radii[0] or radii[5] or max(abs(radii[1] - radii[4]), abs(radii[2] - radii[3])) > ALIKE:
        return None
    centre = (left[0] + right[0]) / 2
    rise = right[1] - other_root[1]
    if rise <= 0:
        return None
    drafts = (atan2(left[0] - root[0], left[1] - root[1]), atan2(other_root[0] - right[0], rise))
    hat = HatParameters(
        laminate=wall.laminate,
        height=exact(left[1] - centre * tan(radians(deadrise_of(section)))),
        crown_width=exact(right[0] - left[0]),
        flange_width=exact((dist(edge, root) + dist(other_edge, other_root)) / 2),
        draft=max(exact(degrees(sum(drafts) / 2)), 0.0),
        crown_radius=radii[2],
        root_radius=radii[1],
        centre=exact(centre),
    )
    try:
        drawn = _hat(project, section, hat, "")
    except StringerlabError:
        return None
    apart = max(dist(one, other) for one, other in zip(drawn.points, line.points, strict=True))
    return hat if apart <= ALIKE else None


def exact(value: float) -> float:
    """Return a value as a parameter keeps it [mm, deg]."""
    return round(value, DECIMALS) + 0.0


def _bisector(before: Point, corner: Point, after: Point) -> tuple[complex, float]:
    """Return the unit direction into a corner's inside, and 1/sin of half its angle less 1."""
    back, on = complex(*before) - complex(*corner), complex(*after) - complex(*corner)
    both = back / abs(back) + on / abs(on)
    sine_of_half = max(1 - (abs(both) / 2) ** 2, 1e-18) ** 0.5
    return both / abs(both), 1 / sine_of_half - 1


def on_arc(before: Point, corner: Point, after: Point, radius: float) -> Point:
    """Return the middle of a corner's fillet."""
    inward, per_radius = _bisector(before, corner, after)
    point = complex(*corner) + inward * per_radius * radius
    return point.real, point.imag


def radius_at(before: Point, corner: Point, after: Point, at: Point) -> float:
    """Return the radius of the fillet whose middle lies level with a point along the corner's bisector."""
    inward, per_radius = _bisector(before, corner, after)
    along = ((complex(*at) - complex(*corner)) * inward.conjugate()).real
    return exact(max(along / per_radius, 0.0))
