"""A study of two numbers: one reading as contours at round levels, each with its number. mm.

The limit of a utilisation is drawn bold and what is short of it shaded; steps that could not be judged are
left blank, and the boat's own place is marked.
"""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from contourpy import FillType, LineType, contour_generator

from stringerlab.drawing.axes import Box, Reach, frame_items, in_system, ticks, titled
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Shape
from stringerlab.drawing.studying_curves import is_use
from stringerlab.methods import SHORT_ABOVE
from stringerlab.sizing.records import Studied
from stringerlab.units import System, rounded, trimmed
from stringerlab.workings import Array

_LEFT, _UNDER, _OVER = 17.0, 12.0, 7.0
LEVELS = 9
"""About how many contours are drawn."""
_DOT = 0.35
"""Half of a step's own mark [mm]."""
_FAR = 16.0
"""How near to another label one may stand [mm]."""


def contours_picture(
    studied: Studied, reading: int, *, size: tuple[float, float], units: System = System.METRIC
) -> Picture:
    """Return one reading of a study of two numbers as contours.

    Parameters
    ----------
    studied
        Of two numbers.
    reading
        Which of its readings, from 0.
    size
        Width and height to fill [mm].
    units
        Of the numbers along the axes and of the levels.
    """
    factors, symbols = zip(*(in_system(symbol, units) for symbol in studied.axis_units), strict=True)
    x, y = (np.array(axis) * factor for axis, factor in zip(studied.axes, factors, strict=True))
    shown, unit = in_system(studied.reading_units[reading], units)
    values = np.asarray(studied.values[reading], np.float64).T * shown
    name = studied.reading_names[reading]
    width, height = size
    box = Box(
        left=_LEFT,
        bottom=_UNDER,
        width=width - _LEFT - 6,
        height=height - _UNDER - _OVER,
        across=Reach.of(x),
        up=Reach.of(y),
    )
    limited = is_use(name, studied.reading_units[reading])
    items: list[Item] = list(_blanks(box, x, y, values))
    above, title = titled(studied.axis_names[1], symbols[1]), titled(name, unit)
    items += frame_items(box, titled(studied.axis_names[0], symbols[0]), f"{title}; up: {above}")
    if values.shape[0] > 1 and values.shape[1] > 1:
        items += _contours(box, x, y, values, limited=limited, words=title)
    items += _steps(box, x, y, values, title)
    items += _present(box, studied.present[0] * factors[0], studied.present[1] * factors[1])
    return Picture(items=tuple(items))


def levels_of(values: Array) -> list[float]:
    """Return round levels within the values that are known."""
    known = values[np.isfinite(values)]
    return ticks(float(known.min()), float(known.max()), LEVELS) if len(known) else []


def lines_at(x: Array, y: Array, values: Array, level: float) -> list[Points]:
    """Return where values (ny, nx) reach a level, as lines (n, 2) in the values along x and y."""
    masked = np.ma.masked_invalid(values)
    generator = contour_generator(x, y, masked, line_type=LineType.Separate)
    return [np.asarray(line, np.float64) for line in generator.lines(level)]


def _contours(box: Box, x: Array, y: Array, values: Array, *, limited: bool, words: str) -> Iterator[Item]:
    if limited:
        yield from _short(box, x, y, values)
    taken: list[tuple[float, float]] = []
    for level in levels_of(values):
        bold = limited and abs(level - SHORT_ABOVE) < 1e-9
        if not bold:
            yield from _level(box, lines_at(x, y, values, level), level, words, taken)
    if limited:
        for line in lines_at(x, y, values, SHORT_ABOVE):
            points = box.points(line)
            yield Line(points=points, role=Role.SHORT, tip="1.00: demand is capacity")
            yield Line(points=points + np.array([0.15, 0.15]), role=Role.SHORT)
            yield _number(points, "1", taken, Role.TEXT)


