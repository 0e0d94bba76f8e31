"""From the words that say where something is wrong, back to the thing itself."""

from collections.abc import Iterator

from stringerlab.project.contents import things
from stringerlab.project.places import place
from stringerlab.project.records import Project

CRAFT = "craft"
"""Stands for the boat and what the project has one of, which have no id."""


def pointed_at(project: Project, where: str) -> str:
    """Return the id of the thing that a problem's ``where`` names, the smallest of those it lies in.

    ``CRAFT`` for the boat's particulars and the method; empty where nothing is named.
    """
    found = ""
    longest = -1
    for words, identity in _named(project):
        if len(words) > longest and (where == words or where.startswith(f"{words}, ")):
            found, longest = identity, len(words)
    return _found_in_it(project, where, found)


def _found_in_it(project: Project, where: str, identity: str) -> str:
    """Return the id of what was found in a layout of this id, where the words name it; else the id given."""
    for layout in project.layouts:
        if layout.id == identity:
            marks = (mark.id for mark in (*layout.bays, *layout.spans) if f"({mark.id})" in where)
            return next(marks, identity)
    return identity


def _named(project: Project) -> Iterator[tuple[str, str]]:
    yield f"craft '{project.craft.name}'", CRAFT
    yield "craft", CRAFT
    yield "method", CRAFT
    for thing in things(project):
        yield place(project, thing.path), thing.record.id
