"""What every drafting edit stands on: the parts picked in a section, and putting changed ones back.

A pick is the id of a wall or fill, or one of its vertices as (id, number from 0). mm; angles in degrees, as
in the document.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches
from math import isfinite

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import construct
from stringerlab.geometry.typed import FARTHEST
from stringerlab.project import edits
from stringerlab.project.contents import Part
from stringerlab.project.places import Path, place
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Point, Section, Side, Wall
from stringerlab.units import Kind
from stringerlab.units import format as shown

Vertex = tuple[str, int]
Pick = str | Vertex

MEETING = 0.01
"""Ends nearer than this meet: a drawing's own tolerance [mm]."""
OTHER = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}


def section_of(project: Project, section_id: str) -> Section:
    """Return a section by its id.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    for section in project.sections:
        if section.id == section_id:
            return section
    near = get_close_matches(section_id, [section.id for section in project.sections], n=1)
    remedy = f"Did you mean '{near[0]}'?" if near else "Name a section of this project."
    raise StringerlabError(Problem(f"There is no section '{section_id}'.", "project", remedy))


def part_of(project: Project, section_id: str, part_id: str) -> Part:
    """Return a wall or fill of a section by its id.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    section = section_of(project, section_id)
    parts: tuple[Part, ...] = (*section.walls, *section.fills)
    for part in parts:
        if part.id == part_id:
            return part
    near = get_close_matches(part_id, [part.id for part in parts], n=1)
    remedy = f"Did you mean '{near[0]}'?" if near else "Pick a wall or fill of this section."
    raise refusal(project, section_id, "", f"There is no wall or fill '{part_id}' in it.", remedy)


def wall_of(project: Project, section_id: str, wall_id: str) -> Wall:
    """Return a wall of a section by its id.

    Raises
    ------
    StringerlabError
        When there is none, or it is a fill.
    """
    part = part_of(project, section_id, wall_id)
    if isinstance(part, Wall):
        return part
    raise refusal(project, section_id, wall_id, "It is a fill; this is done to walls.", "Pick a wall.")


def where(project: Project, section_id: str, part_id: str = "") -> str:
    """Return the words for a section, or for a wall or fill in it."""
    for i, section in enumerate(project.sections):
        if section.id != section_id:
            continue
        path: Path = ("sections", i)
        for listed, parts in (("walls", section.walls), ("fills", section.fills)):
            for j, part in enumerate(parts):
                if part.id == part_id:
                    return place(project, (*path, listed, j))
        return place(project, path)
    return "project"


def refusal(
    project: Project, section_id: str, part_id: str, what: str, remedy: str, *, at: str = ""
) -> StringerlabError:
    """Return an error that says what is wrong with a section's part, where, and what to do."""
    place_of = where(project, section_id, part_id)
    return StringerlabError(Problem(what, f"{place_of}, {at}" if at else place_of, remedy))


def is_closed(part: Part) -> bool:
    """Return whether a part's last point joins its first."""
    return isinstance(part, Fill) or part.closed


def radii_of(part: Part) -> tuple[float, ...]:
    """Return one fillet radius a point, 0 where none is given."""
    given = part.fillets if isinstance(part, Wall) else ()
    return given if len(given) == len(part.points) else (0.0,) * len(part.points)


