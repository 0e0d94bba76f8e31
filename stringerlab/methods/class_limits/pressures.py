"""Impact pressure on the bottom of planing craft. Clause units: m, kg, kn, deg, kN/m², g.

All of it from memory. The acceleration is Savitsky and Brown's with the factor of the highest hundredth; the
pressure is Heller and Jasper's over the bottom's whole girth, chine to chine.
"""

from stringerlab.methods.class_limits.source import clause
from stringerlab.units import Deg, G, Kg, Kn, KPa, M, Range, Ratio
from stringerlab.workings import Known, formula
from stringerlab.workings.maths import clip, cos, maximum, pi

_HELD = "outside 10 to 30 deg, deadrise is held at the nearer end"
_SLOW = "below 3 the rules' pressures for displacement craft count, which are not known here"


@formula(symbol="theta_r", source=clause("running trim", Known.MEMORY_M))
def running_trim(theta_given: Deg) -> Deg:
    """Running trim: that given, not below 3 deg."""
    return maximum(theta_given, 3)


@formula(symbol="theta_r", source=clause("running trim", Known.MEMORY_M))
def least_trim() -> Deg:
    """Running trim where none is given: the least."""
    return 3.0


@formula(symbol="L_1", source=clause("vertical acceleration", Known.MEMORY_M))
def loading_parameter(L_WL: M, B_C: M, m_LDC: Kg) -> Ratio:
    """Length times chine beam squared over displacement in tonnes, the waterline beam read as the chine's."""
    return L_WL * B_C**2 / (m_LDC / 1000)


@formula(symbol="Gamma", source=clause("vertical acceleration", Known.MEMORY_M))
def speed_length_ratio(V: Kn, L_WL: M) -> Ratio:
    """Speed in knots over the root of the waterline length in metres."""
    return V / L_WL**0.5


@formula(
    symbol="a_v",
    source=clause("vertical acceleration", Known.MEMORY_M, f"{_HELD}; {_SLOW}"),
    valid={"beta_04": Range(10, 30), "Gamma": Range(3)},
)
def acceleration(theta_r: Deg, L_1: Ratio, H_s: M, B_C: M, beta_04: Deg, Gamma: Ratio) -> G:
    """Vertical acceleration at the centre of gravity, mean of the highest hundredth."""
    return 0.0015 * theta_r * L_1 * (H_s / B_C + 0.084) * (5 - 0.1 * clip(beta_04, 10, 30)) * Gamma**2


@formula(symbol="G_S", source=clause("support girth", Known.MEMORY_L))
def support_girth(B_C: M, beta_04: Deg) -> M:
    """Girth of the bottom from chine to chine, flat from keel to chine."""
    return B_C / cos(beta_04 * pi / 180)


@formula(symbol="P", source=clause("impact pressure", Known.MEMORY_L))
def impact_pressure(m_LDC: Kg, a_v: G, L_WL: M, G_S: M) -> KPa:
    """Impact pressure on the bottom, its distribution along the length taken as 1 everywhere."""
    return 54 * (m_LDC / 1000) * (1 + a_v) / (L_WL * G_S)
