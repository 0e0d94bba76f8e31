"""Drawing a wall point by point, in legs and arcs: the first point closes it, Enter ends it. No Qt."""

from dataclasses import dataclass, replace
from math import dist

from stringerlab.desktop.sheet.hits import outline
from stringerlab.desktop.sheet.tool import NOTHING, Edit, Place, Scene, Sketch, Step, Tool, Touch
from stringerlab.errors import StringerlabError
from stringerlab.geometry.construct import flattened, polar
from stringerlab.geometry.typed import typed_point
from stringerlab.project import Project, drafting
from stringerlab.project.drafting import Arc, Leg

_LEAST = 1e-6
"""Points nearer than this are one [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawWall(Tool):
    """``start`` and the ``steps`` drawn from it; in an arc, ``through`` once its second point is set."""

    start: Place | None = None
    steps: tuple[Leg | Arc, ...] = ()
    arc: bool = False
    """Whether the next step is an arc."""
    through: Place | None = None

    @property
    def busy(self) -> bool:
        """Whether a wall is begun."""
        return self.start is not None

    @property
    def last(self) -> Place | None:
        """Where the wall has come to."""
        return self.steps[-1].to if self.steps else self.start

    @property
    def origin(self) -> Place | None:
        """Where the next step goes on from."""
        return self.through or self.last

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field on the sheet now."""
        return True

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        if not scene.laminate:
            return "Make a laminate first: a wall is drawn of one."
        if self.start is None:
            return "Click the wall's first point, or type y;z."
        if self.arc:
            where = "a point the arc runs through" if self.through is None else "where the arc ends"
            return f"Click {where}. A goes back to straight legs."
        if not self.steps:
            return "Click the next point, or type a length, length<angle or @y;z. A draws an arc."
        close = " The first point closes it." if len(self.steps) > 1 else ""
        return (
            f"Click the next point. Enter ends the wall.{close} Backspace takes a point back; A draws an arc."
        )

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return what is drawn, and the rubber band from its end with its length and angle."""
        if self.start is None:
            return NOTHING
        marks = (self.start, *(step.to for step in self.steps))
        if touch is None:
            return Sketch(lines=(_run(self.start, self.steps),), marks=marks)
        ahead: Leg | Arc = Arc(self.through, touch.at) if self.through else Leg(touch.at)
        length, angle = polar(self.through or marks[-1], touch.at)
        return Sketch(
            lines=(_run(self.start, (*self.steps, ahead)),),
            marks=(*marks, self.through) if self.through else marks,
            note=f"{scene.length(length)}  {angle:.1f}°".replace("-", "−") if length > _LEAST else "",
            at=touch.at,
        )

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a point; on the first one, close."""
        far = len(self.steps) > 1 or (self.steps and self.through)
        if self.start and far and dist(self.start, touch.at) <= max(scene.reach, _LEAST):
            ahead: Leg | Arc = Arc(self.through, self.start) if self.through else Leg(self.start)
            return replace(self, steps=(*self.steps, ahead))._end(scene, closed=True)
        return self._set(scene, touch.at)

    def doubled(self, scene: Scene, touch: Touch) -> Step:
        """End at the point that the first of the two clicks has set."""
        del touch
        return self.entered(scene)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set the point that was typed."""
        try:
            place = typed_point(text, self.origin, scene.system, touch.at)
        except StringerlabError as error:
            return Step(tool=self, refused=str(error))
        return self._set(scene, place)

    def entered(self, scene: Scene) -> Step:
        """End an open wall."""
        if self.start is None:
            return Step(tool=self, done=True)
        if not self.steps:
            return Step(tool=self, refused="A wall needs a second point.")
        return self._end(scene, closed=False)

    def back(self, scene: Scene) -> Step:
        """Take the last point back."""
        del scene
        if self.through is not None:
            return Step(tool=replace(self, through=None))
        if self.steps:
            return Step(tool=replace(self, steps=self.steps[:-1]))
        return Step(tool=replace(self, start=None, arc=False))

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change between legs and arcs on A."""
        del scene
        if letter != "A" or self.start is None:
            return None
        return Step(tool=replace(self, arc=not self.arc, through=None))

    def _set(self, scene: Scene, place: Place) -> Step:
        if not scene.laminate:
            return Step(tool=self, refused=self.hint(scene))
        if self.start is None:
            return Step(tool=replace(self, start=place))
        if self.origin is not None and dist(self.origin, place) <= _LEAST:
            return Step(tool=self)
        if self.arc and self.through is None:
            return Step(tool=replace(self, through=place))
        step: Leg | Arc = Arc(self.through, place) if self.through else Leg(place)
        return Step(tool=replace(self, steps=(*self.steps, step), arc=False, through=None))

    def _end(self, scene: Scene, *, closed: bool) -> Step:
        start, steps, laminate, section = self.start, self.steps, scene.laminate, scene.section.id

        def change(project: Project) -> Project:
            if start is None:
                return project
            return drafting.wall_drawn(project, section, start, steps, laminate, closed=closed, name="wall")

        return Step(tool=DrawWall(name=self.name), edit=Edit(label="Draw wall", change=change), fresh=True)


def _run(start: Place, steps: tuple[Leg | Arc, ...]) -> tuple[Place, ...]:
    points, radii = flattened(start, steps)
    if len(points) < 2:
        return points
    return tuple((float(y), float(z)) for y, z in outline(points, radii, False))
