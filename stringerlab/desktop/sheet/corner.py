"""Rounding a corner: press on it and drag inward, or click it and type the radius. No Qt."""

from dataclasses import dataclass, replace
from math import dist

from stringerlab.desktop.sheet.hits import bends, fillet_dragged, fillet_handles
from stringerlab.desktop.sheet.tool import NOTHING, Change, Edit, Scene, Sketch, Step, Tool, Touch, stepped
from stringerlab.errors import StringerlabError
from stringerlab.project import drafting
from stringerlab.units import Kind, parse


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner(Tool):
    """``corner`` is the wall and point taken; ``start`` where the drag began, None once the button is up."""

    corner: tuple[str, int] | None = None
    start: Touch | None = None
    dragging: bool = False

    @property
    def busy(self) -> bool:
        """Whether a corner is taken."""
        return self.corner is not None

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field on the sheet now."""
        return self.corner is not None

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        if self.corner is None:
            return "Press on a wall's corner and drag inward to round it."
        return "Drag to set the radius, or type it; 0 makes the corner sharp."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the corner taken and its radius."""
        wall = scene.wall(self.corner[0]) if self.corner else None
        if wall is None or self.corner is None:
            return NOTHING
        at = wall.points[self.corner[1]]
        note = f"R {scene.length(self._radius(scene, touch))}" if self.dragging and touch else ""
        return Sketch(marks=(at,), note=note, at=touch.raw if touch else at)

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Take the corner nearest, by its point or by its fillet's handle."""
        best: tuple[float, tuple[str, int]] | None = None
        for wall in scene.section.walls:
            handles = fillet_handles(wall, 0.0)
            for index, bend in enumerate(bends(wall)):
                if abs(bend) < 0.05 or index not in handles:
                    continue
                away = min(dist(touch.raw, wall.points[index]), dist(touch.raw, handles[index]))
                if away <= 2 * scene.reach and (best is None or away < best[0]):
                    best = (away, (wall.id, index))
        if best is None:
            return Step(tool=Corner(name=self.name), refused="There is no corner here to round.")
        return Step(tool=replace(self, corner=best[1], start=touch, dragging=False), select=(best[1][0],))

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Preview the radius."""
        if self.corner is None or self.start is None:
            return Step(tool=self)
        if not self.dragging and dist(touch.raw, self.start.raw) < scene.reach / 2:
            return Step(tool=self)
        tool = replace(self, dragging=True)
        return stepped(tool, scene, tool.change(scene, tool._radius(scene, touch)))

    def released(self, scene: Scene, touch: Touch) -> Step:
        """Set the radius dragged to; after a plain click wait for one to be typed."""
        if not self.dragging:
            return Step(tool=replace(self, start=None))
        change = self.change(scene, self._radius(scene, touch))
        return Step(tool=Corner(name=self.name), edit=Edit(label="Change fillet", change=change))

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set the radius typed."""
        del touch
        if self.corner is None:
            return Step(tool=self, refused="Click the corner first.")
        try:
            radius = parse(text, Kind.LENGTH, scene.system)
        except StringerlabError as error:
            return Step(tool=self, refused=str(error))
        change = self.change(scene, radius)
        return Step(tool=Corner(name=self.name), edit=Edit(label="Change fillet", change=change))

    def change(self, scene: Scene, radius: float) -> Change:
        """Return the change to a radius [mm]."""
        section, corner = scene.section.id, self.corner
        return lambda project: drafting.filleted(project, section, [corner] if corner else [], radius)

    def _radius(self, scene: Scene, touch: Touch | None) -> float:
        wall = scene.wall(self.corner[0]) if self.corner else None
        if wall is None or self.corner is None or self.start is None or touch is None:
            return 0.0
        return fillet_dragged(wall, self.corner[1], self.start.raw, touch.raw, scene)
