"""Overlaps, differences, unions, holes and validity of areas, with shapely: loaded when first asked.

mm.
"""

from collections.abc import Iterable, Sequence
from typing import Any, cast

import numpy as np
import shapely

from stringerlab.geometry.areas import Area, Array, Polygon

NOTHING = 1e-6
"""An area no larger is none [mm²]."""


def ring_is_sound(ring: Array) -> bool:
    """Return whether a closed line neither crosses nor touches itself and encloses an area."""
    polygon = shapely.Polygon(ring)
    return bool(polygon.is_valid and polygon.area > NOTHING and polygon.exterior.is_simple)


def line_is_simple(points: Array) -> bool:
    """Return whether a line, open or ending on its first point, neither crosses nor touches itself."""
    return bool(shapely.LineString(points).is_simple)


def covered_area(quads: Array) -> float:
    """Return the area covered by convex quadrilaterals (n, 4, 2), what several cover counted once [mm²]."""
    return float(shapely.union_all(shapely.convex_hull(shapely.polygons(quads))).area)


def overlap(one: Area, other: Area) -> tuple[float, float]:
    """Return what two areas share, and its mean thickness: twice the area over its perimeter [mm², mm]."""
    shared = shape_of(one).intersection(shape_of(other))
    return (float(shared.area), float(2 * shared.area / shared.length)) if shared.area > 0 else (0.0, 0.0)


def difference(one: Area, others: Iterable[Area]) -> Area:
    """Return what is left of one area outside all the others."""
    left = shape_of(one)
    for other in others:
        left = left.difference(shape_of(other))
    return _area(left)


def holes(areas: Iterable[Area], *, grid: float = 1e-6) -> list[Array]:
    """Return the rings (n, 2) of the holes that areas enclose, first vertex not repeated.

    Parameters
    ----------
    areas
        What encloses them.
    grid
        Gaps below it are closed [mm].
    """
    whole = shapely.union_all([shape_of(area) for area in areas], grid_size=grid)
    parts = cast(list[Any], shapely.get_parts(whole).tolist())
    return [
        np.asarray(ring.coords, float)[:-1]
        for part in parts
        if part.geom_type == "Polygon"
        for ring in part.interiors
    ]


def sizes(areas: Iterable[Area]) -> tuple[float, float]:
    """Return the areas' sizes added up, and the size of all of them together [mm²]."""
    shapes = [shape_of(area) for area in areas]
    return float(sum(shape.area for shape in shapes)), float(shapely.union_all(shapes).area)


def area_of_rings(rings: Sequence[Array]) -> Area:
    """Return the area that rings bound together, even-odd; they must not cross.

    Raises
    ------
    ValueError
        When a ring crosses itself or encloses nothing.
    """
    shapes = [shapely.Polygon(ring) for ring in rings]
    if not all(shape.is_valid and shape.area > 0 for shape in shapes):
        raise ValueError("A ring crosses itself or encloses nothing.")
    order = sorted(range(len(rings)), key=lambda index: -shapes[index].area)
    polygons: dict[int, Polygon] = {}
    for place, index in enumerate(order):
        inside = [other for other in order[:place] if shapes[other].contains(shapes[index])]
        turned = (
            rings[index] if shapes[index].exterior.is_ccw == (len(inside) % 2 == 0) else rings[index][::-1]
        )
        if len(inside) % 2 == 0:
            polygons[index] = [turned]
        else:
            polygons[inside[-1]].append(turned)
    return list(polygons.values())


def shape_of(area: Area) -> Any:
    """Return an area as the library's own shape, for another library that takes it."""
    polygons = [shapely.Polygon(rings[0], rings[1:]) for rings in area]
    return polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)


def _area(shape: Any) -> Area:
    polygons = [shapely.orient_polygons(part) for part in _parts(shape)]
    return [
        [np.asarray(ring.coords, float)[:-1] for ring in (polygon.exterior, *polygon.interiors)]
        for polygon in polygons
    ]


def _parts(shape: Any) -> list[Any]:
    """Return the polygons of a shape; lines and points that an operation leaves are none."""
    parts = cast(list[Any], shapely.get_parts(shape).tolist())
    return [part for part in parts if part.geom_type == "Polygon" and part.area > 0]
