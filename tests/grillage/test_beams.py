"""Single and continuous beams against what the textbooks have in closed form."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.grillage import solve

from .conftest import CLAMP, PIN, TWISTLESS, grid, line, on_node, points, spread

FREE = (0.0, 0.0, 0.0)
directions = st.floats(-3.1, 3.1)


def test_slamming_puts_the_inboard_side_in_tension_at_mid_span_and_in_compression_at_held_ends() -> None:
    simple = solve(line([1.0], [TWISTLESS, PIN]), points((0, 0.5, 1.0)))
    assert simple.M[0, 5, 0] == pytest.approx(1 / 4)
    assert simple.w[0, 1, 0] == 0
    assert simple.w[0, 2, 0] == pytest.approx(-1 / 16)
    held = solve(line([1.0], [CLAMP, CLAMP]), points((0, 0.5, 1.0)))
    assert held.M[0, [0, 5, 10], 0] == pytest.approx([-1 / 8, 1 / 8, -1 / 8])


@given(st.floats(0.05, 0.95), st.floats(0.2, 5), directions)
def test_held_beam_under_a_force_anywhere(a: float, L: float, turned: float) -> None:
    g = line([L], [CLAMP, CLAMP], turned=turned)
    found = solve(g, points((0, a, 1.0)), places=3)
    b = 1 - a
    assert found.M[0, 0, 0] == pytest.approx(-L * a * b**2)
    assert found.M[0, 2, 0] == pytest.approx(-L * a**2 * b)
    assert found.V[0, 0, 0] == pytest.approx(b**2 * (1 + 2 * a))
    assert found.V[0, 2, 0] == pytest.approx(-(a**2) * (1 + 2 * b))
    assert found.reactions[:, 0, 0] == pytest.approx([-(b**2) * (1 + 2 * a), -(a**2) * (1 + 2 * b)])


def test_held_beam_under_a_uniform_load() -> None:
    found = solve(line([2.0], [CLAMP, CLAMP]), spread(line([2.0], [CLAMP, CLAMP]), 3.0), places=3)
    w, L = 3.0, 2.0
    assert found.M[0, :, 0] == pytest.approx(
        np.array([-w * L**2 / 12, w * L**2 / 24, -w * L**2 / 12]), rel=2e-3
    )
    assert found.M[0, [0, 2], 0] == pytest.approx(-w * L**2 / 12)


def test_propped_beam_by_its_support_and_by_a_pinned_end() -> None:
    for g in (
        line([1.0], [CLAMP, TWISTLESS]),
        line([1.0], [CLAMP, CLAMP], pinned=[(False, True)]),
    ):
        found = solve(g, points((0, 0.5, 1.0)))
        assert found.M[0, [0, 5, 10], 0] == pytest.approx([-3 / 16, 5 / 32, 0.0], abs=1e-12)
        assert found.reactions[:, 0, 0] == pytest.approx([-11 / 16, -5 / 16])
    both = solve(line([1.0], [CLAMP, CLAMP], pinned=[(True, True)]), points((0, 0.25, 1.0)))
    assert both.M[0, [0, 10], 0] == pytest.approx([0.0, 0.0], abs=1e-15)
    assert both.reactions[:, 0, 0] == pytest.approx([-0.75, -0.25])


@given(st.floats(0.01, 10), directions)
def test_shear_adds_w_l2_over_8_GA_to_a_simple_beam(GA: float, turned: float) -> None:
    L, q = 1.7, 2.0
    # A trace of stiffness at one end keeps the beam from turning about itself.
    g = line([L / 2, L / 2], [(np.inf, 1e-9, 1e-9), FREE, PIN], GA=GA, turned=turned)
    found = solve(g, spread(g, q))
    assert found.w[1, 0, 0] == pytest.approx(5 * q * L**4 / 384 + q * L**2 / (8 * GA), rel=1e-6)


def test_cantilever_with_shear() -> None:
    L, GA, EI = 1.5, 0.7, 2.0
    g = line([L], [CLAMP, FREE], EI=EI, GA=GA)
    found = solve(g, on_node(g, 1, 0, 1.0))
    assert found.w[1, 0, 0] == pytest.approx(L**3 / (3 * EI) + L / GA)
    assert found.w[1, 2, 0] == pytest.approx(-(L**2) / (2 * EI))
    assert found.M[0, 0, 0] == pytest.approx(-L)
    assert found.V[0, :, 0] == pytest.approx(1.0)


def test_held_ends_with_shear_carry_what_timoshenko_gives() -> None:
    # Force at a of a held beam of length 1: end moment P a b (b + Φ/2)/(1 + Φ).
    a, GA = 0.3, 5.0
    b, phi = 1 - a, 12 / GA
    found = solve(line([1.0], [CLAMP, CLAMP], GA=GA), points((0, a, 1.0)))
    assert found.M[0, 0, 0] == pytest.approx(-a * b * (b + phi / 2) / (1 + phi))
    # The same with the point made a node.
    split = solve(
        line([a, b], [CLAMP, FREE, CLAMP], GA=GA), on_node(line([a, b], [CLAMP, FREE, CLAMP]), 1, 0, 1.0)
    )
    assert split.M[0, 0, 0] == pytest.approx(found.M[0, 0, 0])
    assert split.M[1, -1, 0] == pytest.approx(found.M[0, -1, 0])


@given(st.lists(st.floats(0.3, 3), min_size=2, max_size=6), st.floats(-2, 2), st.integers(0, 3))
def test_continuous_beam_meets_the_three_moment_equation(spans: list[float], q: float, at: int) -> None:
    g = line(spans, [TWISTLESS, *[PIN] * len(spans)])
    loads = [1.0 + (i == at) * q for i in range(len(spans))]
    found = solve(g, spread(g, loads))
    M = np.append(found.M[:, 0, 0], found.M[-1, -1, 0])
    assert M[[0, -1]] == pytest.approx([0, 0], abs=1e-9)
    # Clapeyron; over a support the load puts its own side, the outer one, in tension: M is negative there.
    for i, (one, two) in enumerate(pairwise(range(len(spans)))):
        L, R = spans[one], spans[two]
        left = M[i] * L + 2 * M[i + 1] * (L + R) + M[i + 2] * R
        assert left == pytest.approx(-(loads[one] * L**3 + loads[two] * R**3) / 4, rel=1e-6, abs=1e-9)


def test_two_equal_spans_carry_5_quarters_in_the_middle() -> None:
    g = line([1.0, 1.0], [TWISTLESS, PIN, PIN])
    found = solve(g, spread(g, 1.0))
    assert found.reactions[:, 0, 0] == pytest.approx([-3 / 8, -5 / 4, -3 / 8])
    assert found.M[0, -1, 0] == pytest.approx(-1 / 8)


@given(directions)
def test_torsion_of_a_rod_turns_y_to_z_about_its_own_direction(turned: float) -> None:
    L, GJ, T = 2.0, 0.8, 0.3
    along = np.array([np.cos(turned), np.sin(turned)])
    g = grid([(0, 0), tuple(L * along)], [(0, 1)], {0: CLAMP}, GJ=GJ)
    nodal = np.zeros((2, 3, 1))
    nodal[1, 1:, 0] = T * along
    found = solve(g, points(nodal=nodal))
    assert found.T[0, 0] == pytest.approx(T)
    assert found.w[1, 1:, 0] @ along == pytest.approx(T * L / GJ)
    assert found.w[1, 0, 0] == pytest.approx(0, abs=1e-12)
    assert found.reactions[0, 1:, 0] == pytest.approx(-T * along)


def test_a_sliding_force_gives_the_influence_line_of_shear_and_moment() -> None:
    g = line([1.0], [TWISTLESS, PIN])
    a = np.linspace(0, 1, 41)
    loads = points(*[(0, float(each), 1.0) for each in a])
    loads = type(loads)(beam=loads.beam, along=loads.along, amount=np.eye(len(a)))
    found = solve(g, loads, places=5)
    s = 0.25
    assert found.M[0, 1] == pytest.approx(np.where(a < s, a * (1 - s), s * (1 - a)))
    ahead = a != s
    assert found.V[0, 1, ahead] == pytest.approx(np.where(a < s, -a, 1 - a)[ahead])


def test_a_beam_on_springs_shares_by_stiffness() -> None:
    g = grid([(0, 0), (1, 0)], [(0, 1)], {0: (2.0, np.inf, 0.0), 1: (6.0, 0.0, 0.0)})
    found = solve(g, points((0, 0.5, 1.0)))
    assert found.reactions[:, 0, 0] == pytest.approx([-0.5, -0.5])
    assert found.w[:, 0, 0] == pytest.approx([1 / 4, 1 / 12])


@pytest.mark.parametrize("at", [0.0, 1.0])
def test_a_force_at_an_end_goes_straight_to_its_support(at: float) -> None:
    found = solve(line([1.0], [TWISTLESS, PIN]), points((0, at, 1.0)), places=3)
    assert found.V[0, :, 0] == pytest.approx(0.0, abs=1e-12)
    assert found.M[0, :, 0] == pytest.approx(0.0, abs=1e-12)
    assert found.reactions[int(at), 0, 0] == pytest.approx(-1.0)
