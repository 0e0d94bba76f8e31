"""Moving, copying, turning and mirroring what is selected, by two or three points. No Qt."""

from dataclasses import dataclass, replace
from math import degrees, dist

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
from stringerlab.errors import StringerlabError
from stringerlab.geometry.construct import polar
from stringerlab.geometry.typed import typed_angle, typed_point
from stringerlab.project import Project, drafting

_LEAST = 1e-6
_FIRST = "Select what to {verb} first: click it, or draw a box around it."


@dataclass(frozen=True, slots=True, kw_only=True)
class _Points(Tool):
    """Points set one after another, until there are enough for the change they mean."""

    points: tuple[Place, ...] = ()

    @property
    def busy(self) -> bool:
        """Whether a point is set."""
        return bool(self.points)

    @property
    def origin(self) -> Place | None:
        """The last point set."""
        return self.points[-1] if self.points else None

    @property
    def verb(self) -> str:
        """What it does, as an imperative."""
        return ""

    @property
    def asks(self) -> tuple[str, ...]:
        """What each next click sets."""
        return ()

    def change(self, scene: Scene, points: tuple[Place, ...]) -> Change | None:
        """Return the change that so many points mean; None when there are too few."""
        del scene, points
        return None

    def after(self) -> Tool:
        """Return the tool once its change is done."""
        return replace(self, points=())

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field on the sheet now."""
        return True

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        if not scene.selected:
            return _FIRST.format(verb=self.verb)
        return self.asks[min(len(self.points), len(self.asks) - 1)]

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the points set, a line to the pointer and its length and slope."""
        if not self.points or touch is None:
            return NOTHING
        length, angle = polar(self.points[0], touch.at)
        return Sketch(
            lines=((self.points[0], touch.at), *((self.points[0], point) for point in self.points[1:])),
            marks=self.points,
            note=f"{scene.length(length)}  {angle:.1f}°".replace("-", "−"),
            at=touch.at,
        )

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a point; with the last one, do the change."""
        if not scene.selected:
            return Step(tool=self, refused=self.hint(scene))
        return self._with(scene, (*self.points, touch.at))

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Preview the change as if the pointer's place were set."""
        change = self.change(scene, (*self.points, touch.at)) if scene.selected else None
        return stepped(self, scene, change) if change else Step(tool=self)

    def back(self, scene: Scene) -> Step:
        """Take the last point back."""
        del scene
        return Step(tool=replace(self, points=self.points[:-1]))

    def entered(self, scene: Scene) -> Step:
        """Leave the tool."""
        del scene
        return Step(tool=replace(self, points=()), done=True)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set the point that was typed."""
        try:
            place = typed_point(text, self.origin, scene.system, touch.at)
        except StringerlabError as error:
            return Step(tool=self, refused=str(error))
        return self.pressed(scene, Touch.bare(place))

    def _with(self, scene: Scene, points: tuple[Place, ...]) -> Step:
        if len(points) > 1 and dist(points[-2], points[-1]) <= _LEAST:
            return Step(tool=self, refused="The two points are one.")
        change = self.change(scene, points)
        if change is None:
            return Step(tool=replace(self, points=points))
        edit = Edit(label=self.verb.capitalize(), change=change)
        return Step(tool=self.after(), edit=edit, fresh=self.adds)

    @property
    def adds(self) -> bool:
        """Whether its change adds something, to be selected then."""
        return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Move(_Points):
    """From one point to another."""

    @property
    def carries(self) -> bool:
        """Whether what is selected is in the hand."""
        return bool(self.points)

    @property
    def verb(self) -> str:
        """What it does."""
        return "move"

    @property
    def asks(self) -> tuple[str, ...]:
        """What each next click sets."""
        return "Click the point to move from.", "Click the point to move to, or type a length or @y;z."

    def change(self, scene: Scene, points: tuple[Place, ...]) -> Change | None:
        """Return the move from the first point to the second."""
        if len(points) < 2:
            return None
        ids, section = scene.selected, scene.section.id
        across, up = points[1][0] - points[0][0], points[1][1] - points[0][1]
        return lambda project: drafting.moved(project, section, ids, across, up)


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy(_Points):
    """From one point to another, with the original staying."""

    @property
    def verb(self) -> str:
        """What it does."""
        return "copy"

    @property
    def adds(self) -> bool:
        """A copy is added."""
        return True

    @property
    def asks(self) -> tuple[str, ...]:
        """What each next click sets."""
        return "Click the point to copy from.", "Click the point to copy to, or type a length or @y;z."

    def change(self, scene: Scene, points: tuple[Place, ...]) -> Change | None:
        """Return the copy from the first point to the second."""
        if len(points) < 2:
            return None
        ids, section = scene.selected, scene.section.id
        across, up = points[1][0] - points[0][0], points[1][1] - points[0][1]
        return lambda project: drafting.copied(project, section, ids, across, up)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotate(_Points):
    """About a point, from one direction to another, or by a typed angle."""

    @property
    def carries(self) -> bool:
        """Whether what is selected is in the hand."""
        return len(self.points) > 1

    @property
    def verb(self) -> str:
        """What it does."""
        return "rotate"

    @property
    def asks(self) -> tuple[str, ...]:
        """What each next click sets."""
        return (
            "Click the point to turn about.",
            "Click where to turn from, or type the angle, counter-clockwise.",
            "Click where to turn to.",
        )

    def change(self, scene: Scene, points: tuple[Place, ...]) -> Change | None:
        """Return the turn about the first point from the second to the third."""
        if len(points) < 3:
            return None
        angle = polar(points[0], points[2])[1] - polar(points[0], points[1])[1]
        return _turn(scene, points[0], angle)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Turn by the angle that was typed; before there is a centre, set it."""
        if not self.points:
            return _Points.typed(self, scene, text, touch)
        try:
            angle = degrees(typed_angle(text))
        except StringerlabError as error:
            return Step(tool=self, refused=str(error))
        edit = Edit(label="Rotate", change=_turn(scene, self.points[0], angle))
        return Step(tool=self.after(), edit=edit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror(_Points):
    """Over the line through two points; with Ctrl held at the second, the original stays."""

    keep: bool = False

    @property
    def verb(self) -> str:
        """What it does."""
        return "mirror"

    @property
    def adds(self) -> bool:
        """An image is added where the original stays."""
        return self.keep

    @property
    def asks(self) -> tuple[str, ...]:
        """What each next click sets."""
        return (
            "Click the mirror line's first point.",
            "Click its second point. With Ctrl the original stays.",
        )

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a point, and whether the original stays."""
        return _Points.pressed(replace(self, keep=touch.ctrl), scene, touch)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Preview the image."""
        return _Points.moved(replace(self, keep=touch.ctrl), scene, touch)

    def change(self, scene: Scene, points: tuple[Place, ...]) -> Change | None:
        """Return the mirroring over the line through the two points."""
        if len(points) < 2 or dist(points[0], points[1]) <= _LEAST:
            return None
        ids, section, keep = scene.selected, scene.section.id, self.keep
        angle = polar(points[0], points[1])[1]
        return lambda project: drafting.mirrored(project, section, ids, points[0], angle, keep=keep)


def _turn(scene: Scene, about: Place, angle: float) -> Change:
    ids, section = scene.selected, scene.section.id

    def change(project: Project) -> Project:
        return drafting.turned(project, section, ids, angle, about)

    return change
