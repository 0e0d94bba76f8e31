"""What lies under the pointer on the plan, and what a box takes: pure hit tests. x forward, y to port, mm."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import dist

import numpy as np

from stringerlab.desktop.plan.scene import Array, Scene, footprint, instances, places, stands_of
from stringerlab.geometry.construct import nearest
from stringerlab.geometry.faces import enclosing
from stringerlab.layout.plan import Cavity, Equipment, Member, PlanLine

Place = tuple[float, float]


class What(StrEnum):
    """What was hit."""

    POINT = "point"
    MEMBER = "member"
    LINE = "line"
    EQUIPMENT = "equipment"
    CAVITY = "cavity"
    BAY = "bay"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """A thing under the pointer."""

    what: What
    id: str
    at: Place
    index: int = 0
    """Number of its point, or of the leg hit, from 0."""
    flip: float = 1.0
    """−1 on the mirror image of what is drawn."""

    def drawn(self, place: Place) -> Place:
        """Return a place on the plan as it is drawn: a mirror image's is turned over."""
        return place[0], self.flip * place[1] + 0.0


def points_of(scene: Scene, id: str) -> Iterator[Hit]:  # noqa: A002
    """Yield the points of a thing that can be gripped, on both sides."""
    thing = scene.things.get(id)
    if isinstance(thing, Member | PlanLine):
        for line, flip in instances(thing):
            for number, (x, y) in enumerate(line.tolist()):
                yield Hit(what=What.POINT, id=id, at=(x, y), index=number, flip=flip)
    elif isinstance(thing, Cavity):
        for number, at in enumerate(thing.anchors):
            yield Hit(what=What.POINT, id=id, at=at, index=number)


def hit(scene: Scene, at: Place) -> Hit | None:
    """Return the thing under the pointer: points of what is selected first, then lines, bodies, bays."""
    grips = [grip for each in scene.selected for grip in points_of(scene, each)]
    near = min(grips, key=lambda grip: dist(grip.at, at), default=None)
    if near is not None and dist(near.at, at) <= scene.reach:
        return near
    return _line(scene, at) or _equipment(scene, at) or _member_body(scene, at) or _bay(scene, at)


def member_at(scene: Scene, at: Place) -> Hit | None:
    """Return the member under the pointer, by its line or its body."""
    found = _line(scene, at)
    if found is not None and found.what is What.MEMBER:
        return found
    return _member_body(scene, at)


def bay_at(scene: Scene, at: Place) -> str:
    """Return the id of the bay a place lies in, empty for none."""
    rings = scene.rings
    found = enclosing([ring for _, ring in rings], np.array([at], float)) if rings else []
    return rings[found[0][0]][0] if found else ""


def span_at(scene: Scene, member: str, at: Place) -> str:
    """Return the id of a member's span nearest to a place, empty for none."""
    best, chosen = float("inf"), ""
    for span in scene.found.spans:
        if span.member != member:
            continue
        for line in span.lines:
            found = nearest(_pairs(line), at)
            if found is not None and found.distance < best:
                best, chosen = found.distance, span.id
    return chosen


def boxed(scene: Scene, one: Place, other: Place) -> tuple[str, ...]:
    """Return what a box takes: to the right what lies whole in it, to the left what it touches."""
    low = np.minimum(one, other)
    high = np.maximum(one, other)
    touching = other[0] < one[0]
    found: list[str] = []
    for id_, lines in _outlines(scene):
        if touching:
            taken = any(_crosses(line, low, high) for line in lines)
        else:
            taken = any(len(line) > 0 and bool(((line >= low) & (line <= high)).all()) for line in lines)
        if taken:
            found.append(id_)
    return tuple(found)


