"""Laminates as columns of arrays: what hats and plating need of each, gathered for every design at once.

N, mm, MPa; per-ply arrays (k, m), plies from the mould on without gel coat, padded with nan.
"""

import math
from collections.abc import Mapping, Sequence
from threading import RLock

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    axial_moduli,
    engineering_constants,
    is_sandwich,
    shear_strength,
    skins,
    thickness,
    uniaxial_strengths,
)
from stringerlab.laminate.records import Moduli, Role, Stack
from stringerlab.methods.evaluation import Evaluation
from stringerlab.sizing.judging.lookups import Index
from stringerlab.sizing.judging.pricing import Pricing
from stringerlab.workings import Array

PER_PLY = ("t", "E", "tension", "compression", "z_top", "z_bottom", "mass", "cost", "hours")
"""Thickness, modulus along the member (0 of a core), strengths as judged, faces below the laminate's last
face, and what a cubic millimetre takes [kg, money, h]."""
PER_SORT = ("sort_E", "sort_tension", "sort_compression", "sort_bottom")
"""The same by sorts of plies: of plies of one modulus and one strength the lowest face decides, as long as
the neutral axis lies above them."""
_OWN = ("t", "E", "tension", "compression", "mass", "cost", "hours")
"""What a ply has wherever it lies."""
PER_STACK = (
    "sound", "gel", "gel_mass", "gel_cost", "gel_hours", "thickness", "skin", "sandwich", "E_G", "tau",
    "EA", "ES", "EI",
)  # fmt: skip
"""Whether it is a laminate at all; gel coat's thickness and taking; thickness without it, of both skins;
whether it has a core; modulus over shear modulus; shear strength; Σ Et, Σ Etz, Σ Et(z² + t²/12), z from its
last face."""


class Stacks:
    """Laminates met, each with a number; number 0 is none: what cannot be a laminate."""

    def __init__(self, moduli: Moduli, evaluation: Evaluation, pricing: Pricing) -> None:
        self._moduli, self._evaluation, self._pricing = moduli, evaluation, pricing
        self._lock = RLock()
        self._known: dict[tuple[Stack, tuple[str, ...]], int] = {}
        self._room, self._count = 64, 0
        self._per_ply = {name: np.full((1, 64), np.nan) for name in (*PER_PLY, *PER_SORT)}
        self._per_stack = {name: np.zeros(64) for name in PER_STACK}
        self._put({}, {})

    def number(self, stack: Stack | None, materials: Sequence[str]) -> int:
        """Return the number of a laminate.

        Parameters
        ----------
        stack
            As resolved; None where it cannot be resolved.
        materials
            Ids of what its plies are of.
        """
        if stack is None:
            return 0
        key = (stack, tuple(materials))
        with self._lock:
            known = self._known.get(key)
            if known is None:
                known = self._known[key] = self._made(stack, key[1])
            return known

    def reordered(self, number: int, back: Index | None) -> int:
        """Return the number of a laminate that is another with its plies in another order.

        Parameters
        ----------
        number
            Of the other; it has no core.
        back
            Of each ply without gel coat, its place in the other; None for the same.
        """
        if number == 0 or back is None:
            return number
        with self._lock:
            own = {name: self._per_ply[name][back, number] for name in _OWN}
            whole = {name: float(self._per_stack[name][number]) for name in PER_STACK}
            return self._put(own | _lying(own), whole | _stiff(own))

    def __len__(self) -> int:
        """Return how many there are."""
        return self._count

    def forget(self) -> None:
        """Forget every laminate: numbers given out before mean nothing any more."""
        self.__init__(self._moduli, self._evaluation, self._pricing)

    def per_ply(self, name: str) -> Array:
        """Return a number of every ply, or every sort of them (k, m)."""
        return self._per_ply[name]

    def per_stack(self, name: str) -> Array:
        """Return a number of every laminate (m,)."""
        return self._per_stack[name]

    def _made(self, stack: Stack, materials: tuple[str, ...]) -> int:
        try:
            judged = self._evaluation.judged(stack)
            moduli, strengths = axial_moduli(stack, self._moduli), uniaxial_strengths(judged)
            tau = shear_strength(judged)[0]
        except StringerlabError:
            return 0
        kept = [place for place, ply in enumerate(stack.plies) if ply.role is not Role.GEL_COAT]
        gels = [place for place, ply in enumerate(stack.plies) if ply.role is Role.GEL_COAT]
        takes = [
            self._pricing.of_ply(ply, material) for ply, material in zip(stack.plies, materials, strict=True)
        ]
        t = np.array([stack.plies[place].thickness for place in kept])
        E = np.where([stack.plies[place].role is Role.REINFORCED for place in kept], moduli[kept], 0.0)
        own = {
            "t": t,
            "E": E,
            "tension": strengths.tension[kept],
            "compression": strengths.compression[kept],
            "mass": np.array([takes[place].mass for place in kept]),
            "cost": np.array([takes[place].cost for place in kept]),
            "hours": np.array([takes[place].hours for place in kept]),
        }
        of_gel = [(stack.plies[place].thickness, takes[place]) for place in gels]
        gel = sum(thick for thick, _ in of_gel)
        return self._put(
            own | _lying(own),
            {
                "sound": 1.0,
                "gel": gel,
                "gel_mass": sum(thick * one.mass for thick, one in of_gel) / gel if gel else 0.0,
                "gel_cost": sum(thick * one.cost for thick, one in of_gel) / gel if gel else 0.0,
                "gel_hours": sum(thick * one.hours for thick, one in of_gel) / gel if gel else 0.0,
                "thickness": thickness(stack),
                "skin": skin_thickness(stack),
                "sandwich": float(is_sandwich(stack)),
                "E_G": modulus_over_shear(stack),
                "tau": tau,
                **_stiff(own),
            },
        )

    def _put(self, per_ply: dict[str, Array], per_stack: dict[str, float]) -> int:
        """Write a laminate to its place; arrays read before stay as they were."""
        number = self._count
        longer_ply = any(len(values) > len(self._per_ply[name]) for name, values in per_ply.items())
        if number >= self._room or longer_ply:
            self._room = self._room * 2 if number >= self._room else self._room
            for name, held in self._per_ply.items():
                wider = np.full((max(len(held), len(per_ply.get(name, ()))), self._room), np.nan)
                wider[: held.shape[0], : held.shape[1]] = held
                self._per_ply[name] = wider
            for name, held in self._per_stack.items():
                longer = np.zeros(self._room)
                longer[: len(held)] = held
                self._per_stack[name] = longer
        for name, values in per_ply.items():
            self._per_ply[name][: len(values), number] = values
        for name, value in per_stack.items():
            self._per_stack[name][number] = value
        self._count += 1
        return number


