"""Selecting and dragging: parts, points, fillets, live handles of a shape, and boxes. No Qt."""

from dataclasses import dataclass, replace
from math import dist

from stringerlab.desktop.sheet.hits import Hit, What, boxed, fillet_dragged, hit
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
from stringerlab.geometry.construct import polar
from stringerlab.project import drafting


@dataclass(frozen=True, slots=True, kw_only=True)
class Select(Tool):
    """At rest, or with something in the hand since ``start``; ``dragging`` once it has moved."""

    held: Hit | None = None
    start: Touch | None = None
    dragging: bool = False
    point: tuple[str, int] | None = None
    """The point last taken: Delete removes it."""
    narrowed: bool = False
    """Whether letting go without a drag leaves only what is held selected."""

    @property
    def busy(self) -> bool:
        """Whether something is being dragged."""
        return self.dragging

    @property
    def catches(self) -> bool:
        """Whether something is in the hand that can be caught."""
        return self.held is not None and self.held.what is not What.FILLET

    @property
    def origin(self) -> Place | None:
        """Where the drag began."""
        return self.start.at if self.dragging and self.held and self.start else None

    @property
    def left_out(self) -> tuple[str, ...]:
        """What is dragged."""
        return (self.held.id,) if self.dragging and self.held else ()

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        if self.dragging:
            if self.held is None:
                return "Let go: to the right takes what lies whole in the box, to the left what it touches."
            return "Let go to set it; Shift keeps it level or plumb; Escape puts it back."
        if not scene.selected:
            return "Click a wall or fill, or drag a box around several."
        if self.point is not None:
            return "Drag the point, or press Delete to remove it. Double-click a leg to add one."
        return (
            "Drag to move; drag a point or handle to shape it, with Ctrl the bare point of a shape; "
            "click a number to type it."
        )

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the box, or how far what is held has moved."""
        if not self.dragging or self.start is None or touch is None:
            return NOTHING
        if self.held is None:
            return Sketch(box=(self.start.raw, touch.raw), crossing=touch.raw[0] < self.start.raw[0])
        if self.held.what in (What.FILLET, What.HANDLE):
            return NOTHING
        length, angle = polar(self.start.at, touch.at)
        return Sketch(
            lines=((self.start.at, touch.at),),
            note=f"{scene.length(length)}  {angle:.1f}°".replace("-", "−"),
            at=touch.at,
        )

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Take what lies there, or begin a box."""
        found = hit(scene, touch.raw, free=touch.ctrl)
        start = touch
        if found is None:
            return Step(tool=replace(self, held=None, start=start, point=None, narrowed=not touch.shift))
        if found.what is What.POINT:
            start = replace(touch, at=found.at)
            tool = replace(self, held=found, start=start, point=(found.id, found.index), narrowed=False)
            return Step(tool=tool)
        if found.what in (What.FILLET, What.HANDLE):
            return Step(tool=replace(self, held=found, start=touch, point=None, narrowed=False))
        chosen = scene.selected
        narrowed = False
        if touch.shift:
            chosen = (
                tuple(each for each in chosen if each != found.id)
                if found.id in chosen
                else (*chosen, found.id)
            )
        elif found.id in chosen:
            narrowed = len(chosen) > 1
        else:
            chosen = (found.id,)
        tool = replace(self, held=found, start=start, point=None, narrowed=narrowed)
        return Step(tool=tool, select=chosen)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Drag what is held."""
        if self.start is None:
            return Step(tool=self)
        if not self.dragging and dist(touch.raw, self.start.raw) < scene.reach / 2:
            return Step(tool=self)
        tool = replace(self, dragging=True)
        change = tool.change(scene, touch)
        return stepped(tool, scene, change) if change else Step(tool=tool)

    def released(self, scene: Scene, touch: Touch) -> Step:
        """Set what is dragged, take what the box holds, or narrow the selection down to what was clicked."""
        rest = Select(name=self.name, point=self.point)
        if self.start is None:
            return Step(tool=rest)
        if not self.dragging:
            if self.held is None:
                return Step(tool=rest, select=() if self.narrowed else None)
            return Step(tool=rest, select=(self.held.id,) if self.narrowed else None)
        if self.held is None:
            found = boxed(scene, self.start.raw, touch.raw)
            kept = scene.selected if touch.shift else ()
            return Step(tool=rest, select=(*kept, *(each for each in found if each not in kept)))
        change = self.change(scene, touch)
        return Step(tool=rest, edit=Edit(label=self.label(scene), change=change) if change else None)

    def doubled(self, scene: Scene, touch: Touch) -> Step:
        """Put a point into the leg under the pointer."""
        found = hit(scene, touch.raw)
        if found is None or found.what not in (What.LEG, What.BODY):
            return Step(tool=Select(name=self.name))
        section, at = scene.section.id, touch.at
        if found.what is not What.LEG:
            return Step(
                tool=Select(name=self.name), refused="Double-click a leg's line to add a point to it."
            )
        return Step(
            tool=Select(name=self.name, point=(found.id, found.index + 1)),
            edit=Edit(
                label="Add point",
                change=lambda project: drafting.vertex_inserted(project, section, found.id, at, found.index),
            ),
            select=(found.id,),
        )

    def deleted(self, scene: Scene) -> Step:
        """Remove the point last taken, or what is selected."""
        part = scene.part(self.point[0]) if self.point else None
        if self.point is None or part is None or self.point[1] >= len(part.points):
            return Tool.deleted(Select(name=self.name), scene)
        point, section = self.point, scene.section.id
        return Step(
            tool=Select(name=self.name),
            edit=Edit(
                label="Delete point",
                change=lambda project: drafting.removed(project, section, [point]),
            ),
        )

    def escaped(self) -> Tool:
        """Put back what is dragged."""
        return Select(name=self.name)

    def change(self, scene: Scene, touch: Touch) -> Change | None:
        """Return the change that letting go here means."""
        held, start, section = self.held, self.start, scene.section.id
        if held is None or start is None:
            return None
        if held.what is What.HANDLE and held.handle is not None:
            handle = held.handle
            return lambda project: drafting.with_shape_handle_at(project, section, held.id, handle, touch.at)
        if held.what is What.FILLET:
            wall = scene.wall(held.id)
            if wall is None:
                return None
            radius = fillet_dragged(wall, held.index, start.raw, touch.raw, scene)
            return lambda project: drafting.filleted(project, section, [(held.id, held.index)], radius)
        if held.what is What.POINT:
            return lambda project: drafting.with_point_at(
                project, section, held.id, held.index, y=touch.at[0], z=touch.at[1]
            )
        ids = scene.selected if held.id in scene.selected else (held.id,)
        across, up = touch.at[0] - start.at[0], touch.at[1] - start.at[1]
        return lambda project: drafting.moved(project, section, ids, across, up)

    def label(self, scene: Scene) -> str:
        """Return the name of the edit."""
        del scene
        what = self.held.what if self.held else What.BODY
        handle = f"Change {self.held.handle}" if self.held and what is What.HANDLE else ""
        return handle or {What.POINT: "Move point", What.FILLET: "Change fillet"}.get(what, "Move")
