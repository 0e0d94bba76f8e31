"""Small repairs of a drawn line, each of them reported. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from stringerlab.geometry.lines import TOUCH

Point = tuple[float, float]


@dataclass(frozen=True)
class Cleaned:
    """A line without repeated points, and the numbers (from 1) of the points that were left out."""

    points: tuple[Point, ...]
    radii: tuple[float, ...]
    dropped: tuple[int, ...]


def without_repeats(points: Sequence[Point], radii: Sequence[float], *, closed: bool = False) -> Cleaned:
    """Return a line without points that repeat the one before; the larger radius of the two stays.

    A closed line's last point that repeats its first is left out too.
    """
    kept: list[Point] = []
    kept_radii: list[float] = []
    dropped: list[int] = []
    for number, (point, radius) in enumerate(zip(points, radii, strict=True), start=1):
        if kept and _same(point, kept[-1]):
            dropped.append(number)
            kept_radii[-1] = max(kept_radii[-1], radius)
        else:
            kept.append(point)
            kept_radii.append(radius)
    if closed and len(kept) > 1 and _same(kept[0], kept[-1]):
        dropped.append(len(points))
        kept_radii[0] = max(kept_radii[0], kept_radii[-1])
        del kept[-1], kept_radii[-1]
    return Cleaned(tuple(kept), tuple(kept_radii), tuple(dropped))


def _same(one: Point, other: Point) -> bool:
    return hypot(one[0] - other[0], one[1] - other[1]) < TOUCH
