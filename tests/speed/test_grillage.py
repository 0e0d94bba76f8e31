"""How long grids take: patches on 20 × 30, beside a frame solver and a plain sparse solve; and growth."""

from collections.abc import Callable
from time import perf_counter, process_time
from typing import Any, cast

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

from stringerlab.grillage import Envelope, Factored, Grid, Loads, envelope, solve

PATCHES, LIMIT = 1000, 0.4
DRAG_LIMIT = 0.03
ALONG, ACROSS = 20, 30


def lattice(nx: int, ny: int) -> Grid:
    """A grid of 400 by 500 mm bays, simply supported all round."""
    x, y = np.meshgrid(np.arange(nx) * 400.0, np.arange(ny) * 500.0, indexing="ij")
    number = np.arange(nx * ny).reshape(nx, ny)
    beams = np.concatenate(
        [
            np.stack([number[:-1].ravel(), number[1:].ravel()], axis=1),
            np.stack([number[:, :-1].ravel(), number[:, 1:].ravel()], axis=1),
        ]
    )
    springs = np.zeros((nx, ny, 3))
    springs[[0, -1], :, 0] = springs[:, [0, -1], 0] = np.inf
    m = len(beams)
    return Grid(
        nodes=np.stack([x.ravel(), y.ravel()], axis=1, dtype=np.float64),
        beams=beams,
        EI=np.full(m, 2e10),
        GA=np.full(m, 2e6),
        GJ=np.full(m, 1e9),
        springs=springs.reshape(-1, 3),
    )


def patches(g: Grid, count: int) -> Loads:
    """Patches of a bay's size anywhere: each loads 7 beams, at 8 points each."""
    rng = np.random.default_rng(4)
    beams, points = 7, 8
    start = rng.integers(0, len(g.beams) - beams, count)
    beam = (start[:, None] + np.arange(beams)).repeat(points, axis=1).ravel()
    case = np.repeat(np.arange(count), beams * points)
    amount: Any = coo_matrix(
        (rng.uniform(50, 150, len(beam)), (np.arange(len(beam)), case)), shape=(len(beam), count)
    )
    return Loads(beam=beam, along=rng.uniform(0, 1, len(beam)), amount=amount)


def least(work: Callable[[], object], rounds: int = 3, clock: Callable[[], float] = perf_counter) -> float:
    taken: list[float] = []
    for _ in range(rounds):
        start = clock()
        work()
        taken.append(clock() - start)
    return min(taken)


