"""A beam grid in plan as arrays: nodes, beams, springs and loads; and what its solution gives. N, mm, rad.

Three freedoms a node: deflection w (up, z), rotations θx and θy (right-handed, about x and y). A beam runs
from its first node to its second; its bending moment M puts what lies inboard (up) in tension when positive,
as in a section; its shear V = dM/ds; its torque T turns y to z about its own direction.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Grid:
    """n nodes, m beams."""

    nodes: Array
    """(n, 2) plan places x, y."""
    beams: Index
    """(m, 2) node indices."""
    EI: Array
    """(m,) N·mm²."""
    GA: Array
    """(m,) shear stiffness [N]; inf for none."""
    GJ: Array
    """(m,) N·mm²."""
    springs: Array
    """(n, 3) to earth on w, θx, θy: N/mm, N·mm/rad; inf holds, 0 frees."""
    pinned: NDArray[np.bool_] | None = None
    """(m, 2) beam ends that carry no bending moment into their node."""
    mass: Array | None = None
    """(m,) per length of beam [kg/mm], for frequencies."""
    lumped: Array | None = None
    """(n,) masses at nodes [kg]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loads:
    """p load cases: forces on beams at points along them, and at nodes, as sparse triplets.

    Point q lies at ``along[q]`` (0 to 1) of beam ``beam[q]``, both (k,); ``amount[q, case]`` pushes up.
    ``nodal`` (n, 3, p): forces and moments at nodes.
    """

    beam: Index
    along: Array
    amount: object
    """(k, p) N: an array, or a scipy.sparse matrix."""
    nodal: Array | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solved:
    """p cases solved; forces at ``places`` along every beam."""

    w: Array
    """(n, 3, p) deflection and rotations of nodes."""
    places: Array
    """(s,) 0 to 1 along each beam."""
    M: Array
    """(m, s, p) bending moment, inboard in tension positive."""
    V: Array
    """(m, s, p) shear."""
    T: Array
    """(m, p) torque."""
    reactions: Array
    """(n, 3, p) of springs on the grid."""
    residual: float
    """Greatest ‖K w − f‖/‖f‖."""
    imbalance: float
    """Greatest of force and moments about the origin that do not balance, over the load's."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Envelope:
    """Extremes over cases, beam by beam and place by place, and which case gave them."""

    places: Array
    M_max: Array
    """(m, s)."""
    M_min: Array
    V_abs: Array
    T_abs: Array
    """(m,)."""
    w_max: Array
    """(n,) greatest upward deflection of nodes."""
    w_min: Array
    R_max: Array
    """(n,) greatest upward reaction of the spring on w."""
    R_min: Array
    case_M_max: Index
    """(m, s)."""
    case_M_min: Index
    case_V: Index
    """(m, s)."""
