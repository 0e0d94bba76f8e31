"""Quantities as a person types them: "3/8 in", "3,5 mm", "2' 6\\"", "40 kn", "1.5 oz/ft²".

A comma is a decimal comma; groups of thousands are not read, so that no number is taken a thousand
times too large or small in silence.
"""

import math
import re

from stringerlab.errors import Problem, StringerlabError
from stringerlab.units.kinds import UNITS, Kind, Unit
from stringerlab.units.writing import System, display_unit

LONGEST = 60
"""Characters; no quantity needs more."""

_SPELLINGS = {
    '"': "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "feet": "ft",
    "foot": "ft",
    "millimetres": "mm",
    "millimeters": "mm",
    "metres": "m",
    "meters": "m",
    "kt": "kn",
    "kts": "kn",
    "knot": "kn",
    "knots": "kn",
    "lbs": "lb",
    "kgs": "kg",
    "lbf/in2": "psi",
    "lb/in2": "psi",
    "°": "deg",
    "degree": "deg",
    "degrees": "deg",
    "pcf": "lb/ft3",
    "osy": "oz/yd2",
    "gsm": "g/m2",
    "g/cc": "g/cm3",
    "pc": "pcs",
}
_FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_SAME_SIGN = str.maketrans(
    {
        "−": "-",
        "–": "-",
        "×": "·",
        "*": "·",
        "⋅": "·",
        "”": '"',
        "″": '"',
        "’": "'",
        "′": "'",
        "⁄": "/",
    }
)
_RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹−", "-0123456789-")
_LOWERED = str.maketrans("²³⁴", "234")
_TENS = re.compile(r"\s*[·×*⋅]?\s*(?<![\d.,])10(?:\^([-+−]?\d+)|([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))")
_AMOUNT = re.compile(
    r"""(?:
          (?:(?P<whole>[0-9]+)(?:\s+|\s*-\s*))? (?P<top>[0-9]+)\s*/\s*(?P<bottom>[0-9]+)
        | (?P<number>(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?)
        )\s*
        (?P<unit>['"°%]|[^\W\d_][^\s'"+,-]*)?\s*""",
    re.VERBOSE,
)
_POWER_OF_UNIT = re.compile(r"(?<=[^\W\d_])\^?([234²³⁴])")
_WORDS = (
    (re.compile(r"\s+per\s+|\s*/\s*(?=[^\W\d])"), "/"),
    (re.compile(r"\bsq(?:uare)?\.?\s*(in|ft|yd|m)\b"), r"\g<1>2"),
    (re.compile(r"\bcu(?:bic)?\.?\s*(in|ft|m)\b"), r"\g<1>3"),
)

_BY_VOLUME = re.compile(r"vol(?:\b|ume|%|-|\.)|\bv\s*/\s*v\b|\bv%|%\s*v\b", re.IGNORECASE)


def parse(text: str, kind: Kind, system: System = System.METRIC) -> float:
    """Return a typed quantity in the program's unit of its kind.

    A bare number counts in the unit shown for the kind. Only a length may have two parts, the larger unit
    first (``2' 6"``); the sign at the front counts for both.

    Raises
    ------
    StringerlabError
        When the text is no number, or its unit is unknown or of another kind.
    """
    if len(text) > LONGEST:
        raise _unreadable(text, kind, system)
    if kind is Kind.RATIO and says_by_volume(text):
        what = f"'{_short(text)}' is a share by volume; a share by mass is wanted."
        raise StringerlabError(Problem(what, remedy="Work out the share by mass, and type that."))
    cleaned = _cleaned(text)
    negative = cleaned.startswith("-")
    rest = cleaned[1:].lstrip() if cleaned[:1] in {"-", "+"} else cleaned
    total, finer_than = 0.0, math.inf
    while rest:
        match = _AMOUNT.match(rest)
        if match is None:
            raise _unreadable(text, kind, system)
        symbol: str | None = match["unit"]
        rest = rest[match.end() :]
        compound = rest != "" or not math.isinf(finer_than)
        if compound and (kind is not Kind.LENGTH or symbol is None):
            raise _unreadable(text, kind, system)
        unit = display_unit(kind, system) if symbol is None else unit_written(symbol, kind, text)
        if unit.factor >= finer_than:
            raise _unreadable(text, kind, system)
        total += _amount(match) * unit.factor
        finer_than = unit.factor
        rest = re.sub(r"^-\s*(?=[\d.,])", "", rest)
    if math.isinf(finer_than) or not math.isfinite(total):
        raise _unreadable(text, kind, system)
    return _as_typed(-total if negative else total)


