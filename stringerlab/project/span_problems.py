"""What is wrong with a span's openings, landings, crossings and outboards, alone and among themselves."""

from collections.abc import Iterator
from itertools import combinations
from math import radians

from stringerlab.errors import Problem
from stringerlab.layout.openings import LandsOn, Opening
from stringerlab.layout.records import End, Span
from stringerlab.project.kept import Kept
from stringerlab.section.openings import crown_height
from stringerlab.section.records import Section

ENDS = ("aft", "forward")
DIES = (LandsOn.SKIN, LandsOn.CHINE, LandsOn.TAPERED)
"""Landings that hold no end."""
_HEIGHTS: Kept[float] = Kept(128)


def span_problems(span: Span, section: Section | None, where: str) -> Iterator[Problem]:
    """Yield what does not fit a span, or does not fit together.

    Parameters
    ----------
    span
        The span.
    section
        Its section, None where it has none that is known.
    where
        How a person knows the span.
    """
    height = member_height(section)
    for number, hole in enumerate(span.openings, 1):
        yield from _opening_problems(hole, span, height, f"{where}, opening {number}")
    for (one, hole), (two, other) in combinations(enumerate(span.openings, 1), 2):
        if _overlap(hole, other):
            yield Problem(
                f"Openings {one} and {two} overlap.", f"{where}, opening {two}", "Move one, or make them one."
            )
    for end in (0, 1):
        yield from _landing_problems(span, end, height, f"{where}, {ENDS[end]} landing")
    if sum(landing.taper for landing in span.landings) > span.lu:
        yield Problem("Its tapers are longer than the span.", where, "Shorten them.")
    for number, crossing in enumerate(span.crossings, 1):
        if crossing.x > span.lu:
            yield Problem(
                f"It crosses at x {crossing.x:g} mm, beyond the span's {span.lu:g} mm.",
                f"{where}, crossing {number}",
                "x is along the span, from its aft end.",
            )
    if span.transom is not None:
        here = f"{where}, transom"
        if all(landing.on is not LandsOn.TRANSOM for landing in span.landings):
            yield Problem(
                "It carries outboards, but neither end lands on the transom.",
                here,
                "Let an end land on the transom, or take the outboards off.",
            )
        if not span.transom.thrust and not span.transom.weight:
            yield Problem(
                "It carries outboards without thrust or weight.", here, "Give them, or take it off."
            )


def member_height(section: Section | None) -> float | None:
    """Return how high a section's crown stands above the shell [mm]; None without one."""
    if section is None or not section.walls:
        return None
    slope = radians(section.reference.deadrise) if section.reference else 0.0
    return _HEIGHTS.get((section,), lambda: crown_height(section.walls, slope))


def _opening_problems(hole: Opening, span: Span, height: float | None, where: str) -> Iterator[Problem]:
    aft, forward = hole.x - hole.width / 2, hole.x + hole.width / 2
    if aft < 0 or forward > span.lu:
        yield Problem(
            f"It reaches from x {aft:g} to {forward:g} mm, beyond the span's 0 to {span.lu:g} mm.",
            where,
            "x is that of its middle, along the span from its aft end.",
        )
    top = hole.bottom + hole.height
    if height is not None and top >= height:
        yield Problem(
            f"It reaches {top:g} mm above the shell; the member is {height:.4g} mm high.",
            where,
            "Make it lower: some web must stand above it.",
        )
    if 2 * hole.radius > min(hole.height, hole.width) * (1 + 1e-9):
        yield Problem(
            f"A corner of radius {hole.radius:g} mm does not fit {hole.width:g} × {hole.height:g} mm.",
            where,
            "Half of its smaller side makes it round.",
        )


def _overlap(one: Opening, other: Opening) -> bool:
    return (
        abs(one.x - other.x) < (one.width + other.width) / 2
        and one.bottom < other.bottom + other.height
        and other.bottom < one.bottom + one.height
    )


def _landing_problems(span: Span, end: int, height: float | None, where: str) -> Iterator[Problem]:
    landing, held = span.landings[end], span.ends[end]
    if landing.on in DIES and held is End.HELD:
        on = "out on the skin" if landing.on is LandsOn.TAPERED else f"on the {landing.on.value}"
        yield Problem(
            f"An end that dies {on} is not held.", where, "Call the end simple, or carry it to a support."
        )
    if held is End.FREE and landing.on not in (LandsOn.AS_END, *DIES):
        yield Problem(
            f"A free end cannot land: {landing.on.value}.",
            where,
            "Call the end held or simple, or say nothing.",
        )
    if landing.on is LandsOn.TAPERED and not landing.taper:
        yield Problem("It tapers over no length.", where, "Give the length of the taper.")
    if landing.height is not None and not landing.taper:
        yield Problem("Its crown falls over no length.", where, "Give the length of the taper.")
    if landing.taper and landing.on is not LandsOn.TAPERED and landing.height is None:
        yield Problem("It tapers to no height.", where, "Give the crown's height at the end.")
    if height is not None and landing.height is not None and landing.taper and landing.height >= height:
        yield Problem(
            f"Its crown does not fall: {landing.height:g} mm at the end, {height:.4g} mm elsewhere.",
            where,
            "Give a lesser height at the end.",
        )
