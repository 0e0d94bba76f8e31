"""Lines in the plane made into one graph: vertices where they meet, cross and bend, edges between. mm.

What comes within the snapping distance meets: an end near a line is moved onto it, crossings near one another
become one. Lines of a lower rank stay where they are, those of a higher one give way to them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Mask = NDArray[np.bool_]

SNAP = 0.5
"""What is nearer meets [mm]."""
_PASSES = 12
_CHUNK = 512
_TRIED, _CROWD = 64, 8_000_000
"""Segments tried for how crowded they lie, and pairs by their bounds above which all are refused."""
_FEW = 3000
"""Segments up to which their bounds alone tell neighbours quicker."""


class TooManyError(ValueError):
    """More pairs of edges near one another than a graph is made of."""

    def __init__(self, pairs: int) -> None:
        super().__init__(f"{pairs} pairs of edges lie near one another")
        self.pairs = pairs


@dataclass(frozen=True, slots=True, eq=False)
class Graph:
    """v vertices, e edges, k pieces: a piece is a line's run along one edge, in the line's order."""

    points: Array
    """(v, 2)."""
    rank: Index
    """(v,) the lowest rank of the lines through each vertex when it was made."""
    edges: Index
    """(e, 2) vertices, the lower first."""
    line: Index
    """(k,) which line a piece is of."""
    ends: Index
    """(k, 2) its vertices, in the line's direction."""
    along: Array
    """(k, 2) where they lie along the line as given, from its first point [mm]."""
    edge: Index
    """(k,) its edge."""

    def only(self, pieces: Mask) -> "Graph":
        """Return the graph of some of its pieces, every vertex kept, edges nobody has left out."""
        kept = np.unique(self.edge[pieces])
        new = np.full(len(self.edges), -1)
        new[kept] = np.arange(len(kept))
        return replace(
            self,
            edges=self.edges[kept],
            line=self.line[pieces],
            ends=self.ends[pieces],
            along=self.along[pieces],
            edge=new[self.edge[pieces]],
        )


def integers(values: Index) -> list[int]:
    """Return whole numbers as Python's own."""
    return cast("list[int]", values.tolist())


def floats(values: Array) -> list[float]:
    """Return numbers as Python's own."""
    return cast("list[float]", values.tolist())


def graph_of(lines: Sequence[Array], ranks: Sequence[int], *, snap: float = SNAP, most: int) -> Graph:
    """Return the graph of lines.

    Parameters
    ----------
    lines
        Each (n, 2), two points at least [mm].
    ranks
        One a line: 0 for those that never move.
    snap
        What is nearer meets [mm].
    most
        How many pairs of edges may lie near one another.

    Raises
    ------
    TooManyError
        When more do.
    """
    counts = np.array([len(each) for each in lines], np.intp)
    points = np.concatenate([np.asarray(each, float) for each in lines])
    line = np.repeat(np.arange(len(lines)), counts)
    rank = np.asarray(ranks, np.intp)[line]
    step = np.hypot(*np.diff(points, axis=0, prepend=points[:1]).T)
    starts = np.cumsum(counts) - counts
    step[starts] = 0.0
    run = np.cumsum(step)
    run -= run[starts][line]
    first = np.nonzero(line[1:] == line[:-1])[0]
    pieces = _Pieces(line[first], np.stack([first, first + 1], 1), np.stack([run[first], run[first + 1]], 1))
    points, rank, pieces = _merged(points, rank, pieces, snap)
    line_rank = np.asarray(ranks, np.intp)
    for _ in range(_PASSES):
        edges, edge = _edges(pieces.ends, len(points))
        edge_rank = np.full(len(edges), np.iinfo(np.intp).max)
        np.minimum.at(edge_rank, edge, line_rank[pieces.line])
        met = _meetings(points, rank, edges, edge_rank, snap, most)
        if not len(met.edge):
            break
        if len(met.edge) + len(pieces.line) > most:
            raise TooManyError(len(met.edge) + len(pieces.line))
        pieces = _split(pieces, edges, edge, met)
        points, rank, pieces = _merged(met.points, met.rank, pieces, snap)
    edges, edge = _edges(pieces.ends, len(points))
    return Graph(points, rank, edges, pieces.line, pieces.ends, pieces.along, edge)


