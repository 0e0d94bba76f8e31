"""Designs put together of every group's own best: where a search of many groups does well to begin.

With the outer choices given, groups do not meet, so the lightest that holds, or what comes nearest to it,
is found group by group. That is one design of each aim for a few outer choices, and no front.
"""

import numpy as np

from stringerlab.sizing.records import Genes
from stringerlab.sizing.searching.aims import aims_of, values_of
from stringerlab.sizing.searching.archive import Archive, Choosing
from stringerlab.sizing.searching.nearest import judged_in_chunks, ratios_of
from stringerlab.sizing.searching.splitting import Split

MOST = 1_024
"""How many choices of a group are tried: all where there are no more, else as many drawn."""


def put_together(archive: Archive, space: Choosing, split: Split, outers: Genes, budget: int) -> Genes:
    """Return and judge designs with these outer choices, every group at its own best in one aim each.

    Parameters
    ----------
    archive, space, split
        What judges and keeps, which designs there are, and how they come apart.
    outers
        (n, v) designs whose outer choices are taken.
    budget
        How much of the budget is spent at the most, in designs.
    """
    found: list[Genes] = []
    aims = len(aims_of(archive.plan))
    each = aims + sum(min(count, MOST) for count in split.inner)
    most = archive.spent + budget
    for number, outer in enumerate(outers):
        if archive.spent + each + archive.price(outer[None, :]) > most:
            break
        made = np.tile(outer, (aims, 1))
        for group, columns in enumerate(split.groups):
            own = _own(space, split, group, outer, number)
            archive.spend(own)
            made[:, list(columns)] = own[_best(archive, group, own)][:, list(columns)]
        archive.asked += each - aims
        found.append(made)
    if not found:
        return outers[:0]
    genes = np.unique(space.repaired(np.concatenate(found)), axis=0)
    archive.judged(genes)
    return genes


def _own(space: Choosing, split: Split, group: int, outer: Genes, seed: int) -> Genes:
    """Return designs with the choices of one group to try, all else as in ``outer`` (v,)."""
    if split.inner[group] <= MOST:
        return space.repaired(split.group_genes(group, 0, split.inner[group], outer))
    columns = list(split.groups[group])
    own = np.tile(outer, (MOST, 1))
    own[1:, columns] = space.sampled(MOST - 1, seed)[:, columns]
    return own


def _best(archive: Archive, group: int, own: Genes) -> Genes:
    """Return which choice is best in each aim (k,): of those nearest to holding, the lowest."""
    outcome = judged_in_chunks(
        lambda genes: archive.judge.part(group, genes), own, archive.watch, "Judging designs"
    )
    over = np.maximum(ratios_of(outcome).max(axis=1, initial=0.0), 1.0)
    values = values_of(outcome, archive.plan)
    return np.array([np.lexsort((np.arange(len(own)), low, over))[0] for low in values.T], dtype=np.int64)
