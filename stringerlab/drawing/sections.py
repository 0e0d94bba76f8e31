"""A section as a picture: every ply once at true thickness, tool surfaces, the shell, overlays. mm.

Subjects: ``w6/3`` is the third ply from the mould of wall w6, ``plating/3`` the hull's, ``w6`` the wall's
tool surface, a fill goes by its id.
"""

from functools import lru_cache
from math import cos, log10, sin

import numpy as np

from stringerlab.drawing import overlays
from stringerlab.drawing.display import Area, Item, Line, Picture, Points, Role, Ticks
from stringerlab.drawing.governing import governing
from stringerlab.drawing.openings import openings
from stringerlab.drawing.options import Options
from stringerlab.drawing.sketches import FOAM_BELOW, PLATING, Drawn, drawn_of, ply_role
from stringerlab.geometry.chords import as_pairs
from stringerlab.laminate.records import Stack
from stringerlab.section import FillShape, Plating, Properties, SectionShape, What
from stringerlab.section.drawing import draw, wall_strokes
from stringerlab.section.records import Section
from stringerlab.units import System

TICKS = 56
"""Ticks of the mould face along a section's greater extent."""


def section_picture(
    shape: SectionShape,
    plating: Plating | None,
    *,
    properties: Properties | None = None,
    options: Options | None = None,
) -> Picture:
    """Return a section's picture.

    Parameters
    ----------
    shape
        The section.
    plating
        Hull plating shown with it, its shell at its deadrise; None for none.
    properties
        Of the section with that plating: what neutral axes, strains and stresses are drawn from; without
        them there are none.
    options
        Overlays.

    Raises
    ------
    StringerlabError
        With everything that forbids an outline; `outline_picture` shows such a section.
    """
    chosen = options or Options()
    drawn = drawn_of(shape, plating)
    shades = overlays.shades(properties, chosen)
    low, high = drawn.low, drawn.high
    items: list[Item] = []
    areas: list[Item] = []
    if chosen.cavity:
        items, areas = overlays.cavities(shape, plating, drawn, chosen.units)
    items += _plies(drawn, shape, plating, shades, chosen)
    items += shell(plating, low, high)
    items += _tools(shape, drawn, mould_face=chosen.mould_face)
    if chosen.bonded:
        items += overlays.bonded(shape, plating, high[1] - low[1], chosen.units)
    if properties is not None:
        if chosen.axes:
            items += overlays.axes(properties, low, high, chosen.units)
        items += overlays.diagrams(shape, plating, properties, low, high, chosen)
        items += governing(drawn, shape, plating, properties, chosen.findings)
    if chosen.openings:
        items += openings(shape, plating.deadrise if plating else 0.0, low, high, chosen)
    items += areas
    return Picture(items=tuple(items))


def outline_picture(section: Section | SectionShape, deadrise: float | None = None) -> Picture:
    """Return a section as bare lines, whatever is wrong with it: its walls' tool surfaces and its fills.

    Parameters
    ----------
    section
        The section, resolved or as drawn.
    deadrise
        Slope of the shell to draw [rad]; None for none.
    """
    strokes = wall_strokes(section)
    lines = draw(strokes)
    smooth: dict[int, Points] = {}
    if lines.lines is not None:
        smooth = {
            stroke.wall: as_pairs(lines.lines.points[lines.lines.part(index)])
            for index, stroke in enumerate(lines.strokes)
        }
    items: list[Item] = []
    for fill in section.fills:
        if len(fill.points) > 1:
            role = fill_role(fill) if isinstance(fill, FillShape) else Role.FOAM
            items.append(Line(points=np.array(fill.points, float), role=role, closed=True, subject=fill.id))
    for index, wall in enumerate(section.walls):
        points = smooth.get(index, np.array(wall.points, float).reshape(-1, 2))
        if len(points) > 1 and bool(np.isfinite(points).all()):
            closed = wall.closed and index not in smooth
            items.append(Line(points=points, role=Role.TOOL, closed=closed, subject=wall.id))
    bounds = Picture(items=tuple(items)).bounds()
    if deadrise is not None and bounds is not None:
        items = [*_shell_line(deadrise, bounds[0], bounds[2]), *items]
    return Picture(items=tuple(items))


def fill_role(fill: FillShape) -> Role:
    """Return how a fill is drawn: light as foam, what carries load as a block, the rest as putty."""
    if fill.density < FOAM_BELOW:
        return Role.FOAM
    return Role.BLOCK if fill.modulus > 0 else Role.PUTTY


