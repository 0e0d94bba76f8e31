"""What is allowed of the bond of part to hull, and how the shop lays it: named inputs, each with a mark."""

from dataclasses import dataclass
from typing import Annotated

from stringerlab.materials.records import Sourced
from stringerlab.units import Range, unit_named
from stringerlab.workings import Known

Knocked = Annotated[Sourced, unit_named(""), Range(0, 1, above=True)]
Part = Annotated[Sourced, unit_named(""), Range(0, 0.9)]
More = Annotated[Sourced, unit_named(""), Range(0, 2)]
Gap = Annotated[Sourced, unit_named("mm"), Range(0, 20)]
Through = Annotated[Sourced, unit_named("MPa"), Range(0, 100, above=True)]

_STATIC = Sourced(
    value=0.7,
    source="lap joints on fibreglass fail at about 10 MPa, where the adhesive's lap shear is 13.8 MPa",
    known=Known.MEMORY_L,
)
_FATIGUE = Sourced(value=0.6, source="cautious value for repeated slamming", known=Known.MEMORY_L)
_ENVIRONMENT = Sourced(value=0.8, source="cautious value for warm, wet bilges", known=Known.MEMORY_L)
_THROUGH_THICKNESS = Sourced(value=7.0, source="cautious value for hand-laid E-glass", known=Known.MEMORY_L)
_REBOUND = Sourced(
    value=0.2, source="own choice: pull of the hull on the bond after a slam", known=Known.ESTIMATE
)
_VOIDS = Sourced(value=0.1, source="own choice: air and unwetted places in a laid bead", known=Known.ESTIMATE)
_GAP_TOLERANCE = Sourced(
    value=2.0, source="own choice: fit of a moulded part to a moulded hull", known=Known.ESTIMATE
)
_SQUEEZE_OUT = Sourced(
    value=0.15, source="own choice: enough to show all along both edges", known=Known.ESTIMATE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bonding:
    """Knock-downs of the bond's strength, what the pressure does besides, and tolerances of the bead.

    A coupon of the shop's own laminate, bonded as the shop bonds, replaces the first three.
    """

    static: Knocked = _STATIC
    """Of the adhesive's own strength: what a joint on laminate has of it."""
    fatigue: Knocked = _FATIGUE
    """Of the strength of adhesive or laminate: what repeated loading leaves."""
    environment: Knocked = _ENVIRONMENT
    """Of the strength of adhesive or laminate: what water and warmth leave."""
    through_thickness: Through = _THROUGH_THICKNESS
    """Strength of the bonded laminates across their plies, in tension."""
    rebound: Part = _REBOUND
    """Of the design pressure: what pulls the hull away from the part."""
    voids: Part = _VOIDS
    """Of the bonded width."""
    gap_tolerance: Gap = _GAP_TOLERANCE
    """How much the gap between part and hull may be more or less than the bead drawn."""
    squeeze_out: More = _SQUEEZE_OUT
    """Of the adhesive that fills the gap: what is laid besides, and pressed out."""
