"""A project as it was built: what the shop measured put in place of what was drawn up.

The answer is an ordinary project, to be checked like any other. A measured glass content becomes the ply's, a
measured thickness its thickness; a missing ply is left out; a part stands on its measured bead, so that it is
moved off the shell by what the bead is thicker than drawn.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from math import cos, radians
from typing import TypeVar

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Stack, resolve
from stringerlab.laminate.records import Laminate, Ply, Role
from stringerlab.layout.as_built import AsBuilt, LaminateAsBuilt, PlyAsBuilt
from stringerlab.materials import Book
from stringerlab.materials.records import Reinforcement
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Section, Wall
from stringerlab.units.ranges import range_problems

WHERE = "as built"
_Part = TypeVar("_Part", Wall, Fill)


def as_built(project: Project, book: Book) -> Project:
    """Return the project with what was measured in place of what was drawn up, itself without measurements.

    Parameters
    ----------
    project
        The document; without anything measured it is returned as it is.
    book
        Its materials.

    Raises
    ------
    StringerlabError
        With everything wrong with what was measured; see `as_built_problems`.
    """
    measured = project.as_built
    if measured is None:
        return project
    problems = as_built_problems(project, book)
    if problems:
        raise StringerlabError(problems)
    laminates = {each.laminate: each for each in measured.laminates}
    beads = {each.section: each.bead for each in measured.sections}
    return replace(
        project,
        laminates=tuple(
            _as_laid(one, laminates[one.id], book) if one.id in laminates else one
            for one in project.laminates
        ),
        sections=tuple(_on_bead(one, beads[one.id]) if one.id in beads else one for one in project.sections),
        as_built=None,
    )


def as_built_problems(project: Project, book: Book) -> tuple[Problem, ...]:
    """Return everything wrong with what was measured, at once; none where nothing was."""
    measured = project.as_built
    if measured is None:
        return ()
    return tuple(dict.fromkeys(_problems(project, measured, book)))


def _problems(project: Project, measured: AsBuilt, book: Book) -> Iterator[Problem]:
    laminates = {one.id: one for one in project.laminates}
    sections = {one.id: one for one in project.sections}
    yield from _twice([each.laminate for each in measured.laminates], "laminate")
    yield from _twice([each.section for each in measured.sections], "section")
    for each in measured.laminates:
        laminate = laminates.get(each.laminate)
        if laminate is None:
            yield _gone("laminate", each.laminate)
            continue
        where = f"{WHERE}, laminate '{laminate.name}' ({laminate.id})"
        found = [*_of_laminate(each, laminate, book, where)]
        yield from found
        if not found and each.thickness is not None:
            yield from _of_thickness(each, laminate, book, where)
    for gap in measured.sections:
        section = sections.get(gap.section)
        if section is None:
            yield _gone("section", gap.section)
            continue
        where = f"{WHERE}, section '{section.name}' ({section.id})"
        yield from range_problems(gap, where)
        if section.bead == 0:
            yield Problem("is laminated in place: it has no bead.", where, "Take the measured bead out.")


def _of_laminate(measured: LaminateAsBuilt, laminate: Laminate, book: Book, where: str) -> Iterator[Problem]:
    yield from range_problems(replace(measured, plies=()), where)
    count = len(laminate.plies)
    numbers = [each.ply for each in measured.plies]
    for number in sorted({number for number in numbers if numbers.count(number) > 1}):
        yield Problem(f"ply {number} is measured twice.", where, "Keep one of both.")
    for each in measured.plies:
        place = f"{where}, ply {each.ply}"
        yield from range_problems(each, place)
        if not 1 <= each.ply <= count:
            missing = "is said to be missing, but it " if each.missing else ""
            yield Problem(f"{missing}is not there.", place, f"The laminate has plies 1 to {count}.")
            continue
        if each.missing and (each.thickness is not None or each.glass is not None):
            yield Problem("is missing and measured at once.", place, "Keep one of both.")
        material = laminate.plies[each.ply - 1].material
        if each.glass is not None and not isinstance(book.find(material), Reinforcement):
            yield Problem("has no glass to measure.", place, "Take the glass content out.")
    left = set(range(1, count + 1)) - {each.ply for each in measured.plies if each.missing}
    reinforced = [n for n in left if isinstance(book.find(laminate.plies[n - 1].material), Reinforcement)]
    if count and not left:
        yield Problem("every ply is missing.", where, "Leave in what was laid.")
    elif not reinforced:
        yield Problem("no reinforced ply is left.", where, "Leave in what was laid.")


def _of_thickness(measured: LaminateAsBuilt, laminate: Laminate, book: Book, where: str) -> Iterator[Problem]:
    """Say what is wrong with a whole laminate's thickness, once its plies are sound."""
    try:
        rest, own = _shared(measured, laminate, book)
    except StringerlabError as error:
        yield from error.problems
        return
    assert measured.thickness is not None
    if not rest:
        if abs(own - measured.thickness) > 0.05 * measured.thickness:
            what = (
                f"every ply is measured, {own:.4g} mm together, and the whole is {measured.thickness:.4g} mm."
            )
            yield Problem(what, where, "Measure again, or leave the whole out.")
    elif measured.thickness <= own:
        what = (
            f"its {measured.thickness:.4g} mm are used up by what has a thickness of its own, {own:.4g} mm."
        )
        yield Problem(what, where, "Measure again: nothing is left for the other plies.")


