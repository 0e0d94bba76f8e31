"""Panels: aspect ratio, curvature, single skin, sandwich, design stresses. Clause units: mm, N/mm², kN/m²."""

from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.units import Cm3PerCm, Cm4PerCm, KPa, M, Mm, MPa, Range, Ratio
from stringerlab.workings import Known, formula
from stringerlab.workings.maths import cbrt, clip, maximum, sqrt, where

_HELD_AT_1 = "below 1, r is held at 1, as for a square panel"


@formula(symbol="r", source=clause("9.1", Known.MEMORY_H))
def aspect_ratio(l: Mm, b: Mm) -> Ratio:
    """Aspect ratio of a panel, long side over short."""
    return l / b


@formula(symbol="k_2", source=clause("10.1, k2", Known.READ, _HELD_AT_1), valid={"r": Range(1)})
def k_2(r: Ratio) -> Ratio:
    """Aspect ratio factor for strength."""
    q = maximum(r, 1)
    return where(q > 2, 0.5, (0.271 * q**2 + 0.910 * q - 0.554) / (q**2 - 0.313 * q + 1.351))


@formula(symbol="k_3", source=clause("10.1, k3", Known.READ, _HELD_AT_1), valid={"r": Range(1)})
def k_3(r: Ratio) -> Ratio:
    """Aspect ratio factor for stiffness."""
    q = maximum(r, 1)
    return where(q > 2, 0.028, (0.027 * q**2 - 0.029 * q + 0.011) / (q**2 - 1.463 * q + 1.108))


@formula(
    symbol="k_SHC",
    source=clause("10.6, kSHC", Known.MEMORY_M, _HELD_AT_1),
    valid={"r": Range(1)},
)
def core_shear_factor(r: Ratio) -> Ratio:
    """Shear factor: 0.5 from an aspect ratio of 2 on."""
    q = maximum(r, 1)
    return where(q < 2, 0.035 + 0.394 * q - 0.09 * q**2, 0.5)


@formula(symbol="k_C", source=clause("10.1, kC", Known.READ))
def curvature_factor(c: Mm, b: Mm) -> Ratio:
    """Curvature factor from the rise over the short side."""
    q = c / b
    return where(q <= 0.03, 1, where(q <= 0.18, 1.1 - 3.33 * q, 0.5))


@formula(symbol="sigma_d", source=clause("10, design stress", Known.MEMORY_H))
def design_stress(sigma_u: MPa) -> MPa:
    """Design stress from the ultimate: flexural, tension or compression."""
    return 0.5 * sigma_u


@formula(symbol="tau_d", source=clause("10, design stress", Known.MEMORY_H))
def design_shear_stress(tau_u: MPa) -> MPa:
    """Design shear stress from the ultimate."""
    return 0.5 * tau_u


@formula(symbol="tau_d", source=clause("10.6, design stress", Known.MEMORY_H))
def core_design_shear_stress(tau_u: MPa, ductile: Ratio) -> MPa:
    """Design shear stress of a core; ``ductile`` is 1 for a ductile core and 0 otherwise."""
    return where(ductile > 0, 0.55, 0.5) * tau_u


@formula(symbol="t_req", source=clause("10.3", Known.MEMORY_H))
def single_skin_thickness(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Mm:
    """Required thickness of single skin."""
    return b * k_C * sqrt(P * k_2 / (1000 * sigma_d))


@formula(symbol="SM_req", source=clause("10.6", Known.MEMORY_H))
def sandwich_modulus(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Cm3PerCm:
    """Required modulus of a sandwich at a skin."""
    return b**2 * k_C**2 * P * k_2 / (6e5 * sigma_d)


@formula(symbol="I_req", source=clause("10.6", Known.MEMORY_H))
def sandwich_second_moment(b: Mm, k_C: Ratio, P: KPa, k_3: Ratio, E_io: MPa) -> Cm4PerCm:
    """Required second moment of a sandwich."""
    k_1 = 0.017
    return b**3 * k_C**3 * P * k_3 / (12e6 * k_1 * E_io)


@formula(symbol="t_s_req", source=clause("10.6", Known.MEMORY_H))
def core_shear_thickness(k_C: Ratio, k_SHC: Ratio, P: KPa, b: Mm, tau_d: MPa) -> Mm:
    """Required distance between the skins' middles for the core's shear."""
    return sqrt(k_C) * k_SHC * P * b / (1000 * tau_d)


@formula(symbol="t_s", source=clause("10.6", Known.MEMORY_H))
def skin_distance(t_c: Mm, t_o: Mm, t_i: Mm) -> Mm:
    """Distance between the skins' middles."""
    return t_c + (t_o + t_i) / 2


@formula(symbol="E_io", source=clause("10.6", Known.MEMORY_M))
def mean_skin_modulus(E_o: MPa, E_i: MPa) -> MPa:
    """Mean modulus of the two skins."""
    return (E_o + E_i) / 2


@formula(symbol="sigma_w", source=clause("10.6, design stress", Known.MEMORY_M))
def wrinkling_stress(E: MPa, E_c: MPa, G_c: MPa) -> MPa:
    """Design stress of a skin in compression against wrinkling."""
    return 0.3 * cbrt(E * E_c * G_c)


@formula(symbol="tau_min", source=clause("10.6, least core strength", Known.MEMORY_M))
def least_core_strength(L_WL: M) -> MPa:
    """Least design shear strength of a core, by waterline length."""
    return 0.25 + 0.03 * clip(L_WL - 10, 0, 5)
