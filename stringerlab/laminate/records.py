"""Laminates as drawn up (plies by material id, counted away from the mould) and as resolved to numbers.

Axes: 1 along the ply's fibres, x along the laminate's reference direction (the member's axis, or a
panel's short span); the ply angle turns x to 1. A ±45 stitched ply lies at angle 0 when its roll runs
along x: its axis 1 is then turned by 45°. z away from the mould. N, mm, MPa.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from stringerlab.materials.records import DryWeight, GlassContent, PlyKind, Thickness
from stringerlab.units import Deg, Range
from stringerlab.workings import Known


@dataclass(frozen=True, slots=True, kw_only=True)
class Ply:
    """One ply: a material by id; angle in degrees as typed; thickness for cores and gel coats, or measured.

    ``weight`` and ``glass`` replace the material's nominal ones.
    """

    material: str
    angle: Annotated[Deg, Range(-180, 180)] = 0.0
    glass: GlassContent | None = None
    weight: DryWeight | None = None
    thickness: Thickness | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Laminate:
    """Ordered plies counted away from the mould, gel coat first."""

    id: str
    name: str
    plies: tuple[Ply, ...]


class Moduli(StrEnum):
    """Which modulus of a ply counts along a member."""

    PLAIN = "plain ply moduli"
    CONTRACTED = "laminate free to contract"


class Role(StrEnum):
    """What a resolved ply does."""

    REINFORCED = "reinforced"
    CORE = "core"
    GEL_COAT = "gel coat"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlyCoupons:
    """Of one property of a ply [MPa]: what its coupons gave, and the estimate they stand in place of."""

    name: str
    """Of the property, as a field of ``PlyNumbers``."""
    mean: float
    deviation: float
    count: int
    k: float | None
    """Tolerance factor; None for a modulus."""
    value: float
    """By the stated rule: lower bound of a strength, mean of a modulus."""
    estimate: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlyNumbers:
    """A resolved ply in the program's units (mm, MPa, g/m², rad); strengths may be missing (None).

    A core's moduli are its own; its ``shear`` is the core shear strength. A gel coat has none.
    ``marks`` gives how well each property is known, by field name.
    """

    name: str
    role: Role
    kind: PlyKind | None
    angle: float
    thickness: float
    mass: float
    """Areal mass, g/m²."""
    dry_weight: float
    glass: float
    E1: float
    E2: float
    G12: float
    nu12: float
    tension_1: float | None
    compression_1: float | None
    tension_2: float | None
    compression_2: float | None
    shear: float | None
    flexural: float | None
    interlaminar: float | None
    marks: tuple[tuple[str, Known], ...]
    tested: tuple[str, ...] = ()
    """Names of the properties that a test gave rather than an estimate."""
    ductile: bool = False
    """Of a core: whether it yields before it breaks in shear."""
    coupons: tuple[PlyCoupons, ...] = ()
    """Of the properties that tested coupons gave; they are among ``tested`` too."""
    glass_measured: bool = False
    """Whether the glass content is this ply's own, typed or tested, rather than the material's usual one."""
    number: int = 0
    """Of the document's ply it comes from, from 1; the layers of one fabric share it. 0: its place counts."""
    layer: str = ""
    """Of a layer of a fabric: its part of the name, ``mat layer``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A resolved laminate: a value, so that equal stacks are computed once.

    Its hash is taken once: stacks are the keys of most caches.
    """

    name: str
    plies: tuple[PlyNumbers, ...]
    _hash: int = field(init=False, repr=False, compare=False, default=0)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash((self.name, self.plies)))

    @property
    def numbers(self) -> tuple[int, ...]:
        """Number of the ply as drawn up, of every resolved one: what a person counts by."""
        return tuple(ply.number or place for place, ply in enumerate(self.plies, start=1))

    @property
    def labels(self) -> tuple[str, ...]:
        """Number and name of every resolved ply: ``ply 3: 1808, mat layer``."""
        return tuple(
            f"ply {number}: {ply.name}" for number, ply in zip(self.numbers, self.plies, strict=True)
        )

    def __hash__(self) -> int:
        """Return the hash of name and plies."""
        return self._hash

    def __reduce__(self) -> tuple[Callable[[str, tuple[PlyNumbers, ...]], "Stack"], tuple[object, ...]]:
        """Build it anew in another process, whose hashes of text differ."""
        return _stack, (self.name, self.plies)


def _stack(name: str, plies: tuple[PlyNumbers, ...]) -> Stack:
    return Stack(name=name, plies=plies)
