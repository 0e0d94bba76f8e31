"""How one finding's utilisation scatters, as a cumulative curve: how many of the samples lie below. mm.

Where the curve crosses the limit is how many hold; those above it are short.
"""

from collections.abc import Iterator

import numpy as np

from stringerlab.drawing.axes import Box, Reach, ticks
from stringerlab.drawing.display import Item, Label, Line, Mark, Role, Shape
from stringerlab.methods import SHORT_ABOVE, utilisation_text
from stringerlab.sizing.records import Chance
from stringerlab.units import rounded, trimmed

_LEFT, _UNDER, _OVER = 10.0, 12.0, 7.0
"""Room around the frame for numbers and titles."""
_WHOLE = 100.0
_WORDS = 17.0
"""Room for words beside the limit."""


def spread_items(chance: Chance, *, size: tuple[float, float], top: float = 0.0) -> Iterator[Item]:
    """Yield the curve in its frame, the limit, the boat without scatter, and the three percentiles told.

    Parameters
    ----------
    chance
        Of the finding; without a curve only its percentiles are drawn.
    size
        Width and height to fill, from the upper left corner to the right and down [mm].
    top
        How high that corner lies; it lies at 0 across [mm].
    """
    width, height = size
    curve = np.array(chance.curve or tuple(zip((5.0, 50.0, 95.0), chance.percentiles, strict=True)))
    parts, below = curve[:, 0], curve[:, 1]
    box = Box(
        left=_LEFT,
        bottom=top - height + _UNDER,
        width=max(width - _LEFT - 3.0, 12.0),
        height=max(height - _UNDER - _OVER, 12.0),
        across=Reach.of(below, chance.nominal, SHORT_ABOVE, room=0.05),
        up=Reach(0.0, _WHOLE),
    )
    yield from _frame(box)
    yield from _limit(box, chance)
    points = np.column_stack([below, parts])
    yield Line(points=box.points(points), role=Role.CURVE, tip="how many of the samples lie below")
    for part, value in zip((5.0, 50.0, 95.0), chance.percentiles, strict=True):
        tip = f"{rounded(part)} % of the samples lie below {utilisation_text(value)}"
        yield Mark(at=(box.x(value), box.y(part)), shape=Shape.CIRCLE, role=Role.CURVE, tip=tip)
    yield Mark(
        at=(box.x(chance.nominal), box.bottom),
        shape=Shape.DIAMOND,
        role=Role.SELECTED,
        tip=f"without scatter {utilisation_text(chance.nominal)}",
    )


def _frame(box: Box) -> Iterator[Item]:
    for value in ticks(box.across.low, box.across.high, box.width / 11):
        x = box.x(value)
        yield Line(points=np.array([(x, box.bottom), (x, box.top)]), role=Role.GRID)
        yield Label(at=(x, box.bottom), text=trimmed(value), small=True, level=-1)
    for part in (0.0, 25.0, 50.0, 75.0, _WHOLE):
        y = box.y(part)
        yield Line(points=np.array([(box.left, y), (box.right, y)]), role=Role.GRID)
        yield Label(at=(box.left, y), text=trimmed(part), small=True, align=-1)
    yield Line(points=box.ring(), role=Role.DIMENSION, closed=True)
    yield Label(
        at=(box.left, box.top), text="samples below (%)", align=1, level=1, small=True, role=Role.DIMENSION
    )
    middle = box.left + box.width / 2
    yield Label(
        at=(middle, box.bottom - 4.5),
        text="utilisation; ◇ without scatter",
        level=-1,
        small=True,
        role=Role.DIMENSION,
    )


def _limit(box: Box, chance: Chance) -> Iterator[Item]:
    """Yield the limit, and how many samples lie on either side of it, where the curve leaves room."""
    x = box.x(SHORT_ABOVE)
    upright = np.array([(x, box.bottom), (x, box.top)])
    yield Line(points=upright, role=Role.GOVERNING, tip="1.00: demand is capacity")
    short = chance.short * _WHOLE
    if x - box.left > _WORDS:
        text = f"hold {rounded(_WHOLE - short, 3)} %"
        yield Label(at=(box.left + 1.0, box.top - 2.5), text=text, small=True, align=1)
    if box.right - x > _WORDS:
        text = f"short {rounded(short, 3)} %"
        yield Label(at=(box.right - 1.0, box.bottom + 2.5), text=text, small=True, align=-1)
