"""The outlines of what areas enclose between them. mm."""

from collections.abc import Iterable
from typing import Any, cast

import numpy as np
import shapely

from stringerlab.geometry.areas import Area, Array
from stringerlab.geometry.planar import shape_of


def holes(areas: Iterable[Area], *, grid: float = 1e-6) -> list[Array]:
    """Return the rings (n, 2) of the holes that areas enclose, first vertex not repeated.

    Parameters
    ----------
    areas
        What encloses them.
    grid
        Gaps below it are closed [mm].
    """
    whole = shapely.union_all([shape_of(area) for area in areas], grid_size=grid)
    parts = cast(list[Any], shapely.get_parts(whole).tolist())
    return [
        np.asarray(ring.coords, float)[:-1]
        for part in parts
        if part.geom_type == "Polygon"
        for ring in part.interiors
    ]
