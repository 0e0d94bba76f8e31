"""Tested coupons: the stated rule against printed factors and an integral of its own, and bad sets."""

import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from math import erf, lgamma, log, sqrt

import numpy as np
import pytest

from stringerlab.materials import records
from stringerlab.materials.coupons import (
    coupon_doubts,
    coupon_problems,
    coupon_value,
    glass_is_measured,
    tolerance_factor,
    used_coupons,
)
from stringerlab.materials.records import CouponSet, PlyKind, Property, Reinforcement, Sourced
from stringerlab.workings import Known

TENSION = CouponSet(
    property=Property.TENSION_1,
    mean=90.0,
    deviation=4.0,
    count=6,
    glass=0.30,
    standard="ISO 527-4",
    source="report 3 of an invented yard",
)


def mat(*coupons: CouponSet, **changes: object) -> Reinforcement:
    plain = Reinforcement(
        id="m1", name="Mat", kind=PlyKind.MAT, fibre="glass", resin="resin", weight=450, glass=0.30
    )
    return replace(plain, coupons=coupons, **changes)


def doubts(*coupons: CouponSet) -> Sequence[str]:
    return [doubt.what for doubt in coupon_doubts(mat(*coupons), "mat")]


def problems(material: Reinforcement) -> Sequence[tuple[str, str]]:
    return [(problem.where, problem.what) for problem in coupon_problems(material, "mat")]


def noncentral_t_below(t: float, nu: int, delta: float) -> float:
    """P(T ≤ t) by Simpson's rule over the deviation's own distribution."""
    u = np.linspace(1e-9, 8.0, 40_001)  # u = s/σ
    logs = log(2) + (nu / 2) * log(nu / 2) - lgamma(nu / 2) + (nu - 1) * np.log(u) - nu * u**2 / 2
    below = np.array([0.5 * (1 + erf((t * each - delta) / sqrt(2))) for each in u])
    values = np.exp(logs) * below
    weights = np.ones(len(u))
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    return float((weights @ values) * (u[1] - u[0]) / 3)


@pytest.mark.parametrize("count", [2, 3, 5, 10, 30])
@pytest.mark.parametrize(("coverage", "deviate"), [(0.90, 1.2815515655), (0.99, 2.3263478740)])
def test_tolerance_factor_solves_the_noncentral_t_integral(
    count: int, coverage: float, deviate: float
) -> None:
    k = tolerance_factor(count, coverage)
    root = sqrt(count)
    assert noncentral_t_below(k * root, count - 1, deviate * root) == pytest.approx(0.95, abs=1e-6)


def test_two_coupons_have_a_factor_of_twenty() -> None:
    assert tolerance_factor(2) == pytest.approx(20.581, abs=0.0005)


def test_many_coupons_come_near_the_normal_deviate() -> None:
    # for large n: k ≈ z + (1.6449/√n) √(1 + z²/2), z = 1.2816
    z, n = 1.2815515655, 10_000
    assert tolerance_factor(n) == pytest.approx(z + 1.6448536 / sqrt(n) * sqrt(1 + z * z / 2), rel=3e-4)


def test_one_coupon_has_no_factor() -> None:
    with pytest.raises(ValueError, match="no deviation"):
        tolerance_factor(1)


def test_a_strength_is_its_lower_bound() -> None:
    found = coupon_value(TENSION, 0.30)
    assert found.k == pytest.approx(3.006, abs=0.0005)  # printed for 6 coupons
    assert found.value == pytest.approx(90 - 3.006 * 4, abs=0.002)
    assert not found.why_not


def test_a_modulus_is_its_mean() -> None:
    found = coupon_value(replace(TENSION, property=Property.MODULUS_1, mean=7100, deviation=300), 0.30)
    assert (found.k, found.value, found.why_not) == (None, 7100, "")


def test_a_set_of_one_is_said_and_not_used() -> None:
    one = replace(TENSION, count=1, deviation=0.0)
    assert coupon_value(one, 0.30).value is None
    assert not used_coupons(mat(one), 0.30)
    assert doubts(one) == [
        "one coupon has no deviation and gives no lower bound: it is not used, the estimate stands."
    ]
    assert not problems(mat(one))


def test_one_coupon_with_a_deviation_is_questioned() -> None:
    assert "one coupon, but a deviation." in doubts(replace(TENSION, count=1))


