"""Computations behind the methods' published values; ``given`` is in the clause's units.

Formulas are reached through their modules, so that a formula changed in place is the one computed.
"""

from collections.abc import Callable
from functools import partial

import numpy as np

from stringerlab.layout import End
from stringerlab.materials import estimates
from stringerlab.methods import ends
from stringerlab.methods.iso_12215_5_2008 import panels, stacks, stiffeners
from stringerlab.methods.iso_12215_5_2008.strip import Strip, strip

# Annex H, Table H1: what the example starts from, outer ply first.
_DRY = np.array([0.300, 0.300, 0.500, 0.450, 0.800, 0.450, 0.800])
"""kg/m²."""
_GLASS = np.array([0.30, 0.30, 0.48, 0.30, 0.48, 0.30, 0.48])
_P = 26.0
"""kN/m²."""
_B = 400.0
"""mm; the panel is long."""
_LONG = 3.0


def _thicknesses() -> np.ndarray:
    return estimates.fit_thickness.clause(_DRY, _GLASS)


def _moduli() -> np.ndarray:
    return estimates.fit_modulus.clause(_GLASS)


def _strip() -> Strip:
    return strip(_thicknesses()[None, :], _moduli()[None, :])


def _moment() -> float:
    return float(stacks.edge_moment.clause(k_C=1.0, P=_P, k_2=panels.k_2.clause(_LONG), b=_B))


def _shear_force() -> float:
    k_SHC = panels.core_shear_factor.clause(_LONG)
    return float(stacks.edge_shear_force.clause(k_C=1.0, k_SHC=k_SHC, P=_P, b=_B))


def _of_strip(quantity: str) -> float:
    return float(getattr(_strip(), quantity)[0])


def _first_moment(below_ply: int) -> float:
    return float(_strip().first_moments[0, below_ply - 1])


def _compliance(ply: int) -> float:
    """Design stress over stress at a ply's outer face, in tension."""
    of = _strip()
    sigma = stacks.bending_stress.clause(E=of.E[0, ply - 1], M_d=_moment(), d=of.d_o[0, ply - 1], EI=of.EI[0])
    sigma_u = estimates.fit_tension.clause(_GLASS[ply - 1])
    return float(panels.design_stress.clause(sigma_u) / sigma)


def _interlaminar_compliance(below_ply: int) -> float:
    """Design stress of the ply above over the shear stress on its inner face."""
    ES = _first_moment(below_ply)
    tau = stacks.interlaminar_stress.clause(F_d=_shear_force(), ES=ES, EI=_of_strip("EI"))
    tau_u = estimates.fit_interlaminar.clause(_GLASS[below_ply - 1])
    return float(panels.design_shear_stress.clause(tau_u) / tau)


def _clamped_moment(r: float) -> float:
    """Moment at the middle of the long edge over q b²."""
    return float(stacks.edge_moment.clause(k_C=1.0, P=1.0, k_2=panels.k_2.clause(r), b=1.0)) * _PER_KPA


_PER_KPA = 1000.0
"""kN/m² in an N/mm²."""


def _single_skin(r: float, b: float, P: float, sigma_d: float) -> float:
    return float(
        panels.single_skin_thickness.clause(b=b, k_C=1.0, P=P, k_2=panels.k_2.clause(r), sigma_d=sigma_d)
    )


def _sandwich_modulus(r: float, b: float, P: float, sigma_d: float) -> float:
    return float(panels.sandwich_modulus.clause(b=b, k_C=1.0, P=P, k_2=panels.k_2.clause(r), sigma_d=sigma_d))


def _sandwich_second_moment(r: float, b: float, P: float, E_io: float) -> float:
    k_3 = panels.k_3.clause(r)
    return float(panels.sandwich_second_moment.clause(b=b, k_C=1.0, P=P, k_3=k_3, E_io=E_io))


