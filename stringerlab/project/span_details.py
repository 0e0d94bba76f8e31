"""Edits of what a span has in detail: openings, crossings, landings, outboards. Pure, whole or not at all."""

from dataclasses import replace
from typing import TypeVar

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.openings import Crossing, Landing, LandsOn, Opening, TransomLoad
from stringerlab.layout.records import End, Span
from stringerlab.project.edits import replaced
from stringerlab.project.records import Project
from stringerlab.project.span_problems import DIES, member_height

_T = TypeVar("_T", Opening, Crossing)
_PART, _HIGHEST, _LEAST = 0.3, 50.0, 10.0
"""A fresh hole's height of the member's, no more and no less than so many mm."""


def span_of(project: Project, id: str) -> Span:  # noqa: A002
    """Return a span by its id.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    found = next((span for span in project.spans if span.id == id), None)
    if found is None:
        raise StringerlabError(Problem(f"There is no span '{id}'.", "project"))
    return found


def without_details(span: Span) -> Span:
    """Return a span without openings, crossings, landings and outboards: one like it has its own."""
    return replace(span, openings=(), crossings=(), landings=(Landing(), Landing()), transom=None)


def fresh_opening(project: Project, id: str) -> Opening:  # noqa: A002
    """Return a limber hole in the middle of a span's longest bare stretch.

    Raises
    ------
    StringerlabError
        When there is no such span, or no room.
    """
    span = span_of(project, id)
    section = next((one for one in project.sections if one.id == span.section), None)
    height = member_height(section)
    size = _HIGHEST if height is None else round(max(_LEAST, min(_HIGHEST, _PART * height)))
    taken = sorted((hole.x - hole.width / 2, hole.x + hole.width / 2) for hole in span.openings)
    bare = zip([0.0, *(end for _, end in taken)], [*(start for start, _ in taken), span.lu], strict=True)
    aft, forward = max(bare, key=lambda pair: pair[1] - pair[0])
    if forward - aft < size:
        raise StringerlabError(
            Problem("There is no room for another opening.", f"span '{span.name}' ({id})", "Take one out.")
        )
    return Opening(x=round((aft + forward) / 2, 1), height=size, width=size, radius=size / 2)


def fresh_crossing(project: Project, id: str) -> Crossing:  # noqa: A002
    """Return a crossing in a span's middle by a member as high as itself.

    Raises
    ------
    StringerlabError
        When there is no such span.
    """
    span = span_of(project, id)
    section = next((one for one in project.sections if one.id == span.section), None)
    return Crossing(x=span.lu / 2, height=round(member_height(section) or 100.0, 1))


def with_opening(project: Project, id: str, opening: Opening, number: int | None = None) -> Project:  # noqa: A002
    """Return the project with a span's opening of this number, from 0, replaced; added without a number.

    Raises
    ------
    StringerlabError
        When there is no such span or opening.
    """
    span = span_of(project, id)
    return replaced(project, replace(span, openings=_with(span, span.openings, opening, number, "opening")))


def without_openings(project: Project, id: str, numbers: tuple[int, ...]) -> Project:  # noqa: A002
    """Return the project without openings of a span, numbered from 0.

    Raises
    ------
    StringerlabError
        When there is no such span or opening.
    """
    span = span_of(project, id)
    return replaced(project, replace(span, openings=_without(span, span.openings, numbers, "opening")))


def with_crossing(project: Project, id: str, crossing: Crossing, number: int | None = None) -> Project:  # noqa: A002
    """Return the project with a span's crossing of this number, from 0, replaced; added without a number.

    Raises
    ------
    StringerlabError
        When there is no such span or crossing.
    """
    span = span_of(project, id)
    return replaced(
        project, replace(span, crossings=_with(span, span.crossings, crossing, number, "crossing"))
    )


def without_crossings(project: Project, id: str, numbers: tuple[int, ...]) -> Project:  # noqa: A002
    """Return the project without crossings of a span, numbered from 0.

    Raises
    ------
    StringerlabError
        When there is no such span or crossing.
    """
    span = span_of(project, id)
    return replaced(project, replace(span, crossings=_without(span, span.crossings, numbers, "crossing")))


def with_landing(project: Project, id: str, end: int, landing: Landing) -> Project:  # noqa: A002
    """Return the project with an end of a span landing so: 0 aft, 1 forward.

    An end that now dies on skin or chine is called simple where it was held: it is not held there.

    Raises
    ------
    StringerlabError
        When there is no such span.
    """
    span = span_of(project, id)
    dies = landing.on in DIES and span.ends[end] is End.HELD
    aft, forward = span.ends
    ends = ((End.SIMPLE, forward) if end == 0 else (aft, End.SIMPLE)) if dies else span.ends
    landings = (landing, span.landings[1]) if end == 0 else (span.landings[0], landing)
    return replaced(project, replace(span, landings=landings, ends=ends))


def with_outboards(project: Project, id: str, load: TransomLoad | None) -> Project:  # noqa: A002
    """Return the project with outboards on a span, or none; its aft end then lands on the transom.

    Raises
    ------
    StringerlabError
        When there is no such span.
    """
    span = span_of(project, id)
    landings = span.landings
    if load is not None and all(landing.on is not LandsOn.TRANSOM for landing in landings):
        landings = (replace(landings[0], on=LandsOn.TRANSOM), landings[1])
    return replaced(project, replace(span, transom=load, landings=landings))


def _with(span: Span, held: tuple[_T, ...], item: _T, number: int | None, word: str) -> tuple[_T, ...]:
    if number is None:
        return (*held, item)
    _refuse(span, len(held), number, word)
    return (*held[:number], item, *held[number + 1 :])


def _without(span: Span, held: tuple[_T, ...], numbers: tuple[int, ...], word: str) -> tuple[_T, ...]:
    for number in numbers:
        _refuse(span, len(held), number, word)
    return tuple(item for place, item in enumerate(held) if place not in numbers)


def _refuse(span: Span, count: int, number: int, word: str) -> None:
    if not 0 <= number < count:
        raise StringerlabError(
            Problem(
                f"There is no {word} {number + 1}.", f"span '{span.name}' ({span.id})", f"It has {count}."
            )
        )
