"""A grid's stiffness put together, and its factor: dense for small grids, sparse for large ones.

The factor is of D^-½ K D^-½ with D the diagonal of K, so that millimetres and radians weigh alike.
"""

import sys
from dataclasses import dataclass
from typing import Any, Protocol, cast

import numpy as np

from stringerlab.grillage.point_loads import freedoms, summed
from stringerlab.grillage.records import Array, Grid, Index

DENSE = 800
"""Freedoms below which numpy alone is quicker than loading scipy (0.2 to 0.4 s)."""
_DENSE_BESIDE = 150
"""Freedoms below which numpy alone is quicker than scipy once it is loaded."""


class SingularError(ArithmeticError):
    """A factor with a pivot that is not above 0."""


@dataclass(frozen=True, slots=True, eq=False)
class Pattern:
    """Where stiffnesses go; kept while beams and what is held stay the same."""

    size: int
    """Freedoms, 3 a node."""
    free: Index
    """Freedoms that are not held."""
    rows: Index
    columns: Index
    sparse: bool
    slots: Index
    """Sparse: for each of ``rows`` its place among the entries."""
    entries: Index
    """Sparse: row of each entry, column by column."""
    starts: Index
    """Sparse: first entry of each column."""
    kept: Index
    """Sparse: entries whose row and column are free."""
    kept_entries: Index
    kept_starts: Index

    def alike(self, other: "Pattern") -> bool:
        """Tell whether stiffnesses go the same way."""
        return np.array_equal(self.free, other.free) and np.array_equal(self.rows, other.rows)


class Matrix(Protocol):
    """A symmetric matrix."""

    def __matmul__(self, other: Array) -> Array: ...


class Factor(Protocol):
    """What solves for right-hand sides, scaled."""

    def solve(self, force: Array) -> Array:
        """Return K⁻¹ times forces (n, p)."""
        ...


def pattern(grid: Grid) -> Pattern:
    """Return where the stiffnesses of a grid go."""
    size = 3 * len(grid.nodes)
    six = freedoms(grid.beams)
    every = np.arange(size)
    rows = np.concatenate([np.repeat(six, 6, axis=1).ravel(), every])
    columns = np.concatenate([np.tile(six, (1, 6)).ravel(), every])
    is_free = np.isfinite(grid.springs).ravel()
    free = np.flatnonzero(is_free)
    loaded = "scipy.sparse.linalg" in sys.modules
    none = np.zeros(0, np.intp)
    if len(free) < (_DENSE_BESIDE if loaded else DENSE):
        return Pattern(size, free, rows, columns, False, none, none, none, none, none, none)
    keys, slots = np.unique(columns * size + rows, return_inverse=True)
    entries, at = keys % size, keys // size
    kept = np.flatnonzero(is_free[entries] & is_free[at])
    number = np.cumsum(is_free) - 1
    return Pattern(
        size=size,
        free=free,
        rows=rows,
        columns=columns,
        sparse=True,
        slots=slots.astype(np.intp),
        entries=entries,
        starts=np.searchsorted(at, np.arange(size + 1)),
        kept=kept,
        kept_entries=number[entries[kept]],
        kept_starts=np.searchsorted(number[at[kept]], np.arange(len(free) + 1)),
    )


def assembled(stiffness: Array, springs: Array, given: Pattern) -> tuple[Matrix, Matrix, Array]:
    """Return the stiffness of all freedoms without springs, of the free ones with them scaled, and the scale.

    Parameters
    ----------
    stiffness
        (m, 6, 6) of beams.
    springs
        (n, 3), inf where held.

    Returns
    -------
    tuple
        K (3 n, 3 n); S (K + springs) S of free freedoms; the diagonal of S.
    """
    spring = springs.ravel()[given.free]
    if not given.sparse:
        whole = _dense(stiffness, np.zeros(given.size), given)
        part = whole[np.ix_(given.free, given.free)]
        part[np.diag_indices_from(part)] += spring
        scale = _scale(np.diagonal(part))
        return cast(Matrix, whole), cast(Matrix, part * scale[:, None] * scale), scale
    data = _entries(stiffness, np.zeros(given.size), given)
    whole = _csc(data, given.entries, given.starts)
    own = data[given.kept]
    at = _columns(given)
    diagonal = np.flatnonzero(given.kept_entries == at)
    own[diagonal] += spring
    scale = _scale(own[diagonal])
    own *= scale[at] * scale[given.kept_entries]
    return whole.T, _csc(own, given.kept_entries, given.kept_starts), scale


