"""Computations behind the published values of the class forms and of Savitsky and Brown; clause units.

Formulas are reached through their modules, so that a formula changed in place is the one computed.
"""

from collections.abc import Callable

from stringerlab.methods import savitsky_brown
from stringerlab.methods.class_guide_planing import pressures, scantlings
from stringerlab.methods.class_limits import limits
from stringerlab.methods.iso_12215_5_2008 import panels
from stringerlab.units import unit_named

_WATER = 1025.0
"""kg/m³."""


def _mean(
    of: str,
    W: float,
    B_C: float,
    L_WL: float,
    beta: float,
    H_s: float,
    V: float,
    theta_r: float,
    rho_w: float,
) -> float:
    """Mean acceleration [g] from weight [N], m, deg, m/s and water [kg/m³]."""
    metre, degree = unit_named("m").factor, unit_named("deg").factor
    found = savitsky_brown.mean_accelerations(
        m_LDC=W / 9.80665,
        L_WL=L_WL * metre,
        B_C=B_C * metre,
        beta=beta * degree,
        H_s=H_s * metre,
        V=V,
        theta_r=theta_r * degree,
        rho_w=rho_w,
    )
    return float(getattr(found, of))


def _growth_with_waves() -> float:
    """What a wave adds to the class guide's acceleration over what it adds to Savitsky and Brown's mean."""

    def guide(H_s: float) -> float:
        given = {"H_s": H_s, "B_C": 2.5, "theta_r": 4.0, "beta_04": 18.0, "V": 30.0, "m_LDC": 6000.0}
        return float(pressures.acceleration.clause(**given))

    def mean(H_s: float) -> float:
        W = 6000.0 * 9.80665
        V = 30.0 * unit_named("kn").factor
        return _mean("n_cg", W=W, B_C=2.5, L_WL=9.0, beta=18.0, H_s=H_s, V=V, theta_r=4.0, rho_w=_WATER)

    return (guide(1.5) - guide(0.5)) / (mean(1.5) - mean(0.5))


def _guide_moment(P: float, b: float, r: float) -> float:
    return float(scantlings.edge_moment.clause(b=b, k_C=1.0, P=P, k_2=panels.k_2.clause(r)))


def _guide_thickness(P: float, b: float, r: float, sigma_d: float) -> float:
    k_2 = panels.k_2.clause(r)
    return float(scantlings.strength_thickness.clause(b=b, k_C=1.0, P=P, k_2=k_2, sigma_d=sigma_d))


def _guide_stiffness(P: float, b: float, r: float, E_F: float) -> float:
    k_3 = panels.k_3.clause(r)
    return float(scantlings.stiffness_thickness.clause(b=b, k_C=1.0, P=P, k_3=k_3, E_F=E_F))


def _guide_sandwich(P: float, b: float, r: float, sigma_d: float) -> float:
    k_2 = panels.k_2.clause(r)
    return float(scantlings.sandwich_modulus.clause(b=b, k_C=1.0, P=P, k_2=k_2, sigma_d=sigma_d))


def _guide_sandwich_stiffness(P: float, b: float, r: float, E_io: float) -> float:
    k_3 = panels.k_3.clause(r)
    return float(scantlings.sandwich_second_moment.clause(b=b, k_C=1.0, P=P, k_3=k_3, E_io=E_io))


def _guide_core(P: float, b: float, tau_d: float) -> float:
    return float(scantlings.core_shear_thickness.clause(P=P, b=b, tau_d=tau_d))


def _guide_modulus(P: float, s: float, l_u: float, sigma_d: float) -> float:
    return float(scantlings.held_modulus.clause(P=P, s=s, l_u=l_u, sigma_d=sigma_d))


def _guide_web(P: float, s: float, l_u: float, tau_d: float) -> float:
    return float(scantlings.held_web_area.clause(P=P, s=s, l_u=l_u, tau_d=tau_d))


def _limits_moment(P: float, b: float) -> float:
    return float(limits.edge_moment.clause(P=P, b=b))


def _limits_sandwich(P: float, b: float, sigma_d: float) -> float:
    return float(limits.sandwich_modulus.clause(P=P, b=b, sigma_d=sigma_d))


def _limits_core(P: float, b: float, tau_d: float) -> float:
    return float(limits.core_shear_thickness.clause(P=P, b=b, tau_d=tau_d))


def _limits_modulus(P: float, s: float, l_u: float, sigma_d: float) -> float:
    return float(limits.held_modulus.clause(P=P, s=s, l_u=l_u, sigma_d=sigma_d))


def _limits_web(P: float, s: float, l_u: float, tau_d: float) -> float:
    return float(limits.held_web_area.clause(P=P, s=s, l_u=l_u, tau_d=tau_d))


def _bottom_fraction(heavy: float) -> float:
    return float(limits.bottom_fraction.clause(heavy))


def _stiffening_fraction(heavy: float) -> float:
    return float(limits.stiffening_fraction.clause(heavy))


def _least_interlaminar() -> float:
    return float(limits.least_interlaminar_strength.clause())


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "savitsky_brown.mean": _mean,
    "class_guide.growth_with_waves": _growth_with_waves,
    "class_guide.moment": _guide_moment,
    "class_guide.thickness": _guide_thickness,
    "class_guide.stiffness": _guide_stiffness,
    "class_guide.sandwich": _guide_sandwich,
    "class_guide.sandwich_stiffness": _guide_sandwich_stiffness,
    "class_guide.core": _guide_core,
    "class_guide.modulus": _guide_modulus,
    "class_guide.web": _guide_web,
    "class_limits.moment": _limits_moment,
    "class_limits.sandwich": _limits_sandwich,
    "class_limits.core": _limits_core,
    "class_limits.modulus": _limits_modulus,
    "class_limits.web": _limits_web,
    "class_limits.bottom_fraction": _bottom_fraction,
    "class_limits.stiffening_fraction": _stiffening_fraction,
    "class_limits.least_interlaminar": _least_interlaminar,
}
