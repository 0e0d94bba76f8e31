"""Display lists: what is drawn, in mm, y to the right and z up, by role rather than by colour.

A picture knows nothing of a screen or a page. Its players decide colour, pen and text size by role.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
"""(n, 2) y and z in mm."""


class Role(StrEnum):
    """What an item means; a player's palette gives each role its pen and brush."""

    MAT = "mat"
    ROVING = "woven roving"
    STITCHED = "stitched"
    UNIDIRECTIONAL = "unidirectional"
    CORE = "core"
    GEL_COAT = "gel coat"
    FOAM = "foam"
    BLOCK = "block"
    PUTTY = "putty"
    PLATING = "plating"
    PLY_EDGE = "ply edge"
    TOOL = "tool surface"
    MOULD_FACE = "mould face"
    SHELL = "shell"
    AXIS = "neutral axis"
    CENTROID = "centroid"
    TENSION = "tension"
    COMPRESSION = "compression"
    SHEAR = "shear"
    CAVITY = "cavity"
    BONDED = "bonded"
    GOVERNING = "governing"
    WARNING = "warning"
    DIMENSION = "dimension"
    UNDERLAY = "underlay"
    TEXT = "text"
    KEEL = "keel"
    CHINE = "chine"
    WATER = "water"


class Shape(StrEnum):
    """The shape of a mark, of one size on screen or page whatever the scale."""

    CROSS = "cross"
    CIRCLE = "circle"
    SQUARE = "square"
    TRIANGLE = "triangle"
    DIAMOND = "diamond"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Area:
    """A filled region: rings (n, 2) filled even-odd."""

    rings: tuple[Points, ...]
    role: Role
    subject: str = ""
    """Id of what it shows, for picking; ``owner/part`` where it shows a part."""
    tip: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Line:
    """An open or closed line through points (n, 2)."""

    points: Points
    role: Role
    closed: bool = False
    subject: str = ""
    tip: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Label:
    """Words at a point (y, z); ``align`` −1 left, 0 centred, 1 right of the point's own side."""

    at: tuple[float, float]
    text: str
    role: Role = Role.TEXT
    align: int = 0
    subject: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mark:
    """A mark at a point (y, z)."""

    at: tuple[float, float]
    shape: Shape
    role: Role
    subject: str = ""
    tip: str = ""


Item = Area | Line | Label | Mark


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """Items from back to front."""

    items: tuple[Item, ...] = ()

    def __iter__(self) -> Iterator[Item]:
        return iter(self.items)

    def __add__(self, above: "Picture") -> "Picture":
        """Return this picture with another on top."""
        return Picture(items=self.items + above.items)

    def bounds(self) -> tuple[float, float, float, float] | None:
        """Return least y, least z, greatest y, greatest z of all items; None when empty."""
        points = [corner for item in self.items for corner in _corners(item)]
        if not points:
            return None
        low, high = np.min(points, axis=0), np.max(points, axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _corners(item: Item) -> list[tuple[float, float]]:
    match item:
        case Area():
            lines = [ring for ring in item.rings if len(ring)]
        case Line():
            lines = [item.points] if len(item.points) else []
        case Label() | Mark():
            return [item.at]
    ends = [(line.min(axis=0), line.max(axis=0)) for line in lines]
    return [(float(end[0]), float(end[1])) for pair in ends for end in pair]
