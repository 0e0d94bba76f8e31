"""What is wrong with a layout's records as drawn, each alone."""

from collections.abc import Iterator
from itertools import pairwise
from math import hypot, isfinite

from stringerlab.errors import Problem
from stringerlab.layout.plan import Cavity, Combination, Layout, Member, PlanPoint
from stringerlab.project.contents import LayoutPart
from stringerlab.units.ranges import range_problems


def layout_problems(record: Layout | LayoutPart, where: str) -> Iterator[Problem]:
    """Yield what is wrong with a layout itself, or with one part of it.

    Parameters
    ----------
    record
        The record; a layout's parts are looked at by themselves.
    where
        How a person knows it.
    """
    if isinstance(record, Layout):
        yield from range_problems(record.supports, f"{where}, supports")
        yield from range_problems(record.rules, f"{where}, rules")
        yield from range_problems(record.flotation, f"{where}, flotation")
        return
    yield from range_problems(record, where)
    if isinstance(record, Member):
        yield from _member_problems(record, where)
    elif isinstance(record, Cavity) and not record.anchors:
        yield Problem("It lies in no bay.", where, "Say which bays it lies in.")
    elif isinstance(record, Combination) and not record.parts:
        yield Problem("Nothing acts in it.", where, "Name a load, or remove it.")


def drawn_length(points: tuple[PlanPoint, ...]) -> float:
    """Return the length of a line drawn in plan [mm]."""
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))


def _member_problems(member: Member, where: str) -> Iterator[Problem]:
    if not member.section:
        yield Problem("It has no section.", where, "Choose one; its spans are not judged without.")
    for number, stretch in enumerate(member.stretches, 1):
        if not stretch.section:
            yield Problem("It has no section.", f"{where}, stretch {number}", "Choose one.")
    length = drawn_length(member.points)
    if not isfinite(length):
        return
    before = 0.0
    for number, stretch in enumerate(member.stretches, 1):
        here = f"{where}, stretch {number}"
        if stretch.start > length:
            yield Problem(
                f"It begins at {stretch.start:g} mm along a member of {length:.0f} mm.",
                here,
                "Let it begin sooner, or remove it.",
            )
        if stretch.start < before:
            yield Problem("It begins before the one ahead of it.", here, "Put them in order.")
        before = stretch.start
    for number, hole in enumerate(member.openings, 1):
        if hole.x > length:
            yield Problem(
                f"It lies at {hole.x:g} mm along a member of {length:.0f} mm.",
                f"{where}, opening {number}",
                "Move it along, or remove it.",
            )
