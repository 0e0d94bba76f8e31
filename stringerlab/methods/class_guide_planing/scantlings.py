"""Plating, sandwich and internals: what is required of them. Clause units: mm, m, kN/m², N/mm², cm³.

Plating and modulus as remembered; sandwich follows from the same moment and deflection.
"""

from stringerlab.methods.class_guide_planing.source import clause
from stringerlab.units import Cm2, Cm3, Cm3PerCm, Cm4PerCm, KPa, M, Mm, MPa, NMm2PerMm, NMmPerMm, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import cbrt, maximum, minimum, sqrt

_BALANCE = Source(title="Balance of forces", clause="mean shear", known=Known.MEMORY_L)


@formula(symbol="sigma_d", source=clause("design stress", Known.MEMORY_M))
def design_stress(sigma_u: MPa) -> MPa:
    """Design stress from the ultimate: flexural, tension or compression."""
    return 0.33 * sigma_u


@formula(symbol="tau_d", source=clause("design stress, held against shear too", Known.MEMORY_L))
def design_shear_stress(tau_u: MPa) -> MPa:
    """Design shear stress from the ultimate: the guide's own fractions for shear are not known for sure."""
    return 0.33 * tau_u


@formula(symbol="k_C", source=clause("plate curvature", Known.MEMORY_M))
def curvature_factor(c: Mm, b: Mm) -> Ratio:
    """Curvature factor of a panel."""
    return maximum(1 - c / b, 0.7)


@formula(symbol="t_req", source=clause("plating, strength", Known.MEMORY_M))
def strength_thickness(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Mm:
    """Required thickness of single skin for strength."""
    return b * k_C * sqrt(P * k_2 / (1000 * sigma_d))


@formula(symbol="t_req", source=clause("plating, stiffness", Known.MEMORY_M))
def stiffness_thickness(b: Mm, k_C: Ratio, P: KPa, k_3: Ratio, E_F: MPa) -> Mm:
    """Required thickness of single skin for stiffness: the bottom's deflection over span is 0.015."""
    k_1 = 0.015
    return b * k_C * cbrt(P * k_3 / (1000 * k_1 * E_F))


@formula(symbol="E_F", source=Source(title="Composite beam theory", known=Known.COMPUTED))
def flexural_modulus(EI: NMm2PerMm, t: Mm) -> MPa:
    """Flexural modulus of a laminate: of a homogeneous plate as thick that bends alike."""
    return 12 * EI / t**3


@formula(symbol="M_d", source=clause("plating, strength: its moment, held ply by ply", Known.MEMORY_M))
def edge_moment(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio) -> NMmPerMm:
    """Moment at the middle of the long edge, per width."""
    return (b * k_C) ** 2 * P * k_2 / 6000


@formula(symbol="SM_req", source=clause("sandwich, strength", Known.MEMORY_M))
def sandwich_modulus(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Cm3PerCm:
    """Required modulus of a sandwich at a skin."""
    return (b * k_C) ** 2 * P * k_2 / (6e5 * sigma_d)


@formula(symbol="I_req", source=clause("sandwich, stiffness", Known.MEMORY_M))
def sandwich_second_moment(b: Mm, k_C: Ratio, P: KPa, k_3: Ratio, E_io: MPa) -> Cm4PerCm:
    """Required second moment of a sandwich: the bottom's deflection over span is 0.015."""
    k_1 = 0.015
    return (b * k_C) ** 3 * P * k_3 / (12e6 * k_1 * E_io)


@formula(symbol="t_s_req", source=_BALANCE)
def core_shear_thickness(P: KPa, b: Mm, tau_d: MPa) -> Mm:
    """Required distance between the skins' middles for the core's shear, as for a long panel."""
    return P * b / (2000 * tau_d)


@formula(symbol="SM_0", source=clause("internals, modulus", Known.MEMORY_H))
def held_modulus(P: KPa, s: M, l_u: M, sigma_d: MPa) -> Cm3:
    """Required modulus of a stiffener held at both ends."""
    return 83.3 * P * s * l_u**2 / sigma_d


@formula(symbol="A_W0", source=_BALANCE)
def held_web_area(P: KPa, s: M, l_u: M, tau_d: MPa) -> Cm2:
    """Required web area of a stiffener held at both ends, for mean shear."""
    return 5 * P * s * l_u / tau_d


@formula(symbol="d_t_max", source=clause("proportions of hats", Known.MEMORY_M))
def web_limit() -> Ratio:
    """Greatest depth over thickness of a web."""
    return 30.0


@formula(symbol="b_t_max", source=clause("proportions of hats", Known.MEMORY_M))
def crown_limit() -> Ratio:
    """Greatest width over thickness of a closed crown."""
    return 20.0


@formula(symbol="b_e", source=clause("effective width of plating", Known.MEMORY_M))
def counted_plating(t: Mm, b_base: Mm, s: Mm) -> Mm:
    """Counted width of plating: 18 t and the stiffener's own width, itself not above 18 t."""
    return minimum(18 * t + minimum(b_base, 18 * t), s)
