"""Grids: crossed beams, symmetry, reciprocity, motion as a whole, and what their own checks say."""

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.grillage import Factored, Grid, Loads, envelope, natural_frequencies, point_loads, solve

from .conftest import CLAMP, PIN, TWISTLESS, grid, lattice, line, on_node, points, spread

seeds = st.integers(0, 10_000)
few = settings(max_examples=20)


def random_grid(seed: int, nx: int = 4, ny: int = 4, *, GA: bool = True) -> Grid:
    """An uneven, skewed lattice of random stiffness on random supports."""
    rng = np.random.default_rng(seed)
    g = lattice(np.cumsum(rng.uniform(200, 600, nx)).tolist(), np.cumsum(rng.uniform(200, 600, ny)).tolist())
    n, m = len(g.nodes), len(g.beams)
    springs = g.springs.copy()
    springs[5] = rng.choice([0.0, 300.0], 3)
    springs[0, 1:] = np.inf
    return replace(
        g,
        nodes=g.nodes + rng.uniform(-60, 60, (n, 2)),
        EI=10 ** rng.uniform(9, 11, m),
        GA=10 ** rng.uniform(5.5, 7, m) if GA else np.full(m, np.inf),
        GJ=10 ** rng.uniform(8, 10, m),
        springs=springs,
        pinned=rng.random((m, 2)) < 0.08,
    )


def random_loads(seed: int, g: Grid, k: int = 12, p: int = 3) -> Loads:
    rng = np.random.default_rng(seed + 1)
    return Loads(
        beam=rng.integers(0, len(g.beams), k),
        along=rng.uniform(0, 1, k),
        amount=rng.uniform(-1000, 1000, (k, p)),
        nodal=rng.uniform(-1, 1, (len(g.nodes), 3, p)) * np.array([1e3, 1e5, 1e5])[:, None],
    )


def test_two_crossed_beams_share_5_sixteenths() -> None:
    # One loaded over its length 1, the other crossing at mid-span.
    g = grid(
        [(0, 0), (0.5, 0), (1, 0), (0.5, -0.5), (0.5, 0.5)],
        [(0, 1), (1, 2), (3, 1), (1, 4)],
        {0: TWISTLESS, 2: PIN, 3: (np.inf, 0.0, np.inf), 4: PIN},
        GJ=1e-9,
    )
    found = solve(g, spread(g, 0.5, [0, 1]))
    assert found.reactions[[3, 4], 0, 0] == pytest.approx(-5 * 0.5 / 16 / 2)
    assert found.w[1, 0, 0] == pytest.approx(0.5 * 5 / 768)


def test_symmetric_load_bends_alike_and_opposite_load_turns_the_middle() -> None:
    g = lattice(np.linspace(0, 4, 5).tolist(), [-1.5, -0.5, 0.5, 1.5], GJ=0.4, GA=20.0)
    mirrored = np.array([i * 4 + 3 - j for i in range(5) for j in range(4)])
    even, odd = np.zeros((20, 3, 1)), np.zeros((20, 3, 1))
    even[[5, 6], 0] = 1.0
    odd[5, 0], odd[6, 0] = 1.0, -1.0
    both = solve(g, points(nodal=np.concatenate([even, odd], axis=2)))
    w = both.w
    assert w[mirrored, 0, 0] == pytest.approx(w[:, 0, 0])
    assert w[mirrored, 1, 0] == pytest.approx(-w[:, 1, 0], abs=1e-12)
    assert w[mirrored, 2, 0] == pytest.approx(w[:, 2, 0], abs=1e-12)
    assert w[mirrored, 0, 1] == pytest.approx(-w[:, 0, 1], abs=1e-12)
    assert w[mirrored, 1, 1] == pytest.approx(w[:, 1, 1], abs=1e-12)


@few
@given(seeds)
def test_maxwell_a_moves_by_b_as_b_by_a(seed: int) -> None:
    g = random_grid(seed)
    rng = np.random.default_rng(seed)
    (a, b), (i, j) = rng.integers(0, len(g.nodes), 2), rng.integers(0, 3, 2)
    scale = (1.0, 1e3, 1e3)
    one, two = solve(g, on_node(g, a, i, scale[i])), solve(g, on_node(g, b, j, scale[j]))
    assert one.w[b, j, 0] * scale[j] == pytest.approx(two.w[a, i, 0] * scale[i], rel=1e-6, abs=1e-12)


