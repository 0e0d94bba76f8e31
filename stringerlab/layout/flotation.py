"""Flotation of a swamped boat in the form of 33 CFR 183: how much foam it asks for, against what is there.

Clause units are lb, ft³, lb/ft³. The regulation itself sets a test: swamped in calm fresh water, with a part
of her load aboard, the boat must keep afloat. The volumes here are how builders are told to estimate the foam
for that test; an estimate passes none.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from math import isnan, nan
from typing import Annotated

from stringerlab.errors import Problem
from stringerlab.layout.cavities import CavityReading
from stringerlab.layout.plan import Drive, FlotationInputs
from stringerlab.units import Kg, KgPerM3, Mm, Range, Ratio, unit_named
from stringerlab.workings import Known, Source, formula, weakest
from stringerlab.workings.maths import maximum, minimum

Pounds = Annotated[float, unit_named("lb")]
CubicFeet = Annotated[float, unit_named("ft³")]
PoundsPerCubicFoot = Annotated[float, unit_named("lb/ft³")]

LONGEST = 20 * 304.8
"""Of a boat that is covered: under 20 ft [mm]."""
USUAL_FOAM = 32.0
"""Of the usual flotation foam [kg/m³]: common practice."""
EDITION = "33 CFR Part 183"
NOT_A_TEST = (
    "an estimate of the foam, not the swamped test that the regulation asks for; where the foam lies decides "
    "whether the boat floats level"
)

_NEEDED = ("length", "drive", "hull", "deck", "machinery", "persons", "capacity")

_ESTIMATE = Source(
    title=f"Estimate of flotation for {EDITION}",
    clause="flotation for the boat's own weight",
    known=Known.READ,
)
_SUBMERGED = Source(title="Archimedes", clause="weight in fresh water", known=Known.MEMORY_H)
_MACHINERY = Source(
    title=f"Estimate of flotation for {EDITION}", clause="flotation for machinery", known=Known.MEMORY_L
)
_LEVEL = Source(
    title=EDITION, clause="Subpart G, 183.225: loads of the level flotation test", known=Known.READ
)
_BASIC = Source(
    title=EDITION, clause="183.105 and 183.305: quantity of flotation required", known=Known.MEMORY_M
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Swamped:
    """What a flotation estimate needs to know of a boat [mm, kg].

    ``hull`` is all that is under water when she is swamped, of ``hull_density``; ``deck`` what is above it.
    ``machinery_part`` is the part of the machinery's weight that is left under water; a swamped weight from
    its maker or the regulation's table, over its weight, replaces it. ``persons`` and ``capacity`` are as
    marked on the boat: the weight of persons, and the greatest weight of persons and gear, of an outboard
    less its motor and what belongs to it.
    """

    length: Annotated[Mm, Range(1000, 60_000)]
    drive: Drive
    hull: Annotated[Kg, Range(0, 100_000)]
    hull_density: Annotated[KgPerM3, Range(100, 12_000)] = 1500.0
    deck: Annotated[Kg, Range(0, 100_000)] = 0.0
    machinery: Annotated[Kg, Range(0, 20_000)] = 0.0
    machinery_part: Annotated[Ratio, Range(0, 1)] = 0.75
    persons: Annotated[Kg, Range(0, 20_000)]
    capacity: Annotated[Kg, Range(0, 50_000)]
    monohull: bool = True
    exempt: str = ""
    """What she is that the subparts leave out (a sailboat, a canoe, an inflatable …); empty otherwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flotation:
    """Foam asked for and there [mm³]; nan where the form does not cover the boat: ``outside`` says why."""

    outside: tuple[Problem, ...]
    missing: tuple[str, ...] = ()
    """What must be known besides, by the names of `FlotationInputs`."""
    hull: float = nan
    """For the boat's own weight, deck included."""
    machinery: float = nan
    load: float = nan
    needed: float = nan
    present: float = 0.0
    """Of foam in sealed voids, both of a pair."""
    unsealed: float = 0.0
    """Of foam that is not sealed in: it is not counted."""
    density: float = nan
    """Of the foam reckoned with [kg/m³]."""
    known: Known = Known.MEMORY_L
    notes: tuple[str, ...] = ()

    @property
    def covered(self) -> bool:
        """Whether the form covers the boat."""
        return not self.outside

    @property
    def enough(self) -> bool | None:
        """Whether the foam there is what is asked for; None where that is not told."""
        return None if isnan(self.needed) or isnan(self.present) else self.present >= self.needed


