"""Vertical accelerations of planing hulls in waves after Savitsky and Brown: a yardstick, no method.

Means of all impact accelerations; ``highest_average`` goes on to the rarer ones. Clause units: ft, kn, deg,
g, and long tons within the displacement over length cubed.
"""

from dataclasses import dataclass
from typing import Annotated

from stringerlab.units import Deg, G, Kg, KgPerM3, Kn, Range, Ratio, unit_named
from stringerlab.workings import Array, Known, Source, formula
from stringerlab.workings.maths import log

Ft = Annotated[float, unit_named("ft")]
SEA_WATER = 1025.9
"""kg/m³, of 15 °C."""
_PAPER = "Savitsky and Brown, Marine Technology 13(4), 1976"
_QUOTED = Source(title=_PAPER, clause="accelerations in irregular waves", known=Known.QUOTED)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Accelerations:
    """Mean vertical accelerations [g]."""

    n_cg: Array
    n_bow: Array


def mean_accelerations(
    *,
    m_LDC: float,
    L_WL: float,
    B_C: float,
    beta: float,
    H_s: float,
    V: float,
    theta_r: float,
    rho_w: float = SEA_WATER,
) -> Accelerations:
    """Return the mean accelerations of a planing hull in head seas.

    Run inside ``workings()``, inputs outside the stated ranges are known by each step.

    Parameters
    ----------
    m_LDC, L_WL, B_C, beta, H_s, V, theta_r
        Mass [kg], waterline length and beam [mm], deadrise [rad], significant wave height [mm], speed [m/s],
        running trim [rad].
    rho_w
        Density of the water [kg/m³].
    """
    l_b = slenderness(L_WL=L_WL, B_C=B_C)
    v_l = speed_length_ratio(V=V, L_WL=L_WL)
    C_Delta = beam_loading(D_L=displacement_length(m_LDC=m_LDC, L_WL=L_WL), l_b=l_b, rho_w=rho_w)
    n_cg = mean_acceleration(
        h_b=relative_wave_height(H_s=H_s, B_C=B_C),
        theta_r=theta_r,
        beta=beta,
        v_l=v_l,
        l_b=l_b,
        C_Delta=C_Delta,
    )
    return Accelerations(n_cg=n_cg, n_bow=bow_acceleration(n_cg=n_cg, l_b=l_b, v_l=v_l))


@formula(symbol="l_b", source=_QUOTED)
def slenderness(L_WL: Ft, B_C: Ft) -> Ratio:
    """Length over beam."""
    return L_WL / B_C


@formula(symbol="h_b", source=_QUOTED)
def relative_wave_height(H_s: Ft, B_C: Ft) -> Ratio:
    """Significant wave height over beam."""
    return H_s / B_C


@formula(symbol="v_l", source=_QUOTED)
def speed_length_ratio(V: Kn, L_WL: Ft) -> Ratio:
    """Speed over the root of the length."""
    return V / L_WL**0.5


@formula(symbol="D_L", source=_QUOTED)
def displacement_length(m_LDC: Kg, L_WL: Ft) -> Ratio:
    """Displacement in long tons over the cube of a hundredth of the length in feet."""
    return m_LDC / 1016.0469088 / (0.01 * L_WL) ** 3


@formula(symbol="C_Delta", source=_QUOTED, valid={"D_L": Range(100, 250)})
def beam_loading(D_L: Ratio, l_b: Ratio, rho_w: KgPerM3) -> Ratio:
    """Beam loading, displaced volume over the beam cubed, from the displacement over length cubed."""
    return 1016.0469088e-6 / 0.3048**3 * D_L * l_b**3 / rho_w


@formula(
    symbol="n_cg",
    source=_QUOTED,
    valid={
        "h_b": Range(0.2, 0.7),
        "theta_r": Range(3, 7),
        "beta": Range(10, 30),
        "v_l": Range(2, 6),
        "l_b": Range(3, 5),
    },
)
def mean_acceleration(h_b: Ratio, theta_r: Deg, beta: Deg, v_l: Ratio, l_b: Ratio, C_Delta: Ratio) -> G:
    """Mean vertical acceleration at the centre of gravity."""
    return 0.0104 * (h_b + 0.084) * (theta_r / 4) * (5 / 3 - beta / 30) * v_l**2 * l_b / C_Delta


@formula(symbol="n_bow", source=_QUOTED)
def bow_acceleration(n_cg: G, l_b: Ratio, v_l: Ratio) -> G:
    """Mean vertical acceleration at the bow."""
    return n_cg * (1 + 3.8 * (l_b - 2.25) / v_l)


@formula(
    symbol="n_N",
    source=Source(title=_PAPER, clause="exponential distribution", known=Known.MEMORY_H),
    valid={"N": Range(1)},
)
def highest_average(n_mean: G, N: Ratio) -> G:
    """Average of the highest 1/N of accelerations."""
    return n_mean * (1 + log(N))