@few
@given(seeds)
def test_betti_work_of_points_along_beams(seed: int) -> None:
    """A point on a beam, moved by splitting the beam there, does the work that its end forces do."""
    g = random_grid(seed)
    rng = np.random.default_rng(seed)
    beam, a = int(rng.integers(0, len(g.beams))), float(rng.uniform(0.1, 0.9))
    first, last = (int(node) for node in g.beams[beam])
    n = len(g.nodes)
    rest = np.delete(np.arange(len(g.beams)), beam)
    ends = np.concatenate([rest, [beam, beam]])
    assert g.pinned is not None
    pinned = g.pinned[ends]
    pinned[-2, 1] = pinned[-1, 0] = False
    split = replace(
        g,
        nodes=np.vstack([g.nodes, g.nodes[first] + a * (g.nodes[last] - g.nodes[first])]),
        beams=np.vstack([g.beams[rest], [[first, n], [n, last]]]),
        EI=g.EI[ends],
        GA=g.GA[ends],
        GJ=g.GJ[ends],
        springs=np.vstack([g.springs, np.zeros(3)]),
        pinned=pinned,
    )
    if g.pinned[beam].all():  # its two halves would fold at the new node
        return
    whole = solve(g, points((beam, a, 700.0)), places=2)
    halves = solve(split, on_node(split, n, 0, 700.0), places=2)
    assert halves.w[:n, 0, 0] == pytest.approx(whole.w[:, 0, 0], rel=1e-6, abs=1e-9)
    assert halves.M[-2, 0, 0] == pytest.approx(whole.M[beam, 0, 0], rel=1e-6, abs=1e-2)
    assert halves.M[-1, 1, 0] == pytest.approx(whole.M[beam, 1, 0], rel=1e-6, abs=1e-2)
    assert halves.V[-2, 0, 0] == pytest.approx(whole.V[beam, 0, 0], rel=1e-6, abs=1e-4)


@few
@given(seeds, st.floats(-3, 3), st.floats(-5e3, 5e3))
def test_a_grid_turned_and_moved_as_a_whole_carries_the_same(seed: int, angle: float, moved: float) -> None:
    g = replace(
        random_grid(seed), springs=np.where(np.arange(16)[:, None] % 5 == 0, np.inf, 0.0) * np.ones(3)
    )
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    loads = replace(random_loads(seed, g), nodal=None)
    one = solve(g, loads)
    two = solve(replace(g, nodes=g.nodes @ turn.T + [moved, -moved]), loads)
    for name in ("M", "V", "T"):
        a, b = getattr(one, name), getattr(two, name)
        assert b == pytest.approx(a, rel=1e-6, abs=1e-8 * float(np.abs(a).max()))
    assert two.w[:, 1:] == pytest.approx(np.einsum("ij,njp->nip", turn, one.w[:, 1:]), rel=1e-6, abs=1e-9)


def test_motion_as_a_whole_costs_no_force() -> None:
    g = random_grid(3)
    x, y = g.nodes.T
    stiffness = Factored.of(g).whole
    u = np.stack([np.ones(16), np.zeros(16), np.zeros(16)], axis=1)
    rolled = np.stack([y, np.ones(16), np.zeros(16)], axis=1)
    pitched = np.stack([-x, np.zeros(16), np.ones(16)], axis=1)
    force = stiffness @ np.stack([u.ravel(), rolled.ravel(), pitched.ravel()], axis=1)
    size = np.abs(np.asarray(stiffness @ np.eye(48))).max()
    assert np.abs(force).max() < 1e-9 * size


@few
@given(seeds)
def test_every_node_is_in_balance_with_the_forces_of_its_beams(seed: int) -> None:
    g = random_grid(seed)
    loads = random_loads(seed, g)
    found = solve(g, loads)
    assert found.residual < 1e-9
    assert found.imbalance < 1e-9
    assert loads.nodal is not None
    # From M, V and T at the beams' ends alone.
    p = found.M.shape[2]
    left = found.reactions + loads.nodal
    along = g.nodes[g.beams[:, 1]] - g.nodes[g.beams[:, 0]]
    cos, sin = (along / np.linalg.norm(along, axis=1)[:, None]).T
    for b, (first, last) in enumerate(g.beams):
        for node, sign, at in ((first, 1.0, 0), (last, -1.0, -1)):
            M, V, T = found.M[b, at], found.V[b, at], found.T[b]
            left[node, 0] += sign * V
            left[node, 1] += sign * (T * cos[b] - M * sin[b])
            left[node, 2] += sign * (T * sin[b] + M * cos[b])
    assert np.abs(left[:, 0]).max() < 1e-5
    assert np.abs(left[:, 1:]).max() < 1e-2
    assert p == 3


