"""What a search hands out to be done, here or in another process: outer choices to prove, islands to breed.

A task is a record that can be pickled and depends on nothing but itself, so that whoever does it, the pack
is the same.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from stringerlab.project import Project
from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.records import Genes
from stringerlab.sizing.running import Pack, pulse
from stringerlab.sizing.searching.archive import Archive
from stringerlab.sizing.searching.exhaustive import explored
from stringerlab.sizing.searching.genetic import island
from stringerlab.sizing.searching.nearest import Nearest
from stringerlab.sizing.searching.splitting import split_of
from stringerlab.workings import Array


@dataclass(frozen=True, slots=True, eq=False)
class Outers:
    """Outer choices from one number to before another, to be judged with all that goes with them."""

    project: Project
    plan: SizingPlan
    first: int
    end: int
    base: Genes
    known: Array


@dataclass(frozen=True, slots=True, eq=False)
class Island:
    """An island of designs that breed."""

    project: Project
    plan: SizingPlan
    seed: int
    budget: int
    starts: Genes


@lru_cache(maxsize=1)
def judging(project: Project, plan: SizingPlan) -> Judge:
    """Return what judges the designs of a plan, made once in every process.

    Raises
    ------
    StringerlabError
        With everything that is wrong with the plan.
    """
    return Judge(project, plan)


def prove(task: Outers) -> Pack:
    """Judge all designs of some outer choices, or rule them out."""
    judge = judging(task.project, task.plan)
    space = judge.space
    split = split_of(judge, space.columns)
    found = explored(
        judge, split, task.plan, (task.first, task.end), task.base, task.known, lambda done, _: pulse(done)
    )
    return {
        "genes": found.genes,
        "values": found.values,
        "whole": found.whole,
        "ruled_out": found.ruled_out,
        "parts": found.parts,
        "complete": int(found.complete),
        **_packed(found.nearest, len(space.columns)),
    }


def breed(task: Island) -> Pack:
    """Let an island breed."""
    judge = judging(task.project, task.plan)
    space = judge.space
    archive: Archive

    def beat(done: float, words: str) -> None:
        del done, words
        pulse(min(archive.spent / task.budget, 1.0))

    archive = Archive(judge, space.columns, task.plan, beat)
    island(archive, space, task.seed, task.budget, task.starts)
    return {
        "genes": archive.genes,
        "values": archive.values,
        "seen": np.array(sorted(archive.seen), dtype=np.uint64),
        "asked": archive.asked,
        "spent": archive.spent,
        "exact": int(not archive.forgot),
        "complete": int(not archive.thinned),
        **_packed(archive.nearest, len(space.columns)),
    }


def nearest_in(pack: Pack) -> Nearest | None:
    """Return the nearest to holding of a pack."""
    if not pack["sought"]:
        return None
    return Nearest(*(np.asarray(pack[name]) for name in ("least", "near_genes", "near_ratios")))


def _packed(nearest: Nearest | None, columns: int) -> Pack:
    if nearest is None:
        none = np.zeros((0, columns), np.int64)
        return {"sought": 0, "least": np.zeros(0), "near_genes": none, "near_ratios": np.zeros((0, 0))}
    return {
        "sought": 1,
        "least": nearest.least,
        "near_genes": nearest.genes,
        "near_ratios": nearest.ratios,
    }
