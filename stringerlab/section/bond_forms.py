"""Formulas of the bond of part to hull: shear and its peak in a flange's bead, peel at its root and toe.

N, mm. A flange lies on the hull with a bead between, or laminated on it. Across the member it is a beam on
the bead as on an elastic foundation; along the member the bead takes the shear flow, most of it beside the
web root.
"""

from stringerlab.units import GPerM2, Mm, Mm2, MPa, N, NMm, NMm2, NMm2PerMm, NMmPerMm, NPerMm, Range, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import absolute, cos, exp, maximum, minimum, pi, sin, sqrt, tanh, where

ADHESIVE_POISSON = 0.4
"""Of any adhesive: our own assumption; 0.33 to 0.45 are usual."""
_BEAM = Source(title="Beam theory", clause="shear flow", known=Known.MEMORY_H)
_LAG = Source(title="Shear lag of a lap (Volkersen)", clause="peak over mean", known=Known.MEMORY_H)
_FOUNDATION = Source(
    title="Beam on an elastic foundation (Hetényi)",
    clause="finite beam, load at an end",
    known=Known.MEMORY_H,
)
_FOOT = Source(
    title="Beam on an elastic foundation (Hetényi)",
    clause="its end moved and turned as one with a foot",
    known=Known.COMPUTED,
)
_TOE = Source(title="stringerlab", clause="two beams on one bead, a moment at the toe", known=Known.COMPUTED)
_SLIP = Source(
    title="Beams whose parts slip on one another (Newmark)",
    clause="a joint that stops where the moment is not zero",
    known=Known.MEMORY_H,
)
_PATCH = Source(title="Plate theory", clause="moment of an outer fibre's stress", known=Known.MEMORY_H)
_PANEL_SIDE = Source(title="stringerlab", clause="panel beside a member", known=Known.STATED)
_PANEL = Source(title="Plate strip held at both edges", clause="edge moment", known=Known.MEMORY_H)
_SHARED = Source(
    title="Moment distribution",
    clause="a beam in torsion between two panels held at their far edges",
    known=Known.MEMORY_H,
)
_STATICS = Source(title="Statics", clause="couple of two bond lines", known=Known.MEMORY_H)
_OWN = Source(title="stringerlab", clause="allowed part of a bond's strength", known=Known.STATED)
_LAYING = Source(title="stringerlab", clause="adhesive laid for a gap", known=Known.STATED)
OVERLAP = Source(
    title="Overlap rule of a class society",
    clause="secondary bonds: 38 mm to 3 600 g/m² and 6.5 mm per further unit",
    known=Known.READ,
    note="the weight of a further unit is not known here: 300 g/m² is taken, a cautious reading",
)
COUPON = Source(
    title="Shear lag of a lap (Volkersen)",
    clause="the coupon: a lap of fibreglass as in ASTM D5868",
    known=Known.MEMORY_M,
    note="25.4 mm long on 0.76 mm of adhesive; laminates of 2.5 mm at 12 GPa",
)
COUPON_LAP, COUPON_BEAD, COUPON_STIFFNESS = 25.4, 0.76, 30_000.0
"""Of that coupon: length of its lap, its adhesive's thickness [mm], stiffness of each laminate [N/mm]."""
FURTHER_UNIT = 300.0
"""Dry weight that asks for another 6.5 mm of overlap [g/m²]: our reading, the small side."""


# -- shear -------------------------------------------------------------------------------------------


@formula(symbol="q_b", source=_BEAM)
def shear_flow(V_e: N, ES_b: NMm, EI: NMm2) -> NPerMm:
    """Shear flow across all bond lines together."""
    return absolute(V_e * ES_b) / EI


@formula(symbol="tau_m", source=_BEAM)
def mean_shear(q_b: NPerMm, f_q: Ratio, w_b: Mm, f_v: Ratio) -> MPa:
    """Mean shear stress in a flange's bead, less its voids."""
    return q_b * f_q / (w_b * (1 - f_v))


@formula(symbol="G_a", source=Source(title="Isotropic elasticity", known=Known.MEMORY_H))
def shear_modulus(E_a: MPa, nu_a: Ratio) -> MPa:
    """Shear modulus of the adhesive."""
    return E_a / (2 * (1 + nu_a))


@formula(symbol="lambda_s", source=_LAG)
def lap_number(w_b: Mm, G_a: MPa, t_a: Mm, S_1: NPerMm, S_2: NPerMm) -> Ratio:
    """Width of a lap over the length along which its shear decays."""
    return w_b * sqrt(G_a / t_a * (1 / S_1 + 1 / S_2))


