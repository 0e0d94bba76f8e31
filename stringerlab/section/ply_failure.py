"""What the stresses of a section's plies come to: by which criterion the first fails, where, at what load.

MPa, mm; stresses and strains in the plies' own axes; places from the section's origin.
"""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stringerlab.laminate import Face, failure
from stringerlab.laminate.modes import MODES, Mode, mode_factors, mode_indices

Array = NDArray[np.float64]
Index = NDArray[np.intp]

SAME = 1e-9
"""Multiples that differ by less are one."""


class Criterion(StrEnum):
    """By what a ply is held to fail."""

    MAXIMUM_STRAIN = "maximum strain"
    TSAI_WU = "Tsai–Wu"
    MODE = "by mode"


@dataclass(frozen=True, slots=True, kw_only=True)
class GoverningPly:
    """Where a section fails first under a growing load."""

    factor: float
    """Multiple of the load; infinite when nothing is loaded, nan when a strength is missing."""
    criterion: str
    """The criterion with the least multiple: maximum strain, Tsai–Wu, or the mode."""
    mode: Mode
    """The mode nearest to failure there."""
    owner: str
    """Wall id, ``plating`` or fill id."""
    ply: str
    """Number and name, or the fill's name."""
    face: Face | None
    """Of the ply; None in a fill."""
    y: float
    z: float
    """From the section's origin."""

    @property
    def name(self) -> str:
        """Wall, ply, face and place, for a person."""
        face = f", {self.face.value}" if self.face else ""
        return f"{self.owner} {self.ply}{face}, y {self.y:.0f} mm, z {self.z:.0f} mm"


@dataclass(frozen=True, kw_only=True, eq=False)
class PlyStresses:
    """Stresses at p points of r plies and fills under c loads."""

    owners: tuple[str, ...]
    """(r,) wall id, ``plating`` or fill id."""
    names: tuple[str, ...]
    """(r,) number and name of the ply, or the fill's name."""
    region: Index
    """(p,) which of them a point belongs to."""
    y: Array
    z: Array
    """(p,) from the section's origin."""
    away: NDArray[np.bool_]
    """(p,) whether on the ply's face away from the mould."""
    solid: NDArray[np.bool_]
    """(p,) whether of a fill."""
    axial_strain: Array
    """(c, p)."""
    axial_stress: Array
    """(c, p) along the member that the axial strain brings [MPa]."""
    flow: Array
    """(c, p) shear flow in the wall there, positive as it is drawn [N/mm]."""
    strain: Array
    """(c, p, 3)."""
    stress: Array
    """(c, p, 3)."""
    interlaminar: Array
    """(c, p) greatest interlaminar shear through the ply there, as a size [MPa]."""
    strengths: Array
    """(p, 6) tension 1, compression 1, tension 2, compression 2, shear, interlaminar; nan when missing."""
    moduli: Array
    """(p, 3) E1, E2, G12."""
    marks: NDArray[np.int8]
    """(r,) rank of the weakest mark of what makes a ply."""
    missing: tuple[str, ...]
    """Plies and fills that carry load but lack a strength."""

    @cached_property
    def maximum_strain(self) -> Array:
        """(c, p) load multiple at which a strain reaches its limit; a fill's at its strength."""
        found = failure.maximum_strain(self.strain, self.strengths[:, :5], self.moduli)
        return self._with_fills(found)

    @cached_property
    def tsai_wu(self) -> Array:
        """(c, p) load multiple at failure by Tsai and Wu; a fill's at its strength."""
        return self._with_fills(failure.tsai_wu(self.stress, self.strengths[:, :5]))

    @cached_property
    def modes(self) -> Array:
        """(c, p, 6) load multiple at each of `stringerlab.laminate.modes.MODES`."""
        return mode_factors(self.stress, self.interlaminar, self.strengths[:, :5], self.strengths[:, 5])

    @cached_property
    def first_mode(self) -> Array:
        """(c, p) the least load multiple of all modes."""
        indices = mode_indices(self.stress, self.interlaminar, self.strengths[:, :5], self.strengths[:, 5])
        greatest = np.asarray(indices.max(axis=-1))
        factors = np.where(np.isnan(greatest), np.nan, np.inf)
        return np.divide(1.0, np.sqrt(greatest), out=factors, where=greatest > 0)

    @cached_property
    def factors(self) -> Array:
        """(c, p) load multiple at first failure, the least of all; nan where a strength is missing."""
        return np.minimum(np.minimum(self.maximum_strain, self.tsai_wu), self.first_mode)

    @cached_property
    def governing(self) -> tuple[GoverningPly, ...]:
        """(c,) where each load fails the section first; a place that lacks a strength comes before all."""
        return tuple(self._governing(load) for load in range(len(self.axial_strain)))

    def _governing(self, load: int) -> GoverningPly:
        point = int(np.argmin(self.factors[load]))
        region = int(self.region[point])
        modes = mode_factors(
            self.stress[load, point],
            self.interlaminar[load, point],
            self.strengths[point, :5],
            self.strengths[point, 5],
        )
        mode = MODES[int(np.argmin(np.where(np.isnan(modes), np.inf, modes)))]
        factor = float(self.factors[load, point])
        criterion: str = mode
        if self.solid[point]:
            criterion = "strength"
        elif self.maximum_strain[load, point] <= factor * (1 + SAME):
            criterion = Criterion.MAXIMUM_STRAIN
        elif self.tsai_wu[load, point] <= factor * (1 + SAME):
            criterion = Criterion.TSAI_WU
        face = None if self.solid[point] else Face.FREE if self.away[point] else Face.MOULD
        return GoverningPly(
            factor=factor,
            criterion=str(criterion),
            mode=mode,
            owner=self.owners[region],
            ply=self.names[region],
            face=face,
            y=float(self.y[point]),
            z=float(self.z[point]),
        )

    def _with_fills(self, factors: Array) -> Array:
        if self.solid.any():
            factors[:, self.solid] = self.first_mode[:, self.solid]
        return factors
