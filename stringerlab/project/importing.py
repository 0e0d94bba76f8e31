"""Walls from another program's drawing into a section, as one edit."""

from collections.abc import Sequence

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.edits import added
from stringerlab.project.records import Project
from stringerlab.section.records import Section, Wall


def with_walls(project: Project, walls: Sequence[Wall], *, to: str = "", name: str = "") -> Project:
    """Return the project with walls put into a section, all under new ids.

    Parameters
    ----------
    project
        The project.
    walls
        What to add; their ids are replaced.
    to
        The section's id; empty for a new section.
    name
        Of a new section.

    Raises
    ------
    StringerlabError
        When there is nothing to add, or no such section.
    """
    if not walls:
        raise StringerlabError(Problem("There is no wall to add.", "project"))
    if not to:
        return added(project, Section(id="", name=name or "Imported section", walls=tuple(walls)))
    for wall in walls:
        project = added(project, wall, to=to)
    return project
