"""A section's outlines to draw, clip or mesh: rings of every ply and fill as they are counted. mm."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Role
from stringerlab.section.bodies import Bodies, bodies
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import Plating, SectionShape

Array = NDArray[np.float64]
Index = NDArray[np.intp]


class What(StrEnum):
    """What a polygon is of."""

    REINFORCED = "reinforced"
    CORE = "core"
    GEL_COAT = "gel coat"
    FILL = "fill"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlyPolygons:
    """Outlines of r plies and fills: walls in their order, then plating, then fills.

    A ply may have several rings or none; they are filled even-odd together. No ring repeats its first point.
    """

    points: Array
    """(v, 2) y and z of all rings one after another."""
    starts: Index
    """(m,) first vertex of each ring."""
    ply_of_ring: Index
    """(m,) index of the ply or fill it bounds."""
    owners: tuple[str, ...]
    """(r,) wall id, ``plating`` or fill id."""
    names: tuple[str, ...]
    """(r,) number and name of the ply, or the fill's name."""
    whats: tuple[What, ...]
    """(r,)."""
    repairs: tuple[Problem, ...]

    def rings(self, ply: int) -> list[Array]:
        """Return the rings (n, 2) of one ply or fill."""
        first, last = np.searchsorted(self.ply_of_ring, (ply, ply + 1)).tolist()
        starts = [*self.starts[first : last + 1].tolist(), len(self.points)]
        return [self.points[starts[ring] : starts[ring + 1]] for ring in range(last - first)]


def ply_polygons(
    shape: SectionShape, plating: Plating | None = None, *, deadrise: float | None = None
) -> PlyPolygons:
    """Return the outline of every ply and fill.

    Parameters
    ----------
    shape
        The section.
    plating
        Strip of plating to show with it.
    deadrise
        Slope of the shell when no strip is shown [rad]; None for no shell, so that none cuts the section.

    Raises
    ------
    StringerlabError
        With everything that forbids an outline.
    """
    built = bodies(shape, plating, deadrise=deadrise)
    if built.faults:
        raise StringerlabError(built.faults)
    if not built.regions.count:
        raise StringerlabError(
            Problem("There is nothing to draw.", f"section '{shape.name}'", "Draw a wall.")
        )
    rings: list[Array] = []
    owner: list[int] = []
    for region, found in enumerate(rings_of(built)):
        rings += found
        owner += [region] * len(found)
    sizes = np.array([len(ring) for ring in rings], np.intp)
    owners, names, whats = zip(*_labels(shape, plating, built), strict=True)
    return PlyPolygons(
        points=np.concatenate(rings),
        starts=np.cumsum(sizes) - sizes,
        ply_of_ring=np.array(owner, np.intp),
        owners=owners,
        names=names,
        whats=whats,
        repairs=built.repairs,
    )


def rings_of(built: Bodies) -> Iterator[list[Array]]:
    """Yield the rings (n, 2) of each region in turn, filled even-odd."""
    regions = built.regions
    bounds = [*regions.starts.tolist(), regions.points.shape[1]]
    used = regions.path[np.argsort(regions.region, kind="stable")].tolist()
    ends = np.cumsum(np.bincount(regions.region, minlength=regions.count)).tolist()
    for region, (first, last) in enumerate(pairwise([0, *ends])):
        paths = [regions.points[:, bounds[path] : bounds[path + 1]].T for path in used[first:last]]
        stroke = int(built.stroke[region])
        if len(paths) == 4 and stroke >= 0 and not _is_ring(paths[0]):
            yield [np.concatenate([paths[0], paths[1][::-1]])]
        elif (
            len(paths) == 4
            and stroke >= 0
            and built.drawing.strokes[stroke].closed
            and not _is_ring(paths[2])
        ):
            yield [paths[0][:-1], paths[1][:-1]]
        else:
            yield [path[:-1] for path in paths]


def _is_ring(path: Array) -> bool:
    return bool((path[0] == path[-1]).all())


def _labels(shape: SectionShape, plating: Plating | None, built: Bodies) -> Iterator[tuple[str, str, What]]:
    for stroke in built.drawing.strokes:
        if stroke.wall >= 0:
            owner, stack = shape.walls[stroke.wall].id, shape.walls[stroke.wall].stack
        elif plating is not None:
            owner, stack = "plating", plating.stack
        else:
            continue
        for label, ply in zip(stack_sizes(stack).labels, stack.plies, strict=True):
            yield owner, label, _WHAT[ply.role]
    for fill in built.fills:
        yield fill.id, fill.name, What.FILL


_WHAT = {Role.REINFORCED: What.REINFORCED, Role.CORE: What.CORE, Role.GEL_COAT: What.GEL_COAT}
