"""What is typed while drawing: lengths, angles, points, with units and decimal commas."""

from math import cos, radians, sin

import pytest

from stringerlab.desktop.sheet.typed import polar, read, read_angle
from stringerlab.errors import StringerlabError
from stringerlab.units import System

HERE, POINTER = (10.0, 20.0), (10.0, 220.0)


@pytest.mark.parametrize(
    ("text", "system", "reached"),
    [
        ("50", System.METRIC, (10.0, 70.0)),
        ("3,5", System.METRIC, (10.0, 23.5)),
        ("2", System.US, (10.0, 70.8)),
        ("1/2 in", System.METRIC, (10.0, 32.7)),
        ("100<0", System.METRIC, (110.0, 20.0)),
        ("100 < 90°", System.METRIC, (10.0, 120.0)),
        ("100<-90", System.METRIC, (10.0, -80.0)),
        ("10<22,5", System.METRIC, (10 + 10 * cos(radians(22.5)), 20 + 10 * sin(radians(22.5)))),
        ("@30;-5", System.METRIC, (40.0, 15.0)),
        ("@30,5", System.METRIC, (40.0, 25.0)),
        ("@3,5;2,5", System.METRIC, (13.5, 22.5)),
        ("@1 in;2 in", System.METRIC, (35.4, 70.8)),
        ("−40;135", System.METRIC, (-40.0, 135.0)),
        ("1;2", System.US, (25.4, 50.8)),
    ],
)
def test_a_typed_point_is_reached(text: str, system: System, reached: tuple[float, float]):
    assert read(text, system).reached(HERE, POINTER) == pytest.approx(reached)


@pytest.mark.parametrize("text", ["", "abc", "@", "@1", "1;2;3", "10<", "<30", "10<up", "1,2,3", "@1,2,3,4"])
def test_what_does_not_read_says_how(text: str):
    with pytest.raises(StringerlabError, match="length<angle"):
        read(text, System.METRIC)


def test_a_length_needs_a_point_to_start_from():
    with pytest.raises(StringerlabError, match="no point to measure from"):
        read("50", System.METRIC).reached(None, POINTER)
    with pytest.raises(StringerlabError, match="no direction"):
        read("50", System.METRIC).reached(HERE, HERE)
    assert read("5;6", System.METRIC).reached(None, POINTER) == (5.0, 6.0)


def test_angles():
    assert read_angle("−7,5°") == pytest.approx(radians(-7.5))
    with pytest.raises(StringerlabError, match="no angle"):
        read_angle("steep")
    assert polar((0.0, 0.0), (3.0, 4.0)) == pytest.approx((5.0, 53.1301), abs=1e-4)
