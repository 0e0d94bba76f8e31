"""Bottom pressure of planing craft: acceleration, slamming, hydrostatic.

Clause units: m, cm², kg, kn, deg, kN/m², g. The guide's waterline beam is read as the chine beam. What
goes into what is said in ``loading``.
"""

from stringerlab.methods.class_guide_planing.source import TITLE, clause
from stringerlab.units import Cm2, Deg, G, Kg, Kn, KPa, M, Mm, Range, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import clip, maximum, minimum, where

_DEADRISE = "outside 10 to 30 deg, deadrise is held at the nearer end"
_OURS = Source(title=TITLE, clause="F_D, our own reading", known=Known.STATED)


@formula(symbol="H_s_min", source=clause("least wave height", Known.MEMORY_M))
def least_wave_height(L_WL: M) -> M:
    """Least significant wave height to be reckoned with at full speed."""
    return L_WL / 12


@formula(symbol="H_s", source=clause("least wave height", Known.MEMORY_M))
def wave_height(H_given: M, H_s_min: M) -> M:
    """Significant wave height: that given, not below the least."""
    return maximum(H_given, H_s_min)


@formula(symbol="theta_min", source=clause("running trim", Known.MEMORY_M))
def least_trim(L_WL: M) -> Deg:
    """Least running trim to be reckoned with: never below 3 deg, below 50 m as remembered 4 deg."""
    return where(L_WL < 50, 4, 3)


@formula(symbol="theta_r", source=clause("running trim", Known.MEMORY_H))
def running_trim(theta_given: Deg, theta_min: Deg) -> Deg:
    """Running trim: that given, not below the least."""
    return maximum(theta_given, theta_min)


@formula(
    symbol="n_cg",
    source=clause("vertical acceleration", Known.MEMORY_H, _DEADRISE),
    valid={"beta_04": Range(10, 30)},
)
def acceleration(H_s: M, B_C: M, theta_r: Deg, beta_04: Deg, V: Kn, m_LDC: Kg) -> G:
    """Vertical acceleration at the centre of gravity."""
    return 0.0078 * (12 * H_s / B_C + 1) * theta_r * (50 - clip(beta_04, 10, 30)) * V**2 * B_C**2 / m_LDC


@formula(
    symbol="K_V",
    source=clause("acceleration along the length", Known.MEMORY_L, "outside 0 to 1 the nearer end counts"),
    valid={"x_L": Range(0, 1)},
)
def length_factor(x_L: Ratio) -> Ratio:
    """Acceleration along the length over that at the centre of gravity: 1 to midships, 2 at the bow."""
    return 1 + clip((x_L - 0.5) / 0.5, 0, 1)


@formula(symbol="n_xx", source=clause("acceleration along the length", Known.MEMORY_L))
def local_acceleration(n_cg: G, K_V: Ratio) -> G:
    """Vertical acceleration at a place along the length."""
    return n_cg * K_V


@formula(symbol="A_D", source=clause("design area", Known.MEMORY_M))
def panel_area(l: Mm, b: Mm) -> Cm2:
    """Design area of a panel."""
    return minimum(l * b, 2.5 * b**2) / 100


@formula(symbol="A_D", source=clause("design area", Known.MEMORY_M))
def stiffener_area(l_u: Mm, s: Mm) -> Cm2:
    """Design area of a stiffener."""
    return maximum(l_u * s, 0.33 * l_u**2) / 100


@formula(symbol="A_R", source=clause("reference area", Known.MEMORY_M))
def reference_area(m_LDC: Kg, T: M) -> Cm2:
    """Area that design areas are held against."""
    return 6.95 * m_LDC / T


@formula(symbol="F_D_min", source=clause("least F_D, by spacing to 24 m", Known.MEMORY_M))
def least_area_factor(s: Mm, L_WL: M) -> Ratio:
    """Least design area factor: to 24 m by spacing, from 0.85 at 250 mm to 0.40 at 1250 mm; above, 0.40."""
    q = s / 250
    by_spacing = (
        0.85
        - 0.10 * clip(q - 1, 0, 1)
        - 0.15 * clip(q - 2, 0, 1)
        - 0.10 * clip(q - 3, 0, 1)
        - 0.10 * clip(q - 4, 0, 1)
    )
    return where(L_WL <= 24, by_spacing, 0.40)


@formula(
    symbol="F_D",
    source=clause("F_D, by the fit of other rules scaled to 1 at no area", Known.MEMORY_M),
)
def area_factor(A_D: Cm2, A_R: Cm2, F_D_min: Ratio) -> Ratio:
    """Design area factor: the fit of other rules over its own greatest, 0.805, and not below the least."""
    q = (100 * A_D / A_R) ** 0.75
    return clip((0.455 - 0.35 * (q - 1.7) / (q + 1.7)) / 0.805, F_D_min, 1)


@formula(symbol="F_D", source=_OURS)
def full_area_factor() -> Ratio:
    """Design area factor where the draught is not given: its greatest."""
    return 1.0


@formula(
    symbol="P_b",
    source=clause("bottom slamming", Known.MEMORY_H, _DEADRISE),
    valid={"beta_x": Range(10, 30)},
)
def slamming_pressure(m_LDC: Kg, L_WL: M, B_C: M, n_xx: G, beta_x: Deg, beta_04: Deg, F_D: Ratio) -> KPa:
    """Bottom slamming pressure."""
    deadrise = (70 - clip(beta_x, 10, 30)) / (70 - clip(beta_04, 10, 30))
    return 0.1 * m_LDC / (L_WL * B_C) * (1 + n_xx) * deadrise * F_D


@formula(symbol="H", source=clause("wave parameter", Known.MEMORY_M))
def wave_parameter(L_WL: M) -> M:
    """Wave parameter of the hydrostatic pressure."""
    return 0.0172 * L_WL + 3.653


@formula(symbol="P_h", source=clause("bottom, hydrostatic", Known.MEMORY_M))
def hydrostatic_pressure(H: M, T: M) -> KPa:
    """Hydrostatic bottom pressure."""
    return 9.8 * (0.64 * H + T)


@formula(symbol="P", source=clause("bottom", Known.MEMORY_M))
def bottom_pressure(P_b: KPa, P_h: KPa) -> KPa:
    """Bottom design pressure: the greater of slamming and hydrostatic."""
    return maximum(P_b, P_h)
