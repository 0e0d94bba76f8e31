"""What a chart shows: axes, curves, marks, in the program's units."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.drawing.axes import ticks
from stringerlab.drawing.display import Role, Shape
from stringerlab.units import Unit

Array = NDArray[np.float64]


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


__all__ = ["Array", "Axis", "ChartMark", "Curve", "ticks"]
