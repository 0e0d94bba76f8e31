"""A stack's thickness, mass and stiffness. Axes, units and z as in ``records`` and ``theory``.

Gel coat is mass only: thickness 0 in every stiffness. Arrays run over all plies, gel coat and core
included, and are read-only: equal stacks share them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import ParamSpec, cast

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import theory
from stringerlab.laminate.records import Moduli, PlyNumbers, Role, Stack
from stringerlab.workings import Array

_KEPT = 4096
_SOLVED_TO = 1e-9
_NOTHING = float(np.finfo(float).tiny / np.finfo(float).eps)
"""Below this a number has lost digits of its own: an angle of 1e-299 couples no more than one of 0."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layers:
    """Plies as arrays (…, k), padded with thickness 0: mm, MPa, rad; ``strengths`` (…, k, 5) with nan."""

    t: Array
    E1: Array
    E2: Array
    G12: Array
    nu12: Array
    angle: Array
    strengths: Array

    @property
    def bar(self) -> Array:
        """Stiffness of the plies in the laminate's axes, (…, k, 3, 3) [MPa]."""
        return theory.q_bar(theory.q_matrix(self.E1, self.E2, self.G12, self.nu12), self.angle)

    @property
    def abd(self) -> Array:
        """Stiffness of the laminates about mid-thickness, (…, 6, 6) [N/mm, N, N·mm]."""
        return theory.abd(self.bar, self.t)


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """Engineering constants of a laminate: MPa and ratios."""

    Ex: float
    Ey: float
    Gxy: float
    nu_xy: float
    nu_yx: float


_P = ParamSpec("_P")


def _kept(function: Callable[_P, Array]) -> Callable[_P, Array]:
    """Keep a function's arrays by the value of its arguments, read-only."""

    @lru_cache(maxsize=_KEPT)
    def frozen(*args: _P.args, **named: _P.kwargs) -> Array:
        result = function(*args, **named)
        result.setflags(write=False)
        return result

    frozen.__doc__ = function.__doc__
    return cast(Callable[_P, Array], frozen)


def layers(stacks: Sequence[Stack]) -> Layers:
    """Return many stacks as arrays (n, k), k the greatest number of plies."""
    count = max((len(stack.plies) for stack in stacks), default=0)
    table = np.zeros((len(stacks), count, 11))
    for row, stack in enumerate(stacks):
        for place, ply in enumerate(stack.plies):
            table[row, place] = _row(ply)
    parts = np.moveaxis(table, -1, 0)
    return Layers(
        t=parts[0], E1=parts[1], E2=parts[2], G12=parts[3], nu12=parts[4], angle=parts[5],
        strengths=table[..., 6:],
    )  # fmt: skip


@lru_cache(maxsize=_KEPT)
def layers_of(stack: Stack) -> Layers:
    """Return one stack as arrays (k,)."""
    return one(layers([stack]))


def one(many: Layers) -> Layers:
    """Return the first laminate of many."""
    return Layers(
        t=many.t[0], E1=many.E1[0], E2=many.E2[0], G12=many.G12[0], nu12=many.nu12[0],
        angle=many.angle[0], strengths=many.strengths[0],
    )  # fmt: skip


def thickness(stack: Stack) -> float:
    """Return the thickness without gel coat [mm]."""
    return sum(ply.thickness for ply in stack.plies if ply.role is not Role.GEL_COAT)


def thickness_with_gel(stack: Stack) -> float:
    """Return the thickness of everything [mm]."""
    return sum(ply.thickness for ply in stack.plies)


def dry_mass(stack: Stack) -> float:
    """Return the dry fibre mass [g/m²]."""
    return sum(ply.dry_weight for ply in stack.plies)


def mass(stack: Stack) -> float:
    """Return the mass of everything, gel coat and core included [g/m²]."""
    return sum(ply.mass for ply in stack.plies)


def glass_content(stack: Stack) -> float:
    """Return the glass content by mass of the reinforced plies together."""
    return dry_mass(stack) / sum(ply.mass for ply in reinforced(stack))


def reinforced(stack: Stack) -> tuple[PlyNumbers, ...]:
    """Return the reinforced plies, from the mould on."""
    return tuple(ply for ply in stack.plies if ply.role is Role.REINFORCED)


def is_sandwich(stack: Stack) -> bool:
    """Return whether the stack has a core."""
    return any(ply.role is Role.CORE for ply in stack.plies)


