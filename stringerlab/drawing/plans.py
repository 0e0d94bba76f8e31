"""A layout as a picture in plan: x forward to the right, y to port up, mm.

From back to front: hull bottom, cavities, panels, members at their true width, lines of the hull, nodes and
supports, equipment, names. Whatever is wrong with a layout is drawn as far as it can be.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from stringerlab.craft import Bottom, Craft, bottom
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Shape
from stringerlab.drawing.plan_options import PlanOptions, Width
from stringerlab.drawing.plan_shapes import at_parts, clean, distances, middle, piece, ribbon
from stringerlab.drawing.plan_symbols import symbol
from stringerlab.errors import StringerlabError
from stringerlab.layout.cavity_sites import site_of
from stringerlab.layout.found import Found, Node
from stringerlab.layout.openings import Cut
from stringerlab.layout.plan import (
    Cavity,
    Contact,
    Hand,
    Held,
    Layout,
    LineKind,
    Member,
    MemberKind,
    Supports,
    Use,
)
from stringerlab.layout.plan_lines import standing
from stringerlab.layout.standing import Standing

_LINES = {
    LineKind.SPRAY_STEP: Role.SPRAY_STEP,
    LineKind.HULL_STEP: Role.HULL_STEP,
    LineKind.TRACE: Role.UNDERLAY,
}
SUPPORT_SHAPES = {
    Held.FREE: Shape.CIRCLE,
    Held.SIMPLE: Shape.TRIANGLE,
    Held.ELASTIC: Shape.DIAMOND,
    Held.CLAMPED: Shape.SQUARE,
}
"""Which mark shows how an end is held."""
_AT_EDGE = 2.0
"""A member's end so near the chine is on it [mm]."""


def plan_picture(
    found: Found, layout: Layout, craft: Craft, *, options: PlanOptions | None = None
) -> Picture:
    """Return a layout in plan.

    Subjects are the ids of what is drawn and found; a span's is ``member/span``.

    Parameters
    ----------
    found
        What is found in the layout.
    layout
        Members, lines, cavities, equipment.
    craft
        Whose bottom it lies on.
    options
        What is shown, and the widths of sections.
    """
    chosen = options or PlanOptions()
    try:
        hull = bottom(craft)
    except StringerlabError:
        hull = None
    items: list[Item] = [*hull_items(hull, chosen)]
    if chosen.cavities:
        items += _cavities(layout, found, chosen)
    if chosen.panels:
        items += _panels(found)
    if chosen.members:
        items += _members(layout, hull, chosen)
    if chosen.lines:
        items += _drawn_lines(layout)
    if chosen.nodes:
        items += _nodes(found)
    if chosen.supports:
        items += _supports(found, layout.supports)
    if chosen.equipment:
        for thing in layout.equipment:
            items += symbol(thing, named=chosen.other_names, units=chosen.units)
    items += _names(layout, found, chosen)
    return Picture(items=tuple(items))


# -- hull ----------------------------------------------------------------------------------------


def hull_items(hull: Bottom | None, options: PlanOptions) -> Iterator[Item]:
    """Yield the bottom's outline, its chines, keel, transom and stations."""
    if hull is None:
        yield Label(at=(0.0, 0.0), text="no hull bottom: give it two stations", role=Role.WARNING)
        return
    yield Area(rings=(hull.outline,), role=Role.KEEL, subject="bottom", tip="hull bottom")
    ends = ((float(hull.x[0]), "transom"), (float(hull.x[-1]), "forward edge"))
    if options.stations:
        for number, (x, half) in enumerate(zip(hull.x.tolist(), hull.chine_y.tolist(), strict=True), 1):
            line = np.array([(x, -half), (x, half)])
            yield Line(points=line, role=Role.GRID, subject=f"station/{number}", tip=f"station {number}")
    for side, name in ((1.0, "port"), (-1.0, "starboard")):
        points = np.stack([hull.x, side * hull.chine_y], axis=1)
        yield Line(points=points, role=Role.CHINE, subject="chine", tip=f"{name} chine")
    for (x, name), half in zip(ends, (hull.chine_y[0], hull.chine_y[-1]), strict=True):
        yield Line(points=np.array([(x, -half), (x, half)]), role=Role.TOOL, subject=name, tip=name)
    keel = np.array([(ends[0][0], 0.0), (ends[1][0], 0.0)])
    yield Line(points=keel, role=Role.AXIS, subject="keel", tip="keel, on the centreline")
    yield Label(at=(ends[1][0], 0.0), text="forward", role=Role.DIMENSION, align=1, small=True)
    yield Label(at=(ends[0][0], 0.0), text="transom", role=Role.DIMENSION, align=-1, small=True)


