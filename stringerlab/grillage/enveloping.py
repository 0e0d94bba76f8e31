"""Extremes over many load cases, streamed: a block of cases is solved and only its extremes are kept."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.grillage.checking import Names, load_problems
from stringerlab.grillage.factored import Factored
from stringerlab.grillage.point_loads import Own, freedoms, on_nodes, own, triplets
from stringerlab.grillage.records import Array, Envelope, Grid, Index, Loads

Watch = Callable[[float, str], None]
"""Told how far it is (0 to 1) and what is done; it may raise to stop."""

_CHUNK = (32, 256)
"""Least and most load cases solved at once."""
_FREEDOMS = 2**17
"""Displacements in hand at once."""
_BLOCK = 200_000
"""Moments in hand at once, so that they stay in the processor's cache."""


@dataclass(frozen=True, slots=True, eq=False)
class _Best:
    """Greatest so far, and which case gave it."""

    value: Array
    case: Index

    def take(self, rows: slice | Index, value: Array, case: Index) -> None:
        held, which = self.value[rows], self.case[rows]
        better = value > held
        self.value[rows] = np.where(better, value, held)
        self.case[rows] = np.where(better, case, which)


def _nothing_yet(*shape: int) -> _Best:
    return _Best(np.full(shape, -np.inf), np.zeros(shape, np.intp))


def envelope(
    grid: Grid | Factored,
    loads: Loads,
    *,
    places: int = 11,
    names: Names = None,
    chunk: int | None = None,
    watch: Watch | None = None,
) -> Envelope:
    """Return the extremes over load cases, beam by beam and place by place.

    Parameters
    ----------
    grid, loads, places, names
        As `solving.solve`.
    chunk
        Load cases in hand at once; by the size of the grid where not given. Results do not depend on it.
    watch
        Told after every chunk; what it raises stops the work.

    Returns
    -------
    Envelope
        Where a force stands on a place, the greater shear of its two sides counts; of equal cases the first.
        Nodes without a spring on w have no reaction (0).

    Raises
    ------
    StringerlabError
        As `solving.solve`.
    """
    held = grid if isinstance(grid, Factored) else Factored.of(grid, names)
    grid = held.grid
    wrong = load_problems(grid, loads, held.names)
    if wrong:
        raise StringerlabError(wrong)
    given = triplets(loads, len(grid.beams))
    at = np.linspace(0, 1, places)
    m, n = len(grid.beams), len(grid.nodes)
    high, low, shear = (_nothing_yet(m, places) for _ in range(3))
    torque = np.zeros(m)
    w_max, w_min = np.full(n, -np.inf), np.full(n, np.inf)
    R_max, R_min = w_max.copy(), w_min.copy()
    six = freedoms(grid.beams)
    if chunk is None:
        chunk = min(max(_FREEDOMS // (3 * n), _CHUNK[0]), _CHUNK[1])
    for first in range(0, given.cases, chunk):
        last = min(first + chunk, given.cases)
        part = given.between(first, last)
        local = own(part, held.elements, at)
        force = on_nodes(grid, held.elements, local, last - first)
        nodal = None if loads.nodal is None else loads.nodal[:, :, first:last]
        if nodal is not None:
            force += nodal.reshape(force.shape)
        answer = held.answer(force)
        held.imbalance(answer.reactions, part, nodal)
        u = np.ascontiguousarray(answer.u)
        step = min(m, max(1, _BLOCK // (places * (last - first))))
        buffer = np.empty((step, places, last - first))
        for start in range(0, m, step):
            rows = slice(start, min(start + step, m))
            ends = held.elements.forces[rows] @ u[six[rows]]
            pairs = slice(*np.searchsorted(local.beam, [rows.start, rows.stop]).tolist())
            along = (held.elements.L[rows, None] * at)[:, :, None]
            M = np.multiply(along, ends[:, 1:2], out=buffer[: len(ends)])
            np.add(M, ends[:, :1], out=M)
            M[local.beam[pairs] - start, :, local.case[pairs]] += local.M[pairs]
            for best, sign in ((high, 1.0), (low, -1.0)):
                which = M.argmax(axis=2) if sign > 0 else M.argmin(axis=2)
                value = np.take_along_axis(M, which[:, :, None], axis=2)[:, :, 0]
                best.take(rows, sign * value, which + first)
            np.maximum(torque[rows], np.abs(ends[:, 2]).max(axis=1), out=torque[rows])
            _shear(shear, rows, ends[:, 1], local, pairs, first)
        up, react = u[0::3], answer.reactions[0::3]
        np.maximum(w_max, up.max(axis=1), out=w_max)
        np.minimum(w_min, up.min(axis=1), out=w_min)
        np.maximum(R_max, react.max(axis=1), out=R_max)
        np.minimum(R_min, react.min(axis=1), out=R_min)
        if watch is not None:
            watch(last / given.cases, f"{last} of {given.cases} load cases")
    return Envelope(
        places=at,
        M_max=high.value,
        M_min=-low.value,
        V_abs=shear.value,
        T_abs=torque,
        w_max=w_max,
        w_min=w_min,
        R_max=R_max,
        R_min=R_min,
        case_M_max=high.case,
        case_M_min=low.case,
        case_V=shear.case,
    )


def _shear(best: _Best, rows: slice, ends: Array, local: Own, pairs: slice, first: int) -> None:
    """Take shear in: constant along beams without a load of their own, place by place along the others."""
    beam, case = local.beam[pairs] - rows.start, local.case[pairs]
    alone = np.abs(ends)
    if len(beam):
        alone[beam, case] = -np.inf
    which = alone.argmax(axis=1)[:, None]
    best.take(rows, np.take_along_axis(alone, which, axis=1), which + first)
    if not len(beam):
        return
    V = ends[beam, case][:, None] + local.V[pairs]
    size = np.abs(V)
    if local.drop is not None:
        size = np.maximum(size, np.abs(V - local.drop[pairs]))
    starts = np.flatnonzero(np.diff(beam, prepend=-1))
    greatest = np.maximum.reduceat(size, starts, axis=0)
    group = np.repeat(np.arange(len(starts)), np.diff(starts, append=len(beam)))
    at = np.where(size == greatest[group], case[:, None], np.iinfo(np.intp).max)
    best.take(beam[starts] + rows.start, greatest, np.minimum.reduceat(at, starts, axis=0) + first)
