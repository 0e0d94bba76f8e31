"""The faces of a plane graph: the pieces into which its edges part the area within its outline. mm.

An edge is two half-edges: ``2e`` along it, ``2e + 1`` against it; each has its face on the left. Faces run
counter-clockwise. An edge with an open end bounds no face, though it lies in one; what touches nothing is
tied to its surroundings by a bridge, which the ring of the face round it runs along both ways.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, cast

import numpy as np
import shapely

from stringerlab.geometry.graph import Array, Index, Mask

_HAIR = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Faces:
    """f faces of a graph whose edges may have been added to, or cut, by bridges."""

    points: Array
    """(v, 2) of the graph, and the feet of bridges."""
    edges: Index
    """(e, 2)."""
    parent: Index
    """(e,) the edge of the graph each is a part of; -1 for a bridge."""
    face: Index
    """(2e,) of every half-edge; -1 outside."""
    area: Array
    """(f,) mm²."""
    starts: Index
    """(f + 1,) where each face's ring begins in ``rings``."""
    rings: Index
    """Half-edges of every ring, one after another."""

    def ring(self, face: int) -> Index:
        """Return the half-edges round a face, counter-clockwise."""
        return self.rings[self.starts[face] : self.starts[face + 1]]

    @property
    def origin(self) -> Index:
        """(2e,) the vertex each half-edge starts from."""
        return self.edges.ravel()

    @property
    def target(self) -> Index:
        """(2e,) the vertex each half-edge ends at."""
        return self.edges[:, ::-1].ravel()


def faces_of(points: Array, edges: Index) -> Faces:
    """Return the faces that edges enclose.

    Parameters
    ----------
    points
        (v, 2) vertices [mm].
    edges
        (e, 2), meeting at vertices only.
    """
    points, edges, parent = _tied(points, edges)
    half = edges.ravel()
    target = edges[:, ::-1].ravel()
    way = points[target] - points[half]
    order = np.lexsort((np.arctan2(way[:, 1], way[:, 0]), half))
    counts = np.bincount(half, minlength=len(points))
    starts = np.cumsum(counts) - counts
    place = np.empty(len(half), np.intp)
    place[order] = np.arange(len(half))
    twin = np.arange(len(half)) ^ 1
    turn = place[twin]
    first = starts[target]
    following = order[np.where(turn == first, first + counts[target] - 1, turn - 1)]
    walks, walk = _walks(following.tolist())
    cross = points[half, 0] * points[target, 1] - points[target, 0] * points[half, 1]
    area = np.bincount(walk, weights=cross, minlength=len(walks)) / 2
    inner = area > _HAIR
    number = np.where(inner, np.cumsum(inner) - 1, -1)
    bounding = np.repeat(_bounding(edges, len(points)), 2)
    kept = [each for each, true in zip(walks, inner.tolist(), strict=True) if true]
    rings = [[half for half in each if bounding[half]] for each in kept]
    ends = np.cumsum([0, *(len(each) for each in rings)])
    every = np.array([half for ring in rings for half in ring], np.intp)
    return Faces(points, edges, parent, number[walk], area[inner], ends, every)


def _walks(following: list[int]) -> tuple[list[list[int]], Index]:
    """Return the closed walks of half-edges, and which one each half-edge is in."""
    walk = [-1] * len(following)
    walks: list[list[int]] = []
    for start in range(len(following)):
        if walk[start] >= 0:
            continue
        here, number, one = start, len(walks), list[int]()
        while walk[here] < 0:
            walk[here] = number
            one.append(here)
            here = following[here]
        walks.append(one)
    return walks, np.array(walk, np.intp)


def _bounding(edges: Index, count: int) -> Mask:
    """Return which edges are left when those with an open end are taken away until none has."""
    left = np.ones(len(edges), bool)
    while True:
        degree = np.bincount(edges[left].ravel(), minlength=count)
        open_ = left & (degree[edges] < 2).any(axis=1)
        if not open_.any():
            return left
        left &= ~open_


def _components(edges: Index, count: int) -> Index:
    """Return the lowest vertex each vertex is connected with."""
    label = np.arange(count)
    while True:
        low = label[edges].min(axis=1)
        new = label.copy()
        np.minimum.at(new, edges[:, 0], low)
        np.minimum.at(new, edges[:, 1], low)
        new = new[new]
        if (new == label).all():
            return label
        label = new


