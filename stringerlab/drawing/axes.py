"""Axes of pictures that show numbers: round numbers along them, a frame with its grid, values to mm."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor, isfinite, log10

import numpy as np

from stringerlab.drawing.display import Item, Label, Line, Points, Role
from stringerlab.units import System, display_unit, trimmed, unit_named
from stringerlab.workings import Array

_STEPS = (1.0, 2.0, 5.0, 10.0)
LETTER = 1.75
"""About the width of a letter of small words, for leaving room [mm]."""


def ticks(low: float, high: float, most: float) -> list[float]:
    """Return round numbers within two, about as many as asked for."""
    span = high - low
    if not (isfinite(span) and span > 0):
        return []
    rough = span / max(most, 2)
    power = 10.0 ** floor(log10(rough))
    step = next(each * power for each in _STEPS if each * power >= rough * (1 - 1e-9))
    return [n * step for n in range(ceil(low / step - 1e-9), floor(high / step + 1e-9) + 1)]


def in_system(symbol: str, system: System) -> tuple[float, str]:
    """Return what numbers under a unit's symbol are multiplied by to be shown, and the symbol shown.

    A symbol that is no unit of ours (``h``, a currency) stays as it is.
    """
    try:
        unit = unit_named(symbol) if symbol else None
    except KeyError:
        unit = None
    if unit is None:
        return 1.0, symbol
    shown = display_unit(unit.kind, system)
    return unit.factor / shown.factor, shown.symbol


def titled(name: str, symbol: str) -> str:
    """Return a name with its unit, beginning with a capital."""
    words = f"{name} ({symbol})" if symbol else name
    return f"{words[:1].upper()}{words[1:]}"


def shortened(words: str, room: float) -> str:
    """Return words that fit into so many mm, cut short where they do not."""
    most = max(int(room / LETTER), 4)
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"


@dataclass(frozen=True, slots=True)
class Reach:
    """From a least to a greatest value."""

    low: float
    high: float

    @classmethod
    def of(cls, values: Array, *also: float, room: float = 0.0) -> "Reach":
        """Return the reach of those values that are known, and of more; with room at both ends as a part."""
        known = np.concatenate([np.ravel(values)[np.isfinite(np.ravel(values))], np.array(also, np.float64)])
        if not len(known):
            return cls(0.0, 1.0)
        low, high = float(known.min()), float(known.max())
        spare = (high - low) * room if high > low else abs(high) * 0.1 or 1.0
        return cls(low - spare, high + spare)

    def holds(self, value: float) -> bool:
        """Whether a value lies within, ends included."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A frame on a picture [mm], and the values at its edges."""

    left: float
    bottom: float
    width: float
    height: float
    across: Reach
    up: Reach

    @property
    def right(self) -> float:
        """Its right edge [mm]."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Its upper edge [mm]."""
        return self.bottom + self.height

    def x(self, value: float) -> float:
        """Return where a value lies across [mm]."""
        return self.left + (value - self.across.low) / (self.across.high - self.across.low) * self.width

    def y(self, value: float) -> float:
        """Return where a value lies up [mm]."""
        return self.bottom + (value - self.up.low) / (self.up.high - self.up.low) * self.height

    def points(self, values: Points) -> Points:
        """Return (n, 2) values across and up as points [mm]."""
        low = np.array([self.across.low, self.up.low])
        span = np.array([self.across.high, self.up.high]) - low
        return np.array([self.left, self.bottom]) + (values - low) / span * np.array(
            [self.width, self.height]
        )

    def ring(self) -> Points:
        """Return its corners, from the lower left round [mm]."""
        return np.array(
            [
                (self.left, self.bottom),
                (self.right, self.bottom),
                (self.right, self.top),
                (self.left, self.top),
            ]
        )


def frame_items(box: Box, across: str, up: str, *, named: bool = True) -> Iterator[Item]:
    """Yield a frame's grid, the numbers along it, and what its axes are; ``named``: its lower axis too.

    Parameters
    ----------
    box
        Where it lies.
    across, up
        Titles of its axes, with units: the upper stands over the frame at its left.
    named
        Whether numbers and title stand under it; not where another frame below has the same.
    """
    for value in ticks(box.across.low, box.across.high, box.width / 22):
        x = box.x(value)
        yield Line(points=np.array([(x, box.bottom), (x, box.top)]), role=Role.GRID)
        if named:
            yield Label(at=(x, box.bottom), text=trimmed(value), small=True, level=-1)
    for value in ticks(box.up.low, box.up.high, box.height / 11):
        y = box.y(value)
        yield Line(points=np.array([(box.left, y), (box.right, y)]), role=Role.GRID)
        yield Label(at=(box.left, y), text=trimmed(value), small=True, align=-1)
    yield Line(points=box.ring(), role=Role.DIMENSION, closed=True)
    yield Label(at=(box.left, box.top), text=up, align=1, level=1)
    if named:
        yield Label(at=(box.left + box.width / 2, box.bottom - 5.5), text=across, level=-1)
