"""Lamination theory on arrays: invariants, and stiffness against integration through the thickness."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.laminate import theory
from stringerlab.workings import Array

ply = st.tuples(
    st.floats(5e3, 2e5),  # E1
    st.floats(0.1, 1.0),  # E2/E1
    st.floats(0.05, 0.5),  # G12/E1
    st.floats(0.0, 0.4),  # nu12
    st.floats(-np.pi, np.pi),  # angle
    st.floats(0.1, 3.0),  # thickness
)
laminates = st.lists(ply, min_size=1, max_size=8).map(lambda rows: np.array(rows).T)


def parts(rows: Array) -> tuple[Array, Array, Array]:
    """Return stiffness in the plies' own axes, angle and thickness."""
    E1, share, shear, nu, angle, t = rows
    return theory.q_matrix(E1, share * E1, shear * E1, nu), angle, t


def stiffness(rows: Array, turn: float = 0.0) -> Array:
    q, angle, t = parts(rows)
    return theory.abd(theory.q_bar(q, angle + turn), t)


def close(found: Array, wanted: Array, rel: float = 1e-10) -> bool:
    return bool(np.allclose(found, wanted, rtol=rel, atol=rel * np.abs(wanted).max()))


def turned(matrix: Array, angle: float) -> Array:
    """Return an ABD seen in axes turned by −angle: each block by the strain transformation."""
    turn = theory.strain_turn(angle)
    both = np.kron(np.eye(2), turn)
    return both.T @ matrix @ both


@given(laminates)
def test_turned_stiffness_is_the_tensor_transformation(rows: Array) -> None:
    q, angle, _ = parts(rows)
    turn = theory.strain_turn(angle)
    assert close(theory.q_bar(q, angle), np.swapaxes(turn, -1, -2) @ q @ turn)


@given(laminates)
def test_stiffness_equals_integration_through_the_thickness(rows: Array) -> None:
    q, angle, t = parts(rows)
    turn = theory.strain_turn(angle)
    bar = np.swapaxes(turn, -1, -2) @ q @ turn
    nodes, weights = np.polynomial.legendre.leggauss(3)  # exact for z²
    total = np.zeros((6, 6))
    bottom = -t.sum() / 2
    for stiff, thick in zip(bar, t, strict=True):
        for node, weight in zip(nodes, weights, strict=True):
            z = bottom + thick * (1 + node) / 2
            lever = np.kron([[1.0, z]], np.eye(3))
            total += thick / 2 * weight * lever.T @ stiff @ lever
        bottom += thick
    assert close(theory.abd(theory.q_bar(q, angle), t), total)


@given(laminates, st.integers(0, 7), st.floats(0.05, 0.95))
def test_splitting_a_ply_changes_nothing(rows: Array, which: int, share: float) -> None:
    place = which % rows.shape[1]
    split = np.insert(rows, place, rows[:, place], axis=1)
    split[5, place] *= share
    split[5, place + 1] *= 1 - share
    assert close(stiffness(split), stiffness(rows))


@given(laminates, st.floats(-np.pi, np.pi))
def test_turning_the_laminate_turns_its_stiffness(rows: Array, turn: float) -> None:
    assert close(stiffness(rows, turn), turned(stiffness(rows), turn))


@given(laminates)
def test_symmetric_laminate_does_not_couple(rows: Array) -> None:
    both = np.concatenate([rows, rows[:, ::-1]], axis=1)
    matrix = stiffness(both)
    assert np.abs(matrix[:3, 3:]).max() <= 1e-12 * np.abs(matrix[:3, :3]).max() * both[5].sum()


@given(laminates)
def test_reversing_the_plies_flips_the_coupling(rows: Array) -> None:
    matrix, back = stiffness(rows), stiffness(rows[:, ::-1])
    assert close(back[:3, :3], matrix[:3, :3])
    assert close(back[3:, 3:], matrix[3:, 3:])
    size = np.abs(matrix[:3, :3]).max() * rows[5].sum()
    assert np.abs(back[:3, 3:] + matrix[:3, 3:]).max() <= 1e-12 * size


