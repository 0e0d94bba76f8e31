"""Natural frequencies of a grid: masses spread along beams and set on nodes, moving up and down.

Masses resist deflection alone: what turning them takes is left out.
"""

from dataclasses import replace
from typing import Any, cast

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.grillage.checking import Names
from stringerlab.grillage.elements import Elements, shapes
from stringerlab.grillage.factored import Factored
from stringerlab.grillage.factors import free_part
from stringerlab.grillage.records import Array, Grid, Index

PARTS = 4
"""Pieces a beam is divided in, to bend between its nodes: one span's first is 0.03 to 0.13 % high."""
_AGREED = 1e-6
_TRACE = 1e-9


def natural_frequencies(grid: Grid, count: int, names: Names = None, *, parts: int = PARTS) -> Array:
    """Return the lowest natural frequencies, lowest first.

    Parameters
    ----------
    grid
        With ``mass``, ``lumped`` or both, in kg/mm and kg.
    count
        How many; fewer are returned where the grid has fewer places with mass.
    names
        A name for each node, for messages.
    parts
        Pieces each beam is divided in.

    Returns
    -------
    Array
        (count,) Hz.

    Raises
    ------
    StringerlabError
        When the grid is wrong, nothing has mass, or the frequencies do not hold.
    """
    Factored.of(grid, names)
    if not any(mass is not None and (mass > 0).any() for mass in (grid.mass, grid.lumped)):
        raise StringerlabError(Problem("Nothing has mass.", "grid", "Give beams or nodes their mass."))
    fine = divided(grid, parts)
    held = Factored.of(fine)
    size = held.pattern.size
    weight = np.zeros(size)
    if fine.lumped is not None:
        weight[0::3] = fine.lumped
    # kg mm/s² is a thousandth of a newton.
    mass = free_part(_consistent(fine, held.elements) / 1e3, weight / 1e3, held.scale, held.pattern)
    n = len(held.pattern.free)
    if isinstance(mass, np.ndarray):
        flexible = held.factor.solve(np.eye(n))
        values, vectors = np.linalg.eigh(flexible)
        root = vectors * np.sqrt(np.maximum(values, 0.0))
        periods, modes = np.linalg.eigh(root.T @ (cast(Array, mass) @ root))
        periods, modes = periods[::-1][:count], (root @ modes)[:, ::-1][:, :count]
    else:
        periods, modes = _sparse_modes(held, mass, min(count, n - 2))
    heavy = periods > 1e-12 * periods[0]
    periods, modes = periods[heavy], modes[:, heavy]
    # What is left of K v = ω² M v, over M v ω².
    inert = mass @ modes / periods
    left = held.part @ modes - inert
    worst = float((np.linalg.norm(left, axis=0) / np.linalg.norm(inert, axis=0)).max())
    if not worst <= _AGREED:
        raise StringerlabError(
            Problem(
                f"The natural frequencies could not be found: {worst:.1e} of the forces is left unbalanced.",
                "grid",
                "Ask for fewer, or look for beams of almost no mass or stiffness.",
            )
        )
    return 1 / (2 * np.pi * np.sqrt(periods))


def divided(grid: Grid, parts: int) -> Grid:
    """Return a grid whose every beam is divided in equal parts; its own nodes come first."""
    n, m = len(grid.nodes), len(grid.beams)
    start, end = grid.nodes[grid.beams[:, 0]], grid.nodes[grid.beams[:, 1]]
    at = np.arange(1, parts) / parts
    between = start[:, None] + at[:, None] * (end - start)[:, None]
    new = n + np.arange(m * (parts - 1)).reshape(m, parts - 1)
    chain: Index = np.hstack([grid.beams[:, :1], new, grid.beams[:, 1:]])
    pinned = None
    if grid.pinned is not None:
        pinned = np.zeros((m, parts, 2), np.bool_)
        pinned[:, 0, 0], pinned[:, -1, 1] = grid.pinned[:, 0], grid.pinned[:, 1]
        pinned = pinned.reshape(-1, 2)
    added = m * (parts - 1)
    return replace(
        grid,
        nodes=np.vstack([grid.nodes, between.reshape(-1, 2)]),
        beams=np.stack([chain[:, :-1], chain[:, 1:]], axis=2).reshape(-1, 2),
        EI=np.repeat(grid.EI, parts),
        GA=np.repeat(grid.GA, parts),
        # Between its ends a beam without torsional stiffness would turn about itself.
        GJ=np.repeat(np.where(grid.GJ > 0, grid.GJ, _TRACE * grid.EI), parts),
        springs=np.vstack([grid.springs, np.zeros((added, 3))]),
        pinned=pinned,
        mass=None if grid.mass is None else np.repeat(grid.mass, parts),
        lumped=None if grid.lumped is None else np.concatenate([grid.lumped, np.zeros(added)]),
    )


def _consistent(grid: Grid, of: Elements) -> Array:
    """Return the mass of beams at their freedoms, (m, 6, 6) kg and kg·mm²."""
    m = len(of.L)
    out = np.zeros((m, 6, 6))
    if grid.mass is None:
        return out
    points, weights = np.polynomial.legendre.leggauss(4)
    for point, weight in zip((1 + points) / 2, weights / 2, strict=True):
        own = np.einsum("qij,qj->qi", of.released, shapes(np.full(m, point), of.L, of.phi))
        row = np.einsum("qij,qi->qj", of.turned, own)
        out += (weight * grid.mass * of.L)[:, None, None] * row[:, :, None] * row[:, None, :]
    return out


def _sparse_modes(held: Factored, mass: Any, count: int) -> tuple[Array, Array]:
    """Return ω⁻² and modes by Lanczos about 0."""
    from scipy.sparse import linalg

    n = int(mass.shape[0])
    back = cast(Any, linalg).LinearOperator((n, n), matvec=held.factor.solve, dtype=np.float64)
    start = cast(Array, mass @ np.random.default_rng(3).standard_normal(n))
    try:
        values, modes = cast(Any, linalg).eigsh(
            held.part, count, M=mass, sigma=0.0, OPinv=back, v0=held.factor.solve(start), tol=1e-10
        )
    except linalg.ArpackError as error:
        raise StringerlabError(
            Problem(f"The natural frequencies could not be found: {error}.", "grid", "Ask for fewer.")
        ) from error
    order = np.argsort(values)
    return 1 / values[order], modes[:, order]
