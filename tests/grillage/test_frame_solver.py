"""The same grids through a general frame solver, PyNiteFEA, within 0.1 %; and the single-term formula."""

from dataclasses import replace

import numpy as np
import pytest
from Pynite import FEModel3D

from stringerlab.grillage import Grid, Loads, solve

from .conftest import lattice, spread

CASE = "Combo 1"
E = 1e4


def random_grid(seed: int) -> tuple[Grid, Loads]:
    """An uneven, skewed lattice without shear (the frame solver knows none), and forces along its beams."""
    rng = np.random.default_rng(seed)
    nx, ny = rng.integers(3, 6, 2)
    g = lattice(np.cumsum(rng.uniform(300, 600, nx)).tolist(), np.cumsum(rng.uniform(300, 600, ny)).tolist())
    n, m = len(g.nodes), len(g.beams)
    springs = g.springs.copy()
    springs[rng.integers(0, n), 1:] = np.inf
    springs[rng.integers(0, n), 0] = np.inf
    springs[n // 2] = [200.0, 3e8, 0.0]
    g = replace(
        g,
        nodes=g.nodes + rng.uniform(-80, 80, (n, 2)),
        EI=10 ** rng.uniform(9, 10.5, m),
        GJ=10 ** rng.uniform(8, 10, m),
        springs=springs,
        pinned=rng.random((m, 2)) < 0.05,
    )
    k = 15
    return g, Loads(
        beam=rng.integers(0, m, k), along=rng.uniform(0.05, 0.95, k), amount=rng.uniform(-200, 900, (k, 1))
    )


def framed(g: Grid, loads: Loads) -> FEModel3D:
    """The grid as a frame: our x, y, z are its X, −Z, Y."""
    frame = FEModel3D()
    frame.add_material("m", E, E / 2, 0.0, 0.0)
    for i, (x, y) in enumerate(g.nodes):
        frame.add_node(f"n{i}", float(x), 0.0, float(-y))
        held = np.isinf(g.springs[i]).tolist()
        frame.def_support(f"n{i}", True, held[0], True, held[1], True, held[2])
        for freedom, spring in zip(("DY", "RX", "RZ"), g.springs[i].tolist(), strict=True):
            if 0 < spring < np.inf:
                frame.def_support_spring(f"n{i}", freedom, spring)
    for b, (first, last) in enumerate(g.beams):
        frame.add_section(f"s{b}", 1e3, 1e6, float(g.EI[b] / E), float(g.GJ[b] / (E / 2)))
        frame.add_member(f"b{b}", f"n{first}", f"n{last}", "m", f"s{b}")
        if g.pinned is not None and g.pinned[b].any():
            frame.def_releases(f"b{b}", Rzi=bool(g.pinned[b, 0]), Rzj=bool(g.pinned[b, 1]))
    amount = np.asarray(loads.amount)[:, 0]
    length = np.hypot(*(g.nodes[g.beams[:, 1]] - g.nodes[g.beams[:, 0]]).T)
    for b, at, force in zip(loads.beam, loads.along, amount, strict=True):
        frame.add_member_pt_load(f"b{b}", "FY", float(force), float(at * length[b]))
    frame.analyze_linear()
    return frame


@pytest.mark.parametrize("seed", range(8))
def test_random_grid_as_the_frame_solver_has_it(seed: int) -> None:
    g, loads = random_grid(seed)
    found = solve(g, loads, places=3)
    frame = framed(g, loads)
    w = np.array([frame.nodes[f"n{i}"].DY[CASE] for i in range(len(g.nodes))])
    # About Z a rotation turns X to Y: the opposite of ours about y, which turns z to x.
    turned = np.array([frame.nodes[f"n{i}"].RX[CASE] for i in range(len(g.nodes))])
    rolled = np.array([-frame.nodes[f"n{i}"].RZ[CASE] for i in range(len(g.nodes))])
    for freedom, theirs in enumerate((w, turned, rolled)):
        assert found.w[:, freedom, 0] == pytest.approx(theirs, rel=1e-3, abs=1e-3 * np.abs(theirs).max())
    lengths = np.hypot(*(g.nodes[g.beams[:, 1]] - g.nodes[g.beams[:, 0]]).T)
    M = np.array(
        [
            [frame.members[f"b{b}"].moment("Mz", float(s * L), CASE) for s in (0, 0.5, 1)]
            for b, L in enumerate(lengths)
        ]
    )
    T = np.array([frame.members[f"b{b}"].torque(0.0, CASE) for b in range(len(lengths))])
    # Its moment about Z is positive, as ours, where a load pushes a simple beam up.
    assert found.M[:, :, 0] == pytest.approx(M, rel=1e-3, abs=1e-3 * np.abs(M).max())
    assert np.abs(found.T[:, 0]) == pytest.approx(np.abs(T), rel=1e-3, abs=1e-3 * np.abs(T).max())
    up = np.array([frame.nodes[f"n{i}"].RxnFY[CASE] for i in range(len(g.nodes))])
    assert found.reactions[:, 0, 0] == pytest.approx(up, rel=1e-3, abs=1e-3 * np.abs(up).max())


def single_term(n: int) -> float:
    """Deflection in the middle of a unit square of n beams of EI 1 each way under unit pressure, one term."""
    return 16 / (np.pi**6 * 2 * (n + 1))


@pytest.mark.parametrize(("n", "low", "high"), [(3, 1.06, 1.07), (5, 1.03, 1.06), (9, 1.01, 1.03)])
def test_single_term_formula_reads_high_most_with_few_beams(n: int, low: float, high: float) -> None:
    """6 to 7 % with three beams, as its source says: it holds what falls near the edges too."""
    x = np.linspace(0, 1, n + 2).tolist()
    g = lattice(x, x, GJ=1e-7)
    count = len(g.beams) // 2
    inner = [b for b in range(count) if 0 < g.nodes[g.beams[b, 0], 1] < 1]
    found = solve(g, spread(g, 1 / (n + 1), inner))
    middle = int(np.argmin(np.hypot(*(g.nodes - 0.5).T)))
    assert low < single_term(n) / found.w[middle, 0, 0] < high
