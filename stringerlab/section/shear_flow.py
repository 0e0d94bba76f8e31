"""Shear flow in a section's walls from shear force and torque: what gives it, and the exact one of one wall.

Flow is positive the way the wall is drawn, in the section's plane, on the face that looks at the viewer; a
torque turns y to z. N, mm, MPa.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.lines import Lines
from stringerlab.laminate import Moduli
from stringerlab.section.bodies import Bodies
from stringerlab.section.ply_points import Stations
from stringerlab.section.ply_response import WallStiffness, response, wall_stiffness
from stringerlab.section.records import WallShape
from stringerlab.section.stiffness import Properties

Array = NDArray[np.float64]


class ShearFlow(Protocol):
    """What gives the shear flow at places of the walls."""

    @property
    def twist(self) -> float:
        """Rate of twist per torque [1/(N·mm²)]: it twists each wall as a plate besides the flow."""
        ...

    @property
    def arms(self) -> Array:
        """(2,) torque about the neutral point of a unit of V_y, and of V_z, through the shear centre."""
        ...

    def per_unit(self, stations: Stations) -> Array:
        """Return the flow (s, 3) per unit of V_y, V_z through the shear centre [1/mm], torque [1/mm²]."""
        ...


@dataclass(frozen=True, eq=False)
class OneWall:
    """The flow in a section of one wall, open or closed: first moments along it, exact of its plies."""

    lines: Lines
    side: float
    E: Array
    """(k,) moduli as counted."""
    levels: Array
    """(k + 1,) offsets of the ply faces."""
    stiffness: WallStiffness
    neutral: complex
    turned: Array
    """(2, 2) gradient of the axial strain's gradient along y and z, per unit of V_y and of V_z."""

    @classmethod
    def of(cls, built: Bodies, wall: WallShape, found: Properties, moduli: Moduli) -> "OneWall":
        """Return the flow of a section whose only body that carries is this wall, its only stroke."""
        lines = built.drawing.lines
        assert lines is not None
        stroke = built.drawing.strokes[0]
        return cls(
            lines,
            stroke.side,
            response(wall.stack, moduli).E * wall.counted,
            stroke.levels,
            wall_stiffness(wall.stack, moduli),
            complex(found.y_na, found.z_na),
            bending_gradients(found),
        )

    @property
    def closed(self) -> bool:
        """Whether it is a tube."""
        return bool(self.lines.closed[0])

    @property
    def _middle(self) -> NDArray[np.complex128]:
        return self.lines.points + (self.levels[0] + self.levels[-1]) / 2 * self.lines.mitres

    @property
    def length(self) -> float:
        """Along its middle."""
        return float(np.abs(np.diff(self._middle)).sum())

    @property
    def enclosed(self) -> float:
        """Area within its middle, positive when drawn counter-clockwise; 0 of an open wall."""
        middle = self._middle
        return float((middle[:-1].conj() * middle[1:]).imag.sum()) / 2 if self.closed else 0.0

    @property
    def _as_tube(self) -> float:
        """Torsional stiffness by the flow around it (Bredt) [N·mm²]."""
        return 4 * self.enclosed**2 * self.stiffness.shear / self.length

    @property
    def GJ(self) -> float:
        """Torsional stiffness: Bredt's and, the walls twisted as plates, Saint-Venant's [N·mm²]."""
        return self._as_tube + 4 * self.length * self.stiffness.twist

    @property
    def twist(self) -> float:
        """Rate of twist per torque [1/(N·mm²)]."""
        return 1 / self.GJ

    @property
    def arms(self) -> Array:
        """(2,) torque about the neutral point of the flow of a unit of V_y, and of V_z."""
        middle = self._middle - self.neutral
        leg = np.diff(middle)
        lever = (middle[:-1].conj() * leg).imag / np.abs(leg)
        return lever @ self._forces

    def per_unit(self, stations: Stations) -> Array:
        """Return the flow (s, 3) per unit of V_y, V_z and torque."""
        flow = np.zeros((len(stations.vertex), 3))
        flow[:, :2] = self._along[stations.vertex] + self._segment(stations.vertex, stations.part)
        if self.closed:
            flow[:, 2] = 1 / (2 * self.enclosed)
        return flow

    @cached_property
    def _along(self) -> Array:
        """(v, 2) the flow of shear at the vertices: none at an open wall's ends, no twist of a closed one."""
        cut = self._cut
        if not self.closed:
            return cut
        return cut - self._integrals(cut).sum(axis=0) / self.length

    @cached_property
    def _cut(self) -> Array:
        """(v, 2) the flow at the vertices of the line cut at its first."""
        count = len(self.lines.points)
        pieces = self._segment(np.arange(count - 1), np.ones(count - 1))
        return np.concatenate([np.zeros((1, 2)), np.cumsum(pieces, axis=0)])

    @property
    def _forces(self) -> Array:
        """(v − 1, 2) the flow's force along each segment."""
        return self._integrals(self._along)

    def _integrals(self, along: Array) -> Array:
        """Return ∫ flow ds (v − 1, 2) of each segment, a cubic at most: Simpson's rule is exact."""
        segments = np.arange(len(along) - 1)
        half = along[:-1] + self._segment(segments, np.full(len(segments), 0.5))
        return (along[:-1] + 4 * half + along[1:]) * np.abs(np.diff(self._middle))[:, None] / 6

    def _segment(self, vertex: NDArray[np.intp], part: Array) -> Array:
        """Return what the first part of segments (n,) adds to the flow (n, 2), exact of their plies."""
        after = np.minimum(vertex + 1, len(self.lines.points) - 1)
        points, mitres, levels = self.lines.points, self.lines.mitres, self.levels[:, None]
        start = points[vertex] + levels * mitres[vertex] - self.neutral
        end = points[after] + levels * mitres[after] - self.neutral
        end = start + part * (end - start)
        moment = _first_moments(start[:-1], end[:-1], end[1:], start[1:])
        weighted = self.side * (self.E[:, None] * moment).sum(axis=0)
        return -np.stack([weighted.real, weighted.imag], axis=1) @ self.turned.T


def bending_gradients(found: Properties) -> Array:
    """Return (2, 2): the axial strain's rise along y and z, per unit of M_z (row 0) and of M_y (row 1)."""
    determinant = found.EI_y * found.EI_z - found.EI_yz**2
    return np.array([[found.EI_y, -found.EI_yz], [-found.EI_yz, found.EI_z]]) / determinant


def _first_moments(*corners: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """Return the first moments (…) about the origin of polygons given corner by corner, counter-clockwise."""
    moment = np.zeros(corners[0].shape, np.complex128)
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        moment = moment + (one.conj() * other).imag * (one + other) / 6
    return moment
