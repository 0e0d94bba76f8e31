"""Which shear flow a section's plies are judged with: exact of one wall, thin-wall theory of several.

Where the strip of plating is narrower than what stands on it, so that walls do not hang together, the flow is
that on a strip that reaches all; where they do not even so, the finite elements decide.

Axes and signs as in ``shear_flow``. N, mm, MPa.
"""

from cmath import exp
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.section.bodies import Bodies
from stringerlab.section.loads import SectionLoads
from stringerlab.section.ply_points import Stations
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.shear_flow import OneWall, ShearFlow, bending_gradients
from stringerlab.section.stiffness import Properties

if TYPE_CHECKING:
    from stringerlab.section.torsion import ThinWalls

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Points = NDArray[np.complex128]

PLATING = "plating"
KEPT = 64
"""Sections on their strips of which the solved flow is remembered."""


def shear_flow(
    shape: SectionShape, plating: Plating | None, built: Bodies, found: Properties, moduli: Moduli
) -> ShearFlow:
    """Return the shear flow of a section.

    Raises
    ------
    StringerlabError
        When it cannot be given: parts that do not touch, or carry nothing.
    """
    if plating is None and len(shape.walls) == 1 and not any(fill.modulus for fill in built.fills):
        return OneWall.of(built, shape.walls[0], found, moduli)
    owners = tuple(shape.walls[stroke.wall].id for stroke in built.walls.strokes)
    if plating is not None:
        owners += (PLATING,)
    walls = _walls(shape, plating)
    if isinstance(walls, StringerlabError):
        raise StringerlabError(walls.problems)
    return walls if isinstance(walls, SolvedWalls) else SeveralWalls(walls, owners, bending_gradients(found))


@lru_cache(KEPT)
def _walls(shape: SectionShape, plating: Plating | None) -> "ThinWalls | SolvedWalls | StringerlabError":
    """Return the walls that hang together: as they are, on a strip that reaches all, or by finite elements.

    Failing all, what the finite elements say: remembered, so that it is found out once.
    """
    from stringerlab.section.torsion import thin_walls

    strips = [plating]
    if plating is not None and (reach := _reach(shape, plating.deadrise)) > plating.width:
        strips.append(replace(plating, width=reach))
    for strip in strips:
        try:
            return thin_walls(shape, strip)
        except StringerlabError:
            continue
    try:
        return solved_flow(shape, plating)
    except StringerlabError as error:
        return error


def _reach(shape: SectionShape, deadrise: float) -> float:
    """Return the width of the strip, centred on the origin, that lies under all walls [mm]."""
    turned = exp(-1j * deadrise)
    return 2 * max(
        (abs((complex(*point) * turned).real) for wall in shape.walls for point in wall.points), default=0.0
    )


@dataclass(frozen=True, eq=False)
class SeveralWalls:
    """The flow in walls by thin-wall theory, each place's at the nearest of its own wall's middle line."""

    walls: "ThinWalls"
    owners: tuple[str, ...]
    """Of every stroke."""
    gradients: Array
    """(2, 2) rise of the axial strain's rise along y and z, per unit of V_y and of V_z."""

    @property
    def twist(self) -> float:
        """Rate of twist per torque [1/(N·mm²)]."""
        return 1 / self.walls.GJ

    @property
    def arms(self) -> Array:
        """(2,) torque about the neutral point of V_y, and of V_z, through the shear centre."""
        answer = self.walls.answer
        return np.array([answer.z_na - answer.z_s, answer.y_s - answer.y_na])

    def per_unit(self, stations: Stations) -> Array:
        """Return the flow (s, 3) per unit of V_y, V_z and torque; none in a wall that carries nothing."""
        graph, flow = self.walls.graph, self.walls.answer.flow[:, :, [1, 2, 0]]
        nodes = graph.nodes[:, 0] + 1j * graph.nodes[:, 1]
        start, way = nodes[graph.ends[:, 0]], np.diff(nodes[graph.ends], axis=1)[:, 0]
        found = np.zeros((len(stations.stroke), 3))
        piece, part = np.full(len(found), -1), np.zeros(len(found))
        for stroke, mine in self._pieces():
            here = np.flatnonzero(stations.stroke == stroke)
            if len(here) and len(mine):
                piece[here], part[here] = _nearest(stations.mould[here], start[mine], way[mine], mine)
        on = np.flatnonzero(piece >= 0)
        if not len(on):
            return found
        piece, part = piece[on], part[on][:, None]
        found[on] = flow[piece, 0] * (1 - part) + flow[piece, 1] * part
        # Within a piece the flow is a parabola: what it bends by follows from the axial stress alone.
        steps = np.stack([way[piece].real, way[piece].imag], axis=1)
        bend = -graph.Et[piece][:, None] * np.abs(way[piece])[:, None] * (steps @ self.gradients.T)
        found[on, :2] -= bend * part * (1 - part) / 2
        return found

    def _pieces(self) -> Iterator[tuple[int, Index]]:
        """Yield every stroke, and its pieces."""
        owners = np.array(self.walls.owners)
        for stroke, owner in enumerate(self.owners):
            yield stroke, np.flatnonzero(owners == owner)