def _drawn_lines(layout: Layout) -> Iterator[Item]:
    for drawn in layout.lines:
        for points in standing(drawn):
            line = clean(points)
            if len(line) > 1:
                tip = f"{drawn.name}, {drawn.kind}" + (", panels end at it" if drawn.bounds else "")
                yield Line(points=line, role=_LINES[drawn.kind], subject=drawn.id, tip=tip)


# -- what is found -------------------------------------------------------------------------------


def _panels(found: Found) -> Iterator[Item]:
    for bay in found.bays:
        name = f"panel {bay.panel.name}" if bay.panel else "too small to be a panel"
        for ring in bay.clear:
            if len(ring) > 2:
                yield Line(points=ring, role=Role.PANEL, closed=True, subject=bay.id, tip=name)


def _nodes(found: Found) -> Iterator[Item]:
    for node in found.nodes:
        if not node.edge:
            yield Mark(at=node.at, shape=Shape.CIRCLE, role=Role.NODE, tip=node.key)


def held_at(node: Node, supports: Supports) -> Held | None:
    """Return how a node at an edge of the bottom is held; None for one within.

    A node on the keel counts as one at an edge only where a single member ends there.
    """
    match node.edge:
        case "transom":
            return supports.transom
        case "chine":
            return supports.chine
        case "forward":
            return supports.forward
        case "keel" if len(node.members) == 1 and supports.keel is not Held.FREE:
            return supports.keel
        case _:
            return None


def _supports(found: Found, supports: Supports) -> Iterator[Item]:
    for node in found.nodes:
        held = held_at(node, supports)
        if held is not None:
            tip = f"{held} at the {node.edge}"
            yield Mark(at=node.at, shape=SUPPORT_SHAPES[held], role=Role.SUPPORT, tip=tip)


# -- members -------------------------------------------------------------------------------------


def _members(layout: Layout, hull: Bottom | None, options: PlanOptions) -> Iterator[Item]:
    """Yield members, those whose crowns go through at crossings over the others."""
    for member in sorted(layout.members, key=lambda each: each.crown is Cut.CONTINUOUS):
        for points in standing(member):
            line = clean(points)
            if len(line) > 1:
                yield from _member(member, line, options)
                if member.contact is Contact.ALL_ROUND and hull is not None:
                    yield from _bonded_ends(member, line, hull, options)


def _member(member: Member, line: Points, options: PlanOptions) -> Iterator[Item]:
    tip = f"{member.name}, {member.kind}"
    bulkhead = member.kind is MemberKind.BULKHEAD
    for section, run in pieces_of(member, line):
        width = options.widths.get(section, Width())
        if width.base > 0:
            role = Role.BULKHEAD if bulkhead else Role.MEMBER
            yield Area(
                rings=(ribbon(run, width.base / 2),), role=role, edge=Role.MEMBER, subject=member.id, tip=tip
            )
            if options.crowns and 0 < width.crown < width.base and not bulkhead:
                yield Area(rings=(ribbon(run, width.crown / 2),), role=Role.CROWN, subject=member.id, tip=tip)
        else:
            role = Role.BULKHEAD if bulkhead else Role.MEMBER
            yield Line(points=run, role=role, subject=member.id, tip=tip)


