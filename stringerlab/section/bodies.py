"""A section as regions, one a ply of every wall and of the plating, one a fill, accidental overlaps cut away.

Walls keep their place before fills, the earlier wall before the later, fills by id; the shell before all.
A declared lap keeps its real plies. Every cut is reported, unless it is thinner than a drawing is drawn. mm.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import isfinite
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.geometry.chords import as_pairs
from stringerlab.geometry.lines import Lines
from stringerlab.geometry.regions import Regions, bands, line_of_band, with_rings
from stringerlab.section.contact import CONTACT, faces, in_shell_axes, touching
from stringerlab.section.drawing import Drawing, draw, wall_strokes
from stringerlab.section.joining import joined_lines, joined_regions
from stringerlab.section.parts import Bounded, Part, Strip
from stringerlab.section.records import Fill, FillShape, Plating, Section, SectionShape

if TYPE_CHECKING:
    from stringerlab.section.cutting import Cut

Array = NDArray[np.float64]
Index = NDArray[np.intp]

KEPT = 32
"""Sections and strips remembered: all that is asked of a section in one frame asks for the same regions."""
NOTHING = np.zeros(0)


@dataclass(frozen=True, eq=False)
class Bodies:
    """The regions of a section: the plies of its strokes in order, then its fills."""

    walls: Drawing
    strip: Strip | None
    """The plating under them."""
    parts: tuple[Part, ...]
    """The regions in their order."""
    fills: tuple[FillShape, ...]
    faults: tuple[Problem, ...]
    """What forbids a number."""
    repairs: tuple[Problem, ...]
    """What was put right and counted so."""
    cut: "Cut | None" = None
    """What overlaps take from walls, by stroke; None where nothing can overlap."""

    @cached_property
    def drawing(self) -> Drawing:
        """All strokes."""
        if self.strip is None:
            return self.walls
        drawings = self.walls, self.strip.drawing
        lines = [drawing.lines for drawing in drawings if drawing.lines is not None]
        return Drawing(
            strokes=tuple(stroke for drawing in drawings for stroke in drawing.strokes),
            lines=joined_lines(lines) if lines else None,
            faults=tuple(fault for drawing in drawings for fault in drawing.faults),
            repairs=tuple(repair for drawing in drawings for repair in drawing.repairs),
        )

    @cached_property
    def regions(self) -> Regions:
        """All regions."""
        return joined_regions([part.regions for part in self.parts])

    @cached_property
    def area(self) -> Array:
        """(r,) of each region."""
        return np.concatenate([NOTHING, *(part.moments[0] for part in self.parts)])

    @cached_property
    def stroke(self) -> Index:
        """(r,) index of the region's stroke, −1 for fills."""
        levels = [stroke.levels for stroke in self.drawing.strokes]
        drawn = line_of_band(levels) if levels else np.zeros(0, np.intp)
        return np.concatenate([drawn, np.full(len(self.fills), -1)]) if self.fills else drawn


@lru_cache(KEPT)
def bodies(shape: SectionShape, plating: Plating | None = None, *, deadrise: float | None = None) -> Bodies:
    """Return a section's regions, remembered for the sections asked for last.

    Parameters
    ----------
    shape
        The section.
    plating
        Strip of hull counted with it; the shell it stands on cuts what is drawn below.
    deadrise
        Slope of the shell when there is no strip [rad]; None for no shell at all.
    """
    walls = _walls(shape, deadrise if plating is None else plating.deadrise)
    parts, faults, strip = walls.bands, lap_faults(shape), None
    if plating is not None:
        found = _strip(plating)
        faults += found.faults
        if not found.faults:
            strip = found
            parts = (*parts, strip)
    faults += walls.faults
    if walls.cut is not None:
        regions = joined_regions([part.regions for part in parts])
        further = regions.count - len(walls.rings)
        rings = walls.rings + [[] for _ in range(further)] + walls.cut.fills
        parts = (Bounded(with_rings(regions, np.append(walls.replaced, np.zeros(further, bool)), rings)),)
    return Bodies(walls.drawing, strip, parts, walls.fills, tuple(faults), walls.repairs, walls.cut)


@dataclass(frozen=True, slots=True, eq=False)
class _Walls:
    """Walls and fills by themselves, on a shell or without."""

    drawing: Drawing
    bands: tuple[Part, ...]
    """The plies of the walls, before anything is cut; empty without a wall."""
    fills: tuple[FillShape, ...]
    cut: "Cut | None"
    rings: list[list[Array]]
    """Of each ply, what bounds what is left of it once something was taken."""
    replaced: NDArray[np.bool_]
    """(r,) plies something was taken from."""
    faults: tuple[Problem, ...]
    """Of the walls, of the fills, and of what is cut."""
    repairs: tuple[Problem, ...]


@lru_cache(KEPT)
def _walls(shape: SectionShape, deadrise: float | None) -> _Walls:
    drawing = draw(wall_strokes(shape))
    fills, fill_problems = sound_fills(shape)
    faults = [*drawing.faults, *fill_problems]
    repairs = list(drawing.repairs)
    lines = drawing.lines
    found: Cut | None = None
    rings: list[list[Array]] = []
    replaced = np.zeros(0, bool)
    if fills or (lines is not None and _may_overlap(drawing, lines, deadrise)):
        from stringerlab.section import cutting

        found = cutting.cut(shape, drawing, lines, fills, deadrise)
        faults += found.faults
        repairs += found.repairs
        rings = cutting.rings_left(found, drawing, lines)
        if lines is not None:
            owner = line_of_band([stroke.levels for stroke in drawing.strokes])
            replaced = np.isin(owner, list(found.walls))
    return _Walls(drawing, _banded(drawing), fills, found, rings, replaced, tuple(faults), tuple(repairs))


_strip = lru_cache(KEPT)(Strip)


def _banded(drawing: Drawing) -> tuple[Part, ...]:
    if drawing.lines is None:
        return ()
    levels = [stroke.levels for stroke in drawing.strokes]
    return (Bounded(bands(drawing.lines, levels, np.array([stroke.side for stroke in drawing.strokes]))),)


def lap_faults(shape: SectionShape | Section) -> list[Problem]:
    """Return laps between walls that are not there."""
    if not shape.laps:
        return []
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