def _nearest(places: Points, start: Points, way: Points, pieces: Index) -> tuple[Index, Array]:
    """Return for every place the first of the pieces nearest to it, and where along it (0 to 1)."""
    length = np.abs(way)
    local = (places[:, None] - start) * way.conj() / length**2
    along = np.clip(local.real, 0.0, 1.0)
    best = (np.abs(local - along) * length).argmin(axis=1)
    return pieces[best], along[np.arange(len(best)), best]


@dataclass(frozen=True, eq=False)
class SolvedWalls:
    """The flow in walls by finite elements, sampled along them; each place's between its neighbours."""

    GJ: float
    arms: Array
    """(2,) torque about the neutral point of V_y, and of V_z, through the shear centre."""
    sampled: tuple[tuple[Points, Array], ...]
    """Of every stroke its places (m,) in order along it, and their flow (m, 3)."""

    @property
    def twist(self) -> float:
        """Rate of twist per torque [1/(N·mm²)]."""
        return 1 / self.GJ

    def per_unit(self, stations: Stations) -> Array:
        """Return the flow (s, 3) per unit of V_y, V_z and torque; none in a wall that carries nothing."""
        found = np.zeros((len(stations.stroke), 3))
        for stroke, (places, flow) in enumerate(self.sampled):
            mine = np.flatnonzero(stations.stroke == stroke)
            if not len(places) or not len(mine):
                continue
            if len(places) == 1:
                found[mine] = flow
                continue
            way = np.diff(places)
            local = (stations.mould[mine, None] - places[:-1]) * way.conj() / np.abs(way) ** 2
            part = np.clip(local.real, 0.0, 1.0)
            piece = np.argmin(np.abs(local - part) * np.abs(way), axis=1)
            share = part[np.arange(len(mine)), piece][:, None]
            found[mine] = flow[piece] * (1 - share) + flow[piece + 1] * share
        return found


@lru_cache(KEPT)
def solved_flow(shape: SectionShape, plating: Plating | None) -> SolvedWalls:
    """Return the shear flow in a section's walls by finite elements: slower, and of any section that holds.

    Raises
    ------
    StringerlabError
        As `stringerlab.section.torsion.warping` does.
    """
    from stringerlab.section.torsion import warping
    from stringerlab.section.torsion.field import wall_flows

    solution = warping(shape, plating)
    arms = np.array([solution.z_na - solution.z_s, solution.y_s - solution.y_na])
    units = (
        SectionLoads(V_y=1.0, T=float(arms[0])),
        SectionLoads(V_z=1.0, T=float(arms[1])),
        SectionLoads(T=1.0),
    )
    each = [{one.owner: one for one in wall_flows(solution, unit)} for unit in units]
    owners = [wall.id for wall in shape.walls] + ([PLATING] if plating is not None else [])
    nothing = np.zeros(0, np.complex128), np.zeros((0, 3))
    return SolvedWalls(
        GJ=solution.GJ,
        arms=arms,
        sampled=tuple(
            (
                np.ascontiguousarray(each[0][owner].points[:, 0] + 1j * each[0][owner].points[:, 1]),
                np.stack([flows[owner].flow for flows in each], axis=1),
            )
            if owner in each[0]
            else nothing
            for owner in owners
        ),
    )
