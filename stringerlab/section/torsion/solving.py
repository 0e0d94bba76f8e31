"""Saint-Venant torsion and flexure on a mesh of quadratic triangles: the warping and what follows from it.

Displacement along the member is ω θ′ in torsion (turning y to z) and u in shear, whose stresses balance the
growth of bending stress E (α y + β z) about the neutral point. Poisson's ratio across the member is taken as
0. Nodes are the mesh's vertices, then its edges' middles. N, mm, MPa; y right, z up.
"""

import sys
from dataclasses import dataclass
from functools import cached_property
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import meshing
from stringerlab.geometry.meshing import Mesh
from stringerlab.section.torsion import elements
from stringerlab.section.torsion.regions import Region

Array = NDArray[np.float64]
Index = NDArray[np.intp]

DENSE = 800
"""Freedoms below which a dense solution takes less time than loading the sparse one."""
RESIDUAL = 1e-10
"""Part of the forces at a node, at their greatest, that a solution may leave unbalanced."""

SAFETY = 4.0
"""By which the estimate is raised: at re-entrant corners the plain one is down to 1/3.6 of the true."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Warping:
    """What a section is worth in torsion and transverse shear, and the fields to take stresses from.

    Places from the section's origin.
    """

    GJ: float
    """Torque over twist per length [N·mm²]."""
    y_s: float
    z_s: float
    """Shear centre: a force through it does not twist the member."""
    GA_y: float
    GA_z: float
    """Force over mean shear strain, of the energy, for a force along y or z alone [N]."""
    compliance: Array
    """(2, 2) shear strain per force, y and z [1/N]: 1/GA_y and 1/GA_z on its diagonal."""
    y_na: float
    z_na: float
    """Neutral point."""
    EA: float
    EI: Array
    """(2, 2) ∫E y², ∫E y z; ∫E y z, ∫E z² about the neutral point, of the regions as meshed."""
    error: float
    """Part by which GJ and shear stiffnesses may be too great for the mesh: estimated, on the safe side."""
    shares: Array
    """(t, 3) what each triangle has of the estimate for GJ, GA_y and GA_z, before it is raised."""
    size: float
    """Of the mesh [mm]."""
    residual: float
    """Greatest part of the forces at a node that the solution leaves unbalanced."""
    regions: tuple[Region, ...]
    mesh: Mesh
    nodes: Index
    """(t, 6) of each triangle: its corners, then the middles of 01, 12, 20."""
    warping: Array
    """(n,) ω about the neutral point [mm²]."""
    shearing: Array
    """(n, 2) displacement along the member under a unit force along y, along z [mm per N]."""
    where: str
    notes: tuple[Problem, ...]
    """What was left out, and doubts about thin parts."""

    @cached_property
    def G(self) -> Array:
        """(t,) shear modulus of each triangle [MPa]."""
        return np.array([region.G for region in self.regions])[self.mesh.area]

    @cached_property
    def unit_stress(self) -> Array:
        """(t, 3, 3, 2) τ_xy, τ_xz at each triangle's corners, linear between, under each of three unit loads.

        A torque, and a force along y and along z through the shear centre.
        """
        gradient = elements.gradients(self.mesh)
        stresses = np.empty((len(self.nodes), 3, 3, 2))
        y = self.mesh.points[self.mesh.triangles] - [self.y_na, self.z_na]
        twist = elements.slopes(gradient, self.warping[self.nodes]) + np.stack(
            [-y[..., 1], y[..., 0]], axis=-1
        )
        stresses[:, 0] = self.G[:, None, None] * twist / self.GJ
        for axis in (0, 1):
            slope = elements.slopes(gradient, self.shearing[self.nodes, axis])
            stresses[:, 1 + axis] = self.G[:, None, None] * slope
        return stresses


def solved(
    regions: tuple[Region, ...], mesh: Mesh, *, size: float, where: str, notes: tuple[Problem, ...] = ()
) -> Warping:
    """Return the solution on a mesh.

    Raises
    ------
    StringerlabError
        When there is no stiffness, or a solution leaves more than `RESIDUAL` of the forces unbalanced.
    """
    E, G = (np.array([getattr(each, name) for each in regions])[mesh.area] for name in ("E", "G"))
    if not (np.isfinite(G).all() and (G > 0).all() and np.isfinite(E).all() and (E >= 0).all() and E.any()):
        raise StringerlabError(
            Problem("A part has zero or negative stiffness.", where, "Give its laminate its moduli.")
        )
    ends, edge = meshing.edges(mesh)
    nodes = np.concatenate([mesh.triangles, edge + len(mesh.points)], axis=1)
    count = len(mesh.points) + len(ends)
    A = mesh.sizes
    corners = mesh.points[mesh.triangles]
    EA = float(E @ A)
    na = (E * A) @ corners.mean(axis=1) / EA
    local = corners - na
    EI = elements.second_moments(local, E * A)
    gradient = elements.gradients(mesh)
    stiffness = elements.stiffness(gradient, G * A)
    own = np.empty((len(A), 6, 3))
    own[..., 0] = elements.torsion_load(gradient, local, G * A)
    for axis in (0, 1):
        own[..., 1 + axis] = elements.bending_load(local[..., axis], E * A)
    own[..., 1:] = own[..., 1:] @ np.linalg.inv(EI)
    loads = _gathered(nodes, own, count)
    scale = _gathered(nodes, np.abs(own), count).max(axis=0)
    found, residual = _solution(stiffness, nodes, loads, scale, where)
    polar = elements.polar(local, G * A)
    products = loads.T @ found
    GJ = polar - float(products[0, 0])
    if not GJ > 0:
        raise StringerlabError(
            Problem("The solution gives no torsional stiffness.", where, "Look at its drawing.")
        )
    compliance = products[1:, 1:]
    # A force through the neutral point turns with −ω·load about it.
    turning = -products[0, 1:]
    estimate = elements.estimate(mesh, gradient, G, E, local, EI, found, nodes, edge, len(ends))
    shares = estimate / np.array([GJ, compliance[0, 0], compliance[1, 1]])
    error = SAFETY * float(shares.sum(axis=0).max())
    return Warping(
        GJ=GJ,
        y_s=float(na[0] + turning[1]),
        z_s=float(na[1] - turning[0]),
        GA_y=1 / float(compliance[0, 0]),
        GA_z=1 / float(compliance[1, 1]),
        compliance=compliance,
        y_na=float(na[0]),
        z_na=float(na[1]),
        EA=EA,
        EI=EI,
        error=error,
        shares=shares,
        size=size,
        residual=residual,
        regions=regions,
        mesh=mesh,
        nodes=nodes,
        warping=found[:, 0],
        shearing=found[:, 1:],
        where=where,
        notes=notes,
    )


def _gathered(nodes: Index, own: Array, count: int) -> Array:
    """Return loads (count, 3) from those of every triangle (t, 6, 3)."""
    at = nodes.ravel()
    found = np.empty((count, own.shape[2]))
    for load in range(own.shape[2]):
        found[:, load] = np.bincount(at, own[..., load].ravel(), count)
    return found


def _solution(stiffness: Array, nodes: Index, loads: Array, scale: Array, where: str) -> tuple[Array, float]:
    """Return displacements (n, 3), the last node's 0, and what part of forces is left unbalanced."""
    count = len(loads)
    rows, columns = np.repeat(nodes, 6, axis=1).ravel(), np.tile(nodes, (1, 6)).ravel()
    kept = count - 1
    found = np.zeros((count, 3))
    if count < DENSE and "scipy.sparse.linalg" not in sys.modules:
        dense = np.bincount(rows * count + columns, stiffness.ravel(), count * count).reshape(count, count)
        try:
            found[:kept] = np.linalg.solve(dense[:kept, :kept], loads[:kept])
            left = loads - dense @ found
            found[:kept] += np.linalg.solve(dense[:kept, :kept], left[:kept])
        except np.linalg.LinAlgError:
            raise _failed(where, "it has no solution") from None
        back: Any = dense @ found
        sums: Any = np.abs(dense) @ np.abs(found - found.mean(axis=0))
    else:
        from scipy.sparse import coo_matrix, linalg

        whole: Any = coo_matrix((stiffness.ravel(), (rows, columns)), shape=(count, count)).tocsc()
        try:
            factors = cast(Any, linalg).splu(
                whole[:kept, :kept],
                permc_spec="MMD_AT_PLUS_A",
                diag_pivot_thresh=0.0,
                options={"SymmetricMode": True},
            )
        except RuntimeError:
            raise _failed(where, "it has no solution") from None
        found[:kept] = factors.solve(loads[:kept])
        found[:kept] += factors.solve((loads - whole @ found)[:kept])
        back = whole @ found
        sums = np.abs(whole) @ np.abs(found - found.mean(axis=0))
    # The shapes sum to 1, so that the loads sum to 0 and the held node takes nothing.
    residual = float((np.abs(back - loads).max(axis=0) / (sums.max(axis=0) + scale)).max())
    if not residual <= RESIDUAL:
        raise _failed(where, f"{residual:.1e} of the forces at a node is left unbalanced")
    return found, residual


def _failed(where: str, why: str) -> StringerlabError:
    return StringerlabError(
        Problem(
            f"Torsion and shear could not be solved: {why}.",
            where,
            "Look for slivers and parts of almost no stiffness in the drawing.",
        )
    )
