"""What the user pays and how fast the shop works: the rates a take-off is priced by.

Money is in the user's own currency.
"""

from dataclasses import dataclass
from typing import Annotated

from stringerlab.units import Range, Ratio

Money = Annotated[float, Range(0, 1e9)]
Hours = Annotated[float, Range(0, 1e4)]
Waste = Annotated[Ratio, Range(0, 2)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What a kilogram of a material costs, by the material's id."""

    material: str
    per_kg: Money


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Prices, waste as a part of what is built in, and labour: hours by what is done, and an hour's cost.

    ``currency`` is the word printed beside sums. Nothing set, nothing priced.
    """

    currency: str = ""
    prices: tuple[Price, ...] = ()
    fabric_waste: Waste = 0.0
    resin_waste: Waste = 0.0
    adhesive_waste: Waste = 0.0
    hour: Money = 0.0
    """Cost of an hour's labour."""
    lay_up: Hours = 0.0
    """Hours a kilogram of laminate."""
    gel_coating: Hours = 0.0
    """Hours a square metre of gel coat."""
    bonding: Hours = 0.0
    """Hours a metre of bead."""
    filling: Hours = 0.0
    """Hours a kilogram of fills and blocks."""
