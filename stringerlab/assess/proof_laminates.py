"""Computations behind the published values of plies and laminates; each returns the unit its table states."""

from collections.abc import Callable, Sequence
from math import radians

import numpy as np

from stringerlab.laminate import failure, stiffness, strength, theory
from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.materials import estimates
from stringerlab.workings import Array, Known

_GRAPHITE_EPOXY = {"E1": 181.0, "E2": 10.3, "G12": 7.17, "nu12": 0.28}
"""Moduli in GPa, as the textbook's examples give them."""
_STRENGTHS = (1500.0, 1500.0, 40.0, 246.0, 68.0)
"""Along in tension and compression, across in tension and compression, shear: MPa."""
_PA_M = {"A": 1e3, "B": 1.0, "D": 1e-3}
"""From N/mm, N, N·mm to N/m, N, N·m."""


def ply_thickness(w: float, g: float) -> float:
    """Thickness [mm] by the published fit from dry weight [kg/m²] and glass content."""
    return float(estimates.fit_thickness.clause(w, g))


def ply_modulus(g: float) -> float:
    """Modulus [MPa] by the published fit from glass content."""
    return float(estimates.fit_modulus.clause(g))


def fibre_volume(g: float, rho_f: float, rho_m: float) -> float:
    """Fibre content by volume from that by mass and densities [kg/m³]."""
    return float(estimates.fibre_volume.clause(g, rho_f, rho_m))


def modulus_along(V_f: float, E_f: float, E_m: float) -> float:
    """E1 by the rule of mixtures, in the unit given."""
    return float(estimates.modulus_along.clause(V_f, E_f, E_m))


def modulus_across(V_f: float, E_f: float, E_m: float) -> float:
    """E2 by Halpin–Tsai, in the unit given."""
    return float(estimates.modulus_across.clause(V_f, E_f, E_m))


def poisson_along(V_f: float, nu_f: float, nu_m: float) -> float:
    """ν12 by the rule of mixtures."""
    return float(estimates.poisson_along.clause(V_f, nu_f, nu_m))


def resin_shear_modulus(E_m: float, nu_m: float) -> float:
    """Resin's shear modulus, in the unit given."""
    return float(estimates.resin_shear_modulus.clause(E_m, nu_m))


def shear_modulus(V_f: float, G_f: float, G_m: float) -> float:
    """G12 by Halpin–Tsai, in the unit given."""
    return float(estimates.shear_modulus.clause(V_f, G_f, G_m))


def ply_stiffness(entry: str) -> float:
    """Entry "11" … "66" of a ply's reduced stiffness [GPa]."""
    return _entry(theory.q_matrix(**_GRAPHITE_EPOXY), entry)


def turned_stiffness(entry: str, angle: float) -> float:
    """Entry of a ply's stiffness turned by an angle [deg], [GPa]."""
    return _entry(theory.q_bar(theory.q_matrix(**_GRAPHITE_EPOXY), radians(angle)), entry)


def turned_modulus(angle: float) -> float:
    """Modulus along x of a ply turned by an angle [deg], [GPa]."""
    return float(theory.modulus_at(**_GRAPHITE_EPOXY, angle=radians(angle)))


def laminate_stiffness(block: str, entry: str, angles: Sequence[float], ply: float) -> float:
    """Entry of A [N/m], B [N] or D [N·m] of equal plies [deg, mm]."""
    corner = {"A": (0, 0), "B": (0, 3), "D": (3, 3)}[block]
    matrix = stiffness.abd(_stack(angles, ply))
    part = matrix[corner[0] : corner[0] + 3, corner[1] : corner[1] + 3]
    return _entry(part, entry) * _PA_M[block]


def laminate_constant(name: str, angles: Sequence[float], ply: float) -> float:
    """In-plane engineering constant [GPa]."""
    return getattr(stiffness.engineering_constants(_stack(angles, ply)), name) / 1000


def flexural_constant(name: str, angles: Sequence[float], ply: float) -> float:
    """Flexural engineering constant [GPa]."""
    return getattr(stiffness.flexural_constants(_stack(angles, ply)), name) / 1000


def deformation(index: int, load: Sequence[float], angles: Sequence[float], ply: float) -> float:
    """Mid-thickness strain (0 to 2) or curvature (3 to 5, 1/m) under N [N/m] and M [N]."""
    Nx, Ny, Nxy, Mx, My, Mxy = load
    resultants = strength.Resultants(N=(Nx / 1000, Ny / 1000, Nxy / 1000), M=(Mx, My, Mxy))
    found = strength.ply_states(_stack(angles, ply), resultants).deformation[index]
    return float(found * (1000 if index > 2 else 1))


