"""Buckling loads of long orthotropic plates in closed form. N, mm; loads and D are per width (D: N·mm²/mm).

x runs along the load and the plate's length L_p, y across its width b_p; D_11 bends it along x. The plate is
flat and specially orthotropic (D_16 = D_26 = 0, B = 0, or the reduced D* in place of D). Isotropic limits,
as k in k π² D/b²: 4.00, one edge free 0.425, shear 5.34. ``strip`` solves the same plates by Rayleigh–Ritz.
"""

from stringerlab.units import Mm, NMm2PerMm, NPerMm, Range, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import maximum, minimum, pi, sqrt, where

_QUOTED = Source(title="Orthotropic plates", clause="long, simply supported, compression", known=Known.QUOTED)
_FREE = Source(title="Orthotropic plates", clause="one edge free, compression", known=Known.MEMORY_H)
_SHEAR = Source(title="Orthotropic plates", clause="long, simply supported, shear", known=Known.MEMORY_H)
_TIMOSHENKO = "Timoshenko & Gere, Theory of Elastic Stability"
_OWN = Source(
    title="stringerlab",
    clause="fit to its own Ritz solution of the strip",
    known=Known.COMPUTED,
    note="within 1.4 % of the Ritz solution, hinged to clamped, twisting stiffness to 2.3 of the mean",
)
_BEND = Source(title=_TIMOSHENKO, clause="bending in the plane", known=Known.MEMORY_M)
_INTERACTION = Source(title="Orthotropic plates", clause="interaction of loads", known=Known.MEMORY_M)
_STIFF = Range(0, above=True)
_D = {"D_11": _STIFF, "D_22": _STIFF, "D_66": _STIFF, "b_p": _STIFF}


@formula(symbol="N_x_cr", source=_QUOTED, valid=_D)
def compression(D_11: NMm2PerMm, D_22: NMm2PerMm, D_12: NMm2PerMm, D_66: NMm2PerMm, b_p: Mm) -> NPerMm:
    """Buckling load in compression, long sides simply supported."""
    return 2 * pi**2 / b_p**2 * (sqrt(D_11 * D_22) + D_12 + 2 * D_66)


@formula(symbol="N_x_cr", source=_FREE, valid={"D_66": _STIFF, "b_p": _STIFF, "L_p": _STIFF})
def compression_one_free(D_11: NMm2PerMm, D_66: NMm2PerMm, b_p: Mm, L_p: Mm) -> NPerMm:
    """Buckling load in compression, one long side simply supported, the other free."""
    return 12 * D_66 / b_p**2 + pi**2 * D_11 / L_p**2


@formula(symbol="K_s", source=_SHEAR, valid={"D_11": _STIFF, "D_22": _STIFF, "D_66": _STIFF})
def shear_ratio(D_11: NMm2PerMm, D_22: NMm2PerMm, D_12: NMm2PerMm, D_66: NMm2PerMm) -> Ratio:
    """Twisting stiffness of a plate over the mean of its bending stiffnesses."""
    return (D_12 + 2 * D_66) / sqrt(D_11 * D_22)


@formula(symbol="N_s_1", source=_SHEAR, valid={"K_s": Range(0, 1)})
def shear_stiff(D_11: NMm2PerMm, D_22: NMm2PerMm, K_s: Ratio, b_p: Mm) -> NPerMm:
    """Buckling load in shear where K_s is at most 1."""
    return 4 / b_p**2 * sqrt(sqrt(D_11 * D_22**3)) * (8.125 + 5.045 * K_s)


@formula(symbol="N_s_2", source=_SHEAR, valid={"K_s": Range(1)})
def shear_twisty(D_22: NMm2PerMm, D_12: NMm2PerMm, D_66: NMm2PerMm, K_s: Ratio, b_p: Mm) -> NPerMm:
    """Buckling load in shear where K_s is above 1."""
    return 4 / b_p**2 * sqrt(D_22 * (D_12 + 2 * D_66)) * (11.71 + 1.46 / K_s**2)


