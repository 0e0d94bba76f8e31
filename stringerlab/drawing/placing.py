"""Pictures moved and set out on one ground, and words kept apart: pure geometry of display lists.

mm, y to the right, z up.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, sqrt

import numpy as np

from stringerlab.drawing.as_svg import covered
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Ticks

Box = tuple[float, float, float, float]
"""Least y, least z, greatest y, greatest z."""


def moved(picture: Picture, dy: float, dz: float) -> Picture:
    """Return a picture moved by so much to the right and up [mm]."""
    return Picture(items=tuple(_moved(item, dy, dz) for item in picture))


def side_by_side(pictures: Sequence[Picture], boxes: Sequence[Box], gap: float) -> tuple[Picture, ...]:
    """Return pictures set out in rows, as many in a row as there are rows, on common base lines.

    Parameters
    ----------
    pictures
        In order, from the left and from the top.
    boxes
        What each needs, words included [mm].
    gap
        Between them [mm].
    """
    across = max(ceil(sqrt(len(pictures))), 1)
    placed: list[Picture] = []
    top = 0.0
    for start in range(0, len(pictures), across):
        row = range(start, min(start + across, len(pictures)))
        above = max(boxes[number][3] for number in row)
        below = min(boxes[number][1] for number in row)
        left = 0.0
        for number in row:
            box = boxes[number]
            placed.append(moved(pictures[number], left - box[0], top - above))
            left += box[2] - box[0] + gap
        top -= above - below + gap
    return tuple(placed)


def apart(picture: Picture, scale: float) -> Picture:
    """Return a picture whose words stand clear of each other at a drawing scale, moved up or down for it.

    Words that find no clear place within a few lines stay where they are.
    """
    taken: list[Box] = []
    items: list[Item] = []
    for item in picture:
        if not isinstance(item, Label):
            items.append(item)
            continue
        left, bottom, right, top = box = _words_box(item, scale)
        step = (top - bottom) / max(len(item.text.split("\n")), 1)
        at = next(
            (by * step for by in _STEPS if not any(_meet(_raised(box, by * step), one) for one in taken)), 0.0
        )
        taken.append((left, bottom + at, right, top + at))
        items.append(replace(item, at=(item.at[0], item.at[1] + at)) if at else item)
    return Picture(items=tuple(items))


_STEPS = (0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0, 4.0, -4.0)
"""Lines by which words are moved, the least first."""


def _words_box(label: Label, scale: float) -> Box:
    """Return what words cover, their own point with them."""
    needed = covered(Picture(items=(label,)), scale)
    return needed.left, needed.bottom, needed.right, needed.top


def _raised(box: Box, by: float) -> Box:
    return box[0], box[1] + by, box[2], box[3] + by


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _moved(item: Item, dy: float, dz: float) -> Item:
    step = np.array([dy, dz])
    match item:
        case Area():
            shade = item.shade and replace(item.shade, z=(item.shade.z[0] + dz, item.shade.z[1] + dz))
            return replace(item, rings=tuple(ring + step for ring in item.rings), shade=shade)
        case Line():
            return replace(item, points=item.points + step)
        case Ticks():
            return replace(item, starts=item.starts + step, ends=item.ends + step)
        case Label() | Mark():
            return replace(item, at=(item.at[0] + dy, item.at[1] + dz))


__all__ = ["Box", "apart", "moved", "side_by_side"]