@formula(symbol="k_p", source=_LAG, valid={"lambda_s": Range(0, above=True)})
def peak_factor(lambda_s: Ratio, S_1: NPerMm, S_2: NPerMm, f_in: Ratio, f_out: Ratio) -> Ratio:
    """Peak over mean of the shear in a lap: beside the web root or at the toe, the greater.

    ``f_in`` of the hull's flow comes from the root's side, ``f_out`` from the toe's; the hull under the
    flange picks up the rest. A lap pulled at its two ends has 0 and 1.
    """
    x = lambda_s / 2
    a_1 = (1 / S_1 + f_in / S_2) / (1 / S_1 + 1 / S_2)
    a_2 = f_out / S_2 / (1 / S_1 + 1 / S_2)
    return 1 - a_1 - a_2 + (a_1 + a_2) * x / tanh(x) + absolute(a_1 - a_2) * x * tanh(x)


@formula(symbol="k_J", source=COUPON)
def coupon_peak(w_J: Mm, t_J: Mm, S_J: NPerMm, G_a: MPa) -> Ratio:
    """Peak over mean of the shear in the lap that a joint's strength was measured on, a mean."""
    x = w_J / 2 * sqrt(2 * G_a / (t_J * S_J))
    return x / tanh(x)


@formula(symbol="tau_p", source=_LAG)
def peak_shear(k_p: Ratio, tau_m: MPa) -> MPa:
    """Greatest shear stress in a flange's bead, beside the web root."""
    return k_p * tau_m


# -- what is allowed ---------------------------------------------------------------------------------


@formula(symbol="tau_b", source=_OWN)
def allowed_shear(
    tau_a: MPa, f_J: Ratio, k_J: Ratio, tau_il: MPa, f_f: Ratio, f_env: Ratio, f_a: Ratio
) -> MPa:
    """Allowed peak shear of a bead: the lesser of the joint's and the laminates' between their plies.

    A joint's strength is the mean over its coupon, whose own peak is so many times as high.
    """
    return minimum(k_J * f_J * tau_a, tau_il) * f_f * f_env * f_a


@formula(symbol="sigma_3b", source=_OWN)
def allowed_peel(tau_a: MPa, f_J: Ratio, sigma_3: MPa, f_f: Ratio, f_env: Ratio, f_a: Ratio) -> MPa:
    """Allowed peel: the lesser of the joint's and the laminates'; the joint's tension as its shear."""
    return minimum(f_J * tau_a, sigma_3) * f_f * f_env * f_a


@formula(symbol="sigma_3b", source=_OWN)
def allowed_through(sigma_3: MPa, f_f: Ratio, f_env: Ratio, f_a: Ratio) -> MPa:
    """Allowed tension of a laminate across its plies."""
    return sigma_3 * f_f * f_env * f_a


@formula(symbol="tau_b", source=_OWN)
def allowed_between(tau_il: MPa, f_f: Ratio, f_env: Ratio, f_a: Ratio) -> MPa:
    """Allowed shear of a lap laminated in place: the laminates' between their plies."""
    return tau_il * f_f * f_env * f_a


# -- peel --------------------------------------------------------------------------------------------


@formula(symbol="b", source=_PANEL_SIDE)
def panel_side(s: Mm, b_base: Mm, l_u: Mm) -> Mm:
    """Short side of the panel beside the member, web root to web root of members alike."""
    return minimum(maximum(s - b_base, 0), l_u)


@formula(symbol="m_p", source=_PANEL)
def panel_moment(P: MPa, b: Mm) -> NMmPerMm:
    """Edge moment of the panel beside the member."""
    return P * b**2 / 12


@formula(symbol="m_u", source=_SHARED)
def unbalanced_moment(m_p: NMmPerMm, GJ: NMm2, D_2: NMm2PerMm, b: Mm, l_u: Mm) -> NMmPerMm:
    """Part of that moment which the member takes by its torsion, the next panel being unloaded."""
    return m_p / (1 + 8 * D_2 * l_u**2 / (pi**2 * GJ * b))


@formula(symbol="q_p", source=_STATICS)
def couple_pull(m_u: NMmPerMm, a_b: Mm) -> NPerMm:
    """Pull on a bond line from the moment that the member takes."""
    return m_u / a_b


@formula(symbol="e_b", source=_LAYING)
def throat(e_r: Mm, R_o: Mm, c_a: Mm) -> Mm:
    """From the web root to the bond, which fills the throat of the bend up to the gap it is laid for."""
    return maximum(e_r - sqrt(2 * R_o * c_a), 0)


