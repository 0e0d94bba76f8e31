"""Plates under uniform pressure, and their natural frequency, by Rayleigh and Ritz. Axes as in ``records``.

First-order shear deformation: the normal's slopes are free of the deflection's, so that a sandwich's core
shears and a thin skin does not. Edges stay put in z and do not twist; across the edge they turn freely,
against a spring, or not at all, alike on opposite sides. Shallow cylinders (rise over b at most 0.2) are
stiffened by membrane forces between edges that hold their shape in the plane but may draw in (shear
diaphragms): less than held edges give. Deflections are small; a laminate's B enters through D*.
"""

from collections.abc import Callable
from dataclasses import fields
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.plate.membrane import WAVES, thrust_in_middle, wave_stiffness
from stringerlab.plate.records import Bent, Plates
from stringerlab.plate.ritz import Basis, Derivative, Of, along_edge, at, basis, waves
from stringerlab.workings import Array

Rows = NDArray[np.intp]
LONGEST = 8.0
"""Aspect ratio (by stiffness too) above which a plate counts as this long: within 1e-4 of an endless one."""
_CHUNK = 128
_SIZES = ((1.6, 6), (3.0, 8), (float("inf"), 10))
_FEWEST = 6
_CURVED = 10
"""Functions along each side of a curved panel, at least."""
"""Functions along a side, by how many times as long as the other it is."""
_EQUILIBRIUM = 0.005
_SOLVED_TO = 1e-7
_SHALLOW = 0.2
_SKEWED = 1e-3
"""Part of D_66 below which D_16 and D_26 are left out: they act by their square."""
_SETTLED = 1e-9
_ROUNDS = 200
_TONNES = 1e-12
"""From g/m² to t/mm²."""
_FINEST_SHEAR = 1e7
"""S b² over D counts to here: beyond, a plate bends as a thin one to a part in a hundred thousand."""


def bent(given: Plates, q: Array) -> Bent:
    """Return deflection, moments and shear of plates under a uniform pressure q (n,) [MPa].

    Raises
    ------
    StringerlabError
        When a plate's stiffness or sides are not positive, or it is no shallow one; or the solution does
        not carry the pressure to the edges within 0.5 %.
    """
    refuse(given)
    n = len(given.b)
    result = _empty(n)
    for rows, functions in _batches(given):
        part = _take(given, rows)
        _store(result, rows, _bent(part, np.asarray(q, dtype=np.float64)[rows], functions))
    bad = np.flatnonzero(~(result.residual <= _EQUILIBRIUM))
    if len(bad):
        raise StringerlabError(
            [
                Problem(
                    f"The bending of this panel did not converge: {100 * result.residual[row]:.1f} % of the "
                    "pressure does not reach its edges.",
                    f"plate {row + 1}",
                )
                for row in bad[:50]
            ]
        )
    return result


def natural_frequency(given: Plates, areal_mass: Array) -> Array:
    """Return the lowest natural frequency in air [Hz] of plates of a mass per area (n,) [g/m²].

    Raises
    ------
    StringerlabError
        As ``bent``, and when the iteration does not settle.
    """
    refuse(given)
    result = np.zeros(len(given.b))
    for rows, functions in _batches(given):
        result[rows] = _frequency(_take(given, rows), areal_mass[rows], functions)
    return result


def refuse(given: Plates) -> None:
    """Refuse plates that have no positive stiffness or sides, or are not shallow.

    Raises
    ------
    StringerlabError
        With every problem found.
    """
    least = np.full(len(given.b), -np.inf)
    finite = np.isfinite(given.D).all(axis=(1, 2))
    if finite.any():
        size = np.sqrt(np.maximum(np.einsum("nii->ni", given.D[finite]), 1e-300))
        scaled = given.D[finite] / (size[:, :, None] * size[:, None, :])
        least[finite] = np.linalg.eigvalsh(scaled)[:, 0]
    faults = (
        (~((given.b > 0) & (given.l > 0)), "A panel's sides need to be above 0."),
        (~(least > 1e-9), "The laminate's bending stiffness needs to be positive in every direction."),
        (~(given.S > 0).all(axis=1), "The laminate's transverse shear stiffness needs to be above 0."),
        (~((given.spring_x >= 0) & (given.spring_y >= 0)), "An edge's spring cannot be negative."),
        (
            ~(np.abs(given.rise) <= _SHALLOW * given.b),
            f"The panel is no shallow one: its rise is above {_SHALLOW:g} of its short side.",
        ),
    )
    problems = [Problem(text, f"plate {row + 1}") for mask, text in faults for row in np.flatnonzero(mask)]
    if problems:
        raise StringerlabError(problems[:50])


