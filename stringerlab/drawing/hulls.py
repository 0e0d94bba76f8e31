"""The hull bottom as a picture: plan above, profile under it, the stations' vees below, enlarged. mm."""

from dataclasses import replace
from math import atan2, degrees, isfinite

import numpy as np

from stringerlab.craft import Craft, Station
from stringerlab.drawing.dimensions import dimension
from stringerlab.drawing.display import Area, Item, Label, Line, Picture, Points, Role, Ticks
from stringerlab.units import Kind, System, trimmed
from stringerlab.units import format as shown

ENLARGED = 1.5
"""How much larger the vees are drawn than plan and profile."""
_APART = 0.28
"""Least distance between the vees' figures, as a part of the greatest half breadth."""


def stations_picture(craft: Craft, *, selected: int | None = None, units: System = System.METRIC) -> Picture:
    """Return the hull bottom between its stations, whatever is wrong with them.

    ``station/2`` is the subject of the second station. Half the breadth is drawn as given on both sides.

    Parameters
    ----------
    craft
        The craft.
    selected
        Number of the station to stand out, from 1.
    units
        Units of the figures.
    """
    stations = [
        (number, station)
        for number, station in enumerate(craft.stations, 1)
        if all(map(isfinite, (station.x, station.keel_z, station.chine_y, station.chine_z)))
    ]
    if not stations:
        return Picture(items=(Label(at=(0.0, 0.0), text="no stations yet"),))
    run = sorted(stations, key=lambda pair: pair[1].x)
    x = np.array([station.x for _, station in run])
    keel = np.array([station.keel_z for _, station in run])
    chine_y = np.array([station.chine_y for _, station in run])
    chine_z = np.array([station.chine_z for _, station in run])
    breadth = float(chine_y.max())
    rise = float(max(chine_z.max(), keel.max()) - keel.min())
    drop = -(1.35 * breadth + 1.25 * rise) - float(keel.min())
    items: list[Item] = [
        *_plan(run, x, chine_y, selected),
        *_profile(run, x, keel + drop, chine_z + drop, selected),
        *_waterline(craft, float(keel.min()) + drop, rise, units),
        *_body_plan(run, float(x.min() + x.max()) / 2, float(keel.min()), breadth, rise, drop, selected),
    ]
    return Picture(items=tuple(items))


def _plan(run: list[tuple[int, Station]], x: Points, chine_y: Points, selected: int | None) -> list[Item]:
    port, starboard = np.stack([x, chine_y], axis=1), np.stack([x, -chine_y], axis=1)
    ends = np.array([[x.min(), 0.0], [x.max(), 0.0]])
    items: list[Item] = [_region(port, starboard, "plan")]
    for number, station in run:
        across = np.array([[station.x, -station.chine_y], [station.x, station.chine_y]])
        role = Role.SELECTED if number == selected else Role.GRID
        subject = f"station/{number}"
        items.append(Line(points=across, role=role, subject=subject, tip=_told(number, station)))
        items.append(
            Label(at=(station.x, station.chine_y), text=str(number), level=1, small=True, subject=subject)
        )
    items += [
        Line(points=port, role=Role.CHINE, subject="chine", tip="chine"),
        Line(points=starboard, role=Role.CHINE, subject="chine", tip="chine"),
        Line(points=np.stack([port[0], starboard[0]]), role=Role.KEEL, tip="aftmost station"),
        Line(points=ends, role=Role.KEEL, subject="keel", tip="keel"),
        Label(at=(float(x.max()), 0.0), text="forward", role=Role.DIMENSION, align=1, small=True),
    ]
    return items


def _region(one: Points, other: Points, subject: str) -> Area:
    """Return what lies between two lines along the hull."""
    ring = np.concatenate([one, other[::-1]])
    return Area(rings=(ring,), role=Role.KEEL, subject=subject, tip="hull bottom")