def _as_laid(laminate: Laminate, measured: LaminateAsBuilt, book: Book) -> Laminate:
    """Return a laminate as it was laid."""
    laid = _with_plies(laminate, measured, book)
    if measured.thickness is not None:
        rest, own = _shared(measured, laminate, book)
        whole = sum(rest.values())
        plies = list(laid.plies)
        for index, thickness in rest.items():
            scaled = thickness * (measured.thickness - own) / whole
            plies[index] = replace(plies[index], thickness=scaled)
        laid = replace(laid, plies=tuple(plies))
    return laid


def _with_plies(laminate: Laminate, measured: LaminateAsBuilt, book: Book) -> Laminate:
    """Return a laminate with measured plies, without missing ones, the glass of the whole in the others."""
    of = {each.ply: each for each in measured.plies}
    plies: list[Ply] = []
    for number, ply in enumerate(laminate.plies, start=1):
        own = of.get(number)
        if own is not None and own.missing:
            continue
        plies.append(_measured(ply, own, measured.glass, book))
    return replace(laminate, plies=tuple(plies))


def _measured(ply: Ply, own: PlyAsBuilt | None, whole: float | None, book: Book) -> Ply:
    glass = own.glass if own is not None else None
    if glass is None and isinstance(book.find(ply.material), Reinforcement):
        glass = whole
    if glass is not None:
        ply = replace(ply, glass=glass)
    if own is not None and own.thickness is not None:
        ply = replace(ply, thickness=own.thickness)
    return ply


def _shared(measured: LaminateAsBuilt, laminate: Laminate, book: Book) -> tuple[dict[int, float], float]:
    """Return the thickness of each ply that shares what is left of the whole, by index, and that of the rest.

    Reinforced plies share that were not measured themselves; cores and measured plies keep their own. A gel
    coat counts for neither.
    """
    stack: Stack = resolve(_with_plies(laminate, measured, book), book)
    kept = {each.ply for each in measured.plies if each.thickness is not None}
    gone = {each.ply for each in measured.plies if each.missing}
    drawn = [number for number in range(1, len(laminate.plies) + 1) if number not in gone]
    rest: dict[int, float] = {}
    own = 0.0
    for number, group in groupby(zip(stack.numbers, stack.plies, strict=True), key=lambda pair: pair[0]):
        plies = [ply for _, ply in group]
        thickness = sum(ply.thickness for ply in plies)
        if plies[0].role is Role.GEL_COAT:
            continue
        if plies[0].role is Role.REINFORCED and drawn[number - 1] not in kept:
            rest[number - 1] = thickness
        else:
            own += thickness
    return rest, own


def _on_bead(section: Section, bead: float) -> Section:
    """Return a section standing on another bead; what lies on the hull stays there."""
    slope = section.reference.deadrise if section.reference is not None else 0.0
    rise = (bead - section.bead) / cos(radians(slope))
    return replace(
        section,
        walls=tuple(wall if wall.on_hull is not None else _lifted(wall, rise) for wall in section.walls),
        fills=tuple(_lifted(fill, rise) for fill in section.fills),
        bead=bead,
    )


def _lifted(part: _Part, rise: float) -> _Part:
    return replace(part, points=tuple((y, z + rise) for y, z in part.points))


def _twice(ids: Sequence[str], kind: str) -> Iterator[Problem]:
    for one in dict.fromkeys(ids):
        if ids.count(one) > 1:
            yield Problem(f"{kind} '{one}' is measured twice.", WHERE, "Keep one of both.")


def _gone(kind: str, one: str) -> Problem:
    return Problem(
        f"there is no {kind} '{one}'.", f"{WHERE}, {kind} '{one}'", "Take what was measured of it out."
    )