@formula(symbol="N_xy_cr", source=_SHEAR)
def shear_of(K_s: Ratio, N_s_1: NPerMm, N_s_2: NPerMm) -> NPerMm:
    """Buckling load in shear, long sides simply supported."""
    return where(K_s <= 1, N_s_1, N_s_2)


@formula(symbol="xi_r", source=_OWN, valid={"k_theta": Range(0)})
def restraint(D_22: NMm2PerMm, b_p: Mm, k_theta: NPerMm) -> Ratio:
    """Restraint of both long sides by rotational springs: 0 hinged, 1 clamped."""
    return k_theta * b_p / (k_theta * b_p + 10 * D_22)


@formula(symbol="N_x_cr", source=_OWN, valid={**_D, "xi_r": Range(0, 1)})
def compression_restrained(
    D_11: NMm2PerMm, D_22: NMm2PerMm, D_12: NMm2PerMm, D_66: NMm2PerMm, b_p: Mm, xi_r: Ratio
) -> NPerMm:
    """Buckling load in compression, both long sides elastically held against turning."""
    return (
        pi**2
        / b_p**2
        * (2 * sqrt(D_11 * D_22 * (1 + 4.139 * xi_r)) + (2 + 0.44 * xi_r**2) * (D_12 + 2 * D_66))
    )


@formula(symbol="N_b_cr", source=_BEND, valid=_D)
def bending(D_11: NMm2PerMm, D_22: NMm2PerMm, D_12: NMm2PerMm, D_66: NMm2PerMm, b_p: Mm) -> NPerMm:
    """Greatest edge load at which a web buckles in bending in its plane, long sides simply supported."""
    return pi**2 / b_p**2 * (13.4 * sqrt(D_11 * D_22) + 10.4 * (D_12 + 2 * D_66))


@formula(symbol="N_b_cr", source=_OWN, valid={**_D, "xi_r": Range(0, 1)})
def bending_restrained(
    N_b_h: NPerMm,
    D_11: NMm2PerMm,
    D_22: NMm2PerMm,
    D_12: NMm2PerMm,
    D_66: NMm2PerMm,
    b_p: Mm,
    xi_r: Ratio,
) -> NPerMm:
    """Greatest edge load at which a web buckles in bending, both long sides held against turning."""
    N_b_c = pi**2 / b_p**2 * (26.7 * sqrt(D_11 * D_22) + 12.6 * (D_12 + 2 * D_66))
    return N_b_h + (xi_r + xi_r**2) / 2 * maximum(N_b_c - N_b_h, 0.0)


@formula(symbol="N_xy_cr", source=_OWN, valid={"xi_r": Range(0, 1)})
def shear_restrained(
    N_xy_h: NPerMm, D_11: NMm2PerMm, D_22: NMm2PerMm, K_s: Ratio, b_p: Mm, xi_r: Ratio
) -> NPerMm:
    """Buckling load in shear, both long sides elastically held against turning."""
    K = minimum(K_s, 2.3)
    N_xy_c = 4 / b_p**2 * sqrt(sqrt(D_11 * D_22**3)) * (14.85 + 7.9 * K - 0.65 * K**2)
    return N_xy_h + xi_r * maximum(N_xy_c - N_xy_h, 0.0)


@formula(symbol="R_cr", source=_INTERACTION)
def interaction(R_c: Ratio, R_b: Ratio, R_s: Ratio) -> Ratio:
    """Part used of the buckling load under compression, bending and shear at once.

    The multiple λ of all three solves λ R_c + λ² (R_b² + R_s²) = 1; the part used is 1/λ, so that it grows
    with the load. Tension (R_c below 0) relieves.
    """
    c = maximum(R_c, -1.0)
    return (c + sqrt(c**2 + 4 * (R_b**2 + R_s**2))) / 2