def skins(stack: Stack) -> tuple[Stack, tuple[PlyNumbers, ...], Stack]:
    """Return a sandwich's outer skin (mould side, with its gel coat), its cores and its inner skin.

    Reinforced plies between two cores belong to neither skin.

    Raises
    ------
    StringerlabError
        When the stack has no core.
    """
    places = [index for index, ply in enumerate(stack.plies) if ply.role is Role.CORE]
    if not places:
        raise StringerlabError(Problem("is no sandwich: it has no core.", f"laminate '{stack.name}'"))
    outer = Stack(name=f"{stack.name}, outer skin", plies=stack.plies[: places[0]])
    inner = Stack(name=f"{stack.name}, inner skin", plies=stack.plies[places[-1] + 1 :])
    return outer, tuple(stack.plies[index] for index in places), inner


@_kept
def ply_thicknesses(stack: Stack) -> Array:
    """Return the thickness of every ply, gel coat included (plies,) [mm]."""
    return np.array([ply.thickness for ply in stack.plies])


@_kept
def interface_heights(stack: Stack) -> Array:
    """Return the heights of the plies' faces above mid-thickness without gel coat (plies + 1,) [mm]."""
    return theory.interfaces(layers_of(stack).t)


@_kept
def abd(stack: Stack) -> Array:
    """Return the stiffness (6, 6): A [N/mm], B [N], D [N·mm] about mid-thickness without gel coat."""
    return layers_of(stack).abd


@_kept
def axial_moduli(stack: Stack, moduli: Moduli) -> Array:
    """Return the modulus along x of every ply, gel coat and core 0 (plies,) [MPa].

    Plain: each ply alone under stress along x. Contracted: in a laminate that stretches along x without
    bending and is free to contract and shear (N_y = N_xy = κ = 0), so that Σ E t is 1/a11 of its
    reinforced plies.
    """
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies])
    result = np.zeros(len(stack.plies))
    data = layers_of(stack)
    if not counted.any():
        return result
    if moduli is Moduli.PLAIN:
        result[counted] = theory.modulus_at(
            data.E1[counted], data.E2[counted], data.G12[counted], data.nu12[counted], data.angle[counted]
        )
        return result
    bar = data.bar[counted]
    extension = np.einsum("kij,k->ij", bar, data.t[counted])
    contraction = -solved(extension[1:, 1:], extension[1:, 0])
    result[counted] = bar[:, 0, 0] + bar[:, 0, 1:] @ contraction
    return result


def engineering_constants(stack: Stack) -> Constants:
    """Return the in-plane constants of a laminate held flat, over its thickness without gel coat."""
    compliance = solved(abd(stack)[:3, :3], np.eye(3))
    return _constants(compliance, thickness(stack))


def flexural_constants(stack: Stack) -> Constants:
    """Return the constants of a homogeneous plate as thick that bends alike under moments alone."""
    compliance = solved(abd(stack), np.eye(6))[3:, 3:]
    return _constants(compliance, thickness(stack) ** 3 / 12)


def deformation(stiffness: Array, loads: Array) -> Array:
    """Return mid-thickness strains and curvatures under resultants, (…, 6) [–, 1/mm].

    Parameters
    ----------
    stiffness
        ABD (…, 6, 6).
    loads
        N_x, N_y, N_xy [N/mm] and M_x, M_y, M_xy [N·mm/mm], (…, 6).

    Raises
    ------
    StringerlabError
        When the laminate has no stiffness against the load, so that no solution can be trusted.
    """
    return solved(stiffness, loads[..., None])[..., 0]


def solved(stiffness: Array, loads: Array) -> Array:
    """Return what deforms under loads given as columns, (…, n, m), checked against the loads.

    Raises
    ------
    StringerlabError
        When there is no stiffness against a load, or the solution does not give the loads back.
    """
    try:
        found = np.asarray(np.linalg.solve(stiffness, loads), dtype=np.float64)
    except np.linalg.LinAlgError:
        raise StringerlabError(Problem("The laminate has no stiffness against the load.")) from None
    size = np.abs(stiffness) @ np.abs(found) + np.abs(loads)
    if not np.all(np.abs(stiffness @ found - loads) <= _SOLVED_TO * size + _NOTHING):
        raise StringerlabError(Problem("The laminate's deformation could not be found reliably."))
    return found


def _constants(compliance: Array, size: float) -> Constants:
    c = compliance
    return Constants(
        Ex=float(1 / (size * c[0, 0])),
        Ey=float(1 / (size * c[1, 1])),
        Gxy=float(1 / (size * c[2, 2])),
        nu_xy=float(-c[0, 1] / c[0, 0]),
        nu_yx=float(-c[0, 1] / c[1, 1]),
    )


def _row(ply: PlyNumbers) -> tuple[float, ...]:
    laid = 0.0 if ply.role is Role.GEL_COAT else ply.thickness
    strengths = (ply.tension_1, ply.compression_1, ply.tension_2, ply.compression_2, ply.shear)
    given = (np.nan if strength is None else strength for strength in strengths)
    return (laid, ply.E1, ply.E2, ply.G12, ply.nu12, ply.angle, *given)
