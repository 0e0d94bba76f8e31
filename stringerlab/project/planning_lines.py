"""What a member drawn in plan may end at, and how its ends keep to the chine. x, y in mm."""

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

import numpy as np

from stringerlab.craft import Craft, bottom
from stringerlab.errors import StringerlabError
from stringerlab.geometry.construct import nearest
from stringerlab.layout.found import Array
from stringerlab.layout.plan import Layout, LineKind, PlanPoint
from stringerlab.layout.plan_lines import standing

Line = tuple[PlanPoint, ...]
NEAR = 2.0
"""An end this near to the chine stands on it [mm]."""
_ACROSS = 0.5
"""Half of the line with which a member is cut at a place [mm]."""


def length(points: Sequence[PlanPoint]) -> float:
    """Return a line's length."""
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))


def along_of(points: Line, at: PlanPoint) -> float:
    """Return how far along a line its place nearest to a point lies."""
    found = nearest(points, at)
    if found is None:
        return 0.0
    leg = length(points[found.leg : found.leg + 2])
    return length(points[: found.leg + 1]) + found.along * leg


def across(points: Line, along: float) -> Array:
    """Return a short line (2, 2) across a line at a place along it: to cut it there."""
    here = np.array(points[0], float)
    way = np.array([1.0, 0.0])
    left = along
    for a, b in pairwise(points):
        size = length((a, b))
        if size > 0:
            way = (np.array(b) - np.array(a)) / size
            here = np.array(a) + way * min(left, size)
            if left <= size:
                break
        left -= size
    aside = np.array([-way[1], way[0]]) * _ACROSS
    return np.stack([here - aside, here + aside])


def barriers(layout: Layout, craft: Craft, but: str = "") -> list[Array]:
    """Return everything a member may end at: other members, lines, keel and edges of the bottom."""
    lines = (line for line in layout.lines if line.kind is not LineKind.TRACE)
    ids = [drawn.id for drawn in (*layout.members, *lines) if drawn.id != but]
    return [*(line for id_ in ids for line in drawn_as(layout, id_)), *edges(craft)]


def drawn_as(layout: Layout, id: str) -> list[Array]:  # noqa: A002
    """Return where a member or line of a layout stands; nothing where there is none."""
    drawn = [one for one in (*layout.members, *layout.lines) if one.id == id]
    return [each for one in drawn for each in standing(one) if len(each) > 1]


def edges(craft: Craft) -> list[Array]:
    """Return the outline of the bottom, and the keel; none where the stations give no bottom."""
    try:
        hull = bottom(craft)
    except StringerlabError:
        return []
    outline = hull.outline
    keel = np.array([(hull.x[0], 0.0), (hull.x[-1], 0.0)])
    return [np.concatenate([outline, outline[:1]]), keel]


def fitted(points: Line, was: Line, craft: Craft) -> Line:
    """Return a line whose ends lie on the chine where they lay on it before it was moved along the boat.

    Parameters
    ----------
    points, was
        The line now and before.
    craft
        Its stations bound the bottom.
    """
    try:
        hull = bottom(craft)
    except StringerlabError:
        return points
    low, high = float(hull.x[0]), float(hull.x[-1])
    fresh = list(points)
    for end in (0, -1):
        (x, y), now = was[end], fresh[end]
        if not (low <= x <= high and low <= now[0] <= high) or now[0] == x:
            continue
        if abs(abs(y) - float(hull.half_beam(np.array([x]))[0])) <= NEAR:
            side = 1.0 if y >= 0 else -1.0
            fresh[end] = (now[0], side * float(hull.half_beam(np.array([now[0]]))[0]))
    return tuple(fresh)


def settled(at: PlanPoint) -> PlanPoint:
    """Return a place without the noise of arithmetic."""
    return round(float(at[0]), 6) + 0.0, round(float(at[1]), 6) + 0.0
