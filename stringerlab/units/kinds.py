"""Units by kind of quantity, and the annotations that carry them.

``factor`` turns a number in the unit into the program's own N, mm, MPa, rad, s, kg;
density, dry weight and areal mass stay in kg/m³ and g/m², motion in m/s and g.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any, get_args


class Kind(StrEnum):
    """A kind of quantity; units of one kind convert into each other."""

    LENGTH = "length"
    AREA = "area"
    SECTION_MODULUS = "section modulus"
    SECOND_MOMENT = "second moment of area"
    SECTION_MODULUS_PER_WIDTH = "section modulus per width"
    SECOND_MOMENT_PER_WIDTH = "second moment per width"
    AREA_PER_LENGTH = "area per length"
    VOLUME = "volume"
    STRESS = "stress"
    PRESSURE = "pressure"
    FORCE = "force"
    LINE_LOAD = "force per length"
    MOMENT = "moment"
    MOMENT_PER_WIDTH = "moment per width"
    BENDING_STIFFNESS = "bending stiffness"
    BENDING_STIFFNESS_PER_WIDTH = "bending stiffness per width"
    MASS = "mass"
    MASS_PER_LENGTH = "mass per length"
    AREAL_MASS = "mass per area"
    DENSITY = "density"
    SPEED = "speed"
    ACCELERATION = "acceleration"
    ANGLE = "angle"
    RATIO = "ratio"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: how it is written, its kind, and its factor to the program's own unit of that kind."""

    symbol: str
    kind: Kind
    factor: float = 1.0

    def __get_pydantic_json_schema__(self, core_schema: Any, handler: Any) -> dict[str, Any]:
        """State the unit in the file schema."""
        return {**handler(core_schema), "unit": self.symbol}


@dataclass(frozen=True, slots=True)
class Range:
    """The sensible range of a field, ends included, in the field's own unit; outside it is a problem."""

    low: float = -math.inf
    high: float = math.inf
    above: bool = False
    """The low end itself is excluded."""

    def __post_init__(self) -> None:
        if not self.low <= self.high:
            raise ValueError(f"a range needs its low end first: {self.low:g} to {self.high:g}")

    def holds(self, value: float) -> bool:
        """Whether the value lies in the range; what is not a number lies in none."""
        return (value > self.low if self.above else value >= self.low) and value <= self.high

    def __str__(self) -> str:
        if math.isinf(self.low):
            return "any number" if math.isinf(self.high) else f"at most {self.high:.12g}"
        if math.isinf(self.high):
            return f"{'above' if self.above else 'at least'} {self.low:.12g}"
        return f"{'above ' if self.above else ''}{self.low:.12g} to {self.high:.12g}"


_INCH = 25.4
_FOOT = 12 * _INCH
_YARD = 3 * _FOOT
_POUND = 0.45359237
_OUNCE_G = 1000 * _POUND / 16
_LBF = _POUND * 9.80665
_PSI = _LBF / _INCH**2

