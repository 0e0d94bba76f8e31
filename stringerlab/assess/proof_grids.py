"""Computations behind the published values of beams and grids: by the beam grid, with EI, L, w and P 1."""

from collections.abc import Callable, Sequence

import numpy as np

from stringerlab.grillage import frequencies, solving
from stringerlab.grillage.records import Array, Grid, Loads, Solved

_SPRINGS = {"held": (np.inf, np.inf, np.inf), "simple": (np.inf, np.inf, 0.0), "free": (0.0, 0.0, 0.0)}
"""On w, twist and slope of a beam along x."""
_NO_TORSION = 1e-7


def crossed_force() -> float:
    """Force between two equal crossed beams simply supported, one loaded."""
    reactions = _crossed(1.0).reactions[:, 0, 0]
    return float(-(reactions[3] + reactions[4]))


def crossed_deflection(w: float) -> float:
    """Deflection where they cross."""
    return float(_crossed(w).w[2, 0, 0])


def held_moment(at: float, end: int) -> float:
    """Size of an end moment of a beam held at both ends under a force."""
    loads = Loads(beam=np.zeros(1, np.intp), along=np.array([at]), amount=np.ones((1, 1)))
    return float(-solving.solve(_line(["held", "held"]), loads, places=2).M[0, end, 0])


def support_moment(spans: int, support: int) -> float:
    """Size of the moment over a support of equal spans."""
    return float(-_continuous(spans).M[support, 0, 0])


def reaction(spans: int, support: int) -> float:
    """Size of the reaction of a support of equal spans."""
    return float(-_continuous(spans).reactions[support, 0, 0])


def shear_deflection() -> float:
    """Deflection in the middle that shear adds."""
    ends = ["simple", "free", "simple"]
    stiff, soft = (
        float(solving.solve(line, _even(line, 1.0)).w[1, 0, 0])
        for line in (_line(ends, 0.5), _line(ends, 0.5, GA=1.0))
    )
    return soft - stiff


def frequency(ends: Sequence[str]) -> float:
    """Lowest natural frequency as ω L² √(m/EI)."""
    found = frequencies.natural_frequencies(_line(ends, mass=1.0), 1, parts=24)[0]
    # Masses are in kg beside N and mm: a newton moves a kilogram by 1 000 mm/s².
    return float(2 * np.pi * found / np.sqrt(1e3))


def single_term(beams: int) -> float:
    """Deflection in the middle by the formula over the grid's, a square under a pressure of 1."""
    lines = np.linspace(0, 1, beams + 2)
    count = len(lines)
    number = np.arange(count**2).reshape(count, count)
    fore = np.stack([number[:-1].ravel(), number[1:].ravel()], axis=1)
    across = np.stack([number[:, :-1].ravel(), number[:, 1:].ravel()], axis=1)
    x, y = np.meshgrid(lines, lines, indexing="ij")
    edge = (x == 0) | (x == 1) | (y == 0) | (y == 1)
    grid = _grid(
        np.stack([x.ravel(), y.ravel()], axis=1),
        np.concatenate([fore, across]),
        np.where(edge.ravel()[:, None], [np.inf, 0.0, 0.0], 0.0),
    )
    inner = np.flatnonzero((y.ravel()[fore[:, 0]] > 0) & (y.ravel()[fore[:, 0]] < 1))
    found = solving.solve(grid, _even(grid, 1 / (beams + 1), inner), places=2)
    formula = 16 / (np.pi**6 * 2 * (beams + 1))
    return float(formula / found.w[number[count // 2, count // 2], 0, 0])


def _crossed(w: float) -> Solved:
    nodes = np.array([[0, 0], [1, 0], [0.5, 0], [0.5, -0.5], [0.5, 0.5]], dtype=np.float64)
    springs = np.zeros((5, 3))
    springs[[0, 1, 3, 4], 0] = np.inf
    grid = _grid(nodes, np.array([[0, 2], [2, 1], [3, 2], [2, 4]]), springs)
    return solving.solve(grid, _even(grid, w, np.array([0, 1])))


def _continuous(spans: int) -> Solved:
    line = _line(["simple"] * (spans + 1))
    return solving.solve(line, _even(line, 1.0), places=2)


def _line(ends: Sequence[str], span: float = 1.0, *, GA: float = np.inf, mass: float | None = None) -> Grid:
    n = len(ends)
    nodes = np.stack([span * np.arange(n), np.zeros(n)], axis=1, dtype=np.float64)
    beams = np.stack([np.arange(n - 1), np.arange(1, n)], axis=1)
    return _grid(nodes, beams, np.array([_SPRINGS[end] for end in ends]), GA=GA, mass=mass)


def _grid(
    nodes: Array, beams: np.ndarray, springs: Array, *, GA: float = np.inf, mass: float | None = None
) -> Grid:
    m = len(beams)
    return Grid(
        nodes=nodes,
        beams=beams.astype(np.intp),
        EI=np.ones(m),
        GA=np.full(m, GA),
        GJ=np.full(m, _NO_TORSION),
        springs=springs,
        mass=None if mass is None else np.full(m, mass),
    )


def _even(grid: Grid, w: float, beams: np.ndarray | None = None) -> Loads:
    """A uniform load per length, as Gauss's points."""
    chosen = np.arange(len(grid.beams)) if beams is None else beams
    points, weights = np.polynomial.legendre.leggauss(8)
    L = np.hypot(*(grid.nodes[grid.beams[chosen, 1]] - grid.nodes[grid.beams[chosen, 0]]).T)
    return Loads(
        beam=np.repeat(chosen, 8).astype(np.intp),
        along=np.tile((1 + points) / 2, len(chosen)),
        amount=(w * L[:, None] * weights / 2).reshape(-1, 1),
    )


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "grids.crossed_force": crossed_force,
    "grids.crossed_deflection": crossed_deflection,
    "grids.held_moment": held_moment,
    "grids.support_moment": support_moment,
    "grids.reaction": reaction,
    "grids.shear_deflection": shear_deflection,
    "grids.frequency": frequency,
    "grids.single_term": single_term,
}
"""What the published values name."""
