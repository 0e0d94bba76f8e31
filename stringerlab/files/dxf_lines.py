"""What a DXF draws as lines, flattened: (n, 2) points in mm, chords within a tolerance of each curve.

The drawing's x and y become y and z; what stands out of that plane is laid into it.
"""

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import acos, atan, ceil, cos, hypot, isfinite, pi, radians, sin
from typing import Any

import numpy as np
from ezdxf.entities.arc import Arc
from ezdxf.entities.circle import Circle
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.ellipse import Ellipse
from ezdxf.entities.line import Line
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.spline import Spline
from ezdxf.lldxf.const import DXFError
from ezdxf.math import OCS, Vec3
from numpy.typing import NDArray

Points = NDArray[np.float64]
Bulged = list[tuple[float, float, float]]
"""x, y, and the bulge of the piece that leaves."""

LARGEST = 1e8
"""A hundred kilometres: beyond it not even a boat drawn in mm and stated to be in m comes to lie [mm]."""
COARSEST = 5e-6
"""The tolerance is never finer than this part of a curve's size, which tells only beyond 10 m."""
_CONTROL = 16  # a polyline's vertex that only steers a curve fitted through others


def flattened(entity: DXFGraphic, mm: float, tolerance: float) -> tuple[tuple[Points, ...], str]:
    """Return an entity's lines, and where there are none, why, in words.

    Parameters
    ----------
    entity
        What the drawing holds.
    mm
        How many mm the drawing's unit is.
    tolerance
        Greatest distance between a curve and its chords [mm].
    """
    kind = entity.dxftype()
    make = _MAKERS.get(kind)
    if make is None:
        return (), kind
    try:
        lines = tuple(make(entity, tolerance / mm, LARGEST / mm))
    except (DXFError, ValueError, ArithmeticError, TypeError, IndexError):
        return (), f"{kind}, damaged"
    if not lines:
        return (), f"{kind}, not a line in the plane"
    lines = tuple(line[:, :2] * mm for line in lines)
    if not all(np.isfinite(line).all() and np.abs(line).max() <= LARGEST for line in lines):
        return (), f"{kind}, more than 100 km away or across"
    long = tuple(line for line in lines if np.ptp(line, axis=0).max() > 0)
    return long, "" if long else f"{kind}, without length"


def _line(entity: Line, tolerance: float, largest: float) -> Iterator[Points]:
    del tolerance, largest
    yield _array([entity.dxf.start, entity.dxf.end])


def _arc(entity: Arc, tolerance: float, largest: float) -> Iterator[Points]:
    start, end = radians(entity.dxf.start_angle), radians(entity.dxf.end_angle)
    swept = (end - start) % (2 * pi) or 2 * pi
    yield _round(entity, start, swept, tolerance, largest)


def _circle(entity: Circle, tolerance: float, largest: float) -> Iterator[Points]:
    yield _round(entity, 0.0, 2 * pi, tolerance, largest)


def _round(entity: Arc | Circle, start: float, swept: float, tolerance: float, largest: float) -> Points:
    centre = Vec3(entity.dxf.center)
    radius = float(entity.dxf.radius)
    if not 0 < radius <= largest:
        raise ValueError(f"a radius of {radius:g}")
    tolerance = max(tolerance, COARSEST * radius)
    flat = _swept(centre.x, centre.y, radius, start, swept, tolerance)
    if abs(swept - 2 * pi) < 1e-12:
        flat[-1] = flat[0]
    return _in_world(flat, centre.z, entity.ocs())


def _ellipse(entity: Ellipse, tolerance: float, largest: float) -> Iterator[Points]:
    size = Vec3(entity.dxf.major_axis).magnitude
    _refuse_large(size, largest)
    yield _array(list(entity.flattening(max(tolerance, COARSEST * size))))


def _spline(entity: Spline, tolerance: float, largest: float) -> Iterator[Points]:
    steering = [*entity.control_points, *entity.fit_points]
    if len(steering) < 2:
        return
    corners = np.array(steering, float)
    _refuse_large(float(np.abs(corners).max()), largest)
    size = float(np.ptp(corners, axis=0).max())
    yield _array(list(entity.flattening(max(tolerance, COARSEST * size))))


