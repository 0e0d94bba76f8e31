"""Edits along a member: its sections, stretch by stretch, and its openings. Pure, whole or not at all."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, cast

from stringerlab.layout.openings import Opening
from stringerlab.layout.plan import Stretch
from stringerlab.project.contents import LayoutPart
from stringerlab.project.planning_parts import member_of, refuse_outside
from stringerlab.project.planning_things import with_part_replaced, with_parts_replaced
from stringerlab.project.records import Project


def with_section(project: Project, ids: Sequence[str], section: str, stretch: int | None = None) -> Project:
    """Return the project with another section along members, or along their stretch of a number from 0.

    Raises
    ------
    StringerlabError
        When there is no such member or stretch.
    """
    fresh: list[LayoutPart] = []
    for id_ in ids:
        member = member_of(project, id_)
        if stretch is None:
            fresh.append(replace(member, section=section))
            continue
        refuse_outside(member, stretch, len(member.stretches), "stretch")
        now = replace(member.stretches[stretch], section=section)
        fresh.append(replace(member, stretches=_set(member.stretches, stretch, now)))
    return with_parts_replaced(project, fresh)


def with_stretch(project: Project, id: str, stretch: Stretch, number: int | None = None) -> Project:  # noqa: A002
    """Return the project with a member's stretch of a number from 0 replaced; one more without a number.

    Stretches are kept in order along the member.

    Raises
    ------
    StringerlabError
        When there is no such member or stretch.
    """
    member = member_of(project, id)
    if number is not None:
        refuse_outside(member, number, len(member.stretches), "stretch")
    held = (*member.stretches, stretch) if number is None else _set(member.stretches, number, stretch)
    ordered = tuple(sorted(held, key=lambda each: each.start))
    return with_part_replaced(project, replace(member, stretches=ordered))


def without_stretch(project: Project, id: str, number: int) -> Project:  # noqa: A002
    """Return the project without a member's stretch of a number from 0: the section before it runs on.

    Raises
    ------
    StringerlabError
        When there is no such member or stretch.
    """
    member = member_of(project, id)
    refuse_outside(member, number, len(member.stretches), "stretch")
    kept = (*member.stretches[:number], *member.stretches[number + 1 :])
    return with_part_replaced(project, replace(member, stretches=kept))


def with_member_opening(project: Project, id: str, opening: Opening, number: int | None = None) -> Project:  # noqa: A002
    """Return the project with a member's opening of a number from 0 replaced; one more without a number.

    Raises
    ------
    StringerlabError
        When there is no such member or opening.
    """
    member = member_of(project, id)
    if number is not None:
        refuse_outside(member, number, len(member.openings), "opening")
    held = (*member.openings, opening) if number is None else _set(member.openings, number, opening)
    return with_part_replaced(project, replace(member, openings=held))


def without_member_openings(project: Project, id: str, numbers: Sequence[int]) -> Project:  # noqa: A002
    """Return the project without openings of a member, numbered from 0.

    Raises
    ------
    StringerlabError
        When there is no such member or opening.
    """
    member = member_of(project, id)
    for number in numbers:
        refuse_outside(member, number, len(member.openings), "opening")
    kept = tuple(hole for place, hole in enumerate(member.openings) if place not in numbers)
    return with_part_replaced(project, replace(member, openings=kept))


def _set(held: tuple[Any, ...], number: int, item: object) -> tuple[Any, ...]:
    return cast(tuple[Any, ...], (*held[:number], item, *held[number + 1 :]))
