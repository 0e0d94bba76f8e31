"""A drawn wall's plies as functions of how far their faces lie from the drawn line: exact, no mesh.

Every vertex of an offset line moves in proportion to the offset, so that area and moments between the line
and its offset by d are polynomials in d, of degree 2, 3 and 4; a ply's are the difference at its two faces.
That holds as long as no offset folds over itself. mm; y right, z up.
"""

from dataclasses import dataclass

import numpy as np

from stringerlab.geometry.chords import Points
from stringerlab.geometry.lines import Lines
from stringerlab.geometry.regions import bands
from stringerlab.section.contact import in_shell_axes
from stringerlab.section.drawing import draw, wall_strokes
from stringerlab.section.records import SectionShape
from stringerlab.workings import Array

GROWS = 1.8
"""Up to which part of a laminate's thickness its moments are looked at."""
_DEGREES = (2, 3, 4)
_LOOKS = 257
_FITTED = 9
"""Offsets at which moments are taken: more than a polynomial of degree 4 needs, so that it is tested."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Envelope:
    """The greatest of a few heights that grow in proportion to an offset."""

    at_line: Array
    slope: Array

    def highest(self, offset: Array) -> Array:
        """Return the greatest of them (…) at offsets (…)."""
        found = self.at_line[0] + self.slope[0] * offset
        for start, slope in zip(self.at_line[1:], self.slope[1:], strict=True):
            np.maximum(found, start + slope * offset, out=found)
        return np.asarray(found, np.float64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WallForm:
    """One wall: what lies between its line and an offset d away from the mould."""

    thick: float
    """Its laminate's thickness without scatter: offsets are counted in it."""
    area: Array
    first: Array
    second: Array
    """Coefficients from the highest power on, of offsets over ``thick``: ∫dA, ∫z dA, ∫z² dA."""
    top: Envelope
    bottom: Envelope
    """Of −z."""
    shell: Envelope
    """Of depth below the shell's face."""
    folds: float
    """Offset at which it folds over itself."""
    error: float
    """Greatest error of the polynomials measured, as a part of the whole wall's moment."""

    def moments(self, levels: Array) -> tuple[Array, Array, Array]:
        """Return ∫dA, ∫z dA, ∫z² dA of plies (n, k) between levels (n, k + 1) from the mould."""
        of = levels / self.thick
        one, two, three = (np.diff(_value(each, of), axis=1) for each in (self.area, self.first, self.second))
        return one, two, three

    def heights(self, levels: Array) -> tuple[Array, Array]:
        """Return the least and greatest z of plies (n, k) between levels."""
        high, low = self.top.highest(levels), -self.bottom.highest(levels)
        return np.minimum(low[:, :-1], low[:, 1:]), np.maximum(high[:, :-1], high[:, 1:])

    def depth(self, thickness: Array) -> Array:
        """Return how far it reaches below the shell's face (n,), negative above it."""
        return np.maximum(self.shell.highest(thickness), self.shell.highest(np.zeros_like(thickness)))


def wall_forms(shape: SectionShape, deadrise: float) -> tuple[WallForm, ...]:
    """Return the walls of a section on a shell of a slope [rad]."""
    drawing = draw(wall_strokes(shape))
    lines = drawing.lines
    assert lines is not None
    assert len(drawing.strokes) == len(shape.walls)
    return tuple(
        _form(lines, place, stroke.side, abs(stroke.reach), deadrise)
        for place, stroke in enumerate(drawing.strokes)
    )


def _form(lines: Lines, place: int, side: float, thick: float, deadrise: float) -> WallForm:
    part = lines.part(place)
    points, moves = lines.points[part], side * lines.mitres[part]
    nodes = (1 - np.cos(np.pi * np.arange(1, _FITTED + 1) / _FITTED)) / 2 * GROWS
    levels = [np.zeros(1) for _ in range(len(lines.counts))]
    levels[place] = side * thick * np.concatenate([[0.0], nodes])
    sides = np.ones(len(levels))
    sides[place] = side
    moments = np.cumsum(bands(lines, levels, sides).moments(np.zeros(2))[[0, 2, 4]], axis=1)
    coefficients: list[Array] = []
    error = 0.0
    for degree, values in zip(_DEGREES, moments, strict=True):
        powers = nodes[:, None] ** np.arange(degree, 0, -1)
        found = np.asarray(np.linalg.pinv(powers) @ values, np.float64)
        size = float(np.abs(values).max()) or 1.0
        error = max(error, float(np.abs(powers @ found - values).max()) / size)
        coefficients.append(np.append(found, 0.0))
    return WallForm(
        thick=thick,
        area=coefficients[0],
        first=coefficients[1],
        second=coefficients[2],
        top=_envelope(points.imag, moves.imag, thick),
        bottom=_envelope(-points.imag, -moves.imag, thick),
        shell=_envelope(-in_shell_axes(points, deadrise).imag, -in_shell_axes(moves, deadrise).imag, thick),
        folds=_folds(lines, place, side, points, thick),
        error=error,
    )


def _value(coefficients: Array, at: Array) -> Array:
    found = np.full_like(at, coefficients[0])
    for each in coefficients[1:]:
        found *= at
        found += each
    return found


def _envelope(heights: Array, moves: Array, thick: float) -> Envelope:
    offsets = np.linspace(0.0, GROWS * thick, _LOOKS)
    highest = np.unique(np.argmax(heights[:, None] + moves[:, None] * offsets, axis=0))
    return Envelope(at_line=heights[highest], slope=moves[highest])


def _folds(lines: Lines, place: int, side: float, points: Points, thick: float) -> float:
    """Return the offset at which the first segment of a wall has no length left."""
    part = lines.part(place)
    reach = np.zeros(len(lines.counts))
    before = lines.offset_lengths(reach)[part][: len(points) - 1]
    reach[place] = side * thick
    after = lines.offset_lengths(reach)[part][: len(points) - 1]
    shrinks = before - after
    with np.errstate(divide="ignore", invalid="ignore"):
        left = np.where(shrinks > 1e-12 * thick, before / shrinks * thick, np.inf)
    return float(left.min(initial=np.inf))
