"""How an area is written: polygons, each its rings (n, 2) whose first vertex is not repeated.

The outer ring comes first and counter-clockwise, then its holes clockwise. mm.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Polygon = list[Array]
Area = list[Polygon]


def ring_size(ring: Array) -> float:
    """Return the size of what a ring (n, 2) encloses, whichever way it runs [mm²]."""
    about = ring - ring[0]
    following = np.roll(about, -1, axis=0)
    return abs(float((about[:, 0] * following[:, 1] - about[:, 1] * following[:, 0]).sum())) / 2
