"""Measuring between two points: distance, its parts along y and z, and its slope. No Qt."""

from dataclasses import dataclass

from stringerlab.desktop.sheet.tool import NOTHING, Place, Scene, Sketch, Step, Tool, Touch
from stringerlab.geometry.construct import polar


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Tool):
    """``start`` is the first point, ``end`` the second once it is set."""

    start: Place | None = None
    end: Place | None = None

    @property
    def busy(self) -> bool:
        """Whether a measure stands on the sheet."""
        return self.start is not None

    @property
    def origin(self) -> Place | None:
        """The first point while the second is sought."""
        return self.start if self.end is None else None

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        del scene
        if self.start is None:
            return "Click where to measure from."
        return "Click where to measure to." if self.end is None else "Click where to measure from next."

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the line measured and its numbers."""
        end = self.end or (touch.at if touch else None)
        if self.start is None or end is None:
            return NOTHING
        length, angle = polar(self.start, end)
        across, up = abs(end[0] - self.start[0]), abs(end[1] - self.start[1])
        note = f"{scene.length(length)}   Δy {scene.length(across)}   Δz {scene.length(up)}   {angle:.1f}°"
        return Sketch(
            lines=((self.start, end),), marks=(self.start, end), note=note.replace("-", "−"), at=end
        )

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Set a point."""
        del scene
        if self.start is None or self.end is not None:
            return Step(tool=Measure(name=self.name, start=touch.at))
        return Step(tool=Measure(name=self.name, start=self.start, end=touch.at))
