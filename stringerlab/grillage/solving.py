"""Load cases of a grid solved: deflections, reactions, and moment, shear and torque along every beam."""

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.grillage.checking import Names, load_problems
from stringerlab.grillage.factored import Factored
from stringerlab.grillage.point_loads import freedoms, on_nodes, own, triplets
from stringerlab.grillage.records import Grid, Loads, Solved


def solve(grid: Grid | Factored, loads: Loads, *, places: int = 11, names: Names = None) -> Solved:
    """Solve a grid under load cases; moments and shear include the loads along the beam, exactly.

    Parameters
    ----------
    grid
        A grid, or one factored before.
    loads
        p load cases.
    places
        Of results along each beam, its ends among them.
    names
        A name for each node, for messages; a factored grid has its own.

    Returns
    -------
    Solved
        V at a place where a force stands is that just short of it (at a beam's first end, just past it).

    Raises
    ------
    StringerlabError
        With everything wrong with grid and loads, loose parts and mechanisms; or when the solution fails its
        checks.
    """
    held = grid if isinstance(grid, Factored) else Factored.of(grid, names)
    grid = held.grid
    wrong = load_problems(grid, loads, held.names)
    if wrong:
        raise StringerlabError(wrong)
    given = triplets(loads, len(grid.beams))
    at = np.linspace(0, 1, places)
    local = own(given, held.elements, at)
    force = on_nodes(grid, held.elements, local, given.cases)
    if loads.nodal is not None:
        force += loads.nodal.reshape(force.shape)
    answer = held.answer(force)
    ends = held.elements.forces @ answer.u[freedoms(grid.beams)]
    along = (held.elements.L[:, None] * at)[:, :, None]
    M = ends[:, :1] + along * ends[:, 1:2]
    V = np.repeat(ends[:, 1:2], places, axis=1)
    M[local.beam, :, local.case] += local.M
    V[local.beam, :, local.case] += local.V
    n = len(grid.nodes)
    return Solved(
        w=answer.u.reshape(n, 3, -1),
        places=at,
        M=M,
        V=V,
        T=ends[:, 2],
        reactions=answer.reactions.reshape(n, 3, -1),
        residual=answer.residual,
        imbalance=held.imbalance(answer.reactions, given, loads.nodal),
    )
