"""A study along one number: its readings as curves, those of one unit in a frame of their own. mm.

The limit of a utilisation is drawn bold, the boat's own place as an upright dashed line.
"""

from collections.abc import Iterator

import numpy as np

from stringerlab.drawing.axes import Box, Reach, frame_items, in_system, shortened, titled
from stringerlab.drawing.display import Item, Label, Line, Mark, Picture, Role, Shape
from stringerlab.methods import SHORT_ABOVE
from stringerlab.sizing.records import Studied
from stringerlab.units import System, rounded
from stringerlab.workings import Array

_LEFT, _UNDER, _OVER, _APART = 17.0, 12.0, 7.0, 11.0
"""Room around a frame for numbers, names, and between frames."""
_TITLE = 34.0
"""For a frame's title, before the names of its curves."""
LOOKS = (
    (Role.CURVE, Shape.CIRCLE),
    (Role.TENSION, Shape.SQUARE),
    (Role.SHEAR, Shape.TRIANGLE),
    (Role.AXIS, Shape.DIAMOND),
)
"""Of the curves of a frame: pen and mark, so that they stay apart in print."""


def is_use(name: str, symbol: str) -> bool:
    """Whether a reading is a utilisation: a ratio that has a limit of 1."""
    return not symbol and "utilisation" in name.lower()


def curves_picture(studied: Studied, *, size: tuple[float, float], units: System = System.METRIC) -> Picture:
    """Return a study along one number as curves.

    Parameters
    ----------
    studied
        Of one number; each step's values are marked, and one that could not be judged leaves a gap.
    size
        Width and height to fill [mm].
    units
        Of the numbers along the axes.
    """
    factor, symbol = in_system(studied.axis_units[0], units)
    along = np.array(studied.axes[0]) * factor
    present = studied.present[0] * factor
    groups = groups_of(studied)
    width, height = size
    each = (height - _UNDER - (len(groups) - 1) * _APART - _OVER) / max(len(groups), 1)
    across = Reach.of(along)
    items: list[Item] = []
    for number, rows in enumerate(groups):
        shown, unit = in_system(studied.reading_units[rows[0]], units)
        values = np.array([studied.values[row] for row in rows]) * shown
        limited = any(is_use(studied.reading_names[row], studied.reading_units[row]) for row in rows)
        up = Reach.of(values, *((SHORT_ABOVE,) if limited else ()), room=0.1)
        bottom = height - _OVER - each - number * (each + _APART)
        box = Box(
            left=_LEFT, bottom=bottom, width=width - _LEFT - 4, height=max(each, 8.0), across=across, up=up
        )
        last = number == len(groups) - 1
        name = studied.reading_names[rows[0]] if len(rows) == 1 else "utilisation" if limited else "readings"
        items += frame_items(box, titled(studied.axis_names[0], symbol), titled(name, unit), named=last)
        items += _present(box, present, named=last)
        if limited:
            items += _limit(box)
        for look, (row, line) in enumerate(zip(rows, values, strict=True)):
            role, shape = LOOKS[look % len(LOOKS)]
            words = studied.reading_names[row]
            items += _curve(box, along, line, role, shape, words, unit)
            if len(rows) > 1:
                items += _named(box, words, look, len(rows))
    return Picture(items=tuple(items))


def groups_of(studied: Studied) -> list[list[int]]:
    """Return the readings that share a frame: those of one unit."""
    found: dict[str, list[int]] = {}
    for row, symbol in enumerate(studied.reading_units):
        found.setdefault(symbol or "ratio", []).append(row)
    return list(found.values())


def _curve(
    box: Box, along: Array, values: Array, role: Role, shape: Shape, words: str, unit: str
) -> Iterator[Item]:
    known = np.isfinite(values)
    breaks = np.flatnonzero(np.diff(known.astype(int)))
    for piece in np.split(np.arange(len(values)), breaks + 1):
        if known[piece[0]] and len(piece) > 1:
            points = box.points(np.column_stack([along[piece], values[piece]]))
            yield Line(points=points, role=role, tip=words)
    for x, y in zip(along[known].tolist(), values[known].tolist(), strict=True):
        tip = f"{words} {rounded(y, 4)} {unit}".rstrip() + f" at {rounded(x, 4)}"
        yield Mark(at=(box.x(x), box.y(y)), shape=shape, role=role, tip=tip)


def _named(box: Box, words: str, look: int, count: int) -> Iterator[Item]:
    """Yield a curve's mark and name over the frame, beside its title."""
    role, shape = LOOKS[look % len(LOOKS)]
    room = (box.width - _TITLE) / count
    at = (box.left + _TITLE + look * room, box.top + 3.2)
    yield Mark(at=at, shape=shape, role=role, tip=words)
    yield Label(at=(at[0] + 1.0, at[1]), text=shortened(words, room - 5), small=True, align=1)


def _present(box: Box, present: float, *, named: bool) -> Iterator[Item]:
    if not box.across.holds(present):
        return
    x = box.x(present)
    tip = f"the boat as she is: {rounded(present, 4)}"
    yield Line(points=np.array([(x, box.bottom), (x, box.top)]), role=Role.OPENING, tip=tip)
    if named:
        align = -1 if x > box.left + box.width * 0.8 else 1
        yield Label(at=(x, box.bottom + 3), text="as she is", small=True, align=align)


def _limit(box: Box) -> Iterator[Item]:
    y = box.y(SHORT_ABOVE)
    line = np.array([(box.left, y), (box.right, y)])
    yield Line(points=line, role=Role.SHORT, tip="1.00: demand is capacity")
    yield Line(points=line + np.array([0, 0.22]), role=Role.SHORT)


__all__ = ["LOOKS", "curves_picture", "groups_of", "is_use"]
