"""Amounts in the units a shop works with: metric, or gallons, yards, ounces. Only ``units`` rounds."""

from math import ceil, floor, log10

from stringerlab.materials.records import PlyKind
from stringerlab.report.shop.practice import GALLON
from stringerlab.units import Kind, System, Unit, display_unit, in_unit, rounded, trimmed, unit_named
from stringerlab.units import format as shown

TIE = "\u00a0"
"""Keeps a figure and its unit on one line."""
_MILLILITRE = Unit("ml", Kind.VOLUME, 1e3)
_GALLON = Unit("gal", Kind.VOLUME, GALLON)
_FLUID_OUNCE = Unit("fl oz", Kind.VOLUME, GALLON / 128)
_YARD = Unit("yd", Kind.LENGTH, 36 * unit_named("in").factor)
_SQUARE_YARD = Unit("yd²", Kind.AREA, _YARD.factor**2)
_GRAM = Unit("g", Kind.MASS, 1e-3)
_OUNCE = Unit("oz", Kind.MASS, unit_named("lb").factor / 16)
_LITRE = unit_named("l").factor


def size(value: float, system: System) -> str:
    """Return a length to be measured off on the part: whole mm, hundredths of an inch [mm]."""
    return _placed(value, system, 0 if system is System.METRIC else 2)


def typed(value: float, system: System) -> str:
    """Return a length somebody chose, as finely as it was chosen [mm]."""
    unit = display_unit(Kind.LENGTH, system)
    return f"{trimmed(value / unit.factor, 4 if system is System.METRIC else 3)}{TIE}{unit.symbol}"


def bare(value: float, system: System) -> str:
    """Return the same without its unit, where the unit stands in the head [mm]."""
    return size(value, system).split(TIE)[0]


def length_unit(system: System) -> str:
    """Return the unit of sizes, for a head."""
    return display_unit(Kind.LENGTH, system).symbol


def between(low: float, high: float, system: System) -> str:
    """Return a stretch from one size to another, the unit once [mm]."""
    return f"{bare(low, system)} – {size(high, system)}"


def across(*sizes: float, system: System) -> str:
    """Return sizes of one thing as chosen, the unit once: ``160 × 44 × 10 mm`` [mm]."""
    *first, last = (typed(each, system) for each in sizes)
    return " × ".join([*(each.split(TIE)[0] for each in first), last])


def fine(value: float, system: System) -> str:
    """Return a thickness: hundredths of a mm, thousandths of an inch [mm]."""
    return _placed(value, system, 2 if system is System.METRIC else 3)


def run(value: float, system: System) -> str:
    """Return a length of cloth or bead: m or yards [mm]."""
    return _tied(in_unit(value, unit_named("m") if system is System.METRIC else _YARD, digits=3))


def area(value: float, system: System) -> str:
    """Return an area of cloth: m² or square yards [mm²]."""
    return _tied(in_unit(value, unit_named("m²") if system is System.METRIC else _SQUARE_YARD, digits=3))


def liquid(value: float, system: System) -> str:
    """Return a volume of what is poured, l or gal; small ones in ml or fl oz [mm³]."""
    if system is System.METRIC:
        return _tied(in_unit(value, unit_named("l") if value >= _LITRE else _MILLILITRE, digits=3))
    return _tied(in_unit(value, _GALLON if value >= GALLON / 4 else _FLUID_OUNCE, digits=3))


def weight(value: float, system: System) -> str:
    """Return a mass, small ones in g or oz [kg]."""
    if system is System.METRIC:
        return _tied(in_unit(value, unit_named("kg") if value >= 1 else _GRAM, digits=3))
    pound = unit_named("lb")
    return _tied(in_unit(value, pound if value >= pound.factor else _OUNCE, digits=3))


def cloth(weight_: float, kind: PlyKind | None, system: System) -> str:
    """Return a dry weight as cloth is sold: g/m², oz/yd², mat in oz/ft² [g/m²]."""
    if system is System.US and kind is PlyKind.MAT:
        return _tied(in_unit(weight_, unit_named("oz/ft²"), digits=3))
    return _tied(shown(weight_, Kind.AREAL_MASS, system, digits=3))


def percent(part: float) -> str:
    """Return a part of 1 as percent."""
    return f"{trimmed(100 * part, 3)}{TIE}%"


def degrees(value: float) -> str:
    """Return an angle as typed."""
    return f"{trimmed(value, 4)}°"


def whole(parts: float) -> int:
    """Return how many whole ones hold so much; rounding alone asks for no more."""
    return max(ceil(parts - 1e-9), 0)


def pieces(amount: float, each: float, one: str, many: str) -> str:
    """Return how many things of a size hold an amount, and how full they are: ``2 pails (1.3)``."""
    parts = amount / each
    count = whole(parts)
    return f"{count}{TIE}{one if count == 1 else many} ({rounded(parts, 2)})"


def _placed(value: float, system: System, places: int) -> str:
    """Return a length to so many places: the digits that takes depend on its size."""
    unit = display_unit(Kind.LENGTH, system)
    number = abs(value) / unit.factor
    before = floor(log10(number)) + 1 if number > 0 else 1
    return _tied(in_unit(value, unit, digits=max(before + places, 1)))


def _tied(text: str) -> str:
    return text.replace(" ", TIE)
