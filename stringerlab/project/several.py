"""Edits of several records at once, as one step to undo: added, removed, put elsewhere in their list."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import cast

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.records import Panel, Span, Zone
from stringerlab.project.edits import added, removed, replaced
from stringerlab.project.records import Project

Subject = Panel | Span | Zone


def all_added(project: Project, records: Iterable[Subject]) -> Project:
    """Return the project with panels, spans or zones at the end of their list, each under a new id."""
    for record in records:
        project = added(project, record)
    return project


def all_replaced(project: Project, records: Iterable[Subject]) -> Project:
    """Return the project with the panels, spans or zones of the same ids replaced.

    Raises
    ------
    StringerlabError
        When there is none of an id; nothing is replaced then.
    """
    for record in records:
        project = replaced(project, record)
    return project


def all_removed(project: Project, ids: Iterable[str]) -> Project:
    """Return the project without several things.

    Raises
    ------
    StringerlabError
        When there is none of an id, or something needs it; nothing is removed then.
    """
    for identity in ids:
        project = removed(project, identity)
    return project


def shifted(project: Project, ids: Sequence[str], step: int) -> Project:
    """Return the project with panels, spans or zones moved in their list, in their order among themselves.

    Parameters
    ----------
    project
        The project.
    ids
        What is moved: panels, spans or zones.
    step
        Places further down; negative for up. At an end of the list they come to rest against it.

    Raises
    ------
    StringerlabError
        When there is no such record.
    """
    for name in ("panels", "spans", "zones"):
        held = cast(tuple[Subject, ...], getattr(project, name))
        if ids and set(ids) <= {record.id for record in held}:
            return replace(project, **{name: _shifted(held, set(ids), step)})
    raise StringerlabError(Problem(f"There is no panel, span or zone {', '.join(ids)}.", "project"))


def _shifted(held: tuple[Subject, ...], ids: set[str], step: int) -> tuple[Subject, ...]:
    order = list(held) if step < 0 else list(reversed(held))
    for _ in range(abs(step)):
        resting = 0
        for place, record in enumerate(order):
            if record.id not in ids:
                continue
            if place > resting:
                order[place - 1], order[place] = order[place], order[place - 1]
            else:
                resting = place + 1
    return tuple(order if step < 0 else reversed(order))