def _core_shear(r: float, b: float, P: float, tau_d: float) -> float:
    k_SHC = panels.core_shear_factor.clause(r)
    return float(panels.core_shear_thickness.clause(k_C=1.0, k_SHC=k_SHC, P=P, b=b, tau_d=tau_d))


def _sandwich_axis(E: float, t: float, t_c: float) -> float:
    return float(stacks.sandwich_neutral_axis.clause(E_o=E, t_o=t, E_i=E, t_i=t, t_c=t_c))


def _sandwich_stiffness(E: float, t: float, t_c: float) -> float:
    z_na = _sandwich_axis(E, t, t_c)
    return float(stacks.sandwich_stiffness.clause(E_o=E, t_o=t, E_i=E, t_i=t, t_c=t_c, z_na=z_na))


def _held_modulus(P: float, s: float, l_u: float, sigma_d: float) -> float:
    return float(stiffeners.held_modulus.clause(k_CS=1.0, P=P, s=s, l_u=l_u, sigma_d=sigma_d))


def _held_web_area(P: float, s: float, l_u: float, tau_d: float) -> float:
    k_SA = stiffeners.shear_area_factor.clause(attached=1.0)
    return float(stiffeners.held_web_area.clause(k_SA=k_SA, P=P, s=s, l_u=l_u, tau_d=tau_d))


def _held_stiffness(P: float, s: float, l_u: float) -> float:
    return float(stiffeners.held_stiffness.clause(k_CS=1.0, P=P, s=s, l_u=l_u))


def _end_factor(of: str, ends_held: tuple[str, str]) -> float:
    factors = ends.end_factors([(End(ends_held[0]), End(ends_held[1]))])
    return float(getattr(factors, of)[0])


def _curvature(rise: float) -> float:
    return float(panels.curvature_factor.clause(c=rise, b=1.0))


def _k_2(r: float) -> float:
    return float(panels.k_2.clause(r))


def _k_3(r: float) -> float:
    return float(panels.k_3.clause(r))


def _k_SHC(r: float) -> float:
    return float(panels.core_shear_factor.clause(r))


def _web_limit() -> float:
    return float(stiffeners.web_limit.clause(A_W=1.0, A_W_req=1.0))


def _free_flange_limit() -> float:
    return float(stiffeners.crown_limit.clause(free=1.0))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "annex_h.total_thickness": lambda: float(_thicknesses().sum()),
    "annex_h.dry_mass": lambda: float(_DRY.sum()),
    "annex_h.Et": partial(_of_strip, "Et"),
    "annex_h.Etz": partial(_of_strip, "Etz"),
    "annex_h.z_na": partial(_of_strip, "z_na"),
    "annex_h.EI_0": partial(_of_strip, "EI_0"),
    "annex_h.EI": partial(_of_strip, "EI"),
    "annex_h.F": _shear_force,
    "annex_h.M": _moment,
    "annex_h.compliance": _compliance,
    "annex_h.ES": _first_moment,
    "annex_h.interlaminar_compliance": _interlaminar_compliance,
    "iso_panels.k_2": _k_2,
    "iso_panels.k_3": _k_3,
    "iso_panels.k_C": _curvature,
    "iso_panels.k_SHC": _k_SHC,
    "iso_stiffeners.web_limit": _web_limit,
    "iso_stiffeners.free_flange_limit": _free_flange_limit,
    "iso_panels.clamped_moment": _clamped_moment,
    "iso_panels.single_skin": _single_skin,
    "iso_panels.sandwich_modulus": _sandwich_modulus,
    "iso_panels.sandwich_second_moment": _sandwich_second_moment,
    "iso_panels.core_shear": _core_shear,
    "iso_stacks.sandwich_axis": _sandwich_axis,
    "iso_stacks.sandwich_stiffness": _sandwich_stiffness,
    "iso_stiffeners.modulus": _held_modulus,
    "iso_stiffeners.web_area": _held_web_area,
    "iso_stiffeners.stiffness": _held_stiffness,
    "ends.factor": _end_factor,
}
