"""Areas bounded by shared paths, and their moments by boundary integrals: exact, no mesh.

A path is a run of vertices; a region's boundary is a signed list of paths, so that neighbours share their
edge's very numbers. The integrals are Green's, edge by edge: ∫ f dA around the boundary, counter-clockwise
positive. Points are two rows, y and z. mm.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import as_pairs
from stringerlab.geometry.lines import Lines

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Regions:
    """``count`` regions bounded by g paths of v vertices in all, each of at least two."""

    points: Array
    """(2, v)."""
    starts: Index
    """(g,) first vertex of each path."""
    region: Index
    """(i,) region of each use of a path …"""
    path: Index
    """(i,) … the path …"""
    sign: Array
    """(i,) … and +1 or −1 for the direction it is run in."""
    count: int
    blocks: bool = False
    """Whether the uses come in blocks of ``count``, each with one use of every region in turn."""

    def moments(self, about: Array) -> Array:
        """Return (6, count): area, ∫y, ∫z, ∫y², ∫z², ∫yz of each region about a point (2,) [mm², mm³, mm⁴].

        A point amid the regions keeps the most digits.
        """
        per_use = path_moments(self.points - about[:, None], self.starts)[:, self.path] * self.sign
        if self.blocks:
            return np.asarray(per_use.reshape(6, -1, self.count).sum(axis=1))
        index = self.region + self.count * np.arange(6)[:, None]
        sums = np.bincount(index.ravel(), weights=per_use.ravel(), minlength=6 * self.count)
        return np.reshape(sums.astype(np.float64, copy=False), (6, -1))

    def extremes(self, heights: Array) -> tuple[Array, Array]:
        """Return the least and greatest of ``heights`` (v,) on each region's boundary; ±inf where empty."""
        lows = np.minimum.reduceat(heights, self.starts)[self.path]
        highs = np.maximum.reduceat(heights, self.starts)[self.path]
        if self.blocks:
            return lows.reshape(-1, self.count).min(axis=0), highs.reshape(-1, self.count).max(axis=0)
        low, high = np.full(self.count, np.inf), np.full(self.count, -np.inf)
        np.minimum.at(low, self.region, lows)
        np.maximum.at(high, self.region, highs)
        return low, high

    def first_moment_above(self, weights: Array, z: float) -> float:
        """Return Σ weight ∫ max(ζ − z, 0) dA over all regions; weights (count,)."""
        per_path = np.bincount(self.path, self.sign * weights[self.region], len(self.starts))
        return float(per_path @ _first_moments_above(self.points, self.starts, z))


NO_REGIONS = Regions(
    points=np.zeros((2, 0)),
    starts=np.zeros(0, np.intp),
    region=np.zeros(0, np.intp),
    path=np.zeros(0, np.intp),
    sign=np.zeros(0),
    count=0,
)


def bands(lines: Lines, levels: list[Array], sides: Array) -> Regions:
    """Return one region between every two successive levels of every line, line by line.

    Parameters
    ----------
    lines
        w lines.
    levels
        Of each line, the offsets to the left (k + 1,) [mm].
    sides
        (w,) +1 where levels rise, −1 where they fall.
    """
    counts = lines.counts.tolist()
    use = _uses(tuple(len(each) - 1 for each in levels))
    vertices = sum(len(each) * count for each, count in zip(levels, counts, strict=True))
    points = np.empty((2, vertices + 4 * use.plies))
    starts = np.empty(use.paths, np.intp)
    drawn, mitres = as_pairs(lines.points).T, as_pairs(lines.mitres).T
    at, path, cap = 0, 0, vertices
    for line, (each, count) in enumerate(zip(levels, counts, strict=True)):
        part, paths, plies = lines.part(line), len(each), len(each) - 1
        run = np.multiply(mitres[:, None, part], each[:, None])
        run += drawn[:, None, part]
        points[:, at : at + paths * count] = run.reshape(2, -1)
        starts[path : path + paths] = np.arange(at, at + paths * count, count)
        # The two ends of each ply: out along its end, back along its start.
        ends = points[:, cap : cap + 4 * plies].reshape(2, plies, 4)
        ends[:, :, 0], ends[:, :, 1] = run[:, :-1, -1], run[:, 1:, -1]
        ends[:, :, 2], ends[:, :, 3] = run[:, 1:, 0], run[:, :-1, 0]
        at, path, cap = at + paths * count, path + paths, cap + 4 * plies
    starts[path:] = np.arange(vertices, vertices + 4 * use.plies, 2)
    return Regions(
        points=points,
        starts=starts,
        region=use.region,
        path=use.path,
        sign=use.sign * sides[use.line],
        count=use.plies,
        blocks=True,
    )