def pieces_of(member: Member, line: Points) -> Iterator[tuple[str, Points]]:
    """Yield the sections along a member and where each runs, from its first point."""
    whole = float(distances(line)[-1])
    stretches = sorted(member.stretches, key=lambda each: each.start)
    starts = [0.0, *(each.start for each in stretches), whole]
    sections = [member.section, *(each.section for each in stretches)]
    for section, start, end in zip(sections, starts[:-1], starts[1:], strict=True):
        run = piece(line, start, end)
        if len(run) > 1:
            yield section, run


def _bonded_ends(member: Member, line: Points, hull: Bottom, options: PlanOptions) -> Iterator[Item]:
    """Yield a stroke along the chine where a member is bonded up the hull's side."""
    for (x, y), section in ((line[0], member.section), (line[-1], _last_section(member))):
        half = float(hull.half_beam(np.array([x]))[0])
        if abs(abs(float(y)) - half) > _AT_EDGE:
            continue
        reach = max(options.widths.get(section, Width()).base / 2, 90.0)
        along = np.array([x - reach, x + reach])
        stroke = np.stack([along, np.sign(y) * hull.half_beam(along)], axis=1)
        yield Line(points=stroke, role=Role.BONDED, subject=member.id, tip="bonded up the hull's side")


def _last_section(member: Member) -> str:
    return max(member.stretches, key=lambda each: each.start).section if member.stretches else member.section


# -- cavities ------------------------------------------------------------------------------------


def _cavities(layout: Layout, found: Found, options: PlanOptions) -> Iterator[Item]:
    del options
    if not layout.cavities:
        return
    stands = Standing(layout, found)
    for cavity in layout.cavities:
        for stand in site_of(cavity, stands).everywhere:
            ring = stands.clear(stand)
            if len(ring) > 2:
                tip = f"{cavity.name}, {cavity.use}"
                yield Area(rings=(ring,), role=role_of(cavity), edge=Role.CAVITY, subject=cavity.id, tip=tip)


def role_of(cavity: Cavity) -> Role:
    """Return how a cavity is filled in: with foam, as insulated, as one for water, or plain."""
    if cavity.foam:
        return Role.FOAM
    if cavity.use is Use.BILGE:
        return Role.WATER
    return Role.INSULATION if cavity.insulation > 0 else Role.CAVITY


# -- names ---------------------------------------------------------------------------------------


def _names(layout: Layout, found: Found, options: PlanOptions) -> Iterator[Item]:
    if options.cavities and options.other_names:
        for cavity in layout.cavities:
            yield from _cavity_name(cavity)
    if options.member_names:
        for member in layout.members:
            for line in _first(standing(member)):
                x, y = at_parts(line, np.array([0.5]))[0].tolist()
                yield Label(at=(x, y), text=member.name, small=True, level=1, subject=member.id)
    if options.span_names:
        for span in found.spans:
            x, y = at_parts(span.lines[0], np.array([0.5]))[0].tolist()
            yield Label(at=(x, y), text=span.id, small=True, role=Role.DIMENSION, subject=span.id)
    if options.panel_names:
        for bay in found.bays:
            yield Label(at=middle(bay.rings[0]), text=bay.id, small=True, subject=bay.id)


def _cavity_name(cavity: Cavity) -> Iterator[Item]:
    anchors = [anchor for anchor in cavity.anchors if np.isfinite(anchor).all()]
    if anchors:
        x, y = anchors[0]
        y = 0.0 if cavity.hand is Hand.CENTRELINE and len(anchors) > 1 else y
        yield Label(
            at=(x, y),
            text=cavity.name or cavity.use,
            small=True,
            role=Role.CAVITY,
            level=-1,
            subject=cavity.id,
        )


def _first(lines: Sequence[Points]) -> Iterator[Points]:
    for points in lines[:1]:
        line = clean(points)
        if len(line) > 1:
            yield line
