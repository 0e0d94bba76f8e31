"""Forces at points along beams: what they put on nodes, and their own share of moment and shear, exactly.

A beam's moment is that of its ends' freedoms plus what the same loads give with its ends held; both are
exact for Timoshenko's beam, so that no point needs a node. N, mm.
"""

from dataclasses import dataclass
from typing import Any, cast

import numpy as np

from stringerlab.grillage.elements import Elements, shapes
from stringerlab.grillage.records import Array, Grid, Index, Loads

_SAME = 1e-9
"""Places closer than this part of a beam's length are one."""


@dataclass(frozen=True, slots=True, eq=False)
class Triplets:
    """Forces one by one, sorted by case, then beam."""

    case: Index
    beam: Index
    along: Array
    amount: Array
    cases: int

    def between(self, first: int, last: int) -> "Triplets":
        """Return those of cases ``first`` to ``last`` (not included), counted from 0 again."""
        start, stop = np.searchsorted(self.case, [first, last])
        rows = slice(int(start), int(stop))
        return Triplets(
            self.case[rows] - first, self.beam[rows], self.along[rows], self.amount[rows], last - first
        )


@dataclass(frozen=True, slots=True, eq=False)
class Own:
    """What loads give in beams with held ends: r pairs of a beam and a case, s places."""

    beam: Index
    """(r,) sorted."""
    case: Index
    """(r,) sorted within a beam."""
    M: Array
    """(r, s)."""
    V: Array
    """(r, s): just short of a force that stands on a place; at place 0 just past it."""
    drop: Array | None
    """(r, s): what forces that stand on places take off V; None when none do."""
    ends: Array
    """(r, 4) on nodes: force and moment along the beam of the first end, then of the second."""


def triplets(loads: Loads, beams: int) -> Triplets:
    """Return the forces of loads that are not 0.

    Parameters
    ----------
    loads
        Checked (`checking.load_problems`).
    beams
        How many the grid has.
    """
    amount = cast(Any, loads.amount)
    if hasattr(amount, "tocoo"):
        sparse = amount.tocoo()
        point, case, value = sparse.row, sparse.col, sparse.data
        kept = value != 0
        point, case, value = point[kept], case[kept], value[kept]
    else:
        point, case = np.nonzero(amount)
        value = np.asarray(amount)[point, case]
    at = loads.beam[point]
    order = np.argsort(case.astype(np.intp) * beams + at, kind="stable")
    point = point[order]
    return Triplets(
        case=case[order].astype(np.intp),
        beam=at[order].astype(np.intp),
        along=loads.along[point],
        amount=np.asarray(value[order], dtype=np.float64),
        cases=int(amount.shape[1]),
    )


def own(given: Triplets, of: Elements, places: Array) -> Own:
    """Return what forces give in beams whose ends are held (or pinned), and what they put on nodes."""
    L = of.L[given.beam]
    ends = np.einsum("qij,qj->qi", of.released[given.beam], shapes(given.along, L, of.phi[given.beam]))
    ends *= given.amount[:, None]
    ahead = places[None, :] - given.along[:, None]
    behind = (given.amount * L)[:, None] * np.maximum(ahead, 0.0)
    M = ends[:, :1] * (L[:, None] * places) - ends[:, 1:2] - behind
    passed = ahead > _SAME
    on = np.abs(ahead) <= _SAME
    first, last = places <= _SAME, places >= 1 - _SAME
    passed[:, first] |= on[:, first]
    on[:, first | last] = False
    V = ends[:, :1] - given.amount[:, None] * passed
    starts, beam, case = _pairs(given)
    if not len(starts):
        none = np.zeros((0, len(places)))
        return Own(beam, case, none, none, None, np.zeros((0, 4)))
    order = np.lexsort((case, beam))
    drop = None
    if on.any():
        drop = np.add.reduceat(given.amount[:, None] * on, starts, axis=0)[order]
    return Own(
        beam=beam[order],
        case=case[order],
        M=np.add.reduceat(M, starts, axis=0)[order],
        V=np.add.reduceat(V, starts, axis=0)[order],
        drop=drop,
        ends=np.add.reduceat(ends, starts, axis=0)[order],
    )


def on_nodes(grid: Grid, of: Elements, held: Own, cases: int) -> Array:
    """Return what held ends put on nodes, (3 n, cases)."""
    size = 3 * len(grid.nodes)
    force = np.einsum("rij,ri->rj", of.turned[held.beam], held.ends)
    where = freedoms(grid.beams[held.beam])
    flat = summed((where * cases + held.case[:, None]).ravel(), force.ravel(), size * cases)
    return flat.reshape(size, cases)


def summed(where: Index, values: Array, size: int) -> Array:
    """Return values added up by where they go, (size,)."""
    return np.asarray(np.bincount(where, values, size), dtype=np.float64)


def freedoms(beams: Index) -> Index:
    """Return the six freedoms of each beam, (m, 6)."""
    return (3 * beams[:, :, None] + np.arange(3)).reshape(len(beams), 6)


def point_loads(grid: Grid, of: Elements, loads: Loads) -> Array:
    """Return the forces and moments that points along beams, and loads at nodes, put on nodes (n, 3, p)."""
    given = triplets(loads, len(grid.beams))
    found = on_nodes(grid, of, own(given, of, np.zeros(0)), given.cases)
    found = found.reshape(len(grid.nodes), 3, given.cases)
    return found if loads.nodal is None else found + loads.nodal


def _pairs(given: Triplets) -> tuple[Index, Index, Index]:
    changed = np.ones(len(given.case), np.bool_)
    changed[1:] = (np.diff(given.case) != 0) | (np.diff(given.beam) != 0)
    starts = np.flatnonzero(changed)
    return starts, given.beam[starts], given.case[starts]
