import math
from typing import Annotated

import pytest

from stringerlab.units import Kind, Mm, Range, Unit, own_unit, unit_named, unit_of
from stringerlab.units.kinds import UNITS


def test_units_are_equal_by_symbol_kind_and_factor() -> None:
    assert unit_named("mm") == Unit("mm", Kind.LENGTH)
    assert unit_named("psi", Kind.PRESSURE) != unit_named("psi", Kind.STRESS)
    assert unit_named("psi", Kind.PRESSURE).factor == unit_named("psi", Kind.STRESS).factor
    assert len({unit for units in UNITS.values() for unit in units.values()}) == sum(map(len, UNITS.values()))


def test_a_symbol_shared_by_two_kinds_is_of_stress_unless_the_kind_is_given() -> None:
    assert unit_named("psi").kind is Kind.STRESS
    assert unit_named("N/mm²").kind is Kind.STRESS
    assert unit_named("N/mm²", Kind.PRESSURE).kind is Kind.PRESSURE
    assert unit_named("kN/m²").kind is Kind.PRESSURE
    assert unit_named("MPa").kind is Kind.STRESS


def test_no_symbol_has_space_around_it() -> None:
    assert [symbol for units in UNITS.values() for symbol in units if symbol != symbol.strip()] == []


@pytest.mark.parametrize(("symbol", "kind"), [("furlong", None), ("mm", Kind.AREA)])
def test_an_unknown_unit_is_a_key_error(symbol: str, kind: Kind | None) -> None:
    with pytest.raises(KeyError):
        unit_named(symbol, kind)


@pytest.mark.parametrize(
    ("symbol", "kind", "factor"),
    [
        # international yard and pound, 1959; standard gravity
        ("in", Kind.LENGTH, 25.4),
        ("ft", Kind.LENGTH, 304.8),
        ("in²", Kind.AREA, 645.16),
        ("in³", Kind.SECTION_MODULUS, 16387.064),
        ("in⁴", Kind.SECOND_MOMENT, 416231.4256),
        ("psi", Kind.STRESS, 6.894757293168e-3),
        ("ksi", Kind.STRESS, 6.894757293168),
        ("lbf", Kind.FORCE, 4.4482216152605),
        ("lbf/in", Kind.LINE_LOAD, 0.17512683524647637),
        ("lbf·ft", Kind.MOMENT, 1355.8179483314004),
        ("lb", Kind.MASS, 0.45359237),
        ("oz/yd²", Kind.AREAL_MASS, 33.90574747),
        ("oz/ft²", Kind.AREAL_MASS, 305.1517273),
        ("lb/ft³", Kind.DENSITY, 16.018463374),
        ("g/cm³", Kind.DENSITY, 1000.0),
        ("kn", Kind.SPEED, 0.5144444444444),
        ("mph", Kind.SPEED, 0.44704),
        ("deg", Kind.ANGLE, math.pi / 180),
        ("cm⁴/cm", Kind.SECOND_MOMENT_PER_WIDTH, 1000.0),
        ("cm³/cm", Kind.SECTION_MODULUS_PER_WIDTH, 100.0),
    ],
)
def test_factors_are_the_defined_ones(symbol: str, kind: Kind, factor: float) -> None:
    assert unit_named(symbol, kind).factor == pytest.approx(factor, rel=1e-9)


def test_every_kind_has_the_programs_own_unit() -> None:
    own = {kind: own_unit(kind).symbol for kind in Kind}
    assert (own[Kind.LENGTH], own[Kind.FORCE], own[Kind.STRESS]) == ("mm", "N", "MPa")
    assert (own[Kind.ANGLE], own[Kind.MASS], own[Kind.SPEED]) == ("rad", "kg", "m/s")
    assert (own[Kind.DENSITY], own[Kind.AREAL_MASS]) == ("kg/m³", "g/m²")


def test_an_annotation_carries_its_unit() -> None:
    assert unit_of(Mm) == unit_named("mm")
    assert unit_of(Annotated[Mm, Range(0, 5)]) == unit_named("mm")
    assert unit_of(float) is None


@pytest.mark.parametrize(
    ("allowed", "words"),
    [
        (Range(1, 2), "1 to 2"),
        (Range(0, 1e6, above=True), "above 0 to 1000000"),
        (Range(low=0), "at least 0"),
        (Range(low=0, above=True), "above 0"),
        (Range(high=30), "at most 30"),
        (Range(), "any number"),
    ],
)
def test_a_range_says_itself(allowed: Range, words: str) -> None:
    assert str(allowed) == words


def test_a_range_holds_its_ends_and_nothing_that_is_no_number() -> None:
    assert Range(1, 2).holds(1)
    assert Range(1, 2).holds(2)
    assert not Range(1, 2, above=True).holds(1)
    assert not Range().holds(math.nan)
    with pytest.raises(ValueError, match="low end first"):
        Range(2, 1)