def ply_stress(
    number: int, face: int, index: int, load: Sequence[float], angles: Sequence[float], ply: float
) -> float:
    """Stress in the laminate's axes [Pa] at a face (0 first, 1 second) of a ply, counted from 1."""
    resultants = strength.Resultants(N=(load[0] / 1000, load[1] / 1000, load[2] / 1000))
    states = strength.ply_states(_stack(angles, ply), resultants)
    return float(states.stress[number - 1, face, index] * 1e6)


def first_ply_failure(angles: Sequence[float], ply: float) -> float:
    """Force N_x [N/m] at the first ply to fail by Tsai–Wu."""
    load = strength.Resultants(N=(1.0, 0.0, 0.0))
    return strength.first_failure(_stack(angles, ply), load)[0].factor * 1000


def last_ply_failure(angles: Sequence[float], ply: float) -> float:
    """Force N_x [N/m] at the last ply to fail by Tsai–Wu, failed plies discounted."""
    load = strength.Resultants(N=(1.0, 0.0, 0.0))
    return max(one.factor for one in strength.successive_failures(_stack(angles, ply), load)) * 1000


def ply_strength(criterion: str, stress: Sequence[float], angle: float) -> float:
    """Multiple of a stress (x, y, xy) [MPa] at which a ply turned by an angle [deg] fails."""
    local = theory.stress_turn(radians(angle)) @ np.array(stress)
    strengths = np.array(_STRENGTHS)
    if criterion == "maximum strain":
        moduli = np.array([_GRAPHITE_EPOXY[name] * 1000 for name in ("E1", "E2", "G12")])
        strain = stiffness.solved(theory.q_matrix(**_GRAPHITE_EPOXY) * 1000, local[:, None])[:, 0]
        return float(failure.maximum_strain(strain, strengths, moduli))
    return float(_CRITERIA[criterion](local, strengths))


_CRITERIA: dict[str, Callable[[Array, Array], Array]] = {
    "maximum stress": failure.maximum_stress,
    "Tsai–Wu": failure.tsai_wu,
    "Tsai–Hill": failure.tsai_hill,
    "Tsai–Hill, signed": failure.tsai_hill_signed,
}


def _entry(matrix: Array, entry: str) -> float:
    row, column = ({"1": 0, "2": 1, "6": 2}[letter] for letter in entry)
    return float(matrix[row, column])


def _stack(angles: Sequence[float], ply: float) -> Stack:
    tension_1, compression_1, tension_2, compression_2, shear = _STRENGTHS
    moduli = {name: value * (1 if name == "nu12" else 1000) for name, value in _GRAPHITE_EPOXY.items()}
    return Stack(
        name="graphite/epoxy",
        plies=tuple(
            PlyNumbers(
                name="graphite/epoxy",
                role=Role.REINFORCED,
                kind=None,
                angle=radians(angle),
                thickness=ply,
                mass=0.0,
                dry_weight=0.0,
                glass=0.0,
                E1=moduli["E1"],
                E2=moduli["E2"],
                G12=moduli["G12"],
                nu12=moduli["nu12"],
                tension_1=tension_1,
                compression_1=compression_1,
                tension_2=tension_2,
                compression_2=compression_2,
                shear=shear,
                flexural=None,
                interlaminar=None,
                marks=(("E1", Known.QUOTED),),
            )
            for angle in angles
        ),
    )


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "ply.thickness": ply_thickness,
    "ply.modulus": ply_modulus,
    "ply.fibre_volume": fibre_volume,
    "ply.modulus_along": modulus_along,
    "ply.modulus_across": modulus_across,
    "ply.poisson_along": poisson_along,
    "ply.resin_shear_modulus": resin_shear_modulus,
    "ply.shear_modulus": shear_modulus,
    "kaw.ply_stiffness": ply_stiffness,
    "kaw.turned_stiffness": turned_stiffness,
    "kaw.turned_modulus": turned_modulus,
    "kaw.laminate_stiffness": laminate_stiffness,
    "kaw.laminate_constant": laminate_constant,
    "kaw.flexural_constant": flexural_constant,
    "kaw.deformation": deformation,
    "kaw.ply_stress": ply_stress,
    "kaw.first_ply_failure": first_ply_failure,
    "kaw.last_ply_failure": last_ply_failure,
    "kaw.ply_strength": ply_strength,
}
