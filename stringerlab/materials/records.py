"""Frozen records of materials as a book or a project holds them: every value with its source and mark.

Numbers are in the units of their annotation; glass content is a mass fraction, never a volume fraction.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from stringerlab.units import Deg, GPerM2, Mm, Range, Ratio, unit_named
from stringerlab.workings import Known


@dataclass(frozen=True, slots=True, kw_only=True)
class Sourced:
    """A value with where it comes from and how well it is known; the field that holds it states the unit."""

    value: float
    source: str
    known: Known


Density = Annotated[Sourced, unit_named("kg/m³"), Range(5, 20_000)]
Modulus = Annotated[Sourced, unit_named("MPa"), Range(0, 1e6, above=True)]
Strength = Annotated[Sourced, unit_named("MPa"), Range(0, 1e4, above=True)]
Gap = Annotated[Sourced, unit_named("mm"), Range(0, 100, above=True)]
Poisson = Annotated[Sourced, unit_named(""), Range(-0.5, 0.9)]
Strain = Annotated[Sourced, unit_named(""), Range(0, 0.1, above=True)]
GlassContent = Annotated[Ratio, Range(0.1, 0.8)]
DryWeight = Annotated[GPerM2, Range(20, 5000)]
Thickness = Annotated[Mm, Range(0, 100, above=True)]


class PlyKind(StrEnum):
    """What a reinforcement is, which decides how its stiffness is estimated."""

    MAT = "mat"
    WOVEN_ROVING = "woven roving"
    BIAXIAL = "0/90 stitched"
    DOUBLE_BIAS = "±45 stitched"
    UNIDIRECTIONAL = "unidirectional"
    TRIAXIAL = "triaxial stitched"
    QUADRIAXIAL = "quadriaxial stitched"
    MAT_STITCHED = "mat-stitched combination"


LAYERED = (PlyKind.TRIAXIAL, PlyKind.QUADRIAXIAL, PlyKind.MAT_STITCHED)
"""Kinds that are several layers by what they are: they state them, the others have none."""


class Estimate(StrEnum):
    """How a ply's properties follow from its glass content: a named choice."""

    PUBLISHED_FIT = "published fit"
    MICROMECHANICS = "rule of mixtures and Halpin–Tsai"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resin:
    """A laminating resin; failing strains are those of an aligned ply laid with it, across its fibres."""

    id: str
    name: str
    density: Density
    modulus: Modulus
    poisson: Poisson
    transverse_tension_strain: Strain | None = None
    transverse_compression_strain: Strain | None = None
    shear_strain: Strain | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fibre:
    """A reinforcing fibre; failing strains are those of an aligned ply, along its fibres."""

    id: str
    name: str
    density: Density
    modulus: Modulus
    transverse_modulus: Modulus
    shear_modulus: Modulus
    poisson: Poisson
    tension_strain: Strain | None = None
    compression_strain: Strain | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tested:
    """A user's own tested values, each overriding the estimate; along the ply's own axes 1 and 2."""

    modulus_1: Modulus | None = None
    modulus_2: Modulus | None = None
    shear_modulus: Modulus | None = None
    poisson: Poisson | None = None
    tension_1: Strength | None = None
    compression_1: Strength | None = None
    tension_2: Strength | None = None
    compression_2: Strength | None = None
    shear: Strength | None = None
    flexural: Strength | None = None
    interlaminar: Strength | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of a stitched fabric of several: a plain kind, its own weight, glass content and angle.

    The angle turns the roll's length to the layer's axis 1; layers count away from the mould as laid.
    """

    kind: PlyKind
    weight: DryWeight
    glass: GlassContent
    angle: Annotated[Deg, Range(-180, 180)] = 0.0
    estimate: Estimate = Estimate.PUBLISHED_FIT


class Property(StrEnum):
    """What coupons were tested for: the fields of `Tested` that are moduli or strengths, MPa."""

    MODULUS_1 = "modulus_1"
    MODULUS_2 = "modulus_2"
    SHEAR_MODULUS = "shear_modulus"
    TENSION_1 = "tension_1"
    COMPRESSION_1 = "compression_1"
    TENSION_2 = "tension_2"
    COMPRESSION_2 = "compression_2"
    SHEAR = "shear"
    FLEXURAL = "flexural"
    INTERLAMINAR = "interlaminar"


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponSet:
    """Results of one set of coupons cut from one laminate: mean and standard deviation [MPa], how many.

    ``source`` says who tested and which report; ``standard`` after which test standard.
    """

    property: Property
    mean: Annotated[float, unit_named("MPa"), Range(0, 1e6, above=True)]
    deviation: Annotated[float, unit_named("MPa"), Range(0, 1e6)]
    count: Annotated[int, Range(1, 10_000)]
    glass: GlassContent
    thickness: Thickness | None = None
    standard: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reinforcement:
    """A dry fabric or mat with the resin and glass content it is laid with.

    ``source`` and ``known`` say where weight and glass content come from. A fabric of several layers
    (triaxial, quadriaxial, mat-stitched) states them; weight and glass content are then of the whole.
    """

    id: str
    name: str
    kind: PlyKind
    fibre: str
    resin: str
    weight: DryWeight
    glass: GlassContent
    estimate: Estimate = Estimate.PUBLISHED_FIT
    tested: Tested = field(default_factory=Tested)
    layers: tuple[Layer, ...] = ()
    coupons: tuple[CouponSet, ...] = ()
    source: str = "as entered"
    known: Known = Known.STATED


@dataclass(frozen=True, slots=True, kw_only=True)
class Core:
    """A sandwich core."""

    id: str
    name: str
    density: Density
    modulus: Modulus
    shear_modulus: Modulus
    shear_strength: Strength
    compressive_strength: Strength
    ductile: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class GelCoat:
    """A gel coat: mass and thickness, never strength."""

    id: str
    name: str
    density: Density


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A fill's material: foam, backing block, putty. Foam is never structural."""

    id: str
    name: str
    density: Density
    modulus: Modulus | None = None
    strength: Strength | None = None
    structural: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Adhesive:
    """An adhesive for bonding the part to the hull."""

    id: str
    name: str
    density: Density
    modulus: Modulus
    shear_strength: Strength
    gap: Gap | None = None
    """The widest it fills and keeps its strength."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials:
    """A set of materials: a book's, or a project's own."""

    resins: tuple[Resin, ...] = ()
    fibres: tuple[Fibre, ...] = ()
    reinforcements: tuple[Reinforcement, ...] = ()
    cores: tuple[Core, ...] = ()
    gel_coats: tuple[GelCoat, ...] = ()
    solids: tuple[Solid, ...] = ()
    adhesives: tuple[Adhesive, ...] = ()
