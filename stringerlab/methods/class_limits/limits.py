"""Limiting fractions of ultimate stress, and the moments and shears held to them.

Clause units: mm, kN/m², N/mm². Panels count as long and clamped, stiffeners as held at both ends.
"""

from stringerlab.methods.class_limits.source import clause
from stringerlab.units import Cm2, Cm3, Cm3PerCm, KPa, Mm, MPa, NMmPerMm, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import cbrt, minimum, where

_BALANCE = Source(title="Balance of forces", clause="mean shear", known=Known.MEMORY_L)


@formula(symbol="f_lim", source=clause("limiting fractions, bottom plating", Known.READ))
def bottom_fraction(heavy: Ratio) -> Ratio:
    """Limiting fraction of ultimate stress in bottom plating; ``heavy`` is 1 for heavier service."""
    return where(heavy > 0, 0.25, 0.28)


@formula(symbol="f_lim", source=clause("limiting fractions, bottom stiffening", Known.READ))
def stiffening_fraction(heavy: Ratio) -> Ratio:
    """Limiting fraction of ultimate stress in bottom stiffening; ``heavy`` is 1 for heavier service."""
    return where(heavy > 0, 0.30, 0.33)


@formula(symbol="sigma_d", source=clause("limiting stress", Known.READ))
def limiting_stress(f_lim: Ratio, sigma_u: MPa) -> MPa:
    """Limiting stress of a ply, in tension or compression."""
    return f_lim * sigma_u


@formula(symbol="tau_d", source=clause("limiting fraction, held against shear too", Known.MEMORY_L))
def limiting_shear(f_lim: Ratio, tau_u: MPa) -> MPa:
    """Limiting shear stress: the rules' own fractions for shear are not known here."""
    return f_lim * tau_u


@formula(symbol="tau_il_min", source=clause("least interlaminar strength", Known.READ))
def least_interlaminar_strength() -> MPa:
    """Least interlaminar shear strength of a laminate."""
    return 13.8


@formula(symbol="sigma_w", source=clause("skin wrinkling", Known.READ))
def wrinkling_stress(E: MPa, E_c: MPa, G_c: MPa) -> MPa:
    """Stress of a skin in compression at which it wrinkles."""
    return 0.5 * cbrt(E * E_c * G_c)


@formula(symbol="M_d", source=clause("panels, edge moment", Known.MEMORY_M))
def edge_moment(P: KPa, b: Mm) -> NMmPerMm:
    """Moment at the middle of the long edge of a long panel, per width."""
    return P * b**2 / 12_000


@formula(symbol="SM_req", source=clause("panels, edge moment", Known.MEMORY_M))
def sandwich_modulus(P: KPa, b: Mm, sigma_d: MPa) -> Cm3PerCm:
    """Required modulus of a long sandwich at a skin."""
    return P * b**2 / (1.2e6 * sigma_d)


@formula(symbol="t_s_req", source=_BALANCE)
def core_shear_thickness(P: KPa, b: Mm, tau_d: MPa) -> Mm:
    """Required distance between the skins' middles for the core's shear in a long panel."""
    return P * b / (2000 * tau_d)


@formula(symbol="SM_0", source=clause("stiffeners, end moment", Known.MEMORY_M))
def held_modulus(P: KPa, s: Mm, l_u: Mm, sigma_d: MPa) -> Cm3:
    """Required modulus of a stiffener held at both ends."""
    return P * s * l_u**2 / (12e6 * sigma_d)


@formula(symbol="A_W0", source=_BALANCE)
def held_web_area(P: KPa, s: Mm, l_u: Mm, tau_d: MPa) -> Cm2:
    """Required web area of a stiffener held at both ends, for mean shear."""
    return P * s * l_u / (2e5 * tau_d)


@formula(symbol="b_e", source=clause("attached plating", Known.READ))
def counted_plating(t: Mm, b_base: Mm, s: Mm) -> Mm:
    """Counted width of plating: half the stiffener's own width and 10 t on each side."""
    return minimum(2 * (0.5 * b_base + 10 * t), s)