@formula(symbol="q_p", source=_STATICS)
def rebound_pull(f_R: Ratio, P: MPa, s: Mm, n_b: Ratio) -> NPerMm:
    """Pull on a bond line from the hull drawn away after a slam, shared by so many lines."""
    return f_R * P * s / n_b


@formula(symbol="lambda_L", source=_FOUNDATION)
def foundation_number(
    w_b: Mm, t_a: Mm, E_a: MPa, nu_a: Ratio, t_1: Mm, t_2: Mm, E_3: MPa, D_1: NMm2PerMm
) -> Ratio:
    """Width of a flange over the length along which it lifts off its bead.

    The bead gives by plane strain, each laminate by half of its thickness.
    """
    c = t_a * (1 - nu_a**2) / E_a + (t_1 + t_2) / (2 * E_3)
    return w_b * (1 / (4 * c * D_1)) ** 0.25


@formula(symbol="sigma_q", source=_FOUNDATION, valid={"lambda_L": Range(0.05, 100)})
def root_peel(q_p: NPerMm, w_b: Mm, f_v: Ratio, e_b: Mm, lambda_L: Ratio) -> MPa:
    """Peel stress at a flange's inner edge from a pull at the web root, the root free to turn."""
    u = 2 * lambda_L
    h = (exp(u) + exp(-u)) / 2
    j = (exp(u) - exp(-u)) / 2
    d = h + cos(u) - 2
    x = u * (j - sin(u)) / d + e_b / w_b * u**2 / 2 * (h - cos(u)) / d
    return q_p / (w_b * (1 - f_v)) * x


@formula(symbol="sigma_q", source=_FOOT, valid={"lambda_L": Range(0.05, 100)})
def foot_peel(m_u: NMmPerMm, f_u: Ratio, b_base: Mm, e_b: Mm, w_b: Mm, f_v: Ratio, lambda_L: Ratio) -> MPa:
    """Peel stress under a flange of a single foot that a moment turns on the hull, both flanges held by it.

    A long flange bends as on its foundation, a short one turns as a rigid strip: the greater.
    """
    g = lambda_L * e_b / w_b
    r = lambda_L * b_base / (2 * w_b)
    a_1 = r * (1 + g) ** 2 + g + g**2 + g**3 / 3
    a_2 = 1 + g - g**3 / 3 + r * (1 - g**2)
    u = where(a_2 > a_1, (a_2 - a_1) / (a_1 + a_2), 0)
    x = where(a_2 > a_1, exp(-pi / 4 * u) * sqrt((a_1**2 + a_2**2) / 2), a_1)
    bent = x * 2 * (lambda_L / w_b) ** 2 / ((r + g) * (a_1 + a_2) + a_2)
    y_0 = b_base / 2 + e_b
    rigid = 3 * (y_0 + w_b) / ((y_0 + w_b) ** 3 - y_0**3)
    return f_u * m_u / (1 - f_v) * maximum(bent, rigid)


@formula(symbol="m_r", source=_FOOT, valid={"lambda_L": Range(0.05, 100)})
def foot_moment(m_u: NMmPerMm, f_u: Ratio, b_base: Mm, e_b: Mm, w_b: Mm, lambda_L: Ratio) -> NMmPerMm:
    """Moment that opens the bend at the root of a single foot: what its flange takes, less its pull's."""
    g = lambda_L * e_b / w_b
    r = lambda_L * b_base / (2 * w_b)
    a_1 = r * (1 + g) ** 2 + g + g**2 + g**3 / 3
    a_2 = 1 + g - g**3 / 3 + r * (1 - g**2)
    bent = (g * (a_1 + a_2) + a_2) / ((r + g) * (a_1 + a_2) + a_2)
    y_0 = b_base / 2 + e_b
    y_1 = y_0 + w_b
    rigid = 1 - 3 * b_base * (y_1**2 - y_0**2) / (4 * (y_1**3 - y_0**3))
    return f_u * m_u * where(lambda_L > 2.5, bent, maximum(bent, rigid))


@formula(symbol="m_r", source=_FOUNDATION, valid={"lambda_L": Range(0.05, 100)})
def root_moment(q_p: NPerMm, w_b: Mm, e_b: Mm, lambda_L: Ratio) -> NMmPerMm:
    """Moment that opens the bend at a web root, the root held against turning."""
    u = 2 * lambda_L
    h = (exp(u) + exp(-u)) / 2
    j = (exp(u) - exp(-u)) / 2
    return q_p * (e_b + w_b / u * (h - cos(u)) / (j + sin(u)))


