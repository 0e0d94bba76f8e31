"""What a few columns of genes decide, made once a combination and looked up for every design."""

from collections.abc import Callable, Sequence
from math import prod
from threading import RLock

import numpy as np
from numpy.typing import NDArray

from stringerlab.sizing.records import Genes
from stringerlab.sizing.running.pulse import beat

Index = NDArray[np.intp]
DENSE = 2**20
"""Combinations up to which a place is kept for each."""
CODED = 2**62


class Combinations:
    """The combinations of some columns, as one number each."""

    def __init__(self, columns: Sequence[int], counts: Sequence[int]) -> None:
        self.columns = tuple(columns)
        self.counts = tuple(counts[column] for column in self.columns)
        self.count = prod(self.counts)
        """How many there are, exactly."""
        self._places = [prod(self.counts[place + 1 :]) for place in range(len(self.counts))]

    def codes(self, genes: Genes) -> NDArray[np.int64]:
        """Return the number of each design's combination (n,); only where they are fewer than 2⁶²."""
        codes = np.zeros(len(genes), np.int64)
        for column, place in zip(self.columns, self._places, strict=True):
            codes += genes[:, column] * place
        return codes

    def distinct(self, genes: Genes) -> tuple[Index, Index]:
        """Return a design (m,) of each combination there is, and which of them each design has (n,)."""
        if not self.columns:
            return np.zeros(1, np.intp), np.zeros(len(genes), np.intp)
        if self.count < CODED:
            _, first, of = np.unique(self.codes(genes), return_index=True, return_inverse=True)
        else:
            held = genes[:, list(self.columns)]
            _, first, of = np.unique(held, axis=0, return_index=True, return_inverse=True)
        return first, of.reshape(-1)

    def values(self, row: NDArray[np.int64]) -> tuple[int, ...]:
        """Return one design's values of the columns."""
        return tuple(int(row[column]) for column in self.columns)


class Lookup:
    """A number for every combination of some columns, made when first met."""

    def __init__(
        self, columns: Sequence[int], counts: Sequence[int], make: Callable[[tuple[int, ...]], int]
    ) -> None:
        self.of = Combinations(columns, counts)
        self._make = make
        self._lock = RLock()
        self._dense = np.full(self.of.count, -1, np.intp) if self.of.count <= DENSE else None
        self._known: dict[tuple[int, ...], int] = {}

    def __call__(self, genes: Genes) -> Index:
        """Return the number of every design's combination (n,)."""
        if self._dense is None:
            first, of = self.of.distinct(genes)
            return np.array([self.one(self.of.values(genes[row])) for row in first], np.intp)[of]
        codes = self.of.codes(genes)
        found = self._dense[codes]
        if (found < 0).any():
            with self._lock:
                rows = np.flatnonzero(found < 0)
                missing, first = np.unique(codes[rows], return_index=True)
                for code, row in zip(missing.tolist(), rows[first].tolist(), strict=True):
                    self._dense[code] = self.one(self.of.values(genes[row]))
                found = self._dense[codes]
        return found

    def __len__(self) -> int:
        """Return how many combinations were met."""
        return len(self._known)

    def forget(self) -> None:
        """Forget every number."""
        with self._lock:
            self._known.clear()
            if self._dense is not None:
                self._dense[:] = -1

    def one(self, values: tuple[int, ...]) -> int:
        """Return the number of one combination."""
        with self._lock:
            known = self._known.get(values)
            if known is None:
                beat()
                known = self._known[values] = self._make(values)
            return known


__all__ = ["CODED", "DENSE", "Combinations", "Index", "Lookup"]
