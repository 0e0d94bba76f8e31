"""Room over a bottom by solid geometry and by a raster, its lowest place, and what insulation is worth."""

from math import radians, tan

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.craft import Bottom
from stringerlab.layout.hollows import Shell, deadrise, lowest, plan_area, room_under, shell_of
from stringerlab.layout.insulation import ice_melted, insulation

BETA = radians(20)


def vee(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    return np.abs(y) * tan(BETA) + 0 * x


VEE = Shell(z=vee)


def test_room_under_a_level_top_over_a_vee_is_that_of_a_prism() -> None:
    ring = np.array([(0, -300), (2000, -300), (2000, 300), (0, 300)], float)
    full = 2000 * (600 * 400 - 300**2 * tan(BETA))
    assert room_under(ring, 400.0, VEE) == pytest.approx(full, rel=1e-12)
    assert room_under(ring[::-1], 400.0, VEE) == pytest.approx(full, rel=1e-12)


def test_room_where_the_bottom_rises_through_the_top_is_a_triangle_s() -> None:
    ring = np.array([(0, -600), (1000, -600), (1000, 600), (0, 600)], float)
    assert room_under(ring, 100.0, VEE) == pytest.approx(1000 * 100**2 / tan(BETA), rel=1e-12)
    assert room_under(ring, 0.0, VEE) == 0.0


def test_room_over_a_rising_keel_is_a_wedge_s() -> None:
    flat = Shell(z=lambda x, y: 0.1 * x + 0 * y)
    ring = np.array([(0, 0), (3000, 0), (3000, 500), (0, 500)], float)
    assert room_under(ring, 200.0, flat) == pytest.approx(500 * 200 * 2000 / 2, rel=1e-12)


@settings(max_examples=15, deadline=None)
@given(
    st.lists(st.floats(200, 1000), min_size=5, max_size=9),
    st.floats(-300, 300),
    st.floats(50, 900),
)
def test_room_of_any_ring_matches_columns_of_depth(radii: list[float], middle: float, level: float) -> None:
    """A star of straight edges over a warped bottom with a station, against a fine raster."""

    def warped(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        aft = np.minimum(x, 1500.0)
        fore = np.maximum(x - 1500.0, 0.0)
        return 0.1 * fore + np.abs(y) * (200 + 0.05 * aft + 0.4 * fore) / (1100 - 0.2 * fore)

    shell = Shell(z=warped, stations=(1500.0,))
    turn = np.arange(len(radii)) / len(radii) * 2 * np.pi
    ring = np.column_stack([1500 + np.array(radii) * np.cos(turn), middle + np.array(radii) * np.sin(turn)])
    n = 300
    x, y = np.meshgrid(
        *(
            low + (np.arange(n) + 0.5) / n * (high - low)
            for low, high in zip(ring.min(0), ring.max(0), strict=True)
        )
    )
    inside = np.ones_like(x, bool)
    cross = np.zeros_like(x, int)
    for (x_1, y_1), (x_2, y_2) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        spans = (y_1 > y) != (y_2 > y)
        if y_1 != y_2:
            cross += spans & (x < x_1 + (y - y_1) / (y_2 - y_1) * (x_2 - x_1))
    inside = cross % 2 == 1
    cell = np.prod(ring.max(0) - ring.min(0)) / n**2
    columns = float(np.maximum(level - warped(x, y), 0.0)[inside].sum() * cell)
    full = plan_area(ring) * level
    assert room_under(ring, level, shell) == pytest.approx(columns, rel=2e-3, abs=2e-4 * full)


def test_the_lowest_place_lies_on_the_keel_within_a_ring_that_crosses_it() -> None:
    dip = Shell(z=lambda x, y: np.abs(x - 700) * 0.1 + np.abs(y), stations=(0.0, 700.0, 2000.0))
    at, low = lowest(np.array([(0, -300), (2000, -300), (2000, 300), (0, 300)], float), dip)
    assert at == (700.0, 0.0)
    assert low == 0.0


def test_deadrise_is_that_of_the_vee_on_the_centreline_too() -> None:
    assert deadrise(np.array([0.0, 10.0]), np.array([0.0, -400.0]), VEE) == pytest.approx(BETA)


def test_a_craft_s_bottom_as_a_shell_has_its_heights() -> None:
    hull = Bottom(
        np.array([0.0, 2000.0]), np.array([0.0, 100.0]), np.array([1000.0, 800.0]), np.array([300.0, 500.0])
    )
    shell = shell_of(hull)
    assert shell.stations == (0.0, 2000.0)
    assert shell.at(1000.0, -450.0) == pytest.approx(50 + 450 / 900 * 350)


def test_a_ton_of_refrigeration_melts_a_short_ton_of_ice_a_day() -> None:
    """12 000 Btu/h is 3516.85 W and a short ton 907.185 kg; the ton rests on 144 Btu/lb, 0.4 % above ours."""
    assert ice_melted(loss=3516.85, difference=1.0) == pytest.approx(907.185, rel=0.005)
    assert insulation(25.0, 1e6).u == pytest.approx((1.0, 1.4))
