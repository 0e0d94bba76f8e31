"""Sequences of plies that a shop's rules allow: counted exactly, numbered, none twice. Thickness in mm.

Two fabrics without mat never face each other where that is asked for; the whole reaches its gauge. Sequences
are numbered from 0: by how many plies they have, then by the menu's order, ply after ply away from the mould.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stringerlab.sizing.records import Genes, Mask

_GRIDS = (1e-9, 1e-4, 1e-3, 1e-2)
"""Thicknesses are counted in whole ones of these [mm]: the finest that keeps the counting small."""
_SLACK = 1e-6
"""Of a grid's step: what arithmetic may have taken off a whole number of them."""
_MANY = 20_000
"""Different thicknesses that sequences may have before they are counted more coarsely."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A material as it is laid: whether its faces towards and away from the mould are mat, its thickness.

    Gel coat and core, which are no fabric, count as mat: nothing is amiss where a fabric lies on them.
    """

    material: str
    mat_first: bool
    mat_last: bool
    thickness: float


@dataclass(frozen=True)
class Sequences:
    """The sequences of ``least`` to ``most`` plies out of a menu that may lie between what stays.

    Attributes
    ----------
    menu
        Materials to choose from, each once.
    least, most
        How many plies.
    mat_between
        Whether a face between two plies has to have mat on one side of it.
    before, after
        Whether the face of what stays, before and after, is mat; None where nothing stays there.
    needed
        Thickness that the sequence has to reach [mm], to 10⁻⁷ mm; 0 or less for none. Where sequences
        have more than 20,000 different thicknesses, each ply counts as rounded down to 0.1, 1 or 10 µm, the
        finest that keeps them fewer, so that none falls short and a few that barely reach it are left out.
    """

    menu: tuple[Laid, ...]
    least: int
    most: int
    mat_between: bool = True
    before: bool | None = None
    after: bool | None = None
    needed: float = 0.0

    @cached_property
    def count(self) -> int:
        """How many there are, exactly."""
        return sum(self._of_length)

    def unranked(self, index: int) -> tuple[int, ...]:
        """Return the sequence of a number, as places in the menu.

        Raises
        ------
        IndexError
            When there is none of that number.
        """
        if not 0 <= index < self.count:
            raise IndexError(f"there is no sequence {index} of {self.count}")
        length = self.least
        for held in self._of_length:
            if index < held:
                break
            index -= held
            length += 1
        state, found = self._start, list[int]()
        for left in range(length, 0, -1):
            for place in range(len(self.menu)):
                following = self._after_ply(state, place)
                if following is None:
                    continue
                held = self._completions(left - 1, *following)
                if index < held:
                    break
                index -= held
            else:
                raise AssertionError("counting and numbering disagree")
            found.append(place)
            state = following
        return tuple(found)

    def ranked(self, sequence: Sequence[int]) -> int | None:
        """Return the number of a sequence of places in the menu; None where it is not allowed."""
        length = len(sequence)
        if not self.least <= length <= self.most:
            return None
        index = sum(self._of_length[: length - self.least])
        state = self._start
        for number, chosen in enumerate(sequence):
            left = length - number - 1
            for place in range(chosen):
                other = self._after_ply(state, place)
                if other is not None:
                    index += self._completions(left, *other)
            following = self._after_ply(state, chosen) if 0 <= chosen < len(self.menu) else None
            if following is None:
                return None
            state = following
        return index if self._completions(0, *state) else None

    def repaired(self, lengths: NDArray[np.int64], slots: Genes) -> tuple[NDArray[np.int64], Genes]:
        """Return lengths (n,) and slots (n, most) put right: every row an allowed sequence, the rest 0.

        A row whose length no sequence has is given the next longer one that some has, else the next shorter.
        A ply that cannot lie where it is gives way to the next in the menu, round and round, that can.

        Raises
        ------
        ValueError
            When no sequence is allowed at all.
        """
        if not self.count:
            raise ValueError("no sequence is allowed")
        allowed = [self.least + k for k, held in enumerate(self._of_length) if held]
        nearest = [
            min(allowed, key=lambda one: (one < length, abs(one - length))) for length in range(self.most + 1)
        ]
        held = np.array(nearest, np.int64)[np.clip(lengths, 0, self.most)]
        made = np.zeros_like(slots)
        whole, thick, _ = self._counted
        need = np.full(len(slots), whole, np.int64)
        face = np.full(len(slots), self._start[0], np.int64)
        size, last = len(self.menu), np.array([one.mat_last for one in self.menu], np.int64)
        grows = np.array(thick, np.int64)
        for number in range(self.most):
            there = number < held
            left = held - number - 1
            done = ~there
            for turn in range(size):
                place = (slots[:, number] + turn) % size
                fits = ~done & self._can(left, face, place, need)
                made[fits, number] = place[fits]
                done |= fits
            chosen = made[:, number]
            need = np.where(there, need - grows[chosen], need)
            face = np.where(there, last[chosen], face)
        return held, made

    @property
    def thickest(self) -> float:
        """Thickness of the thickest of those that keep the rules, whatever is needed [mm]."""
        best = self._thickest[self.least : self.most + 1, self._start[0]]
        return float(best.max()) * self._counted[2] if best.size else 0.0

    @cached_property
    def table(self) -> Genes:
        """Every sequence (count, most) as places in the menu, −1 past its end; only for small counts."""
        found = np.full((self.count, self.most), -1, np.int64)
        for index in range(self.count):
            sequence = self.unranked(index)
            found[index, : len(sequence)] = sequence
        return found

    # -- counting ------------------------------------------------------------------------------------

    @cached_property
    def _counted(self) -> tuple[int, tuple[int, ...], float]:
        """Thickness needed and that of each in the menu as whole numbers, and of what."""
        for grid in _GRIDS:
            if grid == _GRIDS[0]:
                thick = tuple(round(one.thickness / grid) for one in self.menu)
                need = round(self.needed / grid) - self.most  # half a unit of rounding a ply, at the most
            else:
                thick = tuple(int(one.thickness / grid + _SLACK) for one in self.menu)
                need = math.ceil(self.needed / grid - _SLACK)
            need = max(need, 0)
            if grid == _GRIDS[-1] or not need or self._sums(thick, need) <= _MANY:
                return need, thick, grid
        raise AssertionError("the last grid is always taken")

    def _sums(self, thick: tuple[int, ...], need: int) -> int:
        reached = every = {0}
        for _ in range(self.most):
            reached = {sum_ + one for sum_ in reached for one in set(thick) if sum_ + one < need} - every
            every = every | reached
            if len(every) > _MANY:
                break
        return len(every)

    @cached_property
    def _start(self) -> tuple[int, int]:
        """Which face lies open, 1 for mat, and what is still needed."""
        return int(self.before is not False), self._counted[0]

    @cached_property
    def _of_length(self) -> list[int]:
        return [self._completions(length, *self._start) for length in range(self.least, self.most + 1)]

    @cached_property
    def _known(self) -> dict[tuple[int, int, int], int]:
        return {}

    def _after_ply(self, state: tuple[int, int], place: int) -> tuple[int, int] | None:
        face, need = state
        one = self.menu[place]
        if self.mat_between and not face and not one.mat_first:
            return None
        return int(one.mat_last), need - self._counted[1][place]

    def _completions(self, left: int, face: int, need: int) -> int:
        """Return how many ways there are to lay so many plies more on a face and reach what is needed."""
        if self._layers:
            return self._layers[left][face][max(need, 0)]
        thick = self._counted[1]
        if need <= left * min(thick, default=0):
            need = 0
        elif need > left * max(thick, default=0):
            return 0
        if not left:
            return int(need <= 0 and (not self.mat_between or bool(face) or self.after is not False))
        key = (left, face, need)
        known = self._known.get(key)
        if known is None:
            known = 0
            for place in range(len(self.menu)):
                following = self._after_ply((face, need), place)
                if following is not None:
                    known += self._completions(left - 1, following[0], max(following[1], 0))
            self._known[key] = known
        return known

    @cached_property
    def _layers(self) -> list[list[list[int]]]:
        """For coarse grids: how many ways, by plies still to lay, open face and what is needed; else none."""
        need, thick, grid = self._counted
        if grid == _GRIDS[0]:
            return []
        closes = [not self.mat_between or bool(face) or self.after is not False for face in (0, 1)]
        layer = [np.array([int(closes[face]), *[0] * need], object) for face in (0, 1)]
        made = [layer]
        for _ in range(self.most):
            following = [np.zeros(need + 1, object) for _ in (0, 1)]
            for face in (0, 1):
                for place, one in enumerate(self.menu):
                    if self._after_ply((face, 0), place) is None:
                        continue
                    held, by = layer[int(one.mat_last)], min(thick[place], need)
                    following[face][: by + 1] += held[0]
                    following[face][by + 1 :] += held[1 : need + 1 - by]
            layer = following
            made.append(layer)
        return [[each.tolist() for each in layer] for layer in made]

    def __getstate__(self) -> dict[str, object]:
        """Leave what was counted on the way behind: another process seldom needs it."""
        return {
            name: held for name, held in self.__dict__.items() if name not in ("_known", "_layers", "table")
        }

    @cached_property
    def _thickest(self) -> NDArray[np.int64]:
        """(most + 1, 2) the most that so many plies on a face come to, −1 where none can be laid."""
        thick = self._counted[1]
        best = np.full((self.most + 1, 2), -1, np.int64)
        for face in (0, 1):
            if not self.mat_between or face or self.after is not False:
                best[0, face] = 0
        for left in range(1, self.most + 1):
            for face in (0, 1):
                for place, one in enumerate(self.menu):
                    following = self._after_ply((face, 0), place)
                    if following is not None and best[left - 1, int(one.mat_last)] >= 0:
                        most = best[left - 1, int(one.mat_last)] + thick[place]
                        best[left, face] = max(best[left, face], most)
        return best

    def _can(
        self,
        left: NDArray[np.int64],
        face: NDArray[np.int64],
        place: NDArray[np.int64],
        need: NDArray[np.int64],
    ) -> Mask:
        """Whether a ply can lie on a face so that so many more can follow it and reach what is needed."""
        first = np.array([one.mat_first for one in self.menu])[place]
        last = np.array([one.mat_last for one in self.menu], np.int64)[place]
        lies = first | (face == 1) if self.mat_between else np.ones(len(place), bool)
        best = self._thickest[np.clip(left, 0, self.most), last]
        thick = np.array(self._counted[1], np.int64)[place]
        return lies & (best >= 0) & (best + thick >= need)
