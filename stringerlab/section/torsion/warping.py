"""A section's torsion and transverse shear by finite elements, its mesh chosen for the error asked. N, mm."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import meshing, refining
from stringerlab.geometry.areas import ring_size
from stringerlab.geometry.meshing import Mesh
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.torsion.regions import Region, bead_notes, outline_length, regions
from stringerlab.section.torsion.solving import SAFETY, Warping, solved

Array = NDArray[np.float64]

ERROR = 0.005
"""Estimated error below which the program leaves a mesh as it is."""
SHARE = 0.6
"""Part of the estimated error whose triangles are cut at once where it does not."""
PIECES = 450
"""Pieces the outlines are first divided in, none shorter than …"""
ACROSS = 1.0
"""… this many times the mean thickness."""
FURTHER = 16
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
    found = regions(shape, plating)
    result = warping_of_regions(found, size=size, error=error, where=f"section '{shape.name}'")
    notes = bead_notes(shape, plating)
    return replace(result, notes=(*notes, *result.notes)) if notes else result


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
    for _ in range(FURTHER):
        if result.error <= error or 4 * len(result.mesh.triangles) > meshing.MOST:
            break
        finer = refining.refined(result.mesh, _worst(result.shares, error))
        result = solved(found, finer, size=chosen, where=where, notes=result.notes)
    if result.error <= error:
        return result
    coarse = Problem(
        f"Torsion and shear may be {100 * result.error:.2g} % too stiff: of {len(result.mesh.triangles):,} "
        "triangles the mesh was made no finer.",
        where,
        "Ask for less accuracy, or draw it of fewer parts.",
    )
    return replace(result, notes=(*result.notes, coarse))


def _worst(shares: Array, error: float) -> NDArray[np.bool_]:
    """Return the triangles (t,) that have most of the error, of every quantity that is too far off."""
    chosen = np.zeros(len(shares), bool)
    for quantity in np.flatnonzero(SAFETY * shares.sum(axis=0) > error).tolist():
        order = np.argsort(-shares[:, quantity])
        reached = np.cumsum(shares[order, quantity])
        chosen[order[: np.searchsorted(reached, SHARE * reached[-1]) + 1]] = True
    return chosen


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
