"""Designs one change away from others: the way down to where a search begins, a last look round its front."""

import numpy as np

from stringerlab.sizing.records import Genes
from stringerlab.sizing.searching.aims import aims_of, excess
from stringerlab.sizing.searching.archive import Archive, Choosing

TRIED = 24
"""How many choices of one column are tried at a time."""
ROUNDS = 3
"""How often a way down goes through all columns."""
AT_ONCE = 16
"""How many designs are looked round at a time."""


def starts(archive: Archive, space: Choosing, present: Genes, budget: int) -> Genes:
    """Return designs a search does well to begin with: the present, both ends, and each aim's own way down.

    On a way down the choice of one column after another is taken that holds and is lowest in the aim, or
    where none holds the one nearest to holding; and once for the demands alone.

    Parameters
    ----------
    archive
        Judges, and keeps what it sees.
    space
        Which designs there are.
    present
        (v,) the boat as she is.
    budget
        How much of the budget is spent at the most, in designs.
    """
    ends = np.array([[0] * len(space.columns), [count - 1 for count in space.columns]], dtype=np.int64)
    found = [present, *space.repaired(ends)]
    archive.judged(np.array(found))
    most = archive.spent + budget
    for aim in (None, *range(len(aims_of(archive.plan)))):
        found.append(_down(archive, space, found[-1] if aim is not None else present, aim, most))
    return np.unique(np.array(found), axis=0)


def looked_round(archive: Archive, space: Choosing, budget: int) -> bool:
    """Judge what lies one change from the front until it grows no more; whether the budget reached so far."""
    most = archive.spent + budget
    done = set[int]()
    while True:
        keys = archive.keys(archive.genes).tolist()
        rows = [row for row, key in enumerate(keys) if key not in done][:AT_ONCE]
        if not rows:
            return True
        around = [_around(space, archive.genes[row], column) for row in rows for column in _columns(space)]
        near = np.unique(np.concatenate(around), axis=0)
        near = near[archive.new(near)]
        done.update(keys[row] for row in rows)
        if archive.spent + archive.price(near) > most:
            return False
        if len(near):
            archive.judged(near)


def _down(archive: Archive, space: Choosing, start: Genes, aim: int | None, most: int) -> Genes:
    """Return where the way down for one aim ends; for the demands alone where there is none."""
    here = start
    for _ in range(ROUNDS):
        before = here
        for column in _columns(space):
            near = np.concatenate([here[None, :], _around(space, here, column)])
            if archive.spent + archive.price(near) > most:
                return here
            outcome, values = archive.judged(near)
            over = excess(outcome)
            low = over if aim is None else np.where(np.isfinite(values[:, aim]), values[:, aim], np.inf)
            here = near[np.lexsort((np.arange(len(near)), low, over))[0]]
        if (here == before).all():
            break
    return here


def _around(space: Choosing, genes: Genes, column: int) -> Genes:
    """Return designs that differ in one column, but for what must be put right with it."""
    count = space.columns[column]
    now = int(genes[column])
    if count <= TRIED:
        choices = np.array([choice for choice in range(count) if choice != now], dtype=np.int64)
    else:
        steps = 2 ** np.arange(int(np.log2(count)) + 1, dtype=np.int64)
        choices = np.concatenate([now - steps, now + steps])
        choices = choices[(choices >= 0) & (choices < count)]
    near = np.tile(genes, (len(choices), 1))
    near[:, column] = choices
    return space.repaired(near) if len(near) else near


def _columns(space: Choosing) -> range:
    return range(len(space.columns))
