import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.units import Kind, System, display_unit, format, parse
from stringerlab.units.kinds import UNITS, unit_named
from stringerlab.units.reading import unit_written


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("3/8 in", 9.525),
        ("3/8in.", 9.525),
        ('3/8"', 9.525),
        ("3⁄8 in", 9.525),
        ("⅜ in", 9.525),
        ("1-1/2 in", 38.1),
        ("1 1/2 in", 38.1),
        ("1½ in", 38.1),
        ("2' 6\"", 762.0),
        ("2'6\"", 762.0),
        ("2'-6\"", 762.0),
        ("2' - 6 1/2\"", 774.7),
        ("2 ft 6 in", 762.0),
        ("2′ 6″", 762.0),
        ("-2' 6\"", -762.0),
        ("1 m 20 cm", 1200.0),
        ("3,5 mm", 3.5),
        ("3,5", 3.5),
        (",5 m", 500.0),
        (".5 m", 500.0),
        ("5.", 5.0),
        ("+4 mm", 4.0),
        ("− 4 mm", -4.0),
        ("1e3 mm", 1000.0),
        ("1.5·10³ mm", 1500.0),
        ("1.5×10^3 mm", 1500.0),
        ("10⁻² m", 10.0),
        ("  12.5\u00a0mm ", 12.5),
        ("12 MM", 12.0),
        ("0", 0.0),
    ],
)
def test_lengths_read_as_people_type_them(text: str, millimetres: float) -> None:
    assert parse(text, Kind.LENGTH) == pytest.approx(millimetres, rel=1e-14, abs=0)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("40 kn", Kind.SPEED, 40 * 1852 / 3600),
        ("40 knots", Kind.SPEED, 40 * 1852 / 3600),
        ("20°", Kind.ANGLE, math.radians(20)),
        ("50 %", Kind.RATIO, 0.5),
        ("0,5", Kind.RATIO, 0.5),
        ("26 kN/m²", Kind.PRESSURE, 0.026),
        ("26 kN/m2", Kind.PRESSURE, 0.026),
        ("26 kN / m^2", Kind.PRESSURE, 0.026),
        ("10 psi", Kind.PRESSURE, 10 * 0.45359237 * 9.80665 / 25.4**2),
        ("10 psi", Kind.STRESS, 10 * 0.45359237 * 9.80665 / 25.4**2),
        ("10 PSI", Kind.STRESS, 10 * 0.45359237 * 9.80665 / 25.4**2),
        ("5 kN", Kind.FORCE, 5000.0),
        ("5 lb/cu ft", Kind.DENSITY, 80.0923168698),
        ("5 pcf", Kind.DENSITY, 80.0923168698),
        ("1.2 g/cm³", Kind.DENSITY, 1200.0),
        ("2,55 g/cm3", Kind.DENSITY, 2550.0),
        ("1.2 g/cc", Kind.DENSITY, 1200.0),
        ("3 N*m", Kind.MOMENT, 3000.0),
    ],
)
def test_other_kinds_read_too(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-11)


@pytest.mark.parametrize("text", ["1.5 oz/ft²", "1,5 oz/ft2", "1.5 oz per sq ft", "1.5 oz/sq. ft"])
def test_mat_in_us_shops_is_ounces_per_square_foot(text: str) -> None:
    assert parse(text, Kind.AREAL_MASS) == pytest.approx(457.7, abs=0.05)


def test_fabric_is_ounces_per_square_yard_a_ninth_of_that() -> None:
    mat, fabric = parse("18 oz/ft²", Kind.AREAL_MASS), parse("18 oz/yd²", Kind.AREAL_MASS)
    assert fabric == pytest.approx(610.3, abs=0.05)
    assert mat == pytest.approx(9 * fabric)


def test_bare_ounces_are_asked_about_rather_than_guessed() -> None:
    with pytest.raises(StringerlabError) as caught:
        parse("1.5 oz", Kind.AREAL_MASS)
    assert "oz/ft² for mat" in str(caught.value)
    assert "oz/yd²" in str(caught.value)


def test_a_bare_number_counts_in_the_unit_shown() -> None:
    assert parse("2", Kind.LENGTH) == 2.0
    assert parse("2", Kind.LENGTH, System.US) == 50.8


