"""Edits of what was measured on the part as built. Pure functions; what says nothing is taken out."""

from collections.abc import Sequence
from dataclasses import replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.as_built import AsBuilt, LaminateAsBuilt, PlyAsBuilt, SectionAsBuilt
from stringerlab.project.records import Project


def measured_laminate(project: Project, laminate: str) -> LaminateAsBuilt:
    """Return what was measured of a laminate; an empty record where nothing was."""
    held = project.as_built.laminates if project.as_built is not None else ()
    return next((each for each in held if each.laminate == laminate), LaminateAsBuilt(laminate=laminate))


def measured_ply(project: Project, laminate: str, ply: int) -> PlyAsBuilt:
    """Return what was measured of a ply, numbered from 1; an empty record where nothing was."""
    held = measured_laminate(project, laminate).plies
    return next((each for each in held if each.ply == ply), PlyAsBuilt(ply=ply))


def measured_bead(project: Project, section: str) -> float | None:
    """Return the measured bead of a section [mm], None where it was not."""
    held = project.as_built.sections if project.as_built is not None else ()
    return next((each.bead for each in held if each.section == section), None)


def with_laminate_measured(project: Project, measured: LaminateAsBuilt) -> Project:
    """Return the project with a laminate's measurements in place of those it had.

    Raises
    ------
    StringerlabError
        When there is no such laminate.
    """
    if not any(one.id == measured.laminate for one in project.laminates):
        raise StringerlabError(_gone("laminate", measured.laminate))
    plies = tuple(
        sorted((each for each in measured.plies if each != PlyAsBuilt(ply=each.ply)), key=lambda one: one.ply)
    )
    measured = replace(measured, plies=plies)
    held = project.as_built or AsBuilt()
    order = {one.id: place for place, one in enumerate(project.laminates)}
    kept = [each for each in held.laminates if each.laminate != measured.laminate]
    if measured != LaminateAsBuilt(laminate=measured.laminate):
        kept.append(measured)
    kept.sort(key=lambda each: order.get(each.laminate, len(order)))
    return _with(project, replace(held, laminates=tuple(kept)))


def with_ply_measured(project: Project, laminate: str, measured: PlyAsBuilt) -> Project:
    """Return the project with a ply's measurements in place of those it had.

    Raises
    ------
    StringerlabError
        When there is no such laminate.
    """
    held = measured_laminate(project, laminate)
    kept = tuple(each for each in held.plies if each.ply != measured.ply)
    return with_laminate_measured(project, replace(held, plies=(*kept, measured)))


def with_bead_measured(project: Project, section: str, bead: float | None) -> Project:
    """Return the project with a section's measured bead [mm]; without one for None.

    Raises
    ------
    StringerlabError
        When there is no such section.
    """
    if not any(one.id == section for one in project.sections):
        raise StringerlabError(_gone("section", section))
    held = project.as_built or AsBuilt()
    order = {one.id: place for place, one in enumerate(project.sections)}
    kept = [each for each in held.sections if each.section != section]
    if bead is not None:
        kept.append(SectionAsBuilt(section=section, bead=bead))
    kept.sort(key=lambda each: order.get(each.section, len(order)))
    return _with(project, replace(held, sections=tuple(kept)))


def with_plies_renumbered(project: Project, laminate: str, came: Sequence[int | None]) -> Project:
    """Return the project with a laminate's measurements still on the plies they were taken of.

    Parameters
    ----------
    project
        The project, its laminate's plies already elsewhere.
    laminate
        Its id.
    came
        Of each ply as it is now the number from 0 it had before, None where it was not there; a number that
        comes twice is measured where it stands first. What was measured of a ply that is gone goes with it.
    """
    held = measured_laminate(project, laminate)
    if not held.plies:
        return project
    now: dict[int, int] = {}
    for number, before in enumerate(came, start=1):
        if before is not None:
            now.setdefault(before + 1, number)
    plies = tuple(replace(each, ply=now[each.ply]) for each in held.plies if each.ply in now)
    return with_laminate_measured(project, replace(held, plies=plies))


def without_measured(project: Project, id: str) -> Project:  # noqa: A002
    """Return the project with nothing measured of a laminate or section of this id."""
    held = project.as_built
    if held is None:
        return project
    return _with(
        project,
        replace(
            held,
            laminates=tuple(each for each in held.laminates if each.laminate != id),
            sections=tuple(each for each in held.sections if each.section != id),
        ),
    )


def without_measurements(project: Project) -> Project:
    """Return the project with nothing measured."""
    return replace(project, as_built=None)


def _with(project: Project, held: AsBuilt) -> Project:
    return replace(project, as_built=None if held == AsBuilt() else held)


def _gone(kind: str, one: str) -> Problem:
    return Problem(f"There is no {kind} '{one}'.", "as built", "Choose one of the project.")
