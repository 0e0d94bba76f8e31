"""Modes of failure worked by hand: each criterion in the form in which Hashin states it."""

from math import inf, isnan, nan, sqrt

import numpy as np
import pytest

from stringerlab.laminate.modes import MODES, Mode, mode_factors

STRENGTHS = np.array([800.0, 500.0, 40.0, 120.0, 60.0])
INTERLAMINAR = np.array(45.0)


def factors(s1: float, s2: float, s12: float, between: float = 0.0) -> dict[Mode, float]:
    found = mode_factors(np.array([s1, s2, s12]), np.array(between), STRENGTHS, INTERLAMINAR)
    return dict(zip(MODES, found.tolist(), strict=True))


def test_fibres_in_tension_are_weakened_by_shear() -> None:
    found = factors(400, 0, 30)
    assert found[Mode.FIBRE_TENSION] == pytest.approx(1 / sqrt((400 / 800) ** 2 + (30 / 60) ** 2))
    assert found[Mode.FIBRE_COMPRESSION] == inf


def test_fibres_in_compression_are_not() -> None:
    found = factors(-250, 0, 30)
    assert found[Mode.FIBRE_COMPRESSION] == pytest.approx(2.0)
    assert found[Mode.FIBRE_TENSION] == inf


@pytest.mark.parametrize(
    ("s2", "mode", "strength"), [(10.0, Mode.MATRIX_TENSION, 40.0), (-60.0, Mode.MATRIX_COMPRESSION, 120.0)]
)
def test_matrix_fails_by_stress_across_and_shear_together(s2: float, mode: Mode, strength: float) -> None:
    assert factors(0, s2, 20)[mode] == pytest.approx(1 / sqrt((s2 / strength) ** 2 + (20 / 60) ** 2))


def test_shear_alone_and_between_plies_is_strength_over_stress() -> None:
    found = factors(0, 0, -20, between=-15)
    assert found[Mode.SHEAR] == pytest.approx(3.0)
    assert found[Mode.INTERLAMINAR] == pytest.approx(3.0)
    assert {found[mode] for mode in MODES[:4]} == {inf}


def test_at_the_factor_the_mode_is_just_reached() -> None:
    first = min(factors(100, 12, 25, 8).values())
    assert min(factors(100 * first, 12 * first, 25 * first, 8 * first).values()) == pytest.approx(1.0)


def test_only_a_loaded_mode_asks_for_its_strength() -> None:
    lacking = np.array([800.0, nan, 40.0, 120.0, 60.0])
    pulled, pushed = (
        mode_factors(np.array([s1, 0.0, 0.0]), np.array(0.0), lacking, np.array(nan))
        for s1 in (100.0, -100.0)
    )
    assert pulled[0] == pytest.approx(8.0)
    assert not isnan(pulled[1])
    assert isnan(pushed[1])
    assert pulled[5] == inf
