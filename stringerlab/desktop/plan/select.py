"""Selecting and dragging on the plan: members, their points, equipment, bays, and boxes. No Qt."""

from dataclasses import dataclass, replace
from math import dist

from stringerlab.desktop.plan.hits import Hit, What, boxed, hit, span_at
from stringerlab.desktop.plan.scene import Scene
from stringerlab.desktop.plan.tool import (
    NOTHING,
    Change,
    Edit,
    Place,
    Sketch,
    Step,
    Tool,
    Touch,
    previewed,
)
from stringerlab.desktop.plan.typed import place_typed
from stringerlab.geometry.construct import polar
from stringerlab.layout.plan import Hand, Member, PlanLine
from stringerlab.project import planning

_NEXT_HAND = {Hand.PAIR: Hand.PORT, Hand.PORT: Hand.STARBOARD, Hand.STARBOARD: Hand.PAIR}


@dataclass(frozen=True, slots=True, kw_only=True)
class Select(Tool):
    """At rest, or with something in the hand since ``start``; ``dragging`` once it has moved."""

    held: Hit | None = None
    start: Touch | None = None
    dragging: bool = False
    point: tuple[str, int] | None = None
    """The point last taken: Delete removes it."""
    again: bool = False
    """Whether what is held was selected already: letting go at once takes its span, or it alone."""

    @property
    def busy(self) -> bool:
        """Whether something is being dragged."""
        return self.dragging

    @property
    def catches(self) -> bool:
        """Whether something is in the hand that can be caught."""
        return self.held is not None and self.held.what is not What.BAY

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field: for how far what is held goes."""
        return self.dragging and self.held is not None

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
            return "Let go to set it; Shift keeps it fore and aft or athwart; Escape puts it back."
        if not scene.layout.members and not scene.selected:
            return "Draw the first longitudinal: L. Then transverses: T."
        if not scene.selected:
            return "Click a member, panel or equipment, or drag a box around several; L, T, B draw members."
        if self.point is not None:
            return "Drag the point, or press Delete to remove it. Double-click a member to add one."
        if len(scene.selected) == 1 and scene.selected[0] in scene.bays:
            return "A panel: its numbers stand at the right and on Panels and spans."
        return "Drag to move; drag a point; click again for the span; H changes its hand; Ctrl+D copies."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the box, or how far what is held has moved."""
        if not self.dragging or self.start is None or touch is None:
            return NOTHING
        if self.held is None:
            return Sketch(box=(self.start.raw, touch.raw), crossing=touch.raw[0] < self.start.raw[0])
        length, _ = polar(self.start.at, touch.at)
        across, along = touch.at[1] - self.start.at[1], touch.at[0] - self.start.at[0]
        note = f"{scene.length(length)}  (x {scene.length(along)}, y {scene.length(across)})"
        return Sketch(lines=((self.start.at, touch.at),), note=note.replace("-", "−"), at=touch.at)

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Take what lies there, or begin a box."""
        found = hit(scene, touch.raw)
        if found is None or (found.what is What.BAY and touch.shift):
            return Step(tool=replace(self, held=None, start=touch, point=None, again=not touch.shift))
        if found.what is What.POINT:
            start = replace(touch, at=found.at)
            point = found.id, found.index
            return Step(tool=replace(self, held=found, start=start, point=point, again=False))
        if found.what is What.BAY:
            return Step(tool=replace(self, held=None, start=touch, point=None, again=True))
        chosen, again = scene.selected, False
        if touch.shift:
            chosen = _toggled(chosen, found.id)
        elif found.id in chosen:
            again = True
        else:
            chosen = (found.id,)
        start = replace(touch, at=found.at) if found.what is What.EQUIPMENT else touch
        tool = replace(self, held=found, start=start, point=None, again=again)
        return Step(tool=tool, select=chosen)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Drag what is held."""
        if self.start is None:
            return Step(tool=self)
        if not self.dragging and dist(touch.raw, self.start.raw) < scene.reach / 2:
            return Step(tool=self)
        tool = replace(self, dragging=True)
        change = tool.change(scene, touch.at)
        return previewed(tool, scene, change) if change else Step(tool=tool)

    def released(self, scene: Scene, touch: Touch) -> Step:
        """Set what is dragged, take what the box holds, or take the bay or span that was clicked."""
        rest = Select(name=self.name, point=self.point)
        if self.start is None:
            return Step(tool=rest)
        if not self.dragging:
            return Step(tool=rest, select=self._clicked(scene, touch))
        if self.held is None:
            found = boxed(scene, self.start.raw, touch.raw)
            kept = scene.selected if touch.shift else ()
            return Step(tool=rest, select=(*kept, *(each for each in found if each not in kept)))
        return self._set(scene, touch.at, rest)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set what is dragged so far as was typed."""
        place = place_typed(text, self.origin, scene.system, touch.at)
        if isinstance(place, str):
            return Step(tool=self, refused=place)
        return self._set(scene, place, Select(name=self.name, point=self.point))

    def doubled(self, scene: Scene, touch: Touch) -> Step:
        """Put a point into the member or line under the pointer."""
        found = hit(scene, touch.raw)
        rest = Select(name=self.name)
        if found is None or found.what not in (What.MEMBER, What.LINE):
            return Step(tool=rest)
        number, at = found.index + 1, found.drawn(touch.at)
        edit = Edit(
            label="Add point",
            change=lambda project: planning.with_plan_point(project, found.id, number, at),
        )
        return Step(tool=replace(rest, point=(found.id, number)), edit=edit, select=(found.id,))

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change the hand of what is selected on H."""
        ids = tuple(each for each in scene.selected if each in scene.things)
        if letter != "H" or not ids:
            return None
        hand = _NEXT_HAND.get(scene.things[ids[0]].hand, Hand.PAIR)
        edit = Edit(label=f"Hand: {hand}", change=lambda project: planning.with_hand(project, ids, hand))
        return Step(tool=self, edit=edit)

    def deleted(self, scene: Scene) -> Step:
        """Remove the point last taken, or what is selected."""
        thing = scene.things.get(self.point[0]) if self.point else None
        rest = Select(name=self.name)
        if self.point is None or not isinstance(thing, Member | PlanLine) or len(thing.points) < 3:
            return Tool.deleted(rest, scene)
        id_, number = self.point
        edit = Edit(
            label="Delete point",
            change=lambda project: planning.without_plan_points(project, id_, [number]),
        )
        return Step(tool=rest, edit=edit)

    def escaped(self) -> Tool:
        """Put back what is dragged."""
        return Select(name=self.name)

    def change(self, scene: Scene, at: Place) -> Change | None:
        """Return the change that letting go here means."""
        held, start = self.held, self.start
        if held is None or start is None:
            return None
        if held.what is What.POINT:
            place = held.drawn(at)
            return lambda project: planning.with_plan_point_moved(project, held.id, held.index, place)
        ids = tuple(each for each in scene.selected if each in scene.things) or (held.id,)
        along, across = at[0] - start.at[0], held.flip * (at[1] - start.at[1])
        return lambda project: planning.moved(project, ids, along, across)

    def _set(self, scene: Scene, at: Place, rest: "Select") -> Step:
        change = self.change(scene, at)
        if change is None:
            return Step(tool=rest)
        thing = scene.things.get(self.held.id) if self.held else None
        name = thing.name if thing and thing.name else ""
        point = self.held is not None and self.held.what is What.POINT
        label = f"Move point of {name}" if point and name else f"Move {name}" if name else "Move"
        several = not point and len([each for each in scene.selected if each in scene.things]) > 1
        return Step(tool=rest, edit=Edit(label="Move" if several else label, change=change))

    def _clicked(self, scene: Scene, touch: Touch) -> tuple[str, ...] | None:
        if self.held is None:
            if not self.again:
                return None
            found = hit(scene, touch.raw)
            return (found.id,) if found and found.what is What.BAY else ()
        if not self.again:
            return None
        if len(scene.selected) == 1 and self.held.what is What.MEMBER:
            span = span_at(scene, self.held.id, touch.raw)
            return (span,) if span else None
        return (self.held.id,)


def _toggled(chosen: tuple[str, ...], id: str) -> tuple[str, ...]:  # noqa: A002
    return tuple(each for each in chosen if each != id) if id in chosen else (*chosen, id)
