"""Quadratic triangles with straight edges: exact integrals as sums over corner shapes, and an estimate.

Nodes 0, 1, 2 at the corners, 3, 4, 5 in the middles of 01, 12, 20. Arrays over t triangles. mm, MPa.
"""

from itertools import product
from math import factorial

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.meshing import Mesh

Array = NDArray[np.float64]
Index = NDArray[np.intp]

_ENDS = ((0, 1), (1, 2), (2, 0))


def _mean(powers: tuple[int, int, int]) -> float:
    """Mean of λ0^a λ1^b λ2^c over a triangle."""
    a, b, c = powers
    return 2 * factorial(a) * factorial(b) * factorial(c) / factorial(a + b + c + 2)


Polynomial = dict[tuple[int, int, int], float]


def _plus(*terms: tuple[float, tuple[int, ...]]) -> Polynomial:
    """Sum of coefficient times a product of corner shapes given by their numbers."""
    found: Polynomial = {}
    for coefficient, corners in terms:
        powers = (corners.count(0), corners.count(1), corners.count(2))
        found[powers] = found.get(powers, 0.0) + coefficient
    return found


def _times(one: Polynomial, other: Polynomial) -> Polynomial:
    found: Polynomial = {}
    for (p, a), (q, b) in product(one.items(), other.items()):
        powers = (p[0] + q[0], p[1] + q[1], p[2] + q[2])
        found[powers] = found.get(powers, 0.0) + a * b
    return found


def _derivative(of: Polynomial, corner: int) -> Polynomial:
    found: Polynomial = {}
    for powers, coefficient in of.items():
        if powers[corner]:
            lower = list(powers)
            lower[corner] -= 1
            found[(lower[0], lower[1], lower[2])] = coefficient * powers[corner]
    return found


def _averaged(of: Polynomial) -> float:
    return sum(coefficient * _mean(powers) for powers, coefficient in of.items())


_SHAPES = [_plus((2, (i, i)), (-1, (i,))) for i in range(3)] + [_plus((4, pair)) for pair in _ENDS]
_CORNERS = [_plus((1, (i,))) for i in range(3)]
# Cubic on each edge, 0 at the quadratic nodes, odd along the edge; and the bubble.
_FURTHER = [_plus((1, (i, i, j)), (-1, (i, j, j))) for i, j in _ENDS] + [_plus((1, (0, 1, 2)))]


def _products(one: list[Polynomial], other: list[Polynomial]) -> Array:
    """(9, a·b) mean of ∂one_a/∂λ_i ∂other_b/∂λ_j, row 3 i + j."""
    return np.array(
        [
            [_averaged(_times(_derivative(a, i), _derivative(b, j))) for a in one for b in other]
            for i, j in product(range(3), repeat=2)
        ]
    )


def _weighted(one: list[Polynomial]) -> Array:
    """(9, a) mean of ∂one_a/∂λ_i λ_k, row 3 i + k."""
    return np.array(
        [
            [_averaged(_times(_derivative(a, i), _CORNERS[k])) for a in one]
            for i, k in product(range(3), repeat=2)
        ]
    )


def _masses(one: list[Polynomial]) -> Array:
    """(3, a) mean of one_a λ_k."""
    return np.array([[_averaged(_times(a, _CORNERS[k])) for a in one] for k in range(3)])


_STIFFNESS = _products(_SHAPES, _SHAPES)
_TORSION = _weighted(_SHAPES)
_BENDING = _masses(_SHAPES)
_FURTHER_STIFFNESS = _products(_FURTHER, _FURTHER)[:, [0, 5, 10, 15]]
_FURTHER_COUPLING = _products(_FURTHER, _SHAPES)
_FURTHER_TORSION = _weighted(_FURTHER)
_FURTHER_BENDING = _masses(_FURTHER)
_SQUARES = (np.ones((3, 3)) + np.eye(3)) / 12
# ∂N_a/∂λ_i at corner c is linear in the corner shapes: (3 corners, 6 shapes, 3).
_AT_CORNERS = np.array(
    [
        [
            [
                sum(
                    coefficient
                    for powers, coefficient in _derivative(shape, i).items()
                    if sum(powers) == 0 or powers[corner]
                )
                for i in range(3)
            ]
            for shape in _SHAPES
        ]
        for corner in range(3)
    ]
)


