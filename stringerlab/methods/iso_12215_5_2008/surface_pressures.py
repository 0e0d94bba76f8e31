"""Pressures off the bottom: side, deck, watertight bulkhead, integral tank. Clause units: m, kg, kN/m², g.

Side and deck share the bottom's factors (``pressures``); a head of water takes none. The bases are the
bottom's pressures before its factors.
"""

from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.units import G, Kg, KPa, M, Range, Ratio
from stringerlab.workings import Known, formula
from stringerlab.workings.maths import clip, maximum, where


@formula(symbol="P_D_base", source=clause("8.1, bottom", Known.MEMORY_H))
def displacement_base(m_LDC: Kg) -> KPa:
    """Base of the bottom pressure in displacement mode."""
    return 2.4 * m_LDC**0.33 + 20


@formula(symbol="P_P_base", source=clause("8.1, bottom", Known.MEMORY_H))
def planing_base(m_LDC: Kg, L_WL: M, B_C: M, k_DC: Ratio, n_CG: G) -> KPa:
    """Base of the bottom pressure in planing mode."""
    return 0.1 * m_LDC / (L_WL * B_C) * (1 + k_DC**0.5 * n_CG)


@formula(symbol="P_dk_base", source=clause("8.1, deck", Known.MEMORY_H), valid={"L_WL": Range(2.5, 24)})
def deck_base(L_WL: M) -> KPa:
    """Base of the deck pressure."""
    return 0.35 * L_WL + 14.6


@formula(symbol="k_Z", source=clause("7.6", Known.MEMORY_M))
def height_factor(z_dk: M, h_m: M) -> Ratio:
    """Vertical pressure distribution factor: 1 at the waterline, 0 at the deck's edge, held between."""
    return clip((z_dk - h_m) / z_dk, 0, 1)


@formula(symbol="P_s_D", source=clause("8.1, side", Known.MEMORY_M))
def side_displacement_pressure(
    P_dk_base: KPa, P_D_base: KPa, k_Z: Ratio, k_AR: Ratio, k_DC: Ratio, k_L: Ratio
) -> KPa:
    """Side pressure in displacement mode."""
    return (P_dk_base + k_Z * (P_D_base - P_dk_base)) * k_AR * k_DC * k_L


@formula(symbol="P_s_P", source=clause("8.1, side", Known.MEMORY_M))
def side_planing_pressure(
    P_dk_base: KPa, P_P_base: KPa, k_Z: Ratio, k_AR: Ratio, k_DC: Ratio, k_L: Ratio
) -> KPa:
    """Side pressure in planing mode: a quarter of the bottom's base counts at the waterline."""
    return (P_dk_base + k_Z * (0.25 * P_P_base - P_dk_base)) * k_AR * k_DC * k_L


@formula(symbol="P_s_min", source=clause("8.1, side", Known.MEMORY_H), valid={"L_WL": Range(2.5, 24)})
def least_side_pressure(L_WL: M, k_DC: Ratio) -> KPa:
    """Least side pressure."""
    return 0.9 * L_WL * k_DC


@formula(symbol="P", source=clause("8.1, side", Known.MEMORY_M))
def side_pressure(h_m: M, P_s_D: KPa, P_s_P: KPa, P_s_min: KPa, P_D: KPa, P_P: KPa, P_min: KPa) -> KPa:
    """Side pressure: the greatest of both modes and the minimum; below the waterline the bottom's."""
    return where(h_m < 0, maximum(P_D, P_P, P_min), maximum(P_s_D, P_s_P, P_s_min))


@formula(symbol="P_dk_D", source=clause("8.1, deck", Known.MEMORY_H))
def deck_displacement_pressure(P_dk_base: KPa, k_AR: Ratio, k_DC: Ratio, k_L: Ratio) -> KPa:
    """Deck pressure with the area factor of displacement mode."""
    return P_dk_base * k_AR * k_DC * k_L


@formula(symbol="P_dk_P", source=clause("8.1, deck", Known.MEMORY_H))
def deck_planing_pressure(P_dk_base: KPa, k_AR: Ratio, k_DC: Ratio, k_L: Ratio) -> KPa:
    """Deck pressure with the area factor of planing mode."""
    return P_dk_base * k_AR * k_DC * k_L


@formula(symbol="P_dk_min", source=clause("8.1, deck", Known.MEMORY_H))
def least_deck_pressure() -> KPa:
    """Least deck pressure."""
    return 5.0


@formula(symbol="P", source=clause("8.1, deck", Known.MEMORY_H))
def deck_pressure(P_dk_D: KPa, P_dk_P: KPa, P_dk_min: KPa) -> KPa:
    """Deck pressure: the greatest of both modes and the minimum."""
    return maximum(P_dk_D, P_dk_P, P_dk_min)


@formula(symbol="P", source=clause("8.3, watertight bulkhead", Known.MEMORY_H))
def bulkhead_pressure(h_B: M) -> KPa:
    """Pressure on a watertight bulkhead under its head of water."""
    return 7 * h_B


@formula(symbol="P", source=clause("8.3, integral tank", Known.MEMORY_H))
def tank_pressure(h_B: M) -> KPa:
    """Pressure on the boundary of an integral tank under its head of water."""
    return 10 * h_B
