"""The hull bottom between its stations: keel and chine at any place along it, deadrise and chine beam.

x forward from the transom, y to port, z up, mm; angles in rad. Everything runs straight from station to
station; beyond the first and the last the end station counts.
"""

import math
from bisect import bisect_right
from itertools import pairwise

from stringerlab.craft.records import Craft, Station
from stringerlab.errors import Problem, StringerlabError

STEEPEST = math.radians(60)
"""Deadrise above which a station is taken for a slip of the pen: our own bound."""
REFERENCE = 0.4
"""Where along the waterline, from its aft end, standards take chine beam and deadrise."""


def section_at(craft: Craft, x: float) -> Station:
    """Return the cut through the hull bottom at a place.

    Parameters
    ----------
    craft
        The craft.
    x
        From the transom, forward [mm].

    Raises
    ------
    StringerlabError
        When the stations are fewer than two, out of order or doubled.
    """
    wrong = _order_problems(craft)
    if wrong:
        raise StringerlabError(wrong)
    stations = craft.stations
    after = min(max(bisect_right([station.x for station in stations], x), 1), len(stations) - 1)
    aft, fore = stations[after - 1], stations[after]
    part = min(max((x - aft.x) / (fore.x - aft.x), 0.0), 1.0)

    def between(low: float, high: float) -> float:
        return low + part * (high - low)

    return Station(
        x=x,
        keel_z=between(aft.keel_z, fore.keel_z),
        chine_y=between(aft.chine_y, fore.chine_y),
        chine_z=between(aft.chine_z, fore.chine_z),
    )


def deadrise_at(craft: Craft, x: float) -> float:
    """Return the deadrise at a place [rad]: the slope from keel to chine."""
    return _deadrise(section_at(craft, x))


def chine_beam_at(craft: Craft, x: float) -> float:
    """Return the beam over the chines at a place [mm]."""
    return 2 * section_at(craft, x).chine_y


def reference_place(craft: Craft) -> float:
    """Return x at 0.4 of the waterline length from its aft end [mm]."""
    return craft.waterline_aft + REFERENCE * craft.waterline_length


def station_problems(craft: Craft) -> tuple[Problem, ...]:
    """Return everything wrong with the stations: number, order, shape, and whether they reach 0.4 LWL."""
    wrong = list(_order_problems(craft))
    for number, station in enumerate(craft.stations, 1):
        where = _where(craft, number)
        if station.chine_z < station.keel_z:
            wrong.append(
                Problem(
                    f"The chine ({station.chine_z:g} mm) lies below the keel ({station.keel_z:g} mm).",
                    where,
                    "Heights are z upward; raise the chine or lower the keel.",
                )
            )
        elif _deadrise(station) > STEEPEST:
            wrong.append(
                Problem(
                    f"The deadrise is {math.degrees(_deadrise(station)):.0f}°, above 60°.",
                    where,
                    "Check the chine's half-beam and height, in mm.",
                )
            )
    if len(craft.stations) >= 2:
        first, last = min(s.x for s in craft.stations), max(s.x for s in craft.stations)
        place = reference_place(craft)
        if not first <= place <= last:
            wrong.append(
                Problem(
                    f"0.4 of the waterline length lies at x = {place:g} mm, "
                    f"outside the stations ({first:g} to {last:g} mm).",
                    f"craft '{craft.name}'",
                    "Add a station so that chine beam and deadrise are known there.",
                )
            )
    return tuple(wrong)


def _order_problems(craft: Craft) -> tuple[Problem, ...]:
    stations = craft.stations
    if len(stations) < 2:
        return (
            Problem(
                f"The hull bottom has {len(stations) or 'no'} station{'' if len(stations) == 1 else 's'}.",
                f"craft '{craft.name}'",
                "Give at least two, from aft forward.",
            ),
        )
    wrong: list[Problem] = []
    for number, (aft, fore) in enumerate(pairwise(stations), 2):
        if fore.x == aft.x:
            wrong.append(
                Problem(
                    f"Two stations stand at x = {fore.x:g} mm.",
                    _where(craft, number),
                    "Move or remove one of them.",
                )
            )
        elif not fore.x > aft.x:
            wrong.append(
                Problem(
                    f"The station at x = {fore.x:g} mm comes after the one at {aft.x:g} mm.",
                    _where(craft, number),
                    "List the stations from aft forward.",
                )
            )
    return tuple(wrong)


def _where(craft: Craft, number: int) -> str:
    return f"craft '{craft.name}', station {number}"


def _deadrise(station: Station) -> float:
    return math.atan2(station.chine_z - station.keel_z, station.chine_y)