@few
@given(seeds)
def test_dense_and_sparse_give_the_same(seed: int) -> None:
    g = random_grid(seed)
    loads = random_loads(seed, g)
    dense = solve(g, loads)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("stringerlab.grillage.factors.DENSE", 0)
        patch.setattr("stringerlab.grillage.factors._DENSE_BESIDE", 0)
        sparse = solve(g, loads)
        assert Factored.of(g).pattern.sparse
    assert not Factored.of(g).pattern.sparse
    assert pytest.approx(dense.M, rel=1e-7, abs=1e-7 * float(np.abs(dense.M).max())) == sparse.M
    assert sparse.reactions == pytest.approx(dense.reactions, rel=1e-7, abs=1e-3)


@few
@given(seeds, st.integers(1, 7))
def test_envelope_is_the_extremes_of_all_cases(seed: int, chunk: int) -> None:
    g = random_grid(seed)
    loads = random_loads(seed, g, k=20, p=7)
    amount = np.asarray(loads.amount) * (np.random.default_rng(seed).random((20, 7)) < 0.3)
    along = loads.along.copy()
    along[:5] = [0.0, 0.2, 0.5, 0.9, 1.0]  # on places: shear drops there
    loads = replace(loads, amount=amount, along=along)
    all_cases, found = solve(g, loads), envelope(g, loads, chunk=chunk)
    M = all_cases.M
    near = 1e-9 * float(np.abs(M).max())
    assert found.M_max == pytest.approx(M.max(axis=2), abs=near)
    assert found.M_min == pytest.approx(M.min(axis=2), abs=near)
    assert np.take_along_axis(M, found.case_M_max[..., None], 2)[..., 0] == pytest.approx(
        found.M_max, abs=near
    )
    assert np.take_along_axis(M, found.case_M_min[..., None], 2)[..., 0] == pytest.approx(
        found.M_min, abs=near
    )
    V = np.abs(all_cases.V)
    for q in range(1, 4):
        past = all_cases.V[loads.beam[q], round(along[q] * 10)] - sum(
            (amount[r] for r in range(20) if loads.beam[r] == loads.beam[q] and along[r] == along[q]),
            np.zeros(7),
        )
        row = V[loads.beam[q], round(along[q] * 10)]
        np.maximum(row, np.abs(past), out=row)
    assert found.V_abs == pytest.approx(V.max(axis=2), rel=1e-9, abs=1e-6)
    assert np.take_along_axis(V, found.case_V[..., None], 2)[..., 0] == pytest.approx(
        found.V_abs, rel=1e-9, abs=1e-6
    )
    assert found.T_abs == pytest.approx(np.abs(all_cases.T).max(axis=1))
    assert found.w_max == pytest.approx(all_cases.w[:, 0].max(axis=1), abs=1e-12)
    assert found.w_min == pytest.approx(all_cases.w[:, 0].min(axis=1), abs=1e-12)
    assert found.R_max == pytest.approx(all_cases.reactions[:, 0].max(axis=1), abs=1e-6)
    assert found.R_min == pytest.approx(all_cases.reactions[:, 0].min(axis=1), abs=1e-6)


def test_sparse_amounts_are_the_same_loads() -> None:
    from scipy.sparse import csr_matrix

    g = random_grid(1)
    loads = random_loads(1, g)
    found = solve(g, replace(loads, amount=csr_matrix(np.asarray(loads.amount))))
    assert pytest.approx(solve(g, loads).M) == found.M


def test_end_forces_of_points_carry_their_force_and_moment() -> None:
    g = random_grid(2)
    g = replace(g, pinned=None)
    held = Factored.of(g)
    on = point_loads(g, held.elements, points((3, 0.3, 10.0), (7, 0.8, -4.0)))
    first, last = g.nodes[g.beams[:, 0]], g.nodes[g.beams[:, 1]]
    at = np.stack([first[3] + 0.3 * (last - first)[3], first[7] + 0.8 * (last - first)[7]])
    assert on[:, 0].sum() == pytest.approx(6.0)
    assert on[:, 1].sum() + g.nodes[:, 1] @ on[:, 0, 0] == pytest.approx(at[:, 1] @ [10.0, -4.0])
    assert on[:, 2].sum() - g.nodes[:, 0] @ on[:, 0, 0] == pytest.approx(-at[:, 0] @ [10.0, -4.0])


def test_a_dragged_member_is_solved_with_the_pattern_kept() -> None:
    g = random_grid(4)
    held = Factored.of(g)
    moved = replace(g, nodes=g.nodes + np.where(g.nodes[:, :1] > 800, 15.0, 0.0), EI=g.EI * 1.1)
    again = held.again(moved)
    assert again.pattern is held.pattern
    loads = random_loads(4, g)
    assert pytest.approx(solve(moved, loads).M) == solve(again, loads).M
    held_more = replace(g, springs=np.where(np.arange(16)[:, None] == 6, np.inf, g.springs))
    assert held.again(held_more).pattern is not held.pattern
    assert solve(held.again(held_more), loads).w[6] == pytest.approx(0.0)