_TABLE: tuple[Unit, ...] = (
    Unit("mm", Kind.LENGTH),
    Unit("cm", Kind.LENGTH, 10.0),
    Unit("m", Kind.LENGTH, 1000.0),
    Unit("in", Kind.LENGTH, _INCH),
    Unit("ft", Kind.LENGTH, _FOOT),
    Unit("mm²", Kind.AREA),
    Unit("cm²", Kind.AREA, 100.0),
    Unit("m²", Kind.AREA, 1e6),
    Unit("in²", Kind.AREA, _INCH**2),
    Unit("ft²", Kind.AREA, _FOOT**2),
    Unit("mm³", Kind.SECTION_MODULUS),
    Unit("cm³", Kind.SECTION_MODULUS, 1e3),
    Unit("in³", Kind.SECTION_MODULUS, _INCH**3),
    Unit("mm⁴", Kind.SECOND_MOMENT),
    Unit("cm⁴", Kind.SECOND_MOMENT, 1e4),
    Unit("in⁴", Kind.SECOND_MOMENT, _INCH**4),
    Unit("mm³/mm", Kind.SECTION_MODULUS_PER_WIDTH),
    Unit("cm³/cm", Kind.SECTION_MODULUS_PER_WIDTH, 100.0),
    Unit("in³/in", Kind.SECTION_MODULUS_PER_WIDTH, _INCH**2),
    Unit("mm⁴/mm", Kind.SECOND_MOMENT_PER_WIDTH),
    Unit("cm⁴/cm", Kind.SECOND_MOMENT_PER_WIDTH, 1000.0),
    Unit("in⁴/in", Kind.SECOND_MOMENT_PER_WIDTH, _INCH**3),
    Unit("m²/m", Kind.AREA_PER_LENGTH, 1000.0),
    Unit("mm²/mm", Kind.AREA_PER_LENGTH),
    Unit("ft²/ft", Kind.AREA_PER_LENGTH, _FOOT),
    Unit("mm³", Kind.VOLUME),
    Unit("l", Kind.VOLUME, 1e6),
    Unit("m³", Kind.VOLUME, 1e9),
    Unit("ft³", Kind.VOLUME, _FOOT**3),
    Unit("MPa", Kind.STRESS),
    Unit("N/mm²", Kind.STRESS),
    Unit("GPa", Kind.STRESS, 1e3),
    Unit("psi", Kind.STRESS, _PSI),
    Unit("ksi", Kind.STRESS, 1000 * _PSI),
    Unit("kN/m²", Kind.PRESSURE, 1e-3),
    Unit("kPa", Kind.PRESSURE, 1e-3),
    Unit("N/mm²", Kind.PRESSURE),
    Unit("psi", Kind.PRESSURE, _PSI),
    Unit("N", Kind.FORCE),
    Unit("kN", Kind.FORCE, 1e3),
    Unit("lbf", Kind.FORCE, _LBF),
    Unit("N/mm", Kind.LINE_LOAD),
    Unit("kN/m", Kind.LINE_LOAD),
    Unit("lbf/in", Kind.LINE_LOAD, _LBF / _INCH),
    Unit("N·mm", Kind.MOMENT),
    Unit("N·m", Kind.MOMENT, 1e3),
    Unit("kN·m", Kind.MOMENT, 1e6),
    Unit("lbf·in", Kind.MOMENT, _LBF * _INCH),
    Unit("lbf·ft", Kind.MOMENT, _LBF * _FOOT),
    Unit("N·mm/mm", Kind.MOMENT_PER_WIDTH),
    Unit("lbf·in/in", Kind.MOMENT_PER_WIDTH, _LBF),
    Unit("N·mm²", Kind.BENDING_STIFFNESS),
    Unit("N·m²", Kind.BENDING_STIFFNESS, 1e6),
    Unit("kN·m²", Kind.BENDING_STIFFNESS, 1e9),
    Unit("cm⁴·MPa", Kind.BENDING_STIFFNESS, 1e4),
    Unit("lbf·in²", Kind.BENDING_STIFFNESS, _LBF * _INCH**2),
    Unit("lbf·ft²", Kind.BENDING_STIFFNESS, _LBF * _FOOT**2),
    Unit("N·mm²/mm", Kind.BENDING_STIFFNESS_PER_WIDTH),
    Unit("lbf·in²/in", Kind.BENDING_STIFFNESS_PER_WIDTH, _LBF * _INCH),
    Unit("kg", Kind.MASS),
    Unit("t", Kind.MASS, 1e3),
    Unit("lb", Kind.MASS, _POUND),
    Unit("kg/m", Kind.MASS_PER_LENGTH, 1e-3),
    Unit("kg/mm", Kind.MASS_PER_LENGTH),
    Unit("lb/ft", Kind.MASS_PER_LENGTH, _POUND / _FOOT),
    Unit("g/m²", Kind.AREAL_MASS),
    Unit("kg/m²", Kind.AREAL_MASS, 1e3),
    Unit("oz/yd²", Kind.AREAL_MASS, _OUNCE_G / (_YARD / 1000) ** 2),
    Unit("oz/ft²", Kind.AREAL_MASS, _OUNCE_G / (_FOOT / 1000) ** 2),
    Unit("lb/ft²", Kind.AREAL_MASS, 16 * _OUNCE_G / (_FOOT / 1000) ** 2),
    Unit("kg/m³", Kind.DENSITY),
    Unit("g/cm³", Kind.DENSITY, 1e3),
    Unit("lb/ft³", Kind.DENSITY, _POUND / (_FOOT / 1000) ** 3),
    Unit("m/s", Kind.SPEED),
    Unit("kn", Kind.SPEED, 1852 / 3600),
    Unit("mph", Kind.SPEED, 1609.344 / 3600),
    Unit("km/h", Kind.SPEED, 1 / 3.6),
    Unit("g", Kind.ACCELERATION),
    Unit("rad", Kind.ANGLE),
    Unit("deg", Kind.ANGLE, math.pi / 180),
    Unit("", Kind.RATIO),
    Unit("%", Kind.RATIO, 0.01),
    Unit("pcs", Kind.COUNT),
)
UNITS: dict[Kind, dict[str, Unit]] = {
    kind: {unit.symbol: unit for unit in _TABLE if unit.kind is kind} for kind in Kind
}
"""Every unit by kind and symbol; a symbol may stand in two kinds (psi of stress and of pressure)."""
_FIRST: dict[str, Unit] = {unit.symbol: unit for unit in reversed(_TABLE)}


