"""Edits of what a project says of its parent boat: its file, its service, which part is like which.

A value that is already there gives the same project back: no change is no step to undo.
"""

from dataclasses import replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.records import Likeness, Parent, Project


def with_parent(project: Project, file: str) -> Project:
    """Return the project with a parent boat's file named; an empty name takes the parent away."""
    name = file.strip()
    if not name:
        return project if project.parent is None else replace(project, parent=None)
    parent = project.parent or Parent(file=name)
    return _with(project, replace(parent, file=name))


def with_service(project: Project, service: str) -> Project:
    """Return the project with other words for what the parent boat has been through.

    Raises
    ------
    StringerlabError
        When it names no parent boat.
    """
    return _with(project, replace(_parent(project), service=service))


def with_likeness(project: Project, own: str, parent: str) -> Project:
    """Return the project with one of its panels or spans held against one of the parent's.

    Parameters
    ----------
    project
        The project.
    own
        Id of the panel or span of this boat.
    parent
        Id of the parent boat's; empty for the nearest of its kind.

    Raises
    ------
    StringerlabError
        When it names no parent boat, or has no such panel or span and one is to be named for it.
    """
    held = _parent(project)
    kept = [each for each in held.likenesses if each.own != own]
    if parent:
        marks = [mark for layout in project.layouts for mark in (*layout.bays, *layout.spans)]
        if own not in {subject.id for subject in (*project.panels, *project.spans, *marks)}:
            raise StringerlabError(Problem(f"There is no panel and no span '{own}'.", "parent, likenesses"))
        at = next((i for i, each in enumerate(held.likenesses) if each.own == own), len(kept))
        kept.insert(at, Likeness(own=own, parent=parent))
    return _with(project, replace(held, likenesses=tuple(kept)))


def _parent(project: Project) -> Parent:
    if project.parent is None:
        raise StringerlabError(Problem("The project names no parent boat.", "parent", "Name its file first."))
    return project.parent


def _with(project: Project, parent: Parent) -> Project:
    return project if parent == project.parent else replace(project, parent=parent)
