"""Drawing members and lines point by point; Enter ends one, H changes its hand. No Qt."""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import dist
from typing import TypeVar

import numpy as np

from stringerlab.desktop.plan.scene import Fresh, Scene, instances
from stringerlab.desktop.plan.tool import NOTHING, Edit, Place, Sketch, Step, Tool, Touch
from stringerlab.desktop.plan.typed import place_typed
from stringerlab.geometry.construct import polar
from stringerlab.layout.openings import Backed, Cut
from stringerlab.layout.plan import Hand, LineKind, Member, MemberKind, PlanLine
from stringerlab.project import planning

T = TypeVar("T")
_LEAST = 1e-6
"""Points nearer than this are one [mm]."""
_HANDS = (Hand.PAIR, Hand.PORT, Hand.STARBOARD, Hand.CENTRELINE)
_LINES = (LineKind.SPRAY_STEP, LineKind.HULL_STEP, LineKind.TRACE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw(Tool, ABC):
    """``points`` drawn so far."""

    points: tuple[Place, ...] = ()

    @property
    @abstractmethod
    def word(self) -> str:
        """What is drawn."""

    @property
    def busy(self) -> bool:
        """Whether anything is begun."""
        return bool(self.points)

    @property
    def origin(self) -> Place | None:
        """Where the next leg goes on from."""
        return self.points[-1] if self.points else None

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field."""
        return True

    @abstractmethod
    def record(self, scene: Scene, points: tuple[Place, ...]) -> Member | PlanLine:
        """Return what is drawn so far."""

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        hand = scene.fresh.hand.value
        if not self.points:
            return f"Click where the {self.word} begins, or type x;y. Hand: {hand} (H changes it)."
        if len(self.points) == 1:
            return "Click the next point, or type a length, length<angle or @x;y."
        return f"Enter ends the {self.word}; click goes on; Backspace takes a point back. Hand: {hand} (H)."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return what is drawn on both sides, and the rubber band with its length and angle."""
        if not self.points:
            return NOTHING
        every = self.points if touch is None else (*self.points, touch.at)
        lines: tuple[tuple[Place, ...], ...] = (every,)
        if len(every) > 1:
            stand = instances(self.record(scene, every))
            lines = (*lines, *(tuple((x, y) for x, y in line.tolist()) for line, _ in stand))
        if touch is None:
            return Sketch(lines=lines, marks=self.points)
        length, angle = polar(self.points[-1], touch.at)
        note = f"{scene.length(length)}  {angle:.1f}°".replace("-", "−") if length > _LEAST else ""
        return Sketch(lines=lines, marks=self.points, note=note, at=touch.at)

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a point."""
        del scene
        return self._set(touch.at)

    def doubled(self, scene: Scene, touch: Touch) -> Step:
        """End at the point that the first of the two clicks has set."""
        del touch
        return self.entered(scene)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set the point that was typed."""
        place = place_typed(text, self.origin, scene.system, touch.at)
        return Step(tool=self, refused=place) if isinstance(place, str) else self._set(place)

    def entered(self, scene: Scene) -> Step:
        """End what is drawn."""
        if not self.points:
            return Step(tool=self, done=True)
        if len(self.points) < 2:
            return Step(tool=self, refused=f"A {self.word} needs a second point.")
        drawn, layout = self.record(scene, self.points), scene.layout.id
        edit = Edit(
            label=f"Draw {self.word}", change=lambda project: planning.with_part(project, layout, drawn)
        )
        return Step(tool=replace(self, points=()), edit=edit, fresh=True)

    def back(self, scene: Scene) -> Step:
        """Take the last point back."""
        del scene
        return Step(tool=replace(self, points=self.points[:-1]))

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change the hand on H."""
        if letter != "H":
            return None
        like = replace(scene.fresh, hand=_next(_HANDS, scene.fresh.hand))
        return Step(tool=self, like=like, refused=f"Hand: {like.hand}.")

    def escaped(self) -> Tool:
        """Give up what is drawn."""
        return replace(self, points=())

    def _set(self, place: Place) -> Step:
        if self.points and dist(self.points[-1], place) <= _LEAST:
            return Step(tool=self)
        return Step(tool=replace(self, points=(*self.points, place)))


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawMember(Draw):
    """Draws a member of a kind."""

    kind: MemberKind = MemberKind.LONGITUDINAL

    @property
    def word(self) -> str:
        """What is drawn."""
        return self.kind.value

    def record(self, scene: Scene, points: tuple[Place, ...]) -> Member:
        """Return the member through points, on the hand chosen and drawn the way members are.

        As it is commonly built: longitudinals go through, what is cut at them is tabbed to them.
        """
        hand = hand_of(points, scene.fresh.hand)
        ordered = _ordered(points, self.kind, hand)
        section = section_for(scene, self.kind)
        lengthwise = self.kind is MemberKind.LONGITUDINAL
        return Member(
            id="",
            name="",
            kind=self.kind,
            hand=hand,
            points=ordered,
            section=section,
            crown=Cut.CONTINUOUS if lengthwise else Cut.CUT,
            backed=Backed.TABS,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawLine(Draw):
    """Draws a line of the hull: a spray step, a hull step, or a trace to snap to."""

    @property
    def word(self) -> str:
        """What is drawn."""
        return "line"

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        return f"{Draw.hint(self, scene)} Line: {scene.fresh.line.value} (K changes it)."

    def record(self, scene: Scene, points: tuple[Place, ...]) -> PlanLine:
        """Return the line through points."""
        hand, kind = hand_of(points, scene.fresh.hand), scene.fresh.line
        ordered = _to_port(points) if hand is not Hand.CENTRELINE else points
        bounds = kind is LineKind.HULL_STEP
        return PlanLine(id="", name="", kind=kind, hand=hand, points=ordered, bounds=bounds)

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change the hand on H, the kind of line on K."""
        if letter != "K":
            return Draw.lettered(self, scene, letter)
        like: Fresh = replace(scene.fresh, line=_next(_LINES, scene.fresh.line))
        return Step(tool=self, like=like, refused=f"Line: {like.line}.")


def hand_of(points: Sequence[Place], wanted: Hand) -> Hand:
    """Return the hand of what is drawn through points: on the centreline, or across it, it has no pair."""
    y = np.array([point[1] for point in points])
    if np.abs(y).max() <= 1.0 or (y.min() < -1.0 and y.max() > 1.0):
        return Hand.CENTRELINE
    return wanted if wanted is not Hand.CENTRELINE else Hand.PAIR


def section_for(scene: Scene, kind: MemberKind) -> str:
    """Return the section of a new member of a kind: that chosen, that of the last alike, or the first."""
    known = [section.id for section in scene.project.sections]
    alike = [member.section for member in reversed(scene.layout.members) if member.kind is kind]
    wanted = (scene.fresh.sections.get(kind, ""), *alike, *known)
    return next((each for each in wanted if each in known), "")


def _ordered(points: tuple[Place, ...], kind: MemberKind, hand: Hand) -> tuple[Place, ...]:
    """Return points from aft forward, of a transverse from inboard outboard, of a pair to port."""
    if hand is not Hand.CENTRELINE:
        points = _to_port(points)
    first, last = points[0], points[-1]
    if kind is MemberKind.LONGITUDINAL:
        return points if first[0] <= last[0] else points[::-1]
    inboard = abs(first[1]) <= abs(last[1]) if hand is not Hand.CENTRELINE else first[1] <= last[1]
    return points if inboard else points[::-1]


def _to_port(points: tuple[Place, ...]) -> tuple[Place, ...]:
    flip = -1.0 if sum(y for _, y in points) < 0 else 1.0
    return tuple((x, flip * y + 0.0) for x, y in points)


def _next(every: Sequence[T], now: T) -> T:
    return every[(every.index(now) + 1) % len(every)]
