"""Computations behind published values of the pressures and minima off the bottom; ``given`` in clause units.

Formulas are reached through their modules, so that a formula changed in place is the one computed.
"""

from collections.abc import Callable

from stringerlab.methods import iso_12215_5_2019
from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels, pressures, stiffeners, surface_pressures

_LONG = 3.0
"""Aspect ratio of a long panel."""


def _tank_pressure(h_B: float) -> float:
    return float(surface_pressures.tank_pressure.clause(h_B=h_B))


def _tank_plate(h_B: float, b: float, sigma_d: float) -> float:
    """Thickness of a long single-skin panel of a tank [mm]."""
    k_2 = panels.k_2.clause(r=_LONG)
    P = _tank_pressure(h_B)
    return float(panels.single_skin_thickness.clause(b=b, k_C=1.0, P=P, k_2=k_2, sigma_d=sigma_d))


def _tank_modulus(h_B: float, s: float, l_u: float, sigma_d: float) -> float:
    """Section modulus of a tank's stiffener held at both ends [cm³]."""
    P = _tank_pressure(h_B)
    return float(stiffeners.held_modulus.clause(k_CS=1.0, P=P, s=s, l_u=l_u, sigma_d=sigma_d))


def _tank_web(h_B: float, s: float, l_u: float, tau_d: float) -> float:
    """Web area of it [cm²]."""
    k_SA, P = stiffeners.shear_area_factor.clause(attached=1.0), _tank_pressure(h_B)
    return float(stiffeners.held_web_area.clause(k_SA=k_SA, P=P, s=s, l_u=l_u, tau_d=tau_d))


def _dry_mass_of_mat(t_w: float) -> float:
    """Dry fibre in so much mat laminate [kg/m²]."""
    return float(dry_mass.single_skin_dry_mass.clause(t_w=t_w))


def _load_factor(L_WL: float, B: float, beta: float, V: float) -> float:
    return float(pressures.first_load_factor.clause(L_WL=L_WL, B_C=B, beta_04=beta, V=V, m_LDC=3000.0))


def _load_factor_2019(L_WL: float, B: float, beta: float, V: float) -> float:
    of = iso_12215_5_2019.first_load_factor
    return float(of.clause(L_WL=L_WL, B_CT=B, beta_04=beta, V=V, m_LDC=3000.0))


def _ratio(
    factor: Callable[[float, float, float, float], float], over: dict[str, float], under: dict[str, float]
) -> float:
    """Load factor of one craft over another's; where it is not said: 6 m by 2 m, 20°, 20 kn, 3000 kg."""
    base = {"L_WL": 6.0, "B": 2.0, "beta": 20.0, "V": 20.0}
    first, second = ({**base, **changed} for changed in (over, under))
    return factor(*first.values()) / factor(*second.values())


def _ratio_2008(over: dict[str, float], under: dict[str, float]) -> float:
    return _ratio(_load_factor, over, under)


def _ratio_2019(over: dict[str, float], under: dict[str, float]) -> float:
    return _ratio(_load_factor_2019, over, under)


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "iso_tank.pressure": _tank_pressure,
    "iso_tank.plate": _tank_plate,
    "iso_tank.modulus": _tank_modulus,
    "iso_tank.web_area": _tank_web,
    "iso_dry_mass.of_mat": _dry_mass_of_mat,
    "iso_load_factor.ratio": _ratio_2008,
    "iso_load_factor.ratio_2019": _ratio_2019,
}
