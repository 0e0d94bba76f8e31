"""Whether a grid is its own mirror image, and which beam is which one's: slam then runs on one side."""

from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from stringerlab.assess.grid.records import Array, Beams, Index, Mask
from stringerlab.grillage import Envelope

_SAME = 1.0
"""Mirror images differ by no more [mm]."""
_ALIKE = 1e-6
_Number = TypeVar("_Number", np.float64, np.intp)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mirror:
    """Of n nodes and m beams their mirror images; ``turned`` where these run the other way."""

    node: Index
    beam: Index
    turned: Mask


def mirror_of(beams: Beams) -> Mirror | None:
    """Return a grid's mirror images, None where one differs: in place, stiffness or support."""
    grid = beams.grid
    node = _images(grid.nodes, grid.nodes * (1, -1))
    if node is None or not np.array_equal(grid.springs, grid.springs[node]):
        return None
    middles = grid.nodes[grid.beams].mean(axis=1)
    beam = _images(middles, middles * (1, -1))
    if beam is None:
        return None
    theirs, mine = grid.beams[beam], node[grid.beams]
    same, turned = (theirs == mine).all(axis=1), (theirs == mine[:, ::-1]).all(axis=1)
    if not (same | turned).all():
        return None
    turned &= ~same
    if grid.pinned is not None:
        theirs = grid.pinned[beam]
        theirs[turned] = theirs[turned, ::-1]
        if not np.array_equal(theirs, grid.pinned):
            return None
    for values in (grid.EI, grid.GA, grid.GJ):
        if not np.allclose(values, values[beam], rtol=_ALIKE):
            return None
    return Mirror(node=node, beam=beam, turned=turned)


def _images(places: Array, wanted: Array) -> Index | None:
    """Return for each wanted place which of the places it is; None where one is not, or two share one."""
    order = np.lexsort((places[:, 1], places[:, 0]))
    other = np.lexsort((wanted[:, 1], wanted[:, 0]))
    found = np.empty(len(places), np.intp)
    found[other] = order
    if np.abs(places[found] - wanted).max(initial=0) > _SAME:
        found = np.abs(places[None] - wanted[:, None]).max(axis=2).argmin(axis=1)
        if np.abs(places[found] - wanted).max(initial=0) > _SAME or len(np.unique(found)) < len(found):
            return None
    return found


def mirrored(envelope: Envelope, mirror: Mirror, shift: int) -> Envelope:
    """Return the envelope of the mirrored cases, numbered ``shift`` higher."""

    def along(values: NDArray[_Number]) -> NDArray[_Number]:
        theirs = values[mirror.beam]
        theirs[mirror.turned] = theirs[mirror.turned, ::-1]
        return theirs

    return replace(
        envelope,
        M_max=along(envelope.M_max),
        M_min=along(envelope.M_min),
        V_abs=along(envelope.V_abs),
        T_abs=envelope.T_abs[mirror.beam],
        w_max=envelope.w_max[mirror.node],
        w_min=envelope.w_min[mirror.node],
        R_max=envelope.R_max[mirror.node],
        R_min=envelope.R_min[mirror.node],
        case_M_max=along(envelope.case_M_max) + shift,
        case_M_min=along(envelope.case_M_min) + shift,
        case_V=along(envelope.case_V) + shift,
    )


def worse(one: Envelope, other: Envelope) -> Envelope:
    """Return the extremes of both; of equal cases the first's."""
    high, low, shear = other.M_max > one.M_max, other.M_min < one.M_min, other.V_abs > one.V_abs
    return replace(
        one,
        M_max=np.where(high, other.M_max, one.M_max),
        M_min=np.where(low, other.M_min, one.M_min),
        V_abs=np.where(shear, other.V_abs, one.V_abs),
        T_abs=np.maximum(one.T_abs, other.T_abs),
        w_max=np.maximum(one.w_max, other.w_max),
        w_min=np.minimum(one.w_min, other.w_min),
        R_max=np.maximum(one.R_max, other.R_max),
        R_min=np.minimum(one.R_min, other.R_min),
        case_M_max=np.where(high, other.case_M_max, one.case_M_max),
        case_M_min=np.where(low, other.case_M_min, one.case_M_min),
        case_V=np.where(shear, other.case_V, one.case_V),
    )