def test_watch_is_told_and_may_stop() -> None:
    g = random_grid(5)
    told: list[float] = []
    envelope(g, random_loads(5, g, p=5), chunk=2, watch=lambda done, _: told.append(done))
    assert told == [0.4, 0.8, 1.0]

    class StoppedError(Exception):
        pass

    def stop(done: float, _: str) -> None:
        told.append(done)
        raise StoppedError

    told.clear()
    with pytest.raises(StoppedError):
        envelope(g, random_loads(5, g, p=5), chunk=2, watch=stop)
    assert told == [0.4]


@pytest.mark.parametrize(
    ("ends", "root"),
    [((TWISTLESS, PIN), np.pi), ((CLAMP, CLAMP), 4.730041), ((CLAMP, (0.0, 0.0, 0.0)), 1.875104)],
)
def test_frequency_of_a_beam_in_closed_form(
    ends: tuple[tuple[float, ...], tuple[float, ...]], root: float
) -> None:
    g = line([1200.0], ends, EI=2e9, mass=3e-3)
    exact = root**2 * np.sqrt(2e9 * 1e3 / 3e-3 / 1200.0**4) / (2 * np.pi)
    found = natural_frequencies(g, 1)[0]
    assert exact <= found <= 1.0015 * exact
    assert natural_frequencies(g, 1, parts=12)[0] == pytest.approx(exact, rel=3e-5)


def test_frequency_of_a_mass_on_a_spring_and_at_mid_span() -> None:
    g = replace(line([500.0, 500.0], [TWISTLESS, (0.0, 0.0, 0.0), PIN], EI=1e9), lumped=np.array([0, 2.5, 0]))
    k = 48 * 1e9 / 1000.0**3
    found = natural_frequencies(g, 5)
    assert len(found) == 1  # one place with mass
    assert found[0] == pytest.approx(np.sqrt(k * 1e3 / 2.5) / (2 * np.pi))


def test_frequencies_of_a_square_grid_without_torsion_by_dense_and_sparse() -> None:
    x = np.linspace(0, 4000.0, 5).tolist()
    g = replace(lattice(x, x, EI=1e10, GJ=1e2), mass=np.full(40, 5e-3))
    dense = natural_frequencies(g, 4)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("stringerlab.grillage.factors._DENSE_BESIDE", 0)
        patch.setattr("stringerlab.grillage.factors.DENSE", 0)
        assert natural_frequencies(g, 4) == pytest.approx(dense, rel=1e-7)
    # Every beam moves in its own first sine, sin(πx/a) sin(πy/a), and none pushes another.
    one = np.pi**2 * np.sqrt(1e10 * 1e3 / 5e-3 / 4000.0**4) / (2 * np.pi)
    assert dense[0] == pytest.approx(one, rel=1e-3)


def test_frequency_of_crossed_beams_without_any_torsion() -> None:
    # Each crosses the other at its middle and moves as it does: as one beam alone.
    g = grid(
        [(0, 0), (1000, 0), (500, 0), (500, -500), (500, 500)],
        [(0, 2), (2, 1), (3, 2), (2, 4)],
        {0: TWISTLESS, 1: TWISTLESS, 3: (np.inf, 0.0, np.inf), 4: (np.inf, 0.0, np.inf)},
        EI=1e9,
        GJ=0.0,
        mass=2e-3,
    )
    exact = np.pi**2 * np.sqrt(1e9 * 1e3 / 2e-3 / 1000.0**4) / (2 * np.pi)
    assert natural_frequencies(g, 1)[0] == pytest.approx(exact, rel=3e-4)


def test_a_small_grid_loads_no_scipy() -> None:
    program = (
        "import sys, numpy as np; from stringerlab.grillage import Grid, Loads, solve, natural_frequencies\n"
        "g = Grid(nodes=np.array([[0.0, 0.0], [1.0, 0.0]]), beams=np.array([[0, 1]]), EI=np.ones(1),"
        " GA=np.ones(1), GJ=np.ones(1), springs=np.full((2, 3), [np.inf, np.inf, 0.0]), mass=np.ones(1))\n"
        "solve(g, Loads(beam=np.array([0]), along=np.array([0.5]), amount=np.ones((1, 1))))\n"
        "natural_frequencies(g, 1)\n"
        "assert not [name for name in sys.modules if name.split('.')[0] == 'scipy']"
    )
    subprocess.run([sys.executable, "-c", program], check=True, timeout=60)
