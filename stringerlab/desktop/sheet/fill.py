"""Filling the closed region that is clicked. No Qt."""

from dataclasses import dataclass

from stringerlab.desktop.sheet.tool import Edit, Scene, Step, Tool, Touch
from stringerlab.project import drafting


@dataclass(frozen=True, slots=True, kw_only=True)
class PickRegion(Tool):
    """It has no state; a place in a room is where it is, so nothing catches the pointer."""

    snaps: bool = False

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        return f"Click into a closed region to fill it with {scene.fill_name}."

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Fill."""
        section, at, material = scene.section.id, touch.raw, scene.material
        edit = Edit(
            label="Fill region",
            change=lambda project: drafting.filled_region(project, section, at, material),
        )
        return Step(tool=self, edit=edit, fresh=True)
