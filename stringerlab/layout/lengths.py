"""How long the members of a layout are, section by section, no crossing counted twice. x, y, z and mm.

Where members meet, one goes through and the others stop at its web root: the one that goes on rather than one
that ends, then one whose crown is drawn continuous, then the higher, of equal ones the longitudinal.
"""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.layout.found import Array, Found, MemberSize
from stringerlab.layout.openings import Cut
from stringerlab.layout.plan import Contact, Layout, Member, MemberKind

GLANCING = 0.35
"""A base met at less than 20° takes no more of a member than at 20° (sine)."""
_NOTHING = MemberSize(base_width=0.0, height=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A stretch of a member between two nodes, of it and its mirror image apart."""

    member: Member
    span: str
    """The found span's id."""
    section: str
    length: float
    """In the skin, less what other members take at its ends [mm]."""
    at: tuple[float, float, float]
    """Its middle on the hull's bottom."""
    chine_ends: int
    """Ends of it that are bonded up the hull's side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    run: int
    member: Member
    height: float
    base: float
    way: tuple[float, float]
    """Of unit length, out of the node."""


def lengths_of(
    layout: Layout, found: Found, bottom: Bottom, sizes: Mapping[str, MemberSize]
) -> tuple[Length, ...]:
    """Return every stretch of every member of a layout, on both sides of the boat.

    Parameters
    ----------
    layout
        As drawn.
    found
        What is found in it.
    bottom
        The hull's.
    sizes
        By the section's id.
    """
    members = {member.id: member for member in layout.members}
    runs = [
        (span, image, nodes, line)
        for span in found.spans
        for image, (nodes, line) in enumerate(zip(span.nodes, span.lines, strict=True))
    ]
    at: dict[int, list[_End]] = defaultdict(list)
    ends: list[tuple[_End, _End]] = []
    for number, (span, _, nodes, line) in enumerate(runs):
        size = sizes.get(span.section, _NOTHING)
        both = (
            _end(number, members[span.member], size, line[0], line[1]),
            _end(number, members[span.member], size, line[-1], line[-2]),
        )
        ends.append(both)
        for node, end in zip(nodes, both, strict=True):
            at[node].append(end)
    through = {node: _through(here) for node, here in at.items()}
    made: list[Length] = []
    for (span, _, nodes, line), both in zip(runs, ends, strict=True):
        taken = sum(_taken(end, through[node], at[node]) for node, end in zip(nodes, both, strict=True))
        member = members[span.member]
        edges = [found.nodes[node].edge for node in nodes]
        up = member.contact is Contact.ALL_ROUND
        made.append(
            Length(
                member=member,
                span=span.id,
                section=span.section,
                length=max(bottom.length(line) - taken, 0.0),
                at=_middle(line, bottom),
                chine_ends=edges.count("chine") if up else 0,
            )
        )
    return tuple(made)


def _end(run: int, member: Member, size: MemberSize, at: Array, to: Array) -> _End:
    step = to - at
    far = float(np.hypot(*step)) or 1.0
    return _End(
        run=run,
        member=member,
        height=size.height,
        base=size.base_width,
        way=(float(step[0]) / far, float(step[1]) / far),
    )


def _through(here: list[_End]) -> str:
    """Return the id of the member that goes through a node."""

    def rank(end: _End) -> tuple[bool, bool, float, bool]:
        goes_on = sum(other.member.id == end.member.id for other in here) > 1
        return (
            goes_on,
            end.member.crown is Cut.CONTINUOUS,
            end.height,
            end.member.kind is MemberKind.LONGITUDINAL,
        )

    return max(here, key=rank).member.id


def _taken(end: _End, through: str, here: list[_End]) -> float:
    """Return how much of a stretch the member that goes through takes at one end [mm]."""
    if end.member.id == through:
        return 0.0
    (a, b) = end.way
    return max(
        other.base / 2 / max(abs(a * other.way[1] - b * other.way[0]), GLANCING)
        for other in here
        if other.member.id == through
    )


def _middle(line: Array, bottom: Bottom) -> tuple[float, float, float]:
    """Return the centroid of a plan line as it lies on the bottom; a leg may cross the keel midway."""
    first, last = line[:-1], line[1:]
    weights = np.maximum(bottom.leg_lengths(first, last), 1e-9)
    middles = (first + last) / 2
    x, y = np.average(middles, axis=0, weights=weights)
    heights = (bottom.height(first) + 2 * bottom.height(middles) + bottom.height(last)) / 4
    return float(x), float(y), float(np.average(heights, weights=weights))


__all__ = ["Length", "lengths_of"]
