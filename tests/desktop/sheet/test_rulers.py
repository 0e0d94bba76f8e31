"""Rulers and grid in the project's units: round steps, labels never crowded."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.desktop.sheet.rulers import INCH, grid_step, shown, step, ticks
from stringerlab.units import System

SCALES = st.floats(0.02, 2000)


@given(scale=SCALES, least=st.floats(5, 100))
def test_metric_steps_are_one_two_and_five(scale: float, least: float):
    found = step(scale, System.METRIC, least)
    mantissa = float(f"{found:.6e}".split("e")[0])
    assert mantissa in (1.0, 2.0, 5.0)
    assert least * (1 - 1e-9) <= found * scale < least * 2.5 * (1 + 1e-9)


@pytest.mark.parametrize(
    ("pixels_per_inch", "inches"),
    [(400, 1 / 16), (200, 1 / 8), (100, 1 / 4), (50, 1 / 2), (30, 1.0), (14, 2.0), (4.5, 6.0), (2.0, 12.0)],
)
def test_inches_halve_and_then_go_by_feet(pixels_per_inch: float, inches: float):
    assert step(pixels_per_inch / INCH, System.US, 22.0) == pytest.approx(inches * INCH)


@given(scale=SCALES, system=st.sampled_from(System))
def test_numbers_on_a_ruler_keep_their_distance(scale: float, system: System):
    found = ticks(-400 / scale, 400 / scale, scale, system, 60.0)
    labelled = [tick.at * scale for tick in found if tick.label]
    assert all(after - before >= 60 * (1 - 1e-9) for before, after in pairwise(labelled))
    assert all((after.at - before.at) * scale >= 5 * (1 - 1e-6) for before, after in pairwise(found))
    assert len(labelled) >= 2


def test_the_origin_is_numbered():
    assert [tick.label for tick in ticks(-10, 10, 2.0, System.METRIC, 50) if abs(tick.at) < 1e-9] == ["0"]


@pytest.mark.parametrize(
    ("place", "system", "words"),
    [
        (250.0, System.METRIC, "250"),
        (-0.5, System.METRIC, "−0.5"),
        (0.0, System.US, "0"),
        (INCH * 0.5, System.US, "1/2"),
        (INCH * 3.25, System.US, "3 1/4"),
        (-INCH * 1.0625, System.US, "−1 1/16"),
        (INCH * 0.01, System.US, "0.01"),
    ],
)
def test_numbers_as_a_ruler_shows_them(place: float, system: System, words: str):
    assert shown(place, system) == words


def test_the_grid_is_at_least_nine_pixels_wide():
    assert grid_step(1.0, System.METRIC) == 10.0
    assert grid_step(25.4 * 9 / INCH, System.US) == pytest.approx(INCH / 16)
