"""How the parts beside a plate strip hold its long edges against turning, per length [N]. N, mm.

The rule: each part beside it is a strip whose far edge turns as much the other way, 2 D22/b, less as it nears
its own buckling: times 1 − the part of its buckling load that it uses over that of the strip it holds, both
with hinged edges under what acts. The weakest part beside an edge counts, and the weaker edge for both. A web
that stands between crown and plating needs both. The waves along the parts, and what holds their far edges,
only hold more.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stringerlab.section.strips import BETWEEN, Kind, Strip

Array = NDArray[np.float64]


def springs(strips: Sequence[Strip], used: Array) -> Array:
    """Return the springs of the edges of one section's strips (n,) [N]; 0 where nothing holds one.

    Parameters
    ----------
    strips
        All of the section and its plating.
    used
        What part of its buckling load each carries with hinged edges (n,).
    """
    webs = [at for at, one in enumerate(strips) if one.kind is Kind.WEB and not one.free]
    above = [at for at, one in enumerate(strips) if one.kind is Kind.CROWN and not one.free]
    below = [at for at, one in enumerate(strips) if one.kind is Kind.PLATING]
    found = np.zeros(len(strips))
    for at, one in enumerate(strips):
        if one.free or not used[at] > 0:
            continue
        beside: tuple[list[int], ...]
        if one.kind is Kind.WEB:
            beside = above, below
        elif one.kind is Kind.CROWN or BETWEEN in one.place:
            beside = (webs,)
        else:
            continue
        if all(beside):
            found[at] = min(
                2 * float(strips[other].sheet.D[1, 1]) / strips[other].width
                * min(1.0, max(0.0, 1 - float(used[other]) / float(used[at])))
                for side in beside
                for other in side
            )  # fmt: skip
    return found
