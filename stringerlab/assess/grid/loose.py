"""Parts of a grid that nothing holds: named and left out, so that the rest is analysed."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from stringerlab.assess.grid.records import Beams
from stringerlab.errors import Problem
from stringerlab.grillage.checking import groups, loose


def without_loose(beams: Beams, names: Sequence[str]) -> tuple[Beams, tuple[Problem, ...]]:
    """Return a grid without the parts that nothing holds up or down, and these parts, each a problem.

    A grid of which nothing is held is returned as it is: there is no rest.

    Parameters
    ----------
    beams
        With its springs.
    names
        (n,) of its nodes.
    """
    grid = beams.grid
    n = len(grid.nodes)
    least = groups(n, grid.beams)
    held = np.zeros(n, bool)
    np.logical_or.at(held, least, grid.springs[:, 0] > 0)
    node = held[least]
    if node.all() or not node.any():
        return beams, ()
    wrong = tuple(
        replace(problem, what=f"{problem.what} It is left out of the grid.") for problem in loose(grid, names)
    )
    kept = node[grid.beams[:, 0]]
    number = np.cumsum(node) - 1
    smaller = replace(
        grid,
        nodes=grid.nodes[node],
        beams=number[grid.beams[kept]],
        EI=grid.EI[kept],
        GA=grid.GA[kept],
        GJ=grid.GJ[kept],
        springs=grid.springs[node],
        pinned=None if grid.pinned is None else grid.pinned[kept],
        mass=None if grid.mass is None else grid.mass[kept],
    )
    rows = np.flatnonzero(node).tolist()
    return replace(
        beams,
        grid=smaller,
        at=beams.at[node],
        keys=tuple(beams.keys[row] for row in rows),
        edges=tuple(beams.edges[row] for row in rows),
        span=beams.span[kept],
        image=beams.image[kept],
        part=beams.part[kept],
        width=beams.width[kept],
    ), wrong
