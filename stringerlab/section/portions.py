"""What every ply and fill takes of a section: its area as counted, overlaps cut away, and its width. mm."""

from dataclasses import dataclass

from stringerlab.errors import StringerlabError
from stringerlab.section.bodies import bodies
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import SectionShape


@dataclass(frozen=True, slots=True, kw_only=True)
class Portion:
    """A resolved ply of a wall, or a fill, in a section."""

    owner: str
    """Id of the wall or fill."""
    place: int
    """Of the ply in its wall's stack, from 0; −1 for a fill."""
    area: float
    """Of its cross-section [mm²]."""
    width: float
    """Area over thickness [mm]: of a layer its part of its fabric's width, so that layers add up to it; 0 for
    a fill."""


def portions(shape: SectionShape, deadrise: float = 0.0) -> tuple[Portion, ...]:
    """Return what every ply takes, walls in their order, then every fill.

    Parameters
    ----------
    shape
        The section.
    deadrise
        Slope of the shell it is drawn on [rad]; hull plating is in none of it.

    Raises
    ------
    StringerlabError
        With everything that forbids a number: see `stringerlab.section.problems`.
    """
    built = bodies(shape, deadrise=deadrise)
    if built.faults:
        raise StringerlabError(built.faults)
    area = built.area.tolist()
    found: list[Portion] = []
    for stroke in built.drawing.strokes:
        wall = shape.walls[stroke.wall]
        for place, whole in enumerate(stack_sizes(wall.stack).whole.tolist()):
            here = area[len(found)]
            found.append(Portion(owner=wall.id, place=place, area=here, width=here / whole))
    found += [
        Portion(owner=fill.id, place=-1, area=here, width=0.0)
        for fill, here in zip(built.fills, area[len(found) :], strict=True)
    ]
    return tuple(found)
