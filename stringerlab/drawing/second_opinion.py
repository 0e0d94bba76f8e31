"""The other library's mesh and its stresses, as pictures in our own colours."""

from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from stringerlab.drawing.display import Area, Item, Picture, Role, Shade, Ticks
from stringerlab.section.second_opinion import Stresses

Array = NDArray[np.float64]
SHADES = 31
"""Colours from full compression to full tension."""


class Shown(StrEnum):
    """What of the other library's answer is drawn."""

    MESH = "mesh"
    BENDING = "σ of a moment about y"
    SHEAR = "τ of a vertical force"
    TORSION = "τ of a torque"


def values(stresses: Stresses, what: Shown) -> Array | None:
    """Return the stress of each triangle (t,) under a unit load; None for the mesh."""
    match what:
        case Shown.MESH:
            return None
        case Shown.BENDING:
            return stresses.bending
        case Shown.SHEAR:
            return stresses.shear
        case Shown.TORSION:
            return stresses.torsion


def greatest(stresses: Stresses, what: Shown) -> float:
    """Return the greatest stress under a unit load, the value of full colour; 0 for the mesh."""
    found = values(stresses, what)
    return 0.0 if found is None else float(np.abs(found).max())


def stress_picture(stresses: Stresses, what: Shown) -> Picture:
    """Return the mesh, each triangle in the colour of its stress; or the mesh alone, by region.

    Triangles of one colour are one area, so that thousands of them are quickly painted.
    """
    corners = stresses.points[stresses.triangles]
    found, limit = values(stresses, what), greatest(stresses, what)
    items: list[Item] = []
    if found is None or limit == 0:
        items.append(Area(rings=tuple(corners), role=Role.PLATING))
    else:
        half = SHADES // 2
        level = np.rint(found / limit * half).astype(int)
        heights = float(stresses.points[:, 1].min()), float(stresses.points[:, 1].max())
        for each in np.unique(level).tolist():
            value = each / half * limit
            items.append(
                Area(
                    rings=tuple(corners[level == each]),
                    role=Role.PLATING,
                    shade=Shade(z=heights, values=(value, value), limit=limit),
                )
            )
    starts, ends = _edges(stresses, within=found is None)
    items.append(Ticks(starts=starts, ends=ends, role=Role.PLY_EDGE))
    return Picture(items=tuple(items))


def _edges(stresses: Stresses, *, within: bool) -> tuple[Array, Array]:
    """Return the edges of triangles, each once; else only those where regions end."""
    pairs = np.sort(
        np.concatenate([stresses.triangles[:, pair] for pair in ((0, 1), (1, 2), (2, 0))]), axis=1
    )
    owner = np.tile(stresses.region, 3)
    order = np.lexsort((owner, pairs[:, 1], pairs[:, 0]))
    pairs, owner = pairs[order], owner[order]
    again = np.zeros(len(pairs), bool)
    again[1:] = (pairs[1:] == pairs[:-1]).all(axis=1)
    if within:
        kept = pairs[~again]
    else:
        same = np.zeros(len(pairs), bool)
        same[1:] = again[1:] & (owner[1:] == owner[:-1])
        same[:-1] |= same[1:]
        kept = pairs[~same & ~again]
    return stresses.points[kept[:, 0]], stresses.points[kept[:, 1]]
