"""Motions of a grid that meet no resistance: found from its factor, told by the nodes that take part."""

import numpy as np

from stringerlab.errors import Problem
from stringerlab.grillage.checking import Names, groups, listed
from stringerlab.grillage.factors import Factor, Matrix, factor
from stringerlab.grillage.records import Grid, Index

LEAST = 1e-13
"""Stiffness of a motion over that of single freedoms below which it has none; rounding leaves some 1e-16."""
_SHIFT = 1e-9
_VECTORS = 24
_TAKES_PART = 1e-3


def softest(part: Matrix, given: Factor, n: int) -> float:
    """Return the stiffness of a grid's softest motion over that of single freedoms, or a little more."""
    v = np.random.default_rng(1).standard_normal((n, 1))
    for _ in range(2):
        v = given.solve(v)
        length = float(np.linalg.norm(v))
        if not 0 < length < np.inf:
            return 0.0
        v /= length
    return float((v * (part @ v)).sum())


def mechanisms(grid: Grid, part: Matrix, free: Index, names: Names) -> tuple[Problem, ...]:
    """Return every motion without resistance, nodes that move together as one.

    Parameters
    ----------
    grid
        Checked.
    part, free
        Scaled stiffness of free freedoms, and their numbers (`factors.assembled`).
    """
    n = len(free)
    shifted = factor(part, _SHIFT)
    v = np.random.default_rng(2).standard_normal((n, min(_VECTORS, n)))
    for _ in range(3):
        v, _ = np.linalg.qr(shifted.solve(v))
    values, turn = np.linalg.eigh(v.T @ (part @ v))
    moving = (v @ turn)[:, values < LEAST]
    if not moving.shape[1]:
        return ()
    # How much of each freedom is in the motions, whichever way they are mixed.
    share = np.zeros(3 * len(grid.nodes))
    share[free] = np.sqrt((moving**2).sum(axis=1))
    at = share.reshape(-1, 3)
    taking = (at > _TAKES_PART * share.max()).any(axis=1)
    both = taking[grid.beams].all(axis=1)
    least = groups(len(grid.nodes), grid.beams[both])
    found: list[Problem] = []
    for group in np.unique(least[taking]).tolist():
        nodes = np.flatnonzero(taking & (least == group))
        freedom = at[nodes]
        strong = freedom > _TAKES_PART * freedom.max()
        ways = [
            way
            for way, is_so in zip(
                ("move up and down", "turn about x", "turn about y"), strong.any(axis=0).tolist(), strict=True
            )
            if is_so
        ]
        who = "This node" if len(nodes) == 1 else f"These {len(nodes)} nodes"
        found.append(
            Problem(
                f"{who} can {' and '.join(ways)} with nothing to resist: a mechanism.",
                listed(grid, nodes, names),
                "Hold a node, join beams that are pinned there, or give a beam torsional stiffness.",
            )
        )
    return tuple(found)
