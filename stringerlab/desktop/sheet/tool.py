"""What a tool is: a small frozen state that takes what hand and keys do and answers with its next. No Qt.

A tool never changes anything itself. Its answer, a ``Step``, names a project to preview, an edit to do,
things to select, or why nothing was done; the sheet carries that out.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Self

from stringerlab.errors import StringerlabError
from stringerlab.geometry.picking import Pickable
from stringerlab.geometry.snapping import Snap
from stringerlab.project import Project, drafting
from stringerlab.section import Fill, Section, Wall
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

if TYPE_CHECKING:
    from stringerlab.desktop.sheet.hits import Hit

Place = tuple[float, float]
Change = Callable[[Project], Project]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What a tool works on: the committed project, the section on the sheet, what is selected in it."""

    project: Project
    section: Section
    selected: tuple[str, ...] = ()
    reach: float = 3.0
    """How near is near [mm]."""
    grid: float = 10.0
    """Step of the grid [mm]."""
    laminate: str = ""
    """Of new walls."""
    material: str = ""
    """Of new fills, by id …"""
    fill_name: str = "a solid"
    """… and by name."""
    block: str = ""
    """Of new backing blocks, by id …"""
    block_name: str = "a solid"
    """… and by name."""
    thickness: Mapping[str, float] = field(default_factory=dict[str, float])
    """Of laminates by id, as far as they are sound [mm]."""
    bodies: Pickable | None = None
    """What can be picked, as drawn."""
    known: "dict[str, list[Hit]]" = field(default_factory=dict[str, "list[Hit]"], compare=False, repr=False)
    """What can be gripped of each thing, as far as it has been asked."""

    @property
    def system(self) -> System:
        """Units a person reads."""
        return self.project.units

    def wall(self, id: str) -> Wall | None:  # noqa: A002
        """Return a wall of the section, None when there is none of that id."""
        return next((wall for wall in self.section.walls if wall.id == id), None)

    def part(self, id: str) -> Wall | Fill | None:  # noqa: A002
        """Return a wall or fill of the section, None when there is none of that id."""
        return next((part for part in (*self.section.walls, *self.section.fills) if part.id == id), None)

    def length(self, value: float) -> str:
        """Return a length as a person reads it."""
        return shown(value, Kind.LENGTH, self.system)


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """Where the pointer is, in mm: ``at`` once snapped, ``raw`` as it lies; and the keys held."""

    at: Place
    raw: Place
    snap: Snap | None = None
    shift: bool = False
    ctrl: bool = False

    @classmethod
    def bare(cls, at: Place, *, shift: bool = False, ctrl: bool = False) -> Self:
        """Return a touch that nothing caught."""
        return cls(at=at, raw=at, shift=shift, ctrl=ctrl)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What a tool draws over the sheet, in mm."""

    lines: tuple[tuple[Place, ...], ...] = ()
    box: tuple[Place, Place] | None = None
    crossing: bool = False
    """Whether the box takes what it touches, rather than what it holds whole."""
    marks: tuple[Place, ...] = ()
    note: str = ""
    at: Place | None = None
    """Where the note stands."""


NOTHING = Sketch()


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One edit with its label, for the history."""

    label: str
    change: Change


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A tool's answer."""

    tool: "Tool"
    preview: Project | None = None
    edit: Edit | None = None
    select: tuple[str, ...] | None = None
    fresh: bool = False
    """Select what the edit added."""
    refused: str = ""
    """Why nothing was done, for the status line."""
    done: bool = False
    """Whether the sheet goes back to selecting."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool at rest, that does nothing; every tool is one of these with its own state.

    ``moved`` is the mouse moving with or without its button; ``entered`` the Enter key, ``escaped`` Escape,
    ``back`` Backspace, ``typed`` a line typed into the field on the sheet.
    """

    name: str = ""
    snaps: bool = True
    """Whether the pointer is caught by what lies near."""

    @property
    def catches(self) -> bool:
        """Whether a movement is caught by what lies near now."""
        return self.snaps

    @property
    def takes_text(self) -> bool:
        """Whether a digit opens the field on the sheet now."""
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

    @property
    def carries(self) -> bool:
        """Whether what is selected moves with the pointer, all of it and nothing else."""
        return False

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        return ""

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return what to draw over the sheet."""
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
        """Return the answer to a letter that means something to it now; None leaves it to the sheet."""
        del scene, letter
        return None

    def deleted(self, scene: Scene) -> Step:
        """Return the answer to Delete: what is selected goes."""
        ids, section = scene.selected, scene.section
        if not ids:
            return Step(tool=self, refused="Nothing is selected.")
        if section.walls and all(wall.id in ids for wall in section.walls):
            why = "A section keeps at least one wall. Draw another first, or delete the whole section."
            return Step(tool=self, refused=why)
        return Step(
            tool=self,
            edit=Edit(label="Delete", change=lambda project: drafting.removed(project, section.id, ids)),
            select=(),
        )

    def escaped(self) -> "Tool":
        """Return the tool with what it was at given up."""
        return type(self)(name=self.name, snaps=self.snaps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A project after a change, or why there is none."""

    project: Project | None = None
    refused: str = ""


def tried(project: Project, change: Change) -> Tried:
    """Return a project changed, or why it cannot be."""
    try:
        return Tried(project=change(project))
    except StringerlabError as error:
        return Tried(refused=str(error.problems[0]))


def stepped(tool: Tool, scene: Scene, change: Change) -> Step:
    """Return the step that previews a change."""
    found = tried(scene.project, change)
    return Step(tool=tool, preview=found.project, refused=found.refused)
