"""What bounds the empty rooms of a section: laminates, fills, the shell, the beads under flanges. mm."""

from collections.abc import Iterator, Sequence
from math import cos, sin

import numpy as np

from stringerlab.geometry.areas import Area, Array
from stringerlab.geometry.subdivision import Solid
from stringerlab.section.cutting import below_shell
from stringerlab.section.drawn import DrawnWall, drawn_walls
from stringerlab.section.records import SectionShape
from stringerlab.section.webs import CONTACT

SHELL = "the shell"
BEAD = "the bead"


def solids(shape: SectionShape, deadrise: float = 0.0) -> list[Solid]:
    """Return the solid areas of a section that is sound, walls and fills called by their ids.

    Parameters
    ----------
    shape
        The section.
    deadrise
        Slope of the shell it is drawn on [rad].
    """
    walls = drawn_walls(shape)
    found = [Solid(wall.id, [_largest_first(wall.outline)], _ends(wall)) for wall in walls]
    found += [Solid(fill.id, [[np.array(fill.points, float)]]) for fill in shape.fills]
    reach = max((float(np.abs(ring).max()) for solid in found for ring in solid.area[0]), default=0.0)
    found.append(Solid(SHELL, below_shell(deadrise, max(reach, 1.0))))
    found += [Solid(BEAD, area) for area in _beads(walls, shape.bead, deadrise)]
    return found


def _largest_first(rings: list[Array]) -> list[Array]:
    return sorted(rings, key=lambda ring: -float(np.ptp(ring, axis=0).max()))


def _ends(wall: DrawnWall) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
    if wall.closed:
        return ()
    pairs = [[(float(face[at, 0]), float(face[at, 1])) for face in (wall.tool, wall.face)] for at in (0, -1)]
    return tuple((one, other) for one, other in pairs)


def beads(shape: SectionShape, deadrise: float = 0.0) -> list[Area]:
    """Return the adhesive between the shell and each leg of a flange that is near enough to be bonded."""
    to_shell = _turning(deadrise)
    return [
        [[np.concatenate([pair, pair[::-1] * [1.0, 0.0]]) @ to_shell.T]]
        for pair in _bonded_legs(drawn_walls(shape), shape.bead, deadrise)
        if float(pair[:, 1].min()) > -CONTACT and float(pair[:, 1].max()) > CONTACT
    ]


def _beads(walls: Sequence[DrawnWall], bead: float, deadrise: float) -> Iterator[Area]:
    """Yield what lies under each flange whose shell-side face is near enough to the shell to be bonded."""
    to_shell = _turning(deadrise)
    for pair in _bonded_legs(walls, bead, deadrise):
        below = -(bead + CONTACT + 1.0)
        foot = np.array([[pair[1, 0], below], [pair[0, 0], below]])
        yield [[np.concatenate([pair, foot]) @ to_shell.T]]


def _bonded_legs(walls: Sequence[DrawnWall], bead: float, deadrise: float) -> Iterator[Array]:
    """Yield the shell-side face (2, 2) of every leg that may be bonded, along the shell and above it."""
    to_shell = _turning(deadrise)
    for wall in walls:
        tool, face = wall.tool @ to_shell, wall.face @ to_shell
        for leg in range(len(tool) - 1):
            pair = min(
                (line[leg : leg + 2] for line in (tool, face)), key=lambda line: float(line[:, 1].mean())
            )
            run, rise = np.abs(pair[1] - pair[0])
            if rise <= run and bool((np.abs(pair[:, 1]) <= bead + CONTACT).all()):
                yield pair


def _turning(deadrise: float) -> Array:
    return np.array([[cos(deadrise), -sin(deadrise)], [sin(deadrise), cos(deadrise)]])