def unit_named(symbol: str, kind: Kind | None = None) -> Unit:
    """Return the unit written so.

    Where two kinds share the symbol, it is the one of ``kind``; with none given, stress before pressure.

    Raises
    ------
    KeyError
        When there is no such unit.
    """
    return _FIRST[symbol] if kind is None else UNITS[kind][symbol]


def own_unit(kind: Kind) -> Unit:
    """Return the program's own unit of a kind: N, mm, MPa, rad, kg and what follows from them."""
    return next(unit for unit in UNITS[kind].values() if unit.factor == 1.0)


def unit_of(annotation: Any) -> Unit | None:
    """Return the unit an annotation carries, or None."""
    return next((part for part in get_args(annotation) if isinstance(part, Unit)), None)


Mm = Annotated[float, unit_named("mm")]
M = Annotated[float, unit_named("m")]
Mm2 = Annotated[float, unit_named("mm²")]
Cm2 = Annotated[float, unit_named("cm²")]
M2 = Annotated[float, unit_named("m²")]
Mm3 = Annotated[float, unit_named("mm³")]
Cm3 = Annotated[float, unit_named("cm³")]
Mm4 = Annotated[float, unit_named("mm⁴")]
Cm4 = Annotated[float, unit_named("cm⁴")]
Mm3PerMm = Annotated[float, unit_named("mm³/mm")]
Cm3PerCm = Annotated[float, unit_named("cm³/cm")]
Mm4PerMm = Annotated[float, unit_named("mm⁴/mm")]
Cm4PerCm = Annotated[float, unit_named("cm⁴/cm")]
M2PerM = Annotated[float, unit_named("m²/m")]
MPa = Annotated[float, unit_named("MPa")]
KPa = Annotated[float, unit_named("kN/m²")]
N = Annotated[float, unit_named("N")]
NPerMm = Annotated[float, unit_named("N/mm")]
NMm = Annotated[float, unit_named("N·mm")]
NMmPerMm = Annotated[float, unit_named("N·mm/mm")]
NMm2 = Annotated[float, unit_named("N·mm²")]
Cm4MPa = Annotated[float, unit_named("cm⁴·MPa")]
NMm2PerMm = Annotated[float, unit_named("N·mm²/mm")]
Kg = Annotated[float, unit_named("kg")]
KgPerM = Annotated[float, unit_named("kg/m")]
GPerM2 = Annotated[float, unit_named("g/m²")]
KgPerM2 = Annotated[float, unit_named("kg/m²")]
KgPerM3 = Annotated[float, unit_named("kg/m³")]
Kn = Annotated[float, unit_named("kn")]
G = Annotated[float, unit_named("g")]
Deg = Annotated[float, unit_named("deg")]
Ratio = Annotated[float, unit_named("")]
Count = Annotated[float, unit_named("pcs")]
