"""Regions with their moments and heights, each taken once: of walls, and of the strip of plating under them.

What is asked of one section on several strips shares what is known of its walls. mm.
"""

from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import cos, sin

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.geometry.lines import TOUCH
from stringerlab.geometry.regions import NO_REGIONS, Regions, bands
from stringerlab.laminate.records import Stack
from stringerlab.section.drawing import Drawing, draw, plating_faults, plating_stroke
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import Plating

Array = NDArray[np.float64]

KEPT = 64
"""Laminates of plating remembered, each at its slope."""


@dataclass(frozen=True, eq=False)
class Bounded:
    """Regions of any outline, k in all."""

    regions: Regions

    @cached_property
    def about(self) -> tuple[float, float]:
        """The mean of all vertices: a point amid the regions."""
        points = self.regions.points
        y, z = (points.sum(axis=1) / points.shape[1]).tolist()
        return y, z

    @cached_property
    def moments(self) -> Array:
        """(6, k) about that point; see `Regions.moments`."""
        return self.regions.moments(np.array(self.about))

    @cached_property
    def heights(self) -> tuple[Array, Array]:
        """(k,) least and greatest height of each region above the section's origin."""
        return self.regions.extremes(self.regions.points[1])


@dataclass(frozen=True, eq=False)
class Strip:
    """A strip of plating: k rectangles, so that its numbers need no outline."""

    plating: Plating

    @cached_property
    def faults(self) -> list[Problem]:
        """What forbids a number."""
        found = plating_faults(self.plating)
        return found or ([] if self.plating.width > 2 * TOUCH else list(self.drawing.faults))

    @cached_property
    def drawing(self) -> Drawing:
        """Its inboard face as a stroke."""
        return draw([plating_stroke(self.plating)])

    @cached_property
    def regions(self) -> Regions:
        """Its plies, outboard first."""
        lines, strokes = self.drawing.lines, self.drawing.strokes
        if lines is None:
            return NO_REGIONS
        return bands(lines, [each.levels for each in strokes], np.array([each.side for each in strokes]))

    @property
    def about(self) -> tuple[float, float]:
        """The section's origin, in the middle of its inboard face."""
        return 0.0, 0.0

    @cached_property
    def moments(self) -> Array:
        """(6, k) about that point, as `Regions.moments` gives them."""
        width, of = self.plating.width, _of_width(self.plating.stack, self.plating.deadrise)
        return width * (of.linear + width * width * of.cubic)

    @cached_property
    def heights(self) -> tuple[Array, Array]:
        """(k,) least and greatest height of each ply above the section's origin."""
        rise = abs(sin(self.plating.deadrise)) * self.plating.width / 2
        of = _of_width(self.plating.stack, self.plating.deadrise)
        return of.low - rise, of.high + rise


@dataclass(frozen=True, slots=True, eq=False)
class _OfWidth:
    """What the numbers of a strip are made of, whatever its width."""

    linear: Array
    """(6, k) the part of the moments that goes by the width."""
    cubic: Array
    """(6, k) the part that goes by its cube."""
    low: Array
    high: Array
    """(k,) heights of each ply's faces in the middle of the strip."""


@lru_cache(KEPT)
def _of_width(stack: Stack, deadrise: float) -> _OfWidth:
    levels = stack_sizes(stack).levels
    levels = levels - levels[-1]
    thickness, middle = levels[1:] - levels[:-1], (levels[:-1] + levels[1:]) / 2
    c, s = cos(deadrise), sin(deadrise)
    first, none = thickness * middle, np.zeros(len(thickness))
    across, along = first * middle + thickness**3 / 12, thickness / 12
    return _OfWidth(
        linear=np.array([thickness, -s * first, c * first, s * s * across, c * c * across, -c * s * across]),
        cubic=np.array([none, none, none, c * c * along, s * s * along, c * s * along]),
        low=c * levels[:-1],
        high=c * levels[1:],
    )


Part = Bounded | Strip
"""Some of a section's regions."""