def _light_polyline(entity: LWPolyline, tolerance: float, largest: float) -> Iterator[Points]:
    bulged = [(float(x), float(y), float(bulge)) for x, y, bulge in entity.get_points("xyb")]
    yield from _bulged(
        bulged, bool(entity.closed), float(entity.dxf.elevation), entity.ocs(), tolerance, largest
    )


def _polyline(entity: Polyline, tolerance: float, largest: float) -> Iterator[Points]:
    vertices = [vertex for vertex in entity.vertices if not int(vertex.dxf.flags) & _CONTROL]
    if entity.is_3d_polyline:
        points = [Vec3(vertex.dxf.location) for vertex in vertices]
        if len(points) > 1:
            yield _array([*points, points[0]] if entity.is_closed else points)
    elif entity.is_2d_polyline and vertices:
        places = [(Vec3(vertex.dxf.location), float(vertex.dxf.get("bulge", 0.0))) for vertex in vertices]
        bulged = [(place.x, place.y, bulge) for place, bulge in places]
        yield from _bulged(bulged, bool(entity.is_closed), places[0][0].z, entity.ocs(), tolerance, largest)


_MAKERS: dict[str, Callable[..., Iterator[Points]]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
    "LWPOLYLINE": _light_polyline,
    "POLYLINE": _polyline,
}


def _bulged(
    given: Bulged, closed: bool, z: float, ocs: OCS, tolerance: float, largest: float
) -> Iterator[Points]:
    """Yield a polyline whose pieces bulge: a bulge is the tangent of a quarter of the arc's angle."""
    if len(given) < 2:
        return
    pieces = [np.array([given[0][:2]])]
    for (x, y, bulge), (x_1, y_1, _) in pairwise([*given, given[0]] if closed else given):
        if bulge and hypot(x_1 - x, y_1 - y):
            pieces.append(_bulge((x, y), (x_1, y_1), bulge, tolerance, largest))
        else:
            pieces.append(np.array([[x_1, y_1]]))
    yield _in_world(np.concatenate(pieces), z, ocs)


def _bulge(
    start: tuple[float, float], end: tuple[float, float], bulge: float, tolerance: float, largest: float
) -> Points:
    """Return the points after the start, up to the very end."""
    swept = 4 * atan(bulge)
    dx, dy = end[0] - start[0], end[1] - start[1]
    radius = hypot(dx, dy) / (2 * abs(sin(swept / 2)))
    if not isfinite(radius) or radius > largest:
        return np.array([end])
    across = (1 - bulge**2) / (4 * bulge)  # of the chord's length, from its middle to the centre, leftward
    x, y = (start[0] + end[0]) / 2 - dy * across, (start[1] + end[1]) / 2 + dx * across
    first = float(np.arctan2(start[1] - y, start[0] - x))
    points = _swept(x, y, radius, first, swept, max(tolerance, COARSEST * radius))[1:]
    points[-1] = end
    return points


def _swept(x: float, y: float, radius: float, start: float, swept: float, tolerance: float) -> Points:
    """Return an arc's chords, each at most ``tolerance`` inside it and never more than a sixteenth turn."""
    half = min(acos(max(1 - tolerance / radius, cos(pi / 16))), pi / 16)
    angles = start + swept * np.linspace(0, 1, max(ceil(abs(swept) / (2 * half) - 1e-9), 1) + 1)
    return np.column_stack([x + radius * np.cos(angles), y + radius * np.sin(angles)])


def _in_world(flat: Points, z: float, ocs: OCS) -> Points:
    if not ocs.transform:
        return flat
    to_world: Any = ocs
    return _array(list(to_world.points_to_wcs([Vec3(float(x), float(y), z) for x, y in flat])))


def _array(points: list[Vec3]) -> Points:
    return np.array([(point.x, point.y) for point in map(Vec3, points)], float)


def _refuse_large(size: float, largest: float) -> None:
    if not size <= largest:
        raise ValueError(f"a size of {size:g}")