@dataclass(frozen=True, slots=True, eq=False)
class _Pieces:
    line: Index
    ends: Index
    along: Array


@dataclass(frozen=True, slots=True, eq=False)
class _Meetings:
    """Vertices to put into edges, ``part`` of the way along them; points and ranks with new ones added."""

    points: Array
    rank: Index
    edge: Index
    vertex: Index
    part: Array


def _edges(ends: Index, count: int) -> tuple[Index, Index]:
    """Return the edges pieces run along, and each piece's."""
    low, high = ends.min(axis=1), ends.max(axis=1)
    code, edge = np.unique(low * count + high, return_inverse=True)
    return np.stack([code // count, code % count], axis=1), edge.astype(np.intp)


def _meetings(
    points: Array, rank: Index, edges: Index, edge_rank: Index, snap: float, most: int
) -> _Meetings:
    segments = shapely.linestrings(points[edges])
    one, other = _near(segments, snap, most)
    met = _ends_on(points, rank, edges, edge_rank, one, other, snap)
    return _crossings(met, snap, edges, edge_rank, one, other)


def _near(segments: Any, snap: float, most: int) -> tuple[Index, Index]:
    """Return the pairs of segments nearer to one another than the snapping distance, the lower first."""
    if len(segments) > most:
        raise TooManyError(len(segments))
    tree = shapely.STRtree(segments)
    bounds: Array = cast(Any, shapely).bounds(segments)
    boxes = bounds + np.array([-snap, -snap, snap, snap])
    if len(segments) > _FEW:
        tried = boxes[:: len(segments) // _TRIED]
        near = tree.query(cast(Any, shapely).box(*tried.T)).shape[1] * len(segments) // len(tried)
        if near > _CROWD:
            raise TooManyError(near)
    found: list[Index] = []
    total = 0
    for first in range(0, len(segments), _CHUNK):
        part = slice(first, first + _CHUNK)
        if len(segments) <= _FEW:
            pairs = tree.query(cast(Any, shapely).box(*boxes[part].T))
        else:
            pairs = tree.query(segments[part], predicate="dwithin", distance=snap)
        pairs[0] += first
        found.append(pairs[:, pairs[0] < pairs[1]])
        total += found[-1].shape[1]
        if total > most:
            raise TooManyError(total)
    pairs = np.concatenate(found, axis=1)
    return pairs[0], pairs[1]


def _ends_on(
    points: Array, rank: Index, edges: Index, edge_rank: Index, one: Index, other: Index, snap: float
) -> _Meetings:
    """Find the vertices of either edge of a pair that lie on the other; move those that give way onto it."""
    vertex = np.concatenate([edges[one], edges[other]]).ravel()
    on = np.concatenate([np.repeat(other, 2), np.repeat(one, 2)])
    strange = (vertex[:, None] != edges[on]).all(axis=1)
    vertex, on = vertex[strange], on[strange]
    start = points[edges[on, 0]]
    way = points[edges[on, 1]] - start
    size = (way * way).sum(axis=1)
    part = ((points[vertex] - start) * way).sum(axis=1) / size
    foot = start + part[:, None] * way
    near = (np.hypot(*(foot - points[vertex]).T) <= snap) & (part > 0) & (part < 1)
    vertex, on, part, foot = vertex[near], on[near], part[near], foot[near]
    if len(vertex):
        code = np.unique(on * len(points) + vertex, return_index=True)[1]
        vertex, on, part, foot = vertex[code], on[code], part[code], foot[code]
        points, rank = points.copy(), rank.copy()
        order = np.argsort(-edge_rank[on], kind="stable")  # the lowest rank has the last word
        moved = order[edge_rank[on[order]] <= rank[vertex[order]]]
        fixed = rank[vertex[moved]] > 0
        points[vertex[moved[fixed]]] = foot[moved[fixed]]
        np.minimum.at(rank, vertex, edge_rank[on])
    return _Meetings(points, rank, on, vertex, part)


def _crossings(
    met: _Meetings, snap: float, edges: Index, edge_rank: Index, one: Index, other: Index
) -> _Meetings:
    """Add the places where two edges cross between their ends."""
    a, b = met.points[edges[one, 0]], met.points[edges[one, 1]]
    c, d = met.points[edges[other, 0]], met.points[edges[other, 1]]
    u, v, w = b - a, d - c, c - a
    turn = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        s = (w[:, 0] * v[:, 1] - w[:, 1] * v[:, 0]) / turn
        t = (w[:, 0] * u[:, 1] - w[:, 1] * u[:, 0]) / turn
        inside = (s > 0) & (s < 1) & (t > 0) & (t < 1)
    apart = (edges[one][:, :, None] != edges[other][:, None, :]).all(axis=(1, 2))
    cross = np.nonzero(inside & apart)[0]
    at = a[cross] + s[cross, None] * u[cross]
    if len(cross):
        on = edge_rank[other[cross]] < edge_rank[one[cross]]
        at[on] = (c[cross] + t[cross, None] * v[cross])[on]
        clear = np.ones(len(cross), bool)
        for end in (a, b, c, d):
            clear &= np.hypot(*(end[cross] - at).T) > snap
        cross, at = cross[clear], at[clear]
    new = len(met.points) + np.arange(len(cross))
    rank = np.minimum(edge_rank[one[cross]], edge_rank[other[cross]])
    return _Meetings(
        np.concatenate([met.points, at]),
        np.concatenate([met.rank, rank]),
        np.concatenate([met.edge, one[cross], other[cross]]),
        np.concatenate([met.vertex, new, new]),
        np.concatenate([met.part, s[cross], t[cross]]),
    )


def _split(pieces: _Pieces, edges: Index, edge: Index, met: _Meetings) -> _Pieces:
    """Return the pieces with vertices put in along their edges."""
    order = np.lexsort((met.part, met.edge))
    added, vertex, part = met.edge[order], met.vertex[order], met.part[order]
    counts = np.bincount(added, minlength=len(edges))
    starts = np.cumsum(counts) - counts
    more = counts[edge]
    owner = np.repeat(np.arange(len(edge)), more + 1)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(more + 1) - (more + 1), more + 1)
    back = pieces.ends[owner, 0] != edges[edge[owner], 0]
    first, last = place == 0, place == more[owner]

    def inner(number: Index, which: Mask) -> Index:
        """Return which added vertex is the piece's ``number``-th, counted its own way."""
        of = owner[which]
        mine = np.where(back[which], more[of] - 1 - number[which], number[which])
        return starts[edge[of]] + mine

    ends = np.empty((len(owner), 2), np.intp)
    along = np.empty((len(owner), 2))
    length = pieces.along[owner, 1] - pieces.along[owner, 0]
    for side, outer, number in ((0, first, place - 1), (1, last, place)):
        ends[outer, side] = pieces.ends[owner[outer], side]
        along[outer, side] = pieces.along[owner[outer], side]
        which = inner(number, ~outer)
        ends[~outer, side] = vertex[which]
        share = np.where(back[~outer], 1 - part[which], part[which])
        along[~outer, side] = pieces.along[owner[~outer], 0] + share * length[~outer]
    return _Pieces(pieces.line[owner], ends, along)


def _merged(points: Array, rank: Index, pieces: _Pieces, snap: float) -> tuple[Array, Index, _Pieces]:
    """Return vertices with those nearer than the snapping distance made one: the lowest ranked of them."""
    order = np.argsort(rank, kind="stable")
    label = np.empty(len(points), np.intp)
    label[order] = order[_firsts(points[order], snap)]
    used, ends = np.unique(label[pieces.ends], return_inverse=True)
    ends = ends.reshape(-1, 2).astype(np.intp)
    real = ends[:, 0] != ends[:, 1]
    return points[used], rank[used], _Pieces(pieces.line[real], ends[real], pieces.along[real])


def _firsts(points: Array, snap: float) -> Index:
    """Return for every point the first one it lies within the snapping distance of.

    Two points so near share a cell in at least one of four grids shifted by half a cell.
    """
    label = np.arange(len(points))
    scaled = points / (2 * snap)
    for shift in (0.0, 0.0), (0.0, 0.5), (0.5, 0.0), (0.5, 0.5):
        cell = np.floor(scaled + shift)
        _, place = np.unique(cell[:, 0] + 1j * cell[:, 1], return_inverse=True)
        least = np.full(len(points), len(points))
        np.minimum.at(least, place, label)
        first = least[place]
        near = np.hypot(*(points[first] - points).T) <= snap
        label = np.where(near, np.minimum(label, first), label)
    return label[label[label]]
