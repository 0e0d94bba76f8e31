"""A stack's strengths: ply by ply along x, in shear, in bending, and at the first ply to fail.

Axes, units and z as in ``records`` and ``theory``. Loads are resultants per width: N [N/mm], M [N·mm/mm].
"""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import failure, theory
from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.laminate.stiffness import (
    Layers,
    deformation,
    glass_content,
    is_sandwich,
    layers_of,
    reinforced,
    solved,
)
from stringerlab.materials import estimates
from stringerlab.materials.records import PlyKind
from stringerlab.workings import Array, Known, weakest

_KEPT = 4096
_SQUARE = 1e-9
_BALANCED = (PlyKind.MAT, PlyKind.WOVEN_ROVING, PlyKind.BIAXIAL)
_STIFFNESS = ("thickness", "E1", "E2", "G12", "nu12")
_STRENGTHS = ("tension_1", "compression_1", "tension_2", "compression_2", "shear")


class Criterion(StrEnum):
    """How a ply's failure is judged."""

    MAXIMUM_STRAIN = "maximum strain"
    MAXIMUM_STRESS = "maximum stress"
    TSAI_WU = "Tsai–Wu"
    TSAI_HILL = "Tsai–Hill"


class Face(StrEnum):
    """The face of a ply."""

    MOULD = "mould face"
    FREE = "face away from the mould"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resultants:
    """Forces (x, y, xy) [N/mm] and moments (x, y, xy) [N·mm/mm] per width, about mid-thickness."""

    N: tuple[float, float, float] = (0.0, 0.0, 0.0)
    M: tuple[float, float, float] = (0.0, 0.0, 0.0)

    @property
    def array(self) -> Array:
        """All six (6,)."""
        return np.array([*self.N, *self.M])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strengths:
    """Strengths along x of every ply (plies,) [MPa], nan when missing, and how well they are known."""

    tension: Array
    compression: Array
    interlaminar: Array
    marks: NDArray[np.int8]
    """Rank of the weakest mark of the ply's thickness, modulus along x and strengths."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlyStates:
    """Strains and stresses of every ply at both faces, mould face first: (plies, 2, 3) [–, MPa].

    ``strain`` and ``stress`` are in the laminate's axes, ``strain_12`` and ``stress_12`` in the ply's.
    """

    deformation: Array
    """Mid-thickness strains and curvatures (6,) [–, 1/mm]."""
    z: Array
    """Heights of the faces (plies + 1,) [mm]."""
    strain: Array
    stress: Array
    strain_12: Array
    stress_12: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Failure:
    """The ply that fails at a multiple of the given load."""

    factor: float
    ply: int
    """Its number as drawn up, counted from the mould, gel coat too."""
    name: str
    face: Face
    criterion: Criterion
    known: Known


def part_of_weaker(tension: Array, compression: Array, of_tension: Array, of_compression: Array) -> Array:
    """Return what part the weaker of two strengths is of the same one of other strengths; nan for none."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(compression < tension, compression / of_compression, tension / of_tension)


def mark_of(ply: PlyNumbers, *names: str) -> Known:
    """Return the weakest mark of a ply's named properties; missing ones do not count."""
    return weakest(known for name, known in ply.marks if name in names)


@lru_cache(maxsize=_KEPT)
def uniaxial_strengths(stack: Stack) -> Strengths:
    """Return the strengths along x of every ply standing alone, off its axes by Tsai–Wu; a core's are nan."""
    count = len(stack.plies)
    tension, compression, interlaminar = (np.full(count, np.nan) for _ in range(3))
    marks = np.zeros(count, dtype=np.int8)
    for index, ply in enumerate(stack.plies):
        tension[index], compression[index], interlaminar[index], marks[index] = _standing_alone(ply)
    for array in (tension, compression, interlaminar, marks):
        array.setflags(write=False)
    return Strengths(tension=tension, compression=compression, interlaminar=interlaminar, marks=marks)


