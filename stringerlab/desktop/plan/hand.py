"""The hand at the plan: its tool, its selection. Tools' answers go on to the session and the status line."""

from collections.abc import Sequence
from math import isfinite

from PySide6.QtCore import QObject, Signal

from stringerlab.desktop.plan.catching import Catcher
from stringerlab.desktop.plan.hits import Hit, hit
from stringerlab.desktop.plan.scene import Array, Fresh, Scene
from stringerlab.desktop.plan.sight import Sight
from stringerlab.desktop.plan.tool import Edit, Place, Sketch, Step, Tool, Touch
from stringerlab.desktop.plan.tools import listed
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.rulers import grid_step
from stringerlab.desktop.sheet.underlay import Underlay, Underlays
from stringerlab.project import planning
from stringerlab.units import Kind
from stringerlab.units import format as shown_as

PICK = 7.0
"""Pixels within which a thing is picked."""
CATCH = 10.0
"""Pixels within which a snap catches."""


class PlanHand(QObject):
    """Holds a tool over one layout of the session's project."""

    changed = Signal()
    """Something to be painted is another one."""
    tool_changed = Signal(str)
    """Another tool is in the hand: its id."""
    selection_changed = Signal()
    layout_changed = Signal(str)
    fresh_changed = Signal()
    """What is drawn next is made otherwise."""
    switches_changed = Signal()
    """Snaps or ortho went on or off."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.sight = Sight()
        self.tool: Tool = listed("select").tool()
        self.selected: tuple[str, ...] = ()
        self.fresh = Fresh()
        self.snaps = True
        self.ortho = False
        self.scale = 0.1
        """Pixels a mm, told by the plan."""
        self.underlays = Underlays(session, self)
        """Lines laid under layouts."""
        self.touch: Touch | None = None
        self.hovered: Hit | None = None
        self._catcher = Catcher()
        self._said = ""
        self._layout_shown = self.layout_id
        session.project_changed.connect(self._after_edit)
        session.shown_changed.connect(self.changed)
        session.selection_changed.connect(self.follow)
        self.underlays.changed.connect(self.changed)

    # -- what there is ---------------------------------------------------------------------------

    @property
    def layout_id(self) -> str:
        """Id of the layout worked on, empty for none."""
        held = self.sight.layout(self.session.project)
        return held.id if held else ""

    @property
    def grid(self) -> float:
        """Step of the grid [mm]."""
        return grid_step(self.scale, self.session.units)

    @property
    def underlay(self) -> Underlay | None:
        """What lies under the layout, as it is seen."""
        return self.underlays.of(self.layout_id)

    def scene(self) -> Scene | None:
        """Return what tools work on: the committed layout; None when there is none."""
        return self.sight.scene(self.session.project, *self._how)

    def shown(self) -> Scene | None:
        """Return what is drawn: the preview while there is one."""
        return self.sight.scene(self.session.shown, *self._how)

    @property
    def _how(self) -> tuple[tuple[str, ...], float, float, Fresh]:
        return self.selected, PICK / self.scale, self.grid, self.fresh

    def sketch(self) -> Sketch:
        """Return what the tool draws over the plan."""
        scene = self.scene()
        return self.tool.sketch(scene, self.touch) if scene else Sketch()

    # -- choosing --------------------------------------------------------------------------------

    def show_layout(self, id: str) -> None:  # noqa: A002
        """Work on another layout, and have it judged."""
        self.cancel()
        self.select(())
        held = next((each for each in self.session.project.layouts if each.id == id), None)
        if held is not None and id != self.session.project.layout:
            self.sight.chosen = id
            self.session.edit(f"Use {held.name}", planning.with_layout_in_use, id)

    def lay_under(self, lines: Sequence[Array]) -> None:
        """Lay lines (n, 2) under the plan, in place of those there [mm]."""
        if self.layout_id:
            self.underlays.lay(self.layout_id, lines)
        else:
            self.session.said.emit("Begin a layout first: lines are laid under one.")

    def take(self, id: str) -> None:  # noqa: A002
        """Take up a tool by its id."""
        self.cancel()
        self.tool = listed(id).tool()
        self.tool_changed.emit(id)
        self.changed.emit()
        self.say()

    def select(self, ids: tuple[str, ...]) -> None:
        """Select things of the layout."""
        if ids != self.selected:
            self.selected = ids
            self.session.select(ids[0] if ids else "")
            self.selection_changed.emit()
            self.changed.emit()

    def choose_at(self, raw: Place) -> None:
        """Select what lies at a place, unless it is selected already."""
        scene = self.scene()
        found = hit(scene, raw) if scene else None
        if found is not None and found.id not in self.selected:
            self.select((found.id,))

    def select_all(self) -> None:
        """Select every member."""
        scene = self.scene()
        self.select(tuple(member.id for member in scene.layout.members) if scene else ())

    def cycle(self, by: int) -> bool:
        """Select the next thing drawn, or the previous one; past the last nothing, and return False."""
        scene = self.scene()
        ids = list(scene.things) if scene else []
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

    def make_like(self, fresh: Fresh) -> None:
        """Make what is drawn from now on otherwise."""
        if fresh != self.fresh:
            self.fresh = fresh
            self.fresh_changed.emit()
            self.changed.emit()

    def follow(self, id: str) -> None:  # noqa: A002
        """Show what was selected elsewhere."""
        if id in self.selected:
            return
        scene = self.scene()
        known = scene is not None and (id in scene.things or id in scene.spans or id in scene.bays)
        ids = (id,) if known else ()
        if ids != self.selected:
            self.selected = ids
            self.selection_changed.emit()
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
        """Take the pointer off the plan."""
        self.touch = self.hovered = None
        self.changed.emit()

    # -- keys ------------------------------------------------------------------------------------

    def typed(self, text: str) -> str:
        """Hand a typed line to the tool; return why it does not read, empty when it did."""
        scene = self.scene()
        if scene is None:
            return "There is no layout."
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
        """Give up what is at hand: the plan shows the committed project again."""
        self.tool = self.tool.escaped()
        self.session.preview(None)
        self.changed.emit()

    def nudge(self, right: int, up: int, part: float = 1.0) -> None:
        """Move the selection by grid steps."""
        ids, step = self._drawn_ids(), self.grid * part
        if ids:
            self.do(
                Edit(
                    label="Nudge",
                    change=lambda project: planning.moved(project, ids, right * step, up * step),
                )
            )

    def duplicate(self) -> None:
        """Copy the selection beside itself."""
        ids, step = self._drawn_ids(), 2 * self.grid
        if ids:
            self.do(
                Edit(label="Copy", change=lambda project: planning.copied(project, ids, step, step)),
                fresh=True,
            )

    # -- carrying out ----------------------------------------------------------------------------

    def carry_out(self, step: Step) -> None:
        """Do what a tool's answer says."""
        self.tool = step.tool
        if step.like is not None:
            self.make_like(step.like)
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
        scene = self.scene()
        before = set(scene.things) if scene else set[str]()
        done = self.session.edit(edit.label, edit.change)
        after = self.scene()
        if done and fresh and after is not None:
            self.select(tuple(each for each in after.things if each not in before))
        return done

    def say(self, what: str = "") -> None:
        """Say in the status line where the pointer is, and what the next click does."""
        scene = self.scene()
        hint = what or (self.tool.hint(scene) if scene else "Press New layout to begin.")
        said = f"{self.where()}   {hint}" if self.touch else hint
        if said != self._said:
            self._said = said
            self.session.said.emit(said)

    def where(self) -> str:
        """Return the pointer's coordinates, and what caught it, as a person reads them."""
        if self.touch is None:
            return ""
        x, y = (shown_as(round(value, 6), Kind.LENGTH, self.session.units) for value in self.touch.at)
        snap = self.touch.snap
        if snap is None:
            return f"x {x}  y {y}"
        scene = self.scene()
        thing = scene.things.get(snap.subject) if scene else None
        of = thing.name or thing.id if thing else snap.subject
        return f"x {x}  y {y}  {snap.kind}{f', {of}' if of else ''}"

    # -- inside ----------------------------------------------------------------------------------

    def _drawn_ids(self) -> tuple[str, ...]:
        scene = self.scene()
        return tuple(each for each in self.selected if scene and each in scene.things)

    def _answer(self, event: str, raw: Place, shift: bool, ctrl: bool) -> None:
        scene = self.scene()
        if scene is None or not (isfinite(raw[0]) and isfinite(raw[1])):
            return
        self.touch = self._touch(scene, raw, event, shift=shift, ctrl=ctrl)
        self.hovered = None if self.tool.busy else hit(scene, raw)
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
        snap = self._catcher.snap(
            scene,
            raw,
            CATCH / self.scale,
            origin=tool.origin,
            ortho=self.ortho or (shift and tool.origin is not None),
            without=tool.left_out,
            points=self.snaps,
            underlay=self.underlay.lines if self.underlay else (),
        )
        return Touch(at=snap.at if snap else raw, raw=raw, snap=snap, shift=shift, ctrl=ctrl)

    def _after_edit(self) -> None:
        if self.layout_id != self._layout_shown:
            self._layout_shown = self.layout_id
            self.layout_changed.emit(self.layout_id)
        scene = self.scene()
        kept = tuple(
            each
            for each in self.selected
            if scene and (each in scene.things or each in scene.spans or each in scene.bays)
        )
        if kept != self.selected:
            self.select(kept)
        self.changed.emit()
