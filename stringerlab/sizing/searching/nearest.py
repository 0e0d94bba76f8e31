"""Where nothing holds: how near each demand comes to its limit, of all designs of some outer choices.

Each demand's ratio is the highest of the parts and groups do not meet, so the least over all designs is found
group by group: exactly, without forming them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.sizing.records import Genes, Outcome, Watch
from stringerlab.sizing.searching.aims import Judging
from stringerlab.sizing.searching.splitting import Split
from stringerlab.workings import Array

ROWS = 4_096
"""How many parts of designs are judged at once."""
AT_ONCE = 256
"""How many designs are judged between two looks of the watch: new laminates take long."""


@dataclass(frozen=True, slots=True, eq=False)
class Nearest:
    """How near some designs come to holding."""

    least: Array
    """(d,) the least ratio of every demand, whatever the others come to; inf where nothing can be built."""
    genes: Genes
    """(0 or 1, v) the design whose worst demand is least over its limit; none where nothing can be built."""
    ratios: Array
    """(0 or 1, d) its ratios."""


def nearest_of_parts(judge: Judging, split: Split, outers: Genes, rest: Outcome, watch: Watch) -> Nearest:
    """Return how near all designs of some outer choices come to holding.

    Parameters
    ----------
    judge, split
        What judges, and how the space comes apart.
    outers, rest
        Designs with those outer choices (n, v), and what their rest comes to.
    watch
        Told of progress, and asked by it to stop.
    """
    least = ratios_of(rest)
    ratios, genes = least.copy(), outers.copy()
    for group in range(len(split.groups)):
        columns = list(split.groups[group])
        for one, outer in enumerate(outers):
            if not rest.sound[one]:
                continue
            low = np.full(least.shape[1], np.inf)
            worst, row = np.inf, np.full(least.shape[1], np.inf)
            for first in range(0, split.inner[group], ROWS):
                own = split.group_genes(group, first, min(first + ROWS, split.inner[group]), outer)
                found = ratios_of(judge.part(group, own))
                low = np.minimum(low, found.min(axis=0, initial=np.inf))
                pick = nearest_row(found)
                if worst_of(found[pick]) < worst:
                    worst, row = worst_of(found[pick]), found[pick]
                    genes[one, columns] = own[pick, columns]
                watch(0.0, "Looking for what comes nearest")
            least[one] = np.maximum(least[one], low)
            ratios[one] = np.maximum(ratios[one], row)
    return nearest_among(genes, ratios, least)


def nearest_among(genes: Genes, ratios: Array, least: Array | None = None) -> Nearest:
    """Return how near designs with such ratios (n, d) come to holding."""
    low = (ratios if least is None else least).min(axis=0, initial=np.inf)
    buildable = np.flatnonzero(np.isfinite(ratios).all(axis=1))
    some = buildable[[nearest_row(ratios[buildable])]] if len(buildable) else buildable
    return Nearest(low, genes[some], ratios[some])


def nearest_of_all(found: Sequence[Nearest]) -> Nearest:
    """Return the nearest of several."""
    genes = np.concatenate([one.genes for one in found])
    ratios = np.concatenate([one.ratios for one in found])
    return nearest_among(genes, ratios, np.stack([one.least for one in found]))


def ratios_of(outcome: Outcome) -> Array:
    """Return the ratios (n, d), all inf where a design cannot be built."""
    return np.where(outcome.sound[:, None], outcome.ratios, np.inf)


def worst_of(ratios: Array) -> float:
    """Return the highest of one design's ratios (d,)."""
    return float(ratios.max(initial=0.0))


def nearest_row(ratios: Array) -> int:
    """Return which design's worst ratio is the lowest, the first where several are."""
    return int(np.argmin(ratios.max(axis=1, initial=0.0)))


def judged_in_chunks(judge: Callable[[Genes], Outcome], genes: Genes, watch: Watch, words: str) -> Outcome:
    """Judge designs a chunk at a time, so that memory stays bounded and a watch is asked often."""
    found: list[Outcome] = []
    for first in range(0, max(len(genes), 1), AT_ONCE):
        found.append(judge(genes[first : first + AT_ONCE]))
        watch(first / max(len(genes), 1), words)
    return found[0] if len(found) == 1 else together(found)


def together(found: Sequence[Outcome]) -> Outcome:
    """Return outcomes one after another."""
    return Outcome(
        sound=np.concatenate([one.sound for one in found]),
        ratios=np.concatenate([one.ratios for one in found]),
        use=np.concatenate([one.use for one in found]),
        mass=np.concatenate([one.mass for one in found]),
        cost=np.concatenate([one.cost for one in found]),
        hours=np.concatenate([one.hours for one in found]),
    )
