"""Computations behind the published values of flotation in the form of 33 CFR 183."""

from collections.abc import Callable

from stringerlab.layout import flotation
from stringerlab.layout.cavities import FRESH_WATER
from stringerlab.units import unit_named

_PER_CUBIC_FOOT = unit_named("lb/ft³").factor


def submerged_part(specific_gravity: float) -> float:
    """Part of a material's weight that is left in fresh water."""
    return float(flotation.submerged_part(w_h=specific_gravity * FRESH_WATER))


def foam_buoyancy(foam: float) -> float:
    """What a cubic foot of foam bears, of so many lb/ft³."""
    return float(flotation.foam_buoyancy.clause(w_f=foam))


def fresh_water() -> float:
    """Weight of a cubic foot of the program's fresh water [lb]."""
    return FRESH_WATER / _PER_CUBIC_FOOT


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "flotation.submerged_part": submerged_part,
    "flotation.foam_buoyancy": foam_buoyancy,
    "flotation.fresh_water": fresh_water,
}
