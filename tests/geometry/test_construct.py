"""Constructions on drawn lines: arcs, parallels, tangents, turns, nearest places."""

from cmath import rect
from math import dist, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.geometry import construct
from stringerlab.geometry.construct import Arc, Leg
from stringerlab.geometry.fillet import rounded

coordinates = st.floats(-1000, 1000)
places = st.tuples(coordinates, coordinates)


@given(places, st.floats(1, 500), st.floats(-pi, pi), st.floats(0.2, 6.0), st.floats(0.1, 0.9), st.booleans())
def test_circle_through_three_points_of_an_arc_is_its_circle(
    centre: tuple[float, float], radius: float, start: float, sweep: float, part: float, back: bool
):
    turn = -sweep if back else sweep
    first, through, last = (
        complex(*centre) + rect(radius, start + share * turn) for share in (0.0, part, 1.0)
    )
    if abs(first - last) < 0.05 * radius:
        return
    found = construct.circle_through(_pair(first), _pair(through), _pair(last))
    assert found is not None
    assert found.centre == pytest.approx(centre, abs=1e-4 * radius + 1e-6)
    assert found.radius == pytest.approx(radius, rel=1e-5)
    assert found.sweep == pytest.approx(turn, abs=1e-4)


def _pair(point: complex) -> tuple[float, float]:
    return point.real, point.imag


def test_three_points_on_a_line_have_no_circle():
    assert construct.circle_through((0, 0), (1, 2), (3, 6)) is None
    assert construct.circle_through((0, 0), (0, 0), (3, 6)) is None


def test_half_circle_becomes_two_corners_of_its_radius():
    points, radii = construct.flattened((0.0, 0.0), [Arc((50.0, 50.0), (100.0, 0.0))])
    assert [radius for radius in radii if radius] == pytest.approx([50.0, 50.0], abs=1e-6)
    assert points[1] == pytest.approx((0.0, 50.0))
    assert points[2] == pytest.approx((100.0, 50.0))
    assert len(points) == 4


def test_arc_that_leaves_a_leg_at_an_angle_keeps_the_point_between():
    points, radii = construct.flattened((0.0, 0.0), [Leg((40.0, 0.0)), Arc((50.0, -10.0), (60.0, 0.0))])
    assert points[1] == (40.0, 0.0)
    assert len(rounded(points, radii)) > 9


@given(st.floats(2, 80), st.floats(-60, 60))
def test_parallel_of_a_corner_and_back_is_the_line(bend: float, by: float):
    points = ((-200.0, 0.0), (0.0, 0.0), (200.0, bend))
    out, radii = construct.parallel(points, (0.0, 0.0, 0.0), by)
    back, _ = construct.parallel(out, radii, -by)
    assert [value for point in back for value in point] == pytest.approx(
        [value for point in points for value in point], abs=1e-7
    )


def test_parallel_of_a_closed_square_grows_outward():
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    points, radii = construct.parallel(square, (0.0, 2.0, 0.0, 0.0), -3.0, closed=True)
    assert points == ((-3, -3), (13, -3), (13, 13), (-3, 13))
    assert radii == (0, 5, 0, 0)


@pytest.mark.parametrize(
    ("points", "said"),
    [
        (((0.0, 0.0),), "no leg"),
        (((0.0, 0.0), (0.0, 0.0), (5.0, 0.0)), "Points 1 and 2"),
        (((0.0, 0.0), (10.0, 0.0), (0.0, 0.1)), "doubles back at point 2"),
        (((0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0)), "Leg 2 is too short"),
    ],
)
def test_line_without_a_parallel_says_why(points: tuple[tuple[float, float], ...], said: str):
    with pytest.raises(ValueError, match=said):
        construct.parallel(points, (0.0,) * len(points), 4.0)


@given(places, st.floats(1, 300), st.floats(1.01, 20), st.floats(-pi, pi))
def test_tangents_touch_square_to_the_radius(
    centre: tuple[float, float], radius: float, far: float, angle: float
):
    outside = complex(*centre) + rect(radius * far, angle)
    feet = construct.tangents(_pair(outside), centre, radius)
    assert len(feet) == 2
    for foot in feet:
        arm, way = complex(*foot) - complex(*centre), complex(*foot) - outside
        assert abs(arm) == pytest.approx(radius, rel=1e-9)
        assert (arm * way.conjugate()).real == pytest.approx(0.0, abs=1e-6 * radius * radius * far)


def test_no_tangent_from_within_a_circle():
    assert construct.tangents((1.0, 1.0), (0.0, 0.0), 5.0) == ()


def test_nearest_place_lies_on_the_closing_leg_of_a_closed_line():
    square = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
    found = construct.nearest(square, (-2.0, 4.0), closed=True)
    assert found == construct.Nearest(3, (0.0, 4.0), 0.6, 2.0)
    assert construct.nearest(square[:1], (0.0, 0.0)) is None


@given(places, places, st.floats(-180, 180))
def test_mirror_images_lie_as_far_from_the_line(
    point: tuple[float, float], at: tuple[float, float], angle: float
):
    (image,) = construct.mirrored([point], at, radians(angle))
    way = rect(1.0, radians(angle))
    off = [((complex(*each) - complex(*at)) * way.conjugate()) for each in (point, image)]
    assert off[0].real == pytest.approx(off[1].real, abs=1e-6)
    assert off[0].imag == pytest.approx(-off[1].imag, abs=1e-6)
    assert dist(point, image) == pytest.approx(2 * abs(off[0].imag), abs=1e-6)
