"""Random problems in parts whose every design can be listed: masses add, utilisations are maxima."""

from collections.abc import Sequence

import numpy as np

from stringerlab.project.wishes import Aim, SizingPlan
from stringerlab.sizing.judging.dear import Dear
from stringerlab.sizing.records import Genes, Outcome
from stringerlab.sizing.searching.aims import that_add, values_of
from stringerlab.workings import Array

MASS_AND_USE = SizingPlan(aims=(Aim.MASS, Aim.USE))


class Additive:
    """A judge of a random problem, each part a table of numbers by outer choice and own choice."""

    def __init__(
        self,
        seed: int,
        columns: Sequence[int],
        outer: Sequence[int],
        groups: Sequence[Sequence[int]],
        *,
        ease: float = 1.3,
        unsound: float = 0.05,
        rest: float = 1.0,
        dear: Sequence[Dear] = (),
    ) -> None:
        self.columns = tuple(columns)
        self.dear: tuple[Dear, ...] = tuple(dear)
        self.outer = tuple(outer)
        self.groups = tuple(tuple(group) for group in groups)
        self.rows = 0
        rng = np.random.default_rng(seed)
        outers = int(np.prod([columns[column] for column in outer]))
        inner = [int(np.prod([columns[column] for column in group])) for group in groups]
        self._tables = [_table(rng, (outers, count), ease, unsound) for count in (1, *inner)]
        self._tables[0][..., 4:] *= rest

    @property
    def count(self) -> int:
        count = 1
        for choices in self.columns:
            count *= choices
        return count

    def sampled(self, n: int, seed: int) -> Genes:
        return np.random.default_rng(seed).integers(0, self.columns, (n, len(self.columns)))

    def repaired(self, genes: Genes) -> Genes:
        return np.clip(genes, 0, np.array(self.columns) - 1)

    def every(self) -> Genes:
        """Return every design, in order."""
        return np.stack(np.unravel_index(np.arange(self.count), self.columns), axis=1).astype(np.int64)

    def rest(self, genes: Genes) -> Outcome:
        return self._of(0, genes, ())

    def part(self, g: int, genes: Genes) -> Outcome:
        return self._of(1 + g, genes, self.groups[g])

    def judge(self, genes: Genes) -> Outcome:
        found = [self.rest(genes), *(self.part(g, genes) for g in range(len(self.groups)))]
        return Outcome(
            sound=np.all([one.sound for one in found], axis=0),
            ratios=np.max([one.ratios for one in found], axis=0),
            use=np.max([one.use for one in found], axis=0),
            mass=np.sum([one.mass for one in found], axis=0),
            cost=np.sum([one.cost for one in found], axis=0),
            hours=np.sum([one.hours for one in found], axis=0),
        )

    def _of(self, table: int, genes: Genes, own: Sequence[int]) -> Outcome:
        self.rows += len(genes)
        numbers = self._tables[table][
            _index(genes, self.columns, self.outer), _index(genes, self.columns, own)
        ]
        sound = numbers[:, 0] > 0
        numbers = np.where(sound[:, None], numbers, np.inf)
        return Outcome(
            sound=sound,
            ratios=numbers[:, 1:3],
            use=numbers[:, 3],
            mass=numbers[:, 4],
            cost=numbers[:, 5],
            hours=numbers[:, 6],
        )


def brute(problem: Additive, plan: SizingPlan) -> tuple[Array, Array]:
    """Return the values of the front, found by comparing every design with every other, and all ratios."""
    outcome = problem.judge(problem.every())
    values = values_of(outcome, plan)[outcome.holds]
    front = [
        row for row in values if not any((other <= row).all() and (other < row).any() for other in values)
    ]
    return np.unique(np.array(front).reshape(-1, len(that_add(plan))), axis=0), outcome.ratios


def _table(rng: np.random.Generator, shape: tuple[int, int], ease: float, unsound: float) -> Array:
    """Return sound, two ratios, use, mass, cost, hours by outer and own choice; heavier holds better."""
    mass = rng.uniform(1, 10, shape)
    use = np.clip(6 / (mass * ease) * rng.uniform(0.5, 1.1, shape), 0, None)
    other = rng.uniform(0.2, 1.2, shape) / ease
    cost = np.round(mass * rng.uniform(2, 5, shape), 0)  # so that some are equal
    hours = rng.uniform(1, 3, shape)
    sound = np.where(rng.random(shape) < unsound, -1.0, 1.0)
    return np.stack([sound, use, other, use, mass, cost, hours], axis=-1)


def _index(genes: Genes, columns: Sequence[int], some: Sequence[int]) -> np.ndarray:
    index = np.zeros(len(genes), dtype=np.int64)
    for column in some:
        index = index * columns[column] + genes[:, column]
    return index
