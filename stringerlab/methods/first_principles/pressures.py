"""Pressures: acceleration at the chosen average, Allen and Jones, Heller and Jasper, a head of water."""

from stringerlab.methods.first_principles.source import own
from stringerlab.units import M2, Deg, G, Kg, KgPerM3, KPa, M, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import cos, minimum, pi

_ALLEN = "Allen and Jones, AIAA/SNAME Advanced Marine Vehicles Conference, 1978"
_HELLER = "Heller and Jasper, Quarterly Transactions RINA, 1960"
_STATICS = Source(title="Hydrostatics", known=Known.MEMORY_H)


def _allen(clause: str, known: Known = Known.MEMORY_M) -> Source:
    return Source(title=_ALLEN, clause=clause, known=known)


def _heller(clause: str) -> Source:
    return Source(title=_HELLER, clause=clause, known=Known.MEMORY_M)


@formula(symbol="A_D", source=own("a panel's area: that on which it is judged"))
def panel_area(b: M, l: M) -> M2:
    """Design area of a panel: its own, as far as its long edges reach 2.5 times its short ones."""
    return minimum(b * l, 2.5 * b**2)


@formula(symbol="A_D", source=own("a span's area: that on which it is judged"))
def span_area(s: M, l_u: M) -> M2:
    """Design area of a span: its own."""
    return s * l_u


@formula(symbol="A_R", source=_allen("impact reference area"))
def reference_area(m_LDC: Kg, T: M) -> M2:
    """Reference area: 25 Δ/T with long tons and feet."""
    return 25 * 0.3048**3 / 1016.0469088 * m_LDC / T


@formula(symbol="K_D", source=_allen("pressure reduction, our own fit through its two ends", Known.MEMORY_L))
def area_factor(A_D: M2, A_R: M2) -> Ratio:
    """Part of the greatest pressure that a whole area feels: 1 at no area, 0.14 at the reference area.

    The fit of other rules to the published curve tops out at 0.805; here it is stretched to 1.
    """
    q = (100 * minimum(A_D / A_R, 1)) ** 0.75
    return 0.5469 - 0.4531 * (q - 1.7) / (q + 1.7)


@formula(symbol="F_L", source=own("distribution along the length: the greatest everywhere"))
def length_factor() -> Ratio:
    """Longitudinal pressure distribution: the published curve is not known here for sure."""
    return 1.0


@formula(symbol="P", source=_allen("design pressure"))
def impact_pressure(n_N: G, m_LDC: Kg, A_R: M2, K_D: Ratio, F_L: Ratio) -> KPa:
    """Impact pressure over an area."""
    return 0.00980665 * n_N * m_LDC / (0.14 * A_R) * K_D * F_L


@formula(symbol="G_H", source=_heller("half girth"))
def half_girth(B_C: M, beta_04: Deg) -> M:
    """Girth of one side of the bottom, keel to chine."""
    return B_C / (2 * cos(beta_04 * pi / 180))


@formula(symbol="P", source=_heller("effective pressure"))
def effective_pressure(m_LDC: Kg, n_N: G, L_WL: M, G_H: M) -> KPa:
    """Greatest effective pressure of the bottom, whatever the area."""
    return 3 * 0.00980665 * m_LDC * (1 + n_N) / (L_WL * G_H)


@formula(symbol="P", source=_STATICS)
def static_pressure(h_B: M, rho_w: KgPerM3) -> KPa:
    """Pressure of a head of water at rest."""
    return 0.00980665 * rho_w * h_B


@formula(symbol="P", source=own("a tank's head of water, heavier by the acceleration"))
def tank_pressure(h_B: M, rho_w: KgPerM3, n_N: G) -> KPa:
    """Pressure of a head of water as the boat lands."""
    return 0.00980665 * rho_w * h_B * (1 + n_N)
