"""Holes in webs, cut crowns, ends on bare skin and outboards on a transom: single beams, tees and plates.

N, mm, MPa; x from the aft end of a span under a uniform load, moments with the crown in tension positive,
heights from the shell inboard. Closed forms of textbooks, each of what it supposes; never a notch's own peak.
"""

from collections.abc import Iterable
from functools import lru_cache

import numpy as np

from stringerlab.geometry.chords import Points
from stringerlab.laminate import (
    axial_moduli,
    engineering_constants,
    ply_thicknesses,
    reinforced,
    thickness,
    uniaxial_strengths,
)
from stringerlab.laminate.records import Moduli, Role, Stack
from stringerlab.section.contact import in_shell_axes
from stringerlab.section.records import Wall, WallShape
from stringerlab.units import Mm, Mm2, Mm3, MPa, N, NMm, NMm2, NPerMm, Range, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import absolute, log, pi, sqrt, where

_BEAM = Source("Single-span beams under a uniform load", "equilibrium along the span", Known.MEMORY_H)
_TEE = Source(
    "Vierendeel action at an opening in a web", "points of no moment at mid-opening", Known.MEMORY_H
)
_BENDING = Source("Beam theory", "bending of a layered section", Known.MEMORY_H)
_EQUILIBRIUM = Source("stringerlab", "equilibrium of forces", Known.STATED)
_KNEE = Source("Rigid frames", "a knee's corner panel between two flanges' forces", Known.MEMORY_H)
_PLATE = Source(
    "Roark's Formulas for Stress and Strain, 7th ed.",
    "Table 11.4, case 8b: clamped plate, load on a small circle",
    Known.MEMORY_H,
    "the load's circle is no longer small beside the plate",
)
BETA_1, BETA_2 = 0.067, 1.008
"""Roark's factors of a long plate: the stress under the load, and at the middle of the long edges."""
NU = 0.3
"""Poisson's ratio of those factors."""
_KEPT = 256
_LEVEL = 0.5
"""Points within this of the highest are level with it [mm]."""

AlongMember = tuple[float, float, float, Known]
"""Modulus, strength in tension, in compression [MPa], and the weakest mark of all."""

# -- along the span ------------------------------------------------------------------------------


@formula(symbol="V_x", source=_BEAM)
def shear_along(f_V: Ratio, p_l: NPerMm, l_u: Mm, x_s: Mm) -> N:
    """Shear force at a place along the span, positive where the part aft of it pushes up."""
    return p_l * (f_V * l_u - x_s)


@formula(symbol="M_x", source=_BEAM)
def moment_along(f_V: Ratio, f_A: Ratio, p_l: NPerMm, l_u: Mm, x_s: Mm) -> NMm:
    """Moment at a place along the span: the crown in tension positive."""
    return p_l * (f_A * l_u**2 + f_V * l_u * x_s - x_s**2 / 2)


# -- holes ---------------------------------------------------------------------------------------


@formula(symbol="A_net", source=_EQUILIBRIUM)
def net_web_area(A_W: Mm2, h_o: Mm, h_W: Mm) -> Mm2:
    """Shear area that a hole through every web leaves."""
    return A_W * (1 - h_o / h_W)


@formula(symbol="tau_n", source=_EQUILIBRIUM)
def net_shear(V_x: N, A_net: Mm2) -> MPa:
    """Mean shear stress over the web left at a hole."""
    return absolute(V_x) / A_net


@formula(symbol="V_tee", source=_TEE)
def tee_shear(V_x: N, d_a: Mm, d_b: Mm) -> N:
    """Shear force of the tee above a hole: its web's part of all the web left, plating counted for none."""
    return absolute(V_x) * d_a / (d_a + d_b)


@formula(symbol="M_tee", source=_TEE)
def tee_moment(V_tee: N, w_o: Mm) -> NMm:
    """Secondary moment of the tee at either side of a hole: V·w/4 where half of all the shear is its own."""
    return V_tee * w_o / 2


