"""Laminates as plates along a member: bending stiffness with B reduced away, alone or side by side. N, mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf, pi, sin

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import abd, axial_moduli, is_sandwich, mark_of, skins, thickness
from stringerlab.laminate.records import Moduli, Role, Stack
from stringerlab.workings import Known, weakest

Array = NDArray[np.float64]
_KEPT = 256
_STIFFNESS = ("thickness", "E1", "E2", "G12", "nu12")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Skin:
    """The skin of a cored strip that wrinkles first [MPa]."""

    E: float
    E_c: float
    G_c: float
    honeycomb: bool = False
    """Whether its core is one, into whose cells it may dimple."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sheet:
    """A laminate as a plate: its stiffness per width, B reduced away."""

    D: Array
    """(3, 3) D − B A⁻¹ B [N·mm]."""
    Et: float
    """Along the member, free to contract [N/mm]."""
    Gt: float
    """In the plane, of the reinforced plies' laminate [N/mm]."""
    t: float
    S: float
    """Shear stiffness across the core G d²/t [N/mm]; infinite without a core."""
    skin: Skin | None
    known: Known


@lru_cache(_KEPT)
def sheet(stack: Stack) -> Sheet:
    """Return a laminate as a plate along the member.

    Raises
    ------
    StringerlabError
        When it has no stiffness in some direction.
    """
    whole = abd(stack)
    A, B, D = whole[:3, :3], whole[:3, 3:], whole[3:, 3:]
    if not np.linalg.cond(A) < 1 / np.finfo(float).eps:
        raise StringerlabError(Problem("has no stiffness in its plane.", f"laminate '{stack.name}'"))
    reduced = D - B @ np.linalg.solve(A, B)
    core = _core(stack) if is_sandwich(stack) else None
    t_reinforced = sum(ply.thickness for ply in stack.plies if ply.role is Role.REINFORCED)
    return Sheet(
        D=(reduced + reduced.T) / 2,
        Et=_axial(stack),
        Gt=float(1 / np.linalg.inv(A)[2, 2]) if t_reinforced else 0.0,
        t=thickness(stack),
        S=inf if core is None else core[0],
        skin=None if core is None else core[1],
        known=weakest(
            (mark_of(ply, *_STIFFNESS) for ply in stack.plies if ply.role is not Role.GEL_COAT),
            default=Known.ESTIMATE,
        ),
    )


def _axial(stack: Stack) -> float:
    t = np.array([ply.thickness for ply in stack.plies])
    return float(axial_moduli(stack, Moduli.CONTRACTED) @ t)


def _core(stack: Stack) -> tuple[float, Skin]:
    outer, cores, inner = skins(stack)
    sides = [side for side in (outer, inner) if thickness(side)]
    t_c = sum(core.thickness for core in cores)
    G, E_c = min(core.G12 for core in cores), min(core.E1 for core in cores)
    d = t_c + sum(thickness(side) for side in sides) / 2
    # of two skins of other moduli the stiffer wrinkles at the lesser strain
    E = max(_axial(side) / thickness(side) for side in sides)
    return G * d * d / t_c, Skin(E=E, E_c=E_c, G_c=G, honeycomb=honeycomb(stack))


def honeycomb(stack: Stack) -> bool:
    """Whether a core of a laminate is called a honeycomb: the book has no field for it, nor a cell size."""
    return any(ply.role is Role.CORE and "honeycomb" in ply.name.lower() for ply in stack.plies)


def mixed(parts: Sequence[tuple[float, float, Sheet]], *, free: bool) -> Sheet:
    """Return pieces side by side as one, each from … to as parts of the width.

    What bends along and twists counts by its share, what bends across in series. Shares are of the work in a
    half sine across the width, where both edges are held; of the width where one is free.
    """
    if len(parts) == 1 and parts[0][1] - parts[0][0] > 0.999:
        return parts[0][2]
    long = sum(to - at for at, to, _ in parts)
    if free:
        share = np.array([(to - at) / long for at, to, _ in parts])
        twist = share
    else:
        share = np.array(
            [(to - at) - (sin(2 * pi * to) - sin(2 * pi * at)) / (2 * pi) for at, to, _ in parts]
        )
        twist = np.array([2 * (to - at) for at, to, _ in parts]) - share
        share, twist = share / share.sum(), twist / twist.sum()
    sheets = [one for _, _, one in parts]
    D = np.einsum("k,kij->ij", share, np.array([one.D for one in sheets]))
    D[2, 2] = float(twist @ np.array([one.D[2, 2] for one in sheets]))
    across = np.array([one.D[1, 1] for one in sheets])
    D[1, 1] = 1 / float(share @ (1 / across))
    D[0, 1] = D[1, 0] = min(D[0, 1], 0.99 * float(np.sqrt(D[0, 0] * D[1, 1])))
    widest = max(parts, key=lambda part: part[1] - part[0])[2]
    return Sheet(
        D=D,
        Et=float(share @ np.array([one.Et for one in sheets])),
        Gt=float(share @ np.array([one.Gt for one in sheets])),
        t=widest.t,
        S=min(one.S for one in sheets),
        skin=next((one.skin for one in sheets if one.skin is not None), None),
        known=weakest(one.known for one in sheets),
    )
