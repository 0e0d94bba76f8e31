"""Computations behind the published values of first principles and shear lag; clause units."""

import math
from collections.abc import Callable

from stringerlab.layout import End
from stringerlab.methods import end_factors, savitsky_brown
from stringerlab.methods.first_principles import plating, pressures, scantlings
from stringerlab.methods.iso_12215_5_2008 import panels
from stringerlab.methods.mechanics import beams

_ENDS = {"held": (End.HELD, End.HELD), "propped": (End.HELD, End.SIMPLE), "simple": (End.SIMPLE, End.SIMPLE)}


def _part(of: str, b_0: float, L_0: float) -> float:
    """Part of a strip that works, of an isotropic plate."""
    kappa = plating.slenderness.clause(b_0=b_0, L_0=L_0, E_G=2.6)
    part = plating.part_at_middle if of == "middle" else plating.part_at_support
    return float(part.clause(kappa=kappa))


def _reference_area(tons: float, T: float) -> float:
    """Reference area in ft² from long tons and feet."""
    area = pressures.reference_area.clause(m_LDC=tons * 1016.0469088, T=T * 0.3048)
    return float(area) / 0.3048**2


def _whole_area_mean(n: float, m_LDC: float, T: float) -> float:
    """Mean pressure over the whole reference area times that area, over n times the weight."""
    A_R = pressures.reference_area.clause(m_LDC=m_LDC, T=T)
    K_D = pressures.area_factor.clause(A_D=A_R, A_R=A_R)
    P = pressures.impact_pressure.clause(n_N=n, m_LDC=m_LDC, A_R=A_R, K_D=K_D, F_L=1.0)
    return float(P * A_R * 1000 / (n * m_LDC * 9.80665))


def _highest(N: float) -> float:
    return float(savitsky_brown.highest_average.clause(n_mean=1.0, N=N))


def _deflection(r: float) -> float:
    """Deflection of a clamped plate's middle over q b⁴/D, of Poisson's ratio 0.3: D is EI/(1 − 0.3²)."""
    w = scantlings.panel_deflection.clause(P=1.0, k_3=panels.k_3.clause(r), b=1.0, EI=1 - 0.3**2)
    return float(w)


def _moment(r: float) -> float:
    return float(scantlings.edge_moment.clause(P=1.0, k_2=panels.k_2.clause(r), b=1.0))


def _head(h: float, rho: float) -> float:
    return float(pressures.static_pressure.clause(h_B=h, rho_w=rho))


def _beam(ends: str, of: str) -> float:
    """Moment over w l², or shear over w l, of a single beam by its ends."""
    factors = end_factors([_ENDS[ends]])
    unit = {"P": 1.0, "s": 1.0, "l_u": 1.0}
    found = {
        "end": lambda: beams.end_moment(f_e=factors.end, **unit),
        "middle": lambda: beams.middle_moment(f_m=factors.middle, **unit),
        "shear": lambda: beams.end_shear(f_Q=factors.shear, **unit),
    }
    return math.fabs(float(found[of]()[0]))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "first_principles.part": _part,
    "first_principles.reference_area": _reference_area,
    "first_principles.whole_area": _whole_area_mean,
    "first_principles.highest": _highest,
    "first_principles.deflection": _deflection,
    "first_principles.moment": _moment,
    "first_principles.head": _head,
    "first_principles.beam": _beam,
}
