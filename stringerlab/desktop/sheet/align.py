"""Lining up what is selected with a place, by an edge or the middle; letters choose which. No Qt."""

from dataclasses import dataclass, replace

from stringerlab.desktop.sheet.tool import NOTHING, Change, Edit, Scene, Sketch, Step, Tool, Touch, stepped
from stringerlab.project import drafting
from stringerlab.project.drafting import Edge

LETTERS = {
    "L": Edge.LEFT,
    "R": Edge.RIGHT,
    "T": Edge.TOP,
    "B": Edge.BOTTOM,
    "C": Edge.CENTRE,
    "M": Edge.MIDDLE,
}
_WORDS = {Edge.CENTRE: "upright middle line", Edge.MIDDLE: "level middle line"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Align(Tool):
    """``edge`` is what is lined up, of each selected thing for itself."""

    edge: Edge = Edge.LEFT

    def hint(self, scene: Scene) -> str:
        """Return what the next click does."""
        if not scene.selected:
            return "Select what to align first."
        word = _WORDS.get(self.edge, f"{self.edge} edge")
        return (
            f"Click where each {word} comes to lie; Enter lines them up among themselves. "
            "L, R, T, B: edges; C, M: middles."
        )

    def sketch(self, scene: Scene, touch: Touch | None) -> Sketch:
        """Return the line to come to."""
        del scene
        return NOTHING if touch is None else Sketch(note=str(self.edge), at=touch.at)

    def lettered(self, scene: Scene, letter: str) -> Step | None:
        """Choose what is lined up."""
        if letter not in LETTERS or not scene.selected:
            return None
        return Step(tool=replace(self, edge=LETTERS[letter]))

    def pressed(self, scene: Scene, touch: Touch) -> Step:
        """Line up with the place."""
        if not scene.selected:
            return Step(tool=self, refused=self.hint(scene))
        return Step(tool=self, edit=Edit(label="Align", change=self.change(scene, self._to(touch))))

    def moved(self, scene: Scene, touch: Touch) -> Step:
        """Preview it."""
        if not scene.selected:
            return Step(tool=self)
        return stepped(self, scene, self.change(scene, self._to(touch)))

    def entered(self, scene: Scene) -> Step:
        """Line up among themselves."""
        if not scene.selected:
            return Step(tool=self, done=True)
        return Step(tool=self, edit=Edit(label="Align", change=self.change(scene, None)), done=True)

    def change(self, scene: Scene, to: float | None) -> Change:
        """Return the alignment to a place [mm], or among themselves."""
        section, ids, edge = scene.section.id, scene.selected, self.edge
        return lambda project: drafting.aligned(project, section, ids, edge, to)

    def _to(self, touch: Touch) -> float:
        upright = self.edge in (Edge.LEFT, Edge.RIGHT, Edge.CENTRE)
        return touch.at[0] if upright else touch.at[1]
