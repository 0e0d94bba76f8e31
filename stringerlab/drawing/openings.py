"""Holes through a section's webs: what each takes out of every web, and in words which. mm.

A section is a cut across the member; a hole along it is drawn as where the cut passes its middle.
"""

from collections.abc import Sequence
from math import cos, sin

import numpy as np

from stringerlab.drawing.display import Area, Item, Label, Line, Points, Role
from stringerlab.drawing.options import Options
from stringerlab.layout import Opening
from stringerlab.section import SectionShape
from stringerlab.section.bodies import bodies
from stringerlab.section.webs import Web, across, carrying, runs, webs
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

MOST = 4
"""Kinds of holes that are told apart in words."""
SUBJECT = "opening"
_LEVELS = 9
"""Heights at which the two faces of a web are taken along a hole."""
_AWAY = 0.06
"""How far beside the outermost web words stand, as a part of the drawing's width."""
_LINE = 0.2
"""What two lines of words take of a section's height, about."""


def openings(shape: SectionShape, deadrise: float, low: Points, high: Points, options: Options) -> list[Item]:
    """Return what a section's holes take out of its webs, each kind named once at the section's side.

    Parameters
    ----------
    shape
        The section.
    deadrise
        Of the shell it stands on [rad]: a hole's heights are above the shell.
    low, high
        Corners of the box around the drawing (2,) [mm].
    options
        The holes, each with its span's name; beside diagrams the words stand at the left.
    """
    kinds = _kinds(options.openings)
    if not kinds:
        return []
    found = runs(bodies(shape, deadrise=deadrise), deadrise)
    standing = carrying(webs(found), found)
    turn = complex(cos(deadrise), sin(deadrise))
    side = -1 if options.strain or options.stress or options.shear_flow else 1
    away = side * _AWAY * float(high[0] - low[0])
    items: list[Item] = []
    place = 0.0, 0.0
    places: list[float] = []
    step = _LINE * float(high[1] - low[1])
    for kind, names in kinds[:MOST]:
        tip = f"{_words(kind, options.units)}, in {', '.join(dict.fromkeys(names))}"
        cuts = [ring for web in standing if (ring := _cut(web, kind, turn)) is not None]
        items += [
            Area(rings=(ring,), role=Role.OPENING, edge=Role.OPENING, subject=SUBJECT, tip=tip)
            for ring in cuts
        ]
        beside = max((_middle(ring) for ring in cuts), key=lambda at: side * at[0], default=None)
        y, z = (0.0, kind.bottom + kind.height / 2) if beside is None else beside
        place = y + away, max([z, *(other + step for other in places)])
        places.append(place[1])
        if beside is not None:
            items.append(Line(points=np.array([beside, place]), role=Role.OPENING, subject=SUBJECT, tip=tip))
        items.append(_label(place, _short(kind, names, options.units, missed=beside is None), side))
    if len(kinds) > MOST:
        items.append(_label((place[0], place[1] + step), f"and {len(kinds) - MOST} other kinds", side))
    return items


def _label(at: tuple[float, float], text: str, side: int) -> Label:
    return Label(at=at, text=text, role=Role.OPENING, align=side, small=True, subject=SUBJECT)


def _kinds(held: Sequence[tuple[str, Opening]]) -> list[tuple[Opening, list[str]]]:
    """Return holes that look alike in the section together, lowest first, with the spans they are in."""
    kinds: dict[tuple[object, ...], tuple[Opening, list[str]]] = {}
    for name, hole in held:
        key = (hole.kind, hole.bottom, hole.height, hole.width)
        kinds.setdefault(key, (hole, []))[1].append(name)
    return sorted(kinds.values(), key=lambda kind: (kind[0].bottom, kind[0].height))


def _cut(web: Web, hole: Opening, turn: complex) -> Points | None:
    """Return the ring (n, 2) a hole takes out of a web, in the section's axes; None where it misses."""
    low, high = max(hole.bottom, web.bottom), min(hole.bottom + hole.height, web.height)
    if high <= low:
        return None
    heights = np.linspace(low, high, _LEVELS).tolist()
    faces = [(place, height) for height in heights if (place := across(web, height)) is not None]
    if len(faces) < 2:
        return None
    ring = [complex(left, height) for (left, _), height in faces]
    ring += [complex(right, height) for (_, right), height in reversed(faces)]
    turned = np.array(ring) * turn
    return np.stack([turned.real, turned.imag], axis=1)


def _middle(ring: Points) -> tuple[float, float]:
    y, z = ring.mean(axis=0).tolist()
    return y, z


def _words(hole: Opening, units: System) -> str:
    height, width, bottom = (
        shown(size, Kind.LENGTH, units, digits=3) for size in (hole.height, hole.width, hole.bottom)
    )
    up = f"{bottom} above the shell" if hole.bottom else "on the shell"
    return f"{hole.kind.value} hole {height} high, {width} wide, {up}"


def _short(hole: Opening, names: Sequence[str], units: System, *, missed: bool) -> str:
    height, width = (shown(size, Kind.LENGTH, units, digits=3) for size in (hole.height, hole.width))
    count = len(set(names))
    where = "no web there" if missed else f"in {count} span{'s' if count > 1 else ''}"
    return f"{hole.kind.value} hole, {where}\n{height} high, {width} wide"
