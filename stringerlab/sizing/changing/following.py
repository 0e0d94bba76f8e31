"""Wishes that go on from a boat changed into a design: they name the members and plies that are now there.

A row of transverses is those that stand in it now; a run of plies is where it now lies. A wish for a ply that
is gone is left out.
"""

from collections.abc import Iterable
from dataclasses import replace

from stringerlab.layout.plan import Member
from stringerlab.project.records import Project
from stringerlab.project.wishes import Change, Number, Wishes
from stringerlab.sizing.changing.changes import Changes
from stringerlab.sizing.changing.transverses import in_order, middle

_NEAR = 1.0
"""Beyond the first and last of a row by so much none is of it [mm]."""


def with_wishes_followed(project: Project, made: Project, changes: Changes) -> Project:
    """Return a changed project whose wishes name what is now there.

    Parameters
    ----------
    project, made
        The project before, and changed.
    changes
        What was changed.
    """
    wishes = project.wishes
    sizing = replace(wishes.sizing, numbers=_followed(project, made, changes, wishes.sizing.numbers))
    studies = tuple(
        replace(study, along=along)
        for study in wishes.studies
        if (along := _followed(project, made, changes, study.along))
    )
    fresh: Wishes = replace(wishes, sizing=sizing, studies=studies)
    return made if fresh == wishes else replace(made, wishes=fresh)


def _followed(
    project: Project, made: Project, changes: Changes, numbers: Iterable[Number]
) -> tuple[Number, ...]:
    found = (_number(project, made, changes, number) for number in numbers)
    return tuple(number for number in found if number is not None)


def _number(project: Project, made: Project, changes: Changes, number: Number) -> Number | None:
    if number.change is Change.REPEATS:
        return _repeats(changes, number)
    if number.change is Change.TRANSVERSES and any(
        set(number.of) & set(members) for members, _ in changes.transverses
    ):
        return _row(project, made, number)
    return number


def _repeats(changes: Changes, number: Number) -> Number | None:
    """Return a number of layers at its ply's new place in the first of its laminates."""
    for laminate in number.of:
        runs = changes.runs.get(laminate)
        if not runs:
            continue
        place = number.ply - 1
        by = sum(run.layers - (run.stop - run.first) for run in runs if run.stop <= place)
        own = next((run for run in runs if run.first <= place < run.stop), None)
        if own is not None:
            return replace(number, ply=own.first + by + 1) if own.layers else None
        return replace(number, ply=place + by + 1)
    return number


def _row(project: Project, made: Project, number: Number) -> Number:
    """Return a number of transverses of those that stand in its row now."""
    known = _members(project)
    if not set(number.of) <= set(known):
        return number
    row = in_order(project, number.of)
    low, high = middle(row[0]) - _NEAR, middle(row[-1]) + _NEAR
    alike = {(member.kind, member.hand, member.section) for member in row}
    now = [
        member
        for id_, member in _members(made).items()
        if id_ in number.of
        or (
            id_ not in known
            and (member.kind, member.hand, member.section) in alike
            and low <= middle(member) <= high
        )
    ]
    return replace(number, of=tuple(one.id for one in sorted(now, key=lambda one: (middle(one), one.id))))


def _members(project: Project) -> dict[str, Member]:
    return {member.id: member for layout in project.layouts for member in layout.members}
