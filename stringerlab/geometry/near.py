"""What lies near what in the plane: edges near points, points near points. mm."""

from typing import Any, cast

import numpy as np
import shapely

from stringerlab.geometry.graph import Array, Index


def edges_near(points: Array, edges: Index, places: Array, reach: float) -> tuple[Index, Index, Array, Array]:
    """Return every pair of a place and an edge within reach of it: place, edge, distance, nearest point.

    Parameters
    ----------
    points
        (v, 2) vertices [mm].
    edges
        (e, 2) of them.
    places
        (m, 2) [mm].
    reach
        How far [mm].
    """
    if not len(places) or not len(edges):
        none = np.zeros(0, np.intp)
        return none, none, np.zeros(0), np.zeros((0, 2))
    tree = shapely.STRtree(cast(Any, shapely.linestrings(points[edges])))
    place, edge = tree.query(shapely.points(places), predicate="dwithin", distance=reach)
    start = points[edges[edge, 0]]
    way = points[edges[edge, 1]] - start
    part = ((places[place] - start) * way).sum(axis=1) / (way * way).sum(axis=1)
    foot = start + np.clip(part, 0, 1)[:, None] * way
    return place, edge, np.hypot(*(foot - places[place]).T), foot


def mirrored(points: Array, reach: float) -> Index:
    """Return for every point (n, 2) which lies at its mirror image in y = 0, within reach; else -1."""
    found = np.full(len(points), -1)
    if not len(points):
        return found
    tree = shapely.STRtree(cast(Any, shapely.points(points)))
    image, near = tree.query_nearest(shapely.points(points * (1, -1)), max_distance=reach, all_matches=False)
    found[image] = near
    return found
