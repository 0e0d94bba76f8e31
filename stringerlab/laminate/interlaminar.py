"""Interlaminar shear through the thickness of a strip bent into a cylinder: τ = V ES / EI. N, mm, MPa.

z is away from the mould, from mid-thickness without gel coat.
"""

from dataclasses import dataclass

import numpy as np

from stringerlab.laminate.records import Moduli, Stack
from stringerlab.laminate.stiffness import axial_moduli, interface_heights, layers_of
from stringerlab.units import MPa, N, NMm2PerMm, NPerMm
from stringerlab.workings import Array, Known, Source, formula


@formula(symbol="tau", source=Source("Jourawski's shear formula for a layered strip", "", Known.MEMORY_H))
def shear_at(V: NPerMm, ES: N, EI: NMm2PerMm) -> MPa:
    """Interlaminar shear stress from the stiffness-weighted first moment of all that lies beyond."""
    return V * ES / EI


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class InterlaminarShear:
    """Shear stress through a strip, per width.

    ``z`` (plies + 1,) faces [mm]; ``ES`` (plies + 1,) first moment of all beyond each face about the neutral
    axis [N]; ``tau`` (plies + 1,) at the faces and ``peak`` (plies,) greatest within each ply [MPa].
    """

    z: Array
    z_neutral: float
    EI: float
    ES: Array
    tau: Array
    peak: Array


def interlaminar_shear(stack: Stack, V: float, moduli: Moduli = Moduli.CONTRACTED) -> InterlaminarShear:
    """Return the interlaminar shear of a strip under a shear force per width [N/mm].

    ``moduli`` says which modulus of a ply counts; a core counts as one without bending stiffness.
    """
    E, z, t = axial_moduli(stack, moduli), interface_heights(stack), layers_of(stack).t
    Et = E * t
    middle = (z[1:] + z[:-1]) / 2
    neutral = float(Et @ middle / Et.sum())
    EI = float(Et @ ((middle - neutral) ** 2 + t**2 / 12))
    beyond = (Et * (middle - neutral))[::-1].cumsum()[::-1]
    ES = np.append(beyond, 0.0)
    ES[0] = 0.0  # the whole's first moment about its own neutral axis, exactly
    at_neutral = ES[1:] + E / 2 * (z[1:] - neutral) ** 2
    inside = (z[:-1] < neutral) & (neutral < z[1:])
    greatest = np.maximum(np.maximum(np.abs(ES[:-1]), np.abs(ES[1:])), np.where(inside, at_neutral, 0.0))
    force = abs(V)
    return InterlaminarShear(
        z=z, z_neutral=neutral, EI=EI, ES=ES, tau=shear_at(V, ES, EI), peak=shear_at(force, greatest, EI)
    )