@pytest.mark.parametrize(
    ("text", "kind", "said"),
    [
        ("5 kn", Kind.FORCE, "'kn' is a unit of speed; a force is wanted. Use one of: N, kN, lbf."),
        ("5 lb", Kind.FORCE, "'lb' is a unit of mass; a force is wanted."),
        ("3 mm²", Kind.LENGTH, "'mm2' is a unit of area; a length is wanted."),
        ("3 psi", Kind.LENGTH, "'psi' is a unit of stress or pressure; a length is wanted."),
        (
            "3 furlong",
            Kind.LENGTH,
            "'furlong' is no unit known here; a length is wanted. Use one of: mm, cm, m, in, ft.",
        ),
        ("3 mm", Kind.RATIO, "'mm' is a unit of length; a ratio is wanted. Use one of: a bare number, %."),
        ("3 mm", Kind.COUNT, "'mm' is a unit of length; a count is wanted. Use pcs."),
    ],
)
def test_a_wrong_unit_is_named_with_what_to_use(text: str, kind: Kind, said: str) -> None:
    with pytest.raises(StringerlabError) as caught:
        parse(text, kind)
    assert said in str(caught.value)
    assert f"'{text}'" in str(caught.value)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "nan",
        "inf",
        "-inf",
        "1e400",
        "1/0 in",
        "--3",
        "+-3",
        "abc",
        "mm",
        "3 4",
        "5 mm 3",
        "2 - 6 mm",
        "6\" 2'",
        "2' 3'",
        "2' -",
        "1,234.5",
        "1.234,5",
        "1_000",
        "٣ mm",
        "110^2",
        "3//8",
        "0x10",
        "1e",
        "9" * 400,
        "\x00",
        "3 mm; 4 mm",
    ],
)
def test_what_is_no_quantity_is_refused(text: str) -> None:
    with pytest.raises(StringerlabError) as caught:
        parse(text, Kind.LENGTH)
    assert len(str(caught.value)) < 250


def test_two_parts_are_for_lengths_alone() -> None:
    with pytest.raises(StringerlabError, match="does not read as a mass"):
        parse("2 t 3 kg", Kind.MASS)


@given(st.text(max_size=80), st.sampled_from(Kind))
def test_any_text_gives_a_finite_number_or_one_clear_refusal(text: str, kind: Kind) -> None:
    value, problems = 0.0, None
    try:
        value = parse(text, kind)
    except StringerlabError as refused:
        problems = refused.problems
    assert math.isfinite(value)
    assert problems is None or (len(problems) == 1 and problems[0].remedy)


@given(
    st.floats(min_value=-1e12, max_value=1e12, allow_subnormal=False),
    st.sampled_from(Kind),
    st.sampled_from(System),
    st.integers(1, 12),
)
def test_what_is_shown_reads_back_within_its_rounding(
    value: float, kind: Kind, system: System, digits: int
) -> None:
    text = format(value, kind, system, digits=digits)
    assert parse(text, kind, system) == pytest.approx(value, rel=0.5001 * 10.0 ** (1 - digits), abs=0)


@given(st.floats(min_value=1e-3, max_value=1e6), st.sampled_from(Kind), st.data())
def test_every_unit_reads_by_its_factor(number: float, kind: Kind, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(list(UNITS[kind].values())))
    assert parse(f"{number!r} {unit.symbol}", kind) == pytest.approx(
        number * (unit.factor if unit.symbol else display_unit(kind, System.METRIC).factor), rel=1e-13
    )


@given(st.integers(0, 200), st.integers(0, 11), st.integers(0, 15))
def test_feet_inches_and_sixteenths_add_up(feet: int, inches: int, sixteenths: int) -> None:
    expected = (feet * 12 + inches + sixteenths / 16) * 25.4
    assert parse(f"{feet}' {inches} {sixteenths}/16\"", Kind.LENGTH) == pytest.approx(expected, rel=1e-14)


@pytest.mark.parametrize("text", ["35 vol%", "35vol-%", "35 % by volume", "0,35 v/v", "0.35 volume", "35 v%"])
def test_a_share_by_volume_is_refused_by_name(text: str) -> None:
    with pytest.raises(StringerlabError, match="is a share by volume; a share by mass is wanted"):
        parse(text, Kind.RATIO)


def test_a_unit_alone_is_found_by_any_usual_spelling() -> None:
    assert unit_written("oz per sq yd", Kind.AREAL_MASS) is unit_named("oz/yd²")
    assert unit_written("pcf", Kind.DENSITY) is unit_named("lb/ft³")
    assert unit_written("psi", Kind.PRESSURE) is unit_named("psi", Kind.PRESSURE)
    with pytest.raises(StringerlabError, match=r"^'kg/m3' is a unit of density; a stress is wanted"):
        unit_written("kg/m3", Kind.STRESS)