def vertex_of(project: Project, section_id: str, part_id: str, index: int) -> Point:
    """Return a vertex of a part, numbered from 0.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    points = part_of(project, section_id, part_id).points
    if not 0 <= index < len(points):
        what = f"There is no point {index + 1}; it has {len(points)}."
        raise refusal(project, section_id, part_id, what, "Pick one of its points.")
    return points[index]


def leg_of(project: Project, section_id: str, part_id: str, leg: int) -> tuple[int, int]:
    """Return the numbers of the points at the two ends of a leg, numbered from 0.

    Raises
    ------
    StringerlabError
        When there is no such leg.
    """
    part = part_of(project, section_id, part_id)
    count = construct.legs(len(part.points), closed=is_closed(part))
    if not 0 <= leg < count:
        what = f"There is no leg {leg + 1}; it has {count}."
        raise refusal(project, section_id, part_id, what, "Pick one of its legs.")
    return leg, (leg + 1) % len(part.points)


def picked(project: Project, section_id: str, picks: Iterable[Pick]) -> dict[str, tuple[int, ...]]:
    """Return, by part, the numbers of the points that are picked, in order: all of a part picked whole.

    Raises
    ------
    StringerlabError
        When nothing is picked, or something that is not there: everything wrong at once.
    """
    wanted = list(picks)
    if not wanted:
        raise refusal(project, section_id, "", "Nothing is picked.", "Pick walls, fills or points first.")
    found: dict[str, set[int]] = {}
    problems: list[Problem] = []
    for pick in wanted:
        part_id = pick if isinstance(pick, str) else pick[0]
        try:
            part = part_of(project, section_id, part_id)
            if isinstance(pick, str):
                found.setdefault(part_id, set()).update(range(len(part.points)))
            else:
                vertex_of(project, section_id, part_id, pick[1])
                found.setdefault(part_id, set()).add(pick[1])
        except StringerlabError as error:
            problems += error.problems
    if problems:
        raise StringerlabError(dict.fromkeys(problems))
    return {part_id: tuple(sorted(numbers)) for part_id, numbers in found.items()}


def whole(project: Project, section_id: str, picks: Iterable[Pick]) -> list[Part]:
    """Return the parts that are picked, which must be picked whole.

    Raises
    ------
    StringerlabError
        When nothing is picked, something that is not there, or only some of a part's points.
    """
    parts: list[Part] = []
    for part_id, numbers in picked(project, section_id, picks).items():
        part = part_of(project, section_id, part_id)
        if len(numbers) < len(part.points):
            what = "Only some of its points are picked; this is done to whole walls and fills."
            raise refusal(project, section_id, part_id, what, "Pick the whole of it.")
        parts.append(part)
    return parts


def with_points(part: Part, points: Sequence[Point], radii: Sequence[float] | None = None) -> Part:
    """Return a part with other points, and a wall with other fillets when they are given."""
    if isinstance(part, Fill):
        return replace(part, points=tuple(points))
    fillets = part.fillets if radii is None else tuple(radii)
    return replace(part, points=tuple(points), fillets=fillets if any(fillets) or part.fillets else ())


def with_parts(
    project: Project,
    section_id: str,
    changed: Mapping[str, Part | None],
    fresh: Sequence[Part] = (),
) -> Project:
    """Return the project with a section's parts changed, taken out (None) or added under new ids.

    Raises
    ------
    StringerlabError
        When a point would lie outside the drawing, or a line would have too few: everything wrong at once.
    """
    section = section_of(project, section_id)
    problems = [
        problem
        for part_id, part in (*changed.items(), *(("", part) for part in fresh))
        if part is not None
        for problem in _faults(project, section_id, part_id, part)
    ]
    if problems:
        raise StringerlabError(dict.fromkeys(problems))
    walls = [wall for old in section.walls if isinstance(wall := changed.get(old.id, old), Wall)]
    fills = [fill for old in section.fills if isinstance(fill := changed.get(old.id, old), Fill)]
    gone = {part_id for part_id, part in changed.items() if part is None}
    new = replace(
        section,
        walls=(*walls, *(replace(part, id="") for part in fresh if isinstance(part, Wall))),
        fills=(*fills, *(replace(part, id="") for part in fresh if isinstance(part, Fill))),
        laps=tuple(pair for pair in section.laps if not gone & set(pair)),
    )
    return edits.replaced(project, new)


def _faults(project: Project, section_id: str, part_id: str, part: Part) -> Iterable[Problem]:
    place_of = where(project, section_id, part_id)
    least = 3 if is_closed(part) else 2
    if len(part.points) < least:
        kind = "closed line" if is_closed(part) else "line"
        left = "1 point" if len(part.points) == 1 else f"{len(part.points)} points"
        yield Problem(
            f"{left} would be left; a {kind} needs {least}.", place_of, "Remove the whole of it instead."
        )
    for number, point in enumerate(part.points, start=1):
        if not all(isfinite(value) for value in point):
            yield Problem("It is not a number.", f"{place_of}, point {number}", "Give two lengths.")
        elif max(abs(value) for value in point) > FARTHEST:
            yield Problem(
                f"It would lie outside the drawing, which reaches {shown(FARTHEST, Kind.LENGTH)} each way.",
                f"{place_of}, point {number}",
                "Keep it nearer to the origin.",
            )