def line_of_band(levels: list[Array]) -> Index:
    """Return the line of every region of ``bands``."""
    return _uses(tuple(len(each) - 1 for each in levels)).owner


@dataclass(frozen=True, slots=True, eq=False)
class _Uses:
    """How the plies of bands use their paths: near and far face, and both ends."""

    plies: int
    paths: int
    region: Index
    path: Index
    sign: Array
    line: Index
    owner: Index
    """(plies,) line of each ply."""


@lru_cache(256)
def _uses(plies: tuple[int, ...]) -> _Uses:
    total = sum(plies)
    line = np.repeat(np.arange(len(plies)), plies)
    region = np.arange(total)
    near = region + line
    cap = total + len(plies) + 2 * region
    return _Uses(
        plies=total,
        paths=total + len(plies) + 2 * total,
        region=np.tile(region, 4),
        path=np.concatenate([near, near + 1, cap, cap + 1]),
        sign=np.repeat([1.0, -1.0, 1.0, 1.0], total),
        line=np.tile(line, 4),
        owner=line,
    )


def with_rings(regions: Regions, replaced: Mask, rings: list[list[Array]]) -> Regions:
    """Return regions with some bounded anew, and further ones behind them.

    Parameters
    ----------
    regions
        r regions.
    replaced
        (r,) which lose their boundary.
    rings
        For r + m regions, the rings (n, 2) that bound it besides: outer counter-clockwise, holes clockwise.
    """
    keep = ~replaced[regions.region]
    closed = [np.concatenate([ring, ring[:1]]).T for group in rings for ring in group]
    sizes = np.array([ring.shape[1] for ring in closed], np.intp)
    owner = np.repeat(np.arange(len(rings)), [len(group) for group in rings])
    return Regions(
        points=np.concatenate([regions.points, *closed], axis=1),
        starts=np.concatenate([regions.starts, regions.points.shape[1] + np.cumsum(sizes) - sizes]),
        region=np.concatenate([regions.region[keep], owner]),
        path=np.concatenate([regions.path[keep], len(regions.starts) + np.arange(len(closed))]),
        sign=np.concatenate([regions.sign[keep], np.ones(len(closed))]),
        count=len(rings),
    )


def path_moments(points: Array, starts: Index) -> Array:
    """Return the boundary integrals (6, g) of paths: area, ∫y, ∫z, ∫y², ∫z², ∫yz [mm², mm³, mm⁴].

    Over a path that comes back to its start it is that over the polygon it bounds. Points are (2, v).
    """
    here, there = points[:, :-1], points[:, 1:]
    cross = here[0] * there[1]
    cross -= here[1] * there[0]
    cross[starts[1:] - 1] = 0.0
    square, mixed = points * points, points[0] * points[1]
    terms = np.empty((6, len(cross)))
    terms[0] = cross
    total, second = terms[1:3], terms[3:5]
    np.add(here, there, out=total)
    np.multiply(here, there, out=second)
    second += square[:, :-1]
    second += square[:, 1:]
    np.multiply(total[0], total[1], out=terms[5])
    terms[5] += mixed[:-1]
    terms[5] += mixed[1:]
    terms[1:] *= cross
    return np.add.reduceat(terms, starts, axis=1) * _SHARE


_SHARE = np.array([[1 / 2], [1 / 6], [1 / 6], [1 / 12], [1 / 12], [1 / 24]])


def _first_moments_above(points: Array, starts: Index, z: float) -> Array:
    """Return (g,) −∮ ½ max(ζ − z, 0)² dy along each path: the first moment of what lies above."""
    height = points[1] - z
    above = np.maximum(height, 0.0)
    one, other = above[:-1], above[1:]
    mean_square = one * one
    mean_square += one * other
    mean_square += other * other
    # Of an edge that crosses z only the part above counts.
    crossing = (height[:-1] * height[1:] < 0).nonzero()[0]
    rise = np.abs(height[crossing + 1] - height[crossing])
    mean_square[crossing] *= np.maximum(one[crossing], other[crossing]) / rise
    mean_square *= points[0, :-1] - points[0, 1:]
    mean_square[starts[1:] - 1] = 0.0
    return np.add.reduceat(mean_square, starts) / 6


def polygon_moments(points: Array, starts: Index) -> Array:
    """Return (6, n): area, ∫y, ∫z, ∫y², ∫z², ∫yz of n polygons, clockwise ones negative.

    Parameters
    ----------
    points
        Vertices of all polygons one after another (2, v), the first not repeated [mm].
    starts
        (n,) first vertex of each.
    """
    sizes = np.diff(np.append(starts, points.shape[1]))
    closed = np.insert(points, starts + sizes, points[:, starts], axis=1)
    return path_moments(closed, starts + np.arange(len(starts)))