@formula(symbol="sigma_t", source=_TOE)
def toe_peel(
    f_p: Ratio,
    m_p: NMmPerMm,
    f_v: Ratio,
    t_a: Mm,
    E_a: MPa,
    nu_a: Ratio,
    t_1: Mm,
    t_2: Mm,
    E_3: MPa,
    D_1: NMm2PerMm,
    D_2: NMm2PerMm,
) -> MPa:
    """Peel stress at a flange's toe, where the hull bends by a panel's edge moment and the flange ends.

    ``f_p`` is the part of the moment that opens: of a rebound, or of a slam within the toe.
    """
    c = t_a * (1 - nu_a**2) / E_a + (t_1 + t_2) / (2 * E_3)
    return f_p * m_p / (D_2 * (1 - f_v)) * sqrt(1 / (c * (1 / D_1 + 1 / D_2)))


@formula(symbol="f_p", source=_TOE)
def within_toe() -> Ratio:
    """Of the stress at the toe, what turns up further in with the other sign."""
    return exp(-pi / 2)


# -- ends that stop ------------------------------------------------------------------------------------


@formula(symbol="k_b", source=_SLIP)
def slip_stiffness(G_a: MPa, w_t: Mm, f_v: Ratio, t_a: Mm) -> MPa:
    """Force along the member by which all beads together resist a unit of slip, per length."""
    return G_a * w_t * (1 - f_v) / t_a


@formula(symbol="EA_r", source=_SLIP)
def shared_stiffness(EA_1: N, EA_2: N) -> N:
    """Axial stiffness of section and hull one behind the other."""
    return EA_1 * EA_2 / (EA_1 + EA_2)


@formula(symbol="EI_p", source=_SLIP)
def parted_stiffness(EI: NMm2, ES_b: NMm, EA_r: N) -> NMm2:
    """Bending stiffness that section and hull would have with nothing between them."""
    return EI - ES_b**2 / EA_r


@formula(symbol="l_e", source=_SLIP)
def handing_length(k_b: MPa, EI: NMm2, EI_p: NMm2, EA_r: N) -> Mm:
    """Length within which a member that stops hands the force of its section over to the hull."""
    return sqrt(EA_r * EI_p / (k_b * EI))


@formula(symbol="q_e", source=_SLIP)
def end_flow(V_x: N, M_x: NMm, ES_b: NMm, EI: NMm2, l_e: Mm) -> NPerMm:
    """Shear flow across all bond lines together at the end of a member that stops.

    What shear asks for, and the force of the section under the moment there, which goes within a length.
    """
    return (absolute(V_x) + absolute(M_x) / l_e) * absolute(ES_b) / EI


@formula(symbol="m_e", source=_PATCH)
def patch_moment(sigma_p: MPa, t: Mm) -> NMmPerMm:
    """Bending moment of the skin under an end that dies on it."""
    return sigma_p * t**2 / 6


@formula(symbol="sigma_e", source=_TOE)
def end_peel(
    f_p: Ratio,
    m_e: NMmPerMm,
    f_v: Ratio,
    t_a: Mm,
    E_a: MPa,
    nu_a: Ratio,
    t_1: Mm,
    t_2: Mm,
    E_3: MPa,
    D_x: NMm2PerMm,
) -> MPa:
    """Peel stress at the edge of a lap across a member's end, where the skin bends and the member does not.

    ``f_p`` as at a toe; the member counts as rigid.
    """
    c = t_a * (1 - nu_a**2) / E_a + (t_1 + t_2) / (2 * E_3)
    return f_p * m_e / (1 - f_v) * sqrt(1 / (c * D_x))


# -- widths and beads --------------------------------------------------------------------------------


@formula(symbol="w_lap", source=OVERLAP)
def overlap(w_d: GPerM2, w_u: GPerM2) -> Mm:
    """Least overlap of a laminate bonded on; ``w_u`` is the dry weight of a further unit."""
    return 38 + 6.5 * (w_d - minimum(w_d, 3600)) / w_u


@formula(symbol="w_q", source=_BEAM)
def width_for_shear(q_b: NPerMm, f_q: Ratio, tau_b: MPa) -> Mm:
    """Width that a flange laminated in place needs for its mean shear."""
    return q_b * f_q / tau_b


@formula(symbol="A_a", source=_LAYING)
def laid_bead(w_b: Mm, t_a: Mm, c_a: Mm, f_o: Ratio) -> Mm2:
    """Cross-section of the bead laid under a flange, for the widest gap and what is pressed out."""
    return w_b * (t_a + c_a) * (1 + f_o)
