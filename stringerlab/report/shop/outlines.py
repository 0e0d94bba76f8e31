"""The outline of every bonded flange on the hull's inboard face, in plan: what is traced before the dry fit.

x forward from the transom, y to port, mm. A flange ends where another member's hollow is open through to it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from stringerlab.assess import section_facts
from stringerlab.assess.sections import sound_shape
from stringerlab.craft import Bottom
from stringerlab.drawing import Area, Item, Label, Line, Mark, Picture, Role, Ticks
from stringerlab.drawing.plan_options import PlanOptions
from stringerlab.drawing.plan_shapes import at_parts, distances, offsets, piece
from stringerlab.drawing.plans import hull_items
from stringerlab.errors import StringerlabError
from stringerlab.geometry import planar
from stringerlab.geometry.areas import Area as Region
from stringerlab.project import Project, Resolved
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.report.shop.members import Array, Run, hull_bottom, runs_of

_SMALL = 100.0
"""A scrap of outline smaller than this is none [mm²]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Traced:
    """The flanges of one piece of a member, as they lie on the hull."""

    letter: str
    """What it is called on the plan: shared by the pieces of a pair."""
    name: str
    section: str
    beaded: bool
    """Whether it stands on a bead; else it is laminated in place."""
    rings: tuple[Array, ...]
    """(n, 2) outlines, holes too; what other members' hollows take is cut away."""
    middle: Array
    """(n, 2) the member's line."""
    edges: tuple[tuple[Array, Array], ...]
    """Of every flange its inner and outer edge, (n, 2) each, at the places of ``middle``; uncut."""


def traced(project: Project, resolved: Resolved) -> tuple[Traced, ...]:
    """Return the outlines of every drawn member with flanges on the hull; none without a layout in use.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    """
    hull = hull_bottom(project)
    runs = [run for run in runs_of(project) if run.lines]
    if hull is None or not runs:
        return ()
    laid = [(run, line, strips) for run in runs for line, strips in _strips(resolved, run, hull)]
    hollows = [_hollow(strips) for _, _, strips in laid]
    letters = {key: _letter(number) for number, key in enumerate(dict.fromkeys(_key(run) for run in runs))}
    found: list[Traced] = []
    for index, (run, line, strips) in enumerate(laid):
        if not strips:
            continue
        others = [
            hollow
            for place, hollow in enumerate(hollows)
            if hollow is not None and laid[place][0].id != run.id
        ]
        rings = [ring for strip in strips for ring in _left(_region(*strip), others)]
        found.append(
            Traced(
                letter=letters[_key(laid[index][0])],
                name=run.name,
                section=run.section.name,
                beaded=run.section.bead > 0,
                rings=tuple(rings),
                middle=line,
                edges=tuple(strips),
            )
        )
    return tuple(found)


def outline_picture(project: Project, outlines: tuple[Traced, ...]) -> Picture:
    """Return the outlines on the hull bottom, the bow up: port is on the left."""
    options = PlanOptions(units=project.units)
    items: list[Item] = [
        Line(points=item.rings[0], role=item.role, closed=True) if isinstance(item, Area) else item
        for item in hull_items(hull_bottom(project), options)
        if isinstance(item, Label) or item.subject != "keel"
    ]
    for one in outlines:
        role = Role.MEMBER if one.beaded else Role.UNCOUNTED
        tip = f"{one.letter} {one.name}"
        if one.rings:
            items.append(Area(rings=one.rings, role=role, edge=Role.MEMBER, tip=tip))
        items.append(Line(points=one.middle, role=Role.AXIS, tip=tip))
    seen: set[str] = set()
    for one in outlines:
        key = f"{one.letter}{one.middle[:, 1].sum() >= 0}"
        if key not in seen:
            seen.add(key)
            x, y = at_parts(one.middle, np.array([0.38]))[0].tolist()
            items.append(Label(at=(x, y), text=one.letter, align=1, level=1))
    return bow_up(Picture(items=tuple(items)))


def bow_up(picture: Picture) -> Picture:
    """Return a plan turned with its bow up the sheet."""
    return Picture(items=tuple(_turned(item) for item in picture))


