"""A space proven outer choice by outer choice, or searched by islands: tasks made, run, and put together."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stringerlab.project import Project
from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.records import Genes, Watch
from stringerlab.sizing.running import Pack, Running, digest_of, run
from stringerlab.sizing.running.pulse import pulse_felt
from stringerlab.sizing.searching.aims import Judging
from stringerlab.sizing.searching.archive import Archive
from stringerlab.sizing.searching.front import nondominated, rounded, spread_out
from stringerlab.sizing.searching.nearest import Nearest, nearest_of_all
from stringerlab.sizing.searching.neighbours import nearest_each, starts, walked
from stringerlab.sizing.searching.parts_first import put_together
from stringerlab.sizing.searching.splitting import Split
from stringerlab.sizing.searching.tasks import Island, Outers, breed, nearest_in, prove
from stringerlab.workings import Array

FIRST, FIRST_MOST = 0.1, 15_000
"""Part of the budget, and how much of it in designs, that the first looks may take at the most."""
DRAWN = 8
"""Outer choices drawn for the first looks."""
PER_TASK = 4_096
"""Parts of designs to a task, about a second of work or two; more where there would be very many tasks."""
TASKS = 256
PER_ISLAND = 25_000
"""Designs to an island, where the budget allows several."""
ISLANDS = 16
ISLANDS_DEAR, DEAR = 4, 20
"""Fewer where a design costs the budget more than so many known ones."""
_EACH, _LONG = 1e-4, 1.0
"""Seconds that a part of the budget takes about, where much is made anew; from where a task is long."""
TRIED = 240
"""Designs drawn to tell what one costs the budget."""
WALK = 0.3
"""Part of the budget kept for a walk from the front to what lies one change away."""
_BRED = 0.9
"""Part of a search done when its islands are."""
_WALKING = "Looking at what lies one change away"
STARTS = 24
"""Designs found before that an island begins with at the most."""


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """What is searched."""

    project: Project
    plan: SizingPlan
    space: Space
    split: Split
    present: Genes
    """(v,)."""
    first: Archive
    """What the first looks found."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """What a search found."""

    genes: Genes
    """The front."""
    values: Array
    nearest: Nearest | None
    """How near any comes to holding, where none does."""
    judged: int
    ruled_out: int
    parts: int
    """How many parts of designs, or designs, were judged for it."""
    proven: bool
    counted: bool
    """Whether ``judged`` is exact, and not the most it can be."""
    notes: tuple[str, ...]
    held_fast: bool = False
    """Whether nothing was searched, because nothing that changes can make any design hold."""
    spent: int = 0
    """Of the budget, where it was searched."""
    walked: bool = True
    """Whether a walk from the front went on until nothing bettered it."""


def first_looks(
    judge: Judging, space: Space, split: Split, plan: SizingPlan, present: Genes, most: float, watch: Watch
) -> Archive:
    """Return what a few looks find: the present boat, each aim's way down, every group at its own best.

    Parameters
    ----------
    judge, space, split, plan, present
        What judges, which designs there are, how they come apart, what is asked for, the present boat (v,).
    most
        How many designs and parts are judged at the most.
    watch
        Told of progress, and asked by it to stop.
    """
    archive = Archive(judge, space.columns, plan, watch)
    budget = int(min(plan.budget * FIRST, FIRST_MOST, most))
    outers = np.concatenate([present[None, :], space.repaired(space.sampled(DRAWN, plan.seed))])
    put_together(archive, space, split, outers, budget // 2)
    starts(archive, space, archive.genes[0] if len(archive.genes) else present, budget // 2)
    archive.judged(present[None, :])
    return archive


def proven(wanted: Wanted, running: Running, watch: Watch) -> Found:
    """Judge every design, or rule it out by a bound."""
    split, plan, known = wanted.split, wanted.plan, wanted.first.values
    each = min(ceil(max(PER_TASK, split.effort / TASKS) * split.outers / split.effort), split.outers)
    tasks = [
        Outers(wanted.project, plan, first, min(first + each, split.outers), wanted.present, known)
        for first in range(0, split.outers, each)
    ]
    digest = digest_of("size, proven", wanted.project, plan, known, each)
    # What is dear is known to take long; otherwise the first task is timed before others are put to work.
    dear = (split.effort - split.parts) / len(tasks) * _EACH
    seconds = dear if dear > _LONG else None
    ran = run(prove, tasks, running, watch, digest=digest, what="Judging every design", seconds=seconds)
    genes, values = _front(
        [wanted.first.genes, *_all(ran.packs, "genes")], [known, *_all(ran.packs, "values")]
    )
    near = [one for one in map(nearest_in, ran.packs) if one is not None]
    return Found(
        genes=genes,
        values=values,
        nearest=nearest_of_all(near) if near and not len(genes) else None,
        judged=_sum(ran.packs, "whole") * split.each,
        ruled_out=_sum(ran.packs, "ruled_out") * split.each,
        parts=_sum(ran.packs, "parts"),
        proven=all(pack["complete"] for pack in ran.packs),
        counted=True,
        notes=ran.notes,
    )


def hopeless(wanted: Wanted, others: Sequence[int], running: Running, watch: Watch, *, small: bool) -> Found:
    """Return what there is to find where something breaks a demand that nothing in the space changes.

    Parameters
    ----------
    wanted
        What was asked for.
    others
        The demands, by place, of which that is not so: whether each can hold on its own is looked for.
    running, watch
        Where it runs; told of progress.
    small
        Whether the space can be gone through: done where a look does not show that each of the others holds.
    """
    first, budget = wanted.first, int(min(wanted.plan.budget * FIRST, FIRST_MOST))
    with pulse_felt(lambda _: watch(0.0, "Looking at each demand on its own")):
        first.watch = _within(watch, 0.0, 0.0)
        nearest_each(first, wanted.space, wanted.present, others, budget)
    near = first.nearest
    if small and any(near is None or near.least[place] > 1 for place in others):
        return proven(wanted, running, watch)
    judged = min(len(first.seen), wanted.space.count)
    return Found(
        genes=first.genes[:0],
        values=first.values[:0],
        nearest=first.nearest,
        judged=judged,
        ruled_out=wanted.space.count - judged,
        parts=first.asked,
        proven=True,
        counted=not first.forgot,
        notes=(),
        held_fast=True,
    )


def searched(wanted: Wanted, running: Running, watch: Watch) -> Found:
    """Let islands of designs breed."""
    first, plan = wanted.first, wanted.plan
    left = max(plan.budget - first.spent, 1)
    trial = wanted.space.sampled(TRIED, plan.seed)
    price = first.price(trial) / len(trial)
    # Where every design is dear few can be judged: then not so many islands that each sees next to nothing.
    bred = max(left - int(plan.budget * WALK), 1)
    count = int(np.clip(bred // PER_ISLAND, 1, ISLANDS if price < DEAR else ISLANDS_DEAR))
    begin = np.concatenate([wanted.present[None, :], first.genes[spread_out(first.values, STARTS)]])
    if first.nearest is not None and not len(first.genes):
        begin = np.concatenate([begin, first.nearest.genes])
    tasks = [
        # Every other island goes its own way, so that not all look in one place.
        Island(wanted.project, plan, seed, bred // count, begin if number % 2 == 0 else begin[:1])
        for number, seed in enumerate(_seeds(plan.seed, count))
    ]
    digest = digest_of("size, searched, then walked", wanted.project, plan, begin, count)
    seconds = bred / count * _EACH if price >= DEAR else None
    ran = run(
        breed,
        tasks,
        running,
        _within(watch, 0.0, _BRED),
        digest=digest,
        what="Searching designs",
        seconds=seconds,
    )
    genes, values = _front(
        [first.genes, *_all(ran.packs, "genes")], [first.values, *_all(ran.packs, "values")]
    )
    seen = np.concatenate([np.zeros(0, np.uint64), *_all(ran.packs, "seen")])
    first.take(genes, values, seen, exact=all(bool(pack["exact"]) for pack in ran.packs))
    spent = _sum(ran.packs, "spent")
    with pulse_felt(lambda _: watch(_BRED, _WALKING)):
        first.watch = _within(watch, _BRED, 0.0, _WALKING)
        whole = walked(first, wanted.space, plan.budget - first.spent - spent)
    genes, values = _front([first.genes], [first.values])
    near = [one for one in (first.nearest, *map(nearest_in, ran.packs)) if one is not None]
    asked = first.asked + _sum(ran.packs, "asked")
    counted = not first.forgot
    return Found(
        genes=genes,
        values=values,
        nearest=nearest_of_all(near) if near and not len(genes) else None,
        judged=min(len(first.seen) if counted else asked, wanted.space.count),
        ruled_out=0,
        parts=asked,
        proven=False,
        counted=counted,
        notes=ran.notes,
        spent=first.spent + spent,
        walked=whole,
    )


def _front(genes: Sequence[Genes], values: Sequence[Array]) -> tuple[Genes, Array]:
    """Return what no other beats of several fronts, by the first aim; of equal ones the first by genes."""
    all_genes, all_values = np.concatenate(genes), np.concatenate(values)
    order = np.lexsort(all_genes.T[::-1])
    kept = order[nondominated(rounded(all_values[order]))]
    kept = kept[np.lexsort(all_values[kept].T[::-1])]
    return all_genes[kept], all_values[kept]


def _within(watch: Watch, first: float, part: float, words: str = "") -> Watch:
    """Return a watch on a part of the work, which it may say in words of its own."""

    def told(done: float, said: str) -> None:
        watch(first + part * done, words or said)

    return told


def _seeds(seed: int, count: int) -> list[int]:
    return [int(one.generate_state(1)[0]) for one in np.random.SeedSequence(seed).spawn(count)]


def _all(packs: Sequence[Pack], name: str) -> list[NDArray[Any]]:
    return [np.asarray(pack[name]) for pack in packs]


def _sum(packs: Sequence[Pack], name: str) -> int:
    return sum(int(pack[name]) for pack in packs)
