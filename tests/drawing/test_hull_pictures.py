"""The hull bottom's picture: plan, profile and sections, sound or not."""

from dataclasses import replace
from math import atan2, degrees

import numpy as np
import pytest

from stringerlab.drawing import Area, Label, Line, Picture, Role, area_of, stations_picture
from stringerlab.drawing.hulls import ENLARGED
from stringerlab.project import Project


def lines(picture: Picture, role: Role) -> list[Line]:
    return [item for item in picture if isinstance(item, Line) and item.role is role]


def test_plan_is_as_long_and_wide_as_the_stations(boat: Project) -> None:
    picture = stations_picture(boat.craft)
    (plan,) = [item for item in picture if isinstance(item, Area) and item.subject == "plan"]
    low, high = plan.rings[0].min(axis=0), plan.rings[0].max(axis=0)
    assert low.tolist() == [0, -980]
    assert high.tolist() == [5600, 980]
    x = [station.x for station in boat.craft.stations]
    half = [station.chine_y for station in boat.craft.stations]
    assert area_of(plan) == pytest.approx(2 * np.trapezoid(half, x))


def test_every_station_has_its_vee_with_its_deadrise(boat: Project) -> None:
    picture = stations_picture(boat.craft)
    vees = {
        item.subject: item.points
        for item in picture
        if isinstance(item, Line) and item.subject.startswith("station/") and len(item.points) == 3
    }
    words = {
        item.subject: item.text for item in picture if isinstance(item, Label) and item.text.endswith("°")
    }
    for number, station in enumerate(boat.craft.stations, 1):
        rise = station.chine_z - station.keel_z
        vee = vees[f"station/{number}"]
        assert ((vee[2] - vee[1]) / ENLARGED).tolist() == pytest.approx([station.chine_y, rise])
        assert ((vee[0] - vee[1]) / ENLARGED).tolist() == pytest.approx([-station.chine_y, rise])
        angle = float(words[f"station/{number}"].split()[1].rstrip("°"))
        assert angle == pytest.approx(degrees(atan2(rise, station.chine_y)), abs=0.05)


def test_waterline_length_is_dimensioned_from_where_it_ends_aft(boat: Project) -> None:
    craft = replace(boat.craft, waterline_aft=150.0)
    along = [line.points for line in lines(stations_picture(craft), Role.WATER)]
    assert any(points[:, 0].tolist() == [150, 150 + craft.waterline_length] for points in along)
    words = [item.text for item in stations_picture(craft) if isinstance(item, Label)]
    assert "waterline 5400 mm" in words


def test_selected_station_stands_out_in_all_three_views(boat: Project) -> None:
    chosen = lines(stations_picture(boat.craft, selected=2), Role.SELECTED)
    assert [line.subject for line in chosen] == ["station/2"] * 3
    assert not lines(stations_picture(boat.craft), Role.SELECTED)


def test_labels_of_sections_never_stand_on_one_another(boat: Project) -> None:
    heights = sorted(
        item.at[1]
        for item in stations_picture(boat.craft)
        if isinstance(item, Label) and item.text.endswith("°")
    )
    assert min(np.diff(heights)) > 0.1 * 980


@pytest.mark.parametrize("order", [(2, 0, 1), (1, 1), (0,), ()])
def test_unsound_stations_are_drawn_as_far_as_they_go(boat: Project, order: tuple[int, ...]) -> None:
    stations = tuple(boat.craft.stations[index] for index in order)
    picture = stations_picture(replace(boat.craft, stations=stations))
    vees = [
        line for line in lines(picture, Role.CHINE) if len(line.points) == 3 and line.subject[:4] == "stat"
    ]
    assert len(vees) == len(order)
    assert picture.bounds() is not None


def test_station_that_is_no_number_is_left_out(boat: Project) -> None:
    bad = replace(boat.craft.stations[1], chine_y=float("nan"))
    craft = replace(boat.craft, stations=(boat.craft.stations[0], bad, *boat.craft.stations[2:]))
    bounds = stations_picture(craft).bounds()
    assert bounds is not None
    assert np.isfinite(bounds).all()
