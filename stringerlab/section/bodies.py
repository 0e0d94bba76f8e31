"""A section as regions, one a ply of every wall and of the plating, one a fill, accidental overlaps cut away.

Walls keep their place before fills, the earlier wall before the later, fills by id; the shell before all.
A declared lap keeps its real plies. Every cut is reported, unless it is thinner than a drawing is drawn. mm.
"""

from cmath import exp
from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.geometry.chords import Points, as_pairs
from stringerlab.geometry.lines import Lines
from stringerlab.geometry.regions import Regions, bands, numbered, with_rings
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

CONTACT = 1e-6
"""Bodies that overlap by less than this touch [mm], and areas smaller than its number are none [mm²]."""
DRAWN = 0.01
"""An overlap thinner than this is a drawing's own tolerance: cut away, but not reported [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Bodies:
    """The regions of a section: the plies of its strokes in order, then its fills."""

    drawing: Drawing
    regions: Regions | None
    """None when nothing can be drawn."""
    stroke: Index
    """(r,) index of the region's stroke, −1 for fills."""
    ply: Index
    """(r,) number of the ply from 0; of a fill, its place in ``fills``."""
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
    lines = drawing.lines
    if lines is None:
        none = np.zeros(0, np.intp)
        return Bodies(drawing, None, none, none, (), tuple(faults), drawing.repairs)

    levels = [stroke.levels for stroke in drawing.strokes]
    regions = bands(lines, levels, np.array([stroke.side for stroke in drawing.strokes]))
    stroke_of, ply_of = numbered(levels)
    repairs = list(drawing.repairs)
    if fills or _may_overlap(drawing, lines, deadrise):
        from stringerlab.section import cutting

        cut = cutting.cut(shape, drawing, lines, fills, deadrise)
        faults += cut.faults
        repairs += cut.repairs
        replaced = np.isin(stroke_of, list(cut.walls))
        rings = [
            cutting.ply_rings(cut, drawing, lines, int(stroke), int(ply)) if gone else []
            for stroke, ply, gone in zip(stroke_of, ply_of, replaced, strict=True)
        ]
        regions = with_rings(regions, replaced, rings + cut.fills)
        stroke_of = np.concatenate([stroke_of, np.full(len(fills), -1)])
        ply_of = np.concatenate([ply_of, np.arange(len(fills))])
    return Bodies(drawing, regions, stroke_of, ply_of, fills, tuple(faults), tuple(repairs))


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


def in_shell_axes(points: Points, deadrise: float) -> Points:
    """Return points turned: the real part runs along the shell, the imaginary one inboard from its face."""
    return points * exp(-1j * deadrise)


def faces(drawing: Drawing, lines: Lines, index: int) -> tuple[Points, Points]:
    """Return the vertices of a stroke's line and of its laminate's far face."""
    part = lines.part(index)
    points = lines.points[part]
    return points, points + drawing.strokes[index].reach * lines.mitres[part]


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


def touching(low: Array, high: Array) -> Sequence[tuple[int, int]]:
    """Return the pairs of boxes (n, 2) that overlap by more than a contact, the earlier box first."""
    shared = (np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])).min(axis=2)
    one, other = np.nonzero(np.triu(shared > CONTACT, 1))
    return list(zip(one.tolist(), other.tolist(), strict=True))
