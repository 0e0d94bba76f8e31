"""Laws against their own moments and ends."""

import numpy as np
import pytest

from stringerlab.project.wishes import Law, Scatter, Scattered
from stringerlab.sizing.scatter.laws import LEAST_PART, factors, reach

_EVEN = (np.arange(200_000) + 0.5) / 200_000


def _of(law: Law, mean: float, spread: float) -> Scatter:
    return Scatter(id="s1", what=Scattered.STRENGTH, law=law, mean=mean, spread=spread)


@pytest.mark.parametrize(
    ("law", "part"),
    [(Law.NORMAL, 1.0), (Law.LOGNORMAL, 1.0), (Law.UNIFORM, 3**-0.5), (Law.TRIANGULAR, 6**-0.5)],
)
def test_a_law_has_the_middle_and_deviation_it_states(law: Law, part: float) -> None:
    values = factors(_of(law, 0.9, 0.1), _EVEN)
    assert values.mean() == pytest.approx(0.9, rel=1e-5)
    assert values.std() == pytest.approx(0.1 * part, rel=1e-3)
    assert (np.diff(values) >= 0).all()


def test_half_the_width_bounds_what_has_ends() -> None:
    for law in (Law.UNIFORM, Law.TRIANGULAR):
        assert reach(_of(law, 1.0, 0.2)) == pytest.approx((0.8, 1.2))


def test_nearly_all_of_a_normal_law_lies_within_its_reach() -> None:
    low, high = reach(_of(Law.NORMAL, 1.0, 0.1))
    values = factors(_of(Law.NORMAL, 1.0, 0.1), _EVEN)
    assert ((values > low) & (values < high)).mean() > 0.9999


def test_no_factor_falls_to_nothing() -> None:
    values = factors(_of(Law.NORMAL, 1.0, 1.0), _EVEN)
    assert values.min() == LEAST_PART


def test_a_lognormal_strength_halves_as_often_as_it_doubles() -> None:
    scatter = _of(Law.LOGNORMAL, 1.0, 0.3)
    middle = factors(scatter, np.array([0.5]))[0]
    low, high = factors(scatter, np.array([0.1, 0.9]))
    assert low * high == pytest.approx(middle**2, rel=1e-12)
