"""The hand at the sheet: its tool, its selection. Tools' answers go on to the session and the status line."""

from math import isfinite, radians

from PySide6.QtCore import QObject, Signal

from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.catching import Catcher
from stringerlab.desktop.sheet.hits import Hit, What, hit
from stringerlab.desktop.sheet.rulers import grid_step
from stringerlab.desktop.sheet.select import Select
from stringerlab.desktop.sheet.sight import Sight
from stringerlab.desktop.sheet.tool import Edit, Place, Scene, Sketch, Step, Tool, Touch
from stringerlab.desktop.sheet.tools import listed
from stringerlab.project import Project, drafting
from stringerlab.section import Section
from stringerlab.units import Kind
from stringerlab.units import format as shown_as

PICK = 6.0
"""Pixels within which a thing is picked."""
CATCH = 10.0
"""Pixels within which a snap catches."""
_FREE = (What.POINT, What.FILLET)


class Hand(QObject):
    """Holds a tool over one section of the session's project."""

    changed = Signal()
    """Something to be painted is another one."""
    tool_changed = Signal(str)
    """Another tool is in the hand: its id."""
    selection_changed = Signal()
    section_changed = Signal(str)
    switches_changed = Signal()
    """Snaps or ortho went on or off."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.sight = Sight(session)
        self.tool: Tool = listed("select").tool()
        self.selected: tuple[str, ...] = ()
        self.snaps = True
        self.ortho = False
        self.scale = 2.0
        """Pixels a mm, told by the sheet."""
        self.laminate = ""
        """Of new walls; the section's first wall's where empty."""
        self.material = "pu_foam32"
        """Of new fills."""
        self.block = "frp_block"
        """Of new backing blocks."""
        self.touch: Touch | None = None
        self.hovered: Hit | None = None
        self._scene: tuple[Project, Scene, tuple[object, ...]] | None = None
        self._catcher = Catcher()
        self._said = ""
        session.project_changed.connect(self._after_edit)
        session.shown_changed.connect(self.changed)
        session.selection_changed.connect(self.follow)

    # -- what there is ---------------------------------------------------------------------------

    @property
    def section_id(self) -> str:
        """Id of the section worked on, empty for none."""
        return self.sight.section_id

    @property
    def grid(self) -> float:
        """Step of the grid [mm]."""
        return grid_step(self.scale, self.session.units)

    @property
    def in_hand(self) -> tuple[str, ...]:
        """Ids of what is being dragged: all that is selected when one of them is."""
        held = self.tool.left_out
        if held or (self.tool.carries and self.session.shown is not self.session.project):
            return tuple(dict.fromkeys((*held, *self.selected)))
        return ()

    @property
    def bends_freely(self) -> bool:
        """Whether a single point or fillet is in the hand, so that a shape does not stay one."""
        tool = self.tool
        held = tool.held if isinstance(tool, Select) and tool.dragging else None
        return held is not None and held.what in _FREE

    @property
    def chosen_point(self) -> tuple[str, int] | None:
        """The point that Delete would remove."""
        return self.tool.point if isinstance(self.tool, Select) else None

    def lens(self, thin: float) -> float | None:
        """Return how much to enlarge what is under the pointer, None where its plies show as they are.

        ``thin`` is the thickness in pixels below which a ply is looked at through the lens.
        """
        thinnest = self.sight.thinnest_ply(self.hovered.id) if self.hovered else None
        if thinnest is None or thinnest * self.scale >= thin:
            return None
        return min(max(2 * thin / max(thinnest * self.scale, 1e-6), 3.0), 40.0)

    def scene(self) -> Scene | None:
        """Return what tools work on; None when there is no section."""
        project = self.session.project
        section = self.sight.committed
        if section is None:
            return None
        key = (self.selected, self.scale, self.laminate, self.material, self.block)
        held = self._scene
        if held and held[0] is project and held[1].section is section and held[2] == key:
            return held[1]
        scene = Scene(
            project=project,
            section=section,
            selected=self.selected,
            reach=PICK / self.scale,
            grid=self.grid,
            laminate=self._new_laminate(section),
            material=self.material,
            fill_name=self.sight.solid_name(self.material),
            block=self.block,
            block_name=self.sight.solid_name(self.block),
            thickness=self.sight.thicknesses,
            bodies=self._catcher.bodies(self.sight.committed_shape or section),
        )
        self._scene = (project, scene, key)
        return scene

    def sketch(self) -> Sketch:
        """Return what the tool draws over the sheet."""
        scene = self.scene()
        return self.tool.sketch(scene, self.touch) if scene else Sketch()

    # -- choosing --------------------------------------------------------------------------------

    def show_section(self, id: str) -> None:  # noqa: A002
        """Work on another section; what is at hand is given up."""
        if id == self.section_id:
            return
        self.cancel()
        self.sight.section_id = id
        self.select(())
        self.section_changed.emit(id)
        self.changed.emit()
        self.say()

    def take(self, id: str) -> None:  # noqa: A002
        """Take up a tool by its id."""
        self.cancel()
        self.tool = listed(id).tool()
        self.tool_changed.emit(id)
        self.changed.emit()
        self.say()

    def select(self, ids: tuple[str, ...]) -> None:
        """Select things of the section."""
        if ids != self.selected:
            self.selected = ids
            self.session.select(ids[0] if ids else self.section_id)
            self.selection_changed.emit()
            self.changed.emit()

    def choose_at(self, raw: Place) -> None:
        """Select what lies at a place, unless it is selected already."""
        scene = self.scene()
        found = hit(scene, raw) if scene else None
        if found is not None and found.id not in self.selected:
            self.select((found.id,))

    def select_all(self) -> None:
        """Select every wall and fill."""
        self.select(self.sight.ids)

    def cycle(self, by: int) -> bool:
        """Select the next thing, or the previous one; past the last nothing, and return False."""
        ids = self.sight.ids
        if not ids:
            return False
        chosen = self.selected[0] if self.selected and self.selected[0] in ids else None
        at = ids.index(chosen) + by if chosen else (0 if by > 0 else len(ids) - 1)
        if not 0 <= at < len(ids):
            self.select(())
            return False
        self.select((ids[at],))
        return True

    def switch(self, *, snaps: bool | None = None, ortho: bool | None = None) -> None:
        """Put snaps or ortho lock on or off."""
        self.snaps = self.snaps if snaps is None else snaps
        self.ortho = self.ortho if ortho is None else ortho
        self.switches_changed.emit()
        self.changed.emit()

    # -- the pointer -----------------------------------------------------------------------------

    def press(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """Put the button down at a place."""
        self._answer("pressed", raw, shift, ctrl)

    def move(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """Move the pointer to a place."""
        self._answer("moved", raw, shift, ctrl)

    def release(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """Let the button go at a place."""
        self._answer("released", raw, shift, ctrl)

    def double(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """Click twice at a place."""
        self._answer("doubled", raw, shift, ctrl)

    def leave(self) -> None:
        """Take the pointer off the sheet."""
        self.touch = self.hovered = None
        self.changed.emit()

    # -- keys ------------------------------------------------------------------------------------

    def typed(self, text: str) -> str:
        """Hand a typed line to the tool; return why it does not read, empty when it did."""
        scene = self.scene()
        if scene is None:
            return "There is no section."
        step = self.tool.typed(scene, text, self.touch or Touch.bare((0.0, 0.0)))
        self.carry_out(step)
        return step.refused

    def enter(self) -> None:
        """End what is being done."""
        scene = self.scene()
        if scene is not None:
            self.carry_out(self.tool.entered(scene))

    def back(self) -> None:
        """Take the last point back."""
        scene = self.scene()
        if scene is not None:
            self.carry_out(self.tool.back(scene))

    def escape(self) -> None:
        """Give up what is at hand; then the tool; then the selection."""
        if self.tool.busy:
            self.cancel()
        elif self.tool.name != "select":
            self.take("select")
        else:
            self.select(())
        self.say()

    def cancel(self) -> None:
        """Give up what is at hand: the sheet shows the committed project again."""
        self.tool = self.tool.escaped()
        self.session.preview(None)
        self.changed.emit()

    def delete(self) -> None:
        """Remove the point in the hand, or what is selected."""
        scene = self.scene()
        if scene is not None:
            self.carry_out(self.tool.deleted(scene))

    def letter(self, letter: str) -> bool:
        """Hand a letter to the tool; return whether it meant something to it."""
        scene = self.scene()
        step = self.tool.lettered(scene, letter) if scene else None
        if step is not None:
            self.carry_out(step)
        return step is not None

    def nudge(self, right: int, up: int, part: float = 1.0) -> None:
        """Move the selection by grid steps."""
        if self.selected:
            ids, section = self.selected, self.section_id
            step = self.grid * part
            self.do(
                Edit(
                    label="Nudge",
                    change=lambda project: drafting.moved(project, section, ids, right * step, up * step),
                )
            )

    def duplicate(self) -> None:
        """Copy the selection beside itself."""
        if self.selected:
            ids, section, step = self.selected, self.section_id, 2 * self.grid
            self.do(
                Edit(
                    label="Copy",
                    change=lambda project: drafting.copied(project, section, ids, step, step),
                ),
                fresh=True,
            )

    # -- carrying out ----------------------------------------------------------------------------

    def carry_out(self, step: Step) -> None:
        """Do what a tool's answer says."""
        self.tool = step.tool
        if step.edit is not None:
            self.do(step.edit, fresh=step.fresh)
        else:
            self.session.preview(step.preview)
        if step.select is not None:
            self.select(step.select)
        if step.done:
            self.take("select")
        self.changed.emit()
        self.say(step.refused)

    def do(self, edit: Edit, *, fresh: bool = False) -> bool:
        """Do one edit; select what it added when asked."""
        before = set(self.sight.ids)
        done = self.session.edit(edit.label, edit.change)
        if done and fresh:
            self.select(tuple(each for each in self.sight.ids if each not in before))
        return done

    def say(self, what: str = "") -> None:
        """Say in the status line where the pointer is, and what the next click does."""
        scene = self.scene()
        hint = what or (self.tool.hint(scene) if scene else "Add a section at the left to begin.")
        said = f"{self.where()}   {hint}" if self.touch else hint
        if said != self._said:
            self._said = said
            self.session.said.emit(said)

    def where(self) -> str:
        """Return the pointer's coordinates as a person reads them."""
        if self.touch is None:
            return ""
        # a millionth of a millimetre is rounding, not a place
        y, z = (shown_as(round(value, 6), Kind.LENGTH, self.session.units) for value in self.touch.at)
        return f"y {y}  z {z}  {self.touch.snap.kind}" if self.touch.snap else f"y {y}  z {z}"

    # -- inside ----------------------------------------------------------------------------------

    def _answer(self, event: str, raw: Place, shift: bool, ctrl: bool) -> None:
        scene = self.scene()
        if scene is None or not (isfinite(raw[0]) and isfinite(raw[1])):
            return
        self.touch = self._touch(scene, raw, event, shift=shift, ctrl=ctrl)
        self.hovered = None if self.tool.busy else hit(scene, raw, free=ctrl)
        answer = {
            "pressed": self.tool.pressed,
            "moved": self.tool.moved,
            "released": self.tool.released,
            "doubled": self.tool.doubled,
        }[event]
        self.carry_out(answer(scene, self.touch))

    def _touch(self, scene: Scene, raw: Place, event: str, *, shift: bool, ctrl: bool) -> Touch:
        tool = self.tool
        if not tool.snaps or (event == "moved" and not tool.catches):
            return Touch(at=raw, raw=raw, shift=shift, ctrl=ctrl)
        reference = scene.section.reference
        snap = self._catcher.snap(
            self.sight.committed_shape or scene.section,
            self.sight.plating,
            radians(reference.deadrise) if reference else 0.0,
            scene.grid,
            raw,
            CATCH / self.scale,
            origin=tool.origin,
            ortho=self.ortho or (shift and tool.origin is not None),
            without=self.in_hand if tool.left_out else (),
            points=self.snaps,
            underlay=self.sight.underlay,
        )
        return Touch(at=snap.at if snap else raw, raw=raw, snap=snap, shift=shift, ctrl=ctrl)

    def _new_laminate(self, section: Section) -> str:
        known = [laminate.id for laminate in self.session.project.laminates]
        wanted = [self.laminate, *(wall.laminate for wall in section.walls), *known]
        return next((each for each in wanted if each in known), "")

    def _after_edit(self) -> None:
        if self.sight.committed is None:
            sections = self.session.project.sections
            self.sight.section_id = sections[0].id if sections else ""
            self.section_changed.emit(self.section_id)
        held = set(self.sight.ids)
        if not held.issuperset(self.selected):
            self.select(tuple(each for each in self.selected if each in held))
        self.changed.emit()

    def follow(self, id: str) -> None:  # noqa: A002
        """Show what was selected elsewhere."""
        if id in self.selected or id == self.section_id:
            return
        for section in self.session.project.sections:
            parts = {part.id for part in (*section.walls, *section.fills)}
            if id == section.id:
                self.show_section(id)
            elif id in parts:
                self.show_section(section.id)
                self.select((id,))