def free_part(beams: Array, diagonal: Array, scale: Array, given: Pattern) -> Matrix:
    """Return a matrix of beams (m, 6, 6) and of freedoms (3 n,), of the free freedoms, scaled."""
    if not given.sparse:
        part = _dense(beams, diagonal, given)[np.ix_(given.free, given.free)]
        return cast(Matrix, part * scale[:, None] * scale)
    own = _entries(beams, diagonal, given)[given.kept]
    own *= scale[_columns(given)] * scale[given.kept_entries]
    return _csc(own, given.kept_entries, given.kept_starts)


def factor(part: Matrix, shift: float = 0.0) -> Factor:
    """Return the factor of a scaled stiffness.

    Parameters
    ----------
    part
        Symmetric, diagonal 1 (`assembled`).
    shift
        Added to the diagonal.

    Raises
    ------
    SingularError
        When a pivot is not above 0.
    """
    if isinstance(part, np.ndarray):
        return _Dense(cast(Array, part), shift)
    return _Sparse(part, shift)


def asymmetry(whole: Matrix) -> float:
    """Return the greatest |K - Kᵀ| over the greatest |K|."""
    matrix = cast(Any, whole)
    greatest = float(abs(matrix).max())
    return float(abs(matrix - matrix.T).max()) / greatest if greatest else 0.0


class _Dense:
    """By Cholesky, the triangle inverted: numpy has no triangular solve."""

    def __init__(self, part: Array, shift: float) -> None:
        matrix = part + shift * np.eye(len(part)) if shift else part
        try:
            self._inverse = np.linalg.inv(np.linalg.cholesky(matrix))
        except np.linalg.LinAlgError:
            raise SingularError from None

    def solve(self, force: Array) -> Array:
        return self._inverse.T @ (self._inverse @ force)


class _Sparse:
    """By SuperLU without pivoting, as suits a symmetric matrix that is positive."""

    def __init__(self, part: Any, shift: float) -> None:
        from scipy import sparse
        from scipy.sparse import linalg

        matrix = (part + shift * cast(Any, sparse).eye_array(part.shape[0])).tocsc() if shift else part
        try:
            self._lu = cast(Any, linalg).splu(
                matrix,
                permc_spec="MMD_AT_PLUS_A",
                diag_pivot_thresh=0.0,
                options={"SymmetricMode": True},
            )
        except RuntimeError:
            raise SingularError from None

    def solve(self, force: Array) -> Array:
        return np.ascontiguousarray(self._lu.solve(force))


def _scale(diagonal: Array) -> Array:
    return 1 / np.sqrt(np.where(diagonal > 0, diagonal, 1.0))


def _dense(beams: Array, diagonal: Array, given: Pattern) -> Array:
    values = np.concatenate([beams.ravel(), diagonal])
    flat = summed(given.rows * given.size + given.columns, values, given.size**2)
    return flat.reshape(given.size, given.size)


def _entries(beams: Array, diagonal: Array, given: Pattern) -> Array:
    return summed(given.slots, np.concatenate([beams.ravel(), diagonal]), len(given.entries))


def _columns(given: Pattern) -> Index:
    return np.repeat(np.arange(len(given.free)), np.diff(given.kept_starts))


def _csc(data: Array, entries: Index, starts: Index) -> Any:
    from scipy.sparse import csc_matrix

    size = len(starts) - 1
    return cast(Any, csc_matrix)((data, entries, starts), shape=(size, size))
