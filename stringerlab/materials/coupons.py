"""Tested coupons: what a set of them is worth, by a stated rule, and what is to be asked about it. MPa.

The rule: a strength is the lower bound above which 90 % of all such coupons lie, with a confidence of 95 %
(one-sided tolerance of a normal distribution: mean − k·s, k from the noncentral t distribution); a modulus
is the mean. One coupon has no deviation and is not used; nor are coupons of another glass content.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist

from stringerlab.errors import Problem
from stringerlab.materials.records import CouponSet, Property, Reinforcement
from stringerlab.units import MPa, Range, Ratio
from stringerlab.workings import Known, Source, formula
from stringerlab.workings.maths import sqrt

COVERAGE, CONFIDENCE = 0.90, 0.95
"""Part of all coupons above the lower bound, and how surely."""
RULE = (
    "strengths are the lower bound mean − k·s, above which 90 % of all such coupons lie with 95 % confidence "
    "(one-sided, normal distribution); moduli are the mean"
)
LEAST = 2
"""Coupons without which there is no deviation."""
WORTH = 5
"""Coupons below which the bound is of little worth: the least that test standards ask for."""
_SOFT = 500.0
"""A modulus below it [MPa] is asked about: our own limit; a mat's shear modulus is five times as much."""
FAR = 0.03
"""Difference in glass content from which coupons say nothing of a ply."""
MEASURED = 0.01
"""Difference in glass content up to which coupons have measured a ply's."""
MODULI = (Property.MODULUS_1, Property.MODULUS_2, Property.SHEAR_MODULUS)
_STRENGTH = Range(0, 1e4, above=True)
_ROUNDING = 1e-9
_TOLERANCE = Source(
    "Natrella, Experimental Statistics, NBS Handbook 91", "one-sided tolerance limits", Known.MEMORY_H
)


@formula(symbol="delta_n", source=_TOLERANCE)
def noncentrality(z_p: Ratio, n_x: Ratio) -> Ratio:
    """Noncentrality of the t distribution that a tolerance factor comes from."""
    return z_p * sqrt(n_x)


@formula(symbol="k_n", source=_TOLERANCE)
def factor_of_quantile(t_n: Ratio, n_x: Ratio) -> Ratio:
    """Tolerance factor from a quantile of the noncentral t distribution."""
    return t_n / sqrt(n_x)


@formula(symbol="sigma_b", source=_TOLERANCE)
def lower_bound(x_m: MPa, k_n: Ratio, s_x: MPa) -> MPa:
    """Lower bound of a tested strength."""
    return x_m - k_n * s_x


@lru_cache(maxsize=256)
def tolerance_factor(count: int, coverage: float = COVERAGE, confidence: float = CONFIDENCE) -> float:
    """Return k of a one-sided tolerance limit mean − k·s, exact for a normal distribution.

    Parameters
    ----------
    count
        Number of coupons, at least two.
    coverage
        Part of all coupons that is to lie above.
    confidence
        How surely.

    Raises
    ------
    ValueError
        When there are fewer than two coupons, or no such quantile is found.

    Source
    ------
    Natrella, Experimental Statistics, NBS Handbook 91, one-sided tolerance limits (memory H).
    """
    if count < LEAST:
        raise ValueError(f"{count} coupons have no deviation")
    from scipy.special import nctdtrit  # late: a quarter of a second, and only coupons need it

    delta = noncentrality(NormalDist().inv_cdf(coverage), count)
    k = float(factor_of_quantile(nctdtrit(count - 1, delta, confidence), count))
    if not math.isfinite(k):
        raise ValueError(f"no tolerance factor is found for {count} coupons")
    return k


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponValue:
    """What a set of coupons is worth at a ply's glass content."""

    coupons: CouponSet
    k: float | None
    """Tolerance factor; None for a modulus and for one coupon."""
    value: float | None
    """Lower bound of a strength, mean of a modulus; None for one coupon."""
    why_not: str = ""
    """Why it is not used, empty where it is."""


def coupon_value(coupons: CouponSet, glass: float) -> CouponValue:
    """Return what a set of coupons is worth for a ply of a glass content."""
    if coupons.count < LEAST:
        return CouponValue(
            coupons=coupons, k=None, value=None, why_not="one coupon has no deviation, so no lower bound"
        )
    k, value = None, coupons.mean
    if coupons.property not in MODULI:
        k = tolerance_factor(coupons.count)
        value = float(lower_bound(coupons.mean, k, coupons.deviation))
    if value <= 0:
        return CouponValue(coupons=coupons, k=k, value=value, why_not="its lower bound is not above 0")
    if _far(coupons, glass):
        why = f"tested at a glass content of {coupons.glass:g}, laid at {glass:.3g}"
        return CouponValue(coupons=coupons, k=k, value=value, why_not=why)
    return CouponValue(coupons=coupons, k=k, value=value)


