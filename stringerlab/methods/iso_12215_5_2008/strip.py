"""A strip of unit width of n stacks: where its plies lie, its neutral axis, stiffness and first moments."""

from dataclasses import dataclass

import numpy as np

from stringerlab.methods.iso_12215_5_2008 import stacks
from stringerlab.methods.records import Mask
from stringerlab.workings import Array, traced


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strip:
    """Sums over the plies of n stacks: N, mm, per mm of width. Ply arrays are (n, k)."""

    absent: Mask
    """Where there is no ply."""
    E: Array
    """Plain modulus, 0 where there is no ply."""
    d_o: Array
    """Distance of each ply's outer face outward from the neutral axis."""
    d_i: Array
    """Distance of its inner face."""
    Et: Array
    Etz: Array
    """First moment about the outer face."""
    EI_0: Array
    """Stiffness about the outer face."""
    z_na: Array
    EI: Array

    @property
    def first_moments(self) -> Array:
        """First moment about the neutral axis of all plies down to each one's inner face (n, k)."""
        return np.cumsum(stacks.outer_first_moment.clause(E=self.E, d_o=self.d_o, d_i=self.d_i), axis=1)

    @property
    def greatest_first_moment(self) -> Array:
        """First moment about the neutral axis of all that lies outward of it (n,)."""
        d_o, d_i = np.maximum(self.d_o, 0), np.maximum(self.d_i, 0)
        return stacks.outer_first_moment.clause(E=self.E, d_o=d_o, d_i=d_i).sum(axis=1)


def strip(t: Array, E: Array) -> Strip:
    """Return the strip of n stacks.

    Parameters
    ----------
    t
        Thickness of the plies from the outer face on (n, k) [mm], padded with nan.
    E
        Their plain modulus along the strip (n, k) [MPa].
    """
    absent = np.isnan(t)
    thickness, modulus = np.where(absent, 0, t), np.where(absent, 0, E)
    inner = np.cumsum(thickness, axis=1)
    outer = inner - thickness
    middle = (outer + inner) / 2
    Et = _sum(stacks.axial_stiffness(E=E, t=t), absent)
    Etz = _sum(stacks.first_moment(E=E, t=t, z=middle), absent)
    EI_0 = _sum(stacks.base_stiffness(E=E, t=t, z=middle), absent)
    z_na = stacks.neutral_axis(Etz=Etz, Et=Et)
    return Strip(
        absent=absent,
        E=modulus,
        d_o=z_na[:, None] - outer,
        d_i=z_na[:, None] - inner,
        Et=Et,
        Etz=Etz,
        EI_0=EI_0,
        z_na=z_na,
        EI=stacks.bending_stiffness(EI_0=EI_0, Et=Et, z_na=z_na),
    )


def _sum(of_plies: Array, absent: Mask) -> Array:
    """Return the sum over the plies there are (n,), with the way back to their formula."""
    return traced(np.where(absent, 0, of_plies).sum(axis=1), of_plies)