def _turned(item: Area | Line | Label | Mark | Ticks) -> Area | Line | Label | Mark | Ticks:
    match item:
        case Area():
            return replace(item, rings=tuple(_turn(ring) for ring in item.rings))
        case Line():
            return replace(item, points=_turn(item.points))
        case Ticks():
            return replace(item, starts=_turn(item.starts), ends=_turn(item.ends))
        case Label():
            x, y = item.at
            ends = item.text in ("forward", "transom")
            level = item.align if ends else item.level
            return replace(item, at=(-y, x), align=0 if ends else item.align, level=level)
        case Mark():
            return replace(item, at=(-item.at[1], item.at[0]))


def _turn(points: Array) -> Array:
    return np.stack([-points[:, 1], points[:, 0]], axis=1)


def _key(run: Run) -> str:
    return f"{run.id} {run.section.id}"


def _letter(number: int) -> str:
    ring, place = divmod(number, 26)
    return ("" if ring == 0 else _letter(ring - 1)) + chr(ord("A") + place)


def _strips(resolved: Resolved, run: Run, hull: Bottom) -> Iterator[tuple[Array, list[tuple[Array, Array]]]]:
    """Yield each piece's line, and its flanges' edges; a mirrored piece has them mirrored."""
    try:
        measured = section_facts(sound_shape(resolved, run.section), drawn_deadrise(run.section))
        bonded = sorted(measured.bonded)
    except StringerlabError:
        bonded = []
    first = run.lines[0]
    port = first if first[:, 1].sum() >= 0 else first * (1, -1)
    line = _stationed(port)
    edges: list[tuple[Array, Array]] = []
    for start, end in bonded:
        inner, outer = (start, end) if abs(start) <= abs(end) else (end, start)
        edges.append((_beside(line, inner, hull), _beside(line, outer, hull)))
    for piece_ in run.lines:
        flip = np.array((1.0, 1.0 if piece_[:, 1].sum() >= 0 else -1.0))
        yield line * flip, [(inner * flip, outer * flip) for inner, outer in edges]


def _stationed(line: Array) -> Array:
    """Return a line with a point at least every tenth of its length, so that its edges follow the skin."""
    run = distances(line)
    every = np.union1d(run, np.linspace(0.0, float(run[-1]), 11))
    kept = every[np.concatenate([[True], np.diff(every) > 1e-6])]
    return at_parts(line, kept / run[-1]) if len(kept) > 1 else piece(line, 0.0, float(run[-1]))


def _beside(line: Array, along_shell: float, hull: Bottom) -> Array:
    """Return a line shifted to its left by a distance measured in the skin [mm]."""
    left = offsets(line)
    size = np.maximum(np.hypot(left[:, 0], left[:, 1]), 1e-12)[:, None]
    away = left / size * np.sign(along_shell)
    slope = (hull.gradient(line + away) * away).sum(axis=1)
    return line + left * (along_shell / np.sqrt(1 + slope**2))[:, None]


def _region(inner: Array, outer: Array) -> Region:
    ring = np.concatenate([inner, outer[::-1]])
    return [[ring if _signed(ring) > 0 else ring[::-1]]]


def _hollow(strips: list[tuple[Array, Array]]) -> Region | None:
    """Return what lies between a member's innermost flange edges; None for one that has no two."""
    if len(strips) < 2:
        return None
    ring = np.concatenate([strips[0][0], strips[-1][0][::-1]])
    return None if abs(_signed(ring)) < _SMALL else [[ring if _signed(ring) > 0 else ring[::-1]]]


def _left(region: Region, others: list[Region]) -> list[Array]:
    if not planar.ring_is_sound(region[0][0]):
        return [region[0][0]]
    sound = [other for other in others if planar.ring_is_sound(other[0][0])]
    return [
        ring
        for polygon in planar.difference(region, sound)
        if abs(_signed(polygon[0])) > _SMALL
        for ring in polygon
    ]


def _signed(ring: Array) -> float:
    x, y = (ring - ring[0]).T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)
