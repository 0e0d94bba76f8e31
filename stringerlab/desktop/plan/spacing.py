"""Spacing members: so many evenly between two, or one every so far; typed, shown before it is done. No Qt."""

from dataclasses import dataclass, replace

from stringerlab.desktop.plan.hits import member_at
from stringerlab.desktop.plan.scene import Scene
from stringerlab.desktop.plan.tool import Change, Edit, Step, Tool, Touch, previewed, tried
from stringerlab.desktop.plan.typed import count_typed, length_typed
from stringerlab.layout.plan import Member, MemberKind
from stringerlab.project import planning


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing(Tool):
    """Waits for members and a number; ``ready`` once a number was typed and its outcome shows."""

    ready: Change | None = None
    words: str = ""
    """What is shown."""

    @property
    def busy(self) -> bool:
        """Whether an outcome shows."""
        return self.ready is not None

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field."""
        return True

    def needs(self, scene: Scene) -> str:
        """Return what is still to be clicked, empty for nothing."""
        del scene
        return ""

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Take the member under the pointer, or set what shows."""
        if self.ready is not None:
            return self.entered(scene)
        found = member_at(scene, touch.raw)
        if found is None:
            return Step(tool=self, refused=self.hint(scene))
        chosen = tuple(member.id for member in scene.members if member.id != found.id)
        return Step(tool=self, select=(*chosen[-1:], found.id))

    def entered(self, scene: Scene) -> Step:
        """Set what shows."""
        if self.ready is None:
            return Step(tool=self, refused=self.hint(scene))
        edit = Edit(label=self.words, change=self.ready)
        return Step(tool=replace(self, ready=None, words=""), edit=edit, fresh=True, done=True)

    def escaped(self) -> Tool:
        """Give up what shows."""
        return replace(self, ready=None, words="")

    def _shown(self, scene: Scene, change: Change, words: str) -> Step:
        refused = tried(scene.project, change).refused
        if refused:
            return Step(tool=self, refused=refused)
        return previewed(replace(self, ready=change, words=words), scene, change)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Keep showing what shows."""
        del touch
        return previewed(self, scene, self.ready) if self.ready else Step(tool=self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Between(Spacing):
    """So many evenly between two members."""

    def needs(self, scene: Scene) -> str:
        """Return what is still to be clicked."""
        members = scene.members
        if len(members) < 2:
            return "Click the two members to set others between."
        if members[0].kind is not members[1].kind:
            return "Click two members of one kind."
        return ""

    def asks(self, scene: Scene) -> str:
        """Return what the field asks for."""
        del scene
        return "how many between"

    def hint(self, scene: Scene) -> str:
        """Return what the next click or key does."""
        if self.ready is not None:
            return f"{self.words}: Enter or a click sets them, Escape gives them up."
        return self.needs(scene) or "Type how many to set evenly between the two."

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Show so many between."""
        del touch
        wrong = self.needs(scene)
        count = count_typed(text)
        if wrong or isinstance(count, str):
            return Step(tool=self, refused=wrong or str(count))
        first, second = scene.members[0].id, scene.members[1].id
        return self._shown(
            scene,
            lambda project: planning.spaced_between(project, first, second, count),
            f"Set {count} between",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Every(Spacing):
    """One every so far from a member: to the second one clicked, else to the end of the bottom."""

    def needs(self, scene: Scene) -> str:
        """Return what is still to be clicked."""
        return "" if scene.members else "Click the member to repeat."

    def asks(self, scene: Scene) -> str:
        """Return what the field asks for."""
        del scene
        return "pitch, or pitch x count"

    def hint(self, scene: Scene) -> str:
        """Return what the next click or key does."""
        if self.ready is not None:
            return f"{self.words}: Enter or a click sets them, Escape gives them up."
        needed = self.needs(scene)
        if needed:
            return needed
        lengthwise = any(member.kind is MemberKind.LONGITUDINAL for member in scene.members[:1])
        way = "to port" if lengthwise else "forward"
        return f"Type the pitch {way}, as 400 or 400 x 3; negative the other way; a second member ends it."

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Show one at every pitch."""
        del touch
        wrong = self.needs(scene)
        pitch_text, times, count_text = text.replace("×", "x").partition("x")
        pitch = length_typed(pitch_text, scene.system)
        count = count_typed(count_text) if times else None
        reasons = [each for each in (wrong, pitch, count) if isinstance(each, str) and each]
        if reasons or isinstance(pitch, str) or isinstance(count, str):
            return Step(tool=self, refused=reasons[0] if reasons else "Type a pitch.")
        members = list(scene.members)
        short = 1.0 if pitch > 0 else -1.0  # none on top of the member that ends it
        until = _place(members[1]) - short if len(members) > 1 and count is None else None
        first = members[0].id
        return self._shown(
            scene,
            lambda project: planning.spaced_every(project, first, pitch, count, until),
            f"Set one every {scene.length(abs(pitch))}",
        )


def _place(member: Member) -> float:
    axis = 1 if member.kind is MemberKind.LONGITUDINAL else 0
    return sum(point[axis] for point in member.points) / len(member.points)
