"""A ply's thickness, stiffness and strength from its glass content: the formulas, each with its source.

Axes: 1 along the fibres, 2 across. g is the glass content by mass, V_f the fibre content by volume.
"""

from stringerlab.units import GPerM2, KgPerM2, KgPerM3, Mm, MPa, Range, Ratio
from stringerlab.workings import Known, Source, formula

_FITS = "ISO 12215-5:2008"
_FIT = Source(_FITS, "Annex C", Known.PROVED, "for E-glass and polyester")
_REMEMBERED = Source(_FITS, "Annex C", Known.MEMORY_H, "for E-glass and polyester")
_MIXTURES = Source("Kaw, Mechanics of Composite Materials, 2nd ed.", "3.3.1", Known.MEMORY_H)
_VOLUME = Source("Kaw, Mechanics of Composite Materials, 2nd ed.", "3.2.1", Known.MEMORY_H)
_HALPIN_TSAI = Source("Halpin and Tsai, AFML-TR 67-423, 1969", "", Known.MEMORY_H)
_HALVES = Source("Classical lamination theory", "half plies at 0 and 90°", Known.MEMORY_H)
_STRAINS = Source("Limiting strain of an aligned ply", "", Known.ESTIMATE)

FIT_RANGE = Range(0.2, 0.7)
"""Glass contents for which the published fits are used: our own limits."""
_VALID = {"g": FIT_RANGE}


@formula(symbol="t", source=_FIT, valid=_VALID)
def fit_thickness(w: KgPerM2, g: Ratio) -> Mm:
    """Thickness of a ply from its dry weight and glass content."""
    return w / 3.072 * (2.56 / g - 1.36)


@formula(symbol="E", source=_FIT, valid=_VALID)
def fit_modulus(g: Ratio) -> MPa:
    """Modulus along and across a mat or balanced fabric."""
    return 38_000 * g - 5_000


@formula(symbol="G", source=_REMEMBERED, valid=_VALID)
def fit_shear_modulus(g: Ratio) -> MPa:
    """In-plane shear modulus of a mat or balanced fabric."""
    return 1_700 * g + 2_240


@formula(symbol="sigma_ut", source=_FIT, valid=_VALID)
def fit_tension(g: Ratio) -> MPa:
    """Ultimate tensile strength of a mat or balanced fabric."""
    return 800 * g**2 - 80 * g + 37


@formula(symbol="sigma_uc", source=_FIT, valid=_VALID)
def fit_compression(g: Ratio) -> MPa:
    """Ultimate compressive strength of a mat or balanced fabric."""
    return 150 * g + 72


@formula(symbol="sigma_uf", source=_REMEMBERED, valid=_VALID)
def fit_flexural(g: Ratio) -> MPa:
    """Ultimate flexural strength of a laminate of mats and balanced fabrics."""
    return 502 * g**2 + 107


@formula(symbol="tau_u", source=_REMEMBERED, valid=_VALID)
def fit_shear(g: Ratio) -> MPa:
    """Ultimate in-plane shear strength of a mat or balanced fabric."""
    return 80 * g + 38


@formula(symbol="tau_il", source=_FIT, valid=_VALID)
def fit_interlaminar(g: Ratio) -> MPa:
    """Ultimate interlaminar shear strength."""
    return 22.5 - 17.5 * g


@formula(symbol="V_f", source=_VOLUME)
def fibre_volume(g: Ratio, rho_f: KgPerM3, rho_m: KgPerM3) -> Ratio:
    """Fibre content by volume from glass content by mass, without voids."""
    return g / rho_f / (g / rho_f + (1 - g) / rho_m)


@formula(symbol="g", source=_VOLUME)
def fibre_mass(V_f: Ratio, rho_f: KgPerM3, rho_m: KgPerM3) -> Ratio:
    """Glass content by mass from fibre content by volume, without voids."""
    return rho_f * V_f / (rho_f * V_f + rho_m * (1 - V_f))


@formula(symbol="rho_c", source=_VOLUME)
def ply_density(V_f: Ratio, rho_f: KgPerM3, rho_m: KgPerM3) -> KgPerM3:
    """Density of a ply from the volumes of its fibre and resin, without voids."""
    return rho_f * V_f + rho_m * (1 - V_f)


@formula(symbol="t", source=_VOLUME)
def solid_thickness(w: GPerM2, g: Ratio, rho_f: KgPerM3, rho_m: KgPerM3) -> Mm:
    """Thickness of a ply from the volumes of its fibre and resin, without voids."""
    return w * (1 / rho_f + (1 / g - 1) / rho_m)


@formula(symbol="E_1", source=_MIXTURES)
def modulus_along(V_f: Ratio, E_f: MPa, E_m: MPa) -> MPa:
    """Modulus along the fibres by the rule of mixtures."""
    return E_f * V_f + E_m * (1 - V_f)


@formula(symbol="nu_12", source=_MIXTURES)
def poisson_along(V_f: Ratio, nu_f: Ratio, nu_m: Ratio) -> Ratio:
    """Poisson's ratio for stress along the fibres by the rule of mixtures."""
    return nu_f * V_f + nu_m * (1 - V_f)


@formula(symbol="E_2", source=_HALPIN_TSAI)
def modulus_across(V_f: Ratio, E_f: MPa, E_m: MPa) -> MPa:
    """Modulus across the fibres by Halpin–Tsai with ξ = 2, E_f being the fibre's transverse modulus."""
    eta = (E_f / E_m - 1) / (E_f / E_m + 2)
    return E_m * (1 + 2 * eta * V_f) / (1 - eta * V_f)


@formula(symbol="G_m", source=Source("Isotropic elasticity", "", Known.MEMORY_H))
def resin_shear_modulus(E_m: MPa, nu_m: Ratio) -> MPa:
    """Shear modulus of a cast resin from its modulus and Poisson's ratio."""
    return E_m / (2 * (1 + nu_m))


@formula(symbol="G_12", source=_HALPIN_TSAI)
def shear_modulus(V_f: Ratio, G_f: MPa, G_m: MPa) -> MPa:
    """In-plane shear modulus by Halpin–Tsai with ξ = 1."""
    eta = (G_f / G_m - 1) / (G_f / G_m + 1)
    return G_m * (1 + eta * V_f) / (1 - eta * V_f)


@formula(symbol="E", source=_HALVES)
def balanced_modulus(E_1: MPa, E_2: MPa, nu_12: Ratio) -> MPa:
    """Modulus along either fibre direction of a 0/90 ply, as two half plies laid square to each other."""
    Q_12 = nu_12 * E_2 / (1 - nu_12**2 * E_2 / E_1)
    Q_mean = (E_1 + E_2) / (2 * (1 - nu_12**2 * E_2 / E_1))
    return Q_mean - Q_12**2 / Q_mean


@formula(symbol="nu", source=_HALVES)
def balanced_poisson(E_1: MPa, E_2: MPa, nu_12: Ratio) -> Ratio:
    """Poisson's ratio of a 0/90 ply, as two half plies laid square to each other."""
    return 2 * nu_12 * E_2 / (E_1 + E_2)


@formula(symbol="sigma_u", source=_STRAINS)
def strength_at_strain(E: MPa, epsilon: Ratio) -> MPa:
    """Strength of an aligned ply as its modulus times a limiting strain."""
    return E * epsilon