def used_coupons(material: Reinforcement, glass: float) -> Mapping[Property, CouponValue]:
    """Return the coupons that stand in place of the estimate for a ply of a glass content, by property.

    Of several sets for one property it is the one nearest in glass content, of equally near ones that of
    the lower value.
    """
    found: dict[Property, CouponValue] = {}
    for one in (coupon_value(coupons, glass) for coupons in material.coupons):
        held = found.get(one.coupons.property)
        if not one.why_not and (held is None or _order(one, glass) < _order(held, glass)):
            found[one.coupons.property] = one
    return found


def glass_is_measured(material: Reinforcement, glass: float) -> bool:
    """Return whether the material's tests say that its plies have this glass content."""
    if material.known is Known.TESTED and abs(material.glass - glass) <= _ROUNDING:
        return True
    return any(abs(coupons.glass - glass) <= MEASURED + _ROUNDING for coupons in material.coupons)


def coupon_problems(material: Reinforcement, label: str) -> Iterator[Problem]:
    """Yield what forbids a reinforcement's coupons.

    A lower bound that is not above 0, a strength out of range, a property that is also given as a tested
    value, no source.

    Parameters
    ----------
    material
        The reinforcement.
    label
        How a person knows it.
    """
    for number, coupons in enumerate(material.coupons, 1):
        where = _where(label, number, coupons)
        if not coupons.source.strip():
            yield Problem("has no source.", where, "Say who tested and which report.")
        if getattr(material.tested, coupons.property.value) is not None:
            what = f"the {in_words(coupons.property)} is also given as a tested value."
            yield Problem(what, where, "Keep the coupons or the value, not both.")
        if coupons.property in MODULI or not _ranged(coupons):
            continue
        if not _STRENGTH.holds(coupons.mean):
            what = f"{coupons.mean:g} MPa is no strength: at most {_STRENGTH.high:g} MPa is taken."
            yield Problem(what, where, "Check the mean and its unit.")
        worth = coupon_value(coupons, material.glass)
        if worth.k is not None and worth.value is not None and worth.value <= 0:
            what = (
                f"the lower bound {coupons.mean:g} − {worth.k:.3f} × {coupons.deviation:g} = "
                f"{_signed(worth.value)} MPa is not above 0."
            )
            yield Problem(what, where, "Look for what scatters, or test more coupons.")


def coupon_doubts(material: Reinforcement, label: str) -> Iterator[Problem]:
    """Yield what is to be asked about a reinforcement's coupons; nothing is blocked by it.

    A modulus that is soft for any ply, one coupon, few coupons, no deviation at all, another glass content
    than the material's, no standard.
    """
    for number, coupons in enumerate(material.coupons, 1):
        if not _ranged(coupons):
            continue
        where = _where(label, number, coupons)
        estimate = "the estimate stands"
        if coupons.property in MODULI and coupons.mean < _SOFT:
            what = (
                f"{coupons.mean:g} MPa is soft for the {in_words(coupons.property)} of a ply: "
                f"{coupons.mean:g} GPa meant? That is {1000 * coupons.mean:g} MPa."
            )
            yield Problem(what, where, "Say the modulus with its unit, or leave it as it is.")
        if coupons.count < LEAST:
            what = f"one coupon has no deviation and gives no lower bound: it is not used, {estimate}."
            yield Problem(what, where, f"Test {WORTH} or more.")
        elif coupons.count < WORTH and coupons.property not in MODULI:
            what = (
                f"{coupons.count} coupons are of little worth: the bound lies "
                f"{tolerance_factor(coupons.count):.4g} deviations below their mean."
            )
            yield Problem(what, where, f"Test {WORTH} or more.")
        if coupons.deviation == 0 and coupons.count >= LEAST:
            what = f"a deviation of 0 over {coupons.count} coupons: did all break at the same stress?"
            yield Problem(what, where, "Enter the deviation as the report gives it.")
        if coupons.count == 1 and coupons.deviation > 0:
            yield Problem("one coupon, but a deviation.", where, "Enter how many were tested.")
        if _far(coupons, material.glass):
            what = (
                f"tested at a glass content of {coupons.glass:g}, the material is laid at "
                f"{material.glass:g}: not used there, {estimate}."
            )
            yield Problem(what, where, "Correct the glass content, or test at the one that is laid.")
        if not coupons.standard.strip():
            yield Problem("no test standard is named.", where, "Say after which standard it was tested.")


def in_words(property: Property) -> str:  # noqa: A002
    """Return a property in words: ``tension 1``."""
    return property.value.replace("_", " ")


def _signed(value: float) -> str:
    return f"{value:.4g}".replace("-", "−")


def _far(coupons: CouponSet, glass: float) -> bool:
    return abs(coupons.glass - glass) > FAR + _ROUNDING


def _order(one: CouponValue, glass: float) -> tuple[float, float]:
    assert one.value is not None
    return round(abs(one.coupons.glass - glass), 9), one.value


def _ranged(coupons: CouponSet) -> bool:
    """Whether its numbers are numbers at all; what is out of range is said elsewhere."""
    numbers = (coupons.mean, coupons.deviation, coupons.glass)
    return all(math.isfinite(number) for number in numbers) and coupons.count >= 1 and coupons.deviation >= 0


def _where(label: str, number: int, coupons: CouponSet) -> str:
    return f"{label}, coupons {number} ({in_words(coupons.property)})"