def _profile(
    run: list[tuple[int, Station]], x: Points, keel: Points, chine: Points, selected: int | None
) -> list[Item]:
    below, above = np.stack([x, keel], axis=1), np.stack([x, chine], axis=1)
    items: list[Item] = [_region(below, above, "profile")]
    for (number, station), low, high in zip(run, below, above, strict=True):
        role = Role.SELECTED if number == selected else Role.GRID
        items.append(
            Line(
                points=np.stack([low, high]),
                role=role,
                subject=f"station/{number}",
                tip=_told(number, station),
            )
        )
    items += [
        Line(points=above, role=Role.CHINE, subject="chine", tip="chine"),
        Line(points=below, role=Role.KEEL, subject="keel", tip="keel"),
        Label(at=_point(above[-1]), text="chine", role=Role.CHINE, align=1, small=True),
        Label(at=_point(below[0]), text="keel", role=Role.KEEL, align=-1, small=True),
    ]
    return items


def _waterline(craft: Craft, bottom: float, rise: float, units: System) -> list[Item]:
    """Return the waterline's length, dimensioned under the profile."""
    aft = craft.waterline_aft
    fore = aft + craft.waterline_length
    if not (isfinite(aft) and isfinite(fore) and fore > aft):
        return []
    words = f"waterline {shown(craft.waterline_length, Kind.LENGTH, units)}"
    found = dimension((aft, bottom), (fore, bottom), -max(0.5 * rise, 1.0), words, subject="waterline")
    return [replace(item, role=Role.WATER) for item in found if not isinstance(item, Ticks)]


def _body_plan(
    run: list[tuple[int, Station]],
    place: float,
    base: float,
    breadth: float,
    rise: float,
    drop: float,
    selected: int | None,
) -> list[Item]:
    """Return every station's vee, all on one centre line, enlarged, with its deadrise at the chine."""
    apart = _APART * breadth
    high = max(ENLARGED * rise, apart * len(run))
    bottom = base + drop - max(0.5 * rise, 1.0) - 0.45 * breadth - high
    lift = bottom + (high - ENLARGED * rise) / 2
    centre = np.array([[place, bottom - 0.05 * breadth], [place, bottom + high + 0.05 * breadth]])
    items: list[Item] = [Line(points=centre, role=Role.AXIS, tip="centre line")]

    def height(z: float) -> float:
        return lift + ENLARGED * (z - base)

    for number, station in run:
        half = ENLARGED * station.chine_y
        vee = np.array(
            [
                [place - half, height(station.chine_z)],
                [place, height(station.keel_z)],
                [place + half, height(station.chine_z)],
            ]
        )
        role = Role.SELECTED if number == selected else Role.CHINE
        subject = f"station/{number}"
        items.append(Line(points=vee, role=role, subject=subject, tip=_told(number, station)))
    spread = _spread([height(station.chine_z) for _, station in run], apart)
    for (number, station), level in zip(run, spread, strict=True):
        corner = (place + ENLARGED * station.chine_y, height(station.chine_z))
        at = (place + (ENLARGED + 0.25) * breadth, level)
        items.append(Line(points=np.array([corner, at]), role=Role.GRID, subject=f"station/{number}"))
        items.append(
            Label(
                at=at,
                text=f"{number}  {trimmed(_deadrise(station), 3)}°",
                align=1,
                small=True,
                subject=f"station/{number}",
            )
        )
    words = "deadrise by station"
    beside = (place - (ENLARGED + 0.1) * breadth, bottom + high / 2)
    items.append(Label(at=beside, text=words, align=-1, small=True))
    return items


def _spread(heights: list[float], apart: float) -> list[float]:
    """Return heights moved so that none stands nearer than ``apart`` to the next, about the same middle."""
    order = sorted(range(len(heights)), key=lambda index: (heights[index], index))
    moved = [heights[index] for index in order]
    for place in range(1, len(moved)):
        moved[place] = max(moved[place], moved[place - 1] + apart)
    back = (sum(moved) - sum(heights)) / len(moved)
    found = [0.0] * len(heights)
    for place, index in enumerate(order):
        found[index] = moved[place] - back
    return found


def _deadrise(station: Station) -> float:
    return degrees(atan2(station.chine_z - station.keel_z, station.chine_y))


def _told(number: int, station: Station) -> str:
    return f"station {number} at x = {trimmed(station.x)} mm, deadrise {trimmed(_deadrise(station), 3)}°"


def _point(pair: Points) -> tuple[float, float]:
    return float(pair[0]), float(pair[1])
