"""What catches the pointer on the plan: hull, stations, members, lines, the underlay, the grid. mm."""

from collections.abc import Collection, Iterator, Sequence
from math import dist

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.desktop.plan.scene import Array, Scene, instances
from stringerlab.desktop.sheet.tool import Place
from stringerlab.geometry.snapping import Curve, Kind, Snap, Targets, snap


class Catcher:
    """Targets of one layout; made anew only when it, the hull, the grid or the underlay is another."""

    def __init__(self) -> None:
        self._targets: tuple[tuple[object, ...], Targets] | None = None

    def snap(
        self,
        scene: Scene,
        raw: Place,
        radius: float,
        *,
        origin: Place | None,
        ortho: bool,
        without: Collection[str],
        points: bool,
        underlay: Sequence[Array] = (),
    ) -> Snap | None:
        """Return what catches the pointer; with ``points`` off only the ortho lock holds it."""
        key = (scene.layout, scene.project.craft, scene.grid, underlay)
        held = self._targets
        if held is None or any(one is not other for one, other in zip(held[0], key, strict=True)):
            made = Targets.of((*_curves(scene), *_under(underlay)), scene.grid)
            self._targets = held = (key, made)
        if not points:
            return snap(held[1], raw, radius, origin, ortho, kinds=()) if ortho else None
        caught = snap(held[1], raw, radius, origin, ortho, without=without)
        if caught is None or ortho or caught.kind not in _LOOSE:
            return caught
        if origin is not None:
            level = snap(held[1], raw, radius, origin, ortho=True, without=without)
            if level is not None and level.kind is Kind.INTERSECTION and dist(level.at, raw) <= radius:
                return level
        if caught.kind is Kind.NEAREST:
            return _on_grid(caught, held[1], raw, scene.grid, radius)
        return caught


_LOOSE = (Kind.PERPENDICULAR, Kind.NEAREST, Kind.GRID)
"""What gives way to a place on a line straight fore and aft, or straight athwart, of where a stroke began."""


def _on_grid(caught: Snap, targets: Targets, raw: Place, grid: float, radius: float) -> Snap:
    """Return a place on a line moved along it to a grid step, where one is within reach of the pointer."""
    at = np.array(caught.at)
    arm = at - targets.starts
    size = np.maximum((targets.ways * targets.ways).sum(axis=1), 1e-12)
    share = (arm * targets.ways).sum(axis=1) / size
    off = np.hypot(*(arm - share[:, None] * targets.ways).T)
    on = (off < _ON) & (share > -1e-9) & (share < 1 + 1e-9)
    on &= np.array(targets.subjects)[targets.segment_of] == caught.subject
    if not on.any() or grid <= 0:
        return caught
    index = int(np.flatnonzero(on)[0])
    start, way = targets.starts[index], targets.ways[index]
    axis = int(np.argmax(np.abs(way)))
    part = float((round(caught.at[axis] / grid) * grid - start[axis]) / way[axis])
    moved = start + part * way
    place = float(moved[0]) + 0.0, float(moved[1]) + 0.0
    if not 0 <= part <= 1 or dist(place, raw) > radius:
        return caught
    return Snap(caught.kind, place, caught.subject)


_ON = 1e-6
"""So near to a line is on it [mm]."""


def _curves(scene: Scene) -> Iterator[Curve]:
    for drawn in (*scene.layout.members, *scene.layout.lines):
        for line, _ in instances(drawn):
            if len(line) > 1:
                yield Curve(subject=drawn.id, points=line)
    if scene.hull is not None:
        yield from hull_curves(scene.hull)


def hull_curves(hull: Bottom) -> Iterator[Curve]:
    """Yield transom, stations, forward edge, chines and keel, each by its name."""
    count = len(hull.x)
    for number, (x, half) in enumerate(zip(hull.x.tolist(), hull.chine_y.tolist(), strict=True)):
        ends = {0: "transom", count - 1: "forward edge"}
        name = ends.get(number, f"station {number + 1}")
        yield Curve(subject=name, points=np.array([(x, -half), (x, 0.0), (x, half)]))
    for side in (1.0, -1.0):
        yield Curve(subject="chine", points=np.stack([hull.x, side * hull.chine_y], axis=1))
    yield Curve(subject="keel", points=np.array([(hull.x[0], 0.0), (hull.x[-1], 0.0)]))


def _under(lines: Sequence[Array]) -> Iterator[Curve]:
    for line in lines:
        yield Curve(subject="underlay", points=line)
