"""Which ends of beams carry no moment on, as their crown is cut at a crossing and nothing stands behind it.

Moment goes through a crossing with the crown. Where that is cut, tabs or a diaphragm behind the web carry it
on; with neither the end turns freely. Plating and bottom flanges, which run on, are thin: the moment they
carry of their own is left out. Of members that are all cut at one crossing one goes through all the same:
one that goes on before one that ends there, a longitudinal before others, then the first drawn.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.grid.records import Array, Ground, Index, Mask
from stringerlab.layout import Backed, Cut
from stringerlab.layout.found import FoundSpan
from stringerlab.layout.plan import MemberKind


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Released:
    """Ends of beams that turn freely, (m, 2); None where there is none; and what must be said of them."""

    pinned: Mask | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _End:
    span: int
    image: int
    end: int
    member: str
    cut: bool


def released(ground: Ground, span: Index, image: Index, part: Array) -> Released:
    """Return which ends of a grid's beams turn freely.

    Parameters
    ----------
    ground
        The layout, and what is found in it.
    span, image
        (m,) of which span each beam is, and of which of its images.
    part
        (m, 2) from where to where along it each lies (0 to 1).
    """
    members = {member.id: (number, member) for number, member in enumerate(ground.layout.members)}
    free: set[tuple[int, int, int]] = set()
    names: dict[str, None] = {}
    through: dict[str, None] = {}
    for ends in _nodes(ground).values():
        here = dict.fromkeys(end.member for end in ends)
        cut = {end.member for end in ends if end.cut}
        if cut and len(cut) == len(here):
            first = min(
                here,
                key=lambda id_: (
                    sum(end.member == id_ for end in ends) < 2,
                    members[id_][1].kind is not MemberKind.LONGITUDINAL,
                    members[id_][0],
                ),
            )
            cut.discard(first)
            if len(here) > 1:
                through[members[first][1].name] = None
        for end in ends:
            if end.member in cut and end.cut:
                free.add((end.span, end.image, end.end))
                names[members[end.member][1].name] = None
    if not free:
        return Released(pinned=None, notes=_through(through))
    keys = list(zip(span.tolist(), image.tolist(), strict=True))
    pinned = np.array([[(*key, end) in free for end in (0, 1)] for key in keys], bool)
    pinned &= np.stack([part[:, 0] == 0, part[:, 1] == 1], axis=1)
    said = (
        f"crowns cut with nothing behind them carry no moment through in the grid: {int(pinned.sum())} ends "
        f"of {_listed(names)}; what the plating and flanges that run on carry of their own is left out"
    )
    return Released(pinned=pinned, notes=(said, *_through(through)))


def _nodes(ground: Ground) -> Mapping[int, list[_End]]:
    """Return the ends of members, bulkheads apart, at each node."""
    kinds = {member.id: member.kind for member in ground.layout.members}
    found: dict[int, list[_End]] = {}
    for number, span in enumerate(ground.found.spans):
        if kinds[span.member] is MemberKind.BULKHEAD:
            continue
        cut = _cut(span)
        for image, ends in enumerate(span.nodes):
            for end, node in enumerate(ends):
                found.setdefault(node, []).append(_End(number, image, end, span.member, cut[end]))
    return found


def _cut(span: FoundSpan) -> tuple[bool, bool]:
    """Return whether a span's crown is cut at its first and its last node, with nothing behind it."""
    if span.span is None:
        return False, False
    lu = span.span.lu
    at = [
        each.x > lu / 2
        for each in span.span.crossings
        if each.crown is Cut.CUT and each.backed is Backed.NONE
    ]
    return False in at, True in at


def _through(names: Mapping[str, None]) -> tuple[str, ...]:
    if not names:
        return ()
    return (f"where every member of a crossing is cut, one goes through in the grid: {_listed(names)}",)


def _listed(names: Mapping[str, None] | Sequence[str]) -> str:
    each = list(names)
    more = f" and {len(each) - 4} more" if len(each) > 4 else ""
    return ", ".join(each[:4]) + more
