"""A section as regions, one a ply of every wall and of the plating, one a fill, accidental overlaps cut away.

Walls keep their place before fills, the earlier wall before the later, fills by id; the shell before all.
A declared lap keeps its real plies. Every cut is reported, unless it is thinner than a drawing is drawn. mm.
"""

from dataclasses import dataclass
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.geometry.chords import as_pairs
from stringerlab.geometry.lines import Lines
from stringerlab.geometry.regions import NO_REGIONS, Regions, bands, line_of_band, with_rings
from stringerlab.section.contact import CONTACT, faces, in_shell_axes, touching
from stringerlab.section.drawing import (
    Drawing,
    draw,
    plating_faults,
    plating_stroke,
    wall_strokes,
)
from stringerlab.section.records import Fill, FillShape, Plating, Section, SectionShape

Array = NDArray[np.float64]
Index = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Bodies:
    """The regions of a section: the plies of its strokes in order, then its fills."""

    drawing: Drawing
    regions: Regions
    stroke: Index
    """(r,) index of the region's stroke, −1 for fills."""
    fills: tuple[FillShape, ...]
    faults: tuple[Problem, ...]
    """What forbids a number."""
    repairs: tuple[Problem, ...]
    """What was put right and counted so."""


def bodies(shape: SectionShape, plating: Plating | None = None, *, deadrise: float | None = None) -> Bodies:
    """Return a section's regions.

    Parameters
    ----------
    shape
        The section.
    plating
        Strip of hull counted with it; the shell it stands on cuts what is drawn below.
    deadrise
        Slope of the shell when there is no strip [rad]; None for no shell at all.
    """
    strokes = wall_strokes(shape)
    faults = lap_faults(shape)
    if plating is not None:
        found = plating_faults(plating)
        faults += found
        deadrise = plating.deadrise
        strokes += [] if found else [plating_stroke(plating)]
    drawing = draw(strokes)
    faults += drawing.faults
    fills, fill_problems = sound_fills(shape)
    faults += fill_problems
    repairs = list(drawing.repairs)
    regions, stroke_of = NO_REGIONS, np.zeros(0, np.intp)
    lines = drawing.lines
    if lines is not None:
        levels = [stroke.levels for stroke in drawing.strokes]
        regions = bands(lines, levels, np.array([stroke.side for stroke in drawing.strokes]))
        stroke_of = line_of_band(levels)
    if fills or (lines is not None and _may_overlap(drawing, lines, deadrise)):
        from stringerlab.section import cutting

        cut = cutting.cut(shape, drawing, lines, fills, deadrise)
        faults += cut.faults
        repairs += cut.repairs
        replaced = np.isin(stroke_of, list(cut.walls))
        rings = cutting.rings_left(cut, drawing, lines)
        regions = with_rings(regions, replaced, rings + cut.fills)
        stroke_of = np.concatenate([stroke_of, np.full(len(fills), -1)])
    return Bodies(drawing, regions, stroke_of, fills, tuple(faults), tuple(repairs))


def lap_faults(shape: SectionShape | Section) -> list[Problem]:
    """Return laps between walls that are not there."""
    ids = {wall.id for wall in shape.walls}
    return [
        Problem(
            f"The lap of '{one}' and '{other}' names a wall that is not there.",
            f"section '{shape.name}'",
            "Take the lap out or correct its wall.",
        )
        for one, other in shape.laps
        if one not in ids or other not in ids
    ]


def sound_fills(shape: SectionShape) -> tuple[tuple[FillShape, ...], list[Problem]]:
    """Return the fills that enclose an area, and the faults of the others."""
    sound: list[FillShape] = []
    faults: list[Problem] = []
    for fill in shape.fills:
        found = fill_faults(shape.name, fill)
        faults += found
        sound += [] if found else [fill]
    return tuple(sound), faults


def fill_faults(section: str, fill: Fill | FillShape) -> list[Problem]:
    """Return what forbids a fill's area."""
    where = f"section '{section}', fill '{fill.id}'"
    if len(fill.points) < 3:
        return [Problem(f"It has {len(fill.points)} points: it leaks.", where, "Draw at least 3, all round.")]
    if not all(isfinite(y) and isfinite(z) for y, z in fill.points):
        return [Problem("A point is not a number.", where, "Give every point as two lengths.")]
    from stringerlab.geometry import planar

    if not planar.ring_is_sound(np.array(fill.points, float)):
        return [
            Problem(
                "Its outline crosses or touches itself or encloses nothing: it leaks.",
                where,
                "Draw the outline once around, without repeating a point.",
            )
        ]
    return []


def _may_overlap(drawing: Drawing, lines: Lines, deadrise: float | None) -> bool:
    """Whether a wall reaches below the shell, or the boxes around two walls overlap."""
    walls = [index for index, stroke in enumerate(drawing.strokes) if stroke.wall >= 0]
    if not walls:
        return False
    both = np.concatenate([face for index in walls for face in faces(drawing, lines, index)])
    if deadrise is not None and in_shell_axes(both, deadrise).imag.min() < -CONTACT:
        return True
    if len(walls) < 2:
        return False
    counts = 2 * lines.counts[walls]
    starts = np.cumsum(counts) - counts
    pairs = as_pairs(both)
    return bool(touching(np.minimum.reduceat(pairs, starts), np.maximum.reduceat(pairs, starts)))