def says_by_volume(text: str) -> bool:
    """Return whether a typed share says that it counts by volume: "35 vol%", "35 % by volume", "0.35 v/v"."""
    return _BY_VOLUME.search(text) is not None


def _cleaned(text: str) -> str:
    for sign, fraction in _FRACTIONS.items():
        text = text.replace(sign, f" {fraction}")
    text = _TENS.sub(_exponent, text)
    text = _plain(text.strip())
    for pattern, written in _WORDS:
        text = pattern.sub(written, text)
    return text


def _exponent(match: re.Match[str]) -> str:
    exponent = (match[1] or match[2]).translate(_RAISED)
    mantissa = "" if match.string[: match.start()].strip()[-1:].isdigit() else "1"
    return f"{mantissa}e{exponent}"


def _amount(match: re.Match[str]) -> float:
    if match["number"] is not None:
        return float(match["number"].replace(",", "."))
    bottom = int(match["bottom"])
    return int(match["whole"] or 0) + int(match["top"]) / bottom if bottom else math.inf


def _as_typed(total: float) -> float:
    """Drop the noise of the unit's factor beyond the fifteenth digit: 1.1 in is 27.94 mm."""
    return float(f"{total:.15g}") + 0.0


def _plain(text: str) -> str:
    """Return one spelling for signs and raised digits, so that m², m^2 and m2 are the same."""
    return _POWER_OF_UNIT.sub(lambda match: match[1].translate(_LOWERED), text.translate(_SAME_SIGN))


def unit_written(symbol: str, kind: Kind, within: str = "") -> Unit:
    """Return the unit of a kind that is written so, in its own spelling or a usual other one.

    Parameters
    ----------
    symbol
        As a person wrote it: ``kg/m3``, ``oz/ft²``, ``osy``.
    kind
        The kind it must be of.
    within
        The whole text it stood in, for the problem.

    Raises
    ------
    StringerlabError
        When there is no such unit, or it is one of another kind.
    """
    bare = symbol.rstrip(".")
    wanted = _SPELLINGS.get(bare.lower(), bare)
    exact = {_plain(unit.symbol): unit for unit in UNITS[kind].values()}
    for written in (wanted, _cleaned(wanted)):
        if written in exact:
            return exact[written]
    others = [k.value for k in Kind if any(_plain(s) == _cleaned(wanted) for s in UNITS[k])]
    if not others:
        loose = [unit for name, unit in exact.items() if name.lower() == wanted.lower()]
        if len(loose) == 1:
            return loose[0]
    what = f"'{bare}' is a unit of {' or '.join(others)}" if others else f"'{bare}' is no unit known here"
    start = f"In '{_short(within)}', " if within else ""
    raise StringerlabError(Problem(f"{start}{what}; a {kind.value} is wanted.", remedy=_offer(bare, kind)))


def _offer(symbol: str, kind: Kind) -> str:
    if kind is Kind.AREAL_MASS and symbol.lower() in {"oz", "ounce", "ounces"}:
        return "Say oz/ft² for mat (as US shops count it) or oz/yd² for roving, cloth and stitched fabric."
    symbols = [name or "a bare number" for name in UNITS[kind]]
    return f"Use one of: {', '.join(symbols)}." if len(symbols) > 1 else f"Use {symbols[0]}."


def _unreadable(text: str, kind: Kind, system: System) -> StringerlabError:
    example = f"12.5 {display_unit(kind, system).symbol}".rstrip()
    return StringerlabError(
        Problem(
            f"'{_short(text)}' does not read as a {kind.value}.",
            remedy=f"Type a number, such as '{example}'.",
        )
    )


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"