@lru_cache(maxsize=_KEPT)
def shear_strength(stack: Stack) -> tuple[float, Known]:
    """Return the in-plane shear strength at the first ply to fail, over the reinforced thickness [MPa].

    By Tsai–Wu, the lesser of both signs; the laminate is held flat and its core carries nothing. nan when
    a ply lacks a strength.
    """
    data = layers_of(stack)
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies])
    plies = reinforced(stack)
    if not plies:
        return np.nan, Known.ESTIMATE
    known = weakest(mark_of(ply, *_STIFFNESS, *_STRENGTHS) for ply in plies)
    bar, t = data.bar[counted], data.t[counted]
    extension = np.einsum("kij,k->ij", bar, t)
    strain = solved(extension, np.array([[0.0], [0.0], [t.sum()]]))[:, 0]
    stress = np.einsum("kij,kjl,l->ki", theory.stress_turn(data.angle[counted]), bar, strain)
    strengths = data.strengths[counted]
    factors = [failure.tsai_wu(sign * stress, strengths) for sign in (1, -1)]
    return float(np.min(factors)), known


@lru_cache(maxsize=_KEPT)
def flexural_strength(stack: Stack) -> tuple[float, Known]:
    """Return the flexural strength of a single skin [MPa].

    By the published fit on the glass content of all its plies together, when they are mats, woven
    rovings and 0/90 plies laid square; where a ply has a tested value, the least of the plies' own.
    nan where neither holds, and for a sandwich.
    """
    plies = reinforced(stack)
    if not plies or is_sandwich(stack) or any(ply.flexural is None for ply in plies):
        return np.nan, Known.ESTIMATE
    known = weakest(mark_of(ply, "flexural") for ply in plies)
    if any("flexural" in ply.tested for ply in plies):
        return min(_number(ply.flexural) for ply in plies), known
    if not all(ply.kind in _BALANCED and _square(ply) for ply in plies):
        return np.nan, Known.ESTIMATE
    return float(estimates.fit_flexural(glass_content(stack))), known


def ply_states(stack: Stack, load: Resultants) -> PlyStates:
    """Return strains and stresses of every ply under resultants.

    Raises
    ------
    StringerlabError
        When the laminate has no stiffness against the load.
    """
    return _states(layers_of(stack), load.array)


def first_failure(
    stack: Stack, load: Resultants, criterion: Criterion = Criterion.TSAI_WU
) -> tuple[Failure, Failure]:
    """Return the first reinforced ply to fail under a growing load, and under the opposite load.

    Raises
    ------
    StringerlabError
        When a ply lacks a strength, or the laminate has no stiffness against the load.
    """
    _refuse_missing(stack)
    states = ply_states(stack, load)
    counted = np.array([ply.role is Role.REINFORCED for ply in stack.plies])
    positive, negative = (
        _governing(stack, _factors(layers_of(stack), states, sign, criterion), counted, criterion)
        for sign in (1, -1)
    )
    return positive[1], negative[1]


def successive_failures(
    stack: Stack, load: Resultants, criterion: Criterion = Criterion.TSAI_WU
) -> tuple[Failure, ...]:
    """Return the plies in the order in which they fail under a growing load, each wholly discounted then.

    The greatest factor is the load at the last ply.

    Raises
    ------
    StringerlabError
        When a ply lacks a strength, or the laminate has no stiffness against the load.
    """
    _refuse_missing(stack)
    data = layers_of(stack)
    left = np.array([ply.role is Role.REINFORCED for ply in stack.plies])
    kept = ~left
    found: list[Failure] = []
    while left.any():
        reduced = Layers(
            t=data.t,
            E1=np.where(left | kept, data.E1, 0.0),
            E2=np.where(left | kept, data.E2, 0.0),
            G12=np.where(left | kept, data.G12, 0.0),
            nu12=data.nu12,
            angle=data.angle,
            strengths=data.strengths,
        )
        states = _states(reduced, load.array)
        index, broken = _governing(stack, _factors(reduced, states, 1, criterion), left, criterion)
        if not np.isfinite(broken.factor):
            break
        found.append(broken)
        left[index] = False
    return tuple(found)


