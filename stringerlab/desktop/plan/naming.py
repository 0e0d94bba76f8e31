"""Words of a plan kept clear of each other at the scale they are seen at: what finds no room is left out."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import floor

from stringerlab.drawing.display import Item, Label, Picture
from stringerlab.drawing.fitting import Measure, place

Box = tuple[float, float, float, float]
"""Left, bottom, right, top [pixels]."""

_STEPS = (0.0, 1.0, -1.0)
"""Lines by which words may give way up or down."""
_CELL = 160.0
"""Pixels of a cell in which neighbours are looked for."""


def in_room(pictures: Sequence[Picture], measure: Measure, scale: float) -> Picture:
    """Return pictures one over another with their words apart, those of later pictures placed first.

    Parameters
    ----------
    pictures
        From back to front.
    measure
        Sizes of words in pixels.
    scale
        Pixels a millimetre.
    """
    taken = _Taken()
    kept = [list(_apart(picture, measure, scale, taken)) for picture in reversed(pictures)]
    return Picture(items=tuple(item for items in reversed(kept) for item in items))


def _apart(picture: Picture, measure: Measure, scale: float, taken: "_Taken") -> Iterator[Item]:
    for item in picture:
        if not isinstance(item, Label):
            yield item
            continue
        width, height = measure(item)
        right, up = place(item, (width, height))
        left, bottom = item.at[0] * scale + right, item.at[1] * scale + up
        line = height / (item.text.count("\n") + 1)
        for step in _STEPS:
            box = (left, bottom + step * line, left + width, bottom + step * line + height)
            if taken.take(box):
                yield replace(item, at=(item.at[0], item.at[1] + step * line / scale)) if step else item
                break


class _Taken:
    """Boxes that are taken, by the cells they lie in."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Box]] = {}

    def take(self, box: Box) -> bool:
        """Take a box; false where another meets it."""
        cells = [
            (across, up)
            for across in range(floor(box[0] / _CELL), floor(box[2] / _CELL) + 1)
            for up in range(floor(box[1] / _CELL), floor(box[3] / _CELL) + 1)
        ]
        if any(_meet(box, other) for cell in cells for other in self._cells.get(cell, ())):
            return False
        for cell in cells:
            self._cells.setdefault(cell, []).append(box)
        return True


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
