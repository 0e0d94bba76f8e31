"""Drawing a backing block against a wall's face, between two of its corners. No Qt."""

from dataclasses import dataclass, replace
from math import hypot

from stringerlab.desktop.sheet.hits import hit
from stringerlab.desktop.sheet.tool import (
    NOTHING,
    Change,
    Edit,
    Place,
    Scene,
    Sketch,
    Step,
    Tool,
    Touch,
    stepped,
)
from stringerlab.geometry import construct
from stringerlab.project import drafting
from stringerlab.section import Side


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawBlock(Tool):
    """``wall`` is the wall it lies against, ``start`` its first corner."""

    wall: str = ""
    start: Place | None = None

    @property
    def busy(self) -> bool:
        """Whether the first corner is set."""
        return self.start is not None

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        if self.start is None:
            return f"Click a wall where one end of the block ({scene.block_name}) lies."
        return "Click the block's opposite corner, away from the wall."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the block's size."""
        sizes = self._sizes(scene, touch.at) if touch else None
        if self.start is None or touch is None or sizes is None:
            return NOTHING
        note = f"{scene.length(sizes[0])} × {scene.length(abs(sizes[1]))}"
        return Sketch(marks=(self.start,), note=note, at=touch.at)

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a corner."""
        if self.start is None:
            found = hit(scene, touch.raw)
            if found is None or scene.wall(found.id) is None:
                return Step(tool=self, refused="There is no wall here to lay a block against.")
            return Step(tool=replace(self, wall=found.id, start=touch.at), select=(found.id,))
        change = self.change(scene, touch.at)
        if change is None:
            return Step(tool=self, refused="The block has no size yet: click away from the wall.")
        edit = Edit(label="Draw block", change=change)
        return Step(tool=DrawBlock(name=self.name), edit=edit, fresh=True)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Preview the block up to the pointer."""
        change = self.change(scene, touch.at)
        return stepped(self, scene, change) if change else Step(tool=self)

    def change(self, scene: Scene, at: Place) -> Change | None:
        """Return the block between the first corner and a place; None while it has no size."""
        sizes, wall = self._sizes(scene, at), scene.wall(self.wall)
        if sizes is None or wall is None or self.start is None or min(sizes[0], abs(sizes[1])) < 0.5:
            return None
        section, width, depth, material = scene.section.id, sizes[0], sizes[1], scene.block
        middle = sizes[2]
        laminate = (depth > 0) == (wall.side is Side.LEFT)
        face = drafting.Face.LAMINATE if laminate else drafting.Face.TOOL
        if laminate:
            depth = abs(depth) - scene.thickness.get(wall.laminate, 0.0)
            if depth <= 0:
                return None
        return lambda project: drafting.with_block(
            project, section, wall.id, middle, width, abs(depth), material, face=face
        )

    def _sizes(self, scene: Scene, at: Place) -> tuple[float, float, Place] | None:
        """Width along the leg, depth to its left, and the middle of the block on the leg."""
        wall = scene.wall(self.wall)
        if wall is None or self.start is None:
            return None
        near = construct.nearest(wall.points, self.start, closed=wall.closed)
        if near is None:
            return None
        one, other = wall.points[near.leg], wall.points[(near.leg + 1) % len(wall.points)]
        size = hypot(other[0] - one[0], other[1] - one[1])
        way = (other[0] - one[0]) / size, (other[1] - one[1]) / size
        arm = at[0] - near.at[0], at[1] - near.at[1]
        along, left = arm[0] * way[0] + arm[1] * way[1], way[0] * arm[1] - way[1] * arm[0]
        middle = near.at[0] + way[0] * along / 2, near.at[1] + way[1] * along / 2
        return abs(along), left, middle