def _states(data: Layers, load: Array) -> PlyStates:
    bar, z = data.bar, theory.interfaces(data.t)
    deformed = deformation(data.abd, load)
    strain = theory.face_strains(deformed, z)
    stress = np.einsum("kij,kfj->kfi", bar, strain)
    return PlyStates(
        deformation=deformed,
        z=z,
        strain=strain,
        stress=stress,
        strain_12=np.einsum("kij,kfj->kfi", theory.strain_turn(data.angle), strain),
        stress_12=np.einsum("kij,kfj->kfi", theory.stress_turn(data.angle), stress),
    )


def _factors(data: Layers, states: PlyStates, sign: int, criterion: Criterion) -> Array:
    """Return the load multiple at failure of every ply at both faces, (plies, 2)."""
    strengths = data.strengths[:, None, :]
    stress = sign * states.stress_12
    match criterion:
        case Criterion.MAXIMUM_STRAIN:
            moduli = np.stack([data.E1, data.E2, data.G12], axis=-1)[:, None, :]
            return failure.maximum_strain(sign * states.strain_12, strengths, moduli)
        case Criterion.MAXIMUM_STRESS:
            return failure.maximum_stress(stress, strengths)
        case Criterion.TSAI_WU:
            return failure.tsai_wu(stress, strengths)
        case Criterion.TSAI_HILL:
            return failure.tsai_hill_signed(stress, strengths)


def _governing(
    stack: Stack, factors: Array, counted: NDArray[np.bool_], criterion: Criterion
) -> tuple[int, Failure]:
    """Return the place in the stack of the ply that fails first, and its failure."""
    limited = np.where(counted[:, None], factors, np.inf)
    index, face = np.unravel_index(int(np.argmin(limited)), limited.shape)
    ply = stack.plies[int(index)]
    return int(index), Failure(
        factor=float(limited[index, face]),
        ply=stack.numbers[int(index)],
        name=ply.name,
        face=Face.MOULD if face == 0 else Face.FREE,
        criterion=criterion,
        known=weakest(mark_of(each, *_STIFFNESS, *_STRENGTHS) for each in reinforced(stack)),
    )


def _refuse_missing(stack: Stack) -> None:
    problems = [
        Problem(
            f"'{ply.name}' has no strength for: {', '.join(missing)}.",
            f"laminate '{stack.name}', ply {number}",
            "Enter tested values, or the failing strains of its fibre and resin.",
        )
        for number, ply in zip(stack.numbers, stack.plies, strict=True)
        if ply.role is Role.REINFORCED
        and (missing := [name.replace("_", " ") for name in _STRENGTHS if getattr(ply, name) is None])
    ]
    if not reinforced(stack):
        problems.append(Problem("has no reinforced ply.", f"laminate '{stack.name}'", "Add at least one."))
    if problems:
        raise StringerlabError(problems)


@lru_cache(maxsize=_KEPT)
def _standing_alone(ply: PlyNumbers) -> tuple[float, float, float, int]:
    """Return a ply's strengths along x in tension, compression and between plies, and its mark's rank."""
    c, s = abs(np.cos(ply.angle)), abs(np.sin(ply.angle))
    names = ("E1", "tension_1", "compression_1")
    tension = compression = interlaminar = np.nan
    if ply.role is Role.REINFORCED:
        interlaminar = _number(ply.interlaminar)
        if s < _SQUARE:
            tension, compression = _number(ply.tension_1), _number(ply.compression_1)
        elif c < _SQUARE:
            names = ("E2", "tension_2", "compression_2")
            tension, compression = _number(ply.tension_2), _number(ply.compression_2)
        else:
            names = (*_STIFFNESS, *_STRENGTHS)
            tension, compression = _off_axis(layers_of(Stack(name="", plies=(ply,))), 0)
    return tension, compression, interlaminar, mark_of(ply, "thickness", "interlaminar", *names).rank


def _off_axis(data: Layers, index: int) -> tuple[float, float]:
    unit = theory.stress_turn(data.angle[index]) @ np.array([1.0, 0.0, 0.0])
    strengths = data.strengths[index]
    return float(failure.tsai_wu(unit, strengths)), float(failure.tsai_wu(-unit, strengths))


def _square(ply: PlyNumbers) -> bool:
    return min(abs(np.sin(ply.angle)), abs(np.cos(ply.angle))) < _SQUARE


def _number(value: float | None) -> float:
    return np.nan if value is None else value
