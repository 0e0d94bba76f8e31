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
    UNCOUNTED = "not counted"
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
    OPENING = "opening"
    GOVERNING = "governing"
    WARNING = "warning"
    DIMENSION = "dimension"
    UNDERLAY = "underlay"
    TEXT = "text"
    KEEL = "keel"
    CHINE = "chine"
    WATER = "water"
    FIBRE = "fibre direction"
    CURVE = "curve"
    GRID = "grid"
    HOLDS = "holds"
    TIGHT = "tight"
    SHORT = "short"
    NOT_JUDGED = "not judged"
    SELECTED = "selected"
    PANEL = "panel"
    MEMBER = "member"
    CROWN = "crown"
    BULKHEAD = "bulkhead"
    SPRAY_STEP = "spray step"
    HULL_STEP = "hull step"
    NODE = "node"
    SUPPORT = "support"
    EQUIPMENT = "equipment"
    INSULATION = "insulation"
    MOMENT_UP = "moment crown in tension"
    MOMENT_DOWN = "moment crown in compression"
    SHEAR_FORCE = "shear force"
    DEFLECTED = "deflected shape"
    REACTION = "reaction"
    PATCH = "slam patch"
    VEIL = "veil"


class Shape(StrEnum):
    """The shape of a mark, of one size on screen or page whatever the scale."""

    CROSS = "cross"
    CIRCLE = "circle"
    SQUARE = "square"
    TRIANGLE = "triangle"
    DIAMOND = "diamond"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """A value that runs straight with height z: an area's colour from full compression to full tension."""

    z: tuple[float, float]
    """Two heights, the lower first [mm] …"""
    values: tuple[float, float]
    """… and the value at each."""
    limit: float
    """The value of full colour, above 0."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Area:
    """A filled region: rings (n, 2) filled even-odd."""

    rings: tuple[Points, ...]
    role: Role
    edge: Role | None = None
    """Role of the line around it; None for none."""
    tint: Role | None = None
    """A second role whose colour shows through: the kind of a hull's ply."""
    shade: Shade | None = None
    """A value shown in place of the role's own colour."""
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
    """Words at a point (y, z), of one size on screen or page; a line break parts lines."""

    at: tuple[float, float]
    text: str
    role: Role = Role.TEXT
    align: int = 0
    """−1: the words stand left of the point, 0: across it, 1: right of it."""
    level: int = 0
    """−1: below the point, 0: beside it, 1: above it."""
    small: bool = False
    subject: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ticks:
    """Many short strokes at once, each from a start to an end, (n, 2) both.

    With a ``size`` they are of one length on screen or page: that of a mark times ``size``.
    """

    starts: Points
    ends: Points
    role: Role
    size: float | None = None
    subject: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mark:
    """A mark at a point (y, z)."""

    at: tuple[float, float]
    shape: Shape
    role: Role
    subject: str = ""
    tip: str = ""


Item = Area | Line | Label | Mark | Ticks


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
        pieces = [piece for item in self.items for piece in _pieces(item)]
        if not pieces:
            return None
        points = np.concatenate(pieces)
        low, high = points.min(axis=0), points.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def area_of(area: Area) -> float:
    """Return the size of an area: its outer rings less its holes [mm²].

    Rings must not cross; a ring within another counts as its hole whichever way it runs.
    """
    sizes = [abs(_shoelace(ring)) for ring in area.rings]
    depth = [
        sum(_holds(other, ring) for place, other in enumerate(area.rings) if place != index)
        for index, ring in enumerate(area.rings)
    ]
    return sum(size if inside % 2 == 0 else -size for size, inside in zip(sizes, depth, strict=True))


def _shoelace(ring: Points) -> float:
    y, z = (ring - ring[0]).T
    return float((y * np.roll(z, -1) - np.roll(y, -1) * z).sum() / 2)


def _holds(outer: Points, inner: Points) -> bool:
    """Return whether a ring lies within another that it does not cross: by the middle of its first edge."""
    y, z = (inner[0] + inner[1]) / 2
    one, other = outer, np.roll(outer, -1, axis=0)
    crossed = (one[:, 1] > z) != (other[:, 1] > z)
    one, other = one[crossed], other[crossed]
    place = one[:, 0] + (z - one[:, 1]) * (other[:, 0] - one[:, 0]) / (other[:, 1] - one[:, 1])
    return bool((place > y).sum() % 2)


def _pieces(item: Item) -> list[Points]:
    match item:
        case Area():
            return list(item.rings)
        case Line():
            return [item.points]
        case Ticks():
            return [item.starts] if item.size is not None else [item.starts, item.ends]
        case Label() | Mark():
            return [np.array([item.at], np.float64)]
