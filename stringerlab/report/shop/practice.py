"""How the shop works: named inputs of the shop sheets, each with its source and mark.

None is a value of a standard: they are common practice or our own choice, printed where they are used; the
shop's own or the maker's data sheet stand in their place. mm, l, parts of 1.
"""

from dataclasses import dataclass, replace
from typing import Annotated

from stringerlab.materials.records import Sourced
from stringerlab.units import Range, System, unit_named
from stringerlab.workings import Known

GALLON = 231 * unit_named("in").factor ** 3
"""US gallon [mm³]: 231 cubic inches."""

Size = Annotated[Sourced, unit_named("mm"), Range(1, 200_000)]
Allowance = Annotated[Sourced, unit_named("mm"), Range(0, 500)]
Volume = Annotated[Sourced, unit_named("l"), Range(0.01, 1500)]
Part = Annotated[Sourced, unit_named(""), Range(0, 0.5)]

_OWN = "own choice: agree it with the designer"
_MEKP = "usual range for ketone peroxide; the data sheet of the resin or gel coat decides"


def _practice(value: float, source: str) -> Sourced:
    return Sourced(value=value, source=source, known=Known.PRACTICE)


_ROLL_WIDTH = _practice(1270.0, "fabric is mostly sold 50 in wide")
_ROLL_LENGTH = Sourced(value=50_000.0, source="own choice: the roll's label says", known=Known.ESTIMATE)
_PAIL = _practice(20.0, "resin and gel coat are sold in pails of about this size")
_CARTRIDGE = _practice(0.4, "two-part adhesive is sold in cartridges of about this size")
_TRIM = _practice(25.0, "laid past the trim line on every free edge, cut off after cure")
_LAP = _practice(50.0, "usual by hand")
_STAGGER = _practice(100.0, "usual by hand")
_CATALYST_LOW = Sourced(value=0.01, source=_MEKP, known=Known.MEMORY_M)
_CATALYST_HIGH = Sourced(value=0.02, source=_MEKP, known=Known.MEMORY_M)
_THICKNESS = Sourced(value=0.1, source=_OWN, known=Known.ESTIMATE)
_GLASS = Sourced(value=0.03, source=_OWN, known=Known.ESTIMATE)
_STATION = Sourced(
    value=300.0, source="own choice: close enough to feel a hollow between", known=Known.ESTIMATE
)
_LIFT = _practice(150.0, "a thin lift sheds its heat; the foam's data sheet decides")


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """Rolls, pails, cartridges, allowances, tolerances and limits a shop works by."""

    roll_width: Size = _ROLL_WIDTH
    roll_length: Size = _ROLL_LENGTH
    pail: Volume = _PAIL
    cartridge: Volume = _CARTRIDGE
    trim: Allowance = _TRIM
    lap: Allowance = _LAP
    """Of two pieces of one ply."""
    stagger: Allowance = _STAGGER
    """From the join of one ply to the join of the next."""
    catalyst_low: Part = _CATALYST_LOW
    catalyst_high: Part = _CATALYST_HIGH
    thickness_tolerance: Part = _THICKNESS
    """Of the target thickness, more or less."""
    glass_tolerance: Part = _GLASS
    """Of glass content by mass, added or taken away."""
    station_step: Size = _STATION
    foam_lift: Size = _LIFT


def practice_for(system: System) -> Practice:
    """Return the usual practice where a system of units is in use, in its round numbers."""
    if system is System.METRIC:
        return Practice()
    usual = Practice()
    inch, yard = unit_named("in").factor, 36 * unit_named("in").factor
    litre = unit_named("l").factor

    def rounded(of: Sourced, value: float) -> Sourced:
        return replace(of, value=value)

    return replace(
        usual,
        roll_width=rounded(usual.roll_width, 50 * inch),
        roll_length=rounded(usual.roll_length, 50 * yard),
        pail=rounded(usual.pail, 5 * GALLON / litre),
        trim=rounded(usual.trim, 1 * inch),
        lap=rounded(usual.lap, 2 * inch),
        stagger=rounded(usual.stagger, 4 * inch),
        station_step=rounded(usual.station_step, 12 * inch),
        foam_lift=rounded(usual.foam_lift, 6 * inch),
    )
