"""Numbers with units as a person reads them, metric or US; the only place that rounds."""

import math
from enum import StrEnum

from stringerlab.units.kinds import Kind, Unit, unit_named


class System(StrEnum):
    """Units shown: metric or US customary."""

    METRIC = "metric"
    US = "us"


_SHOWN: dict[Kind, tuple[str, str]] = {
    Kind.LENGTH: ("mm", "in"),
    Kind.AREA: ("cm²", "in²"),
    Kind.SECTION_MODULUS: ("cm³", "in³"),
    Kind.SECOND_MOMENT: ("cm⁴", "in⁴"),
    Kind.SECTION_MODULUS_PER_WIDTH: ("mm³/mm", "in³/in"),
    Kind.SECOND_MOMENT_PER_WIDTH: ("mm⁴/mm", "in⁴/in"),
    Kind.AREA_PER_LENGTH: ("m²/m", "ft²/ft"),
    Kind.VOLUME: ("l", "ft³"),
    Kind.STRESS: ("MPa", "psi"),
    Kind.PRESSURE: ("kN/m²", "psi"),
    Kind.FORCE: ("N", "lbf"),
    Kind.LINE_LOAD: ("N/mm", "lbf/in"),
    Kind.MOMENT: ("N·m", "lbf·ft"),
    Kind.MOMENT_PER_WIDTH: ("N·mm/mm", "lbf·in/in"),
    Kind.BENDING_STIFFNESS: ("kN·m²", "lbf·ft²"),
    Kind.BENDING_STIFFNESS_PER_WIDTH: ("N·mm²/mm", "lbf·in²/in"),
    Kind.MASS: ("kg", "lb"),
    Kind.MASS_PER_LENGTH: ("kg/m", "lb/ft"),
    Kind.AREAL_MASS: ("g/m²", "oz/yd²"),
    Kind.DENSITY: ("kg/m³", "lb/ft³"),
    Kind.SPEED: ("kn", "kn"),
    Kind.ACCELERATION: ("g", "g"),
    Kind.ANGLE: ("deg", "deg"),
    Kind.RATIO: ("", ""),
    Kind.COUNT: ("pcs", "pcs"),
}
_LARGER: dict[Kind, str] = {Kind.FORCE: "kN", Kind.MOMENT: "kN·m"}
"""Metric units in which a quantity is written from ten thousand of the unit shown."""
_LARGE = 1e4
_WHOLE_BELOW, _SMALL_FROM = 7, -4
"""Powers of ten written out in full; beyond them a number is written as mantissa·10ⁿ."""
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def display_unit(kind: Kind, system: System) -> Unit:
    """Return the unit a quantity of this kind is shown in."""
    return unit_named(_SHOWN[kind][0 if system is System.METRIC else 1], kind)


def format(value: float, kind: Kind, system: System = System.METRIC, *, digits: int = 4) -> str:  # noqa: A001
    """Return a value in the program's unit of its kind as text, rounded, with its unit.

    Forces and moments of ten thousand N or N·m and more are written in kN and kN·m.
    """
    unit = display_unit(kind, system)
    if system is System.METRIC and kind in _LARGER and _LARGE <= abs(value / unit.factor) < math.inf:
        unit = unit_named(_LARGER[kind], kind)
    return in_unit(value, unit, digits=digits)


def in_unit(value: float, unit: Unit, *, digits: int = 4) -> str:
    """Return a value in the program's unit as text in the given unit, rounded, with the unit."""
    return f"{rounded(value / unit.factor, digits)} {unit.symbol}".rstrip()


def rounded(number: float, digits: int = 4) -> str:
    """Return a bare number to so many significant digits, as a person writes it.

    Whole digits are never rounded away below ten million; zeros at the end stay where they are
    significant (10.00), but not below one (0.5).
    """
    if not math.isfinite(number):
        return "—" if math.isnan(number) else ("∞" if number > 0 else "−∞")
    if number == 0:
        return "0"
    mantissa, exponent = _scientific(number, digits)
    if _SMALL_FROM <= exponent < _WHOLE_BELOW or round(abs(number)) in range(1, 10**_WHOLE_BELOW):
        text = f"{number:.{max(digits - 1 - exponent, 0)}f}"
        if exponent < 0 and "." in text:
            text = text.rstrip("0")
        return text.replace("-", "−")
    return power_of_ten(mantissa, exponent)


def money(amount: float, currency: str = "") -> str:
    """Return a sum to the hundredth, with its currency."""
    return f"{amount:.2f} {currency}".strip().replace("-", "−")


def trimmed(number: float, digits: int = 6) -> str:
    """Return a bare number as it would be typed: up to so many significant digits, no zeros after them."""
    text = rounded(number, digits)
    if "." in text and "·" not in text:
        text = text.rstrip("0").rstrip(".")
    return text


def power_of_ten(mantissa: str, exponent: int) -> str:
    """Return ``mantissa·10ⁿ`` with a raised exponent; a mantissa of one is left out."""
    raised = f"10{str(exponent).translate(_RAISED)}"
    sign, bare = ("−", mantissa[1:]) if mantissa[:1] in {"-", "−"} else ("", mantissa)
    return f"{sign}{raised}" if bare == "1" else f"{sign}{bare}·{raised}"


def _scientific(number: float, digits: int) -> tuple[str, int]:
    mantissa, exponent = f"{number:.{digits - 1}e}".split("e")
    return (mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa), int(exponent)
