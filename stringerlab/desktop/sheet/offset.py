"""Drawing a wall parallel to another: click it, then where the copy runs, or type the distance. No Qt."""

from dataclasses import dataclass, replace

from stringerlab.desktop.sheet.hits import hit
from stringerlab.desktop.sheet.tool import NOTHING, Change, Edit, Scene, Sketch, Step, Tool, Touch, stepped
from stringerlab.errors import StringerlabError
from stringerlab.geometry import construct
from stringerlab.project import drafting
from stringerlab.units import Kind, parse


@dataclass(frozen=True, slots=True, kw_only=True)
class Offset(Tool):
    """``wall`` is the wall taken."""

    wall: str = ""

    @property
    def busy(self) -> bool:
        """Whether a wall is taken."""
        return bool(self.wall)

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field on the sheet now."""
        return bool(self.wall)

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        if not self.wall:
            return "Click the wall to draw a parallel of."
        return "Click where the parallel runs, or type its distance, positive to the laminate's side."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the distance from the wall to the pointer."""
        wall = scene.wall(self.wall)
        if wall is None or touch is None:
            return NOTHING
        near = construct.nearest(wall.points, touch.at, closed=wall.closed)
        if near is None:
            return NOTHING
        return Sketch(lines=((near.at, touch.at),), note=scene.length(near.distance), at=touch.at)

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Take a wall, or set the parallel."""
        if not self.wall:
            found = hit(scene, touch.raw)
            wall = scene.wall(found.id) if found else None
            if wall is None:
                return Step(tool=self, refused="There is no wall here.")
            return Step(tool=replace(self, wall=wall.id), select=(wall.id,))
        edit = Edit(label="Offset", change=self.change(scene, touch))
        return Step(tool=replace(self, wall=""), edit=edit, fresh=True)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Preview the parallel through the pointer."""
        return stepped(self, scene, self.change(scene, touch)) if self.wall else Step(tool=self)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set the parallel at the distance typed."""
        del touch
        if not self.wall:
            return Step(tool=self, refused="Click the wall first.")
        try:
            distance = parse(text, Kind.LENGTH, scene.system)
        except StringerlabError as error:
            return Step(tool=self, refused=str(error))
        section, wall = scene.section.id, self.wall
        edit = Edit(label="Offset", change=lambda project: drafting.offset(project, section, wall, distance))
        return Step(tool=replace(self, wall=""), edit=edit, fresh=True)

    def change(self, scene: Scene, touch: Touch) -> Change:
        """Return the parallel through the pointer."""
        section, wall, at = scene.section.id, self.wall, touch.at
        return lambda project: drafting.offset_through(project, section, wall, at)
