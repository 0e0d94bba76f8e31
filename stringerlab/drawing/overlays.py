"""What is laid over a section's plies: axes, cavities, bonded widths, strains and stresses, governing places.

Every number shown is one the engine gives; nothing is computed here that a check would use.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import cos, sin

import numpy as np

from stringerlab.assess import section_facts
from stringerlab.drawing.dimensions import dimension
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Points, Role, Shade, Shape, area_of
from stringerlab.drawing.options import Options, strain_text, stress_text
from stringerlab.drawing.sketches import FOAM_BELOW, Drawn
from stringerlab.drawing.wall_flows import wall_flows
from stringerlab.errors import StringerlabError
from stringerlab.laminate import thickness_with_gel
from stringerlab.section import Facts, Plating, Properties, SectionShape, What, facts
from stringerlab.section.cells import cells
from stringerlab.section.stiffness import weighted
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

CURVE = 48
"""Heights at which shear flow is drawn."""
_STEP = 1e-4
"""How far above and below a level the area cut off is compared to know its rate [mm]."""
_LEAST_CELL = 1e-4
"""Cells smaller than this part of the box around a section are gaps of a drawing, not cavities."""


def length_text(length: float, units: System = System.METRIC) -> str:
    """Return a length as a drawing says it."""
    return shown(length, Kind.LENGTH, units, digits=3 if abs(length) < 100 else 4)


# -- axes ----------------------------------------------------------------------------------------


def axes(properties: Properties, low: Points, high: Points, units: System) -> list[Item]:
    """Return the neutral axes, dash-dot, with their distance from the origin, and the neutral point."""
    y, z = properties.y_na, properties.z_na
    over = 0.07 * float(max(*(high - low).tolist()))
    left, right = float(low[0]) - over, float(high[0]) + over
    bottom, top = float(low[1]) - over, float(high[1]) + over
    return [
        Line(
            points=np.array([[left, z], [right, z]]),
            role=Role.AXIS,
            subject="axis/z_na",
            tip=f"neutral axis, {length_text(z, units)} above the shell's inboard face at the origin",
        ),
        Line(
            points=np.array([[y, bottom], [y, top]]),
            role=Role.AXIS,
            subject="axis/y_na",
            tip=f"neutral axis, {length_text(y, units)} from the origin",
        ),
        Mark(at=(y, z), shape=Shape.CIRCLE, role=Role.CENTROID, subject="axis", tip="neutral point"),
        Mark(at=(y, z), shape=Shape.CROSS, role=Role.CENTROID, subject="axis", tip="neutral point"),
        Label(
            at=(left, z),
            text=f"neutral axis\n{length_text(z, units)}",
            role=Role.AXIS,
            align=-1,
            small=True,
            subject="axis/z_na",
        ),
    ]


# -- cavities and bonded widths ------------------------------------------------------------------


def cavities(
    shape: SectionShape, plating: Plating | None, drawn: Drawn, units: System
) -> tuple[list[Item], list[Item]]:
    """Return the closed cells, tinted, and their areas in words; foam in them counts as open.

    Gaps of a drawing and cells that a solid fill takes up are left out.
    """
    foam = {fill.id for fill in shape.fills if fill.density < FOAM_BELOW}
    solid = [
        Area(rings=rings, role=Role.PUTTY)
        for owner, what, rings in zip(drawn.owners, drawn.whats, drawn.rings, strict=True)
        if what is What.FILL and owner not in foam and rings
    ]
    least = _LEAST_CELL * float(np.prod(drawn.high - drawn.low))
    tinted: list[Item] = []
    words: list[Item] = []
    for ring in cells(shape, plating.deadrise if plating else 0.0):
        cell = Area(rings=(ring,), role=Role.CAVITY, subject="cavity", tip="closed cell")
        size = area_of(cell)
        taken = sum(area_of(fill) for fill in solid if _boxed(fill.rings[0], ring))
        if size - taken < max(least, 0.1 * size):
            continue
        at = ring.min(axis=0) + [0.46, 0.3] * np.ptp(ring, axis=0)
        text = shown(size, Kind.AREA, units, digits=3)
        tinted.append(cell)
        words.append(
            Label(at=(float(at[0]), float(at[1])), text=text, role=Role.CAVITY, align=-1, subject="cavity")
        )
    return tinted, words


def _boxed(inner: Points, outer: Points) -> bool:
    """Whether the middle of a ring's box lies in the box around another."""
    middle = (inner.min(axis=0) + inner.max(axis=0)) / 2
    return bool((middle > outer.min(axis=0)).all() and (middle < outer.max(axis=0)).all())


