"""Designs one change away from others: the way down to where a search begins, a last look round its front."""

from collections.abc import Callable, Sequence

import numpy as np

from stringerlab.sizing.records import Genes, Outcome
from stringerlab.sizing.searching.aims import aims_of, excess
from stringerlab.sizing.searching.archive import Archive, Choosing
from stringerlab.sizing.searching.nearest import ratios_of
from stringerlab.workings import Array

TRIED = 24
"""How many choices of one column are tried at a time."""
TRIED_LAST = 512
"""The same at the end, round each aim's best: of more choices those 1, 2, 4, … away."""
ROUNDS = 3
"""How often a way down goes through all columns."""
AT_ONCE = 16
"""How many designs are looked round at a time."""
Move = Callable[[Genes], Genes]
"""From a design (v,) to those it leads to (n, v)."""


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


def nearest_each(archive: Archive, space: Choosing, start: Genes, places: Sequence[int], budget: int) -> None:
    """Go the way down for each of some demands on its own, whatever the others come to.

    Parameters
    ----------
    archive, space
        What judges and keeps how near each demand comes to holding; which designs there are.
    start
        (v,) where each way begins.
    places
        Which demands, by their place among all.
    budget
        How much of the budget is spent at the most, in designs.
    """
    most = archive.spent + budget
    for place in places:
        if archive.nearest is None or archive.nearest.least[place] > 1:
            _way(archive, space, start, most, lambda outcome, _, of=place: (ratios_of(outcome)[:, of],))


def walked(archive: Archive, space: Choosing, budget: int) -> bool:
    """Walk from the front to what lies one change away, until nothing betters it.

    First from the best in each aim, and there also to what lies a dear change and a cheap one away; then from
    all. Columns whose change costs little come before the others.

    Parameters
    ----------
    archive, space
        What judges and keeps the front; which designs there are.
    budget
        How much of the budget is spent at the most, in designs.

    Returns
    -------
    bool
        Whether the budget reached to the end.
    """
    most = archive.spent + budget
    paid = {column for one in archive.judge.dear for column in one.columns}
    cheap = [column for column in _columns(space) if column not in paid]
    dear = [column for column in _columns(space) if column in paid]
    near: list[Move] = [lambda here, of=column: _around(space, here, of, TRIED_LAST) for column in cheap]
    one: list[Move] = [*near, *[lambda here, of=column: _around(space, here, of) for column in dear]]
    two: list[Move] = [lambda here, of=column: _around_both(space, here, of, cheap) for column in dear]
    far: list[Move] = [lambda here, of=column: _around(space, here, of, TRIED_LAST) for column in dear]
    aims = range(archive.values.shape[1]) if len(archive.genes) else range(0)
    while True:
        whole = True
        for moves in (near, one, [*one, *two], [*one, *two, *far]):
            for aim in aims:
                whole &= _to_the_best(archive, aim, moves, most)
        best = [_best_in(archive, aim)[1] for aim in aims]
        for columns in (cheap, [*cheap, *dear]):
            whole &= looked_round(archive, space, most - archive.spent, columns)
        if all(_best_in(archive, aim)[1] >= low for aim, low in zip(aims, best, strict=True)):
            return whole


def _to_the_best(archive: Archive, aim: int, moves: Sequence[Move], most: int) -> bool:
    """Walk from the best in an aim, move by move; whether the budget reached to the end."""
    whole, left = True, list(moves)
    while left:
        move = left.pop(0)
        here, lowest = _best_in(archive, aim)
        near = move(here)
        near = near[archive.new(near)]
        some = archive.affordable(near, most - archive.spent)
        whole &= len(some) == len(near)
        if not len(some):
            continue
        archive.judged(some)
        if _best_in(archive, aim)[1] < lowest:
            # From there all moves are worth another look.
            left = list(moves)
            whole = True
    return whole


def _best_in(archive: Archive, aim: int) -> tuple[Genes, float]:
    """Return the design of the front that is lowest in an aim, and how low."""
    row = np.lexsort((*archive.genes.T[::-1], archive.values[:, aim]))[0]
    return archive.genes[row], float(archive.values[row, aim])


def looked_round(
    archive: Archive, space: Choosing, budget: int, columns: Sequence[int] | None = None
) -> bool:
    """Judge what lies one change from the front until it grows no more; whether the budget reached so far.

    Parameters
    ----------
    archive, space
        What judges and keeps the front; which designs there are.
    budget
        How much of the budget is spent at the most, in designs.
    columns
        Which change, all of them by default.
    """
    some = _columns(space) if columns is None else columns
    if not some:
        return True
    most = archive.spent + budget
    done = set[int]()
    while True:
        keys = archive.keys(archive.genes).tolist()
        rows = [row for row, key in enumerate(keys) if key not in done][:AT_ONCE]
        if not rows:
            return True
        around = [_around(space, archive.genes[row], column) for row in rows for column in some]
        near = np.unique(np.concatenate(around), axis=0)
        near = near[archive.new(near)]
        done.update(keys[row] for row in rows)
        if archive.spent + archive.price(near) > most:
            near = archive.affordable(near, most - archive.spent)
            if len(near):
                archive.judged(near)
            return False
        if len(near):
            archive.judged(near)


def _down(archive: Archive, space: Choosing, start: Genes, aim: int | None, most: int) -> Genes:
    """Return where the way down for one aim ends; for the demands alone where there is none."""

    def low(outcome: Outcome, values: Array) -> tuple[Array, ...]:
        over = excess(outcome)
        return (
            (over,) if aim is None else (over, np.where(np.isfinite(values[:, aim]), values[:, aim], np.inf))
        )

    return _way(archive, space, start, most, low)


def _way(
    archive: Archive,
    space: Choosing,
    start: Genes,
    most: int,
    low: Callable[[Outcome, Array], tuple[Array, ...]],
) -> Genes:
    """Return where a way ends that takes of every column the choice that is lowest."""
    here = start
    for _ in range(ROUNDS):
        before = here
        for column in _columns(space):
            near = np.concatenate([here[None, :], _around(space, here, column)])
            if archive.spent + archive.price(near) > most:
                return here
            outcome, values = archive.judged(near)
            here = near[np.lexsort((np.arange(len(near)), *low(outcome, values)[::-1]))[0]]
        if (here == before).all():
            break
    return here


def _around(space: Choosing, genes: Genes, column: int, tried: int = TRIED) -> Genes:
    """Return designs that differ in one column, but for what must be put right with it."""
    count = space.columns[column]
    now = int(genes[column])
    if count <= tried:
        choices = np.array([choice for choice in range(count) if choice != now], dtype=np.int64)
    else:
        steps = 2 ** np.arange(int(np.log2(count)) + 1, dtype=np.int64)
        choices = np.concatenate([now - steps, now + steps])
        choices = choices[(choices >= 0) & (choices < count)]
    near = np.tile(genes, (len(choices), 1))
    near[:, column] = choices
    return space.repaired(near) if len(near) else near


def _around_both(space: Choosing, genes: Genes, column: int, others: Sequence[int]) -> Genes:
    """Return designs that differ in one column, and those that differ in one of some others as well."""
    near = _around(space, genes, column)
    each = [_around(space, one, other) for one in near for other in others]
    return np.unique(np.concatenate([near, *each]), axis=0)


def _columns(space: Choosing) -> range:
    return range(len(space.columns))
