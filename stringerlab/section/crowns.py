"""The crown over a section's webs: its clear width, its thickness, and whether its edge is free. mm.

Places and heights are in the shell's axes, as in `stringerlab.section.webs`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import nan

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import as_pairs
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import SectionShape
from stringerlab.section.webs import CONTACT, Run, Web, across

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Crown:
    """The uppermost near-horizontal part over the webs."""

    width: float
    """Clear between the two webs' faces, or of a free flange from the web's face to its edge."""
    thickness: float
    """Of the laminates there, without gel coat."""
    free: bool


NO_CROWN = Crown(nan, nan, False)


def crown(
    found: Sequence[Run], standing: Sequence[Web], shape: SectionShape, upstands: Sequence[Web] = ()
) -> Crown | None:
    """Return the crown over the webs: closed between two, free on one; None where the top is open.

    Two webs that stand back to back are one; an upstand holds the crown where it begins.
    """
    if not standing:
        return None
    top, bottom = max(web.height for web in standing), min(web.bottom for web in standing)
    flats = [run for run in found if not run.steep and run.near.imag.mean() > (top + bottom) / 2]
    if not flats:
        return None
    uppermost = max(flats, key=lambda run: float(max(run.near.imag.max(), run.far.imag.max())))
    low, high = _extent([flats[index] for index in reached(uppermost, flats)])
    slack = 1.0 + sum(stack_sizes(wall.stack).levels[-1] for wall in shape.walls)
    heads = heads_of([web for web in standing if web.height > (top + bottom) / 2])
    heads += [web.base for web in upstands]
    heads = sorted(head for head in heads if head[1] >= low - slack and head[0] <= high + slack)
    if not heads:
        return None
    if len(heads) > 1:
        gaps = [(after[0] - before[1], before[1]) for before, after in pairwise(heads)]
        free = False
    else:
        gaps = [(high - heads[0][1], heads[0][1]), (heads[0][0] - low, low)]
        free = True
    width, start = max(gaps)
    return Crown(width, _thickness(flats, start + width / 2, uppermost, shape), free)


def heads_of(under: Sequence[Web]) -> list[tuple[float, float]]:
    """Return the places of the webs' tops along the shell, of webs back to back as one."""
    heads: list[tuple[float, float]] = []
    before: Web | None = None
    for web in sorted(under, key=lambda web: web.head):
        if before is not None and _back_to_back(before, web):
            heads[-1] = (min(heads[-1][0], web.head[0]), max(heads[-1][1], web.head[1]))
        else:
            heads.append(web.head)
        before = web
    return heads


def _back_to_back(web: Web, other: Web) -> bool:
    """Whether the faces of two webs of different walls lie against each other halfway up."""
    if {run.wall for run in web.runs} & {run.wall for run in other.runs}:
        return False
    height = (max(web.bottom, other.bottom) + min(web.height, other.height)) / 2
    one, two = across(web, height), across(other, height)
    return one is not None and two is not None and max(one[0] - two[1], two[0] - one[1]) <= CONTACT


def reached(first: Run, flats: Sequence[Run]) -> list[int]:
    """Return the indices of a run and all that it is joined to."""
    boxes = [_box(run) for run in flats]
    found = {index for index, run in enumerate(flats) if run is first}
    while True:
        joined = {
            index
            for index, (low, high) in enumerate(boxes)
            if any(
                (low <= boxes[other][1] + CONTACT).all() and (boxes[other][0] <= high + CONTACT).all()
                for other in found
            )
        }
        if joined == found:
            return sorted(found)
        found = joined


def _extent(flats: Sequence[Run]) -> tuple[float, float]:
    """Return the least and greatest place along the shell of runs."""
    boxes = [_box(run) for run in flats]
    return min(float(low[0]) for low, _ in boxes), max(float(high[0]) for _, high in boxes)


def _box(run: Run) -> tuple[Array, Array]:
    """Return the least and greatest place and height of a run's two faces."""
    pairs = as_pairs(np.concatenate([run.near, run.far]))
    return pairs.min(axis=0), pairs.max(axis=0)


def _thickness(flats: Sequence[Run], place: float, uppermost: Run, shape: SectionShape) -> float:
    """Return the thickness without gel coat of the laminates lying on one another at a place."""
    layers: list[tuple[float, float, float]] = []
    for run in flats:
        order = np.argsort(run.near.real)
        if run.near.real.min() <= place <= run.near.real.max():
            near = float(np.interp(place, run.near.real[order], run.near.imag[order]))
            order = np.argsort(run.far.real)
            far = float(np.interp(place, run.far.real[order], run.far.imag[order]))
            layers.append(
                (max(near, far), min(near, far), stack_sizes(shape.walls[run.wall].stack).thickness)
            )
    if not layers:
        return stack_sizes(shape.walls[uppermost.wall].stack).thickness
    layers.sort(reverse=True)
    total, lowest = 0.0, layers[0][0]
    for high, low, thickness in layers:
        if high < lowest - CONTACT:
            break
        total, lowest = total + thickness, min(lowest, low)
    return total
