"""Numbers with units as a person types and reads them; the only place that rounds."""

import math
import re
from enum import StrEnum
from fractions import Fraction

from stringerlab.errors import Problem, StringerlabError
from stringerlab.units.kinds import UNITS, Kind, Unit


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
    Kind.STRESS: ("MPa", "psi"),
    Kind.PRESSURE: ("kN/m²", "psi "),
    Kind.FORCE: ("N", "lbf"),
    Kind.LINE_LOAD: ("N/mm", "lbf/in"),
    Kind.MOMENT: ("N·m", "lbf·ft"),
    Kind.MOMENT_PER_WIDTH: ("N·mm/mm", "lbf·in/in"),
    Kind.BENDING_STIFFNESS: ("kN·m²", "lbf·in²"),
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
_SPELLINGS = {
    '"': "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "feet": "ft",
    "foot": "ft",
    "kt": "kn",
    "kts": "kn",
    "knots": "kn",
    "lbs": "lb",
    "°": "deg",
    "degrees": "deg",
    "pcf": "lb/ft³",
    "osy": "oz/yd²",
    "oz/sqyd": "oz/yd²",
    "oz/sqft": "oz/ft²",
    "gsm": "g/m²",
}
_NUMBER = r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+-]?\d+)?"
_AMOUNT = re.compile(
    rf"\s*(?:(?P<whole>[+-]?\d+)[ -])?(?P<top>\d+)/(?P<bottom>\d+)\s*(?P<fraction_unit>[^\d\s+-][^\s]*)?"
    rf"|\s*(?P<number>{_NUMBER})\s*(?P<unit>[^\d\s.,+-][^\s\d]*\d?)?"
)
_MINUS = str.maketrans({"−": "-", "²": "2", "³": "3", "⁴": "4", "×": "*", "*": "·"})


def display_unit(kind: Kind, system: System) -> Unit:
    """Return the unit a quantity of this kind is shown in."""
    return UNITS[_SHOWN[kind][0 if system is System.METRIC else 1]]


def format(value: float, kind: Kind, system: System = System.METRIC, *, digits: int = 4) -> str:  # noqa: A001
    """Return a value in the program's unit of its kind as text, rounded, with its unit."""
    unit = display_unit(kind, system)
    return f"{rounded(value / unit.factor, digits)} {unit.symbol.strip()}".strip()


def rounded(number: float, digits: int = 4) -> str:
    """Return a bare number to so many significant digits, as a person writes it."""
    if not math.isfinite(number):
        return "—" if math.isnan(number) else ("∞" if number > 0 else "−∞")
    if number == 0:
        return "0"
    exponent = math.floor(math.log10(abs(float(f"{number:.{digits - 1}e}"))))
    if -4 <= exponent < 7:
        text = f"{number:.{max(digits - 1 - exponent, 0)}f}"
        if exponent < 0 and "." in text:
            text = text.rstrip("0")
        return text.replace("-", "−")
    mantissa = f"{number / 10.0**exponent:.{digits - 1}f}".rstrip("0").rstrip(".")
    raised = str(exponent).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
    return f"{mantissa}·10{raised}".replace("-", "−")


def parse(text: str, kind: Kind, system: System = System.METRIC) -> float:
    """Read a typed quantity ("3/8 in", "3,5 mm", "40 kn", "2' 6\\""), in the program's unit of its kind.

    A bare number counts in the unit shown for the kind.

    Raises
    ------
    StringerlabError
        When the text is no number, or its unit is unknown or of another kind.
    """
    cleaned = text.strip().translate(_MINUS)
    total, position, bare, found = 0.0, 0, False, False
    while position < len(cleaned):
        match = _AMOUNT.match(cleaned, position)
        if match is None or match.end() == position:
            raise _unreadable(text, kind, system)
        amount, symbol = _amount(match)
        if found and (bare or symbol is None):
            raise _unreadable(text, kind, system)
        total += amount * _unit_for(symbol, kind, system, text).factor
        position, bare, found = match.end(), symbol is None, True
        while position < len(cleaned) and cleaned[position].isspace():
            position += 1
    if not found or not math.isfinite(total):
        raise _unreadable(text, kind, system)
    return float(f"{total:.15g}")


def _amount(match: re.Match[str]) -> tuple[float, str | None]:
    if match["top"] is not None:
        if int(match["bottom"]) == 0:
            return math.inf, match["fraction_unit"]
        part = float(Fraction(int(match["top"]), int(match["bottom"])))
        whole = match["whole"]
        if whole is None:
            return part, match["fraction_unit"]
        return (-1 if whole.startswith("-") else 1) * (abs(int(whole)) + part), match["fraction_unit"]
    return float(match["number"].replace(",", ".")), match["unit"]


def _unit_for(symbol: str | None, kind: Kind, system: System, text: str) -> Unit:
    if symbol is None:
        return display_unit(kind, system)
    wanted = _SPELLINGS.get(symbol, symbol).translate(_MINUS).replace("^", "")
    for unit in UNITS.values():
        if unit.kind is kind and unit.symbol.strip().translate(_MINUS) == wanted:
            return unit
    others = sorted({u.kind.value for u in UNITS.values() if u.symbol.strip().translate(_MINUS) == wanted})
    what = f"'{symbol}' is a unit of {' or '.join(others)}" if others else f"'{symbol}' is no unit known here"
    raise StringerlabError(Problem(f"In '{text}', {what}; a {kind.value} is wanted.", remedy=_offer(kind)))


def _unreadable(text: str, kind: Kind, system: System) -> StringerlabError:
    shown = display_unit(kind, system).symbol.strip()
    return StringerlabError(
        Problem(
            f"'{text}' does not read as a {kind.value}.",
            remedy=f"Type a number, such as '{f'12.5 {shown}'.strip()}'.",
        )
    )


def _offer(kind: Kind) -> str:
    symbols = [unit.symbol.strip() or "a bare number" for unit in UNITS.values() if unit.kind is kind]
    return f"Use one of: {', '.join(dict.fromkeys(symbols))}."
