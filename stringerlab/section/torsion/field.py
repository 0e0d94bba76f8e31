"""Shear stresses and flows that a section's loads give, from its solved torsion and shear. N, mm, MPa.

Loads act at the neutral point: a force there twists the section by its arm to the shear centre.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from stringerlab.section.loads import SectionLoads
from stringerlab.section.torsion.regions import Region
from stringerlab.section.torsion.solving import Warping

Array = NDArray[np.float64]

GAUSS = (np.polynomial.legendre.leggauss(3)[0] / 2 + 0.5, np.polynomial.legendre.leggauss(3)[1] / 2)
EDGE = 1e-9
"""How far outside a triangle, in its corner shapes, a point still counts as in it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ShearField:
    """Shear stresses in a section."""

    stress: Array
    """(t, 3, 2) τ_xy, τ_xz at the corners of the mesh's triangles, linear between [MPa]."""
    twist: float
    """Turn per length, from y to z [1/mm]."""
    V_y: float
    V_z: float
    T: float
    """What the field integrates to; T about the neutral point."""
    greatest: float
    """Greatest shear stress [MPa] …"""
    place: tuple[float, float]
    """… where it is …"""
    owner: str
    """… and in what: a wall's id, ``plating``, ``bead`` or a fill's id."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WallFlow:
    """Shear flow along a wall, in the direction it is drawn in."""

    owner: str
    """Wall id or ``plating``."""
    points: Array
    """(s, 2) places in the middle of the wall."""
    ways: Array
    """(s, 2) the piece of wall that each stands for, from its start to its end [mm]."""
    flow: Array
    """(s,) N/mm: all its plies together."""

    @property
    def greatest(self) -> float:
        """Of the flow either way [N/mm]."""
        return float(np.abs(self.flow).max(initial=0.0))


def shear_field(solution: Warping, loads: SectionLoads) -> ShearField:
    """Return the shear stresses under V_y, V_z and T."""
    unit = _units(solution, loads)
    stress = np.einsum("tcld,l->tcd", _by_corner(solution), unit)
    corners = solution.mesh.points[solution.mesh.triangles]
    local = corners - [solution.y_na, solution.z_na]
    A = solution.mesh.sizes
    V = A @ stress.mean(axis=1)
    # Of two linear functions the mean of the product is (Σ a_i b_i + Σ a Σ b)/12.
    moment = local[..., 0] * stress[..., 1] - local[..., 1] * stress[..., 0]
    sums_y, sums_s = local.sum(axis=1), stress.sum(axis=1)
    T = A @ (moment.sum(axis=1) + sums_y[:, 0] * sums_s[:, 1] - sums_y[:, 1] * sums_s[:, 0]) / 12
    size = np.hypot(stress[..., 0], stress[..., 1])
    triangle, corner = np.unravel_index(int(np.argmax(size)), size.shape)
    y, z = corners[triangle, corner].tolist()
    return ShearField(
        stress=stress,
        twist=float(unit[0]) / solution.GJ,
        V_y=float(V[0]),
        V_z=float(V[1]),
        T=float(T),
        greatest=float(size[triangle, corner]),
        place=(y, z),
        owner=solution.regions[int(solution.mesh.area[triangle])].owner,
    )


def stresses_at(solution: Warping, loads: SectionLoads, places: Array) -> Array:
    """Return τ_xy, τ_xz (p, 2) at places (p, 2) under V_y, V_z and T; nan where nothing carries."""
    every = np.arange(len(solution.nodes))
    triangle, shape, inside = _located(solution, every, np.asarray(places, np.float64))
    found = np.einsum("plcd,pc,l->pd", solution.unit_stress[triangle], shape, _units(solution, loads))
    return np.where(inside[:, None] > 0, found, np.nan)


def wall_flows(solution: Warping, loads: SectionLoads) -> tuple[WallFlow, ...]:
    """Return the shear flow along every wall and the plating under V_y, V_z and T."""
    unit = _units(solution, loads)
    return tuple(
        WallFlow(owner=owner, points=points, ways=ways, flow=flows @ unit)
        for owner, points, ways, flows in _unit_flows(solution)
    )


def _by_corner(solution: Warping) -> Array:
    return solution.unit_stress.transpose(0, 2, 1, 3)


def _units(solution: Warping, loads: SectionLoads) -> Array:
    """Return torque about the shear centre, and the forces through it."""
    arm = (solution.y_s - solution.y_na) * loads.V_z - (solution.z_s - solution.z_na) * loads.V_y
    return np.array([loads.T - arm, loads.V_y, loads.V_z])


@lru_cache(32)
def _unit_flows(solution: Warping) -> tuple[tuple[str, Array, Array, Array], ...]:
    return tuple(_sampled(solution))


def _sampled(solution: Warping) -> Iterator[tuple[str, Array, Array, Array]]:
    """Yield of every wall its stations (s, 2), the pieces they stand for, and their unit flows (s, 3)."""
    numbered = [(at, region) for at, region in enumerate(solution.regions) if region.stroke >= 0]
    for _, group in groupby(
        sorted(numbered, key=lambda pair: pair[1].stroke), key=lambda pair: pair[1].stroke
    ):
        members = list(group)
        line, mitres = members[0][1].line, members[0][1].mitres
        if line is None or mitres is None:
            continue
        points, ways, across = _stations(line, mitres, solution.size)
        flow = np.zeros((len(points), 3))
        for at, region in members:
            flow += _through(solution, at, region, points, across)
        middle = (min(each.low for _, each in members) + max(each.high for _, each in members)) / 2
        _, ways, _ = _stations(line + middle * mitres, mitres, solution.size, line)
        yield members[0][1].owner, points + middle * across, ways, flow


def _stations(
    line: Array, mitres: Array, size: float, drawn: Array | None = None
) -> tuple[Array, Array, Array]:
    """Return the middles (s, 2) of pieces of a line, the pieces, and the way across for a unit offset.

    A line is cut as the one drawn is.
    """
    lengths = np.hypot(*np.diff(line if drawn is None else drawn, axis=0).T)
    pieces = np.maximum(np.ceil(lengths / size), 1).astype(np.intp)
    owner = np.repeat(np.arange(len(lengths)), pieces)
    part = (np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces) + 0.5) / pieces[owner]
    weight = part[:, None]
    points = (1 - weight) * line[owner] + weight * line[owner + 1]
    ways = (line[owner + 1] - line[owner]) / pieces[owner, None]
    return points, ways, (1 - weight) * mitres[owner] + weight * mitres[owner + 1]


def _through(solution: Warping, at: int, region: Region, points: Array, across: Array) -> Array:
    """Return the flow (s, 3) through what one region has of each station; nothing where it is cut away."""
    offsets = region.low + (region.high - region.low) * GAUSS[0]
    weights = (region.high - region.low) * GAUSS[1]
    places = points[:, None] + offsets[None, :, None] * across[:, None]
    chosen = np.flatnonzero(solution.mesh.area == at)
    if not len(chosen):
        return np.zeros((len(points), 3))
    triangle, shape, inside = _located(solution, chosen, places.reshape(-1, 2))
    stress = np.einsum("plcd,pc->pld", solution.unit_stress[triangle], shape) * inside[:, None, None]
    stress = stress.reshape(len(points), len(offsets), 3, 2)
    passing = stress[..., 0] * across[:, None, None, 1] - stress[..., 1] * across[:, None, None, 0]
    return np.einsum("sgl,g->sl", passing, weights)


def _located(
    solution: Warping, chosen: NDArray[np.intp], places: Array
) -> tuple[NDArray[np.intp], Array, Array]:
    """Return the triangle each place lies in, its corner shapes there, and 0 where it lies in none."""
    corners = solution.mesh.points[solution.mesh.triangles[chosen]]
    origin = corners[:, 0]
    one, other = corners[:, 1] - origin, corners[:, 2] - origin
    twice = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    best = np.zeros(len(places), np.intp)
    shapes = np.zeros((len(places), 3))
    chunk = max(2_000_000 // len(chosen), 1)
    for first in range(0, len(places), chunk):
        on = places[first : first + chunk, None] - origin[None]
        b = (on[..., 0] * other[:, 1] - on[..., 1] * other[:, 0]) / twice
        c = (one[:, 0] * on[..., 1] - one[:, 1] * on[..., 0]) / twice
        a = 1 - b - c
        least = np.minimum(np.minimum(a, b), c)
        found = least.argmax(axis=1)
        row = np.arange(len(found))
        best[first : first + chunk] = found
        shapes[first : first + chunk] = np.stack([a[row, found], b[row, found], c[row, found]], axis=1)
    return chosen[best], shapes, (shapes.min(axis=1) >= -EDGE).astype(float)
