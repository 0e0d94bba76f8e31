"""A laminate's numbers as arrays over its plies, worked out once a laminate. mm, MPa, g/m²."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from stringerlab import laminate
from stringerlab.laminate.records import Moduli, Role, Stack

Array = NDArray[np.float64]
KEPT = 512
"""Laminates remembered."""


@dataclass(frozen=True, slots=True, eq=False)
class StackSizes:
    """What a laminate measures: arrays over its k plies, away from the mould."""

    levels: Array
    """(k + 1,) distance of each ply's faces from the mould."""
    mass: Array
    """(k,) g/m²."""
    reinforced: NDArray[np.bool_]
    """(k,) whether a ply is fabric and resin."""
    labels: tuple[str, ...]
    """(k,) number and name."""
    thickness: float
    """Without gel coat."""
    without_thickness: tuple[int, ...]
    """Numbers of plies that cannot be."""
    density: Array
    """(k,) mass over thickness, g/m² per mm."""
    fabric: Array
    """(k,) 1 over thickness of a ply of fabric and resin, 0 of others: its width an area of its section.

    A layer's is that of its whole fabric, so that the layers together are one width of it.
    """
    whole: Array
    """(k,) thickness of the ply as drawn up that each is a layer of; its own where it is no layer."""
    web_thickness: float
    """Of the reinforced plies: what carries shear in a web."""


@dataclass(frozen=True, slots=True, eq=False)
class StackStrength:
    """What a laminate carries along the member: arrays over its k plies."""

    E: Array
    tension: Array
    compression: Array
    marks: NDArray[np.int8]


T = TypeVar("T")


class _Remembered(Generic[T]):
    """A function of a laminate, remembered by value, and first by identity: hashing plies is slow."""

    def __init__(self, compute: Callable[[Stack], T]) -> None:
        self._by_value = lru_cache(KEPT)(compute)
        self._by_identity: dict[int, tuple[Stack, T]] = {}

    def __call__(self, stack: Stack) -> T:
        known = self._by_identity.get(id(stack))
        if known is not None and known[0] is stack:
            return known[1]
        value = self._by_value(stack)
        if len(self._by_identity) >= KEPT:
            self._by_identity.clear()
        self._by_identity[id(stack)] = (stack, value)
        return value


def _sizes(stack: Stack) -> StackSizes:
    thickness = np.array([ply.thickness for ply in stack.plies], float)
    reinforced = np.array([ply.role is Role.REINFORCED for ply in stack.plies], bool)
    gel = np.array([ply.role is Role.GEL_COAT for ply in stack.plies], bool)
    mass = np.array([ply.mass for ply in stack.plies], float)
    whole = _whole(stack, thickness)
    return StackSizes(
        levels=np.concatenate([[0.0], np.cumsum(thickness)]),
        mass=mass,
        reinforced=reinforced,
        labels=stack.labels,
        thickness=float(thickness[~gel].sum()),
        without_thickness=tuple(
            number for number, t in zip(stack.numbers, thickness.tolist(), strict=True) if not 0 < t < inf
        ),
        density=_per(mass, thickness),
        fabric=_per(reinforced.astype(float), whole),
        whole=whole,
        web_thickness=float(thickness[reinforced].sum()),
    )


def _whole(stack: Stack, thickness: Array) -> Array:
    """Return for every resolved ply (k,) the thickness of the ply as drawn up that it is a layer of."""
    if not stack.plies:
        return thickness
    begins = np.diff(stack.numbers, prepend=0) != 0
    begins[0] = True
    ply = np.cumsum(begins) - 1
    return np.bincount(ply, weights=thickness).astype(float)[ply]


def _per(amount: Array, thickness: Array) -> Array:
    """Return an amount over a thickness; 0 where that is none, which is a fault of the laminate."""
    return np.divide(amount, thickness, out=np.zeros(len(amount)), where=thickness > 0)


def _strength_with(moduli: Moduli) -> _Remembered[StackStrength]:
    def compute(stack: Stack) -> StackStrength:
        strengths = laminate.uniaxial_strengths(stack)
        return StackStrength(
            E=laminate.axial_moduli(stack, moduli),
            tension=strengths.tension,
            compression=strengths.compression,
            marks=strengths.marks,
        )

    return _Remembered(compute)


stack_sizes = _Remembered(_sizes)
"""Return the sizes of a laminate."""

_STRENGTHS = {moduli: _strength_with(moduli) for moduli in Moduli}


def stack_strength(stack: Stack, moduli: Moduli) -> StackStrength:
    """Return what a laminate carries along the member with these moduli."""
    return _STRENGTHS[moduli](stack)
