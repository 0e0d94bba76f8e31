"""Slam patches closer together where they govern: the step halved again and again beside the worst ones.

Worst are those that give a span's greatest moment either way, its moments at its ends, or its shear.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np
from scipy import sparse as scipy_sparse

from stringerlab.assess.grid.covering import on_pieces
from stringerlab.assess.grid.enveloped import PLACES
from stringerlab.assess.grid.patches import Patches, joined, laid
from stringerlab.assess.grid.records import Array, Beams, Index
from stringerlab.assess.grid.shares import Shares
from stringerlab.assess.grid.symmetry import worse
from stringerlab.craft import Bottom
from stringerlab.grillage import Envelope, Factored, Loads, envelope

sparse = cast(Any, scipy_sparse)
HALVINGS = 2
"""Of the layout's step, beside what governs."""
_SAME = 1e-6
"""Parts of a length by which patches slid apart are one."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Slammed:
    """Patches, what each presses of the bottom, and their envelope."""

    patches: Patches
    whole: Any
    """(c, p) sparse [N]."""
    envelope: Envelope | None
    """None without a patch."""


def slammed(
    factored: Factored,
    beams: Beams,
    shares: Shares,
    patches: Patches,
    bottom: Bottom,
    watch: Callable[[float, str], None],
    *,
    halvings: int = HALVINGS,
) -> Slammed:
    """Return patches with more of them where they govern, and their envelope.

    Parameters
    ----------
    factored, beams, shares
        The grid, and which beam carries what.
    patches
        By equal steps.
    bottom
        The hull's.
    watch
        Told of progress; what it raises stops the work.
    halvings
        How often the step is halved beside what governs.
    """
    whole = on_pieces(patches, shares.pieces)
    if not len(patches.pressure):
        return Slammed(patches=patches, whole=whole, envelope=None)
    found = _envelope(factored, shares, whole, watch)
    every, wholes = [patches], [whole]
    seen = {
        (of, round(slid / _SAME)) for of, slid in zip(patches.of.tolist(), patches.slid.tolist(), strict=True)
    }
    step, limit = _step(patches), float(np.abs(patches.slid).max())
    of, slid = patches.of, patches.slid
    for _ in range(halvings if step else 0):
        step /= 2
        governing = _governing(found, beams)
        wanted = {
            key: (int(of[case]), at)
            for case in governing.tolist()
            for at in (float(slid[case]) - step, float(slid[case]) + step)
            if abs(at) <= limit + _SAME and (key := (int(of[case]), round(at / _SAME))) not in seen
        }
        if not wanted:
            break
        seen |= wanted.keys()
        rows = sorted(wanted.values())
        more = laid(
            bottom,
            patches.rows,
            np.array([row for row, _ in rows], np.intp),
            np.array([at for _, at in rows], float),
        )
        on = on_pieces(more, shares.pieces)
        found = worse(found, _numbered(_envelope(factored, shares, on, watch), len(of)))
        of, slid = np.concatenate([of, more.of]), np.concatenate([slid, more.slid])
        every.append(more)
        wholes.append(on)
    return Slammed(
        patches=joined(every),
        whole=wholes[0] if len(wholes) == 1 else sparse.csc_matrix(sparse.hstack(wholes)),
        envelope=found,
    )


def _step(patches: Patches) -> float:
    return float(patches.slid[1] - patches.slid[0]) if patches.each > 1 else 0.0


def _envelope(
    factored: Factored, shares: Shares, whole: Any, watch: Callable[[float, str], None]
) -> Envelope:
    loads = Loads(beam=shares.beam, along=shares.along, amount=sparse.csc_matrix(shares.to @ whole))
    return envelope(factored, loads, places=PLACES, watch=watch)


def _numbered(of: Envelope, shift: int) -> Envelope:
    return replace(
        of,
        case_M_max=of.case_M_max + shift,
        case_M_min=of.case_M_min + shift,
        case_V=of.case_V + shift,
    )


def _governing(found: Envelope, beams: Beams) -> Index:
    """Return the cases that give spans' extremes."""
    high, low = found.M_max, -found.M_min
    more = high > low
    ends, of_ends = np.where(more, high, low), np.where(more, found.case_M_max, found.case_M_min)
    first, last = beams.part[:, 0] == 0, beams.part[:, 1] == 1
    return np.unique(
        np.concatenate(
            [
                _worst(high, found.case_M_max, beams.span),
                _worst(low, found.case_M_min, beams.span),
                _worst(found.V_abs, found.case_V, beams.span),
                _worst(ends[first, :1], of_ends[first, :1], beams.span[first]),
                _worst(ends[last, -1:], of_ends[last, -1:], beams.span[last]),
            ]
        )
    )


def _worst(values: Array, cases: Index, span: Index) -> Index:
    """Return the case of every span's greatest value."""
    rows, place = np.arange(len(values)), values.argmax(axis=1)
    best, case = values[rows, place], cases[rows, place]
    order = np.lexsort((best, span))
    last = np.append(np.flatnonzero(np.diff(span[order])), len(order) - 1)
    return case[order[last]]
