"""Bottom pressure of a motor craft: factors, both modes, the minimum. Clause units: m, kg, kn, deg, kN/m², g.

One function a formula; which of them goes into which is said in ``loading``.
"""

from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.units import M2, Deg, G, Kg, Kn, KPa, M, Mm, Range, Ratio
from stringerlab.workings import Known, formula
from stringerlab.workings.maths import clip, maximum, minimum, where


@formula(symbol="k_DC", source=clause("7.2", Known.MEMORY_H))
def design_category_factor(A: Ratio, B: Ratio, C: Ratio, D: Ratio) -> Ratio:
    """Design category factor: each letter is 1 for the craft's own category and 0 otherwise."""
    return 1.0 * A + 0.8 * B + 0.6 * C + 0.4 * D


@formula(
    symbol="n_1",
    source=clause("7.3", Known.MEMORY_M, "outside 10 to 30 deg, deadrise is held at the nearer end"),
    valid={"beta_04": Range(10, 30)},
)
def first_load_factor(L_WL: M, B_C: M, beta_04: Deg, V: Kn, m_LDC: Kg) -> G:
    """Dynamic load factor by its first form."""
    return 0.32 * (L_WL / (10 * B_C) + 0.084) * (50 - clip(beta_04, 10, 30)) * V**2 * B_C**2 / m_LDC


@formula(symbol="n_2", source=clause("7.3", Known.MEMORY_M), valid={"V": Range(0, 50)})
def fast_load_factor(V: Kn, m_LDC: Kg) -> G:
    """Dynamic load factor by the form for fast craft."""
    return 0.5 * V / m_LDC**0.17


@formula(symbol="n_CG", source=clause("7.3", Known.MEMORY_M))
def greater_load_factor(n_1: G, n_2: G) -> G:
    """Dynamic load factor: the first form to 3, above it the greater of both forms, never above 7."""
    return where(n_1 > 3, minimum(maximum(n_1, n_2), 7), n_1)


@formula(symbol="n_CG", source=clause("7.3", Known.MEMORY_M))
def lesser_load_factor(n_1: G, n_2: G) -> G:
    """Dynamic load factor: the first form to 3, above it the lesser of both forms, within 3 and 7."""
    return where(n_1 > 3, clip(minimum(n_1, n_2), 3, 7), n_1)


@formula(symbol="x_L", source=clause("7.4", Known.MEMORY_H))
def place_along_waterline(x: M, x_aft: M, L_WL: M) -> Ratio:
    """Place along the waterline, from its aft end, as a part of its length."""
    return (x - x_aft) / L_WL


@formula(
    symbol="k_L",
    source=clause("7.4", Known.MEMORY_H, "aft of the waterline its aft end counts"),
    valid={"x_L": Range(0, 1)},
)
def length_factor(x_L: Ratio, n_CG: G) -> Ratio:
    """Longitudinal pressure distribution factor; the load factor held in 3…6."""
    n = clip(n_CG, 3, 6)
    return where(x_L < 0.6, (1 - 0.167 * n) / 0.6 * maximum(x_L, 0) + 0.167 * n, 1)


@formula(symbol="A_D", source=clause("7.5", Known.MEMORY_H))
def panel_design_area(l: M, b: M) -> M2:
    """Design area of a panel."""
    return minimum(l * b, 2.5 * b**2)


@formula(symbol="A_D", source=clause("7.5", Known.MEMORY_H))
def stiffener_design_area(l_u: M, s: M) -> M2:
    """Design area of a stiffener."""
    return maximum(l_u * s, 0.33 * l_u**2)


@formula(symbol="k_R", source=clause("7.5", Known.MEMORY_M))
def planing_reduction() -> Ratio:
    """Structural component and boat type factor in planing mode."""
    return 1.0


@formula(symbol="k_R", source=clause("7.5", Known.MEMORY_M))
def displacement_panel_reduction(b: Mm) -> Ratio:
    """Structural component and boat type factor of a panel in displacement mode."""
    return 1.5 - 0.0003 * b


@formula(symbol="k_R", source=clause("7.5", Known.MEMORY_M))
def displacement_stiffener_reduction(l_u: Mm) -> Ratio:
    """Structural component and boat type factor of a stiffener in displacement mode."""
    return 1 - 0.0002 * l_u


@formula(symbol="k_AR", source=clause("7.5", Known.MEMORY_M))
def area_factor(k_R: Ratio, m_LDC: Kg, A_D: M2) -> Ratio:
    """Area pressure reduction factor of single skin and of stiffeners, with its floor."""
    return clip(k_R * 0.1 * m_LDC**0.15 / A_D**0.3, 0.25, 1)


@formula(symbol="k_AR", source=clause("7.5", Known.MEMORY_M))
def sandwich_area_factor(k_R: Ratio, m_LDC: Kg, A_D: M2) -> Ratio:
    """Area pressure reduction factor of sandwich, with its floor."""
    return clip(k_R * 0.1 * m_LDC**0.15 / A_D**0.3, 0.4, 1)


@formula(symbol="P_D", source=clause("8.1, bottom", Known.MEMORY_H))
def displacement_pressure(m_LDC: Kg, k_AR: Ratio, k_DC: Ratio, k_L: Ratio) -> KPa:
    """Bottom pressure in displacement mode."""
    return (2.4 * m_LDC**0.33 + 20) * k_AR * k_DC * k_L


@formula(symbol="P_P", source=clause("8.1, bottom", Known.MEMORY_H))
def planing_pressure(m_LDC: Kg, L_WL: M, B_C: M, k_DC: Ratio, n_CG: G, k_AR: Ratio, k_L: Ratio) -> KPa:
    """Bottom pressure in planing mode."""
    return 0.1 * m_LDC / (L_WL * B_C) * (1 + k_DC**0.5 * n_CG) * k_AR * k_L


@formula(
    symbol="P_min",
    source=clause("8.1, bottom", Known.MEMORY_H),
    valid={"L_WL": Range(2.5, 24)},
)
def minimum_pressure(m_LDC: Kg, L_WL: M, k_DC: Ratio) -> KPa:
    """Least bottom pressure."""
    return 0.45 * m_LDC**0.33 + 0.9 * L_WL * k_DC


@formula(symbol="P", source=clause("8.1, bottom", Known.MEMORY_H))
def bottom_pressure(P_D: KPa, P_P: KPa, P_min: KPa) -> KPa:
    """Bottom pressure: the greatest of both modes and the minimum."""
    return maximum(P_D, P_P, P_min)
