from collections.abc import Callable

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.project.beginning import new_boat
from stringerlab.project.particulars import (
    with_craft_values,
    with_particulars,
    with_station,
    with_station_values,
    with_stations_sorted,
    without_stations,
)
from stringerlab.units import System


@pytest.fixture
def boat() -> Project:
    return new_boat()


def places(project: Project) -> list[float]:
    return [station.x for station in project.craft.stations]


def test_values_change_and_all_else_stays(boat: Project) -> None:
    after = with_craft_values(with_particulars(boat, name="Sedge", units=System.US), speed=31.5, mass=1700)
    assert (after.name, after.units, after.craft.speed, after.craft.mass) == ("Sedge", System.US, 31.5, 1700)
    assert after.sections is boat.sections
    assert after.craft.stations is boat.craft.stations


@pytest.mark.parametrize(
    "again",
    [
        lambda boat: with_particulars(boat, name=boat.name),
        lambda boat: with_craft_values(boat, speed=boat.craft.speed),
        lambda boat: with_station_values(boat, 1, x=boat.craft.stations[1].x),
        with_stations_sorted,
        lambda boat: without_stations(boat, ()),
    ],
)
def test_the_same_value_is_no_change(boat: Project, again: Callable[[Project], Project]) -> None:
    assert again(boat) is boat


def test_a_station_comes_half_way_to_the_next(boat: Project) -> None:
    after = with_station(boat, 1)
    aft, new, fore = after.craft.stations[1:4]
    assert (aft, fore) == boat.craft.stations[1:3]
    for field in ("x", "keel_z", "chine_y", "chine_z"):
        assert getattr(new, field) == pytest.approx((getattr(aft, field) + getattr(fore, field)) / 2)


def test_a_station_at_the_end_goes_on_as_far(boat: Project) -> None:
    assert places(with_station(boat))[-1] == 5600 + (5600 - 4200)


def test_the_first_station_of_all_stands_at_the_transom(boat: Project) -> None:
    bare = without_stations(boat, (0, 1, 2, 3))
    assert places(bare) == []
    assert places(with_station(bare)) == [0]
    assert places(with_station(with_station(bare))) == [0, 1000]


def test_stations_are_put_in_order(boat: Project) -> None:
    mixed = with_station_values(boat, 0, x=3000.0)
    assert places(with_stations_sorted(mixed)) == [2200, 3000, 4200, 5600]


@pytest.mark.parametrize("number", [-1, 4])
def test_a_station_that_is_none_is_refused(boat: Project, number: int) -> None:
    for edit in (
        lambda: with_station(boat, number),
        lambda: with_station_values(boat, number, x=1.0),
        lambda: without_stations(boat, (number,)),
    ):
        with pytest.raises(StringerlabError, match="There is no station"):
            edit()
