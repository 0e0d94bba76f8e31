"""Small spaces, proven: every choice of what all stand on, times the best of every group on its own.

Once the outer columns are chosen, groups of spans no longer meet: masses, costs and hours add, the highest
utilisation and every demand's ratio are the highest of the parts. So every demand holds of the whole exactly
where it holds of the rest and of each part, a part that another of its group beats can never be better in the
whole, and the sum of the lowest of every group bounds what an outer choice can come to. Amounts and
utilisations are never below 0, so groups not judged yet add nothing to a bound.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.records import Genes, Watch
from stringerlab.sizing.searching.aims import Judging, that_add, values_of
from stringerlab.sizing.searching.front import Front, beaten, combined, joined, nondominated
from stringerlab.sizing.searching.nearest import ROWS, Nearest, judged_in_chunks, nearest_of_parts
from stringerlab.sizing.searching.splitting import Split
from stringerlab.workings import Array

WIDEST = 50_000
"""How many designs of one outer choice no other beats are kept at the most; with more nothing is proven."""


@dataclass(frozen=True, slots=True, eq=False)
class Explored:
    """What some outer choices come to."""

    genes: Genes
    """Designs that hold and no other of these beats."""
    values: Array
    """Of their aims, as the parts add up."""
    whole: int
    """Outer choices all of whose parts were judged."""
    ruled_out: int
    """Outer choices a bound ruled out before."""
    parts: int
    """How many parts were judged."""
    complete: bool
    """Whether every design that no other beats is there; otherwise there were too many."""
    nearest: Nearest | None
    """How near any comes to holding; None where some do, so that it was not sought."""


def explored(
    judge: Judging,
    split: Split,
    plan: SizingPlan,
    span: tuple[int, int],
    base: Genes,
    known: Array,
    watch: Watch,
) -> Explored:
    """Return the front of some outer choices.

    Parameters
    ----------
    judge, split, plan
        What judges, how the space comes apart, and what is asked for.
    span
        First outer choice and the one after the last, by number.
    base
        (v,) genes; columns that change nothing keep theirs.
    known
        (m, k) values of designs that hold, known before: what they beat is ruled out.
    watch
        Told of progress, and asked by it to stop.
    """
    search = _Search(judge, split, plan, base, known, watch)
    outers = split.outer_genes(*span, base)
    rest = judged_in_chunks(judge.rest, outers, watch, "Judging what all designs stand on")
    search.parts += len(outers)
    values = values_of(rest, plan)
    alive = np.flatnonzero(rest.holds)
    # The likeliest first, so that the front rules out the more of what follows.
    alive = alive[np.lexsort((alive, *values[alive].T[::-1]))]
    widest = max(split.inner, default=1)
    at, size = 0, 16
    while at < len(alive):
        wave = alive[at : at + max(min(size, ROWS // widest), 1)]
        search.wave(outers[wave], values[wave])
        at += len(wave)
        size *= 2
        watch(at / len(alive), "Judging every design")
    nearest = None
    if not len(search.genes) and not len(known):
        nearest = nearest_of_parts(judge, split, outers, rest, watch)
        search.parts += int(rest.sound.sum()) * sum(split.inner)
    return Explored(
        genes=search.genes,
        values=search.values,
        whole=search.whole,
        ruled_out=len(outers) - search.whole,
        parts=search.parts,
        complete=search.complete,
        nearest=nearest,
    )


class _Search:
    """A front that grows wave by wave of outer choices."""

    def __init__(
        self, judge: Judging, split: Split, plan: SizingPlan, base: Genes, known: Array, watch: Watch
    ) -> None:
        self.judge, self.split, self.plan, self.watch = judge, split, plan, watch
        self.adds = that_add(plan)
        self.known = known
        self.genes = base[None, :][:0]
        self.values = np.zeros((0, len(self.adds)))
        self.whole = self.parts = 0
        self.complete = True

    def wave(self, outers: Genes, rest: Array) -> None:
        """Judge the groups of some outer choices that hold so far, ruling out what cannot be on the front."""
        bound = rest.copy()
        fronts: dict[int, list[Front]] = {one: [] for one in range(len(outers))}
        alive = self._worth(np.arange(len(outers)), bound)
        for group in range(len(self.split.groups)):
            kept: list[int] = []
            for one, front in zip(alive, self._options(group, outers[alive]), strict=True):
                if len(front.values):
                    fronts[int(one)].append(front)
                    bound[one] = combined(bound[one], front.values.min(axis=0), self.adds)
                    kept.append(int(one))
            last = group == len(self.split.groups) - 1
            alive = np.array(kept, dtype=np.intp) if last else self._worth(np.array(kept, np.intp), bound)
            self.whole += len(alive) if last else 0
        if not self.split.groups:
            self.whole += len(alive)
            self._add(outers[alive], rest[alive])
            return
        for one in alive:
            self._close(outers[one], rest[one], fronts[int(one)])

    def _worth(self, some: NDArray[np.intp], bound: Array) -> NDArray[np.intp]:
        """Return the outer choices whose bound nothing known beats."""
        best = np.concatenate([self.known, self.values])
        return some[~beaten(bound[some], best)]

    def _options(self, group: int, outers: Genes) -> list[Front]:
        """Return the front of a group's own choices for every outer choice."""
        count = self.split.inner[group]
        found: list[Front] = []
        for one in range(0, len(outers), max(ROWS // count, 1)):
            some = outers[one : one + max(ROWS // count, 1)]
            best = [Front(np.zeros((0, len(self.adds))), np.zeros((0, 1), np.int64)) for _ in some]
            for first in range(0, count, ROWS):
                own = np.arange(first, min(first + ROWS, count))
                genes = np.vstack(
                    [self.split.group_genes(group, first, first + len(own), base) for base in some]
                )
                outcome = self.judge.part(group, genes)
                self.parts += len(genes)
                values = np.where(outcome.holds[:, None], values_of(outcome, self.plan), np.inf)
                values = values.reshape(len(some), len(own), -1)
                best = [_with(front, values[i], own) for i, front in enumerate(best)]
                self.watch(0.0, "Judging every design")
            found += best
        return found

    def _close(self, outer: Genes, rest: Array, fronts: Sequence[Front]) -> None:
        """Put the front of one outer choice to the others."""
        whole = Front(rest[None, :], np.zeros((1, 0), np.int64))
        for front in fronts:
            whole = joined(whole, front, self.adds)
            if len(whole.values) > WIDEST:
                self.complete = False
                whole = Front(whole.values[:WIDEST], whole.picks[:WIDEST])
        genes = np.tile(outer, (len(whole.values), 1))
        for group in range(len(fronts)):
            columns = list(self.split.groups[group])
            for row, pick in enumerate(whole.picks[:, group]):
                genes[row, columns] = self.split.group_genes(group, int(pick), int(pick) + 1, outer)[
                    0, columns
                ]
        self._add(genes, whole.values)

    def _add(self, genes: Genes, values: Array) -> None:
        genes, values = np.concatenate([self.genes, genes]), np.concatenate([self.values, values])
        # By genes, so that of equal designs the first is kept whatever came first here.
        order = np.lexsort(genes.T[::-1]) if genes.shape[1] else np.arange(len(genes))
        kept = order[nondominated(values[order])]
        self.genes, self.values = genes[kept], values[kept]


def _with(front: Front, values: Array, own: NDArray[np.int64]) -> Front:
    """Return a front with some more choices (n, k) of the same group put to it."""
    kept = nondominated(values)
    if not len(front.values):
        return Front(values[kept], own[kept][:, None])
    together = np.concatenate([front.values, values[kept]])
    picks = np.concatenate([front.picks, own[kept][:, None]])
    kept = nondominated(together)
    return Front(together[kept], picks[kept])
