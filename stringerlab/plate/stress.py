"""What breaks first in bent plates: each ply, in the middle and at the middles of the edges; and the core.

Ply strains follow from the moments and membrane forces through the whole laminate, B included, with no other
force in the plane. A multiple is of the load that bent the plates. N, mm, MPa.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.laminate import Criterion, Stack, failure, interface_heights, layers, theory
from stringerlab.laminate.records import Role
from stringerlab.laminate.stiffness import deformation
from stringerlab.plate.records import Bent
from stringerlab.workings import Array

PLACES = ("in the middle", "at the middle of a long edge", "at the middle of a short edge")
CRITERIA = (Criterion.TSAI_WU, Criterion.MAXIMUM_STRAIN)
"""The lesser governs."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FirstPly:
    """The first ply to fail in n plates."""

    factor: Array
    """Multiple of the load (n,); nan where a reinforced ply lacks a strength."""
    ply: NDArray[np.intp]
    """Its place in the stack (n,)."""
    place: NDArray[np.intp]
    """Where, as in ``PLACES`` (n,)."""
    face: NDArray[np.intp]
    """0 its mould face, 1 the face away from the mould."""
    criterion: NDArray[np.intp]
    """By which of ``CRITERIA``."""


def first_ply(stacks: Sequence[Stack], loaded: Bent, reversing: NDArray[np.bool_]) -> FirstPly:
    """Return the first ply to fail; where ``reversing``, under the load or its opposite.

    Raises
    ------
    StringerlabError
        When a laminate has no stiffness against its moments.
    """
    data = layers(stacks)
    n = len(stacks)
    moments = np.stack([loaded.middle, loaded.long_edge, loaded.short_edge], axis=1)
    forces = np.zeros_like(moments)
    forces[:, 0] = loaded.thrust
    loads = np.concatenate([forces, moments], axis=2)
    deformed = deformation(data.abd[:, None], loads)
    strain = theory.face_strains(deformed, theory.interfaces(data.t)[:, None])
    stress = np.einsum("nkij,npkfj->npkfi", data.bar, strain)
    strain_12 = np.einsum("nkij,npkfj->npkfi", theory.strain_turn(data.angle), strain)
    stress_12 = np.einsum("nkij,npkfj->npkfi", theory.stress_turn(data.angle), stress)
    strengths = data.strengths[:, None, :, None, :]
    moduli = np.stack([data.E1, data.E2, data.G12], axis=-1)[:, None, :, None, :]
    counted = _reinforced(stacks, data.t.shape[1])[:, None, :, None]
    signs = (1.0, -1.0)
    factors = np.empty((n, 2, len(CRITERIA), *stress_12.shape[1:4]))
    with np.errstate(divide="ignore", invalid="ignore"):
        for number, sign in enumerate(signs):
            by = (
                failure.tsai_wu(sign * stress_12, strengths),
                failure.maximum_strain(sign * strain_12, strengths, moduli),
            )
            for which, found in enumerate(by):
                factors[:, number, which] = np.where(counted, found, np.inf)
    factors[~reversing, 1] = np.inf
    flat = factors.reshape(n, -1)
    least = np.argmin(flat, axis=1)
    at = _unravelled(least, factors.shape[1:])
    return FirstPly(factor=flat[np.arange(n), least], ply=at[3], place=at[2], face=at[4], criterion=at[1])


def core_shear(stacks: Sequence[Stack], loaded: Bent) -> Array:
    """Return the multiple of the load at which a core shears at an edge (n,).

    The shear is even over the distance of the skins' middles. nan where a core lacks its strength,
    infinite for a single skin.
    """
    shear = np.maximum(loaded.shear_long, loaded.shear_short)
    found = np.full(len(stacks), np.inf)
    for row, stack in enumerate(stacks):
        cores = [index for index, ply in enumerate(stack.plies) if ply.role is Role.CORE]
        if not cores:
            continue
        strengths = [stack.plies[index].shear for index in cores]
        known = [value for value in strengths if value is not None]
        z = interface_heights(stack)
        d = float(z[cores[-1] + 1] + z[-1] - z[0] - z[cores[0]]) / 2
        found[row] = min(known) * d / shear[row] if len(known) == len(strengths) else np.nan
    return found


def _unravelled(flat: NDArray[np.intp], shape: tuple[int, ...]) -> list[NDArray[np.intp]]:
    """Return the places along each axis of places in a flattened array."""
    found: list[NDArray[np.intp]] = []
    for size in reversed(shape):
        found.append(flat % size)
        flat = flat // size
    return found[::-1]


def _reinforced(stacks: Sequence[Stack], most: int) -> NDArray[np.bool_]:
    counted = np.zeros((len(stacks), most), dtype=np.bool_)
    for row, stack in enumerate(stacks):
        counted[row, : len(stack.plies)] = [ply.role is Role.REINFORCED for ply in stack.plies]
    return counted
