"""A grid bent by one load case, seen from port aft and above: w times a factor over the level grid. mm.

The bottom's own shape is left out: the grid is drawn level, so that only what it deflects is seen.
"""

from math import cos, floor, log10, radians, sin

import numpy as np

from stringerlab.assess.grid import GridResults, case_field
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Shape
from stringerlab.drawing.plan_options import PlanOptions
from stringerlab.units import Kind
from stringerlab.units import format as shown

_SLANT = radians(50)
"""Of athwart lines on the picture, …"""
_SHORTENED = 0.6
"""… and how much shorter they are than they lie."""
_HIGH = 0.3
"""Height of the greatest deflection, as a part of the bottom's breadth."""


def deflected_picture(grid: GridResults, case: int, *, options: PlanOptions | None = None) -> Picture:
    """Return the deflected shape under one load case, its scale said in the picture.

    Parameters
    ----------
    grid
        Analysed and solved.
    case
        Number of the load case.
    options
        Units.

    Raises
    ------
    ValueError
        When the grid has not been solved, or has no such case.
    """
    field = case_field(grid, case)
    units = (options or PlanOptions()).units
    outline = grid.ground.found.outline
    greatest = float(np.abs(field.w).max(initial=0.0))
    scale = _round_down(_HIGH * float(np.ptp(outline[:, 1])) / greatest) if greatest > 0 else 0.0
    items: list[Item] = [Area(rings=(_seen(outline, 0.0),), role=Role.KEEL, edge=Role.CHINE)]
    if len(field.case.patch) > 2:
        ring = np.array(field.case.patch, float)
        items.append(Area(rings=(_seen(ring, 0.0),), role=Role.PATCH, edge=Role.PATCH, tip=field.case.name))
    items += [Line(points=_seen(line[[0, -1]], 0.0), role=Role.GRID) for line in field.at]
    for line, w in zip(field.at, field.w, strict=True):
        items.append(Line(points=_seen(line, scale * w), role=Role.DEFLECTED))
    if greatest > 0:
        beam, place = np.unravel_index(int(np.abs(field.w).argmax()), field.w.shape)
        w = float(field.w[beam, place])
        foot = _seen(field.at[beam, place][None], 0.0)[0]
        head = _seen(field.at[beam, place][None], scale * w)[0]
        x, y = head.tolist()
        items.append(Line(points=np.stack([foot, head]), role=Role.DIMENSION))
        items.append(Mark(at=(x, y), shape=Shape.CIRCLE, role=Role.DEFLECTED))
        drawn = "to scale" if scale == 1.0 else f"{scale:g} times"
        words = f"{shown(w, Kind.LENGTH, units, digits=3)}, drawn {drawn}"
        items.append(Label(at=(x, y), text=words, role=Role.DEFLECTED, level=1))
    return Picture(items=tuple(items))


def _seen(points: Points, up: Points | float) -> Points:
    """Return plan places (n, 2), raised by so much, on the picture."""
    x = points[:, 0] + _SHORTENED * cos(_SLANT) * points[:, 1]
    return np.stack([x, _SHORTENED * sin(_SLANT) * points[:, 1] + up], axis=1)


def _round_down(value: float) -> float:
    """Return 1, 2 or 5 times a power of ten that is no greater."""
    power = 10.0 ** floor(log10(value))
    return max(each for each in (1.0, 2.0, 5.0) if each * power <= value * (1 + 1e-12)) * power
