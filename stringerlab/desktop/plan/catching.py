"""What catches the pointer on the plan: hull, stations, members, lines, the underlay, the grid. mm."""

from collections.abc import Collection, Iterator, Sequence

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.desktop.plan.scene import Array, Scene, instances
from stringerlab.desktop.sheet.tool import Place
from stringerlab.geometry.snapping import Curve, Snap, Targets, snap


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
        return snap(held[1], raw, radius, origin, ortho, without=without)


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
