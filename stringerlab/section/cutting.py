"""Which body gives way where two overlap, what is left of it, and how that is said. mm."""

from dataclasses import dataclass
from math import cos, sin

import numpy as np

from stringerlab.errors import Problem
from stringerlab.geometry import planar
from stringerlab.geometry.areas import Area, Array, Polygon
from stringerlab.geometry.chords import as_pairs, as_points
from stringerlab.geometry.lines import Lines
from stringerlab.section import contact
from stringerlab.section.drawing import Drawing
from stringerlab.section.records import FillShape, SectionShape
from stringerlab.units import Kind
from stringerlab.units import format as shown


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """What overlaps leave."""

    walls: dict[int, list[Area]]
    """By stroke, what is taken from each of its plies."""
    fills: list[Polygon]
    """Rings that bound each fill."""
    faults: list[Problem]
    repairs: list[Problem]


def cut(
    shape: SectionShape,
    drawing: Drawing,
    lines: Lines | None,
    fills: tuple[FillShape, ...],
    deadrise: float | None,
) -> Cut:
    """Return what is left of walls and fills once each place belongs to one body; see `bodies`."""
    walls = [index for index, stroke in enumerate(drawing.strokes) if stroke.wall >= 0]
    outlines = [_outline(drawing, lines, index) for index in walls] if lines is not None else []
    order = sorted(range(len(fills)), key=lambda index: fills[index].id)
    outlines += [_ring_area(np.array(fills[index].points, float)) for index in order]
    names = [f"wall '{shape.walls[drawing.strokes[index].wall].id}'" for index in walls]
    names += [f"fill '{fills[index].id}'" for index in order]
    ids = [shape.walls[drawing.strokes[index].wall].id for index in walls]
    laps = {frozenset(pair) for pair in shape.laps}

    boxes = [np.concatenate([ring for polygon in outline for ring in polygon]) for outline in outlines]
    low = np.array([box.min(axis=0) for box in boxes])
    high = np.array([box.max(axis=0) for box in boxes])
    before: dict[int, list[int]] = {}
    for one, other in contact.touching(low, high):
        if other >= len(ids) or frozenset((ids[one], ids[other])) not in laps:
            before.setdefault(other, []).append(one)

    shell = below_shell(deadrise, float(np.abs([low, high]).max())) if deadrise is not None else None
    kept = list(outlines)
    taken: dict[int, list[Area]] = {}
    faults: list[Problem] = []
    repairs: list[Problem] = []
    where = f"section '{shape.name}'"
    for body, name in enumerate(names):
        takes: list[Area] = []
        if shell is not None and deadrise is not None:
            depth = -float(contact.in_shell_axes(as_points(boxes[body]), deadrise).imag.min())
            if depth > contact.CONTACT:
                takes.append(shell)
                if depth > contact.DRAWN:
                    repairs.append(_enters(where, name, depth))
        for other in before.get(body, []):
            size, thickness = planar.overlap(kept[other], outlines[body])
            if size > contact.CONTACT:
                takes.append(kept[other])
                if thickness > contact.DRAWN:
                    repairs.append(_overlaps(where, name, names[other], size, fill=body >= len(ids)))
        if takes:
            taken[body] = takes
            kept[body] = planar.difference(outlines[body], takes)
            if not kept[body]:
                faults.append(
                    Problem(
                        "Nothing of it is left: it lies wholly below the shell or within others.",
                        f"{where}, {name}",
                        "Move it or take it out.",
                    )
                )
    left: list[Polygon] = [[] for _ in fills]
    for place, index in enumerate(order, start=len(walls)):
        left[index] = [ring for polygon in kept[place] for ring in polygon]
    return Cut(
        {walls[body]: takes for body, takes in taken.items() if body < len(walls)}, left, faults, repairs
    )


def rings_left(cut: Cut, drawing: Drawing, lines: Lines | None) -> list[Polygon]:
    """Return, ply by ply, the rings that bound what is left; none for a ply that nothing is taken from."""
    rings: list[Polygon] = []
    for index, stroke in enumerate(drawing.strokes):
        takes = cut.walls.get(index, [])
        for ply in range(len(stroke.levels) - 1):
            left: Area = []
            if takes and lines is not None:
                left = planar.difference(ply_area(drawing, lines, index, ply, ply + 1), takes)
            rings.append([ring for polygon in left for ring in polygon])
    return rings


def ply_area(drawing: Drawing, lines: Lines, stroke: int, low: int, high: int) -> Area:
    """Return what lies between two levels of a stroke."""
    part = lines.part(stroke)
    points, mitres = as_pairs(lines.points[part]), as_pairs(lines.mitres[part])
    levels = drawing.strokes[stroke].levels
    near, far = points + levels[low] * mitres, points + levels[high] * mitres
    if lines.closed[stroke]:
        rings = sorted((_counter_clockwise(near[:-1]), _counter_clockwise(far[:-1])), key=_size)
        return [[rings[1], rings[0][::-1]]]
    return _ring_area(np.concatenate([near, far[::-1]]))


def _outline(drawing: Drawing, lines: Lines, stroke: int) -> Area:
    return ply_area(drawing, lines, stroke, 0, len(drawing.strokes[stroke].levels) - 1)


def _ring_area(ring: Array) -> Area:
    return [[_counter_clockwise(ring)]]


def _counter_clockwise(ring: Array) -> Array:
    return ring if _size(ring) > 0 else ring[::-1]


def _size(ring: Array) -> float:
    y, z = ring[:, 0], ring[:, 1]
    return float((y * np.roll(z, -1) - np.roll(y, -1) * z).sum() / 2)


def below_shell(deadrise: float, extent: float) -> Area:
    """Return all that lies below the shell, as far as a section reaches."""
    far = 4 * extent + 1000
    along, down = np.array([cos(deadrise), sin(deadrise)]), np.array([sin(deadrise), -cos(deadrise)])
    return [[far * np.array([-along, -along + down, along + down, along])]]


def _enters(where: str, name: str, depth: float) -> Problem:
    return Problem(
        f"It reaches {shown(depth, Kind.LENGTH)} into the plating; that part is not counted.",
        f"{where}, {name}",
        "Raise it to the shell's inboard face.",
    )


def _overlaps(where: str, name: str, other: str, size: float, *, fill: bool) -> Problem:
    return Problem(
        f"It overlaps {other} by {shown(size, Kind.AREA)}; that part is counted once, in {other}.",
        f"{where}, {name}",
        "Move its outline." if fill else "Move one of them, or declare their lap.",
    )