@formula(symbol="Z_tee", source=_BENDING)
def tee_modulus(t_W: Mm, d_a: Mm, b_c: Mm, t_cr: Mm) -> Mm3:
    """Section modulus at the hole's edge of the webs above it with the crown, as of one material."""
    A_w = t_W * d_a
    A_c = b_c * t_cr
    e = (A_w * d_a / 2 + A_c * (d_a + t_cr / 2)) / (A_w + A_c)
    I_w = A_w * d_a**2 / 12 + A_w * (e - d_a / 2) ** 2
    I_c = A_c * t_cr**2 / 12 + A_c * (d_a + t_cr / 2 - e) ** 2
    return (I_w + I_c) / e


@formula(symbol="sigma_o", source=_BENDING)
def edge_stress(M_x: NMm, E_W: MPa, z_o: Mm, EI: NMm2, M_tee: NMm, Z_tee: Mm3) -> MPa:
    """Greatest stress along the member at the hole's upper edge: the span's own bending and the tee's."""
    return absolute(M_x) * E_W * absolute(z_o) / EI + M_tee / Z_tee


@formula(symbol="r_h", source=Source("Workshop practice", "openings in webs", Known.PRACTICE))
def hole_height_ratio(h_o: Mm, h_W: Mm) -> Ratio:
    """Height of a hole over that of the web."""
    return h_o / h_W


@formula(symbol="r_e", source=Source("Workshop practice", "openings in webs", Known.PRACTICE))
def hole_edge_ratio(h_o: Mm, e_o: Mm) -> Ratio:
    """Height of a hole over the distance from its side to the span's end or to the next hole."""
    return h_o / e_o


# -- ends ----------------------------------------------------------------------------------------


@formula(symbol="s_t", source=Source("Workshop practice", "tapered ends of stiffeners", Known.PRACTICE))
def taper_slope(h_W: Mm, h_e: Mm, l_t: Mm) -> Ratio:
    """Fall of the crown over the length of its taper."""
    return (h_W - h_e) / l_t


@formula(symbol="r_o", source=_EQUILIBRIUM)
def patch_radius(b_base: Mm, l_p: Mm) -> Mm:
    """Radius of the circle as large as the patch of skin that an end stands on."""
    return sqrt(b_base * l_p / pi)


@formula(symbol="r_p", source=_PLATE)
def equivalent_radius(r_o: Mm, t: Mm) -> Mm:
    """Radius to reckon a patch's bending with, that of a small one allowing for the plate's thickness."""
    return where(r_o < t / 2, sqrt(1.6 * r_o**2 + t**2) - 0.675 * t, r_o)


@formula(symbol="sigma_p", source=_PLATE, valid={"r_p_b": Range(0, 0.25)})
def patch_stress(R_e: N, t: Mm, r_p_b: Ratio, beta_1: Ratio, beta_2: Ratio) -> MPa:
    """Greatest bending stress of a clamped plate under a patch: under it, or at the long edges."""
    sigma_m = 3 * R_e / (2 * pi * t**2) * (1.3 * log(2 / (pi * r_p_b)) + beta_1)
    sigma_s = beta_2 * R_e / t**2
    return where(sigma_m > sigma_s, sigma_m, sigma_s)


@formula(symbol="r_p_b", source=_PLATE)
def patch_ratio(r_p: Mm, b: Mm) -> Ratio:
    """Radius of the patch over the plate's short side."""
    return r_p / b


# -- crossings -----------------------------------------------------------------------------------


@formula(symbol="C_k", source=_EQUILIBRIUM)
def kick(M_x: NMm, h_c: Mm) -> N:
    """Force of a crown cut at a crossing: its moment over the arm from the crown to the plating."""
    return absolute(M_x) / h_c


@formula(symbol="sigma_k", source=_BENDING)
def web_push(C_k: N, a_k: Mm, h_x: Mm, b_k: Mm, t_k: Mm) -> MPa:
    """Bending stress of an unbacked web, a strip from shell to crown, pushed at a height by a cut crown.

    The strip is as wide as the crown with what spreads at 45° on both sides.
    """
    M_k = C_k * a_k * (h_x - a_k) / h_x
    b_s = b_k + 2 * where(a_k < h_x - a_k, a_k, h_x - a_k)
    return 6 * M_k / (b_s * t_k**2)


@formula(symbol="tau_t", source=_EQUILIBRIUM)
def tab_shear(C_k: N, t_t: Mm, l_bond: Mm) -> MPa:
    """Shear stress in the two tabs that take a cut crown's force on."""
    return C_k / (2 * t_t * l_bond)


