"""Formulas of bolts and of the block they are screwed into under a laminate. N, mm, MPa."""

from stringerlab.units import Count, Mm, MPa, N, NMm, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import maximum, minimum, pi, sqrt

_BEARING = Source(title="Machine design", clause="bolt bearing on its projected area", known=Known.MEMORY_H)
_THREAD = Source(
    title="Machine design",
    clause="stripping of a tapped thread: half of the cylinder round the bolt",
    known=Known.MEMORY_M,
)
_PUNCH = Source(
    title="Beam theory", clause="shear across a laminate, greatest in its middle", known=Known.MEMORY_H
)
_BOND = Source(title="Statics", clause="even shear, and bending over a rectangle", known=Known.MEMORY_H)
_OWN = Source(
    title="stringerlab", clause="allowed part of a block's bond, mean against mean", known=Known.STATED
)
_YIELD = Source(title="von Mises", clause="yield in shear", known=Known.MEMORY_H)
EDGES = Source(
    title="Common practice",
    clause="edge distance of bolts: 3 diameters in laminate, 2 in metal",
    known=Known.PRACTICE,
)


@formula(symbol="sigma_br", source=_BEARING)
def bolt_bearing(V_ft: N, n_bt: Count, d_bt: Mm, t_br: Mm) -> MPa:
    """Bearing stress of bolts that share a foot's shear force."""
    return V_ft / (n_bt * d_bt * t_br)


@formula(symbol="tau_so", source=_BEARING)
def shear_out(V_ft: N, n_bt: Count, e_bt: Mm, t_br: Mm) -> MPa:
    """Shear stress on the two planes along which a bolt tears out to the edge."""
    return V_ft / (2 * n_bt * e_bt * t_br)


@formula(symbol="tau_th", source=_THREAD)
def thread_shear(T_ft: N, n_bt: Count, d_bt: Mm, t_bk: Mm) -> MPa:
    """Shear stress in the block's threads."""
    return T_ft / (n_bt * pi * d_bt * t_bk / 2)


@formula(symbol="tau_pt", source=_PUNCH)
def washer_punch(T_ft: N, n_bt: Count, d_bt: Mm, t_br: Mm) -> MPa:
    """Greatest shear across a laminate round a washer of two bolt diameters."""
    return 1.5 * T_ft / (n_bt * pi * 2 * d_bt * t_br)


@formula(symbol="tau_pt", source=_PUNCH)
def block_punch(T_ft: N, l_bk: Mm, w_bk: Mm, t_em: Mm) -> MPa:
    """Greatest shear across the laminate over a block, round the block."""
    return 1.5 * T_ft / (2 * (l_bk + w_bk) * t_em)


@formula(symbol="tau_bk", source=_BOND)
def block_shear(V_ft: N, l_bk: Mm, w_bk: Mm, f_v: Ratio) -> MPa:
    """Mean shear stress of a block's bond, on one face, less its voids."""
    return V_ft / (l_bk * w_bk * (1 - f_v))


@formula(symbol="sigma_bk", source=_BOND)
def block_peel(T_b: N, M_ft: NMm, l_bk: Mm, w_bk: Mm, f_v: Ratio) -> MPa:
    """Greatest tension across a block's bond, at the edge that a moment about its long side lifts."""
    return (T_b / (l_bk * w_bk) + 6 * M_ft / (l_bk * w_bk**2)) / (1 - f_v)


@formula(
    symbol="T_b", source=Source(title="stringerlab", clause="pull on a block's bond", known=Known.STATED)
)
def pull_on_bond(T_ft: N, covered: Ratio) -> N:
    """Part of a foot's pull that a block's bond takes: none where a laminate covers the block."""
    return maximum(T_ft, 0) * (1 - covered)


@formula(symbol="tau_d", source=_YIELD)
def allowed_block_shear(n_A: Ratio, sigma_u: MPa) -> MPa:
    """Part of a metal's shear strength that is allowed."""
    return n_A * sigma_u / sqrt(3)


@formula(symbol="tau_b", source=_OWN)
def allowed_bond_shear(tau_a: MPa, f_J: Ratio, tau_il: MPa, f_f: Ratio, f_env: Ratio, f_a: Ratio) -> MPa:
    """Allowed mean shear of a block's bond: the lesser of the joint's and that between the plies."""
    return minimum(f_J * tau_a, tau_il) * f_f * f_env * f_a


@formula(symbol="sigma_3b", source=_OWN)
def allowed_bond_tension(tau_a: MPa, f_J: Ratio, sigma_3: MPa, f_f: Ratio, f_env: Ratio, f_a: Ratio) -> MPa:
    """Allowed tension of a block's bond: the lesser of the joint's, as its shear, and the laminate's."""
    return minimum(f_J * tau_a, sigma_3) * f_f * f_env * f_a


@formula(symbol="e_req", source=EDGES)
def edge_needed(k_e: Ratio, d_bt: Mm) -> Mm:
    """Least distance of a bolt's middle from the edge."""
    return k_e * d_bt
