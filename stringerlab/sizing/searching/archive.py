"""What a search keeps of the designs it judged: those no other beats, the nearest to holding, how many."""

from collections.abc import Sequence
from math import prod
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.records import Genes, Outcome, Watch
from stringerlab.sizing.searching.aims import Judging, aims_of, values_of
from stringerlab.sizing.searching.front import nondominated, rounded, spread_out
from stringerlab.sizing.searching.nearest import (
    Nearest,
    judged_in_chunks,
    nearest_among,
    nearest_of_all,
    ratios_of,
)
from stringerlab.workings import Array

Keys = NDArray[np.uint64]
MOST = 2_000
"""How many designs no other beats are kept at the most."""
SEEN = 1_000_000
"""How many designs are known again at the most, so that memory stays bounded."""


class Choosing(Protocol):
    """What says which designs there are: ``space.Space``, or another in its place."""

    @property
    def count(self) -> int:
        """How many designs there are."""
        ...

    @property
    def columns(self) -> tuple[int, ...]:
        """How many choices every column of genes has."""
        ...

    def sampled(self, n: int, seed: int) -> Genes:
        """Return designs drawn evenly."""
        ...

    def repaired(self, genes: Genes) -> Genes:
        """Return the nearest designs that are allowed."""
        ...


class Archive:
    """What was judged, and the best of it."""

    def __init__(self, judge: Judging, columns: Sequence[int], plan: SizingPlan, watch: Watch) -> None:
        self.judge, self.plan, self.watch = judge, plan, watch
        self._weights = _weights(columns)
        self.genes: Genes = np.zeros((0, len(columns)), np.int64)
        self.values: Array = np.zeros((0, len(aims_of(plan))))
        self.nearest: Nearest | None = None
        self.seen = set[int]()
        self.asked = 0
        self.spent = 0
        """Of a budget, in designs: those asked for, and what was made anew for them."""
        self._made: list[set[int]] = [set() for _ in judge.dear]
        self._columns = tuple(columns)
        self.thinned = False
        self.forgot = False
        self.changed = False

    def keys(self, genes: Genes) -> Keys:
        """Return a number for every design (n,), its own: in spaces beyond 2⁶³ nearly surely."""
        return (genes.astype(np.uint64) * self._weights).sum(axis=1, dtype=np.uint64)

    def new(self, genes: Genes) -> NDArray[np.bool_]:
        """Return which designs were not judged before."""
        return np.array([key not in self.seen for key in self.keys(genes).tolist()], dtype=bool)

    def price(self, genes: Genes) -> int:
        """Return what judging designs costs of the budget."""
        fresh = zip(self.judge.dear, self._fresh(genes), strict=True)
        return len(genes) + sum(one.cost * len(new) for one, new in fresh)

    def spend(self, genes: Genes) -> None:
        """Take what judging designs costs off the budget; it is not paid twice."""
        self.spent += self.price(genes)
        for known, new in zip(self._made, self._fresh(genes), strict=True):
            known |= new

    def affordable(self, genes: Genes, left: int) -> Genes:
        """Return the first of some designs, as many as so much of the budget pays for."""
        if self.price(genes) <= left:
            return genes
        low, high = 0, len(genes)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self.price(genes[:middle]) <= left else (low, middle)
        return genes[:low]

    def _fresh(self, genes: Genes) -> list[set[int]]:
        """Return the combinations that were not met before, of each that is dear."""
        found: list[set[int]] = []
        for one, known in zip(self.judge.dear, self._made, strict=True):
            own = list(one.columns)
            weights = _weights([self._columns[column] for column in own])
            keys = (genes[:, own].astype(np.uint64) * weights).sum(axis=1, dtype=np.uint64)
            found.append(set(keys.tolist()) - known)
        return found

    def judged(self, genes: Genes) -> tuple[Outcome, Array]:
        """Judge designs and keep the best; what they come to, and the values of the aims (n, k)."""
        self.spend(genes)
        self.asked += len(genes)
        outcome = judged_in_chunks(self.judge.judge, genes, self.watch, "Judging designs")
        values = rounded(values_of(outcome, self.plan))
        if len(self.seen) < SEEN:
            self.seen.update(self.keys(genes).tolist())
        else:
            self.forgot = True
        holds = outcome.holds
        self.keep(genes[holds], values[holds])
        near = nearest_among(genes, ratios_of(outcome))
        self.nearest = near if self.nearest is None else nearest_of_all([self.nearest, near])
        return outcome, values

    def take(self, genes: Genes, values: Array, seen: Keys, *, exact: bool) -> None:
        """Take over what other archives of the same space kept, and know again what they saw.

        Parameters
        ----------
        genes, values
            (n, v) and (n, k) designs that hold; what is dear of them is known.
        seen
            Numbers of the designs seen.
        exact
            Whether these are all that were seen.
        """
        self.seen.update(seen.tolist())
        self.forgot |= not exact
        for known, new in zip(self._made, self._fresh(genes), strict=True):
            known |= new
        self.keep(genes, values)

    def keep(self, genes: Genes, values: Array) -> None:
        """Put designs that hold to those kept, as far as nothing beats them; equal ones once."""
        self.changed = False
        if not len(genes):
            return
        genes = np.concatenate([self.genes, genes])
        values = np.concatenate([self.values, values])
        kept = nondominated(values)
        self.changed = bool((kept >= len(self.genes)).any())
        if len(kept) > MOST:
            self.thinned = True
            kept = kept[spread_out(values[kept], MOST)]
        self.genes, self.values = genes[kept], values[kept]


def _weights(columns: Sequence[int]) -> Keys:
    """Return what every column is worth in a design's number: its place, or in larger spaces a draw."""
    if prod(columns) < 2**63:
        places = [prod(columns[i + 1 :]) for i in range(len(columns))]
        return np.array(places, dtype=np.uint64)
    drawn = np.random.default_rng(len(columns)).integers(1, 2**63, len(columns), dtype=np.uint64)
    return drawn * np.uint64(2) + np.uint64(1)
