"""Drawn cross-sections, cut square to a member: y to the right, z from the shell inboard, mm.

A wall's line is the tool surface; its laminate builds on one stated side of the line, seen along the
direction in which it is drawn. Hull plating never belongs to a section, only its ``reference`` names one.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from stringerlab.laminate.records import Stack
from stringerlab.units import Deg, Mm, Range, Ratio
from stringerlab.workings import Known

Coordinate = Annotated[Mm, Range(-10_000, 10_000)]
Point = tuple[Coordinate, Coordinate]


class Side(StrEnum):
    """The side of the drawn line on which the laminate builds."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class OnHull:
    """Of a wall that lies on the hull, as a pan does: it counts only where fully bonded, less its voids."""

    fully_bonded: bool = False
    voids: Annotated[Ratio, Range(0, 0.9)] = 0.1

    @property
    def counted(self) -> float:
        """The share of the wall's stiffness that counts."""
        return 1.0 - self.voids if self.fully_bonded else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A drawn line of points (y, z) with a fillet radius at each point (0 for sharp), and its laminate by id.

    ``fillets`` is empty (all sharp) or has one radius a point; a closed wall joins last point to first.
    """

    id: str
    points: tuple[Point, ...]
    laminate: str
    side: Side
    fillets: tuple[Annotated[Mm, Range(0, 5000)], ...] = ()
    closed: bool = False
    name: str = ""
    on_hull: OnHull | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """A drawn closed region of one solid material: outline points (y, z), not repeated at the end."""

    id: str
    points: tuple[Point, ...]
    material: str
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """The plating a section is shown with when it is looked at alone."""

    laminate: str
    width: Annotated[Mm, Range(0, 5000, above=True)]
    deadrise: Annotated[Deg, Range(0, 60)] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Walls and fills of one member's cross-section.

    ``laps`` names pairs of walls whose overlap is meant and keeps its real plies. ``bead`` is the adhesive's
    thickness between the shell and the bonding flanges, 0 where the part is laminated in place; ``adhesive``
    is its material by id, empty for the shipped methacrylate.
    """

    id: str
    name: str
    walls: tuple[Wall, ...]
    fills: tuple[Fill, ...] = ()
    laps: tuple[tuple[str, str], ...] = ()
    reference: Reference | None = None
    bead: Annotated[Mm, Range(0, 40)] = 0.0
    adhesive: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallShape:
    """A wall with its laminate resolved. Its hash is taken once: see `SectionShape`.

    ``counted`` is the share of its stiffness that counts: less than 1 for one lying on the hull, `OnHull`.
    """

    id: str
    points: tuple[tuple[float, float], ...]
    fillets: tuple[float, ...]
    side: Side
    closed: bool
    stack: Stack
    counted: float = 1.0
    _hash: int = field(init=False, repr=False, compare=False, default=0)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash(self._values))

    @property
    def _values(self) -> tuple[object, ...]:
        return self.id, self.points, self.fillets, self.side, self.closed, self.stack, self.counted

    def __hash__(self) -> int:
        """Return the hash of its values."""
        return self._hash

    def __reduce__(self) -> tuple[Callable[..., "WallShape"], tuple[object, ...]]:
        """Build it anew in another process, whose hashes of text differ."""
        return _wall_shape, self._values


def _wall_shape(
    id: str,  # noqa: A002
    points: tuple[tuple[float, float], ...],
    fillets: tuple[float, ...],
    side: Side,
    closed: bool,
    stack: Stack,
    counted: float,
) -> WallShape:
    return WallShape(
        id=id, points=points, fillets=fillets, side=side, closed=closed, stack=stack, counted=counted
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FillShape:
    """A fill with its material resolved; a modulus of 0 counts for mass only.

    ``known`` is the weakest mark of its numbers.
    """

    id: str
    points: tuple[tuple[float, float], ...]
    name: str
    density: float
    modulus: float
    strength: float | None
    known: Known = Known.ESTIMATE


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionShape:
    """A resolved section: a value, so that equal sections are computed once.

    Its hash is taken once, and so is that of its walls: sections are the keys of caches, and while one wall
    is dragged the others are the same.
    """

    name: str
    walls: tuple[WallShape, ...]
    fills: tuple[FillShape, ...] = ()
    laps: tuple[tuple[str, str], ...] = ()
    bead: float = 0.0
    bead_G: float | None = None
    """Shear modulus of the bead's adhesive [MPa]; None where it is not known."""
    _hash: int = field(init=False, repr=False, compare=False, default=0)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash(self._values))

    @property
    def _values(self) -> tuple[object, ...]:
        return self.name, self.walls, self.fills, self.laps, self.bead, self.bead_G

    def __hash__(self) -> int:
        """Return the hash of its values."""
        return self._hash

    def __reduce__(self) -> tuple[Callable[..., "SectionShape"], tuple[object, ...]]:
        """Build it anew in another process, whose hashes of text differ."""
        return _section_shape, self._values


def _section_shape(
    name: str,
    walls: tuple[WallShape, ...],
    fills: tuple[FillShape, ...],
    laps: tuple[tuple[str, str], ...],
    bead: float,
    bead_G: float | None,
) -> SectionShape:
    return SectionShape(name=name, walls=walls, fills=fills, laps=laps, bead=bead, bead_G=bead_G)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plating:
    """Hull plating counted under a member: its stack as laid up (mould outboard), width in mm, slope in rad.

    The strip's inboard face passes through the section's origin; the last ply of the stack lies there.
    """

    stack: Stack
    width: float
    deadrise: float = 0.0
