"""Stiffeners: required modulus, web area and stiffness, ends, proportions, counted plating. Clause units."""

from stringerlab.methods.iso_12215_5_2008.source import OURS, clause
from stringerlab.units import Cm2, Cm3, Cm4MPa, KPa, Mm, Mm2, Mm3, MPa, NMm2, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import absolute, maximum, minimum, sqrt, where

_ENDS = Source(title=OURS, clause="ends", known=Known.STATED)


@formula(symbol="k_CS", source=clause("11.2, kCS", Known.MEMORY_H))
def curvature_factor(c_u: Mm, l_u: Mm) -> Ratio:
    """Curvature factor of a stiffener from its rise over the span."""
    q = c_u / l_u
    return where(q <= 0.03, 1, where(q <= 0.18, 1.1 - 3.33 * q, 0.5))


@formula(symbol="k_SA", source=clause("11.2, kSA", Known.MEMORY_H))
def shear_area_factor(attached: Ratio) -> Ratio:
    """Shear area factor of a stiffener attached to the plating, or floating."""
    return where(attached > 0, 5, 7.5)


@formula(symbol="SM_0", source=clause("11.4", Known.MEMORY_H))
def held_modulus(k_CS: Ratio, P: KPa, s: Mm, l_u: Mm, sigma_d: MPa) -> Cm3:
    """Required modulus of a stiffener held at both ends."""
    return 83.33 * k_CS * P * s * l_u**2 * 1e-9 / sigma_d


@formula(symbol="A_W0", source=clause("11.4", Known.MEMORY_H))
def held_web_area(k_SA: Ratio, P: KPa, s: Mm, l_u: Mm, tau_d: MPa) -> Cm2:
    """Required web area of a stiffener held at both ends."""
    return k_SA * P * s * l_u * 1e-6 / tau_d


@formula(symbol="EI_0", source=clause("11.4", Known.MEMORY_M))
def held_stiffness(k_CS: Ratio, P: KPa, s: Mm, l_u: Mm) -> Cm4MPa:
    """Required bending stiffness of a stiffener held at both ends."""
    k_1S = 0.05
    return 26 * k_CS**1.5 * P * s * l_u**3 * 1e-11 / k_1S


@formula(symbol="SM_req", source=_ENDS)
def required_modulus(f_M: Ratio, SM_0: Mm3) -> Mm3:
    """Required modulus for the ends as they are; the factor is 1 when both are held."""
    return f_M * SM_0


@formula(symbol="A_W_req", source=_ENDS)
def required_web_area(f_Q: Ratio, A_W0: Mm2) -> Mm2:
    """Required web area for the ends as they are; the factor is 1 when both are held."""
    return f_Q * A_W0


@formula(symbol="EI_req", source=_ENDS)
def required_stiffness(f_w: Ratio, EI_0: NMm2) -> NMm2:
    """Required bending stiffness for the ends as they are; the factor is 1 when both are held."""
    return f_w * EI_0


@formula(symbol="SM", source=Source(title="Composite beam theory", known=Known.COMPUTED))
def modulus_at(EI: NMm2, E: MPa, z: Mm) -> Mm3:
    """Section modulus at a ply's extreme fibre."""
    return EI / (E * absolute(z))


@formula(symbol="d_t", source=clause("11.5, proportions", Known.READ))
def proportion(d: Mm, t: Mm) -> Ratio:
    """Depth or width over thickness."""
    return d / t


@formula(symbol="d_t_max", source=clause("11.5, proportions", Known.QUOTED))
def web_limit(A_W: Mm2, A_W_req: Mm2) -> Ratio:
    """Greatest depth over thickness of a web, relaxed where its shear capacity exceeds what is asked."""
    return 30 * sqrt(maximum(A_W / A_W_req, 1))


@formula(symbol="b_t_max", source=clause("11.5, proportions", Known.MEMORY_M))
def crown_limit(free: Ratio) -> Ratio:
    """Greatest width over thickness of a flange with a free edge, or of a closed crown."""
    return where(free > 0, 7, 20)


@formula(symbol="b_e", source=clause("11.3", Known.MEMORY_H))
def counted_plating(t: Mm, b_base: Mm, s: Mm) -> Mm:
    """Counted width of plating; t is single skin or both skins of a sandwich together."""
    return minimum(20 * t + b_base, s)
