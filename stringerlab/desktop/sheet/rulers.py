"""Steps of the grid and the rulers in a project's units, and the numbers on them, never crowded. No Qt.

Metric steps are 1, 2 and 5 times a power of ten millimetres; inches halve down to 1/16, then go by decimals.
"""

from dataclasses import dataclass
from math import ceil, floor, log10

from stringerlab.units import System, trimmed

INCH = 25.4
_INCHES = (0.0625, 0.125, 0.25, 0.5, 1.0, 2.0, 6.0, 12.0, 24.0, 60.0, 120.0, 240.0, 600.0)
_SIXTEENTHS = {
    1: "1/16",
    2: "1/8",
    3: "3/16",
    4: "1/4",
    5: "5/16",
    6: "3/8",
    7: "7/16",
    8: "1/2",
    9: "9/16",
    10: "5/8",
    11: "11/16",
    12: "3/4",
    13: "13/16",
    14: "7/8",
    15: "15/16",
}


@dataclass(frozen=True, slots=True)
class Tick:
    """A place on a ruler [mm] and the number there, empty between numbers."""

    at: float
    label: str


def step(scale: float, system: System, least: float) -> float:
    """Return the smallest round step [mm] that is at least so many pixels at a scale [pixels a mm]."""
    wanted = least / scale
    if system is System.METRIC:
        return _round_up(wanted)
    inches = wanted / INCH
    if inches < _INCHES[0] / 2:
        return _round_up(inches) * INCH
    return next((each for each in _INCHES if each >= inches), _round_up(inches)) * INCH


def grid_step(scale: float, system: System) -> float:
    """Return the step of the fine grid, which points snap to and arrows nudge by [mm]."""
    return step(scale, system, 9.0)


def ticks(low: float, high: float, scale: float, system: System, spacing: float) -> list[Tick]:
    """Return the ticks between two places, numbers at least ``spacing`` pixels apart.

    Parameters
    ----------
    low, high
        What the ruler shows [mm].
    scale
        Pixels a mm.
    system
        Units of the numbers.
    spacing
        Least distance of two numbers [pixels]; wide enough for the longest.
    """
    far = step(scale, system, spacing)
    fine = next((each for each in (far / 10, far / 5, far / 4, far / 2) if each * scale >= 5), far)
    many = round(far / fine)
    return [
        Tick(number * fine, shown(number // many * far, system) if number % many == 0 else "")
        for number in range(ceil(low / fine - 1e-9), floor(high / fine + 1e-9) + 1)
    ]


def shown(place: float, system: System) -> str:
    """Return a ruler's number: mm without unit, or inches with fractions of sixteen."""
    if system is System.METRIC:
        return trimmed(round(place, 9)).replace("-", "−")
    sixteenths = place / INCH * 16
    if abs(sixteenths - round(sixteenths)) > 1e-6:
        return trimmed(place / INCH).replace("-", "−")
    whole, part = divmod(abs(round(sixteenths)), 16)
    sign = "−" if sixteenths < -1e-9 else ""
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole} {_SIXTEENTHS[part]}" if whole else f"{sign}{_SIXTEENTHS[part]}"


def _round_up(wanted: float) -> float:
    power = 10.0 ** floor(log10(wanted))
    return next(each * power for each in (1.0, 2.0, 5.0, 10.0) if each * power >= wanted * (1 - 1e-9))
