"""The smallest rectangles round rings. mm."""

from collections.abc import Sequence

import numpy as np
import shapely

from stringerlab.geometry.graph import Array


def smallest_rectangles(rings: Sequence[Array]) -> Array:
    """Return the short and the long side (n, 2) of the rectangle of least area round each ring.

    Parameters
    ----------
    rings
        (m, 2) each, three points at least [mm].
    """
    shapes = shapely.oriented_envelope([shapely.MultiPoint(ring) for ring in rings])
    corners = [np.asarray(shapely.get_coordinates(shape))[:3] for shape in shapes]
    sides = np.array([_sides(each) for each in corners])
    return np.sort(sides, axis=1)


def _sides(corners: Array) -> Array:
    return np.hypot(*np.diff(corners, axis=0).T) if len(corners) == 3 else np.zeros(2)