def gradients(mesh: Mesh) -> Array:
    """Return the slopes of the corner shapes (t, 3, 2) [1/mm]."""
    corners = mesh.points[mesh.triangles]
    opposite = np.roll(corners, -2, axis=1) - np.roll(corners, -1, axis=1)
    turned = np.stack([-opposite[..., 1], opposite[..., 0]], axis=-1)
    return turned / (2 * mesh.sizes[:, None, None])


def slopes(gradient: Array, values: Array) -> Array:
    """Return the slope (t, 3, 2) at the corners of what has these values (t, 6) at the nodes."""
    return np.einsum("cai,tid,ta->tcd", _AT_CORNERS, gradient, values, optimize=True)


def stiffness(gradient: Array, weight: Array) -> Array:
    """Return weight × mean of ∇N·∇N, (t, 36)."""
    return (_dots(gradient) * weight[:, None]) @ _STIFFNESS


def torsion_load(gradient: Array, local: Array, weight: Array) -> Array:
    """Return weight × mean of z ∂N/∂y − y ∂N/∂z, (t, 6)."""
    return (_moments(gradient, local) * weight[:, None]) @ _TORSION


def bending_load(height: Array, weight: Array) -> Array:
    """Return weight × mean of N times what has these values at the corners (t, 3), (t, 6)."""
    return (height * weight[:, None]) @ _BENDING


def second_moments(local: Array, weight: Array) -> Array:
    """Return (2, 2) of Σ weight × mean of y y, y z; z y, z z."""
    return np.einsum("tai,ab,tbj,t->ij", local, _SQUARES, local, weight, optimize=True)


def polar(local: Array, weight: Array) -> float:
    """Return Σ weight × mean of y² + z²."""
    return float(np.trace(second_moments(local, weight)))


def estimate(
    mesh: Mesh,
    gradient: Array,
    G: Array,
    E: Array,
    local: Array,
    EI: Array,
    found: Array,
    nodes: Index,
    edge: Index,
    edges: int,
) -> Array:
    """Return (t, 3) the energy a solution one degree higher would add: of torsion, of shear along y, along z.

    Every edge's cubic shape and every triangle's bubble by itself, under what the solution leaves there; an
    edge's is shared among its triangles.
    """
    A = mesh.sizes
    dots = _dots(gradient) * (G * A)[:, None]
    diagonal = dots @ _FURTHER_STIFFNESS
    coupling = (dots @ _FURTHER_COUPLING).reshape(-1, 4, 6)
    loads = np.empty((len(A), 4, 3))
    loads[..., 0] = (_moments(gradient, local) * (G * A)[:, None]) @ _FURTHER_TORSION
    for axis in (0, 1):
        loads[..., 1 + axis] = (local[..., axis] * (E * A)[:, None]) @ _FURTHER_BENDING
    loads[..., 1:] = loads[..., 1:] @ np.linalg.inv(EI)
    left = loads - coupling @ found[nodes]
    bubbles = left[:, 3] ** 2 / diagonal[:, 3:]
    # An edge's cubic shape is odd: it runs from the lower vertex to the higher in both triangles.
    start = mesh.triangles
    sign = np.where(start < np.roll(start, -1, axis=1), 1.0, -1.0)
    stiff = np.bincount(edge.ravel(), diagonal[:, :3].ravel(), edges)
    sums = np.stack(
        [np.bincount(edge.ravel(), (sign * left[:, :3, load]).ravel(), edges) for load in range(3)], axis=1
    )
    of_edges = sums**2 / (stiff * np.bincount(edge.ravel(), minlength=edges))[:, None]
    return np.asarray(bubbles + of_edges[edge].sum(axis=1))


def _dots(gradient: Array) -> Array:
    """(t, 9) ∇λ_i·∇λ_j."""
    return (gradient @ gradient.transpose(0, 2, 1)).reshape(-1, 9)


def _moments(gradient: Array, local: Array) -> Array:
    """(t, 9) z_k ∂λ_i/∂y − y_k ∂λ_i/∂z."""
    found = gradient[:, :, None, 0] * local[:, None, :, 1] - gradient[:, :, None, 1] * local[:, None, :, 0]
    return np.asarray(found).reshape(-1, 9)
