"""What plates and beams ask for under a pressure, by theory alone. N, mm, MPa.

A panel is a clamped plate, its long edge's middle its worst place; a member a single beam.
"""

from stringerlab.methods.first_principles.source import own
from stringerlab.units import (
    Mm,
    Mm2,
    Mm3,
    Mm3PerMm,
    Mm4PerMm,
    MPa,
    N,
    NMm,
    NMm2,
    NMm2PerMm,
    NMmPerMm,
    NPerMm,
    Ratio,
)
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import absolute, cbrt

_PLATE = Source(
    title="Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells",
    clause="clamped rectangular plates under uniform load",
    known=Known.QUOTED,
)
_BEAM = Source(title="Beam theory", clause="uniform load on a single span", known=Known.MEMORY_H)
_SANDWICH = Source(title="Sandwich theory", clause="the core carries the shear", known=Known.MEMORY_H)
_WRINKLING = Source(title="Sandwich theory", clause="wrinkling of a skin, 0.5", known=Known.READ)


@formula(symbol="M_d", source=_PLATE)
def edge_moment(P: MPa, k_2: Ratio, b: Mm) -> NMmPerMm:
    """Moment at the middle of the long edge, per width; the aspect ratio factor is six times the plate's."""
    return P * k_2 * b**2 / 6


@formula(symbol="F_d", source=_PLATE)
def edge_shear(P: MPa, b: Mm) -> NPerMm:
    """Shear force at the middle of the long edge, per width: a long plate's, the greatest."""
    return P * b / 2


@formula(symbol="w_c", source=_PLATE)
def panel_deflection(P: MPa, k_3: Ratio, b: Mm, EI: NMm2PerMm) -> Mm:
    """Deflection of the middle, of the strip's EI; the factor is 12 (1 − 0.3²) times the clamped plate's."""
    return P * k_3 * b**4 / (12 * EI)


@formula(symbol="w_max", source=own("allowed deflection"))
def allowed_deflection(n_w: Ratio, b: Mm) -> Mm:
    """Deflection allowed of a panel over its short side."""
    return n_w * b


@formula(symbol="sigma_d", source=own("factor of safety"))
def design_stress(sigma_u: MPa, gamma_s: Ratio) -> MPa:
    """Stress allowed of a ply, along the strip or member, from that at which it fails."""
    return sigma_u / gamma_s


@formula(symbol="tau_d", source=own("factor of safety"))
def design_shear(tau_u: MPa, gamma_s: Ratio) -> MPa:
    """Shear stress allowed, from that at failure."""
    return tau_u / gamma_s


@formula(symbol="SM_req", source=_PLATE)
def skin_modulus(M_d: NMmPerMm, sigma_d: MPa) -> Mm3PerMm:
    """Section modulus that a skin needs."""
    return M_d / sigma_d


@formula(symbol="I_req", source=_PLATE)
def required_second_moment(P: MPa, k_3: Ratio, b: Mm, E_io: MPa, n_w: Ratio) -> Mm4PerMm:
    """Second moment that a sandwich needs for its deflection in bending."""
    return P * k_3 * b**3 / (12 * n_w * E_io)


@formula(symbol="t_s_req", source=_SANDWICH)
def core_distance(F_d: NPerMm, tau_d: MPa) -> Mm:
    """Distance between the skins' middles that the core's shear needs."""
    return F_d / tau_d


@formula(symbol="sigma_w", source=_WRINKLING)
def wrinkling_stress(E: MPa, E_c: MPa, G_c: MPa) -> MPa:
    """Compression at which a skin wrinkles."""
    return 0.5 * cbrt(E * E_c * G_c)


@formula(symbol="SM_req", source=_BEAM)
def required_modulus(M_w: NMm, sigma_d: MPa) -> Mm3:
    """Section modulus that a ply's extreme fibre needs."""
    return absolute(M_w) / sigma_d


@formula(symbol="A_W_req", source=_BEAM)
def required_web_area(V_e: N, tau_d: MPa) -> Mm2:
    """Web area that a shear force needs, by mean shear."""
    return V_e / tau_d


@formula(symbol="EI_req", source=_BEAM)
def required_stiffness(f_w: Ratio, P: MPa, s: Mm, l_u: Mm, n_w: Ratio) -> NMm2:
    """Bending stiffness that a deflection of so much of the span needs."""
    return f_w * P * s * l_u**3 / (384 * n_w)


@formula(symbol="epsilon_f", source=_BEAM)
def fibre_strain(M_w: NMm, z: Mm, EI: NMm2) -> Ratio:
    """Strain at a distance from the neutral axis, without sign."""
    return absolute(M_w * z) / EI
