"""Edits of what stands on paper about a project: its number, who, when, for whom, and the list of changes.

A value that is already there gives the same project back: no change is no step to undo.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.paper import Paper, Revision
from stringerlab.project.records import Project


def with_paper(project: Project, **values: Any) -> Project:
    """Return the project with other particulars of its documents, by the field names of `Paper`."""
    paper = project.paper
    if all(getattr(paper, name) == value for name, value in values.items()):
        return project
    return replace(project, paper=replace(paper, **values))


def with_revision(project: Project, number: int | None = None) -> Project:
    """Return the project with a line more in its list of changes, by its author, named after the last.

    Parameters
    ----------
    project
        The project.
    number
        The line, from 0, after which it comes; None for the last.

    Raises
    ------
    StringerlabError
        When there is no such line.
    """
    changes = project.paper.changes
    at = len(changes) - 1 if number is None else number
    if changes:
        _refuse_outside(project.paper, at)
    before = changes[at].revision if changes else ""
    added = Revision(revision=following(before), author=project.paper.author)
    return with_paper(project, changes=(*changes[: at + 1], added, *changes[at + 1 :]))


def with_revision_values(project: Project, number: int, values: Mapping[str, str]) -> Project:
    """Return the project with other words in one line of its list of changes, by its number from 0.

    Parameters
    ----------
    project
        The project.
    number
        The line, from 0.
    values
        Words by the field names of `Revision`.

    Raises
    ------
    StringerlabError
        When there is no such line.
    """
    _refuse_outside(project.paper, number)
    changes = project.paper.changes
    changed = replace(changes[number], **values)
    return with_paper(project, changes=(*changes[:number], changed, *changes[number + 1 :]))


def without_revisions(project: Project, numbers: tuple[int, ...]) -> Project:
    """Return the project without these lines of its list of changes, from 0.

    Raises
    ------
    StringerlabError
        When there is no such line.
    """
    for number in numbers:
        _refuse_outside(project.paper, number)
    kept = tuple(line for at, line in enumerate(project.paper.changes) if at not in numbers)
    return with_paper(project, changes=kept)


def following(revision: str) -> str:
    """Return what a revision after this one is called: 3 after 2, C after B, A to begin with."""
    if revision.isascii() and revision.isdigit():
        return str(int(revision) + 1)
    if len(revision) == 1 and revision.isascii() and revision.isalpha() and revision not in "Zz":
        return chr(ord(revision) + 1)
    return "A" if not revision else ""


def _refuse_outside(paper: Paper, number: int) -> None:
    if not 0 <= number < len(paper.changes):
        what = f"There is no change {number + 1} in the list."
        raise StringerlabError(Problem(what, "paper", f"It has {len(paper.changes)}."))