def shell(plating: Plating | None, low: Points, high: Points) -> list[Item]:
    """Return the shell's inboard face, as wide as the plating or, without any, as the section."""
    if plating is None:
        return _shell_line(0.0, float(low[0]), float(high[0]))
    half = plating.width / 2
    along = np.array([cos(plating.deadrise), sin(plating.deadrise)])
    return [Line(points=np.array([-half * along, half * along]), role=Role.SHELL, subject=PLATING)]


def _shell_line(deadrise: float, left: float, right: float) -> list[Item]:
    slope = sin(deadrise) / cos(deadrise)
    points = np.array([[y, y * slope] for y in (min(left, 0.0), max(right, 0.0))])
    return [Line(points=points, role=Role.SHELL)] if points[1, 0] > points[0, 0] else []


def _plies(
    drawn: Drawn,
    shape: SectionShape,
    plating: Plating | None,
    shades: overlays.Shades,
    options: Options,
) -> list[Item]:
    """Return an area for every ply and fill: fills behind, the hull's plies, then the walls'."""
    edge = Role.PLY_EDGE if options.ply_edges else None
    walls = {wall.id: wall for wall in shape.walls}
    fills = {fill.id: fill for fill in shape.fills}
    looks = {wall.id: _looks(wall.stack, options.units) for wall in shape.walls}
    if plating is not None:
        looks[PLATING] = _looks(plating.stack, options.units)
    behind: list[Item] = []
    front: list[Item] = []
    for ply, (owner, name, rings) in enumerate(zip(drawn.owners, drawn.names, drawn.rings, strict=True)):
        if not rings:
            continue
        shade = shades.of(f"{owner}: {name}" if drawn.whats[ply] is What.FILL else f"{owner} {name}")
        if drawn.whats[ply] is What.FILL:
            fill = fills[owner]
            behind.append(
                Area(rings=rings, role=fill_role(fill), edge=edge, shade=shade, subject=owner, tip=name)
            )
            continue
        number = drawn.numbers[ply]
        wall = walls.get(owner)
        kind, thickness = looks[owner][number]
        own = wall is not None and wall.counted > 0
        apart = Role.PLATING if wall is None else Role.UNCOUNTED
        counted = "" if own or wall is None else ", not counted: not fully bonded"
        area = Area(
            rings=rings,
            role=kind if own else apart,
            tint=None if own else kind,
            edge=edge,
            shade=shade,
            subject=f"{owner}/{number + 1}",
            tip=f"{owner} {name}, {thickness}{counted}",
        )
        (front if wall is not None else behind).append(area)
    return behind + front


@lru_cache(512)
def _looks(stack: Stack, units: System) -> tuple[tuple[Role, str], ...]:
    """Return of every ply how it is drawn and how thick it is, in words."""
    return tuple((ply_role(ply), overlays.length_text(ply.thickness, units)) for ply in stack.plies)


def _tools(shape: SectionShape, drawn: Drawn, *, mould_face: bool) -> list[Item]:
    """Return every wall's tool surface, and ticks on the mould's side of it."""
    size = max(*(drawn.high - drawn.low).tolist(), 1.0)
    spacing = 10 ** (round(8 * log10(size / TICKS)) / 8)  # in steps, so that a drag leaves other walls' alone
    items: list[Item] = []
    for wall, side, points in drawn.tools:
        if mould_face:
            items.append(_ticks(points.tobytes(), side, spacing, shape.walls[wall].id))
    for wall, _, points in drawn.tools:
        subject = shape.walls[wall].id
        role = Role.TOOL if shape.walls[wall].counted > 0 else Role.UNCOUNTED
        items.append(Line(points=points, role=role, subject=subject, tip=f"{subject}, tool surface"))
    return items


@lru_cache(512)
def _ticks(line: bytes, side: float, spacing: float, subject: str) -> Ticks:
    """Return slanted ticks along a line, given as its numbers' bytes, on the side away from the laminate."""
    points = np.frombuffer(line, np.float64).reshape(-1, 2)
    step = np.diff(points, axis=0)
    lengths = np.hypot(step[:, 0], step[:, 1])
    run = np.concatenate([np.zeros(1), np.cumsum(lengths)])
    whole = float(run[-1])
    count = max(round(whole / spacing), 1)
    places = (np.arange(count) + 0.5) * whole / count
    segment = np.clip(np.searchsorted(run, places, side="right") - 1, 0, len(lengths) - 1)
    along = step[segment] / lengths[segment, None]
    starts = points[segment] + along * (places - run[segment])[:, None]
    away = -side * np.stack([-along[:, 1], along[:, 0]], axis=1)
    return Ticks(
        starts=starts,
        ends=starts + away + 0.6 * along,
        role=Role.MOULD_FACE,
        size=1.15,
        subject=subject,
    )