def _batches(given: Plates) -> list[tuple[Rows, Basis]]:
    """Return rows that share trial functions."""
    ratio = given.l / given.b * (given.D[:, 0, 0] / given.D[:, 1, 1]) ** 0.25
    limits = np.array([limit for limit, _ in _SIZES])
    along = np.searchsorted(limits, np.maximum(ratio, 1 / ratio))
    skew = (np.abs(given.D[:, :2, 2]) > _SKEWED * given.D[:, 2:, 2]).any(axis=1)
    longer_y = ratio >= 1
    key = along * 8 + 4 * (given.rise != 0) + 2 * longer_y + skew
    found: list[tuple[Rows, Basis]] = []
    for value in np.unique(key):
        least = _CURVED if value // 4 % 2 else _FEWEST
        count = max(_SIZES[int(value) // 8][1], least)
        nx, ny = (least, count) if value // 2 % 2 else (count, least)
        rows = np.flatnonzero(key == value)
        functions = basis(nx, ny, skew=bool(value % 2))
        starts = [*range(0, len(rows), _CHUNK), len(rows)]
        found.extend((rows[start:end], functions) for start, end in pairwise(starts))
    return found


def _lengths(given: Plates) -> tuple[Array, Array]:
    """Return the sides with no aspect beyond ``LONGEST``: the middle of a longer plate knows no ends."""
    root = (given.D[:, 0, 0] / given.D[:, 1, 1]) ** 0.25
    l = np.minimum(given.l, LONGEST * given.b / root)
    return np.minimum(given.b, LONGEST * l * root), l


def stiffness_of(given: Plates, functions: Basis) -> tuple[Array, NDArray[np.bool_]]:
    """Return the stiffness (n, N, N) with clamped edges' functions put out, and which are kept (n, N)."""
    b, l = _lengths(given)
    d = given.D
    sx, sy = _sheared(given, b, l)
    r = l / b
    clamped_x, clamped_y = np.isinf(given.spring_x), np.isinf(given.spring_y)
    weights = np.stack(
        [
            d[:, 0, 0] * r,
            d[:, 1, 1] / r,
            d[:, 0, 1],
            d[:, 2, 2] / r,
            d[:, 2, 2] * r,
            d[:, 2, 2],
            d[:, 0, 2],
            d[:, 0, 2] * r,
            d[:, 1, 2] / r,
            d[:, 1, 2],
            sx * l * b,
            -sx * b * l / 2,
            sx * b * l / 4,
            sy * b**3 / l,
            -sy * b**2 / 2,
            sy * b * l / 4,
            np.where(clamped_x, 0.0, given.spring_x) * l / 2,
            np.where(clamped_y, 0.0, given.spring_y) * b / 2,
        ],
        axis=1,
    )
    size = functions.size
    stiff = functions.summed(weights)
    if np.any(given.rise != 0):
        sines = waves(functions, WAVES)
        pressed = wave_stiffness(given, b, l) * (b**3 * l / 4)[:, None]
        stiff += sines.T @ (pressed[:, :, None] * sines)
    kept = ~((clamped_x[:, None] & functions.held_x) | (clamped_y[:, None] & functions.held_y))
    stiff *= kept[:, :, None] & kept[:, None, :]
    rows = np.arange(size)
    scale = np.einsum("nii->n", stiff) / size
    stiff[:, rows, rows] += np.where(kept, 0.0, scale[:, None])
    return stiff, kept


def _solve(stiff: Array, loads: Array) -> Array:
    """Return the solution for columns (n, N, m), its residual checked."""
    found = np.linalg.solve(stiff, loads)
    wrong = np.abs(stiff @ found - loads).max(axis=(1, 2))
    if not np.all(wrong <= _SOLVED_TO * np.maximum(np.abs(loads).max(axis=(1, 2)), 1e-300)):
        raise StringerlabError(Problem("The equations of a panel's bending could not be solved reliably."))
    return np.asarray(found, dtype=np.float64)


def _bent(given: Plates, q: Array, functions: Basis) -> Bent:
    b, l = _lengths(given)
    stiff, _ = stiffness_of(given, functions)
    loads = np.broadcast_to(functions.load[:, None], (len(b), functions.size, 1))
    shape = _solve(stiff, loads)[:, :, 0] * (q * b**2 * l / 4)[:, None]
    w = b * (shape @ at(functions, (Of.W, 0, 0), 0.0, 0.0))
    curved = np.flatnonzero(given.rise != 0)
    thrust, carried = np.zeros((len(b), 3)), np.zeros(len(b))
    if len(curved):
        amplitudes = (shape @ waves(functions, WAVES).T) * b[:, None]
        thrust, carried = thrust_in_middle(given, amplitudes, b, l)
    edge = _shear_x(given, b, l, lambda one: shape @ along_edge(functions, one, in_x=True))
    other = _shear_y(given, b, l, lambda one: shape @ along_edge(functions, one, in_x=False))
    whole = q * b * l
    missing = np.abs(whole - carried + edge * l + other * b)
    residual = np.divide(missing, np.abs(whole), out=np.zeros(len(b)), where=whole != 0)
    return Bent(
        w=w,
        middle=_moments(given, b, l, shape, functions, 0.0, 0.0),
        long_edge=_moments(given, b, l, shape, functions, 1.0, 0.0),
        short_edge=_moments(given, b, l, shape, functions, 0.0, 1.0),
        shear_long=np.abs(_shear_x(given, b, l, lambda one: shape @ at(functions, one, 1.0, 0.0))),
        shear_short=np.abs(_shear_y(given, b, l, lambda one: shape @ at(functions, one, 0.0, 1.0))),
        thrust=thrust,
        residual=residual,
    )


def _moments(given: Plates, b: Array, l: Array, shape: Array, functions: Basis, x: float, y: float) -> Array:
    def value(of: Derivative) -> Array:
        return shape @ at(functions, of, x, y)

    bend = np.stack(
        [
            -value((Of.X, 1, 0)) * 2 / b,
            -value((Of.Y, 0, 1)) * 2 / l,
            -value((Of.X, 0, 1)) * 2 / l - value((Of.Y, 1, 0)) * 2 / b,
        ],
        axis=1,
    )
    return np.einsum("nij,nj->ni", given.D, bend)


def _shear_x(given: Plates, b: Array, l: Array, value: Callable[[Derivative], Array]) -> Array:
    """Return the shear force across x: the stiffness on how far the normal lags behind the slope."""
    stiffness = _sheared(given, b, l)[0]
    return stiffness * (2 * value((Of.W, 1, 0)) - value((Of.X, 0, 0)))


def _shear_y(given: Plates, b: Array, l: Array, value: Callable[[Derivative], Array]) -> Array:
    """Return the shear force across y."""
    stiffness = _sheared(given, b, l)[1]
    return stiffness * (2 * b / l * value((Of.W, 0, 1)) - value((Of.Y, 0, 0)))


def _sheared(given: Plates, b: Array, l: Array) -> tuple[Array, Array]:
    """Return the transverse shear stiffness in x and y, as far as it counts."""
    most = _FINEST_SHEAR * np.maximum(given.D[:, 0, 0], given.D[:, 1, 1]) / np.minimum(b, l) ** 2
    return np.minimum(given.S[:, 0], most), np.minimum(given.S[:, 1], most)


def _frequency(given: Plates, areal_mass: Array, functions: Basis) -> Array:
    """Return the frequency of the lowest wave, found from the shape under pressure by inverse iteration."""
    b, l = _lengths(given)
    stiff, kept = stiffness_of(given, functions)
    chosen = functions.deflection
    units = np.broadcast_to(np.eye(functions.size)[:, chosen], (len(b), functions.size, int(chosen.sum())))
    soft = _solve(stiff, units * kept[:, :, None])[:, chosen]
    mass = functions.mass[np.ix_(chosen, chosen)]
    shape = soft @ functions.load[chosen]
    last = np.full(len(b), np.inf)
    for _ in range(_ROUNDS):
        pushed = shape @ mass
        bent_by = np.einsum("nij,nj->ni", soft, pushed)
        square = np.einsum("ni,ni->n", shape, pushed) / np.einsum("ni,ni->n", pushed, bent_by)
        if np.all(np.abs(square - last) <= _SETTLED * square):
            weight = areal_mass * _TONNES * b**3 * l / 4
            return np.sqrt(square / weight) / (2 * np.pi)
        last = square
        shape = bent_by / np.abs(bent_by).max(axis=1, keepdims=True)
    raise StringerlabError(Problem("A panel's natural frequency could not be found."))


def _take(given: Plates, rows: Rows) -> Plates:
    return Plates(**{field.name: getattr(given, field.name)[rows] for field in fields(Plates)})


def _empty(n: int) -> Bent:
    vectors = ("middle", "long_edge", "short_edge", "thrust")
    return Bent(**{field.name: np.zeros((n, 3) if field.name in vectors else n) for field in fields(Bent)})


def _store(result: Bent, rows: Rows, part: Bent) -> None:
    for field in fields(Bent):
        getattr(result, field.name)[rows] = getattr(part, field.name)
