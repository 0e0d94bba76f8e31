"""A graph of thin straight walls in torsion and shear, open or of many cells: exact of thin-wall theory.

Each wall is a middle line from node to node with G t, E t and its own torsional stiffness as an open strip.
Unknown is the warping at the nodes, so that no cell need be found: q = G t (Δω/L + r) θ′. Under a shear force
the flow balances the growth of bending stress, which varies linearly along a wall. N, mm, MPa.
"""

from dataclasses import dataclass
from math import nan

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError

Array = NDArray[np.float64]
Index = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Graph:
    """m walls between n nodes."""

    nodes: Array
    """(n, 2) y and z."""
    ends: Index
    """(m, 2)."""
    Gt: Array
    """(m,) N/mm."""
    Et: Array
    """(m,) N/mm."""
    strip: Array
    """(m,) torsional stiffness per length of wall as an open strip, G t³/3 [N·mm]."""


@dataclass(frozen=True, kw_only=True, eq=False)
class GraphAnswer:
    """What a graph is worth; flows under unit loads T about the shear centre, V_y and V_z through it."""

    GJ: float
    y_s: float
    z_s: float
    GA_y: float
    GA_z: float
    """nan across walls that all lie on one straight line."""
    y_na: float
    z_na: float
    EI: Array
    """(2, 2) ∫E y², ∫E y z; ∫E y z, ∫E z²."""
    flow: Array
    """(m, 2, 3) at each wall's start and end, along it, per unit load [1/mm², 1/mm, 1/mm]."""
    surface: Array
    """(m,) greatest shear stress of the open strip per unit torque over G t: multiply by G t."""


def graph_answer(graph: Graph, where: str = "") -> GraphAnswer:
    """Return torsion and shear of a graph.

    Raises
    ------
    StringerlabError
        When its walls do not hang together, carry nothing, or the solution leaves loads unbalanced.
    """
    start, end = graph.nodes[graph.ends[:, 0]], graph.nodes[graph.ends[:, 1]]
    way = end - start
    length = np.hypot(way[:, 0], way[:, 1])
    weight = graph.Et * length
    EA = float(weight.sum())
    if not EA > 0 or not (graph.Gt > 0).all():
        raise StringerlabError(Problem("A wall has no stiffness.", where, "Give its laminate its moduli."))
    na = weight @ (start + end) / (2 * EA)
    p, q = start - na, end - na
    EI = sum((_outer(weight / 6, each, each) for each in (p + q, p, q)), np.zeros((2, 2)))
    arm = (p[:, 0] * way[:, 1] - p[:, 1] * way[:, 0]) / length
    stiff = graph.Gt / length
    count, (i, j) = len(graph.nodes), graph.ends.T
    both = np.concatenate([i, j])
    at = np.concatenate([i * count + i, j * count + j, i * count + j, j * count + i])
    K: Array = np.zeros((count, count))
    K.ravel()[:] = np.bincount(at, np.concatenate([stiff, stiff, -stiff, -stiff]), count * count)
    inverse = _inverse(EI)
    grown_p: Array = graph.Et[:, None] * (p @ inverse)
    grown_q: Array = graph.Et[:, None] * (q @ inverse)
    sixth = length[:, None] / 6
    turned = graph.Gt * arm
    at_ends = np.column_stack(
        [
            np.concatenate([turned, -turned]),
            np.concatenate([sixth * (2 * grown_p + grown_q), sixth * (grown_p + 2 * grown_q)]),
        ]
    )
    loads = np.zeros((count, 3))
    for load in range(3):
        loads[:, load] = np.bincount(both, at_ends[:, load], count)
    if not _hangs_together(count, graph.ends):
        raise _apart(where)
    found = _solution(K, loads, where)
    turn = (found[j] - found[i]) / length[:, None]
    along = graph.Gt[:, None] * turn
    closed = graph.Gt * arm + along[:, 0]
    GJ = float((closed * arm * length).sum() + (graph.strip * length).sum())
    mean: Array = (grown_p + grown_q) / 2
    change: Array = grown_q - grown_p
    compliance = np.diag(
        _outer(length / graph.Gt, along[:, 1:], along[:, 1:])
        + _outer(length**3 / (12 * graph.Gt), mean, mean)
        + _outer(length**3 / (720 * graph.Gt), change, change)
    )
    GA_y, GA_z = (1 / each if each > 1e-9 * compliance.max() else nan for each in compliance.tolist())
    turning = (along[:, 1:] * (arm * length)[:, None]).sum(axis=0)
    flow = np.empty((len(length), 2, 3))
    flow[:, :, 0] = (closed / GJ)[:, None]
    half: Array = length[:, None] * mean / 2
    small: Array = length[:, None] * change / 12
    flow[:, 0, 1:], flow[:, 1, 1:] = along[:, 1:] + half - small, along[:, 1:] - half - small
    return GraphAnswer(
        GJ=GJ,
        y_s=float(na[0] + turning[1]),
        z_s=float(na[1] - turning[0]),
        GA_y=GA_y,
        GA_z=GA_z,
        y_na=float(na[0]),
        z_na=float(na[1]),
        EI=EI,
        flow=flow,
        surface=np.sqrt(3 * graph.strip / graph.Gt) / GJ,
    )


def _inverse(EI: Array) -> Array:
    """Return the inverse; of walls all on one straight line, which bend along it alone, their own."""
    (yy, yz), (_, zz) = EI.tolist()
    determinant = yy * zz - yz * yz
    if determinant > 1e-12 * (yy + zz) ** 2:
        return np.array([[zz, -yz], [-yz, yy]]) / determinant
    return np.asarray(np.linalg.pinv(EI, rcond=1e-12, hermitian=True), np.float64)


def _hangs_together(count: int, ends: Index) -> bool:
    """Whether every node is reached from every other along walls."""
    above = list(range(count))

    def top(node: int) -> int:
        while above[node] != node:
            above[node] = node = above[above[node]]
        return node

    parts = count
    for start, end in ends.tolist():
        one, other = top(start), top(end)
        if one != other:
            above[one] = other
            parts -= 1
    return parts == 1


def _outer(weight: Array, one: Array, other: Array) -> Array:
    """Return (2, 2) Σ weight one ⊗ other."""
    return np.asarray((one * weight[:, None]).T @ other, np.float64)


def _solution(K: Array, loads: Array, where: str) -> Array:
    """Return warping (n, 3), the first node's 0."""
    found = np.zeros_like(loads)
    try:
        found[1:] = np.linalg.solve(K[1:, 1:], loads[1:])
    except np.linalg.LinAlgError:
        raise _apart(where) from None
    scale = np.abs(K) @ np.abs(found) + np.abs(loads).max(axis=0)
    if not (np.abs(K @ found - loads) <= 1e-9 * scale.max(axis=0)).all():
        raise _apart(where)
    return found


def _apart(where: str) -> StringerlabError:
    return StringerlabError(
        Problem(
            "Its walls' middle lines do not hang together, or some have almost no stiffness.",
            where,
            "Draw the walls in contact.",
        )
    )
