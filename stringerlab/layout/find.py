"""Panels and spans found in a drawn layout: its members and the hull's edges part the bottom between them.

x forward, y to port, mm. What is drawn once and stands on both sides is judged once.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from stringerlab.craft import Bottom, Craft, bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.faces import faces_of, place_within
from stringerlab.geometry.graph import SNAP, TooManyError
from stringerlab.geometry.near import mirrored
from stringerlab.layout.found import Found, FoundBay, FoundSpan, MemberSize, Placed
from stringerlab.layout.found_bays import found_bays, half_bases
from stringerlab.layout.found_spans import found_spans
from stringerlab.layout.network import network
from stringerlab.layout.plan import BayMark, Layout, PlanPoint, SpanMark
from stringerlab.layout.plan_lines import drawn_lines
from stringerlab.layout.runs import runs_of
from stringerlab.layout.span_sizes import run_sizes, spacings


def found(layout: Layout, craft: Craft, sizes: Mapping[str, MemberSize]) -> Found:
    """Return the nodes, spans and bays of a layout on a craft's bottom, and what is amiss and where.

    Parameters
    ----------
    layout
        As drawn.
    craft
        Its stations bound the bottom.
    sizes
        By the section's id. A member whose section has none is found, but not judged, and said so.

    Returns
    -------
    Found
        Without nodes, spans and bays, but with the reason, when the stations give no bottom or the layout
        holds more than can be looked through.
    """
    try:
        hull = bottom(craft)
    except StringerlabError as error:
        amiss = tuple(Placed(problem=each, at=(0.0, 0.0)) for each in error.problems)
        return Found(layout=layout.id, nodes=(), spans=(), bays=(), outline=np.zeros((0, 2)), amiss=amiss)
    try:
        return _found(layout, hull, sizes)
    except TooManyError as error:
        problem = Problem(
            f"The layout holds {len(layout.members)} members with too many meetings to look through "
            f"({error.pairs} counted).",
            f"layout '{layout.name}'",
            "Remove members, or split the layout into parts.",
        )
        middle = hull.outline.mean(axis=0).tolist()
        placed = Placed(problem=problem, at=(middle[0], middle[1]))
        return Found(layout=layout.id, nodes=(), spans=(), bays=(), outline=hull.outline, amiss=(placed,))


def _found(layout: Layout, hull: Bottom, sizes: Mapping[str, MemberSize]) -> Found:
    lines, amiss = drawn_lines(layout, hull)
    net, more = network(lines, layout, hull)
    runs = runs_of(net, hull)
    faces = faces_of(net.graph.points, net.graph.edges)
    mirror = mirrored(faces.points, 2 * SNAP)
    sections, of_runs = run_sizes(net, runs, layout, sizes)
    spacing = spacings(net, runs, faces, hull)
    spans = found_spans(net, runs, layout, hull, sections, of_runs, tuple(sizes), spacing, mirror)
    half = half_bases(runs, faces, of_runs, hull)
    bays, small = found_bays(net, runs, faces, layout, hull, half, spans.spans, spans.of_run, mirror)
    return Found(
        layout=layout.id,
        nodes=runs.nodes,
        spans=spans.spans,
        bays=bays,
        outline=hull.outline,
        amiss=(*amiss, *more, *spans.amiss, *small),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Unmarked:
    """What has no lasting name yet, and the names of what is no longer there."""

    spans: tuple[tuple[FoundSpan, str], ...]
    """Each with the id of the gone span it was most likely split from; empty for none."""
    bays: tuple[tuple[FoundBay, PlanPoint], ...]
    """Each with a place well inside it."""
    gone_spans: tuple[SpanMark, ...]
    gone_bays: tuple[BayMark, ...]


def unmarked(found: Found, layout: Layout) -> Unmarked:
    """Return what of the found needs a mark in its layout, and which marks stand for nothing.

    A span without a mark comes from the gone span of the same member with which it shares a node; of several
    from the first. Without any such, but one span of the member gone, from that.
    """
    span_ids = {span.id for span in found.spans}
    bay_ids = {bay.id for bay in found.bays}
    gone = tuple(mark for mark in layout.spans if mark.id not in span_ids)
    marked_spans, marked_bays = {mark.id for mark in layout.spans}, {mark.id for mark in layout.bays}
    return Unmarked(
        spans=tuple((span, _parent(span, gone)) for span in found.spans if span.id not in marked_spans),
        bays=tuple((bay, _inside(bay)) for bay in found.bays if bay.id not in marked_bays),
        gone_spans=gone,
        gone_bays=tuple(mark for mark in layout.bays if mark.id not in bay_ids),
    )


def _parent(span: FoundSpan, gone: tuple[SpanMark, ...]) -> str:
    mine = [mark for mark in gone if mark.member == span.member]
    sharing = [mark for mark in mine if set(mark.between) & set(span.key[1])]
    if sharing:
        return sharing[0].id
    return mine[0].id if len(mine) == 1 else ""


def _inside(bay: FoundBay) -> PlanPoint:
    return place_within(bay.clear[0] if len(bay.clear[0]) >= 3 else bay.rings[0])
