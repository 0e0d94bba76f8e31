"""A section's torsion and transverse shear by finite elements, its mesh chosen for the error asked. N, mm."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import meshing
from stringerlab.geometry.areas import ring_size
from stringerlab.geometry.meshing import Mesh
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.torsion.regions import Region, outline_length, regions
from stringerlab.section.torsion.solving import Warping, solved

ERROR = 0.005
"""Estimated error below which the program leaves a mesh as it is."""
PIECES = 600
"""Pieces the outlines are first divided in, none shorter than …"""
ACROSS = 0.8
"""… this part of the mean thickness."""
FURTHER = 4
"""Times a mesh is made finer at most."""
CRUMB = 1e-3
"""Part of all shear stiffness that a loose piece may have and be left out."""
KEPT = 64


@lru_cache(KEPT)
def warping(
    shape: SectionShape, plating: Plating | None = None, *, size: float | None = None, error: float = ERROR
) -> Warping:
    """Return a section's torsion and transverse shear, remembered by value.

    Parameters
    ----------
    shape
        The section.
    plating
        Strip of hull counted with it; None for the section alone.
    size
        Longest edge of the mesh along outlines [mm]; None for one that meets ``error``.
    error
        Estimated part by which the stiffnesses may be off where the program chooses the mesh.

    Raises
    ------
    StringerlabError
        With everything that forbids an outline; when parts do not touch, overlap, or carry nothing; when
        the mesh asked for is too large; when a solution leaves its loads unbalanced.
    """
    return warping_of_regions(
        regions(shape, plating), size=size, error=error, where=f"section '{shape.name}'"
    )


def warping_of_regions(
    found: tuple[Region, ...], *, size: float | None = None, error: float = ERROR, where: str = ""
) -> Warping:
    """Return torsion and shear of any regions; see `warping`."""
    areas = [region.area for region in found]
    if size is not None:
        return _on(meshing.meshed(areas, size, where=where), found, size, where)
    length = outline_length(found)
    chosen = max(length / PIECES, ACROSS * 2 * sum(map(_size, found)) / length)
    result = _on(meshing.meshed(areas, chosen, where=where), found, chosen, where)
    for halvings in range(1, FURTHER + 1):
        if result.error <= error or 4 * len(result.mesh.triangles) > meshing.MOST:
            break
        # Shorter pieces first, which cost least; then every triangle in four.
        finer = meshing.meshed(areas, chosen / 2, halvings=halvings - 1, where=where)
        result = _on(finer, found, chosen / 2**halvings, where)
    return result


def _size(region: Region) -> float:
    return sum(ring_size(polygon[0]) - sum(map(ring_size, polygon[1:])) for polygon in region.area)


def _on(mesh: Mesh, found: tuple[Region, ...], size: float, where: str) -> Warping:
    notes = [
        Problem(
            f"A sliver of '{found[area].owner}' is left out of torsion and shear.",
            where,
            "Move its outline onto its neighbour's.",
        )
        for area in mesh.slivers
    ]
    mesh = _hanging_together(mesh, found, where, notes)
    return solved(found, mesh, size=size, where=where, notes=tuple(notes))


def _hanging_together(mesh: Mesh, found: Sequence[Region], where: str, notes: list[Problem]) -> Mesh:
    """Return the mesh without crumbs that share no edge with the rest; refuse parts of weight that do not."""
    label = _parts(mesh)
    parts = np.unique(label)
    if len(parts) == 1:
        return mesh
    weight = np.array([region.G for region in found])[mesh.area] * mesh.sizes
    shares = np.array([weight[label == part].sum() for part in parts.tolist()]) / weight.sum()
    large = parts[shares > CRUMB]
    if len(large) > 1:
        names = [_names(mesh, found, label == part) for part in large.tolist()]
        raise StringerlabError(
            Problem(
                "Its parts do not touch along an edge, so that no torque or shear passes between them: "
                f"{'; '.join(names)}.",
                where,
                "Draw them in contact, give the bead its thickness, or take out what is not joined.",
            )
        )
    kept = label == large[0]
    notes.append(
        Problem(
            f"Loose pieces are left out of torsion and shear: of {_names(mesh, found, ~kept)}.",
            where,
            "Take out what is not joined to the rest.",
        )
    )
    used, place = np.unique(mesh.triangles[kept], return_inverse=True)
    triangles = place.reshape(-1, 3)
    return Mesh(mesh.points[used], triangles, mesh.area[kept], mesh.polygon[kept], mesh.slivers)


def _names(mesh: Mesh, found: Sequence[Region], chosen: NDArray[np.bool_]) -> str:
    areas: list[int] = np.unique(mesh.area[chosen]).tolist()
    owners = dict.fromkeys([f"'{found[area].owner}'" for area in areas])
    return " with ".join(owners)


def _parts(mesh: Mesh) -> NDArray[np.intp]:
    """Return of each triangle (t,) the least polygon it hangs together with through edges."""
    _, edge = meshing.edges(mesh)
    label = np.arange(int(mesh.polygon.max()) + 1)
    while True:
        least = np.full(int(edge.max()) + 1, len(label))
        np.minimum.at(least, edge.ravel(), np.repeat(label[mesh.polygon], 3))
        lower = label.copy()
        np.minimum.at(lower, mesh.polygon, least[edge].min(axis=1))
        if (lower == label).all():
            return label[mesh.polygon]
        label = lower
