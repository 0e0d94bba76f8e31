"""How fast the plates' polynomials close in on exact answers: by a factor a function, as smooth ones let."""

from collections.abc import Callable
from math import cosh, pi, sqrt
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from stringerlab.plate import bending, strip
from stringerlab.plate.bending import bent, natural_frequency
from stringerlab.plate.records import CLAMPED, Plates
from stringerlab.plate.strip import EdgeLoads, Strip, buckling_factor

Make = Callable[..., Plates]


@pytest.fixture
def functions(monkeypatch: pytest.MonkeyPatch) -> Callable[[int], None]:
    """Set how many functions a side has, whether or not that suffices."""

    def use(count: int) -> None:
        monkeypatch.setattr(bending, "_SIZES", ((np.inf, count),))
        monkeypatch.setattr(bending, "_FEWEST", count)
        monkeypatch.setattr(bending, "_EQUILIBRIUM", np.inf)

    return use


@pytest.mark.parametrize(
    "D", [np.diag([1.0, 1.0, 0.5]), np.array([[1.0, 0.2, 0], [0.2, 0.3, 0], [0, 0, 0.25]])]
)
def test_frequency_falls_to_the_sine_waves_by_a_factor_of_100_a_function(
    plate: Make, functions: Callable[[int], None], D: np.ndarray
) -> None:
    """A frequency's error is the square of its shape's, and by Rayleigh it is too high."""
    exact = pi / 2 * sqrt(D[0, 0] + 2 * (D[0, 1] + 2 * D[2, 2]) + D[1, 1])
    errors: list[float] = []
    for count in (1, 2, 3):
        functions(count)
        errors.append(float(natural_frequency(plate(1.0, D), np.full(1, 1e12))[0]) / exact - 1)
    assert min(errors[:2]) > 0
    assert errors[0] / errors[1] > 100
    assert abs(errors[2]) < 2e-6  # what a plate's shear stiffness, not quite endless, takes away


def test_deflection_of_a_skew_laminate_closes_in_as_fast_as_it_should(
    plate: Make, functions: Callable[[int], None]
) -> None:
    """Corners of bending and twisting coupled are no longer smooth: slower, and the same way from below."""
    D = np.array([[1.0, 0.15, 0.1], [0.15, 0.5, 0.05], [0.1, 0.05, 0.2]])
    found: list[float] = []
    for count in (2, 3, 4, 5, 9):
        functions(count)
        found.append(float(bent(plate(1.0, D, spring=CLAMPED), np.ones(1)).w[0]))
    errors = [abs(one / found[-1] - 1) for one in found[:-1]]
    assert np.all(np.diff(errors) < 0)
    assert errors[-1] < 1e-3


def clamped_long_plate() -> float:
    """k of the long clamped plate in compression: α tanh(α/2) + β tan(β/2) = 0, least over waves."""

    def k_of(wave: float) -> float:
        m = pi / wave

        def gap(k: float) -> float:
            alpha, beta = sqrt(m * (pi * sqrt(k) + m)), sqrt(m * (pi * sqrt(k) - m))
            return alpha * np.sinh(alpha / 2) * np.cos(beta / 2) + beta * cosh(alpha / 2) * np.sin(beta / 2)

        grid = np.linspace((m / pi) ** 2 + 1e-6, 30.0, 3000)
        values = np.array([gap(k) for k in grid])
        first = int(np.flatnonzero(np.diff(np.sign(values)))[0])
        root: Any = brentq(gap, grid[first], grid[first + 1], xtol=1e-13)
        return float(root)

    found: Any = minimize_scalar(k_of, bounds=(0.5, 0.9), method="bounded", options={"xatol": 1e-9})
    return float(found.fun)


def test_buckling_of_a_clamped_strip_falls_to_its_characteristic_equation(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    exact = clamped_long_plate()
    assert exact == pytest.approx(6.97, abs=0.005)
    errors: list[float] = []
    for terms in (3, 5, 7):
        monkeypatch.setattr(strip, "_TERMS", terms)
        plate = Strip(D_11=1.0, D_22=1.0, D_12=0.3, D_66=0.35, b=1.0, spring_1=np.inf, spring_2=np.inf)
        errors.append(buckling_factor(plate, EdgeLoads(compression=1.0)) / pi**2 / exact - 1)
    assert min(errors) > -1e-6
    assert errors[0] > 10 * errors[1] > 100 * errors[2]
