"""The hull bottom between its stations."""

import math
from dataclasses import replace

import pytest

from stringerlab.craft import (
    Category,
    Craft,
    Station,
    chine_beam_at,
    deadrise_at,
    reference_place,
    section_at,
    station_problems,
)
from stringerlab.errors import StringerlabError

AFT = Station(x=0, keel_z=0, chine_y=1000, chine_z=364)
FORE = Station(x=4000, keel_z=200, chine_y=600, chine_z=900)
CRAFT = Craft(
    name="Skerry",
    category=Category.C,
    waterline_length=5000,
    mass=2000,
    speed=30,
    stations=(AFT, FORE),
)


def test_halfway_between_stations_everything_is_the_mean() -> None:
    assert section_at(CRAFT, 2000) == Station(x=2000, keel_z=100, chine_y=800, chine_z=632)
    assert chine_beam_at(CRAFT, 2000) == 1600


def test_deadrise_is_the_slope_from_keel_to_chine() -> None:
    assert math.degrees(deadrise_at(CRAFT, 0)) == pytest.approx(20.0, abs=0.01)  # 364/1000 = tan 20°
    assert math.tan(deadrise_at(CRAFT, 2000)) == pytest.approx(532 / 800)


def test_third_station_takes_over_where_it_stands() -> None:
    bow = Station(x=5000, keel_z=600, chine_y=100, chine_z=1000)
    craft = replace(CRAFT, stations=(AFT, FORE, bow))
    assert chine_beam_at(craft, 4000) == 1200
    assert chine_beam_at(craft, 4500) == 700


@pytest.mark.parametrize(("x", "beam"), [(-500, 2000), (9000, 1200)])
def test_beyond_the_stations_the_end_one_counts(x: float, beam: float) -> None:
    assert chine_beam_at(CRAFT, x) == beam


def test_reference_is_four_tenths_from_the_waterlines_aft_end() -> None:
    assert reference_place(replace(CRAFT, waterline_aft=-200)) == 1800


def test_good_stations_have_no_problems() -> None:
    assert station_problems(CRAFT) == ()


@pytest.mark.parametrize(
    ("stations", "said"),
    [
        ((), "has no stations"),
        ((AFT,), "has 1 station."),
        ((FORE, AFT), "comes after"),
        ((AFT, replace(FORE, x=0)), "Two stations stand at x = 0 mm"),
        ((replace(AFT, chine_z=-10), FORE), "lies below the keel"),
        ((replace(AFT, chine_y=10), FORE), "deadrise is 88°"),
        ((AFT, replace(FORE, x=1500)), "0.4 of the waterline length lies at x = 2000 mm"),
    ],
)
def test_each_problem_is_said(stations: tuple[Station, ...], said: str) -> None:
    problems = station_problems(replace(CRAFT, stations=stations))
    assert any(said in problem.what for problem in problems), problems
    assert all(problem.where.startswith("craft 'Skerry'") and problem.remedy for problem in problems)


def test_every_problem_is_found_at_once() -> None:
    craft = replace(CRAFT, stations=(replace(FORE, chine_z=0), replace(AFT, chine_y=1)))
    assert len(station_problems(craft)) == 3  # order, chine below keel, deadrise


def test_problem_names_the_station() -> None:
    problems = station_problems(replace(CRAFT, stations=(AFT, replace(FORE, chine_z=0))))
    assert [problem.where for problem in problems] == ["craft 'Skerry', station 2"]


def test_no_deadrise_from_stations_out_of_order() -> None:
    with pytest.raises(StringerlabError, match="comes after"):
        deadrise_at(replace(CRAFT, stations=(FORE, AFT)), 1000)
