"""Edits of what a project has one of: its name, notes, method, units, and its craft's particulars.

A value that is already there gives the same project back: no change is no step to undo.
"""

from dataclasses import replace
from typing import Any

from stringerlab.craft.records import Craft, Station
from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.records import Project


def with_particulars(project: Project, **values: Any) -> Project:
    """Return the project with another ``name``, ``notes``, ``method`` or ``units``."""
    return _changed(project, values)


def with_craft_values(project: Project, **values: Any) -> Project:
    """Return the project with other values in its craft, by field name, as typed: mm, kg, kn."""
    return _with_craft(project, _changed(project.craft, values))


def with_station(project: Project, number: int | None = None) -> Project:
    """Return the project with a station more.

    Parameters
    ----------
    project
        The project.
    number
        The station, from 0, after which it comes: half way to the next one in place, keel and chine, or as
        far beyond as the one before lies aft. None for the last.

    Raises
    ------
    StringerlabError
        When there is no such station.
    """
    stations = project.craft.stations
    at = len(stations) - 1 if number is None else number
    if stations:
        _refuse_outside(project, at)
    return _with_stations(project, (*stations[: at + 1], _following(stations, at), *stations[at + 1 :]))


def with_station_values(project: Project, number: int, **values: float) -> Project:
    """Return the project with other values in the station of this number, from 0.

    Raises
    ------
    StringerlabError
        When there is no such station.
    """
    _refuse_outside(project, number)
    stations = project.craft.stations
    return _with_stations(
        project, (*stations[:number], _changed(stations[number], values), *stations[number + 1 :])
    )


def without_stations(project: Project, numbers: tuple[int, ...]) -> Project:
    """Return the project without the stations of these numbers, from 0.

    Raises
    ------
    StringerlabError
        When there is no such station.
    """
    for number in numbers:
        _refuse_outside(project, number)
    kept = tuple(station for i, station in enumerate(project.craft.stations) if i not in numbers)
    return _with_stations(project, kept)


def with_stations_sorted(project: Project) -> Project:
    """Return the project with its stations from aft forward."""
    return _with_stations(project, tuple(sorted(project.craft.stations, key=lambda station: station.x)))


def _following(stations: tuple[Station, ...], at: int) -> Station:
    if not stations:
        return Station(x=0, keel_z=0, chine_y=900, chine_z=250)
    here = stations[at]
    if at + 1 < len(stations):
        after = stations[at + 1]
        return Station(
            x=(here.x + after.x) / 2,
            keel_z=(here.keel_z + after.keel_z) / 2,
            chine_y=(here.chine_y + after.chine_y) / 2,
            chine_z=(here.chine_z + after.chine_z) / 2,
        )
    step = here.x - stations[at - 1].x if at and here.x > stations[at - 1].x else 1000.0
    return replace(here, x=here.x + step)


def _with_stations(project: Project, stations: tuple[Station, ...]) -> Project:
    return with_craft_values(project, stations=stations)


def _with_craft(project: Project, craft: Craft) -> Project:
    return project if craft is project.craft else replace(project, craft=craft)


def _changed(record: Any, values: dict[str, Any]) -> Any:
    same = all(getattr(record, name) == value for name, value in values.items())
    return record if same else replace(record, **values)


def _refuse_outside(project: Project, number: int) -> None:
    count = len(project.craft.stations)
    if not 0 <= number < count:
        what = f"There is no station {number + 1}."
        raise StringerlabError(Problem(what, f"craft '{project.craft.name}'", f"It has {count}."))