def lines_of(scene: Scene, id: str) -> list[Array]:  # noqa: A002
    """Return the lines (n, 2) that show a thing, found or drawn."""
    thing = scene.things.get(id)
    if isinstance(thing, Member | PlanLine):
        return [line for line, _ in instances(thing)]
    if isinstance(thing, Equipment):
        return [_closed(footprint(thing, at)) for at in places(thing)]
    if isinstance(thing, Cavity):
        inside = {bay_at(scene, anchor) for anchor in thing.anchors}
        return [_closed(ring) for bay, ring in scene.rings if bay in inside]
    if (span := scene.spans.get(id)) is not None:
        return list(span.lines)
    if (bay := scene.bays.get(id)) is not None:
        return [_closed(ring) for ring in (bay.clear if all(map(len, bay.clear)) else bay.rings)]
    return []


def _outlines(scene: Scene) -> Iterator[tuple[str, list[Array]]]:
    for id_, thing in scene.things.items():
        if not isinstance(thing, Cavity):
            yield id_, lines_of(scene, id_)


def _line(scene: Scene, at: Place) -> Hit | None:
    best: tuple[float, Hit] | None = None
    for thing, line, flip in stands_of(scene.layout).near(at, scene.reach):
        found = nearest(_pairs(line), at)
        if found is None or found.distance > scene.reach:
            continue
        if best is None or found.distance < best[0]:
            what = What.MEMBER if isinstance(thing, Member) else What.LINE
            best = found.distance, Hit(what=what, id=thing.id, at=found.at, index=found.leg, flip=flip)
    return best[1] if best else None


def _member_body(scene: Scene, at: Place) -> Hit | None:
    widest = max((size.base_width / 2 for size in scene.sizes.values()), default=0.0)
    for thing, line, flip in reversed(list(stands_of(scene.layout).near(at, widest))):
        if not isinstance(thing, Member):
            continue
        found = nearest(_pairs(line), at)
        if found is not None and found.distance <= scene.half_base(thing):
            return Hit(what=What.MEMBER, id=thing.id, at=found.at, index=found.leg, flip=flip)
    return None


def _equipment(scene: Scene, at: Place) -> Hit | None:
    smallest: tuple[float, Hit] | None = None
    for thing in scene.layout.equipment:
        for place in places(thing):
            flip = 1.0 if place[1] == thing.at[1] else -1.0
            corners = footprint(thing, place)
            low, high = corners.min(axis=0), corners.max(axis=0)
            inside = bool((low <= at).all() and (at <= high).all())
            if not inside and dist(place, at) > 1.4 * scene.reach:
                continue
            size = float((high - low).prod())
            if smallest is None or size < smallest[0]:
                smallest = size, Hit(what=What.EQUIPMENT, id=thing.id, at=place, flip=flip)
    return smallest[1] if smallest else None


def _bay(scene: Scene, at: Place) -> Hit | None:
    bay = bay_at(scene, at)
    if not bay:
        return None
    for cavity in scene.layout.cavities:
        if dist(cavity.anchors[0], at) <= 1.4 * scene.reach if cavity.anchors else False:
            return Hit(what=What.CAVITY, id=cavity.id, at=cavity.anchors[0])
    return Hit(what=What.BAY, id=bay, at=at)


def _pairs(line: Array) -> list[Place]:
    return [(x, y) for x, y in line.tolist()]


def _closed(ring: Array) -> Array:
    return np.concatenate([ring, ring[:1]])


def _crosses(line: Array, low: Array, high: Array) -> bool:
    """Whether any leg comes into a box: by clipping each leg."""
    for start, end in pairwise(line):
        way = end - start
        first, last = 0.0, 1.0
        for axis in (0, 1):
            if abs(way[axis]) < 1e-12:
                if not low[axis] <= start[axis] <= high[axis]:
                    first = 2.0
                continue
            parts = sorted(((low[axis] - start[axis]) / way[axis], (high[axis] - start[axis]) / way[axis]))
            first, last = max(first, float(parts[0])), min(last, float(parts[1]))
        if first <= last:
            return True
    return False