@formula(symbol="B_f", source=_ESTIMATE)
def foam_buoyancy(w_f: PoundsPerCubicFoot) -> PoundsPerCubicFoot:
    """What a volume of foam bears in fresh water, less its own weight."""
    return 62.4 - w_f


@formula(symbol="K_h", source=_SUBMERGED)
def submerged_part(w_h: PoundsPerCubicFoot) -> Ratio:
    """Part of a material's weight that is left in fresh water; of what floats, below 0."""
    return 1 - 62.4 / w_h


@formula(symbol="F_b", source=_ESTIMATE)
def hull_foam(W_h: Pounds, K_h: Ratio, W_dk: Pounds, B_f: PoundsPerCubicFoot) -> CubicFeet:
    """Foam for the boat's own weight: the hull's under water, the deck's above it."""
    return maximum(W_h * K_h + W_dk, 0) / B_f


@formula(symbol="F_p", source=_MACHINERY)
def machinery_foam(W_p: Pounds, f_p_w: Ratio, B_f: PoundsPerCubicFoot) -> CubicFeet:
    """Foam for the machinery's weight under water."""
    return W_p * f_p_w / B_f


@formula(symbol="F_c", source=_LEVEL)
def level_load_foam(C_p: Pounds, C_l: Pounds, B_f: PoundsPerCubicFoot) -> CubicFeet:
    """Foam for the load of an outboard that is to float level."""
    first = minimum(C_p, 550)
    return (0.5 * first + 0.125 * (C_p - first) + 0.25 * maximum(C_l - C_p, 0)) / B_f


@formula(symbol="F_c", source=_BASIC)
def basic_load_foam(C_p: Pounds, C_l: Pounds, B_f: PoundsPerCubicFoot) -> CubicFeet:
    """Foam for the load of a boat of which some part is to stay above water."""
    return (2 * C_p / 15 + 0.25 * maximum(C_l - C_p, 0)) / B_f


@formula(symbol="F_f", source=_ESTIMATE)
def needed_foam(F_b: CubicFeet, F_p: CubicFeet, F_c: CubicFeet) -> CubicFeet:
    """Foam asked for in all."""
    return F_b + F_p + F_c


def flotation(
    boat: Swamped, readings: Sequence[CavityReading], *, foam_density: float = USUAL_FOAM
) -> Flotation:
    """Return the foam that a boat's flotation asks for, and what her sealed voids hold.

    Parameters
    ----------
    boat
        Weights and capacities.
    readings
        Her cavities.
    foam_density
        Of the foam reckoned with while no sealed void holds any [kg/m³]; else the mean of theirs counts.

    Returns
    -------
    Flotation
        Without volumes where the form does not cover the boat.
    """
    outside = _outside(boat.length, monohull=boat.monohull, exempt=boat.exempt)
    sealed = [each for each in readings if each.sealed and each.foam_volume != 0]
    present, unsealed = _foam(readings)
    if outside:
        return Flotation(outside=outside, present=present, unsealed=unsealed)
    density = sum(each.foam_mass * each.count for each in sealed) / present * 1e9 if present else foam_density
    B_f = foam_buoyancy(w_f=density)
    F_b = hull_foam(W_h=boat.hull, K_h=submerged_part(w_h=boat.hull_density), W_dk=boat.deck, B_f=B_f)
    F_p = machinery_foam(W_p=boat.machinery, f_p_w=boat.machinery_part, B_f=B_f)
    load = level_load_foam if boat.drive is Drive.OUTBOARD else basic_load_foam
    F_c = load(C_p=boat.persons, C_l=boat.capacity, B_f=B_f)
    return Flotation(
        outside=(),
        hull=float(F_b),
        machinery=float(F_p),
        load=float(F_c),
        needed=float(needed_foam(F_b=F_b, F_p=F_p, F_c=F_c)),
        present=present,
        unsealed=unsealed,
        density=density,
        known=weakest([hull_foam.source.known, machinery_foam.source.known, load.source.known]),
        notes=tuple(_notes(boat, readings, unsealed)),
    )


