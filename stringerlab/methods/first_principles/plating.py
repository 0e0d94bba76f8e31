"""How wide plating works with a member by shear lag: the less at the supports of a continuous span.

Eurocode 3's closed forms: each strip of plating from a web outward, or inward to the middle of a hat, counts
by its width over the length between points of no moment. They are for isotropic plates; of a laminate, the
width counts as much greater as √(E/G) is over √2.6.
"""

from stringerlab.units import Mm, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import maximum, sqrt, where

_SHEAR_LAG = Source(title="EN 1993-1-5:2006", clause="3.2.1, Table 3.1", known=Known.MEMORY_H)
_LAMINATE = Source(
    title="stringerlab", clause="shear lag of a laminate, by √(E/G) over that of steel", known=Known.STATED
)


@formula(symbol="kappa", source=_LAMINATE)
def slenderness(b_0: Mm, L_0: Mm, E_G: Ratio) -> Ratio:
    """Width of a strip over the length between points of no moment, as of an isotropic plate."""
    return b_0 / L_0 * sqrt(E_G / 2.6)


@formula(symbol="beta_m", source=_SHEAR_LAG)
def part_at_middle(kappa: Ratio) -> Ratio:
    """Part of a strip that works in sagging, within the span."""
    k = maximum(kappa, 0.01)
    return where(kappa <= 0.02, 1, where(kappa <= 0.7, 1 / (1 + 6.4 * k**2), 1 / (5.9 * k)))


@formula(symbol="beta_s", source=_SHEAR_LAG)
def part_at_support(kappa: Ratio) -> Ratio:
    """Part of a strip that works in hogging, at a support."""
    k = maximum(kappa, 0.01)
    hogging = 1 / (1 + 6.0 * (k - 1 / (2500 * k)) + 1.6 * k**2)
    return where(kappa <= 0.02, 1, where(kappa <= 0.7, hogging, 1 / (8.6 * k)))


@formula(symbol="b_e", source=_SHEAR_LAG)
def effective_width(s: Mm, b_base: Mm, beta_out: Ratio, beta_in: Ratio) -> Mm:
    """Width of plating that works: outside the webs and between them, each by its part."""
    return beta_out * (s - b_base) + beta_in * b_base
