"""What a chart shows: axes, curves, marks, in the program's units; and the round numbers along an axis."""

from dataclasses import dataclass
from math import ceil, floor, isfinite, log10

import numpy as np
from numpy.typing import NDArray

from stringerlab.drawing.display import Role, Shape
from stringerlab.units import Unit

Array = NDArray[np.float64]

_STEPS = (1.0, 2.0, 5.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """What runs along an edge, and the unit it is shown in."""

    name: str
    unit: Unit

    @property
    def title(self) -> str:
        """Name and unit."""
        return f"{self.name} ({self.unit.symbol})" if self.unit.symbol else self.name


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Curve:
    """A curve (n,) in the program's units; ``dash`` in pen widths, ``width`` in pixels."""

    name: str
    x: Array
    y: Array
    role: Role
    width: float = 1.5
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartMark:
    """A mark in the program's units, with the words said of it and the id of what it stands for."""

    x: float
    y: float
    shape: Shape
    role: Role
    words: str
    subject: str = ""


def ticks(low: float, high: float, most: float) -> list[float]:
    """Return round numbers within two, about as many as asked for."""
    span = high - low
    if not (isfinite(span) and span > 0):
        return []
    rough = span / max(most, 2)
    power = 10.0 ** floor(log10(rough))
    step = next(each * power for each in _STEPS if each * power >= rough * (1 - 1e-9))
    return [n * step for n in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]
