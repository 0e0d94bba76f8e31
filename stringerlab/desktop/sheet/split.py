"""Cutting a wall in two where it is clicked. No Qt."""

from dataclasses import dataclass

from stringerlab.desktop.sheet.hits import hit
from stringerlab.desktop.sheet.tool import NOTHING, Edit, Scene, Sketch, Step, Tool, Touch
from stringerlab.geometry import construct
from stringerlab.project import drafting


@dataclass(frozen=True, slots=True, kw_only=True)
class Split(Tool):
    """It has no state."""

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        return "Click a wall where it is to be cut in two."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return where the wall would be cut."""
        found = hit(scene, touch.raw) if touch else None
        wall = scene.wall(found.id) if found else None
        near = construct.nearest(wall.points, touch.at, closed=wall.closed) if wall and touch else None
        return Sketch(marks=(near.at,)) if near else NOTHING

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Cut."""
        found = hit(scene, touch.raw)
        if found is None or scene.wall(found.id) is None:
            return Step(tool=self, refused="There is no wall here to cut.")
        section, at = scene.section.id, touch.at
        edit = Edit(label="Split wall", change=lambda project: drafting.split(project, section, found.id, at))
        return Step(tool=self, edit=edit, select=(found.id,))
