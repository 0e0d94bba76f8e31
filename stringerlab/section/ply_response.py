"""What a wall's plies answer to a unit of axial strain, of shear flow and of twist, by laminate theory.

A wall is free to contract, to shear and held flat (N_y = N_xy = 0, no curvature) under axial strain, and
free to stretch under shear flow (N_x = N_y = 0), so that neither adds to the other's resultant; as in
`stringerlab.laminate.axial_moduli` only reinforced plies count. Twisted, it bends freely. Stresses and
strains in the plies' own axes. N, mm, MPa.
"""

from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.laminate import Moduli, Role, Stack, abd, axial_moduli, interface_heights, layers, theory
from stringerlab.laminate.stiffness import Layers, one, solved
from stringerlab.section.records import FillShape

Array = NDArray[np.float64]
KEPT = 512
STRENGTHS = ("tension_1", "compression_1", "tension_2", "compression_2", "shear", "interlaminar")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Response:
    """Of k plies; a ply that carries nothing has E = 0."""

    E: Array
    """(k,) axial modulus with the wall free to contract."""
    thickness: Array
    """(k,)."""
    strain_x: Array
    """(k, 3) per unit of axial strain."""
    stress_x: Array
    strain_q: Array
    """(k, 3) per unit of shear flow, positive in the laminate's own axes."""
    stress_q: Array
    strain_twist: Array
    """(k, 2, 3) at the mould face and the other, per unit of twisting curvature."""
    stress_twist: Array
    near: Array
    """(k, 2) interlaminar shear at the ply's mould face, per unit of the axial strain's rise along the member
    at the wall's mould face, and per unit of what that rise gains through the wall."""
    far: Array
    """(k, 2) the same at the other face."""
    flow_share: Array
    """(k, 2) shear flow a thickness of the ply takes up along the wall, per the same units."""
    depth: Array
    """(k, 2) distance of the ply's faces from the wall's mould face."""
    strengths: Array
    """(k, 6) tension 1, compression 1, tension 2, compression 2, shear, interlaminar; nan when missing."""
    moduli: Array
    """(k, 3) E1, E2, G12."""
    marks: NDArray[np.int8]
    """(k,) rank of the weakest mark of what makes the ply."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallStiffness:
    """Of a wall as a whole."""

    EA: float
    """Axial, per width [N/mm]."""
    centre: float
    """Of EA, from the mould face [mm]."""
    shear: float
    """Shear flow per shear strain when free to stretch [N/mm]."""
    twist: float
    """Twisting moment per twisting curvature when free to bend, 1/d66 [N·mm]."""


@lru_cache(KEPT)
def response(stack: Stack, moduli: Moduli) -> Response:
    """Return what a laminate's plies answer.

    Raises
    ------
    StringerlabError
        When its plies have no stiffness.
    """
    data = one(layers([stack]))
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies], bool)
    count = len(counted)
    thickness = np.array([ply.thickness for ply in stack.plies], float)
    E = axial_moduli(stack, moduli)
    strain_x, strain_q = np.zeros((count, 3)), np.zeros((count, 3))
    strain_twist, flow = np.zeros((count, 2, 3)), np.zeros(count)
    turn, bar = theory.strain_turn(data.angle), data.bar
    if counted.any():
        axial = _axial_strains(data, counted, moduli, E)
        strain_x[counted] = np.einsum("kij,kj->ki", turn[counted], axial)
        compliance = solved(np.einsum("kij,k->ij", bar[counted], data.t[counted]), np.eye(3))
        sheared = compliance[:, 2]
        strain_q[counted] = turn[counted] @ sheared
        flow[counted] = bar[counted][:, 2] @ sheared
        bent = solved(abd(stack), np.eye(6))[:, 5]
        heights = interface_heights(stack)
        faces = theory.face_strains(bent / bent[5], heights)
        strain_twist[counted] = np.einsum("kij,kfj->kfi", turn, faces)[counted]
    q = theory.q_matrix(data.E1, data.E2, data.G12, data.nu12)
    stress_x, stress_q = (np.einsum("kij,kj->ki", q, strain) for strain in (strain_x, strain_q))
    if moduli is Moduli.PLAIN:
        stress_x = np.einsum("kij,kj->ki", theory.stress_turn(data.angle), E[:, None] * [1.0, 0.0, 0.0])
    edges = np.concatenate([[0.0], np.cumsum(thickness)])
    near, far, share = _interlaminar(E, edges, flow)
    found = Response(
        E=np.asarray(E),
        thickness=thickness,
        strain_x=strain_x,
        stress_x=stress_x,
        strain_q=strain_q,
        stress_q=stress_q,
        strain_twist=strain_twist,
        stress_twist=np.einsum("kij,kfj->kfi", q, strain_twist),
        near=near,
        far=far,
        flow_share=share,
        depth=np.stack([edges[:-1], edges[1:]], axis=1),
        strengths=np.array(
            [
                [np.nan if (s := getattr(ply, name)) is None else s for name in STRENGTHS]
                for ply in stack.plies
            ]
        ).reshape(count, 6),
        moduli=np.stack([data.E1, data.E2, data.G12], axis=1),
        marks=np.array(
            [max((mark.rank for _, mark in ply.marks), default=0) for ply in stack.plies], np.int8
        ),
    )
    for each in fields(found):
        getattr(found, each.name).flags.writeable = False
    return found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Answers:
    """What all plies and fills of a section answer, r in all: components first, named as in `Response`."""

    table: Array
    """(30, r) all but ``twist``, in the order of ``ROWS``."""
    twist: Array
    """(6, 2, r) strain and stress at both faces."""
    lacking: NDArray[np.bool_]
    """(r,) whether a strength is missing."""
    marks: NDArray[np.int8]


ROWS = {
    "E": slice(0, 1),
    "strain_x": slice(1, 4),
    "stress_x": slice(4, 7),
    "strain_q": slice(7, 10),
    "stress_q": slice(10, 13),
    "near": slice(13, 15),
    "far": slice(15, 17),
    "flow_share": slice(17, 19),
    "depth": slice(19, 21),
    "strengths": slice(21, 27),
    "moduli": slice(27, 30),
}
"""Where each of `Response` stands in ``Answers.table``."""


@lru_cache(64)
def answers(stacks: tuple[Stack, ...], fills: tuple[FillShape, ...], moduli: Moduli) -> Answers:
    """Return what the plies of laminates answer, one after another, then fills: these stretch and no more.

    Raises
    ------
    StringerlabError
        When a laminate's plies have no stiffness.
    """
    each = [response(stack, moduli) for stack in stacks]
    plies = sum(len(every.E) for every in each)
    table = np.zeros((30, plies + len(fills)))
    twist = np.zeros((6, 2, plies + len(fills)))
    at = 0
    for every in each:
        part = slice(at, at + len(every.E))
        for name, rows in ROWS.items():
            table[rows, part] = np.atleast_2d(getattr(every, name).T)
        twist[:3, :, part] = every.strain_twist.transpose(2, 1, 0)
        twist[3:, :, part] = every.stress_twist.transpose(2, 1, 0)
        at = part.stop
    modulus = np.array([fill.modulus for fill in fills], float)
    strength = np.array([np.nan if fill.strength is None else fill.strength for fill in fills], float)
    table[ROWS["E"], plies:] = table[ROWS["stress_x"].start, plies:] = modulus
    table[ROWS["strain_x"].start, plies:] = 1.0
    table[ROWS["moduli"], plies:] = modulus
    table[ROWS["strengths"], plies:] = np.inf
    table[ROWS["strengths"].start : ROWS["strengths"].start + 2, plies:] = strength
    found = Answers(
        table=table,
        twist=twist,
        lacking=np.asarray(np.isnan(table[ROWS["strengths"]]).any(axis=0), bool),
        marks=np.concatenate(
            [*(every.marks for every in each), np.array([fill.known.rank for fill in fills], np.int8)]
        ),
    )
    for array in (found.table, found.twist, found.lacking, found.marks):
        array.flags.writeable = False
    return found


@lru_cache(KEPT)
def wall_stiffness(stack: Stack, moduli: Moduli) -> WallStiffness:
    """Return what a wall is worth along the member, in shear and twisted; a wall without plies nothing."""
    found = response(stack, moduli)
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies], bool)
    weight = found.E * found.thickness
    EA = float(weight.sum())
    if not EA > 0:
        return WallStiffness(EA=0.0, centre=0.0, shear=0.0, twist=0.0)
    data = one(layers([stack]))
    compliance = solved(np.einsum("kij,k->ij", data.bar[counted], data.t[counted]), np.eye(3))
    return WallStiffness(
        EA=EA,
        centre=float(weight @ found.depth.mean(axis=1)) / EA,
        shear=1 / float(compliance[2, 2]),
        twist=1 / float(solved(abd(stack), np.eye(6))[5, 5]),
    )


def _axial_strains(data: Layers, counted: NDArray[np.bool_], moduli: Moduli, E: Array) -> Array:
    """Return the strains (n, 3) of the counted plies in the laminate's axes per unit of axial strain."""
    bar = data.bar[counted]
    if moduli is Moduli.CONTRACTED:
        extension = np.einsum("kij,k->ij", bar, data.t[counted])
        contraction = -solved(extension[1:, 1:], extension[1:, 0])
        return np.tile(np.concatenate([[1.0], contraction]), (len(bar), 1))
    unit = np.zeros((len(bar), 3, 1))
    unit[:, 0, 0] = E[counted]
    return np.asarray(np.linalg.solve(bar, unit)[..., 0], dtype=np.float64)


def _interlaminar(E: Array, edges: Array, flow: Array) -> tuple[Array, Array, Array]:
    """Return what balances, along the member, the plies beyond each face: axial gradient less shear taken up.

    The wall's faces are free; each ply takes the part of the wall's shear flow that its stiffness gives it.
    """
    thickness = np.diff(edges)
    per_ply = np.stack([E * thickness, E * (edges[1:] ** 2 - edges[:-1] ** 2) / 2], axis=1)
    total = per_ply.sum(axis=0)
    beyond = np.concatenate([np.cumsum(per_ply[::-1], axis=0)[::-1], np.zeros((1, 2))])
    taken = np.append(np.cumsum((flow * thickness)[::-1])[::-1], 0.0)
    at_faces = beyond - taken[:, None] * total
    at_faces[0] = 0.0
    return at_faces[:-1], at_faces[1:], flow[:, None] * total