def test_two_coupons_are_said_to_be_of_little_worth() -> None:
    two = replace(TENSION, count=2, deviation=1.0)
    [said] = doubts(two)
    assert said == "2 coupons are of little worth: the bound lies 20.58 deviations below their mean."
    assert used_coupons(mat(two), 0.30)[Property.TENSION_1].value == pytest.approx(90 - 20.581, abs=0.001)


def test_five_coupons_of_the_laid_glass_content_and_a_named_standard_raise_no_doubt() -> None:
    assert doubts(replace(TENSION, count=5)) == []


def test_a_modulus_entered_in_gpa_as_if_it_were_mpa_is_questioned() -> None:
    [said] = doubts(replace(TENSION, property=Property.MODULUS_1, mean=6.4, deviation=0.3))
    assert "6.4 GPa meant? That is 6400 MPa" in said


def test_no_scatter_at_all_is_questioned() -> None:
    assert any("deviation of 0 over 6 coupons" in said for said in doubts(replace(TENSION, deviation=0.0)))


def test_no_standard_is_questioned() -> None:
    assert doubts(replace(TENSION, standard=" ")) == ["no test standard is named."]


def test_a_bound_below_nought_is_refused() -> None:
    # 90 − 3.006 × 30 = −0.18
    [(where, what)] = problems(mat(replace(TENSION, deviation=30.0)))
    assert where == "mat, coupons 1 (tension 1)"
    assert what.startswith("the lower bound 90 − 3.006 × 30 = −0.1")
    assert what.endswith("MPa is not above 0.")
    assert not used_coupons(mat(replace(TENSION, deviation=30.0)), 0.30)


def test_coupons_and_a_tested_value_of_one_property_are_refused() -> None:
    given = records.Tested(tension_1=Sourced(value=88, source="one report", known=Known.TESTED))
    assert problems(mat(TENSION, tested=given)) == [
        ("mat, coupons 1 (tension 1)", "the tension 1 is also given as a tested value.")
    ]
    assert not problems(mat(replace(TENSION, property=Property.FLEXURAL), tested=given))


def test_coupons_without_a_source_are_refused() -> None:
    assert problems(mat(replace(TENSION, source=""))) == [("mat, coupons 1 (tension 1)", "has no source.")]


def test_a_strength_as_great_as_a_modulus_is_refused() -> None:
    [(_, what)] = problems(mat(replace(TENSION, mean=90_000.0, deviation=100.0)))
    assert what == "90000 MPa is no strength: at most 10000 MPa is taken."


@pytest.mark.parametrize(("glass", "used"), [(0.30, True), (0.33, True), (0.331, False), (0.27, True)])
def test_coupons_far_from_the_plys_glass_content_are_not_used(glass: float, used: bool) -> None:
    assert bool(used_coupons(mat(TENSION), glass)) is used
    assert bool(coupon_value(TENSION, glass).why_not) is not used


def test_coupons_of_another_glass_content_than_the_materials_are_said() -> None:
    [said] = doubts(replace(TENSION, glass=0.40))
    assert "tested at a glass content of 0.4, the material is laid at 0.3: not used there" in said


def test_of_several_sets_the_nearest_counts_and_of_equals_the_lower() -> None:
    near, far = replace(TENSION, glass=0.31, mean=110.0), replace(TENSION, glass=0.28, mean=70.0)
    assert used_coupons(mat(far, near), 0.30)[Property.TENSION_1].coupons is near
    assert used_coupons(mat(far, near), 0.28)[Property.TENSION_1].coupons is far
    low = replace(TENSION, mean=80.0)
    for order in ((TENSION, low), (low, TENSION)):
        assert used_coupons(mat(*order), 0.30)[Property.TENSION_1].coupons is low


def test_coupons_measure_the_glass_content_they_were_tested_at() -> None:
    assert glass_is_measured(mat(TENSION), 0.31)
    assert not glass_is_measured(mat(TENSION), 0.32)
    assert not glass_is_measured(mat(), 0.30)
    assert glass_is_measured(mat(known=Known.TESTED), 0.30)
    assert not glass_is_measured(mat(known=Known.TESTED), 0.35)


def test_scipy_is_not_loaded_without_coupons() -> None:
    code = (
        "import sys; from stringerlab.files import load; from stringerlab.assess import check; "
        "from stringerlab.data import folder; "
        "check(load(folder('sample_projects') / 'eelgrass_workboat.json')); "
        "assert 'scipy' not in sys.modules"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
