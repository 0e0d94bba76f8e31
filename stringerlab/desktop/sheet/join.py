"""Making one wall of two that meet end to end: click one, then the other. No Qt."""

from dataclasses import dataclass, replace

from stringerlab.desktop.sheet.hits import hit
from stringerlab.desktop.sheet.tool import Edit, Scene, Step, Tool, Touch
from stringerlab.project import drafting


@dataclass(frozen=True, slots=True, kw_only=True)
class Join(Tool):
    """``first`` is the wall taken first."""

    first: str = ""

    @property
    def busy(self) -> bool:
        """Whether the first wall is taken."""
        return bool(self.first)

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        if not self.first:
            return "Click the wall that keeps its name."
        return "Click the wall that meets it end to end; on itself, its ends are closed."

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Take the first wall, or join the second to it."""
        found = hit(scene, touch.raw)
        if found is None or scene.wall(found.id) is None:
            return Step(tool=self, refused="There is no wall here to join.")
        if not self.first:
            return Step(tool=replace(self, first=found.id), select=(found.id,))
        section, first, second = scene.section.id, self.first, found.id
        rest = replace(self, first="")
        if first == second:
            close = Edit(
                label="Close wall", change=lambda project: drafting.closed_up(project, section, first)
            )
            return Step(tool=rest, edit=close)
        edit = Edit(
            label="Join walls", change=lambda project: drafting.joined(project, section, first, second)
        )
        return Step(tool=rest, edit=edit, select=(first,))