def _level(
    box: Box, lines: list[Points], level: float, words: str, taken: list[tuple[float, float]]
) -> Iterator[Item]:
    for line in lines:
        points = box.points(line)
        yield Line(points=points, role=Role.DIMENSION, tip=f"{words}: {trimmed(level)}")
        yield _number(points, trimmed(level), taken, Role.TEXT)


def _number(points: Points, text: str, taken: list[tuple[float, float]], role: Role) -> Label:
    """Return a level's number on its line, at the place farthest from those before."""
    inner = points[len(points) // 6 : max(len(points) - len(points) // 6, len(points) // 6 + 1)]
    if taken:
        apart = np.min(
            np.hypot(*(inner[:, None, :] - np.array(taken)[None, :, :]).transpose(2, 0, 1)), axis=1
        )
        far = np.flatnonzero(apart >= _FAR)
        best = int(far[len(far) // 2]) if len(far) else int(apart.argmax())
    else:
        best = len(inner) // 2
    at = (float(inner[best, 0]), float(inner[best, 1]))
    taken.append(at)
    return Label(at=at, text=text, role=role, small=True)


def _blanks(box: Box, x: Array, y: Array, values: Array) -> Iterator[Item]:
    """Yield the cells with a corner that could not be judged."""
    blank = np.isnan(values)
    cells = blank[:-1, :-1] | blank[1:, :-1] | blank[:-1, 1:] | blank[1:, 1:]
    for j, i in np.argwhere(cells).tolist():
        left, right, low, high = box.x(x[i]), box.x(x[i + 1]), box.y(y[j]), box.y(y[j + 1])
        ring = np.array([(left, low), (right, low), (right, high), (left, high)])
        yield Area(rings=(ring,), role=Role.NOT_JUDGED, tip="a corner of this could not be judged")


def _short(box: Box, x: Array, y: Array, values: Array) -> Iterator[Item]:
    """Yield what is above the limit as areas."""
    known = values[np.isfinite(values)]
    if not len(known) or known.max() <= SHORT_ABOVE:
        return
    generator = contour_generator(x, y, np.ma.masked_invalid(values), fill_type=FillType.OuterOffset)
    filled = generator.filled(SHORT_ABOVE, max(float(known.max()), SHORT_ABOVE) * 1.001 + 1e-9)
    for points, offsets in zip(filled[0], filled[1], strict=True):
        if points is None or offsets is None:
            continue
        ends: list[int] = np.asarray(offsets, np.int64).tolist()
        rings = tuple(box.points(np.asarray(points[a:b], np.float64)) for a, b in pairwise(ends))
        yield Area(rings=rings, role=Role.PATCH, tip="short: utilisation above 1")


def _steps(box: Box, x: Array, y: Array, values: Array, words: str) -> Iterator[Item]:
    """Yield a dot on each step, which says its value."""
    for j, up in enumerate(y.tolist()):
        for i, across in enumerate(x.tolist()):
            value = float(values[j, i])
            said = "could not be judged" if np.isnan(value) else f"{words}: {rounded(value, 4)}"
            tip = f"{rounded(across, 4)}, {rounded(up, 4)}\n{said}"
            at = np.array([(box.x(across) - _DOT, box.y(up)), (box.x(across) + _DOT, box.y(up))])
            yield Line(points=at, role=Role.NODE, tip=tip)


def _present(box: Box, across: float, up: float) -> Iterator[Item]:
    if box.across.holds(across) and box.up.holds(up):
        at = (box.x(across), box.y(up))
        tip = f"the boat as she is: {rounded(across, 4)}, {rounded(up, 4)}"
        yield Mark(at=at, shape=Shape.DIAMOND, role=Role.SELECTED, tip=tip)
        yield Label(at=at, text="as she is", small=True, align=-1 if at[0] > box.right - 24 else 1)


__all__ = ["LEVELS", "contours_picture", "levels_of", "lines_at"]
