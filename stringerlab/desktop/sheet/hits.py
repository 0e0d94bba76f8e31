"""What lies under the pointer: a handle, a point, a fillet's handle, a wall's leg, a body. No Qt; mm."""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import cos, dist, hypot

import numpy as np
from numpy.typing import NDArray

from stringerlab.desktop.sheet.tool import Place, Scene
from stringerlab.geometry import construct
from stringerlab.geometry.fillet import rounded
from stringerlab.geometry.picking import What as Picked
from stringerlab.geometry.picking import pick, picked_in
from stringerlab.project import drafting
from stringerlab.project.drafting import FloorHandle, HandleName
from stringerlab.section import Fill, Wall
from stringerlab.units import System

Array = NDArray[np.float64]
_LINES = {Picked.SEGMENT, Picked.FILLET}
_BODIES = {Picked.WALL, Picked.FILL}


class What(StrEnum):
    """What was hit."""

    HANDLE = "handle"
    """One of a starter shape's live handles."""
    POINT = "point"
    FILLET = "fillet"
    LEG = "leg"
    BODY = "body"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """A thing by its id, and which point or leg of it, from 0."""

    what: What
    id: str
    index: int = 0
    at: Place = (0.0, 0.0)
    handle: HandleName | FloorHandle | None = None
    """A starter shape's live handle."""


@lru_cache(4096)
def outline(points: tuple[Place, ...], fillets: tuple[float, ...], closed: bool) -> Array:
    """Return the vertices (n, 2) of a line as drawn; sharp where its fillets do not fit."""
    try:
        return rounded(points, fillets or (0.0,) * len(points), closed=closed)
    except ValueError:
        return np.array((*points, points[0]) if closed else points, float)


def line_of(part: Wall | Fill) -> Array:
    """Return the vertices (n, 2) of a part's drawn line; a closed one ends on its first."""
    if isinstance(part, Fill):
        return outline(part.points, (), True)
    return outline(part.points, part.fillets, part.closed)


def bends(wall: Wall) -> tuple[float, ...]:
    """Return the change of direction at each point of a wall [rad]."""
    return construct.turns(wall.points, closed=wall.closed)


def fillet_handles(wall: Wall, room: float) -> dict[int, Place]:
    """Return where the handle of each corner's fillet stands: on the arc, or ``room`` mm inside."""
    found: dict[int, Place] = {}
    count = len(wall.points)
    for index, bend in enumerate(bends(wall)):
        if abs(bend) < 0.05 or abs(bend) > 2.8:
            continue
        inward = _inward(wall.points[index - 1], wall.points[index], wall.points[(index + 1) % count])
        away = max(_rise(wall, index, bend), room)
        found[index] = (
            wall.points[index][0] + away * inward[0],
            wall.points[index][1] + away * inward[1],
        )
    return found


def fillet_dragged(wall: Wall, index: int, start: Place, end: Place, scene: Scene) -> float:
    """Return the radius of a corner whose handle is dragged from a place to another, in round steps [mm]."""
    count = len(wall.points)
    bend = bends(wall)[index]
    inward = _inward(wall.points[index - 1], wall.points[index], wall.points[(index + 1) % count])
    way = (end[0] - start[0]) * inward[0] + (end[1] - start[1]) * inward[1]
    radius = max(_radius(wall, index) + way / _share(bend), 0.0)
    step = 1.0 if scene.system is System.METRIC else 25.4 / 16
    while step > scene.grid and step > 0.05:
        step /= 10 if scene.system is System.METRIC else 2
    return round(radius / step) * step


def hit(scene: Scene, place: Place, *, free: bool = False) -> Hit | None:
    """Return what lies under a place: what can be gripped of the selection first, then lines, then bodies.

    ``free`` passes over a starter shape's live handles, to the points they stand on.
    """
    return _grip(scene, place, free=free) or _drawn(scene, place)


def boxed(scene: Scene, start: Place, end: Place) -> tuple[str, ...]:
    """Return what a box takes: drawn to the right, what lies whole in it; to the left, what it touches."""
    if scene.bodies is None:
        return ()
    return picked_in(scene.bodies, start, end, touching=end[0] < start[0])


def _grip(scene: Scene, place: Place, *, free: bool) -> Hit | None:
    best: tuple[float, Hit] | None = None
    for id in scene.selected:  # noqa: A001
        for handle in handles(scene, id):
            if free and handle.what is What.HANDLE:
                continue
            away = dist(handle.at, place)
            if away <= 1.5 * scene.reach and (best is None or away < best[0]):
                best = (away, handle)
    return best[1] if best else None


def handles(scene: Scene, id: str) -> list[Hit]:  # noqa: A002
    """Return everything of a selected thing that can be gripped: a shape's handles, points, fillets."""
    known = scene.known.get(id)
    if known is not None:
        return known
    part = scene.part(id)
    found: list[Hit] = []
    scene.known[id] = found
    if part is None:
        return found
    if isinstance(part, Wall):
        found += [
            Hit(what=What.HANDLE, id=id, at=handle.at, handle=handle.name)
            for handle in drafting.shape_handles(scene.project, scene.section, id)
        ]
        if not found:  # a shape's radii go by its live handles, so that it stays that shape
            found += [
                Hit(what=What.FILLET, id=id, index=index, at=at)
                for index, at in fillet_handles(part, 3 * scene.reach).items()
            ]
    found += [Hit(what=What.POINT, id=id, index=index, at=at) for index, at in enumerate(part.points)]
    return found


def _drawn(scene: Scene, place: Place) -> Hit | None:
    if scene.bodies is None:
        return None
    found = pick(scene.bodies, place, scene.reach, only=_LINES | _BODIES, first=scene.selected)
    if found is None:
        return None
    leg = found.what is Picked.SEGMENT
    return Hit(what=What.LEG if leg else What.BODY, id=found.subject, index=found.index, at=found.at)


def _radius(wall: Wall, index: int) -> float:
    return wall.fillets[index] if index < len(wall.fillets) else 0.0


def _share(bend: float) -> float:
    """How far the middle of a fillet of radius 1 lies from its corner."""
    return 1 / cos(bend / 2) - 1


def _rise(wall: Wall, index: int, bend: float) -> float:
    return _radius(wall, index) * _share(bend)


def _inward(before: Place, here: Place, after: Place) -> Place:
    """Unit direction from a corner to the inside of its bend."""
    y, z = 0.0, 0.0
    for other in (before, after):
        size = max(dist(other, here), 1e-12)
        y, z = y + (other[0] - here[0]) / size, z + (other[1] - here[1]) / size
    size = max(hypot(y, z), 1e-12)
    return y / size, z / size
