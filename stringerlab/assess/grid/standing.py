"""Equipment on the grid: where its feet stand, and how a force and couples are shared among them. N, N·mm.

Feet share a force and couples as a stiff bed on equal springs does. What so few feet cannot take is left as a
couple on the nearest node.
"""

from dataclasses import dataclass

import numpy as np

from stringerlab.assess.grid.records import Array, Beams, Index, unfolded
from stringerlab.assess.grid.sides import on_pieces
from stringerlab.craft import Bottom
from stringerlab.layout.plan import Equipment, Hand

_RANK = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standing:
    """One piece of equipment as it stands, port or starboard: j feet."""

    equipment: Equipment
    side: int
    """1 as drawn to port or on the centreline, -1 to starboard."""
    middle: Array
    """(2,) in plan."""
    feet: Array
    """(j, 2) in plan."""
    beam: Index
    """(j,) on which beam each foot is."""
    along: Array
    """(j,)."""
    off: Array
    """(j,) from the beam's middle line, unfolded [mm]."""

    @property
    def name(self) -> str:
        """Its name, with its side where it stands on both."""
        if self.equipment.hand is not Hand.PAIR:
            return self.equipment.name
        return f"{self.equipment.name}, {'port' if self.side > 0 else 'starboard'}"


def standing(equipment: Equipment, bottom: Bottom, beams: Beams) -> list[Standing]:
    """Return equipment as it stands on the boat: a pair twice."""
    x, y = equipment.at
    found: list[Standing] = []
    for side in _SIDES[equipment.hand]:
        turn = side if equipment.hand is Hand.CENTRELINE or y >= 0 else -side
        middle = np.array([x, y * turn])
        feet = middle + np.array(equipment.feet or [(0.0, 0.0)], float) * (1, turn)
        flat = unfolded(bottom.deadrise(feet[:, 0]), feet)
        ends = beams.grid.nodes[beams.grid.beams]
        beam, along = on_pieces(flat, np.full(len(feet), np.inf), ends)
        on = ends[beam, 0] + along[:, None] * (ends[beam, 1] - ends[beam, 0])
        found.append(
            Standing(
                equipment=equipment,
                side=side,
                middle=middle,
                feet=feet,
                beam=beam,
                along=along,
                off=np.hypot(*(flat - on).T),
            )
        )
    return found


_SIDES = {Hand.CENTRELINE: (1,), Hand.PORT: (1,), Hand.STARBOARD: (-1,), Hand.PAIR: (1, -1)}


def on_feet(stands: Standing, up: float, M_x: float, M_y: float) -> tuple[Array, Array]:
    """Return the force up on each foot (j,), and the couples about x and y that are left (2,).

    Parameters
    ----------
    stands
        The equipment.
    up
        Force up on the grid, at the middle of the feet [N].
    M_x, M_y
        Couples about x and y, right-handed [N·mm].
    """
    dx, dy = (stands.feet - stands.middle).T
    size = max(float(np.hypot(dx, dy).max()), 1.0)
    rows = np.stack([np.ones_like(dx), dy / size, -dx / size])
    asked = np.array([up, M_x / size, M_y / size])
    force = np.linalg.lstsq(rows, asked, rcond=_RANK)[0]
    left = (asked - rows @ force)[1:] * size
    return force, np.where(np.abs(left) > 1e-6 * max(abs(M_x), abs(M_y), 1.0), left, 0.0)
