import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.units import Kind, System, display_unit, format, in_unit, rounded, trimmed, unit_named


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (9.9996, "10.00"),
        (9.9994, "9.999"),
        (99.995, "100.0"),
        (0.99996, "1.000"),
        (12.5, "12.50"),
        (0.5, "0.5"),
        (0.05678, "0.05678"),
        (123456.7, "123457"),
        (9_999_999.0, "9999999"),
        (9_999_999.7, "10⁷"),
        (12_345_678.0, "1.235·10⁷"),
        (0.00009999, "9.999·10⁻⁵"),
        (0.0000999996, "0.0001"),
        (-3.2, "−3.200"),
        (-2e-9, "−2·10⁻⁹"),
        (-1e-9, "−10⁻⁹"),
        (0.0, "0"),
        (-0.0, "0"),
        (5e-324, "4.941·10⁻³²⁴"),
        (1.7976931348623157e308, "1.798·10³⁰⁸"),
        (math.nan, "—"),
        (math.inf, "∞"),
        (-math.inf, "−∞"),
    ],
)
def test_numbers_are_rounded_as_a_person_writes_them(number: float, text: str) -> None:
    assert rounded(number) == text


@pytest.mark.parametrize(
    ("number", "text"),
    [(400.0, "400"), (0.4540, "0.454"), (2.50, "2.5"), (1 / 3, "0.333333"), (3e9, "3·10⁹")],
)
def test_trimmed_numbers_look_typed(number: float, text: str) -> None:
    assert trimmed(number) == text


def _read_back(text: str) -> float:
    """Read ``−2·10⁻⁹`` and the like without the program's own reader."""
    power = re.search(r"10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)$", text)
    if power is None:
        return float(text.replace("−", "-"))
    exponent = power[1].translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    mantissa = text[: power.start()].rstrip("·").replace("−", "-")
    return float(f"{mantissa if mantissa not in {'', '-'} else mantissa + '1'}e{exponent}")


@given(st.floats(-1e300, 1e300), st.integers(1, 15))
def test_rounding_stays_within_half_a_last_digit(number: float, digits: int) -> None:
    # a subnormal has fewer digits of its own
    half = max(0.501 * 10.0 ** (1 - digits) * abs(number), 5e-324)
    assert abs(_read_back(rounded(number, digits)) - number) <= half


def test_each_kind_is_shown_in_a_unit_of_its_own_kind() -> None:
    for kind in Kind:
        for system in System:
            assert display_unit(kind, system).kind is kind


def test_shown_in_either_system() -> None:
    assert format(25.4, Kind.LENGTH) == "25.40 mm"
    assert format(25.4, Kind.LENGTH, System.US) == "1.000 in"
    assert format(0.026, Kind.PRESSURE) == "26.00 kN/m²"
    assert format(0.026, Kind.PRESSURE, System.US) == "3.771 psi"
    assert format(0.5, Kind.RATIO) == "0.5"
    assert in_unit(6000.0, unit_named("m"), digits=2) == "6.0 m"


def test_great_forces_and_moments_are_written_in_the_larger_unit() -> None:
    assert format(9_999.0, Kind.FORCE) == "9999 N"
    assert format(34_101_000.0, Kind.FORCE) == "34101 kN"
    assert format(9_999e3, Kind.MOMENT) == "9999 N·m"
    assert format(721_383e3, Kind.MOMENT) == "721.4 kN·m"
    assert format(-721_383e3, Kind.MOMENT) == "−721.4 kN·m"
    assert format(9_999e6, Kind.MOMENT, System.US).endswith("lbf·ft")
