"""What a tool of the plan is: a small frozen state that answers what hand and keys do with its next. No Qt.

As on the sheet a tool never changes anything itself: its answer names a preview, an edit, or a refusal.
"""

from dataclasses import dataclass

from stringerlab.desktop.plan.scene import Fresh, Scene
from stringerlab.desktop.sheet.tool import NOTHING, Change, Edit, Place, Sketch, Touch, tried
from stringerlab.project import Project, planning

__all__ = ["NOTHING", "Change", "Edit", "Place", "Sketch", "Step", "Tool", "Touch", "previewed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A tool's answer."""

    tool: "Tool"
    preview: Project | None = None
    edit: Edit | None = None
    select: tuple[str, ...] | None = None
    fresh: bool = False
    """Select what the edit added."""
    like: Fresh | None = None
    """What things are to be made like from now on."""
    refused: str = ""
    """Why nothing was done, for the status line."""
    done: bool = False
    """Whether the plan goes back to selecting."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool at rest, that does nothing; every tool is one of these with its own state."""

    name: str = ""
    snaps: bool = True
    """Whether the pointer is caught by what lies near."""

    @property
    def catches(self) -> bool:
        """Whether a movement is caught by what lies near now."""
        return self.snaps

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field on the plan now."""
        return False

    @property
    def busy(self) -> bool:
        """Whether Escape has something of the tool's to cancel."""
        return False

    @property
    def origin(self) -> Place | None:
        """The point that ortho lock and perpendiculars are reckoned from."""
        return None

    @property
    def left_out(self) -> tuple[str, ...]:
        """Ids of things that must not catch the pointer: those in the hand."""
        return ()

    def asks(self, scene: Scene) -> str:
        """Return what the field on the plan asks for."""
        del scene
        return "length, angle or x;y"

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        return ""

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return what to draw over the plan."""
        del scene, touch
        return NOTHING

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Return the answer to the button going down."""
        del scene, touch
        return Step(tool=self)

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Return the answer to a movement."""
        del scene, touch
        return Step(tool=self)

    def released(self, scene: Scene, touch: Touch) -> Step:
        """Return the answer to the button going up."""
        del scene, touch
        return Step(tool=self)

    def doubled(self, scene: Scene, touch: Touch) -> Step:
        """Return the answer to a double click."""
        return self.pressed(scene, touch)

    def typed(self, scene: Scene, text: str, touch: Touch) -> Step:
        """Return the answer to a typed line."""
        del scene, text, touch
        return Step(tool=self)

    def entered(self, scene: Scene) -> Step:
        """Return the answer to Enter."""
        del scene
        return Step(tool=self)

    def back(self, scene: Scene) -> Step:
        """Return the answer to Backspace."""
        del scene
        return Step(tool=self)

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Return the answer to a letter that means something to it now; None leaves it to the plan."""
        del scene, letter
        return None

    def deleted(self, scene: Scene) -> Step:
        """Return the answer to Delete: what is selected goes."""
        ids = tuple(each for each in scene.selected if each in scene.things)
        if not ids:
            found = any(each in scene.spans or each in scene.bays for each in scene.selected)
            why = "Panels and spans are found: delete the members that bound them." if found else ""
            return Step(tool=self, refused=why or "Nothing is selected.")
        names = " and ".join(scene.things[each].name or each for each in ids[:2])
        label = f"Delete {names}" if len(ids) < 3 else f"Delete {len(ids)} things"
        edit = Edit(label=label, change=lambda project: planning.without_parts(project, ids))
        return Step(tool=self, edit=edit, select=())

    def escaped(self) -> "Tool":
        """Return the tool with what it was at given up."""
        return type(self)(name=self.name, snaps=self.snaps)


def previewed(tool: Tool, scene: Scene, change: Change) -> Step:
    """Return the step that previews a change."""
    found = tried(scene.project, change)
    return Step(tool=tool, preview=found.project, refused=found.refused)