@formula(symbol="sigma_b_d", source=_EQUILIBRIUM)
def diaphragm_bearing(C_k: N, t_t: Mm, l_bond: Mm) -> MPa:
    """Direct stress in the diaphragm that takes a cut crown's force on."""
    return C_k / (t_t * l_bond)


# -- transom -------------------------------------------------------------------------------------


@formula(symbol="M_tr", source=_EQUILIBRIUM)
def transom_moment(f_s: Ratio, T_o: N, e_T: Mm, n_W: Ratio, W_o: N, e_W: Mm) -> NMm:
    """Moment that outboards put on a section at the transom: thrust below it and weight behind it add."""
    return f_s * (T_o * e_T + n_W * W_o * e_W)


@formula(symbol="V_tr", source=_EQUILIBRIUM)
def transom_shear(f_s: Ratio, n_W: Ratio, W_o: N) -> N:
    """Shear force that outboards put on a section at the transom."""
    return f_s * n_W * W_o


@formula(symbol="N_tr", source=_EQUILIBRIUM)
def transom_push(f_s: Ratio, T_o: N) -> N:
    """Force along the member that outboards put on it at the transom: compression."""
    return f_s * T_o


@formula(symbol="sigma_i", source=_BENDING)
def fibre_stress(E: MPa, M_tr: NMm, z: Mm, EI: NMm2, N_tr: N, EA: N) -> MPa:
    """Stress of a fibre under moment and push, by its size."""
    return E * absolute(M_tr * z / EI - N_tr / EA)


@formula(symbol="M_s", source=_BEAM)
def simple_moment(P: MPa, s: Mm, l_u: Mm) -> NMm:
    """Moment of the span as if its ends were simple: what a knee at an opening turns round the corner."""
    return P * s * l_u**2 / 8


@formula(symbol="sigma", source=_BENDING)
def bending_stress(M_s: NMm, E: MPa, z: Mm, EI: NMm2) -> MPa:
    """Stress of a fibre under a moment, by its size."""
    return M_s * E * absolute(z) / EI


@formula(symbol="sigma_h", source=_KNEE)
def throat_stress(M_s: NMm, h_t: Mm, b_c: Mm, t_cr: Mm, t_W: Mm) -> MPa:
    """Stress of the crown at a knee's throat: its force there by the crown with a sixth of the webs."""
    return M_s / (h_t * (b_c * t_cr + t_W * h_t / 6))


@formula(symbol="tau_h", source=_KNEE)
def corner_shear(M_s: NMm, h_t: Mm, t_W: Mm) -> MPa:
    """Shear stress of the webs in a knee's corner, as deep both ways: there the crown's force turns."""
    return M_s / (h_t**2 * t_W)


# -- what the section gives ----------------------------------------------------------------------


def crown_height(walls: Iterable[Wall | WallShape], deadrise: float = 0.0) -> float:
    """Return the height above the shell's face of the middle of what is drawn highest, 0 without any [mm].

    A level crown over a sloping shell has a longer web and a shorter one: this is their mean.

    Parameters
    ----------
    walls
        Its walls.
    deadrise
        Slope of the shell it is drawn on [rad].
    """
    points: Points = np.array([complex(*point) for wall in walls for point in wall.points], np.complex128)
    if not len(points):
        return 0.0
    highest = points[points.imag >= points.imag.max() - _LEVEL]
    return float(in_shell_axes(highest, deadrise).imag.mean())


@lru_cache(_KEPT)
def along_member(stack: Stack) -> AlongMember:
    """Return what a laminate is worth along x as one, over the thickness of its reinforced plies.

    After the modulus the mean stresses [MPa] in tension and in compression at which, as a strip, its first
    ply fails; nan where a ply lacks a strength.
    """
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies])
    plies = reinforced(stack)
    if not plies:
        return np.nan, np.nan, np.nan, Known.ESTIMATE
    E = engineering_constants(stack).Ex * thickness(stack) / float(ply_thicknesses(stack)[counted].sum())
    own, strengths = axial_moduli(stack, Moduli.CONTRACTED)[counted], uniaxial_strengths(stack)
    with np.errstate(divide="ignore"):
        tension, compression = (
            E * float(np.min(each[counted] / own)) for each in (strengths.tension, strengths.compression)
        )
    return E, tension, compression, Known.ranked(int(strengths.marks[counted].max()))
