"""The room around a point between solid areas: its outline, or where it leaks. mm."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

import numpy as np
import shapely
from shapely.ops import split

from stringerlab.geometry.areas import Area, Array
from stringerlab.geometry.planar import shape_of

Point = tuple[float, float]

GRID = 1e-6
"""Gaps below it are none [mm]."""
_MOST = 200
"""Gaps looked at, the narrowest."""


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """An area that bounds a room, its name, and its open ends: each the two corners of an end face."""

    name: str
    area: Area
    ends: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True, slots=True)
class Gap:
    """The narrowest place between two solids through which a room leaks."""

    at: Point
    """Its middle."""
    width: float
    between: tuple[str, str]


@dataclass(frozen=True, slots=True, eq=False)
class Room:
    """What encloses a point."""

    outlines: tuple[Array, ...] = ()
    """Rings (n, 2) that tile the room, none repeating its first point; several where it has islands."""
    gaps: tuple[Gap, ...] = field(default=())
    """What had to be bridged to close it; without outlines, where it leaks."""


def solid_at(solids: Sequence[Solid], at: Point) -> str | None:
    """Return the name of the solid a point lies in, None in the open."""
    point = shapely.Point(at)
    return next((solid.name for solid in solids if shape_of(solid.area).intersects(point)), None)


def room_at(solids: Sequence[Solid], at: Point, *, tolerance: float = 0.01) -> Room:
    """Return the room around a point that lies in no solid.

    Parameters
    ----------
    solids
        What bounds it; they may touch and overlap.
    at
        The point [mm].
    tolerance
        Gaps narrower than this are taken as closed [mm].

    Returns
    -------
    Room
        With outlines when it is closed; else with the gaps that would have to be closed, and with
        neither when nothing lies around the point.
    """
    whole = shapely.union_all([shape_of(solid.area) for solid in solids], grid_size=GRID)
    point = shapely.Point(at)
    room = _face(whole, [], point)
    if room is not None:
        return Room(tuple(_outlines(room)))
    bridges = _bridges(solids)
    if _face(whole, bridges, point) is None:
        return Room()
    needed = _needed(whole, [], bridges, point, grown=False)
    gaps = tuple(_gap(solids, each) for each in needed)
    closed = all(gap.width <= tolerance for gap in gaps)
    return Room(tuple(_outlines(_face(whole, needed, point))) if closed else (), gaps)


def _needed(whole: Any, given: list[Any], bridges: list[Any], point: Any, *, grown: bool) -> list[Any]:
    """Return the bridges that close a room together with those given, as few and as short as can be.

    Bridges come shortest first; halves are tried away whole, so that few rooms are traced.
    """
    if grown and _face(whole, given, point) is not None:
        return []
    if len(bridges) == 1:
        return bridges
    half = len(bridges) // 2
    short, long = bridges[:half], bridges[half:]
    of_long = _needed(whole, [*given, *short], long, point, grown=True)
    of_short = _needed(whole, [*given, *of_long], short, point, grown=bool(of_long))
    return [*of_short, *of_long]


def _face(whole: Any, bridges: Sequence[Any], point: Any) -> Any:
    """Return the bounded face outside the solids around a point, or None."""
    lines = shapely.union_all([whole.boundary, *bridges], grid_size=GRID)
    faces: list[Any] = list(shapely.get_parts(shapely.polygonize([*shapely.get_parts(lines)])))
    for face in faces:
        if face.covers(point) and not whole.contains(face.representative_point()):
            return face
    return None


def _bridges(solids: Sequence[Solid]) -> list[Any]:
    """Return the shortest lines across the gaps between solids, and from open ends onward, shortest first.

    A line that runs through a third solid crosses no gap of its own; of the others the shortest count.
    """
    shapes = np.array([shape_of(solid.area) for solid in solids], object)
    one, other = np.triu_indices(len(shapes), 1)
    lines = [_across(shapes[one], shapes[other])]
    owners = [(index, shapely.LineString(end)) for index, solid in enumerate(solids) for end in solid.ends]
    for index, end in owners:
        lines.append(_across(end, np.delete(shapes, index)))
        lines.append(_across(end, np.array([each for at, each in owners if at == index and each is not end])))
    ends = shapely.get_coordinates(np.concatenate(lines)).reshape(-1, 2, 2)
    ends = ends[np.hypot(*(ends[:, 1] - ends[:, 0]).T) > GRID]
    way = ends[:, 1] - ends[:, 0]
    inner = np.stack([ends[:, 0] + 0.01 * way, ends[:, 1] - 0.01 * way], axis=1)
    crossing = shapely.STRtree(list(shapes)).query(shapely.linestrings(inner), predicate="intersects")[0]
    free = np.bincount(crossing, minlength=len(ends)) == 0
    order = np.argsort(np.hypot(*way[free].T), kind="stable")[:_MOST]
    return [shapely.LineString(pair) for pair in ends[free][order].tolist()]


def _across(one: Any, others: Any) -> Any:
    """Return the shortest lines between shapes."""
    return cast(Any, shapely).shortest_line(one, others)


def _gap(solids: Sequence[Solid], bridge: Any) -> Gap:
    (y_1, z_1), (y_2, z_2) = bridge.coords
    shapes = [shape_of(solid.area) for solid in solids]
    names = [
        solids[int(np.argmin([shape.distance(shapely.Point(end)) for shape in shapes]))].name
        for end in bridge.coords
    ]
    return Gap(((y_1 + y_2) / 2, (z_1 + z_2) / 2), float(bridge.length), (names[0], names[1]))


def _outlines(room: Any) -> Iterator[Array]:
    """Yield the rings of a room; one with islands is cut upright through each of them."""
    pieces = [room]
    low, high = float(room.bounds[1]) - 1, float(room.bounds[3]) + 1
    for island in room.interiors:
        y = float(shapely.Polygon(island).representative_point().x)
        knife = shapely.LineString([(y, low), (y, high)])
        pieces = [part for piece in pieces for part in split(piece, knife).geoms]
    for piece in pieces:
        ring = np.asarray(shapely.orient_polygons(piece).exterior.coords, float)[:-1]
        yield _without_straights(ring)


def _without_straights(ring: Array) -> Array:
    """Leave out vertices on a straight line between their neighbours."""
    before, after = np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0)
    along, on = after - before, ring - before
    off = np.abs(along[:, 0] * on[:, 1] - along[:, 1] * on[:, 0]) / np.maximum(np.hypot(*along.T), GRID)
    return ring[off > GRID]
