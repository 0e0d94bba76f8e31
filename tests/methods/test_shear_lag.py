"""How wide plating works, against plates in plane stress; averages of the rarest impacts, by quadrature."""

from math import cosh, pi, sinh, sqrt

import numpy as np
import pytest

from stringerlab.methods import savitsky_brown
from stringerlab.methods.first_principles import plating


def works(b: float, L: float, E_x: float, E_y: float, G: float, nu: float) -> float:
    """Part of a plate 2b wide between members that works where their moment is a half sine over L.

    Its force over that under the members' own strain. Airy's function f(y) sin(πx/L), even about the middle
    between members; at y = b nothing moves across, as the plate beside pulls as hard: two roots, each a cosh.
    """
    a = pi / L
    S_11, S_22, S_12, S_66 = 1 / E_x, 1 / E_y, -nu / E_x, 1 / G
    # S11 f'''' − (2 S12 + S66) a² f'' + S22 a⁴ f = 0
    middle, last = -(2 * S_12 + S_66) / S_11, S_22 / S_11
    root = sqrt(middle**2 / 4 - last)
    roots = [sqrt(-middle / 2 + sign * root) * a for sign in (1, -1)]
    moved = [S_12 * r * sinh(r * b) - S_22 * a**2 * sinh(r * b) / r for r in roots]
    one, other = 1.0, -moved[0] / moved[1]
    force = one * roots[0] * sinh(roots[0] * b) + other * roots[1] * sinh(roots[1] * b)
    strain = sum(
        part * (S_11 * r**2 - S_12 * a**2) * cosh(r * b) for part, r in zip((one, other), roots, strict=True)
    )
    return force / (E_x * strain) / b


STEEL = {"E_x": 1.0, "E_y": 1.0001, "G": 1 / 2.6 * 0.9999, "nu": 0.3}


def test_the_series_has_karmans_limit_of_an_endless_plate() -> None:
    """Timoshenko & Goodier: 2λ = 4 L/(π (1 + ν)(3 − ν)) of half-wave L, 0.363 L at ν 0.3."""
    assert 2 * works(50.0, 10.0, **STEEL) * 50.0 == pytest.approx(0.363 * 10, rel=2e-3)


@pytest.mark.parametrize("kappa", [0.05, 0.1, 0.2, 0.3, 0.5, 0.7])
def test_steel_plating_within_a_span_works_as_plane_stress_has_it(kappa: float) -> None:
    exact = works(kappa, 1.0, **STEEL)
    assert float(plating.part_at_middle.clause(kappa=kappa)) == pytest.approx(exact, rel=0.12)


@pytest.mark.parametrize(
    ("E_x", "E_y", "G"), [(20e3, 20e3, 3.5e3), (25e3, 9e3, 3.5e3), (14e3, 14e3, 5.2e3), (9e3, 25e3, 3.5e3)]
)
@pytest.mark.parametrize("kappa", [0.05, 0.1, 0.2, 0.3])
def test_laminates_work_less_by_the_root_of_E_over_G(E_x: float, E_y: float, G: float, kappa: float) -> None:
    exact = works(kappa, 1.0, E_x, E_y, G, 0.15)
    counted = plating.slenderness.clause(b_0=kappa * 1000, L_0=1000.0, E_G=E_x / G)
    assert float(plating.part_at_middle.clause(kappa=counted)) == pytest.approx(exact, rel=0.15)


@pytest.mark.parametrize("kappa", [0.03, 0.1, 0.3, 0.6, 1.0])
def test_at_a_support_less_works_than_within(kappa: float) -> None:
    """A moment with a peak drops off sooner than a half sine: its short waves work with less of the plate."""
    support = float(plating.part_at_support.clause(kappa=kappa))
    assert 0 < support < works(kappa, 1.0, **STEEL)


@pytest.mark.parametrize("N", [1, 3, 10, 100])
def test_average_of_the_highest_is_the_mean_of_an_exponential_distributions_tail(N: float) -> None:
    """Mean of −ln u over 0 < u < 1/N, by Gauss and Legendre in u = t⁴/N."""
    t, w = np.polynomial.legendre.leggauss(60)
    t, w = (t + 1) / 2, w / 2
    tail = float(N * np.sum(w * 4 * t**3 / N * -np.log(t**4 / N)))
    assert savitsky_brown.highest_average.clause(1.0, N) == pytest.approx(tail, rel=1e-6)