def _lying(own: Mapping[str, Array]) -> dict[str, Array]:
    """Return where plies lie, and their sorts."""
    t = own["t"]
    top = -(t.sum() - np.cumsum(t))
    if len(top):
        top[-1] = 0.0
    bottom = top - t
    return {
        "z_top": top,
        "z_bottom": bottom,
        **_sorts(own["E"], own["tension"], own["compression"], bottom),
    }


def _stiff(own: Mapping[str, Array]) -> dict[str, float]:
    """Return a laminate's stiffness about its last face."""
    E, t = own["E"], own["t"]
    middle = 0.5 * t - np.cumsum(t[::-1])[::-1]
    return {
        "EA": float((E * t).sum()),
        "ES": float((E * t * middle).sum()),
        "EI": float((E * t * (middle * middle + t * t / 12)).sum()),
    }


def _sorts(E: Array, tension: Array, compression: Array, bottom: Array) -> dict[str, Array]:
    """Return the sorts of plies that carry, each with its lowest face."""
    lowest: dict[tuple[float, ...], float] = {}
    for *sort, low in np.stack([E, tension, compression, bottom], axis=1).tolist():
        if sort[0] > 0:
            key = tuple(sort)
            lowest[key] = min(lowest.get(key, low), low)
    table = np.array([[*sort, low] for sort, low in lowest.items()]).reshape(-1, 4)
    return dict(zip(PER_SORT, table.T, strict=True))


def skin_thickness(stack: Stack) -> float:
    """Return a single skin's thickness, or that of both skins of a sandwich [mm]."""
    if not is_sandwich(stack):
        return thickness(stack)
    outer, _, inner = skins(stack)
    return thickness(outer) + thickness(inner)


def modulus_over_shear(stack: Stack) -> float:
    """Return a laminate's modulus along x over its shear modulus; nan where it has none to tell."""
    try:
        of = engineering_constants(stack)
    except StringerlabError:
        return math.nan
    return of.Ex / of.Gxy


__all__ = ["PER_PLY", "PER_STACK", "Stacks", "modulus_over_shear", "skin_thickness"]
