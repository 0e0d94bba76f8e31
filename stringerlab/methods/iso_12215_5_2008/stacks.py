"""Stiffness of stacks by Σ of plain ply moduli, and stresses in them, as in Annex H. N, mm, per mm of width.

z from the outer face; d is the distance outward from the neutral axis.
"""

from stringerlab.methods.iso_12215_5_2008.source import TITLE, clause
from stringerlab.units import KPa, Mm, Mm3PerMm, Mm4PerMm, MPa, N, NMm2PerMm, NMmPerMm, NPerMm, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import absolute, sqrt

_MECHANICS = Source(title="Composite beam theory, as in " + TITLE, clause="Annex H", known=Known.PROVED)


@formula(symbol="F_d", source=clause("Annex H", Known.PROVED))
def edge_shear_force(k_C: Ratio, k_SHC: Ratio, P: KPa, b: Mm) -> NPerMm:
    """Shear force at the middle of the long edge, per width."""
    return sqrt(k_C) * k_SHC * P * b / 1000


@formula(symbol="M_d", source=clause("Annex H", Known.PROVED))
def edge_moment(k_C: Ratio, P: KPa, k_2: Ratio, b: Mm) -> NMmPerMm:
    """Moment at the middle of the long edge, per width."""
    return k_C**2 * P * k_2 * b**2 / 6000


@formula(symbol="Et", source=_MECHANICS)
def axial_stiffness(E: MPa, t: Mm) -> NPerMm:
    """Axial stiffness of a ply, per width."""
    return E * t


@formula(symbol="Etz", source=_MECHANICS)
def first_moment(E: MPa, t: Mm, z: Mm) -> N:
    """First moment of a ply about the outer face; z to the ply's middle."""
    return E * t * z


@formula(symbol="EI_0", source=_MECHANICS)
def base_stiffness(E: MPa, t: Mm, z: Mm) -> NMm2PerMm:
    """Bending stiffness of a ply about the outer face; z to the ply's middle."""
    return E * t * (t**2 / 12 + z**2)


@formula(symbol="z_na", source=_MECHANICS)
def neutral_axis(Etz: N, Et: NPerMm) -> Mm:
    """Neutral axis, from the outer face."""
    return Etz / Et


@formula(symbol="EI", source=_MECHANICS)
def bending_stiffness(EI_0: NMm2PerMm, Et: NPerMm, z_na: Mm) -> NMm2PerMm:
    """Bending stiffness about the neutral axis."""
    return EI_0 - Et * z_na**2


@formula(symbol="z_na", source=_MECHANICS)
def sandwich_neutral_axis(E_o: MPa, t_o: Mm, E_i: MPa, t_i: Mm, t_c: Mm) -> Mm:
    """Neutral axis of two skins, from the outer face; the core's modulus is left out."""
    z_i = t_o + t_c + t_i / 2
    return (E_o * t_o**2 / 2 + E_i * t_i * z_i) / (E_o * t_o + E_i * t_i)


@formula(symbol="EI", source=_MECHANICS)
def sandwich_stiffness(E_o: MPa, t_o: Mm, E_i: MPa, t_i: Mm, t_c: Mm, z_na: Mm) -> NMm2PerMm:
    """Bending stiffness of two skins about the neutral axis; the core's modulus is left out."""
    d_o = z_na - t_o / 2
    d_i = t_o + t_c + t_i / 2 - z_na
    return E_o * t_o * (t_o**2 / 12 + d_o**2) + E_i * t_i * (t_i**2 / 12 + d_i**2)


@formula(symbol="d_i", source=_MECHANICS)
def inner_distance(t_o: Mm, t_c: Mm, t_i: Mm, z_na: Mm) -> Mm:
    """Distance of the inner face from the neutral axis."""
    return t_o + t_c + t_i - z_na


@formula(symbol="sigma", source=_MECHANICS)
def bending_stress(E: MPa, M_d: NMmPerMm, d: Mm, EI: NMm2PerMm) -> MPa:
    """Stress in a ply at a distance from the neutral axis, without sign."""
    return E * M_d * absolute(d) / EI


@formula(symbol="ES", source=_MECHANICS)
def outer_first_moment(E: MPa, d_o: Mm, d_i: Mm) -> N:
    """First moment about the neutral axis of what lies of a ply from its outer face d_o inward to d_i."""
    return E * (d_o - d_i) * (d_o + d_i) / 2


@formula(symbol="tau", source=_MECHANICS)
def interlaminar_stress(F_d: NPerMm, ES: N, EI: NMm2PerMm) -> MPa:
    """Shear stress between plies."""
    return F_d * absolute(ES) / EI


@formula(symbol="SM", source=_MECHANICS)
def modulus_at_face(EI: NMm2PerMm, E: MPa, d: Mm) -> Mm3PerMm:
    """Section modulus at a face of a ply."""
    return EI / (E * absolute(d))


@formula(symbol="I", source=_MECHANICS)
def second_moment(EI: NMm2PerMm, E_io: MPa) -> Mm4PerMm:
    """Second moment of a stack in terms of one modulus."""
    return EI / E_io
