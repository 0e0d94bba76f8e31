"""The hull bottom over the plan: height, slopes, lengths in the skin."""

import numpy as np
import pytest

from stringerlab.craft import Category, Craft, Station, bottom
from stringerlab.errors import StringerlabError

CRAFT = Craft(
    name="Skerry",
    category=Category.C,
    waterline_length=5000,
    mass=2000,
    speed=30,
    stations=(
        Station(x=0, keel_z=0, chine_y=1000, chine_z=364),
        Station(x=2500, keel_z=20, chine_y=1050, chine_z=420),
        Station(x=4000, keel_z=200, chine_y=600, chine_z=900),
    ),
)
HULL = bottom(CRAFT)


def test_outline_runs_round_the_bottom_counter_clockwise() -> None:
    x, y = HULL.outline.T
    area = (x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2
    assert area == pytest.approx(2500 * (1000 + 1050) + 1500 * (1050 + 600))


def test_keel_and_chine_are_where_the_stations_have_them() -> None:
    places = np.array([(0, 0), (0, 1000), (0, -1000), (2500, 1050), (4000, 600), (4000, 0)], float)
    assert HULL.height(places) == pytest.approx([0, 364, 364, 420, 900, 200])


def test_gradient_is_the_slope_of_the_height() -> None:
    rng = np.random.default_rng(3)
    x = rng.uniform([50, 2600], [2400, 3900], (20, 2)).ravel()
    y = rng.uniform(20, 550, 40) * rng.choice([-1, 1], 40)
    places, h = np.stack([x, y], axis=1), 1e-3
    for axis, step in enumerate(np.eye(2) * h):
        slope = (HULL.height(places + step) - HULL.height(places - step)) / (2 * h)
        assert HULL.gradient(places)[:, axis] == pytest.approx(slope, abs=1e-7)


def test_lengths_in_the_skin_go_down_to_the_keel_and_up_again() -> None:
    half = np.hypot(1000, 364)
    across = np.array([(0, -1000), (0, 1000)], float)
    assert HULL.length(across) == pytest.approx(2 * half)
    assert HULL.length(across[:, :] * (1, 0.5)) == pytest.approx(half)


def test_places_within_and_beyond_the_bottom() -> None:
    places = np.array([(-1, 0), (0, 1000), (0, 1000.5), (4000, 600), (4001, 0)], float)
    assert HULL.within(places).tolist() == [False, True, False, True, False]
    assert HULL.within(places, 1.0).all()


def test_deadrise_is_the_slope_across() -> None:
    assert np.degrees(HULL.deadrise(np.array([0.0]))) == pytest.approx([20.0], abs=0.01)


def test_one_station_is_no_bottom() -> None:
    with pytest.raises(StringerlabError):
        bottom(Craft(name="x", category=Category.C, waterline_length=5000, mass=1, speed=1, stations=()))
