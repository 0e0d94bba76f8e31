"""The paper under the screen: places to pixels and back, zoom about a point, fit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.desktop.sheet.view import LEAST, MARGIN, MOST, View

PLACES = st.tuples(st.floats(-5000, 5000), st.floats(-5000, 5000))


def test_z_up_is_up_the_screen():
    view = View(scale=2.0, left=100.0, down=400.0)
    assert view.to_screen((10.0, 20.0)) == (120.0, 360.0)
    assert view.to_paper((120.0, 360.0)) == (10.0, 20.0)


@given(place=PLACES, scale=st.floats(LEAST, MOST), left=st.floats(-2000, 2000), down=st.floats(-2000, 2000))
def test_a_place_goes_to_the_screen_and_back(
    place: tuple[float, float], scale: float, left: float, down: float
):
    view = View(scale=scale, left=left, down=down)
    assert view.to_paper(view.to_screen(place)) == pytest.approx(place, abs=1e-6)


@given(pixel=PLACES, factor=st.floats(0.1, 10))
def test_zooming_keeps_the_place_under_the_pointer(pixel: tuple[float, float], factor: float):
    view = View(scale=2.0, left=310.0, down=207.0)
    grown = view.zoomed(factor, pixel)
    assert grown.to_paper(pixel) == pytest.approx(view.to_paper(pixel), abs=1e-6)
    assert grown.scale == pytest.approx(2.0 * factor)


def test_zoom_ends_at_its_limits():
    assert View(scale=1.0).zoomed(1e9, (0.0, 0.0)).scale == MOST
    assert View(scale=1.0).zoomed(1e-9, (0.0, 0.0)).scale == LEAST


def test_fitting_fills_the_narrower_way_and_leaves_the_margin():
    view = View().fitted((-100.0, 0.0, 100.0, 50.0), (800.0, 600.0))
    left, right = view.to_screen((-100.0, 0.0))[0], view.to_screen((100.0, 0.0))[0]
    assert left == pytest.approx(800 * MARGIN)
    assert right == pytest.approx(800 * (1 - MARGIN))
    assert view.to_screen((0.0, 25.0)) == pytest.approx((400.0, 300.0))


def test_a_single_point_can_be_fitted():
    assert View().fitted((3.0, 4.0, 3.0, 4.0), (800.0, 600.0)).to_screen((3.0, 4.0)) == pytest.approx(
        (400, 300)
    )


def test_the_window_is_what_the_screen_shows():
    view = View(scale=2.0, left=100.0, down=400.0)
    assert view.window((300.0, 500.0)) == (-50.0, -50.0, 100.0, 200.0)
