"""How panels bend by how their edges are held: linear in the pressure, so each is solved under a unit of it.

A panel goes on over its members. Where the panel beside carries the same pressure, neither turns over the
member, by symmetry: clamped. Where the panel beside is bare, it holds the edge as a strip that spans as far
and is hinged beyond: 3 D/b, less by its core's shear. The member's own resistance to turning lies between
the two, and so do the moments: as the spring grows, those at the edge grow and those in the middle fall.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Stack, mass
from stringerlab.plate.bending import bent, natural_frequency
from stringerlab.plate.records import CLAMPED, Plates, plates
from stringerlab.plate.stress import CRITERIA, PLACES, core_shear, first_ply
from stringerlab.workings import Array

UNIT = 1e-3
"""Pressure each panel is solved under [MPa]."""
EDGES = ("edges clamped", "neighbours bare", "edges free to turn")
"""In words: held alike on both sides, held by bare panels beside, not held."""


@dataclass(frozen=True, slots=True)
class Key:
    """What decides how a panel bends."""

    stack: Stack
    b: float
    l: float
    rise: float
    both_ways: bool


@dataclass(frozen=True, slots=True, eq=False)
class Responses:
    """Of n panels under the unit of pressure, by each of ``EDGES``: arrays (3, n)."""

    deflection: Array
    ply: Array
    """Multiple of the pressure at first-ply failure."""
    core: Array
    """Multiple of the pressure at which a core shears."""
    frequency: Array
    """Lowest natural frequency in air [Hz]."""
    governs: tuple[tuple[str, ...], ...]
    """Ply and place that fail first, by edges and then by panel."""
    wrong: tuple[str, ...]
    """Why a panel has no solution; empty where it has one."""


def bare_neighbours(held: Plates) -> tuple[Array, Array]:
    """Return the springs (n,) [N] by which bare panels beside hold the long and the short edges.

    A panel beside is of the same laminate and spans as far, across the edge it holds: b beyond a long edge,
    l beyond a short one; hinged at its far edge, its sides leave it free: what is left out only holds more.
    """
    return _spring(held.D[:, 0, 0], held.S[:, 0], held.b), _spring(held.D[:, 1, 1], held.S[:, 1], held.l)


def _spring(D: Array, S: Array, far: Array) -> Array:
    """Return 3 D/b of strips hinged at their far edge, in series with their shear."""
    with np.errstate(invalid="ignore", divide="ignore"):
        return 3 * D * S * far / (3 * D + S * far**2)


@lru_cache(maxsize=32)
def responses(keys: tuple[Key, ...]) -> Responses:
    """Return how panels respond to the unit of pressure; each alone where one of them has no solution."""
    try:
        return _solved(keys)
    except StringerlabError as error:
        if len(keys) != 1:
            return _joined([responses((key,)) for key in keys])
        nothing = np.full((len(EDGES), 1), np.nan)
        what = " ".join(problem.what for problem in error.problems)
        text = f"laminate '{keys[0].stack.name}': {what}"
        return Responses(nothing, nothing, nothing, nothing, (("",),) * len(EDGES), (text,))


def _solved(keys: tuple[Key, ...]) -> Responses:
    stacks = [key.stack for key in keys]
    b, l, rise = (np.array([getattr(key, name) for key in keys]) for name in ("b", "l", "rise"))
    reversing = np.array([key.both_ways for key in keys])
    weights = np.array([mass(stack) for stack in stacks])
    fixed = plates(stacks, b, l, spring_x=CLAMPED, spring_y=CLAMPED, rise=rise)
    bare_x, bare_y = bare_neighbours(fixed)
    hinges = np.zeros(len(keys))
    found: list[tuple[Array, Array, Array, Array, tuple[str, ...]]] = []
    for given in (
        fixed,
        replace(fixed, spring_x=bare_x, spring_y=bare_y),
        replace(fixed, spring_x=hinges, spring_y=hinges),
    ):
        held = bent(given, np.full(len(keys), UNIT))
        first = first_ply(stacks, held, reversing)
        places = zip(stacks, first.ply.tolist(), first.place.tolist(), first.criterion.tolist(), strict=True)
        governs = tuple(
            f"{stack.labels[ply]}: {CRITERIA[criterion]}, {PLACES[place]}"
            for stack, ply, place, criterion in places
        )
        frequency = natural_frequency(given, weights)
        found.append((held.w, first.factor, core_shear(stacks, held), frequency, governs))
    w, ply, core, frequency, governs = zip(*found, strict=True)
    return Responses(
        np.stack(w), np.stack(ply), np.stack(core), np.stack(frequency), governs, ("",) * len(keys)
    )


def _joined(parts: Sequence[Responses]) -> Responses:
    return Responses(
        *(
            np.concatenate([getattr(part, name) for part in parts], axis=1)
            for name in ("deflection", "ply", "core", "frequency")
        ),
        governs=tuple(tuple(part.governs[edge][0] for part in parts) for edge in range(len(EDGES))),
        wrong=tuple(part.wrong[0] for part in parts),
    )
