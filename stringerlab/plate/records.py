"""Plates as arrays, and what bending does to them. N, mm, MPa; per-width moments in N, forces in N/mm.

x runs along the short side b, y along the long side l, both 0 in the middle; z away from the mould, the way
the pressure pushes. M = ∫σ z dz, tension positive: a panel has M > 0 in its middle, M < 0 at held edges.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.laminate import Stack, interface_heights, layers
from stringerlab.laminate.records import Role
from stringerlab.laminate.stiffness import solved
from stringerlab.workings import Array

CLAMPED = np.inf
"""The spring of an edge that cannot turn; 0 is a simple edge."""
_HOMOGENEOUS = 5 / 6
"""Shear factor of a homogeneous thickness."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Plates:
    """n plates: sides (n,), stiffness, rotational springs of their edges [N·mm/mm per rad], rise."""

    b: Array
    l: Array
    D: Array
    """Bending stiffness (n, 3, 3) [N·mm], that of moments alone: D* where B is not 0."""
    S: Array
    """Transverse shear stiffness in x and y (n, 2) [N/mm]."""
    spring_x: Array
    """Of both edges across x, the long ones: ``CLAMPED``, 0 or between."""
    spring_y: Array
    rise: Array
    """Of the middle over the edges at x = ±b/2, towards the pressure [mm]: a shallow cylinder."""
    membrane: Array
    """In-plane compliance (n, 3, 3) [mm/N]: counts only with a rise."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bent:
    """n plates under pressure."""

    w: Array
    """Deflection in the middle (n,) [mm]."""
    middle: Array
    """Moments x, y, xy in the middle (n, 3) [N]."""
    long_edge: Array
    """In the middle of a long edge (n, 3)."""
    short_edge: Array
    """In the middle of a short edge (n, 3)."""
    shear_long: Array
    """Shear force across the middle of a long edge (n,) [N/mm]."""
    shear_short: Array
    thrust: Array
    """Membrane forces x, y, xy in the middle (n, 3) [N/mm]: 0 where flat."""
    residual: Array
    """Pressure that the edges do not get, over the whole (n,): how well the solution has converged."""


def reduced(abd: Array) -> Array:
    """Return D* = D − B A⁻¹ B (…, 3, 3), the bending stiffness where no force acts in the plane.

    Exact for moments in a laminate whose edges are free to draw in, whatever plane z is counted from; less
    than D, so on the safe side for edges that are held in the plane.

    Raises
    ------
    StringerlabError
        When the laminate has no stiffness in its plane.
    """
    a, b, d = abd[..., :3, :3], abd[..., :3, 3:], abd[..., 3:, 3:]
    return d - b.swapaxes(-1, -2) @ solved(a, b)


def shear_stiffness(stack: Stack) -> tuple[float, float]:
    """Return the transverse shear stiffness in x and y [N/mm].

    A sandwich: its cores in series, over d² of its skins' middles. A single skin: 5/6 of Σ G12 t, the
    in-plane modulus standing in for the transverse one.
    """
    cores = [index for index, ply in enumerate(stack.plies) if ply.role is Role.CORE]
    if not cores:
        plies = (ply for ply in stack.plies if ply.role is Role.REINFORCED)
        whole = _HOMOGENEOUS * sum(ply.G12 * ply.thickness for ply in plies)
        return whole, whole
    z = interface_heights(stack)
    first, last = cores[0], cores[-1]
    d = (z[last + 1] + z[-1]) / 2 - (z[0] + z[first]) / 2
    between = stack.plies[first : last + 1]
    if any(ply.G12 <= 0 for ply in between):
        return 0.0, 0.0
    core = float(d**2 / sum(ply.thickness / ply.G12 for ply in between))
    return core, core


def plates(
    stacks: Sequence[Stack],
    b: Array,
    l: Array,
    *,
    spring_x: Array | float = CLAMPED,
    spring_y: Array | float = CLAMPED,
    rise: Array | float = 0.0,
) -> Plates:
    """Return plates of laminates, a row each; an edge clamped unless a spring or 0 is given.

    Raises
    ------
    StringerlabError
        When a laminate has no stiffness in its plane.
    """
    abd = layers(stacks).abd
    n = len(stacks)
    return Plates(
        b=np.asarray(b, dtype=np.float64),
        l=np.asarray(l, dtype=np.float64),
        D=reduced(abd),
        S=np.array([shear_stiffness(stack) for stack in stacks]).reshape(n, 2),
        spring_x=np.broadcast_to(np.asarray(spring_x, dtype=np.float64), (n,)),
        spring_y=np.broadcast_to(np.asarray(spring_y, dtype=np.float64), (n,)),
        rise=np.broadcast_to(np.asarray(rise, dtype=np.float64), (n,)),
        membrane=solved(abd[:, :3, :3], np.broadcast_to(np.eye(3), (n, 3, 3))),
    )
