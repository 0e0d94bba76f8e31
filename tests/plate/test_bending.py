"""Bending of plates against series, tables, beams and what must hold of any plate."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate.theory import q_bar
from stringerlab.plate import bending
from stringerlab.plate.bending import bent, natural_frequency
from stringerlab.plate.records import CLAMPED, Plates, reduced

Make = Callable[..., Plates]
Series = Callable[..., dict[str, float]]

ORTHOTROPIC = np.array([[1.0, 0.15, 0.0], [0.15, 0.5, 0.0], [0.0, 0.0, 0.2]])
SKEW = np.array([[1.0, 0.15, 0.1], [0.15, 0.5, 0.05], [0.1, 0.05, 0.2]])
TABLE_8 = {1.0: (0.00406, 0.0479), 1.2: (0.00564, 0.0627), 1.5: (0.00772, 0.0812), 2.0: (0.01013, 0.1017),
           3.0: (0.01223, 0.1189)}  # fmt: skip
TABLE_35 = {1.0: (0.00126, -0.0513), 1.2: (0.00172, -0.0639), 1.4: (0.00207, -0.0726),
            1.7: (0.00238, -0.0799), 2.0: (0.00254, -0.0829)}  # fmt: skip


def one(n: int = 1) -> np.ndarray:
    return np.ones(n)


@pytest.mark.parametrize("r", TABLE_8)
def test_simply_supported_plate_matches_timoshenko_table_8(plate: Make, r: float) -> None:
    found = bent(plate(r), one())
    assert (found.w[0], found.middle[0, 0]) == pytest.approx(TABLE_8[r], rel=0.01)


@pytest.mark.parametrize("r", TABLE_35)
def test_clamped_plate_matches_timoshenko_table_35(plate: Make, r: float) -> None:
    found = bent(plate(r, spring=CLAMPED), one())
    assert (found.w[0], found.long_edge[0, 0]) == pytest.approx(TABLE_35[r], rel=0.01)


@pytest.mark.parametrize("r", [1.0, 1.3, 2.0, 3.0, 5.0])
@pytest.mark.parametrize("D", [ORTHOTROPIC, ORTHOTROPIC[[1, 0, 2]][:, [1, 0, 2]], np.diag([1.0, 0.2, 0.4])])
def test_simply_supported_orthotropic_plate_matches_naviers_series(
    plate: Make, navier: Series, r: float, D: np.ndarray
) -> None:
    found, exact = bent(plate(r, D), one()), navier(r, D)
    assert found.w[0] == pytest.approx(exact["w"], rel=1e-4)
    assert found.middle[0, :2] == pytest.approx([exact["M_x"], exact["M_y"]], rel=2e-3, abs=2e-5)


@pytest.mark.parametrize("S", [1.0, 10.0, 100.0, 1000.0])
@pytest.mark.parametrize("r", [1.0, 2.0])
def test_sandwich_deflects_by_bending_and_shear_as_naviers_series(
    plate: Make, navier: Series, r: float, S: float
) -> None:
    assert bent(plate(r, S=S), one()).w[0] == pytest.approx(navier(r, S=S)["w"], rel=1e-4)


def test_stiff_core_bends_as_a_thin_plate_and_soft_core_as_a_membrane_of_shear(plate: Make) -> None:
    thin, stiff = bent(plate(1.5, spring=CLAMPED), one()), bent(plate(1.5, spring=CLAMPED, S=1e6), one())
    assert stiff.w[0] == pytest.approx(thin.w[0], rel=1e-3)
    # S ∇²w = −q on a square: 0.0736713 q b²/S in the middle (torsion of a square bar, Prandtl's membrane)
    soft = bent(plate(1.0, spring=CLAMPED, S=1e-3), one())
    assert soft.w[0] * 1e-3 == pytest.approx(0.0736713, rel=1e-3)


@pytest.mark.parametrize("kappa", [0.5, 2.0, 10.0, 100.0])
def test_long_plate_on_springs_is_a_beam_on_springs(plate: Make, kappa: float) -> None:
    found = bent(plate(8.0, spring=kappa), one())
    held = -1 / 12 / (1 + 2 / kappa)
    assert found.long_edge[0, 0] == pytest.approx(held, rel=2e-3)
    assert found.middle[0, 0] == pytest.approx(1 / 8 + held, rel=2e-3)
    assert found.w[0] == pytest.approx(5 / 384 + held / 8, rel=2e-3)


def test_springs_go_from_simple_to_clamped(plate: Make) -> None:
    deflections = [bent(plate(1.4, spring=k), one()).w[0] for k in (0.0, 1.0, 5.0, 30.0, 300.0, CLAMPED)]
    assert np.all(np.diff(deflections) < 0)
    assert bent(plate(1.4, spring=1e6), one()).w[0] == pytest.approx(deflections[-1], rel=1e-4)


@pytest.mark.parametrize("rise", [0.01, 0.05, 0.1])
@pytest.mark.parametrize("r", [1.0, 2.0])
def test_shallow_cylinder_matches_donnells_series(plate: Make, navier: Series, r: float, rise: float) -> None:
    membrane = np.linalg.inv(ORTHOTROPIC * 12 / 0.02**2)
    found = bent(plate(r, ORTHOTROPIC, rise=rise, membrane=membrane), one())
    assert found.w[0] == pytest.approx(navier(r, ORTHOTROPIC, rise=rise, membrane=membrane)["w"], rel=2e-3)
    assert found.thrust[0, 0] < 0


@pytest.mark.parametrize("spring", [0.0, CLAMPED])
@pytest.mark.parametrize("D", [ORTHOTROPIC, SKEW])
def test_edges_get_the_pressure(plate: Make, D: np.ndarray, spring: float) -> None:
    found = bent(plate([1.0, 1.5, 3.0], D, spring=spring), one(3))
    assert np.all(found.residual < 2e-3)


@pytest.mark.parametrize("spring", [0.0, 3.0, CLAMPED])
def test_turning_the_plate_about_turns_its_answer(plate: Make, spring: float) -> None:
    D = ORTHOTROPIC
    turned = D[[1, 0, 2]][:, [1, 0, 2]]
    this, other = (
        bent(plate(1.7, D, spring=spring), one()),
        bent(plate(1 / 1.7, turned, spring=spring, b=1.7), one()),
    )
    assert other.w[0] == pytest.approx(this.w[0], rel=1e-6)
    assert other.long_edge[0, [1, 0, 2]] == pytest.approx(this.short_edge[0], abs=1e-6)
    assert other.middle[0, [1, 0]] == pytest.approx(this.middle[0, :2], rel=1e-6)


def test_answer_scales_with_units(plate: Make) -> None:
    this = bent(plate(1.5, spring=CLAMPED), one())
    other = bent(plate(1.5, 1e6 * np.asarray(plate(1.0).D[0]), spring=CLAMPED, S=1e13, b=400.0), 0.03 * one())
    assert other.w[0] == pytest.approx(this.w[0] * 0.03 * 400**4 / 1e6, rel=1e-4)
    assert other.long_edge[0, 0] == pytest.approx(this.long_edge[0, 0] * 0.03 * 400**2, rel=1e-4)


def test_isotropic_laminate_laid_at_any_angle_bends_alike(plate: Make) -> None:
    turned = [q_bar(np.asarray(plate(1.0).D[0]), angle) for angle in np.radians([0, 17, 45, 73])]
    deflections = [bent(plate(1.3, D, spring=CLAMPED), one()).w[0] for D in turned]
    assert deflections == pytest.approx([deflections[0]] * 4, rel=1e-6)


@pytest.mark.parametrize(("spring", "exact"), [(0.0, 0.00406235266), (CLAMPED, 0.00126531908)])
def test_each_further_function_takes_most_of_the_error_away(
    plate: Make, monkeypatch: pytest.MonkeyPatch, spring: float, exact: float
) -> None:
    errors: list[float] = []
    monkeypatch.setattr(bending, "_EQUILIBRIUM", np.inf)
    for count in (2, 3, 4):
        monkeypatch.setattr(bending, "_SIZES", ((np.inf, count),))
        monkeypatch.setattr(bending, "_FEWEST", count)
        errors.append(abs(float(bent(plate(1.0, spring=spring), one()).w[0]) / exact - 1))
    assert errors[1] < errors[0] / 50
    assert errors[2] < errors[1] / 10


def test_one_call_gives_each_plate_its_own_answer(plate: Make) -> None:
    ratios = np.linspace(0.6, 4.0, 9)
    together = bent(plate(ratios, ORTHOTROPIC, spring=CLAMPED), one(9))
    for row, r in enumerate(ratios):
        alone = bent(plate(r, ORTHOTROPIC, spring=CLAMPED), one())
        assert together.w[row] == pytest.approx(alone.w[0], rel=1e-12)
        assert together.long_edge[row] == pytest.approx(alone.long_edge[0], rel=1e-9, abs=1e-12)


def test_simply_supported_frequency_is_the_sine_waves(plate: Make) -> None:
    D, r, mass = ORTHOTROPIC, 1.6, 8_000.0
    waves = D[0, 0] + 2 * (D[0, 1] + 2 * D[2, 2]) / r**2 + D[1, 1] / r**4
    exact = np.pi / 2 * np.sqrt(waves / (mass * 1e-12))
    assert natural_frequency(plate(r, D), mass * one())[0] == pytest.approx(exact, rel=1e-5)


def test_core_shear_lowers_the_frequency(plate: Make) -> None:
    thin, soft = (natural_frequency(plate(1.2, S=S, spring=CLAMPED), one())[0] for S in (1e6, 20.0))
    assert soft < 0.9 * thin


def test_reduced_stiffness_is_that_of_moments_alone_about_any_plane() -> None:
    A = np.array([[9.0, 2.0, 0.3], [2.0, 6.0, 0.2], [0.3, 0.2, 3.0]])
    B = np.array([[1.0, 0.2, 0.1], [0.2, -0.8, 0.1], [0.1, 0.1, 0.2]])
    D = np.array([[4.0, 0.9, 0.1], [0.9, 3.0, 0.1], [0.1, 0.1, 1.2]])
    for e in (0.0, 0.7, -2.0):
        moved = np.block([[A, B + e * A], [B + e * A, D + 2 * e * B + e**2 * A]])
        assert reduced(moved) == pytest.approx(np.linalg.inv(np.linalg.inv(moved)[3:, 3:]), rel=1e-9)
        assert reduced(moved) == pytest.approx(reduced(np.block([[A, B], [B, D]])), rel=1e-9)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"D": np.diag([1.0, 0.0, 0.3])}, "bending stiffness"),
        ({"D": np.diag([1.0, -1.0, 0.3])}, "bending stiffness"),
        ({"D": np.full((3, 3), np.nan)}, "bending stiffness"),
        ({"S": 0.0}, "shear stiffness"),
        ({"spring": -1.0}, "spring"),
        ({"rise": 0.3}, "shallow"),
        ({"b": 0.0}, "sides"),
    ],
)
def test_impossible_plates_are_refused(plate: Make, change: dict[str, Any], words: str) -> None:
    with pytest.raises(StringerlabError, match=words):
        bent(plate(1.5, **change), one())


def test_a_solution_whose_edges_do_not_get_the_pressure_is_no_solution(
    plate: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bending, "_SIZES", ((np.inf, 1),))
    monkeypatch.setattr(bending, "_FEWEST", 1)
    with pytest.raises(StringerlabError, match="did not converge"):
        bent(plate(1.5), one())
