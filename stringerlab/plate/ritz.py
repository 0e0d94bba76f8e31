"""The constant integrals of a plate's Ritz solution on the square −1 … 1, for every plate at once.

Deflection w/b and the two slopes ψ_x, ψ_y of the normal are sums of products of polynomials, even in x and y
about the middle; a skew set adds what is odd in both, for D_16 and D_26. w and the slope along an edge vanish
there; the slope across it is free, held by a spring, or zero. The slopes hold the derivatives of w, so that
thin plates do not lock.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.plate.polynomials import gauss, zero_at_ends, zero_but_first
from stringerlab.workings import Array


class Of(IntEnum):
    """What is expanded."""

    W = 0
    X = 1
    Y = 2


Derivative = tuple[Of, int, int]
"""Of what, orders in x and y."""

_PSI_XX, _PSI_YY = (Of.X, 1, 0), (Of.Y, 0, 1)
_PSI_XY, _PSI_YX = (Of.X, 0, 1), (Of.Y, 1, 0)
TERMS: dict[str, tuple[tuple[Derivative, Derivative], ...]] = {
    "xx,xx": ((_PSI_XX, _PSI_XX),),
    "yy,yy": ((_PSI_YY, _PSI_YY),),
    "xx,yy": ((_PSI_XX, _PSI_YY), (_PSI_YY, _PSI_XX)),
    "xy,xy": ((_PSI_XY, _PSI_XY),),
    "yx,yx": ((_PSI_YX, _PSI_YX),),
    "xy,yx": ((_PSI_XY, _PSI_YX), (_PSI_YX, _PSI_XY)),
    "xx,xy": ((_PSI_XX, _PSI_XY), (_PSI_XY, _PSI_XX)),
    "xx,yx": ((_PSI_XX, _PSI_YX), (_PSI_YX, _PSI_XX)),
    "yy,xy": ((_PSI_YY, _PSI_XY), (_PSI_XY, _PSI_YY)),
    "yy,yx": ((_PSI_YY, _PSI_YX), (_PSI_YX, _PSI_YY)),
    "wx,wx": (((Of.W, 1, 0), (Of.W, 1, 0)),),
    "wx,x": (((Of.W, 1, 0), (Of.X, 0, 0)), ((Of.X, 0, 0), (Of.W, 1, 0))),
    "x,x": (((Of.X, 0, 0), (Of.X, 0, 0)),),
    "wy,wy": (((Of.W, 0, 1), (Of.W, 0, 1)),),
    "wy,y": (((Of.W, 0, 1), (Of.Y, 0, 0)), ((Of.Y, 0, 0), (Of.W, 0, 1))),
    "y,y": (((Of.Y, 0, 0), (Of.Y, 0, 0)),),
}
"""Products of derivatives that the energy is made of."""


@dataclass(frozen=True, slots=True)
class _Part:
    of: Of
    x: Callable[[int, Array], Array]
    y: Callable[[int, Array], Array]
    start: int
    count: tuple[int, int]

    @property
    def rows(self) -> slice:
        return slice(self.start, self.start + self.count[0] * self.count[1])


@dataclass(frozen=True, slots=True, eq=False)
class Basis:
    """A set of trial functions: ``nx`` by ``ny`` of each kind, N in all."""

    parts: tuple[_Part, ...]
    size: int
    pieces: tuple[tuple[NDArray[np.intp], NDArray[np.intp], Array], ...]
    """Integrals of ``TERMS``, then of the springs of edges in x and in y: which terms, where in N², what."""
    load: Array
    """Integral of w (N,)."""
    mass: Array
    """Integral of w² (N, N)."""
    pushed: Array
    """Integrals of w,x², w,y² and 2 w,x w,y: what loads in the plane work on (3, N, N)."""
    held_x: NDArray[np.bool_]
    """Functions that a clamped edge in x does without (N,)."""
    held_y: NDArray[np.bool_]

    @property
    def deflection(self) -> NDArray[np.bool_]:
        """Which functions are of w."""
        chosen = np.zeros(self.size, dtype=np.bool_)
        for part in self.parts:
            chosen[part.rows] = part.of is Of.W
        return chosen

    def summed(self, weights: Array) -> Array:
        """Return the sum of all integrals, weighted (n, terms), as matrices (n, N, N)."""
        total = np.zeros((len(weights), self.size**2))
        for terms, places, values in self.pieces:
            # by loops rather than by a threaded product: it is small, and other work shares the cores
            total[:, places] = np.einsum("nt,tk->nk", weights[:, terms], values)
        return total.reshape(-1, self.size, self.size)

    def of(self, of: Of) -> Iterator[_Part]:
        """Return the parts that expand one unknown."""
        return (part for part in self.parts if part.of is of)


@lru_cache(maxsize=4096)
def at(functions: Basis, derivative: Derivative, x: float, y: float) -> Array:
    """Return a derivative of every function at a point (N,)."""
    of, p, q = derivative
    row = np.zeros(functions.size)
    for part in functions.of(of):
        row[part.rows] = np.outer(part.x(p, np.array([x])), part.y(q, np.array([y]))).ravel()
    return row


@lru_cache(maxsize=4096)
def along_edge(functions: Basis, derivative: Derivative, *, in_x: bool) -> Array:
    """Return the integral of a derivative along the edge x = 1, or y = 1 (N,)."""
    points, weights = _points(functions)
    end = np.array([1.0])
    of, p, q = derivative
    row = np.zeros(functions.size)
    for part in functions.of(of):
        a = part.x(p, end)[:, 0] if in_x else part.x(p, points) @ weights
        b = part.y(q, points) @ weights if in_x else part.y(q, end)[:, 0]
        row[part.rows] = np.outer(a, b).ravel()
    return row


@lru_cache(maxsize=64)
def waves(functions: Basis, count: int) -> Array:
    """Return the integrals of w with sine waves sin(mπx) sin(nπy) over the sides, (count², N)."""
    points, weights = _points(functions)
    m = np.arange(1, count + 1)[:, None]
    sines = np.sin(m * np.pi * (points + 1) / 2) * weights
    rows = np.zeros((count * count, functions.size))
    for part in functions.of(Of.W):
        a, b = sines @ part.x(0, points).T, sines @ part.y(0, points).T
        rows[:, part.rows] = np.einsum("mi,nj->mnij", a, b).reshape(count * count, -1)
    return rows


def _points(basis: Basis) -> tuple[Array, Array]:
    return gauss(2 * max(max(part.count) for part in basis.parts) + 6)


@lru_cache(maxsize=32)
def basis(nx: int, ny: int, *, skew: bool, shifted: bool = False) -> Basis:
    """Return the trial functions with their integrals; ``shifted`` ones are odd along one side alone."""
    kinds = ((0, 1), (1, 0)) if shifted else ((0, 0), (1, 1))
    parts = tuple(_parts(nx, ny, kinds if skew or shifted else kinds[:1]))
    size = parts[-1].rows.stop
    points, weights = gauss(2 * max(nx, ny) + 6)
    ends = np.array([-1.0, 1.0])
    tables = [_product(parts, size, pairs, points, weights) for pairs in TERMS.values()]
    across = ((Of.X, 0, 0), (Of.X, 0, 0)), ((Of.Y, 0, 0), (Of.Y, 0, 0))
    tables.append(_product(parts, size, across[:1], points, weights, ends_x=ends))
    tables.append(_product(parts, size, across[1:], points, weights, ends_y=ends))
    load, held_x, held_y = np.zeros(size), np.zeros(size, dtype=np.bool_), np.zeros(size, dtype=np.bool_)
    for part in parts:
        if part.of is Of.W:
            load[part.rows] = np.outer(part.x(0, points) @ weights, part.y(0, points) @ weights).ravel()
        number = np.indices(part.count)
        held_x[part.rows] = (part.of is Of.X) & (number[0] == 0).ravel()
        held_y[part.rows] = (part.of is Of.Y) & (number[1] == 0).ravel()
    of_w = (Of.W, 0, 0)
    mass = _product(parts, size, ((of_w, of_w),), points, weights)
    along, across = (Of.W, 1, 0), (Of.W, 0, 1)
    pairs = ((along, along),), ((across, across),), ((along, across), (across, along))
    pushed = np.array([_product(parts, size, pair, points, weights) for pair in pairs])
    return Basis(
        parts,
        size,
        _pieces(np.array([table.ravel() for table in tables])),
        load,
        mass,
        pushed,
        held_x,
        held_y,
    )


def _pieces(tables: Array) -> tuple[tuple[NDArray[np.intp], NDArray[np.intp], Array], ...]:
    """Return tables (terms, places) cut into places that the same terms fill; empty places are left out."""
    least = 1e-13 * np.abs(tables).max(axis=1, keepdims=True)
    patterns = 2 ** np.arange(len(tables)) @ (np.abs(tables) > least)
    found: list[tuple[NDArray[np.intp], NDArray[np.intp], Array]] = []
    for pattern in np.unique(patterns[patterns > 0]).tolist():
        places = np.flatnonzero(patterns == pattern)
        terms = np.array([term for term in range(len(tables)) if int(pattern) >> term & 1], dtype=np.intp)
        found.append((terms, places, tables[np.ix_(terms, places)]))
    return tuple(found)


def _parts(nx: int, ny: int, kinds: tuple[tuple[int, int], ...]) -> Iterator[_Part]:
    """Return the parts of w that are odd (1) or even (0) in x and in y, with their slopes."""
    start = 0
    for x, y in kinds:
        zero_x, zero_y = _zero(nx - x, x), _zero(ny - y, y)
        for of, by_x, by_y, count in (
            (Of.W, zero_x, zero_y, (nx - x, ny - y)),
            (Of.X, _slope(nx, 1 - x), zero_y, (nx, ny - y)),
            (Of.Y, zero_x, _slope(ny, 1 - y), (nx - x, ny)),
        ):
            yield _Part(of, by_x, by_y, start, count)
            start += count[0] * count[1]


def _zero(count: int, parity: int) -> Callable[[int, Array], Array]:
    return lambda order, points: zero_at_ends(2 * count + parity, order, points)[parity::2][:count]


def _slope(count: int, parity: int) -> Callable[[int, Array], Array]:
    return lambda order, points: zero_but_first(count, parity, order, points)


def _product(
    parts: tuple[_Part, ...],
    size: int,
    pairs: tuple[tuple[Derivative, Derivative], ...],
    points: Array,
    weights: Array,
    *,
    ends_x: Array | None = None,
    ends_y: Array | None = None,
) -> Array:
    """Return the integral of the sum of products of derivatives (N, N), over the area or the ends alone."""
    table = np.zeros((size, size))
    at_x, by_x = (points, weights) if ends_x is None else (ends_x, np.ones(len(ends_x)))
    at_y, by_y = (points, weights) if ends_y is None else (ends_y, np.ones(len(ends_y)))
    for (of, p, q), (other, r, s) in pairs:
        for one in (part for part in parts if part.of is of):
            for two in (part for part in parts if part.of is other):
                x = (one.x(p, at_x) * by_x) @ two.x(r, at_x).T
                y = (one.y(q, at_y) * by_y) @ two.y(s, at_y).T
                table[one.rows, two.rows] += np.kron(x, y)
    return table
