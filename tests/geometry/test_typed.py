"""Points as a person types them, and what is said of what does not read."""

from math import cos, radians, sin

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.geometry.typed import typed_angle, typed_point
from stringerlab.units import System

LAST = (100.0, 50.0)


@pytest.mark.parametrize(
    ("text", "point"),
    [
        ("120, 45", (120.0, 45.0)),
        ("120;45", (120.0, 45.0)),
        ("−40;135", (-40.0, 135.0)),
        ("@3,5;2,5", (103.5, 52.5)),
        ("3,5", (100.0, 53.5)),
        ("3,5 mm", (100.0, 53.5)),
        ("3.5 mm", (100.0, 53.5)),
        ("1/2 in", (100.0, 62.7)),
        ("100<22,5", (100 + 100 * cos(radians(22.5)), 50 + 100 * sin(radians(22.5)))),
        (" -120 , 45 mm ", (-120.0, 45.0)),
        ("3.5,4.25", (3.5, 4.25)),
        ("3,5; 4,25", (3.5, 4.25)),
        ("3,5;4", (3.5, 4.0)),
        ("3,5, 4,25", (3.5, 4.25)),
        ("@30,10", (130.0, 60.0)),
        ("@ -30 ; 10,5", (70.0, 60.5)),
        ("1 in, 2 cm", (25.4, 20.0)),
        ("3 1/2 in, 1' 2\"", (88.9, 355.6)),
        ("80 < 30", (100 + 80 * cos(radians(30)), 50 + 80 * sin(radians(30)))),
        ("@80<30", (100 + 80 * cos(radians(30)), 50 + 80 * sin(radians(30)))),
        ("8 cm < -90°", (100.0, -30.0)),
        ("3,5 < 180", (96.5, 50.0)),
        ("80", (100.0, 130.0)),
        ("2 in", (100.0, 100.8)),
    ],
)
def test_typed_point_reads(text: str, point: tuple[float, float]):
    assert typed_point(text, LAST, toward=(100.0, 61.0)) == pytest.approx(point, abs=1e-9)


def test_bare_numbers_are_in_the_units_shown():
    assert typed_point("3 1/2, 2", None, System.US) == pytest.approx((88.9, 50.8))
    assert typed_point("@1 < 90", LAST, System.US) == pytest.approx((100.0, 75.4))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "Nothing is typed"),
        ("@", "Nothing is typed"),
        ("one, two", "does not read as a length"),
        ("3,5, 4,25, 6", "not two coordinates"),
        ("3,5,4,25", "not clear which comma"),
        ("3;4;5", "not two coordinates"),
        ("120,", "not two coordinates"),
        ("80 <", "not a length and an angle"),
        ("80 < 30 < 2", "not a length and an angle"),
        ("80 < 30 kg", "a unit of mass"),
        ("12 kn, 5", "a unit of speed"),
        ("20 m, 0", "outside the drawing"),
    ],
)
def test_what_does_not_read_is_said_with_a_remedy(text: str, said: str):
    with pytest.raises(StringerlabError) as refused:
        typed_point(text, LAST, toward=(0.0, 0.0))
    assert said in str(refused.value)
    assert all(problem.where == "typed point" and problem.remedy for problem in refused.value.problems)


def test_going_on_needs_a_point_and_a_direction():
    for text in ("@1,2", "80 < 30", "80"):
        with pytest.raises(StringerlabError, match="no point to go on from"):
            typed_point(text, None, toward=(1.0, 0.0))
    for toward in (None, LAST):
        with pytest.raises(StringerlabError, match="Move the pointer"):
            typed_point("80", LAST, toward=toward)


def test_typed_angle_is_in_degrees_and_may_be_negative():
    assert typed_angle("30") == pytest.approx(radians(30))
    assert typed_angle("−7,5°") == pytest.approx(radians(-7.5))
    with pytest.raises(StringerlabError, match="no angle"):
        typed_angle("steep")
