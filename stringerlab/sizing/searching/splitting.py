"""How a space comes apart: outer choices that all stand on, and groups of spans that choose on their own."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

import numpy as np
from numpy.typing import NDArray

from stringerlab.sizing.judging.dear import Dear
from stringerlab.sizing.records import Genes
from stringerlab.sizing.searching.aims import Judging


@dataclass(frozen=True, slots=True)
class Split:
    """A space in parts: how many outer choices, and how many of every group."""

    columns: tuple[int, ...]
    """How many choices every column of genes has."""
    outer: tuple[int, ...]
    groups: tuple[tuple[int, ...], ...]
    dear: tuple[Dear, ...] = ()
    """What is made anew for combinations of some columns."""

    @property
    def outers(self) -> int:
        """How many outer choices there are."""
        return prod(self.columns[column] for column in self.outer)

    @property
    def inner(self) -> tuple[int, ...]:
        """How many choices every group has."""
        return tuple(prod(self.columns[column] for column in group) for group in self.groups)

    @property
    def each(self) -> int:
        """How many designs there are to an outer choice."""
        return prod(self.columns) // self.outers

    @property
    def effort(self) -> int:
        """How many parts there are to judge, at the most, and what is made anew for them, in designs."""
        made = sum(one.cost * prod(self.columns[column] for column in one.columns) for one in self.dear)
        return self.parts + made

    @property
    def parts(self) -> int:
        """How many parts there are to judge, at the most."""
        return self.outers * (1 + sum(self.inner))

    def outer_genes(self, first: int, last: int, base: Genes) -> Genes:
        """Return designs with the outer choices of some numbers, all else as in ``base`` (v,)."""
        return self._with(self.outer, np.arange(first, last), base)

    def group_genes(self, group: int, first: int, last: int, base: Genes) -> Genes:
        """Return designs with a group's choices of some numbers, all else as in ``base`` (v,)."""
        return self._with(self.groups[group], np.arange(first, last), base)

    def _with(self, columns: Sequence[int], numbers: NDArray[np.int64], base: Genes) -> Genes:
        genes = np.tile(base, (len(numbers), 1))
        if columns:
            choices = np.unravel_index(numbers, [self.columns[column] for column in columns])
            genes[:, list(columns)] = np.stack(choices, axis=1)
        return genes


def split_of(judge: Judging, columns: Sequence[int]) -> Split:
    """Return how a space comes apart.

    Parameters
    ----------
    judge
        Says which columns are outer and which a group's own.
    columns
        How many choices every column has.
    """
    groups = tuple(tuple(group) for group in judge.groups)
    return Split(tuple(columns), tuple(judge.outer), groups, tuple(judge.dear))
