"""Placing what stands on the grid, and naming the bays between it: one click each. No Qt."""

from dataclasses import dataclass, replace

from stringerlab.desktop.plan.hits import bay_at
from stringerlab.desktop.plan.scene import Scene
from stringerlab.desktop.plan.tool import NOTHING, Edit, Place, Sketch, Step, Tool, Touch
from stringerlab.desktop.plan.typed import place_typed
from stringerlab.geometry.construct import polar
from stringerlab.layout.plan import Cavity, Equipment, EquipmentKind, Hand, Use
from stringerlab.project import planning

_FEET = ((-300.0, -250.0), (300.0, -250.0), (300.0, 250.0), (-300.0, 250.0))
_LIKE: dict[EquipmentKind, dict[str, object]] = {
    EquipmentKind.TANK: {"mass": 300.0, "length": 900.0, "breadth": 600.0, "height": 250.0, "head": 500.0},
    EquipmentKind.ENGINE: {"mass": 450.0, "feet": _FEET, "height": 350.0, "thrust": 6000.0, "speed": 3500.0},
    EquipmentKind.OUTBOARD: {"mass": 250.0, "height": -500.0, "thrust": 5000.0, "overhang": 300.0},
    EquipmentKind.GYRO: {"mass": 150.0, "feet": _FEET, "height": 250.0, "pitching": 2.0e6, "speed": 8000.0},
    EquipmentKind.DECK: {"mass": 200.0, "length": 800.0, "breadth": 800.0},
    EquipmentKind.POINT: {"mass": 100.0},
    EquipmentKind.KNEE: {},
    EquipmentKind.LIFTING: {},
    EquipmentKind.BLOCKING: {},
}
"""What a thing is begun with: ours, to be changed at the right."""
_KINDS = tuple(EquipmentKind)
_USES = tuple(Use)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceEquipment(Tool):
    """Sets a thing where a click is; Q changes which."""

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field."""
        return True

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        kind, hand = scene.fresh.equipment.value, scene.fresh.hand.value
        return f"Click where the {kind} stands, or type x;y. Q changes what; H its hand ({hand})."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the footprint under the pointer."""
        if touch is None:
            return NOTHING
        thing = _equipment(scene, touch.at)
        half = (thing.length / 2 or 60.0, thing.breadth / 2 or 60.0)
        x, y = touch.at
        box = ((x - half[0], y - half[1]), (x + half[0], y + half[1]))
        return Sketch(box=box, marks=tuple((x + dx, y + dy) for dx, dy in thing.feet))

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set it."""
        return self._placed(scene, touch.at)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Set it where was typed."""
        place = place_typed(text, None, scene.system, touch.at)
        return Step(tool=self, refused=place) if isinstance(place, str) else self._placed(scene, place)

    def entered(self, scene: Scene) -> Step:
        """Go back to selecting."""
        del scene
        return Step(tool=self, done=True)

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change what is placed on Q, its hand on H."""
        if letter == "Q":
            kind = _KINDS[(_KINDS.index(scene.fresh.equipment) + 1) % len(_KINDS)]
            return Step(tool=self, like=replace(scene.fresh, equipment=kind))
        if letter == "H":
            hands = (Hand.PAIR, Hand.PORT, Hand.STARBOARD, Hand.CENTRELINE)
            hand = hands[(hands.index(scene.fresh.hand) + 1) % len(hands)]
            return Step(tool=self, like=replace(scene.fresh, hand=hand))
        return None

    def _placed(self, scene: Scene, at: Place) -> Step:
        thing, layout = _equipment(scene, at), scene.layout.id
        edit = Edit(
            label=f"Place {thing.kind.value}",
            change=lambda project: planning.with_part(project, layout, thing),
        )
        return Step(tool=self, edit=edit, fresh=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class NameCavity(Tool):
    """Makes a cavity of the bay clicked; on a selected cavity Shift adds the bay to it. C changes its use."""

    snaps: bool = False

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        use = scene.fresh.use.value
        return f"Click a bay to make it a {use}; Shift adds it to the cavity selected. C changes the use."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the bay under the pointer."""
        bay = bay_at(scene, touch.raw) if touch else ""
        rings = [ring for id_, ring in scene.rings if bay and id_ == bay]
        closed = [[*ring.tolist(), ring[0].tolist()] for ring in rings]
        return Sketch(lines=tuple(tuple((x, y) for x, y in ring) for ring in closed))

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Make or grow the cavity."""
        if not bay_at(scene, touch.raw):
            return Step(tool=self, refused="There is no bay there: members and the hull's edges bound one.")
        at = (round(touch.raw[0], 1), round(touch.raw[1], 1))
        held = [thing for each in scene.selected if isinstance(thing := scene.things.get(each), Cavity)]
        if touch.shift and held:
            cavity = held[0]
            grow = Edit(
                label=f"Add a bay to {cavity.name}",
                change=lambda project: planning.with_plan_point(project, cavity.id, len(cavity.anchors), at),
            )
            return Step(tool=self, edit=grow)
        hand = Hand.CENTRELINE if abs(at[1]) < scene.reach else scene.fresh.hand
        fresh = Cavity(id="", name="", use=scene.fresh.use, hand=hand, anchors=(at,))
        layout = scene.layout.id
        edit = Edit(
            label=f"Name a {fresh.use.value}",
            change=lambda project: planning.with_part(project, layout, fresh),
        )
        return Step(tool=self, edit=edit, fresh=True)

    def entered(self, scene: Scene) -> Step:
        """Go back to selecting."""
        del scene
        return Step(tool=self, done=True)

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change the use on C."""
        if letter != "C":
            return None
        use = _USES[(_USES.index(scene.fresh.use) + 1) % len(_USES)]
        return Step(tool=self, like=replace(scene.fresh, use=use))


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Tool):
    """Measures between two points; nothing is drawn."""

    start: Place | None = None
    end: Place | None = None

    @property
    def busy(self) -> bool:
        """Whether anything is measured."""
        return self.start is not None

    @property
    def origin(self) -> Place | None:
        """Where measuring began."""
        return self.start if self.end is None else None

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        return "Click the first point." if self.start is None or self.end else "Click the second point."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the line measured."""
        end = self.end or (touch.at if touch else None)
        if self.start is None or end is None:
            return NOTHING
        length, angle = polar(self.start, end)
        x, y = scene.length(end[0] - self.start[0]), scene.length(end[1] - self.start[1])
        note = f"{scene.length(length)}  {angle:.1f}°  (x {x}, y {y})".replace("-", "−")
        return Sketch(lines=((self.start, end),), marks=(self.start, end), note=note, at=end)

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a point."""
        del scene
        if self.start is None or self.end is not None:
            return Step(tool=replace(self, start=touch.at, end=None))
        return Step(tool=replace(self, end=touch.at))


def _equipment(scene: Scene, at: Place) -> Equipment:
    kind = scene.fresh.equipment
    hand = Hand.CENTRELINE if abs(at[1]) < scene.reach else scene.fresh.hand
    if hand is Hand.CENTRELINE:
        at = (at[0], 0.0)
    fresh = Equipment(id="", name="", kind=kind, hand=hand, at=(round(at[0], 1), round(at[1], 1) + 0.0))
    return replace(fresh, **_LIKE[kind])