@given(laminates, st.floats(0.1, 10.0), st.floats(0.1, 10.0))
def test_stiffness_scales_with_modulus_and_thickness(rows: Array, stiffer: float, thicker: float) -> None:
    scaled = rows.copy()
    scaled[0] *= stiffer
    scaled[5] *= thicker
    powers = np.kron([[1, 2], [2, 3]], np.ones((3, 3)))
    assert close(stiffness(scaled), stiffness(rows) * stiffer * thicker**powers)


@given(laminates)
def test_stiffness_stores_energy_in_every_deformation(rows: Array) -> None:
    matrix = stiffness(rows)
    scale = 1 / np.sqrt(np.diag(matrix))  # lengths and angles apart, so that the eigenvalues compare
    assert np.linalg.eigvalsh(matrix * np.outer(scale, scale)).min() > 0


@pytest.mark.parametrize("directions", [3, 4, 5])
def test_quasi_isotropic_laminate_is_isotropic_in_its_plane(directions: int) -> None:
    angles = np.pi * np.arange(directions) / directions
    q = theory.q_matrix(*(np.full(directions, value) for value in (40e3, 8e3, 3e3, 0.3)))
    extension = theory.abd(theory.q_bar(q, angles), np.full(directions, 0.5))[:3, :3]
    assert close(extension, turned(np.asarray(np.kron(np.eye(2), extension), dtype=float), 0.4)[:3, :3])
    assert extension[2, 2] == pytest.approx((extension[0, 0] - extension[0, 1]) / 2)


@given(laminates)
def test_modulus_of_a_lone_ply_is_that_of_its_compliance(rows: Array) -> None:
    q, angle, _ = parts(rows)
    E1, share, shear, nu, _, _ = rows
    compliance = np.linalg.inv(theory.q_bar(q, angle))
    assert theory.modulus_at(E1, share * E1, shear * E1, nu, angle) == pytest.approx(1 / compliance[:, 0, 0])


@given(laminates)
def test_stress_and_strain_turn_alike(rows: Array) -> None:
    q, angle, _ = parts(rows)
    strain = np.array([1e-3, -4e-4, 7e-4])
    stress = theory.q_bar(q, angle) @ strain
    local = np.einsum("kij,j->ki", theory.strain_turn(angle), strain)
    by_ply = np.einsum("kij,kj->ki", q, local)
    by_turn = np.einsum("kij,kj->ki", theory.stress_turn(angle), stress)
    assert close(by_turn, by_ply)
    assert np.einsum("ki,ki->k", by_ply, local) == pytest.approx(stress @ strain)


@settings(max_examples=25)
@given(
    st.lists(st.lists(ply, min_size=1, max_size=6), min_size=2, max_size=6), st.sampled_from([0.0, np.nan])
)
def test_many_laminates_at_once_equal_one_at_a_time(
    several: list[list[tuple[float, ...]]], padding: float
) -> None:
    count = max(len(rows) for rows in several)
    table = np.full((len(several), count, 6), padding)
    for place, rows in enumerate(several):
        table[place, : len(rows)] = rows
    together = stiffness(np.moveaxis(table, -1, 0))
    for place, rows in enumerate(several):
        assert close(together[place], stiffness(np.array(rows).T))


def test_a_real_ply_without_a_modulus_is_not_taken_for_padding() -> None:
    q = theory.q_matrix([1e4, np.nan], [1e4, np.nan], [3e3, np.nan], [0.3, np.nan])
    assert np.isnan(theory.abd(theory.q_bar(q, [0.0, 0.0]), [1.0, 1.0])).any()
    assert not np.isnan(theory.abd(theory.q_bar(q, [0.0, 0.0]), [1.0, np.nan])).any()
