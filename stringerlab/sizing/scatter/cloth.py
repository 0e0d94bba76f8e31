"""The plies of one laminate as they come out of the laying: their numbers over factors, n samples at once.

What a glass content makes of a ply is worked out by the program's own estimate at a few of them and
interpolated between by polynomials (Chebyshev places), with the error measured in between. mm, MPa, g/m².
"""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, PlyNumbers, Role, Stack
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.materials import Book
from stringerlab.methods.evaluation import Evaluation
from stringerlab.workings import Array

NODES = 13
"""Glass contents at which a laminate is worked out."""
_STIFF = ("E1", "E2", "G12")
_STRONG = ("tension_1", "compression_1", "tension_2", "compression_2", "shear", "flexural", "interlaminar")
_NAMES = ("thickness", "mass", *_STIFF, "nu12", *_STRONG)
_STEPS = 30


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Factors:
    """Factors (n,) on a laminate's nominal values."""

    thickness: Array
    glass: Array
    modulus: Array
    strength: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sampled:
    """Plies of n samples of a laminate, (n, k) each."""

    thickness: Array
    mass: Array
    E1: Array
    E2: Array
    G12: Array
    nu12: Array
    strengths: Array
    """(n, k, 5) as the method takes them: tension 1, compression 1, tension 2, compression 2, shear."""
    flexural: Array
    interlaminar: Array
    strength: Array
    """(n,) the factor on strengths."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cloth:
    """A laminate's plies over the glass content."""

    stack: Stack
    """As it is without scatter."""
    low: float
    high: float
    """Factors on the glass content between which its estimates hold; beyond, the nearer end's count."""
    values: Array
    """(nodes, k, properties)."""
    error: float
    """Greatest relative error measured between the nodes."""

    def sampled(self, factors: Factors) -> Sampled:
        """Return the plies of n samples."""
        table = self.at(factors.glass)
        of = {name: table[:, :, place] for place, name in enumerate(_NAMES)}
        laid = np.array([ply.role is Role.REINFORCED for ply in self.stack.plies])
        t, e, s = (
            np.where(laid, one[:, None], 1.0)
            for one in (factors.thickness, factors.modulus, factors.strength)
        )
        return Sampled(
            thickness=of["thickness"] * t,
            mass=of["mass"],
            E1=of["E1"] * e,
            E2=of["E2"] * e,
            G12=of["G12"] * e,
            nu12=of["nu12"],
            strengths=np.stack([of[name] * s for name in _STRONG[:5]], axis=-1),
            flexural=of["flexural"] * s,
            interlaminar=of["interlaminar"] * s,
            strength=factors.strength,
        )

    def at(self, glass: Array) -> Array:
        """Return the properties (n, k, properties) at factors (n,) on the glass content."""
        if len(self.values) == 1:
            return np.broadcast_to(self.values, (len(glass), *self.values.shape[1:]))
        weights = _weights(np.clip(glass, self.low, self.high), self.low, self.high)
        flat = self.values.reshape(len(self.values), -1)
        return (weights @ flat).reshape(len(glass), *self.values.shape[1:])


def cloth(
    laminate: Laminate, book: Book, stack: Stack, evaluation: Evaluation, glass: tuple[float, float] | None
) -> Cloth:
    """Return a laminate over the glass content.

    Parameters
    ----------
    laminate, book
        As drawn up, and its materials.
    stack
        The same, resolved.
    evaluation
        How the method takes strengths.
    glass
        Between which factors its glass content is asked for; None where it does not scatter.
    """
    here = _numbers(evaluation.judged(stack))
    if glass is None:
        return Cloth(stack=stack, low=1.0, high=1.0, values=here[None], error=0.0)
    low = _furthest(laminate, book, stack, min(glass[0], 1.0))
    high = _furthest(laminate, book, stack, max(glass[1], 1.0))
    if not high > low:
        return Cloth(stack=stack, low=1.0, high=1.0, values=here[None], error=0.0)

    def at(factor: float) -> Array:
        return _numbers(evaluation.judged(laid_at(laminate, book, stack, factor)))

    nodes = _nodes(low, high)
    found = Cloth(stack=stack, low=low, high=high, values=np.stack([at(node) for node in nodes]), error=0.0)
    between = (np.array([*nodes[:-1]]) + np.array([*nodes[1:]])) / 2
    exact = np.stack([at(float(one)) for one in between])
    with np.errstate(invalid="ignore", divide="ignore"):
        off = np.abs(found.at(between) / exact - 1)
    return dataclasses.replace(found, error=float(np.nan_to_num(off, nan=0.0, posinf=0.0).max(initial=0.0)))


def laid_at(laminate: Laminate, book: Book, stack: Stack, factor: float) -> Stack:
    """Return a laminate laid at its glass contents times a factor, its strengths resting on what they did.

    Raises
    ------
    StringerlabError
        When an estimate does not hold there.
    """
    plies = tuple(
        dataclasses.replace(ply, glass=held * factor) if (held := _glass(stack, number)) else ply
        for number, ply in enumerate(laminate.plies, 1)
    )
    found = resolved_laminate(dataclasses.replace(laminate, plies=plies), book)
    return Stack(
        name=stack.name,
        plies=tuple(
            dataclasses.replace(ply, glass_measured=before.glass_measured, marks=before.marks)
            for ply, before in zip(found.plies, stack.plies, strict=True)
        ),
    )


def _glass(stack: Stack, number: int) -> float:
    """Return the glass content of a ply as drawn up, of its layers together; 0 where it has none."""
    layers = [ply for ply in stack.plies if ply.number == number and ply.role is Role.REINFORCED]
    return sum(ply.dry_weight for ply in layers) / sum(ply.mass for ply in layers) if layers else 0.0


def _furthest(laminate: Laminate, book: Book, stack: Stack, wanted: float) -> float:
    """Return the factor nearest to the one wanted at which every estimate holds."""

    def holds(factor: float) -> bool:
        try:
            laid_at(laminate, book, stack, factor)
        except StringerlabError:
            return False
        return True

    if holds(wanted):
        return wanted
    inside, outside = 1.0, wanted
    for _ in range(_STEPS):
        middle = (inside + outside) / 2
        inside, outside = (middle, outside) if holds(middle) else (inside, middle)
    return inside


def _numbers(stack: Stack) -> Array:
    return np.array([_row(ply) for ply in stack.plies], float)


def _row(ply: PlyNumbers) -> Sequence[float]:
    given = (getattr(ply, name) for name in _NAMES)
    return [np.nan if one is None else float(one) for one in given]


def _nodes(low: float, high: float) -> list[float]:
    return [(low + high) / 2 - (high - low) / 2 * cos(pi * place / (NODES - 1)) for place in range(NODES)]


def _weights(at: Array, low: float, high: float) -> Array:
    """Return what each node counts for (n, nodes), by the barycentric formula."""
    nodes = np.array(_nodes(low, high))
    signs = np.where(np.arange(NODES) % 2, -1.0, 1.0)
    signs[[0, -1]] /= 2
    apart = at[:, None] - nodes
    hit = np.abs(apart) < 1e-14
    parts = signs / np.where(hit, 1.0, apart)
    exactly = np.asarray(hit.any(axis=1, keepdims=True))
    parts = np.where(exactly, hit.astype(float), parts)
    return np.asarray(parts / parts.sum(axis=1)[:, None], np.float64)
