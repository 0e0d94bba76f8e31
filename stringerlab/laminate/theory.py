"""Classical lamination theory on arrays: any number of laminates at once.

Axes: 1 along a ply's fibres, 2 across; x, y the laminate's; an angle [rad] turns x to 1. Strains and
stresses are (…, 3): normal, normal, shear (engineering shear strain). Plies run along the last axis
of their arrays (…, k) from the mould on, z away from the mould and 0 at mid-thickness. Laminates of
fewer plies are padded with thickness 0 or nan. N, mm, MPa.
"""

import numpy as np
from numpy.typing import ArrayLike

from stringerlab.workings import Array


def q_matrix(E1: ArrayLike, E2: ArrayLike, G12: ArrayLike, nu12: ArrayLike) -> Array:
    """Return the reduced stiffness of plies in their own axes, (…, 3, 3) [MPa].

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., eq. 2.93 (memory H).
    """
    e1, e2, g, nu = np.broadcast_arrays(*(np.asarray(one, dtype=float) for one in (E1, E2, G12, nu12)))
    ratio = np.divide(e2, e1, out=np.zeros(e1.shape), where=e1 > 0)
    held = 1 - nu**2 * ratio
    q = np.zeros((*e1.shape, 3, 3))
    q[..., 0, 0] = e1 / held
    q[..., 1, 1] = e2 / held
    q[..., 0, 1] = q[..., 1, 0] = nu * e2 / held
    q[..., 2, 2] = g
    return q


def q_bar(q: Array, angle: ArrayLike) -> Array:
    """Return the stiffness of plies in the laminate's axes, (…, 3, 3) [MPa], by Tsai and Pagano's invariants.

    Parameters
    ----------
    q
        Stiffness in the plies' own axes, (…, 3, 3) [MPa].
    angle
        Ply angles (…) [rad].

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., eqs. 2.131 and 2.132 (memory H).
    """
    q11, q12, q22, q66 = q[..., 0, 0], q[..., 0, 1], q[..., 1, 1], q[..., 2, 2]
    u1 = (3 * q11 + 3 * q22 + 2 * q12 + 4 * q66) / 8
    u2 = (q11 - q22) / 2
    u3 = (q11 + q22 - 2 * q12 - 4 * q66) / 8
    u4 = (q11 + q22 + 6 * q12 - 4 * q66) / 8
    u5 = (u1 - u4) / 2
    double, fourfold = 2 * np.asarray(angle, dtype=float), 4 * np.asarray(angle, dtype=float)
    two, four = np.cos(double), np.cos(fourfold)
    bar = np.empty(np.broadcast_shapes(q.shape, (*double.shape, 3, 3)))
    bar[..., 0, 0] = u1 + u2 * two + u3 * four
    bar[..., 1, 1] = u1 - u2 * two + u3 * four
    bar[..., 0, 1] = bar[..., 1, 0] = u4 - u3 * four
    bar[..., 2, 2] = u5 - u3 * four
    bar[..., 0, 2] = bar[..., 2, 0] = u2 / 2 * np.sin(double) + u3 * np.sin(fourfold)
    bar[..., 1, 2] = bar[..., 2, 1] = u2 / 2 * np.sin(double) - u3 * np.sin(fourfold)
    return bar


def interfaces(t: ArrayLike) -> Array:
    """Return the heights of the faces of plies (…, k) above mid-thickness, (…, k + 1) [mm]."""
    thickness = np.nan_to_num(np.asarray(t, dtype=float), nan=0.0)
    top = np.cumsum(thickness, axis=-1)
    z = np.concatenate([np.zeros((*top.shape[:-1], 1)), top], axis=-1)
    return z - top[..., -1:] / 2


def abd(bar: Array, t: ArrayLike) -> Array:
    """Return the stiffness of laminates, (…, 6, 6): A [N/mm], B [N], D [N·mm] about mid-thickness.

    Parameters
    ----------
    bar
        Stiffness of the plies in the laminate's axes, (…, k, 3, 3) [MPa].
    t
        Thickness of the plies (…, k) [mm].

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., eq. 4.28 (memory H).
    """
    thickness = np.nan_to_num(np.asarray(t, dtype=float), nan=0.0)
    z = interfaces(thickness)
    middle = (z[..., 1:] + z[..., :-1]) / 2
    there = thickness > 0
    counted = np.where(there[..., None, None], bar, 0.0)
    matrix = np.empty((*thickness.shape[:-1], 6, 6))
    weights = (thickness, thickness * middle, thickness * (middle**2 + thickness**2 / 12))
    a, b, d = (np.einsum("...kij,...k->...ij", counted, weight) for weight in weights)
    matrix[..., :3, :3] = a
    matrix[..., :3, 3:] = matrix[..., 3:, :3] = b
    matrix[..., 3:, 3:] = d
    return matrix


def strain_turn(angle: ArrayLike) -> Array:
    """Return the matrix that turns strains from the laminate's axes to the ply's, (…, 3, 3)."""
    c, s = np.cos(np.asarray(angle, dtype=float)), np.sin(np.asarray(angle, dtype=float))
    turn = np.empty((*c.shape, 3, 3))
    turn[..., 0, :] = np.stack([c * c, s * s, s * c], axis=-1)
    turn[..., 1, :] = np.stack([s * s, c * c, -s * c], axis=-1)
    turn[..., 2, :] = np.stack([-2 * s * c, 2 * s * c, c * c - s * s], axis=-1)
    return turn


def stress_turn(angle: ArrayLike) -> Array:
    """Return the matrix that turns stresses from the laminate's axes to the ply's, (…, 3, 3)."""
    turn = strain_turn(angle)
    turn[..., :2, 2] *= 2
    turn[..., 2, :2] /= 2
    return turn


def face_strains(deformation: Array, z: Array) -> Array:
    """Return strains at both faces of each ply in the laminate's axes, (…, k, 2, 3).

    Parameters
    ----------
    deformation
        Mid-thickness strains and curvatures (…, 6).
    z
        Heights of the faces (…, k + 1) [mm].
    """
    faces = np.stack([z[..., :-1], z[..., 1:]], axis=-1)
    strains, curvatures = deformation[..., None, None, :3], deformation[..., None, None, 3:]
    return strains + faces[..., None] * curvatures


def modulus_at(E1: ArrayLike, E2: ArrayLike, G12: ArrayLike, nu12: ArrayLike, angle: ArrayLike) -> Array:
    """Return the modulus along x of plies standing alone under stress along x only (…) [MPa].

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., eq. 2.112 (memory H).
    """
    e1, e2, g, nu, turn = (np.asarray(one, dtype=float) for one in (E1, E2, G12, nu12, angle))
    c, s = np.cos(turn), np.sin(turn)
    return 1 / (c**4 / e1 + s**4 / e2 + (1 / g - 2 * nu / e1) * (s * c) ** 2)