def bonded(shape: SectionShape, plating: Plating | None, height: float, units: System) -> list[Item]:
    """Return where the part lies on the shell or its bead, each width dimensioned below the hull."""
    slope = plating.deadrise if plating else 0.0
    along = np.array([cos(slope), sin(slope)])
    inboard = np.array([-sin(slope), cos(slope)])
    hull = thickness_with_gel(plating.stack) if plating else 0.0
    items: list[Item] = []
    for start, end in facts_of(shape, plating).bonded:
        ends = np.array([start * along, end * along])
        if shape.bead > 0:
            ring = np.concatenate([ends, ends[::-1] + shape.bead * inboard])
            items.append(
                Area(rings=(ring,), role=Role.BONDED, subject="bonded", tip="adhesive under the flange")
            )
        items.append(Line(points=ends, role=Role.BONDED, subject="bonded"))
        one, other = ((float(point[0]), float(point[1])) for point in ends)
        items += dimension(
            one, other, -(hull + 0.13 * height), length_text(end - start, units), subject="bonded"
        ).items
    return items


# -- strain, stress, shear -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Shades:
    """The value along every fibre that carries load, by its name."""

    by_name: Mapping[str, Shade] = field(default_factory=dict[str, Shade])

    def of(self, name: str) -> Shade | None:
        """Return the shade of a ply or fill; None where it carries nothing."""
        return self.by_name.get(name)


def shades(properties: Properties | None, options: Options) -> Shades:
    """Return how plies are coloured under the chosen moment: by stress, else by strain, else not."""
    if properties is None or options.moment == 0 or not (options.strain or options.stress):
        return Shades()
    fibres = properties.fibres
    curvature = options.moment / properties.EI_y
    E = fibres.E if options.stress else np.ones(len(fibres.E))
    bottom, top = curvature * E * fibres.z_bottom, curvature * E * fibres.z_top
    limit = float(np.abs([bottom, top]).max())
    low, high = fibres.z_bottom + properties.z_na, fibres.z_top + properties.z_na
    return Shades(
        {
            name: Shade(z=(z_low, z_high), values=(at_low, at_high), limit=limit)
            for name, z_low, z_high, at_low, at_high in zip(
                fibres.names, low.tolist(), high.tolist(), bottom.tolist(), top.tolist(), strict=True
            )
        }
    )


def diagrams(
    shape: SectionShape,
    plating: Plating | None,
    properties: Properties,
    low: Points,
    high: Points,
    options: Options,
) -> list[Item]:
    """Return bars over the height beside the section: strain, stress; and shear flow along the walls.

    Where thin-wall theory gives no flow, that of all webs together is a bar too, and says so.
    """
    size = high - low
    width = max(0.22 * float(size[0]), 0.42 * float(size[1]))
    place = float(high[0]) + 0.16 * float(size[0]) + width / 2
    items: list[Item] = []
    if options.moment != 0 and options.strain:
        items += _strain_bar(properties, options, place, width)
        place += 1.9 * width
    if options.moment != 0 and options.stress:
        items += _stress_bar(properties, options, place, width)
        place += 1.9 * width
    if options.shear != 0 and options.shear_flow:
        try:
            items += wall_flows(shape, plating, options.shear, options.units)
        except StringerlabError as error:
            why = error.problems[0].what
            items += _shear_bar(shape, plating, properties, options, place, width, why)
    return items


def _strain_bar(properties: Properties, options: Options, place: float, width: float) -> list[Item]:
    z = np.array([properties.fibres.z_bottom.min(), properties.fibres.z_top.max()])
    values = options.moment / properties.EI_y * z
    scale = width / 2 / float(np.abs(values).max())
    items: list[Item] = _title(properties, place, f"strain\n{_moment(options)}", float(z[1]))
    items += _wedges(properties.z_na, z, values, scale, place)
    items += _spine(properties, z, place)
    for height, value in zip(z.tolist(), values.tolist(), strict=True):
        items.append(_extreme(properties, place, height, value, scale, strain_text(value)))
    return items


def _stress_bar(properties: Properties, options: Options, place: float, width: float) -> list[Item]:
    """Return a wedge for every modulus, as far as its plies reach; the two extremes are named."""
    fibres = properties.fibres
    curvature = options.moment / properties.EI_y
    ends = curvature * np.stack([fibres.E * fibres.z_bottom, fibres.E * fibres.z_top])
    scale = width / 2 / float(np.abs(ends).max())
    z = np.array([fibres.z_bottom.min(), fibres.z_top.max()])
    items: list[Item] = _title(properties, place, f"stress\n{_moment(options)}", float(z[1]))
    for E in sorted(set(fibres.E.tolist()), reverse=True):
        mine = fibres.E == E
        for low, high in _merged(fibres.z_bottom[mine], fibres.z_top[mine]):
            reach = np.array([low, high])
            items += _wedges(properties.z_na, reach, curvature * E * reach, scale, place)
    items += _spine(properties, z, place)
    heights = np.stack([fibres.z_bottom, fibres.z_top])
    for pick in (np.argmax, np.argmin):
        end, fibre = np.unravel_index(int(pick(ends)), ends.shape)
        value, height = float(ends[end, fibre]), float(heights[end, fibre])
        words = f"{stress_text(value, options.units)}\n{fibres.names[int(fibre)].split(':')[0]}"
        items.append(_extreme(properties, place, height, value, scale, words))
    return items


