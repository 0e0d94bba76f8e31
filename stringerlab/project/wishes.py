"""What the program is asked to look into: what may change, what must hold, what to lower; scatter; studies.

Part of the document. Numbers as typed: mm, deg, kn, kg; ratios as parts.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from stringerlab.materials.records import Thickness
from stringerlab.units import Range, Ratio

Figure = Annotated[float, Range(-1e9, 1e9)]
"""A number of the kind its variable has, as typed."""


class Change(StrEnum):
    """What number of the boat may change. ``of`` names what it belongs to, by ids."""

    HEIGHT = "hat height"
    """Of sections drawn as hats [mm]; ``of`` are sections, all set to the same."""
    CROWN_WIDTH = "crown width"
    FLANGE_WIDTH = "bonding flange width"
    BEAD = "bead thickness"
    """Of sections [mm]."""
    REPEATS = "layers"
    """How often the ply whose number (from 1) ``ply`` is lies in the laminates ``of``, one on another."""
    PLACE = "distance from the centreline"
    """Of drawn longitudinals ``of`` [mm]: each moves square to the centreline as a whole."""
    TRANSVERSES = "number of transverses"
    """Of drawn transverses ``of``: as many alike as this, evenly between the first and the last of them."""
    SPACING = "spacing"
    """Of spans given by hand [mm]; panels among ``of`` grow and shrink by as much in b."""
    LENGTH = "span length"
    """Of spans given by hand [mm]; panels among ``of`` grow and shrink by as much in l."""
    SPEED = "speed"
    """Of the boat [kn]; ``of`` is empty, as for the next."""
    MASS = "displacement"
    """Of the boat [kg]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number that may change: from ``least`` to ``most`` in steps, both among them where steps reach."""

    id: str
    change: Change
    of: tuple[str, ...] = ()
    ply: Annotated[int, Range(0, 100)] = 0
    least: Figure
    most: Figure
    step: Figure = 0.0
    """0: only the two ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plies:
    """A laminate whose plies may change, within the shop's rules.

    The first ``kept`` plies and the last ``ended`` stay as they are (gel coat and skin mat, a closing mat);
    between them lie ``least`` to ``most`` plies out of the ``menu`` of materials by id. ``mat_between``: no
    two fabrics without mat face each other. ``gauge`` is the least thickness of the whole without gel coat.
    """

    id: str
    laminate: str
    menu: tuple[str, ...]
    least: Annotated[int, Range(0, 40)] = 1
    most: Annotated[int, Range(0, 40)] = 6
    kept: Annotated[int, Range(0, 40)] = 0
    ended: Annotated[int, Range(0, 40)] = 0
    mat_between: bool = True
    gauge: Thickness | None = None


class Holds(StrEnum):
    """What must hold."""

    USE = "utilisation"
    """Of rule findings: of every aspect, or of the one named."""
    DEFLECTION = "deflection"
    """Of a span under the method's pressure as a single beam, in parts of its length."""
    HEIGHT = "height"
    """Of sections above the shell [mm]: what is free under the sole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """Something that must hold: no more than ``limit``. ``of`` names subjects or sections; empty: all."""

    id: str
    holds: Holds
    limit: Annotated[float, Range(0, 1e5, above=True)]
    aspect: str = ""
    of: tuple[str, ...] = ()


class Aim(StrEnum):
    """What to lower."""

    MASS = "mass"
    COST = "cost"
    LABOUR = "labour"
    MIX = "weighted mix"
    USE = "highest utilisation"


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """Of a weighted mix: of a kilogram, of a unit of money, of an hour."""

    mass: Annotated[Ratio, Range(0, 1e6)] = 1.0
    cost: Annotated[Ratio, Range(0, 1e6)] = 0.0
    labour: Annotated[Ratio, Range(0, 1e6)] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SizingPlan:
    """What may change, what must hold, what to lower. No demand at all: every rule finding at 1."""

    numbers: tuple[Number, ...] = ()
    laminates: tuple[Plies, ...] = ()
    demands: tuple[Demand, ...] = ()
    aims: tuple[Aim, ...] = (Aim.MASS, Aim.USE)
    weights: Weights = field(default_factory=Weights)
    seed: Annotated[int, Range(0, 2**31)] = 1
    budget: Annotated[int, Range(100, 10**9)] = 2_000_000
    """How many designs are judged at the most. What is made anew for one counts as several: a laminate as 10,
    a section that is no level hat as 100, panels and spans found anew on a plan as 700."""


class Scattered(StrEnum):
    """What scatters in a hand lay-up and at sea."""

    THICKNESS = "ply thickness"
    GLASS = "glass content"
    MODULUS = "moduli"
    STRENGTH = "strengths"
    BEAD = "bead width"
    SPEED = "speed"


class Law(StrEnum):
    """How a value lies about its middle."""

    NORMAL = "normal"
    LOGNORMAL = "lognormal"
    UNIFORM = "uniform"
    TRIANGULAR = "triangular"


@dataclass(frozen=True, slots=True, kw_only=True)
class Scatter:
    """One input that scatters: a factor on the nominal value, ``mean`` its middle, ``spread`` its deviation.

    For a uniform or triangular law ``spread`` is half its width. ``of`` names laminates (bead: sections);
    empty: all of them. Each scatters on its own; the plies of one laminate together.
    """

    id: str
    what: Scattered
    law: Law = Law.NORMAL
    mean: Annotated[Ratio, Range(0.1, 10)] = 1.0
    spread: Annotated[Ratio, Range(0, 1)] = 0.05
    of: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ScatterPlan:
    """Inputs that scatter, and how many samples of them are taken. None given: those named in ``usual``."""

    usual: str = "usual hand lay-up"
    inputs: tuple[Scatter, ...] = ()
    samples: Annotated[int, Range(64, 10**7)] = 16_384
    seed: Annotated[int, Range(0, 2**31)] = 1


class Shown(StrEnum):
    """What a study shows."""

    USE = "utilisation"
    MASS = "mass"
    COST = "cost"
    LABOUR = "labour"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What is read off every step: a utilisation is the highest of ``subject`` and ``aspect``, empty: any."""

    shown: Shown = Shown.USE
    subject: str = ""
    aspect: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """One or two numbers swept, and what is read off."""

    id: str
    name: str
    along: tuple[Number, ...]
    readings: tuple[Reading, ...] = (Reading(), Reading(shown=Shown.MASS))


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """Everything the program is asked to look into."""

    sizing: SizingPlan = field(default_factory=SizingPlan)
    scatter: ScatterPlan = field(default_factory=ScatterPlan)
    studies: tuple[Study, ...] = ()
