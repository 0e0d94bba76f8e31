"""The spans of a layout made of its members' runs: named, measured, one for each pair of mirror images."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import cast

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.geometry.graph import Array, Index, floats, integers
from stringerlab.layout.alike import images, judged_once
from stringerlab.layout.found import FoundSpan, MemberSize, Placed
from stringerlab.layout.network import Network
from stringerlab.layout.plan import Layout, Member, MemberKind, SpanMark
from stringerlab.layout.records import Span
from stringerlab.layout.runs import Runs
from stringerlab.layout.span_sizes import Ended, Ends, crossings_of, openings_of

SHORTEST, LONGEST = 20.0, 20_000.0
"""Bounds of what is judged, as a span's and a panel's records have them [mm]."""
_SAME = 1.0
"""Mirror images differ by no more [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """The found spans, and which each run is a part of."""

    spans: tuple[FoundSpan, ...]
    of_run: tuple[int, ...]
    """Index into ``spans``."""
    amiss: tuple[Placed, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Whole:
    """Runs one after another between two supports, in the span's direction."""

    ends: tuple[Ended, Ended]
    lu: float
    clear: tuple[float, float]
    """Where its clear length begins and ends along its line, in plan."""


def found_spans(
    net: Network,
    runs: Runs,
    layout: Layout,
    bottom: Bottom,
    sections: Sequence[str],
    sizes: Sequence[MemberSize],
    known: Sequence[str],
    spacing: Array,
    mirror: Index,
) -> Spans:
    """Return the spans of runs.

    Parameters
    ----------
    net, runs, layout, bottom
        What was found so far.
    sections, sizes
        Of every run.
    known
        Sections whose size is known.
    spacing
        (r,) in the skin [mm].
    mirror
        (v,) mirror image of every vertex.
    """
    ends = Ends(net, runs, layout, sizes)
    forward = _forward(net, runs, layout)
    wholes = _Wholes(runs, ends, forward)
    labels = [(ends.member(run).id, sections[run]) for run in range(len(runs.line))]
    image = images(runs.vertices, labels, mirror)
    groups = judged_once(_alike(image, runs, forward, spacing) if image else [], runs.middle)
    marks = _by_key(layout.spans)
    plan = runs.lines(net.graph.points)
    deadrise = np.degrees(np.clip(bottom.deadrise(runs.middle[:, 0]), 0, None))
    order = _numbered(groups, runs, ends)
    middle = cast("list[tuple[float, float]]", [tuple(each) for each in runs.middle.tolist()])
    spaced, slope = floats(spacing), floats(np.arccos(np.minimum(runs.flat / runs.length, 1.0)))
    length, risen = floats(runs.length), floats(np.minimum(deadrise, 60.0))
    made: list[FoundSpan] = []
    of_run = [0] * len(runs.line)
    amiss: list[Placed] = []
    for place, group in enumerate(groups):
        run = group[0]
        for each in group:
            of_run[each] = place
        member, way = ends.member(run), forward[run]
        nodes = [ends.ends[each] if forward[each] else ends.ends[each][::-1] for each in group]
        between = (runs.nodes[nodes[0][0]].key, runs.nodes[nodes[0][1]].key)
        mark = marks.get((member.id, frozenset(between)))
        id_ = mark.id if mark else f"{member.id}:{between[0]}-{between[1]}"
        name = mark.name if mark and mark.name else f"{member.name}, span {order[place]}"
        line = net.lines[ends.line[run]]
        first, last = ends.along[run]
        along = (first, last) if way else (last, first)
        at, whole, s = middle[run], wholes.of(run), spaced[run]
        span: Span | None = None
        wrong = _unjudged(member, sections[run], known, whole, s)
        if wrong is not None:
            amiss += [Placed(problem=replace(wrong, where=f"{name} ({id_})"), at=at)] if wrong.what else []
        else:
            span = Span(
                id=id_,
                name=name,
                section=sections[run],
                lu=whole.lu,
                s=s,
                x=at[0],
                deadrise=risen[run] if member.kind is MemberKind.LONGITUDINAL else 0.0,
                ends=(whole.ends[0].end, whole.ends[1].end),
                attached=member.attached,
                y=abs(at[1]),
                count=len(group),
                landings=(whole.ends[0].landing, whole.ends[1].landing),
                openings=openings_of(member, line.joined, line.inward, along, whole.clear, whole.lu),
                crossings=crossings_of(member, whole.ends, whole.lu),
                duty=member.duty,
            )
            if sum(landing.taper for landing in span.landings) > span.lu:
                what = "Its tapers are longer than the span."
                amiss.append(Placed(problem=Problem(what, f"{name} ({id_})", "Shorten them."), at=at))
        made.append(
            FoundSpan(
                id=id_,
                key=(member.id, between),
                member=member.id,
                section=sections[run],
                nodes=tuple((a, b) for a, b in nodes),
                lines=tuple(plan[each][:: 1 if forward[each] else -1] for each in group),
                length=length[run],
                slope=slope[run],
                span=span,
            )
        )
    amiss += _doubled_marks(layout.spans, made, amiss_at=[runs.middle[group[0]] for group in groups])
    return Spans(tuple(made), tuple(of_run), tuple(amiss))


def _unjudged(member: Member, section: str, known: Sequence[str], whole: _Whole, s: float) -> Problem | None:
    """Return why a run is no span that is judged; without words for a bulkhead, None when it is one."""
    if member.kind is MemberKind.BULKHEAD:
        return Problem("")
    if section not in known:
        what = f"Its section '{section}' is not in the project." if section else "It has no section."
        return Problem(what, remedy="Choose a section for it.")
    if whole.lu < 0:
        return Problem(
            f"What it ends on overlaps by {-whole.lu:.0f} mm: nothing of it is left between.",
            remedy="Move a member so that the span is longer, or remove one.",
        )
    if not SHORTEST <= whole.lu <= LONGEST:
        return Problem(
            f"It is {whole.lu:.0f} mm long between what it ends on; from 20 mm to 20 m is judged.",
            remedy="Move a member so that the span is longer, or remove one."
            if whole.lu < 100
            else "Support it.",
        )
    if not SHORTEST <= s <= LONGEST:
        return Problem(
            f"Its spacing is {s:.0f} mm; from 20 mm to 20 m is judged.", remedy="Move it, or its neighbour."
        )
    return None


def _forward(net: Network, runs: Runs, layout: Layout) -> list[bool]:
    """Return whether each run is drawn the way its span goes: forward, outboard, to port across the keel."""
    corners = np.array([(chain[0], chain[-1]) for chain in runs.vertices], np.intp).reshape(-1, 2)
    found: list[bool] = []
    for number, ((x_1, y_1), (x_2, y_2)) in zip(
        integers(runs.line), net.graph.points[corners].tolist(), strict=True
    ):
        member = net.lines[number].member
        if member is not None and layout.members[member].kind is MemberKind.LONGITUDINAL:
            found.append(x_2 >= x_1)
        elif min(y_1, y_2) < -_SAME and max(y_1, y_2) > _SAME:
            found.append(y_2 >= y_1)
        else:
            found.append(abs(y_2) >= abs(y_1))
    return found


class _Wholes:
    """The wholes between supports that runs are parts of, made when asked for."""

    def __init__(self, runs: Runs, ends: Ends, forward: Sequence[bool]) -> None:
        self.ends, self.forward = ends, forward
        self.first = integers(np.nonzero(np.diff(runs.whole, prepend=-1))[0])
        self.last = [*(each - 1 for each in self.first[1:]), len(runs.whole) - 1]
        self.length = floats(np.bincount(runs.whole, weights=runs.length).astype(float))
        self.whole = integers(runs.whole)

    def of(self, run: int) -> _Whole:
        """Return the whole a run is a part of, in the run's span's direction."""
        number = self.whole[run]
        first, last, total = self.first[number], self.last[number], self.length[number]
        both = (self.ends.of(first, 0), self.ends.of(last, 1))
        start, stop = self.ends.along[first][0], self.ends.along[last][1]
        scale = (stop - start) / total
        clear = (start + both[0].taken * scale, stop - both[1].taken * scale)
        lu = total - both[0].taken - both[1].taken
        if self.forward[run]:
            return _Whole(both, lu, clear)
        return _Whole((both[1], both[0]), lu, (clear[1], clear[0]))


def _alike(image: Sequence[int], runs: Runs, forward: Sequence[bool], spacing: Array) -> list[int]:
    """Return the images of runs that are judged like them: as long, as far apart, meeting the same."""
    other = np.array(image, np.intp)
    kinds: dict[tuple[tuple[str, ...], str], int] = {}
    kind = np.array([kinds.setdefault((node.members, node.edge), len(kinds)) for node in runs.nodes], np.intp)
    way = np.array(forward, bool)[:, None]
    met = kind[np.where(way, runs.ends, runs.ends[:, ::-1])]
    same = (other >= 0) & (met == met[other]).all(axis=1)
    same &= (np.abs(runs.length - runs.length[other]) <= _SAME) & (np.abs(spacing - spacing[other]) <= _SAME)
    return integers(np.where(same, other, -1))


def _by_key(marks: Sequence[SpanMark]) -> dict[tuple[str, frozenset[str]], SpanMark]:
    """Return marks by member and nodes; of two for one span the first, which is the older."""
    found: dict[tuple[str, frozenset[str]], SpanMark] = {}
    for mark in marks:
        found.setdefault((mark.member, frozenset(mark.between)), mark)
    return found


def _doubled_marks(
    marks: Sequence[SpanMark], spans: Sequence[FoundSpan], amiss_at: Sequence[Array]
) -> list[Placed]:
    places = {(span.member, frozenset(span.key[1])): at for span, at in zip(spans, amiss_at, strict=True)}
    seen: dict[tuple[str, frozenset[str]], SpanMark] = {}
    found: list[Placed] = []
    for mark in marks:
        key = (mark.member, frozenset(mark.between))
        kept = seen.setdefault(key, mark)
        if kept is not mark and key in places:
            at = places[key]
            found.append(
                Placed(
                    problem=Problem(
                        f"Two spans, {kept.id} and {mark.id}, have become one.",
                        f"member {mark.member}",
                        f"{kept.id} is kept, the older; {mark.id} is gone.",
                    ),
                    at=(float(at[0]), float(at[1])),
                )
            )
    return found


def _numbered(groups: Sequence[tuple[int, ...]], runs: Runs, ends: Ends) -> list[int]:
    """Return the number of every span within its member: from aft forward, or from inboard outboard."""
    of: dict[str, list[tuple[float, float, int]]] = defaultdict(list)
    for place, group in enumerate(groups):
        member = ends.member(group[0])
        x, y = runs.middle[group[0]].tolist()
        along = (x, abs(y)) if member.kind is MemberKind.LONGITUDINAL else (abs(y), x)
        of[member.id].append((*along, place))
    found = [0] * len(groups)
    for numbers in of.values():
        for order, (_, _, place) in enumerate(sorted(numbers), 1):
            found[place] = order
    return found
