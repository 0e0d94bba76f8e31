"""The boat's particulars and hull bottom: x forward from the transom, y to port, z up; mm, kg, kn, deg."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from stringerlab.units import Deg, Kg, Kn, Mm, Range


class Category(StrEnum):
    """Design category."""

    A = "A"
    B = "B"
    C = "C"
    D = "D"


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A cut through the hull bottom: place, keel height, chine half-beam and height. Deadrise follows."""

    x: Annotated[Mm, Range(-5000, 60_000)]
    keel_z: Annotated[Mm, Range(-5000, 10_000)]
    chine_y: Annotated[Mm, Range(0, 10_000, above=True)]
    chine_z: Annotated[Mm, Range(-5000, 10_000)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Craft:
    """A motor craft: particulars and hull bottom stations from aft forward.

    ``waterline_aft`` is the x at which the waterline length ends aft. What only some methods ask for may
    be left out: significant ``wave_height``, ``running_trim``, ``draught`` at rest, and ``deck_height``,
    the deck's edge above the waterline.
    """

    name: str
    category: Category
    waterline_length: Annotated[Mm, Range(2000, 24_000)]
    waterline_aft: Annotated[Mm, Range(-5000, 10_000)] = 0.0
    mass: Annotated[Kg, Range(100, 500_000)]
    speed: Annotated[Kn, Range(1, 120)]
    stations: tuple[Station, ...]
    wave_height: Annotated[Mm, Range(0, 10_000, above=True)] | None = None
    running_trim: Annotated[Deg, Range(0, 15, above=True)] | None = None
    draught: Annotated[Mm, Range(50, 5000)] | None = None
    deck_height: Annotated[Mm, Range(50, 10_000)] | None = None