def estimate(
    known: FlotationInputs, readings: Sequence[CavityReading], *, foam_density: float = USUAL_FOAM
) -> Flotation:
    """Return what `flotation` does, of a boat of which not everything need be known.

    Parameters
    ----------
    known
        What is known of her.
    readings
        Her cavities.
    foam_density
        Of the foam reckoned with while no sealed void holds any [kg/m³].

    Returns
    -------
    Flotation
        Without volumes where the form does not cover her, or where something is ``missing``.
    """
    outside = _outside(known.length, monohull=known.monohull, exempt=known.exempt)
    missing = () if outside else tuple(name for name in _NEEDED if getattr(known, name) is None)
    if outside or missing:
        present, unsealed = _foam(readings)
        return Flotation(outside=outside, missing=missing, present=present, unsealed=unsealed)
    values = {each.name: getattr(known, each.name) for each in fields(known)}
    return flotation(Swamped(**values), readings, foam_density=foam_density)


def _foam(readings: Sequence[CavityReading]) -> tuple[float, float]:
    """Return the foam in sealed voids, and in all else [mm³]."""
    present = sum(each.foam_volume * each.count for each in readings if each.sealed)
    return present, sum(each.foam_volume * each.count for each in readings if not each.sealed)


def _outside(length: float | None, *, monohull: bool, exempt: str) -> tuple[Problem, ...]:
    """Return why the form does not cover a boat, as far as is known."""
    why: list[str] = []
    if length is not None and length >= LONGEST:
        why.append(f"boats of 20 ft and longer, and this one is {length / 304.8:.1f} ft")
    if not monohull:
        why.append("boats of more than one hull")
    if exempt:
        why.append(f"{exempt}s" if not exempt.endswith("s") else exempt)
    return tuple(
        Problem(
            f"{EDITION} does not cover {what}.",
            "flotation",
            "Reckon by the rules that apply to her; the foam that is there is listed all the same.",
        )
        for what in why
    )


def _notes(boat: Swamped, readings: Sequence[CavityReading], unsealed: float) -> list[str]:
    notes = [NOT_A_TEST]
    if boat.machinery > 0:
        notes.append(
            f"machinery is reckoned with {boat.machinery_part:.0%} of its weight under water; a swamped "
            "weight from its maker or the regulation's table replaces that"
        )
    if boat.capacity < boat.persons:
        notes.append("the greatest weight is less than that of persons alone: check both")
    if unsealed > 0:
        notes.append(f"{unsealed / 1e6:.0f} l of foam is not in sealed voids and is not counted")
    if air := sum(each.air_volume * each.count for each in readings if each.sealed):
        notes.append(
            f"{air / 1e6:.0f} l of air in sealed voids is not counted: the regulation floods the two largest "
            "air chambers"
        )
    return notes


__all__ = [
    "Drive",
    "Flotation",
    "FlotationInputs",
    "Swamped",
    "basic_load_foam",
    "estimate",
    "flotation",
    "foam_buoyancy",
    "hull_foam",
    "level_load_foam",
    "machinery_foam",
    "needed_foam",
    "submerged_part",
]