def _shear_bar(
    shape: SectionShape,
    plating: Plating | None,
    properties: Properties,
    options: Options,
    place: float,
    width: float,
    why: str,
) -> list[Item]:
    """Return the shear that all webs together carry across a level cut, per length, V·ES(z)/EI_y."""
    built, E = weighted(shape, plating, properties.moduli)
    fibres = properties.fibres
    ends = float(fibres.z_bottom.min()), float(fibres.z_top.max())
    z = np.union1d(np.linspace(*ends, CURVE), [0.0])
    # First moment about the neutral axis of what lies above a level: of ζ − z, and of z over its area.
    regions, z_na = built.regions, properties.z_na
    above, upper, lower = (
        np.array([regions.first_moment_above(E, z_na + height + step) for height in z.tolist()])
        for step in (0.0, _STEP, -_STEP)
    )
    flow = options.shear / properties.EI_y * (above - z * (upper - lower) / (2 * _STEP))
    peak = options.shear / properties.EI_y * properties.ES
    scale = width / 2 / abs(peak)
    outline = np.stack([place + scale * flow, properties.z_na + z], axis=1)
    ring = np.concatenate([outline, [[place, properties.z_na + ends[1]], [place, properties.z_na + ends[0]]]])
    mean = options.shear / area if (area := section_facts(shape).web_area) > 0 else float("nan")
    force = shown(options.shear, Kind.FORCE, options.units)
    title = f"shear flow, all webs\nV = {force}"
    greatest = shown(peak, Kind.LINE_LOAD, options.units, digits=3)
    return [
        *_title(properties, place, title, ends[1]),
        Area(
            rings=(ring,),
            role=Role.SHEAR,
            edge=Role.SHEAR,
            subject="shear flow",
            tip=f"shear flow of all webs together; none wall by wall: {why}",
        ),
        *_spine(properties, np.array(ends), place),
        # Below the bar, in short lines: words beside it would run out of the view.
        Label(
            at=(place, properties.z_na + ends[0]),
            text=f"{greatest}\nmean in webs\n{stress_text(mean, options.units)}\nnot wall by wall",
            role=Role.SHEAR,
            level=-1,
            small=True,
        ),
    ]


def _wedges(z_na: float, z: Points, values: Points, scale: float, place: float) -> list[Item]:
    """Return what lies between the spine and a straight line of values, tension and compression apart."""
    (low, high), (at_low, at_high) = z.tolist(), values.tolist()
    pieces = [((low, at_low), (high, at_high))]
    if low < 0 < high:
        pieces = [((low, at_low), (0.0, 0.0)), ((0.0, 0.0), (high, at_high))]
    items: list[Item] = []
    for (z_one, one), (z_two, two) in pieces:
        ring = np.array(
            [
                [place, z_na + z_one],
                [place + scale * one, z_na + z_one],
                [place + scale * two, z_na + z_two],
                [place, z_na + z_two],
            ]
        )
        role = Role.TENSION if one + two > 0 else Role.COMPRESSION
        items.append(Area(rings=(ring,), role=role, edge=role, subject="diagram"))
    return items


def _spine(properties: Properties, z: Points, place: float) -> list[Item]:
    ends = np.array([[place, properties.z_na + float(height)] for height in z])
    return [Line(points=ends, role=Role.DIMENSION, subject="diagram")]


def _title(properties: Properties, place: float, text: str, top: float) -> list[Item]:
    lift = 0.24 * float(np.ptp([properties.fibres.z_bottom.min(), properties.fibres.z_top.max()]))
    return [Label(at=(place, properties.z_na + top + lift), text=text, level=1, small=True)]


def _extreme(properties: Properties, place: float, z: float, value: float, scale: float, text: str) -> Label:
    return Label(
        at=(place + scale * value, properties.z_na + z),
        text=text,
        role=Role.TENSION if value > 0 else Role.COMPRESSION,
        align=0,
        level=1 if z > 0 else -1,
        small=True,
    )


def _moment(options: Options) -> str:
    return f"M = {shown(options.moment, Kind.MOMENT, options.units)}"


def _merged(low: Points, high: Points) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for start, end in sorted(zip(low.tolist(), high.tolist(), strict=True)):
        if merged and start <= merged[-1][1] + 1e-9:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged


def facts_of(shape: SectionShape, plating: Plating | None) -> Facts:
    """Return the sizes of a section on the slope it is shown on."""
    return facts(shape, plating.deadrise) if plating and plating.deadrise else section_facts(shape)
