"""Closed cells of thin walls in torsion: one shear flow a cell, all twisting alike (Bredt, Batho). N, mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A closed cell, by what its walls' middle lines enclose [mm²]."""

    area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CellWall:
    """A wall of a cell, shared with another or not."""

    length: float
    thickness: float
    G: float
    cell: int
    other: int | None = None
    """The cell on its other side; None outside."""


def cell_flows(cells: Sequence[Cell], walls: Sequence[CellWall], T: float = 1.0) -> tuple[Array, float]:
    """Return the shear flow round every cell (c,) [N/mm] under a torque, and GJ [N·mm²].

    For each cell 2 A θ′ = Σ (q − q of the neighbour) L/(G t), and T = Σ 2 A q.

    Raises
    ------
    StringerlabError
        When a wall has no stiffness or a cell no wall or area.
    """
    flexibility = np.zeros((len(cells), len(cells)))
    if not all(wall.length > 0 and wall.thickness > 0 and wall.G > 0 for wall in walls):
        raise StringerlabError(
            Problem("A cell's wall has no length or no stiffness.", "cells", "Give it both.")
        )
    for wall in walls:
        own = wall.length / (wall.G * wall.thickness)
        flexibility[wall.cell, wall.cell] += own
        if wall.other is not None:
            flexibility[wall.other, wall.other] += own
            flexibility[wall.cell, wall.other] -= own
            flexibility[wall.other, wall.cell] -= own
    twice = 2 * np.array([cell.area for cell in cells])
    if not (twice.all() and flexibility.diagonal().all()):
        raise StringerlabError(Problem("A cell has no area or no wall.", "cells", "Give it both."))
    try:
        per_twist = np.asarray(np.linalg.solve(flexibility, twice), np.float64)
    except np.linalg.LinAlgError:
        raise StringerlabError(Problem("The cells have no wall outside.", "cells", "Close them.")) from None
    GJ = float(twice @ per_twist)
    return np.asarray(T / GJ * per_twist, np.float64), GJ