def _tied(points: Array, edges: Index) -> tuple[Array, Index, Index]:
    """Return the graph with every loose part tied by a bridge straight to what lies left of it."""
    parent = np.arange(len(edges))
    label = _components(edges, len(points))
    used = np.unique(edges)
    order = used[np.lexsort((points[used, 1], points[used, 0], label[used]))]
    firsts = order[np.unique(label[order], return_index=True)[1]]
    if len(firsts) < 2:
        return points, edges, parent
    leftmost = points[firsts, 0].min()
    loose = firsts[points[firsts, 0] > leftmost]
    rays = np.stack([points[loose], np.stack([np.full(len(loose), leftmost - 1), points[loose, 1]], 1)], 1)
    tree = shapely.STRtree(cast(Any, shapely.linestrings(points[edges])))
    ray, edge = tree.query(shapely.linestrings(rays), predicate="intersects")
    strange = label[edges[edge, 0]] != label[loose[ray]]
    ray, edge = ray[strange], edge[strange]
    start, end = points[edges[edge, 0]], points[edges[edge, 1]]
    rise, y = end[:, 1] - start[:, 1], points[loose[ray], 1]
    level = rise == 0
    part = np.where(level, 1.0 * (end[:, 0] > start[:, 0]), (y - start[:, 1]) / np.where(level, 1.0, rise))
    x = start[:, 0] + part * (end[:, 0] - start[:, 0])
    nearest = np.lexsort((-x, ray))
    hit, best = np.unique(ray[nearest], return_index=True)
    best = nearest[best]
    return _bridged(points, edges, loose[hit], edge[best], part[best])


def _bridged(
    points: Array, edges: Index, loose: Index, edge: Index, part: Array
) -> tuple[Array, Index, Index]:
    """Put in bridges from vertices to places on edges, which they part."""
    way = points[edges[edge, 1]] - points[edges[edge, 0]]
    feet = points[edges[edge, 0]] + part[:, None] * way
    reach = np.hypot(*way.T)
    foot = len(points) + np.arange(len(loose))
    foot = np.where(part * reach <= _HAIR, edges[edge, 0], foot)
    foot = np.where((1 - part) * reach <= _HAIR, edges[edge, 1], foot)
    new = foot >= len(points)
    cut: dict[int, list[tuple[float, int]]] = {}
    for number in np.nonzero(new)[0].tolist():
        cut.setdefault(int(edge[number]), []).append((float(part[number]), int(foot[number])))
    made: list[tuple[int, int]] = []
    parent: list[int] = []
    for number, pair in enumerate(edges.tolist()):
        stops = [pair[0], *(at for _, at in sorted(cut.get(number, ()))), pair[1]]
        made += list(pairwise(stops))
        parent += [number] * (len(stops) - 1)
    made += list(zip(loose.tolist(), foot.tolist(), strict=True))
    parent += [-1] * len(loose)
    return np.concatenate([points, feet]), np.array(made, np.intp), np.array(parent, np.intp)


def enclosing(rings: Sequence[Array], places: Array) -> list[tuple[int, int]]:
    """Return the pairs (ring, place) of places within rings or on them.

    Parameters
    ----------
    rings
        Each (n, 2).
    places
        (m, 2).
    """
    if not len(rings) or not len(places):
        return []
    tree = shapely.STRtree([shapely.Polygon(ring) for ring in rings])
    place, ring = tree.query(shapely.points(places), predicate="intersects")
    return sorted(zip(ring.tolist(), place.tolist(), strict=True))


def place_within(ring: Array) -> tuple[float, float]:
    """Return a place well inside a ring (n, 2)."""
    point = shapely.Polygon(ring).representative_point()
    return float(point.x), float(point.y)


def without_strips(ring: Array, strips: Sequence[Array]) -> list[Array]:
    """Return what is left of a ring without strips that may overlap: rings (n, 2), the largest first.

    Holes in what is left are not cut out.
    """
    left = shapely.make_valid(shapely.Polygon(ring)).difference(
        shapely.union_all([shapely.Polygon(each).convex_hull for each in strips])
    )
    parts = [part for part in shapely.get_parts(left) if part.geom_type == "Polygon" and part.area > _HAIR]
    parts.sort(key=lambda part: -part.area)
    return [np.asarray(shapely.orient_polygons(part).exterior.coords, float)[:-1] for part in parts]


def covered(rings: Sequence[Array]) -> float:
    """Return the area that rings cover together [mm²]."""
    return float(shapely.union_all([shapely.make_valid(shapely.Polygon(ring)) for ring in rings]).area)
