"""Drafting: sections begun from the catalogue of starting shapes. mm and degrees, as typed.

A section begun so is redrawn whole while its parameters are typed; once anything in it is drawn otherwise, it
is walls like any other. A file keeps the walls alone. Bead and deadrise are the section's, not the shape's.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import edits
from stringerlab.project.drafting_parts import section_of
from stringerlab.project.drafting_shapes import deadrise_of, laminate_thickness
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.section.records import OnHull, Reference, Section, Wall
from stringerlab.section.shapes import Asked, Drawn, Laid, Starter, starter


@dataclass(frozen=True, slots=True, kw_only=True)
class StarterParameters:
    """A shape of the catalogue with everything it asks for, by its parameters' keys."""

    starter: str
    """Id of the shape."""
    laminates: Mapping[str, str]
    """Ids."""
    sizes: Mapping[str, float]
    """mm, deg and counts."""
    solids: Mapping[str, str]
    """Material ids."""


def begun(project: Project, starter_id: str, laminate: str, deadrise: float = 0.0) -> StarterParameters:
    """Return what a shape begins from, all of one laminate.

    Parameters
    ----------
    project
        The project.
    starter_id
        Of the shape.
    laminate
        Id of the laminate.
    deadrise
        Of the section it will be drawn in [deg].

    Raises
    ------
    StringerlabError
        When there is no such shape or laminate.
    """
    shape = _starter(starter_id)
    thickest = laminate_thickness(project, laminate, shape.name)
    return StarterParameters(
        starter=starter_id,
        laminates={each.key: laminate for each in shape.asks(Asked.LAMINATE)},
        sizes=shape.begins(thickest, deadrise),
        solids=shape.solids(),
    )


def with_starter(
    project: Project,
    section_id: str | None,
    parameters: StarterParameters,
    *,
    name: str = "",
    bead: float | None = None,
    reference: Reference | None = None,
) -> Project:
    """Return the project with a new section of a shape, or with a section's drawing replaced by it.

    Parameters
    ----------
    project
        The project.
    section_id
        The section whose walls, fills and laps give way, ids and marks of its parts kept in their order; None
        for a new section at the end.
    parameters
        Of the shape.
    name
        Of the section; the shape's when none is given, or what it was.
    bead
        Adhesive under the flanges [mm]; 0, or what it was, when none is given.
    reference
        Plating shown with it; none, or what it was, when none is given.

    Raises
    ------
    StringerlabError
        When there is no such section, shape, laminate or material, or the parameters are impossible: all.
    """
    if section_id is None:
        title = name or _starter(parameters.starter).name
        section = Section(id="", name=title, walls=(), bead=bead or 0.0, reference=reference)
        walls, fills, laps = starter_drawn(project, section, parameters)
        return edits.added(project, replace(section, walls=walls, fills=fills, laps=laps))
    old = section_of(project, section_id)
    section = replace(
        old,
        name=name or old.name,
        bead=old.bead if bead is None else bead,
        reference=reference or old.reference,
    )
    drawn = starter_drawn(project, section, parameters)
    walls = tuple(_kept(wall, old.walls, i) for i, wall in enumerate(drawn.walls))
    fills = tuple(
        replace(fill, id=old.fills[i].id if i < len(old.fills) else "") for i, fill in enumerate(drawn.fills)
    )
    grown = edits.replaced(project, replace(section, walls=walls, fills=fills, laps=()))
    there = section_of(grown, section_id)
    now = {wall.id: fresh.id for wall, fresh in zip(drawn.walls, there.walls, strict=True)}
    laps = tuple((now[one], now[other]) for one, other in drawn.laps)
    return edits.replaced(grown, replace(there, laps=laps))


def starter_drawn(project: Project, section: Section, parameters: StarterParameters) -> Drawn:
    """Return a shape's parts for a section of its bead and deadrise, under the shape's own ids.

    Raises
    ------
    StringerlabError
        With everything that is missing or impossible.
    """
    shape = _starter(parameters.starter)
    place_of = f"section '{section.name}'"
    found: list[Problem] = []
    laid: dict[str, Laid] = {}
    for each in shape.asks(Asked.LAMINATE):
        named = parameters.laminates.get(each.key, "")
        try:
            laid[each.key] = Laid(named, laminate_thickness(project, named, place_of))
        except StringerlabError as error:
            found += error.problems
    book = book_of(project)
    for each in shape.asks(Asked.SOLID):
        named = parameters.solids.get(each.key, "")
        if book.solid(named) is None:
            what = f"There is no solid '{named}' for {each.name.lower()}."
            found.append(Problem(what, place_of, "Pick a foam, block or putty."))
    slope = deadrise_of(section)
    if slope and not shape.on_slope:
        found.append(
            Problem(
                f"{shape.name} is drawn square to the skin, this section at {slope:g}°.",
                place_of,
                "Set the deadrise of its reference to 0.",
            )
        )
    if found:
        raise StringerlabError(dict.fromkeys(found))
    try:
        return shape.drawn(
            laid, _counted(shape, parameters), parameters.solids, bead=section.bead, deadrise=slope
        )
    except StringerlabError as error:
        raise StringerlabError(
            replace(problem, where=_placed(problem.where, place_of)) for problem in error.problems
        ) from None


def is_still(project: Project, section: Section, parameters: StarterParameters) -> bool:
    """Return whether a section is drawn just as these parameters draw it: ids and names of parts aside."""
    try:
        drawn = starter_drawn(project, section, parameters)
    except StringerlabError:
        return False
    marks = [wall.on_hull for wall in section.walls]
    bare = [replace(wall, id="", name="") for wall in section.walls]
    return [
        replace(_marked(wall, marks, i), id="", name="") for i, wall in enumerate(drawn.walls)
    ] == bare and [replace(fill, id="", name="") for fill in drawn.fills] == [
        replace(fill, id="", name="") for fill in section.fills
    ]


def _starter(starter_id: str) -> Starter:
    found = starter(starter_id)
    if found is None:
        raise StringerlabError(
            Problem(f"There is no starting shape '{starter_id}'.", "sections", "Pick one of the catalogue.")
        )
    return found


def _counted(shape: Starter, parameters: StarterParameters) -> dict[str, float]:
    """Return the sizes, whole counts as such."""
    counts = {each.key for each in shape.asks(Asked.COUNT)}
    return {
        key: int(value) if key in counts and value == int(value) else value
        for key, value in parameters.sizes.items()
    }


def _kept(wall: Wall, before: tuple[Wall, ...], index: int) -> Wall:
    """Return a redrawn wall with the id and mark of the one it takes the place of."""
    if index >= len(before):
        return replace(wall, id="")
    return replace(_marked(wall, [each.on_hull for each in before], index), id=before[index].id)


def _marked(wall: Wall, marks: Sequence[OnHull | None], index: int) -> Wall:
    """Return a wall that lies on the hull with the mark that was put on it."""
    mark = marks[index] if index < len(marks) else None
    return replace(wall, on_hull=mark) if wall.on_hull and mark else wall


def _placed(where: str, place_of: str) -> str:
    _, comma, rest = where.partition(", ")
    return f"{place_of}{comma}{rest}"