def plainly(g: Grid, nodal: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Beams put together one by one, scipy's own solver, moments of all cases, then their extremes."""
    rows: list[int] = []
    columns: list[int] = []
    values: list[float] = []
    ends = np.zeros((len(g.beams), 2, 6))
    for b, ((first, last), EI, GA, GJ) in enumerate(zip(g.beams, g.EI, g.GA, g.GJ, strict=True)):
        along = g.nodes[last] - g.nodes[first]
        L = float(np.hypot(*along))
        c, s = along / L
        phi = 12 * EI / (GA * L**2)
        k = (
            EI
            / (L**3 * (1 + phi))
            * np.array(
                [
                    [12, 6 * L, -12, 6 * L],
                    [6 * L, (4 + phi) * L**2, -6 * L, (2 - phi) * L**2],
                    [-12, -6 * L, 12, -6 * L],
                    [6 * L, (2 - phi) * L**2, -6 * L, (4 + phi) * L**2],
                ]
            )
        )
        A = np.zeros((4, 6))
        A[0, 0] = A[2, 3] = 1
        A[1, 1:3] = A[3, 4:6] = s, -c
        t = np.array([0, -c, -s, 0, c, s])
        ends[b] = (k @ A)[1], -L * (k @ A)[0]
        whole = A.T @ k @ A + GJ / L * np.outer(t, t)
        at = [3 * first, 3 * first + 1, 3 * first + 2, 3 * last, 3 * last + 1, 3 * last + 2]
        for i in range(6):
            for j in range(6):
                rows.append(int(at[i]))
                columns.append(int(at[j]))
                values.append(float(whole[i, j]))
    size = 3 * len(g.nodes)
    K: Any = coo_matrix((values, (rows, columns)), shape=(size, size)).tocsc()
    free = np.flatnonzero(np.isfinite(g.springs).ravel())
    u = np.zeros((size, nodal.shape[1]))
    solution: Any = spsolve(K[free][:, free], nodal[free])
    u[free] = solution
    six = (3 * g.beams[:, :, None] + np.arange(3)).reshape(-1, 6)
    forces = ends @ u[six]
    M = forces[:, :1] + np.linspace(0, 1, 11)[:, None] * forces[:, 1:]
    extremes = np.stack([M.max(axis=2), M.min(axis=2), M.argmax(axis=2), M.argmin(axis=2)])
    return u, extremes


def test_a_thousand_patches_on_20_by_30(
    benchmark: BenchmarkFixture, capsys: pytest.CaptureFixture[str]
) -> None:
    g = lattice(ALONG, ACROSS)
    loads = patches(g, PATCHES)
    found = cast(
        Envelope, benchmark.pedantic(envelope, args=(g, loads), rounds=7, iterations=1, warmup_rounds=1)
    )
    assert found.M_max.shape == (len(g.beams), 11)
    if not benchmark.enabled:
        return
    seconds = float(cast(Any, benchmark.stats).stats.min)
    busy = least(lambda: envelope(g, loads), 5, process_time)
    rng = np.random.default_rng(0)
    nodal = np.zeros((3 * len(g.nodes), PATCHES))
    nodal[rng.integers(0, len(nodal), 4 * PATCHES), rng.integers(0, PATCHES, 4 * PATCHES)] = 100.0
    plain = least(lambda: plainly(g, nodal), 1, process_time)
    as_loads = Loads(
        beam=np.zeros(0, np.intp),
        along=np.zeros(0),
        amount=np.zeros((0, PATCHES)),
        nodal=nodal.reshape(len(g.nodes), 3, PATCHES),
    )
    u, extremes = plainly(g, nodal)
    ours = envelope(g, as_loads)
    assert solve(g, as_loads, places=2).w.reshape(u.shape) == pytest.approx(u, rel=1e-6, abs=1e-9)
    assert ours.M_max == pytest.approx(extremes[0], rel=1e-6, abs=1e-3)
    framed, one = frame_seconds(g), least(lambda: solve(g, patches(g, 1)), 5, process_time)
    with capsys.disabled():
        print(
            f"\n{PATCHES} patches on {ALONG} × {ACROSS} with envelopes {seconds:.3f} s "
            f"({busy:.3f} of processor); plain scipy, forces "
            f"at nodes only {plain:.2f} s ({plain / busy:.1f} ×); one case {1e3 * one:.1f} ms, "
            f"PyNiteFEA {framed:.2f} s ({framed / one:.0f} ×)"
        )
    # It runs on one core: where others wait for it too, its own time on the processor is what counts.
    assert min(seconds, busy) < LIMIT


def frame_seconds(g: Grid) -> float:
    """One case through a general frame solver, the building of its model not counted."""
    from Pynite import FEModel3D

    frame = FEModel3D()
    frame.add_material("m", 1e4, 5e3, 0.0, 0.0)
    frame.add_section("s", 1e3, 1e6, float(g.EI[0] / 1e4), float(g.GJ[0] / 5e3))
    for i, (x, y) in enumerate(g.nodes):
        frame.add_node(f"n{i}", float(x), 0.0, float(-y))
        frame.def_support(f"n{i}", True, bool(np.isinf(g.springs[i, 0])), True, False, True, False)
    for b, (first, last) in enumerate(g.beams):
        frame.add_member(f"b{b}", f"n{first}", f"n{last}", "m", "s")
    frame.add_member_pt_load("b100", "FY", 100.0, 200.0)
    return least(lambda: frame.analyze_linear(check_stability=False), 1, process_time)


def test_a_dragged_member_refactors_in_a_frame(benchmark: BenchmarkFixture) -> None:
    g = lattice(ALONG, ACROSS)
    held = Factored.of(g)
    found = cast(Factored, benchmark.pedantic(held.again, args=(g,), rounds=20, warmup_rounds=2))
    assert found.pattern is held.pattern
    if benchmark.enabled:
        assert float(cast(Any, benchmark.stats).stats.min) < DRAG_LIMIT


def test_time_grows_about_as_patches_and_nodes(
    benchmark: BenchmarkFixture, capsys: pytest.CaptureFixture[str]
) -> None:
    small = lattice(ALONG, ACROSS)
    benchmark.pedantic(envelope, args=(small, patches(small, 50)), rounds=1, warmup_rounds=1)
    if not benchmark.enabled:
        return

    def took(nx: int, ny: int, count: int) -> float:
        g = lattice(nx, ny)
        loads = patches(g, count)
        return least(lambda: envelope(g, loads), 3, process_time)

    by_patches = [took(ALONG, ACROSS, count) for count in (500, 2000)]
    by_nodes = [took(nx, ny, 200) for nx, ny in ((20, 30), (50, 75), (100, 150))]
    patch_power = float(np.log(by_patches[1] / by_patches[0]) / np.log(4))
    node_power = float(np.log(by_nodes[2] / by_nodes[0]) / np.log(25))
    with capsys.disabled():
        print(
            f"\ntime grows as patches^{patch_power:.2f} and nodes^{node_power:.2f}: 200 patches "
            + ", ".join(f"{seconds:.2f}" for seconds in by_nodes)
            + " s at 600, 3 750, 15 000 nodes"
        )
    assert patch_power < 1.15
    assert node_power < 1.3
