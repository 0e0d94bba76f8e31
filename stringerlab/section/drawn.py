"""A section's walls as drawn lines with both faces, for whatever looks at them one by one. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import Points, as_pairs
from stringerlab.section.drawing import draw, wall_strokes
from stringerlab.section.records import Section, SectionShape

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class DrawnWall:
    """A sound wall: its corners as drawn, and the vertices of its two faces, fillets as chords."""

    id: str
    corners: Array
    """(m, 2)."""
    radii: tuple[float, ...]
    """One a corner."""
    tool: Array
    """(n, 2) the drawn line; a closed one ends on its first vertex again."""
    face: Array
    """(n, 2) the laminate's far face; on the drawn line where the laminate is not known."""
    chord: NDArray[np.bool_]
    """(n − 1,) segments that are chords of a fillet."""
    corner_of: NDArray[np.intp]
    """(n,) the corner that each vertex is or rounds."""
    closed: bool
    side: float
    """+1 where the laminate builds to the left of the line, −1 to the right."""
    thickness: float
    """Gel coat included, 0 where it is not known."""

    @property
    def outline(self) -> list[Array]:
        """The rings that bound the laminate, even-odd; none where it has no thickness."""
        if not self.thickness:
            return []
        if self.closed:
            return [self.tool[:-1], self.face[:-1]]
        return [np.concatenate([self.tool, self.face[::-1]])]


def drawn_walls(shape: SectionShape | Section) -> tuple[DrawnWall, ...]:
    """Return the walls that can be drawn, in their order; a section as drawn has no thicknesses."""
    drawing = draw(wall_strokes(shape))
    lines = drawing.lines
    found: list[DrawnWall] = []
    if lines is None:
        return ()
    for index, stroke in enumerate(drawing.strokes):
        part = lines.part(index)
        tool = lines.points[part]
        chord = lines.chord[part][:-1]
        wall = shape.walls[stroke.wall]
        found.append(
            DrawnWall(
                id=wall.id,
                corners=np.array(wall.points, float),
                radii=wall.fillets or (0.0,) * len(wall.points),
                tool=as_pairs(tool),
                face=as_pairs(tool + stroke.reach * lines.mitres[part]),
                chord=chord,
                corner_of=_corner_of(tool, stroke.points, stroke.numbers, closed=stroke.closed),
                closed=stroke.closed,
                side=stroke.side,
                thickness=abs(stroke.reach),
            )
        )
    return tuple(found)


def _corner_of(
    tool: Points, points: Sequence[tuple[float, float]], numbers: tuple[int, ...], *, closed: bool
) -> NDArray[np.intp]:
    """Return the number of the corner that each vertex belongs to: the nearest, in the order of the line."""
    corners = np.array([complex(*point) for point in points])
    given = np.array(numbers, np.intp) - 1 if numbers else np.arange(len(points))
    along: list[int] = []
    at = 0
    for vertex in tool.tolist():
        while at + 1 < len(corners) and abs(corners[at + 1] - vertex) < abs(corners[at] - vertex):
            at += 1
        along.append(at)
    if closed and len(along) > 1:
        along[-1] = along[0]
    return given[np.array(along, np.intp)]


def shell_line(deadrise: float, reach: float) -> Array:
    """Return the shell's inboard face as two points through the origin (2, 2).

    Parameters
    ----------
    deadrise
        Its slope [rad].
    reach
        How far it goes each way [mm].
    """
    along = np.array([cos(deadrise), sin(deadrise)])
    return reach * np.array([-along, along])
