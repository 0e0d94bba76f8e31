"""Laminates by what they are of, whatever the order: most numbers of a laminate do not depend on it.

What does, where each ply lies, is put in order again: so the many orders of the same plies cost little.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringerlab.laminate.records import Laminate, Ply, Role, Stack
from stringerlab.sizing.judging.lookups import Index


@dataclass(frozen=True, slots=True, eq=False)
class Sorted:
    """A laminate's plies sorted, and how they come back into order."""

    laminate: Laminate
    """Sorted; gel coat stays first."""
    stack: Stack
    back: Index | None
    """Of each resolved ply without gel coat, its place in the sorted laminate; None: as they are."""


class Orders:
    """Sorts laminates' plies; those with a core are left as they are."""

    def __init__(self, stack: Callable[[Laminate], Stack | None]) -> None:
        self._stack = stack
        self._sorts: dict[Ply, str] = {}
        self._known: dict[tuple[Ply, ...], tuple[Laminate, Stack, list[range]] | None] = {}

    def sorted(self, laminate: Laminate) -> Sorted | None:
        """Return a laminate sorted; None where it cannot be resolved, or its order is all that counts."""
        for ply in laminate.plies:
            if ply not in self._sorts:  # by what it says, never by what came first: the sums are the same
                self._sorts[ply] = repr(ply)
        first = next((place for place, ply in enumerate(laminate.plies) if not self._leads(ply)), 0)
        order = [*range(first)]
        order += sorted(
            range(first, len(laminate.plies)), key=lambda place: self._sorts[laminate.plies[place]]
        )
        plies = tuple(laminate.plies[place] for place in order)
        if plies not in self._known:
            self._known[plies] = self._made(laminate, plies)
        known = self._known[plies]
        if known is None:
            return None
        sorted_one, stack, places = known
        if plies == laminate.plies:
            return Sorted(sorted_one, stack, None)
        at = {place: number for number, place in enumerate(order)}
        back = [one for place in range(len(order)) for one in places[at[place]]]
        return Sorted(sorted_one, stack, np.array(back, np.intp))

    @staticmethod
    def _leads(ply: Ply) -> bool:
        """Whether a ply may be gel coat: such are typed with a thickness and without weight."""
        return ply.thickness is not None and ply.weight is None

    def _made(self, laminate: Laminate, plies: tuple[Ply, ...]) -> tuple[Laminate, Stack, list[range]] | None:
        sorted_one = Laminate(id=laminate.id, name=laminate.name, plies=plies)
        stack = self._stack(sorted_one)
        if stack is None or any(ply.role is Role.CORE for ply in stack.plies):
            return None
        places: list[range] = []
        stop = 0
        for number in range(1, len(plies) + 1):
            layers = [one for one, of in zip(stack.plies, stack.numbers, strict=True) if of == number]
            laid = sum(one.role is not Role.GEL_COAT for one in layers)
            places.append(range(stop, stop + laid))
            stop += laid
        return sorted_one, stack, places


__all__ = ["Orders", "Sorted"]
