"""Large spaces, searched: islands of designs that breed, each with its own seed. The only door to pymoo.

Why pymoo's NSGA-II: several aims with one rule of who survives (fronts, then crowding), demands by how far
they are broken, kept up and tested by others, and asked and told from outside, so that the same vectorised
judge is called on a whole generation, the budget is ours, and whole-numbered genes are put right between.
scipy's searches know one aim; ortools wants the formulas as linear constraints, which section moduli are not.
Changes of genes are ours, with numpy's own seeds. Nothing found here is proven.
"""

from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.records import Genes
from stringerlab.sizing.searching.aims import aims_of, excess
from stringerlab.sizing.searching.archive import Archive, Choosing
from stringerlab.sizing.searching.front import rounded
from stringerlab.sizing.searching.neighbours import looked_round
from stringerlab.workings import Array

POPULATION = (16, 240)
STALE = 60
"""Generations without anything new on the front after which an island has found what it finds."""
ROUND = 0.15
"""Part of the budget kept for a last look round the front."""
BROOD, MANY = 4, 5_000
"""How many children of two designs are judged and the best of them kept, on islands of so many designs."""
UNBUILDABLE = 1e6
"""How far a design that cannot be built is over its limits, for what survives."""
AGAIN = 4
"""How often a design seen before is changed once more."""


def island(archive: Archive, space: Choosing, seed: int, budget: int, starts: Genes) -> None:
    """Let designs breed until the budget is used up or nothing new is found.

    Parameters
    ----------
    archive
        Judges designs and keeps the best.
    space
        Which designs there are.
    seed
        The island's own.
    budget
        How much of the budget is spent at the most, in designs.
    starts
        (n, v) designs to begin with; the others are drawn.
    """
    rng = np.random.default_rng(seed)
    bred = int(budget * (1 - ROUND))
    trial = space.sampled(POPULATION[1], seed)
    price = archive.price(trial) / len(trial)
    size = int(np.clip(bred / price // 40, *POPULATION))
    most = archive.spent + bred
    first = np.concatenate([starts[:size], space.sampled(max(size - len(starts), 0), seed)])
    breeding = _Breeding(space, archive.plan, first, seed)
    stale, generation = 0, 0
    brood = BROOD if bred / price >= MANY else 1
    while stale < STALE and archive.spent < most:
        genes = space.repaired(breeding.asked())
        if generation:
            genes = _changed(archive, space, np.repeat(genes, brood, axis=0), rng)
        genes = archive.affordable(genes, most - archive.spent)
        if not len(genes):
            break
        outcome, values = archive.judged(genes)
        stale = 0 if archive.changed else stale + 1
        over = rounded(excess(outcome))
        if generation and brood > 1:
            kept = _best_of_broods(values, over, brood, rng)
            genes, values, over = genes[kept], values[kept], over[kept]
        breeding.told(genes, values, over)
        generation += 1
    looked_round(archive, space, budget - bred)


def _best_of_broods(values: Array, over: Array, brood: int, rng: np.random.Generator) -> NDArray[np.intp]:
    """Return of every so many designs the one nearest to holding, and lowest in an aim drawn for them."""
    families = np.arange(len(values)) // brood
    aims = rng.integers(0, values.shape[1], int(families[-1]) + 1)
    order = np.lexsort((values[np.arange(len(values)), aims[families]], over, families))
    return order[np.unique(families, return_index=True)[1]]


def _changed(archive: Archive, space: Choosing, genes: Genes, rng: np.random.Generator) -> Genes:
    """Return offspring changed by chance, those seen before again."""
    counts = np.array(space.columns, dtype=np.int64)
    left = np.arange(len(genes))
    changed = genes.copy()
    for _ in range(AGAIN):
        some = changed[left]
        shape = some.shape
        hit = rng.random(shape) < 1 / shape[1]
        steps = np.maximum(counts // 12, 1)
        step = rng.integers(1, steps + 1, shape) * rng.choice([-1, 1], shape)
        near = np.clip(some + step, 0, counts - 1)
        anew = rng.integers(0, counts, shape)
        some = np.where(hit, np.where(rng.random(shape) < 0.6, near, anew), some)
        changed[left] = space.repaired(some)
        left = left[~archive.new(changed[left])]
        if not len(left):
            break
    return changed


class _Breeding:
    """NSGA-II asked for designs and told what they come to."""

    def __init__(self, space: Choosing, plan: SizingPlan, first: Genes, seed: int) -> None:
        from pymoo.algorithms.moo.nsga2 import NSGA2
        from pymoo.core.problem import Problem
        from pymoo.core.termination import NoTermination
        from pymoo.operators.crossover.ux import UniformCrossover
        from pymoo.operators.mutation.nom import NoMutation

        self._problem = cast("Any", Problem)(
            n_var=len(space.columns),
            n_obj=len(aims_of(plan)),
            n_ieq_constr=1,
            xl=np.zeros(len(space.columns)),
            xu=np.array(space.columns, dtype=float) - 1,
        )
        self._nsga = cast("Any", NSGA2)(
            pop_size=len(first),
            sampling=first.astype(float),
            crossover=cast("Any", UniformCrossover)(prob=0.9),
            mutation=cast("Any", NoMutation)(),
            eliminate_duplicates=False,
        )
        self._nsga.setup(self._problem, seed=seed % 2**32, termination=cast("Any", NoTermination)())
        self._asked: Any = None

    def asked(self) -> Genes:
        """Return the next designs to judge."""
        self._asked = self._nsga.ask()
        return np.rint(np.asarray(self._asked.get("X"), dtype=float)).astype(np.int64)

    def told(self, genes: Genes, values: Array, over: Array) -> None:
        """Say what the first of the designs asked for came to, changed as they were."""
        from pymoo.core.evaluator import Evaluator
        from pymoo.problems.static import StaticProblem

        population = self._asked[: len(genes)]
        population.set("X", genes.astype(float))
        finite = np.where(np.isfinite(values), values, UNBUILDABLE)
        over = np.where(np.isfinite(over), over, UNBUILDABLE)
        known = cast("Any", StaticProblem)(self._problem, F=finite, G=over[:, None])
        cast("Any", Evaluator)().eval(known, population)
        self._nsga.tell(infills=population)
