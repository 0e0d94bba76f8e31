"""What stands in a layout, by id: its places, and names that are free."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.plan import Combination, Equipment, Layout, Member, PlanLine, PlanPoint
from stringerlab.project.contents import LayoutPart, things
from stringerlab.project.planning_lines import settled
from stringerlab.project.records import Project


def layout_of(project: Project, id: str) -> Layout:  # noqa: A002
    """Return a layout by its own id, or that of anything in it.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    for thing in things(project):
        if thing.record.id == id and thing.path[0] == "layouts":
            return project.layouts[int(thing.path[1])]
    raise StringerlabError(Problem(f"There is no layout, and nothing in one, '{id}'.", "project"))


def part_of(project: Project, id: str) -> LayoutPart:  # noqa: A002
    """Return a member, line, cavity, equipment or combination by its id.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    for thing in things(project):
        if thing.record.id == id and isinstance(thing.record, LayoutPart):
            return thing.record
    raise StringerlabError(Problem(f"Nothing in a layout has the id '{id}'.", "project"))


def member_of(project: Project, id: str) -> Member:  # noqa: A002
    """Return a member by its id.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    part = part_of(project, id)
    if not isinstance(part, Member):
        raise StringerlabError(Problem(f"'{part.name}' ({id}) is no member.", "project"))
    return part


def renumbered(layout: Layout, part: LayoutPart) -> LayoutPart:
    """Return a thing under the next name of its kind that is free: ``Floor 2`` after ``Floor 1``."""
    return replace(part, name=numbered(part.name, _names(layout)))


def fresh_name(layout: Layout, part: LayoutPart) -> str:
    """Return a free name for a thing without one, after what it is: ``Transverse 2``."""
    word = part.kind.value if isinstance(part, Member | PlanLine | Equipment) else type(part).__name__
    if not isinstance(part, Member | PlanLine | Equipment | Combination):
        word = part.use.value
    return numbered(word[0].upper() + word[1:], _names(layout))


def _names(layout: Layout) -> list[str]:
    held = (layout.members, layout.lines, layout.cavities, layout.equipment, layout.combinations)
    return [part.name for parts in held for part in parts]


def numbered(name: str, taken: Iterable[str]) -> str:
    """Return a name, with the next number that is free where it is taken."""
    names = set(taken)
    if name not in names:
        return name
    match = re.fullmatch(r"(.*?)\s*(\d+)", name)
    stem, number = (match[1], int(match[2]) + 1) if match else (name, 2)
    while f"{stem} {number}" in names:
        number += 1
    return f"{stem} {number}"


def places_of(part: LayoutPart) -> tuple[PlanPoint, ...]:
    """Return the points of a member or line, a cavity's anchors, where equipment stands."""
    if isinstance(part, Member | PlanLine):
        return part.points
    if isinstance(part, Equipment):
        return (part.at,)
    return () if isinstance(part, Combination) else part.anchors


def at_places(part: LayoutPart, places: Sequence[PlanPoint]) -> LayoutPart:
    """Return a thing at other places: see `places_of`."""
    held = tuple(settled(at) for at in places)
    if isinstance(part, Member | PlanLine):
        return replace(part, points=held)
    if isinstance(part, Equipment):
        return replace(part, at=held[0])
    return part if isinstance(part, Combination) else replace(part, anchors=held)


def refuse_outside(part: LayoutPart, number: int, count: int, word: str = "point") -> None:
    """Raise where a thing has no point, stretch or opening of a number from 0."""
    if not 0 <= number < count:
        raise StringerlabError(
            Problem(f"There is no {word} {number + 1}.", f"'{part.name}' ({part.id})", f"It has {count}.")
        )
