"""Tools that click a member: split, trim, extend, another section from there on, an opening there. No Qt."""

from dataclasses import dataclass, replace
from math import dist

from stringerlab.desktop.plan.draw import section_for
from stringerlab.desktop.plan.hits import Hit, member_at
from stringerlab.desktop.plan.scene import Scene
from stringerlab.desktop.plan.tool import NOTHING, Change, Edit, Place, Sketch, Step, Tool, Touch, tried
from stringerlab.geometry.construct import distance
from stringerlab.layout.openings import Hole, Opening
from stringerlab.layout.plan import Member, Stretch
from stringerlab.project import planning
from stringerlab.project.planning_lines import along_of

_HOLES = (Hole.LIMBER, Hole.LIGHTENING)


@dataclass(frozen=True, slots=True, kw_only=True)
class OnMember(Tool):
    """A tool whose click changes the member under it."""

    @property
    def words(self) -> str:
        """What a click does, for the status line."""
        return ""

    def label(self, scene: Scene, member: Member) -> str:
        """Return the name of the edit."""
        del scene
        return f"{self.name.capitalize()} {member.name}"

    def change(self, scene: Scene, member: Member, found: Hit, at: Place) -> Change | str:
        """Return the change a click there means, or why there is none."""
        del scene, member, found, at
        return ""

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        return self.words

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return a mark where the click would act."""
        found = member_at(scene, touch.raw) if touch else None
        return Sketch(marks=(found.at,)) if found else NOTHING

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Change the member under the pointer."""
        found = member_at(scene, touch.raw)
        member = scene.things.get(found.id) if found else None
        if found is None or not isinstance(member, Member):
            return Step(tool=self, refused=f"There is no member there. {self.words}")
        at = touch.at if touch.snap and dist(touch.at, found.at) <= 2 * scene.reach else found.at
        change = self.change(scene, member, found, found.drawn(at))
        if isinstance(change, str):
            return Step(tool=self, refused=change)
        refused = tried(scene.project, change).refused
        if refused:
            return Step(tool=self, refused=refused)
        return Step(tool=self, edit=Edit(label=self.label(scene, member), change=change), select=(member.id,))

    def entered(self, scene: Scene) -> Step:
        """Go back to selecting."""
        del scene
        return Step(tool=self, done=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Split(OnMember):
    """Parts a member; at a crossing where one is near."""

    @property
    def words(self) -> str:
        """What a click does."""
        return "Click a member where it is to be parted; near a crossing it parts there."

    def change(self, scene: Scene, member: Member, found: Hit, at: Place) -> Change | str:
        """Return the split."""
        nodes = [node.at for node in scene.found.nodes if member.id in node.members]
        near = min(nodes, key=lambda node: distance(node, found.at), default=None)
        if near is not None and distance(near, found.at) <= 2 * scene.reach:
            at = found.drawn(near)
        return lambda project: planning.split(project, member.id, at)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim(OnMember):
    """Takes away the piece of a member between what it meets."""

    @property
    def words(self) -> str:
        """What a click does."""
        return "Click the piece of a member to take away, from crossing to crossing."

    def change(self, scene: Scene, member: Member, found: Hit, at: Place) -> Change | str:
        """Return the trim."""
        del scene, at
        place = found.drawn(found.at)
        return lambda project: planning.trimmed(project, member.id, place)


@dataclass(frozen=True, slots=True, kw_only=True)
class Extend(OnMember):
    """Carries a member's nearer end on to what it next meets."""

    @property
    def words(self) -> str:
        """What a click does."""
        return "Click a member near the end to carry on; it goes to what it next meets."

    def change(self, scene: Scene, member: Member, found: Hit, at: Place) -> Change | str:
        """Return the extension."""
        del scene, found
        end = 0 if dist(member.points[0], at) <= dist(member.points[-1], at) else 1
        return lambda project: planning.extended(project, member.id, end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Restretch(OnMember):
    """Begins another section along a member."""

    @property
    def words(self) -> str:
        """What a click does."""
        return "Click where another section begins along a member; choose it at the right."

    def label(self, scene: Scene, member: Member) -> str:
        """Return the name of the edit."""
        del scene
        return f"Another section along {member.name}"

    def change(self, scene: Scene, member: Member, found: Hit, at: Place) -> Change | str:
        """Return the stretch."""
        del found
        section = scene.fresh.sections.get(member.kind, "") or section_for(scene, member.kind)
        if not section:
            return "Draw a section first: on the Sections page."
        stretch = Stretch(start=round(along(member, at), 1), section=section)
        return lambda project: planning.with_stretch(project, member.id, stretch)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pierce(OnMember):
    """Cuts a limber hole or a rigging chase through a member."""

    @property
    def words(self) -> str:
        """What a click does."""
        return "Click a member where it is to be pierced. I changes between limber hole and rigging chase."

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        what = "limber hole" if scene.fresh.hole is Hole.LIMBER else "rigging chase"
        return f"{self.words} Now: {what}."

    def label(self, scene: Scene, member: Member) -> str:
        """Return the name of the edit."""
        what = "Limber hole" if scene.fresh.hole is Hole.LIMBER else "Rigging chase"
        return f"{what} in {member.name}"

    def change(self, scene: Scene, member: Member, found: Hit, at: Place) -> Change | str:
        """Return the opening: a limber at the shell, a chase round at half the height."""
        del found
        x = round(along(member, at), 1)
        size = scene.sizes.get(member.section)
        height = size.height if size else 120.0
        if scene.fresh.hole is Hole.LIMBER:
            tall = min(25.0, 0.3 * height)
            opening = Opening(x=x, height=tall, width=40.0, radius=tall / 2)
        else:
            wide = round(min(60.0, 0.4 * height), 1)
            opening = Opening(
                kind=Hole.LIGHTENING,
                x=x,
                height=wide,
                width=wide,
                bottom=round((height - wide) / 2, 1),
                radius=wide / 2,
            )
        return lambda project: planning.with_member_opening(project, member.id, opening)

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Change what is cut on I."""
        if letter != "I":
            return None
        place = (_HOLES.index(scene.fresh.hole) + 1) % len(_HOLES)
        return Step(tool=self, like=replace(scene.fresh, hole=_HOLES[place]))


def along(member: Member, at: Place) -> float:
    """Return how far along a member its place nearest to a point lies [mm]."""
    return along_of(member.points, at)
