"""Areas that touch, as one mesh of triangles whose edges they share: the door to shapely's triangulation.

Rings are noded, their edges divided alike on both sides, and every area triangulated by itself; then the
mesh's open edges are held against the outline of all areas together, which finds every crack and overlap. mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, sqrt
from typing import Any, cast

import numpy as np
import shapely as _shapely
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.areas import Area, Array
from stringerlab.geometry.noding import SNAP, noded

Index = NDArray[np.intp]
# Its functions over arrays of shapes carry no types.
shapely = cast(Any, _shapely)

MOST = 200_000
"""Triangles a mesh may have."""
HAIRLINE = 0.01
"""Gaps and overlaps as narrow are a drawing's own tolerance, and close [mm]."""
SLIVER = 1e-3
"""An area thinner than this in the mean is a sliver, left out [mm]."""
WIDE = 2.5
"""Times the mesh's size an area is wide in the mean where it is given vertices inside."""
CLOSED = 1e-6
"""Part of the outline by which the mesh's open edges may differ from it."""


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """t triangles on v vertices, counter-clockwise."""

    points: Array
    """(v, 2)."""
    triangles: Index
    """(t, 3)."""
    area: Index
    """(t,) the area each lies in …"""
    polygon: Index
    """(t,) … and which polygon of all of them."""
    slivers: tuple[int, ...] = ()
    """Areas of which a sliver was left out."""

    @property
    def sizes(self) -> Array:
        """(t,) of the triangles [mm²]."""
        corners = self.points[self.triangles]
        one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        return (one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]) / 2


def meshed(areas: Sequence[Area], size: float, *, halvings: int = 0, where: str = "") -> Mesh:
    """Return a mesh of areas that touch but do not overlap.

    Parameters
    ----------
    areas
        Each as polygons of rings.
    size
        Longest edge along the outlines [mm].
    halvings
        How often every triangle is cut in four.
    where
        What is meshed, for a person.

    Raises
    ------
    StringerlabError
        When the mesh would have more than `MOST` triangles, or areas overlap or leave a crack.
    """
    polygons = [(index, polygon) for index, area in enumerate(areas) for polygon in area]
    thin = {at for at, (_, polygon) in enumerate(polygons) if _thickness(polygon) < SLIVER}
    slivers = tuple(sorted({polygons[at][0] for at in thin}))
    polygons = [each for at, each in enumerate(polygons) if at not in thin]
    if not polygons:
        raise StringerlabError(Problem("There is nothing to mesh.", where, "Draw a wall."))
    rings = noded([ring for _, polygon in polygons for ring in polygon], HAIRLINE)
    _refuse_too_many(rings, size, halvings, where)
    rings = [_divided(ring, size) for ring in rings]
    starts = np.cumsum([0, *(len(polygon) for _, polygon in polygons)])
    shapes = np.array(
        [shapely.Polygon(rings[first], rings[first + 1 : last]) for first, last in pairwise(starts.tolist())]
    )
    mesh = _triangulated(shapes, np.array([index for index, _ in polygons]), size, slivers)
    _refuse_cracks(mesh, shapes, where)
    for _ in range(halvings):
        mesh = quartered(mesh)
    return mesh


def quartered(mesh: Mesh) -> Mesh:
    """Return the mesh with every triangle cut in four alike."""
    ends, edge = edges(mesh)
    points = np.concatenate([mesh.points, mesh.points[ends].mean(axis=1)])
    a, b, c = mesh.triangles.T
    ab, bc, ca = (edge + len(mesh.points)).T
    parts = [(a, ab, ca), (ab, b, bc), (ca, bc, c), (ab, bc, ca)]
    triangles = np.concatenate([np.stack(part, axis=1) for part in parts])
    return Mesh(points, triangles, np.tile(mesh.area, 4), np.tile(mesh.polygon, 4), mesh.slivers)


def edges(mesh: Mesh) -> tuple[Index, Index]:
    """Return the edges' ends (e, 2), the lower first, and each triangle's edges (t, 3): 01, 12, 20."""
    count = len(mesh.points)
    start, end = mesh.triangles, np.roll(mesh.triangles, -1, axis=1)
    key = np.minimum(start, end) * count + np.maximum(start, end)
    found, place = np.unique(key.ravel(), return_inverse=True)
    return np.stack([found // count, found % count], axis=1), place.reshape(-1, 3)


def _thickness(polygon: Sequence[Array]) -> float:
    """Twice the size over the outline."""
    length = sum(float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum()) for ring in polygon)
    return abs(2 * sum(map(_turned_size, polygon))) / length if length else 0.0


def _turned_size(ring: Array) -> float:
    """Of what a ring encloses, positive where it runs counter-clockwise [mm²]."""
    here = ring - ring[0]
    there = np.roll(here, -1, axis=0)
    return float((here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0]).sum()) / 2


def _estimate(rings: Sequence[Array], size: float) -> float:
    """About one triangle for every piece of outline, and for every lattice triangle of what they enclose."""
    pieces = sum(np.ceil(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T) / size).sum() for ring in rings)
    size_of_all = sum(_turned_size(ring) for ring in rings)
    return float(pieces) + abs(size_of_all) / (size * size * np.sqrt(3) / 4)


def _refuse_too_many(rings: Sequence[Array], size: float, halvings: int, where: str) -> None:
    asked = _estimate(rings, size) * 4**halvings if size > 0 else inf
    if asked <= MOST:
        return
    least = max(size, 0.01)
    while _estimate(rings, least) * 4**halvings > MOST:
        least *= 1.2
    number = f"about {asked:,.0f}" if asked < inf else "endlessly many"
    raise StringerlabError(
        Problem(
            f"A mesh of {size:g} mm would have {number} triangles; at most {MOST:,} are made.",
            where,
            f"Ask for a mesh of {least:g} mm or coarser, or leave the size to the program.",
        )
    )


def _divided(ring: Array, size: float) -> Array:
    """Return a ring with its edges cut into equal pieces no longer than a size.

    An edge is always divided from its lesser end, so that neighbours that share it share the very numbers.
    """
    after = np.roll(ring, -1, axis=0)
    pieces = np.maximum(np.ceil(np.hypot(*(after - ring).T) / size - 1e-9), 1).astype(np.intp)
    if (pieces == 1).all():
        return ring
    turned = (after[:, 0] < ring[:, 0]) | ((after[:, 0] == ring[:, 0]) & (after[:, 1] < ring[:, 1]))
    low, high = np.where(turned[:, None], after, ring), np.where(turned[:, None], ring, after)
    owner = np.repeat(np.arange(len(ring)), pieces)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    back = turned[owner]
    part = np.where(back, pieces[owner] - step, step) / pieces[owner]
    points = low[owner] + part[:, None] * (high - low)[owner]
    points[step == 0] = ring
    return points


def _triangulated(shapes: NDArray[Any], owners: Index, size: float, slivers: tuple[int, ...]) -> Mesh:
    """Return triangles of every polygon; wide ones have vertices inside as well."""
    corners, of = _constrained(shapes)
    widths = 2 * shapely.area(shapes) / np.maximum(shapely.length(shapes), SNAP)
    for at in np.flatnonzero(widths > WIDE * size).tolist():
        inner = _with_points_inside(shapes[at], size)
        if inner is not None:
            others = of != at
            corners = np.concatenate([corners[others], inner])
            of = np.concatenate([of[others], np.full(len(inner), at)])
    flat = np.ascontiguousarray(corners.reshape(-1, 2)) + 0.0
    _, first, place = np.unique(flat.view(np.complex128).ravel(), return_index=True, return_inverse=True)
    points, triangles = flat[first], place.reshape(-1, 3)
    mesh = Mesh(points, triangles, owners[of], of, slivers)
    turned = mesh.sizes < 0
    if turned.any():
        triangles[turned] = triangles[turned][:, ::-1]
    return mesh


def _constrained(shapes: Any) -> tuple[Array, Index]:
    """Return the corners (t, 3, 2) of triangles on the outlines' vertices alone, and the shape of each."""
    found = shapely.constrained_delaunay_triangles(shapes)
    parts, of = shapely.get_parts(found, return_index=True)
    return shapely.get_coordinates(parts).reshape(-1, 4, 2)[:, :3], of


def _with_points_inside(shape: Any, size: float) -> Array | None:
    """Return the corners of triangles on a lattice of vertices inside as well; None where they leak out."""
    low_y, low_z, high_y, high_z = shape.bounds
    across, up = np.arange(low_y, high_y, size), np.arange(low_z, high_z, size * sqrt(3) / 2)
    y = across + size / 2 * (np.arange(len(up)) % 2)[:, None]
    lattice: Any = shapely.points(y.ravel(), np.repeat(up, len(across)))
    core = shape.buffer(-0.6 * size)
    inside = lattice[shapely.contains(core, lattice)]
    if not len(inside):
        return None
    vertices = np.concatenate([shapely.get_coordinates(shape), shapely.get_coordinates(inside)])
    found = shapely.get_parts(shapely.delaunay_triangles(shapely.multipoints(vertices)))
    found = found[shapely.area(found) > 1e-9 * size * size]
    found = found[shapely.contains(shape, shapely.centroid(found))]
    if abs(float(shapely.area(found).sum()) - shape.area) > CLOSED * shape.area:
        return None
    crossing = shapely.area(shapely.difference(found, shape)).max()
    return None if crossing > SNAP * size else shapely.get_coordinates(found).reshape(-1, 4, 2)[:, :3]


def _refuse_cracks(mesh: Mesh, shapes: NDArray[Any], where: str) -> None:
    """Refuse a mesh whose open edges are not the outline of all areas together, or that covers more."""
    ends, edge = edges(mesh)
    uses = np.bincount(edge.ravel(), minlength=len(ends))
    lengths = np.hypot(*(mesh.points[ends[:, 1]] - mesh.points[ends[:, 0]]).T)
    open_length = float(lengths[uses == 1].sum())
    whole = shapely.union_all(shapes)
    size = float(mesh.sizes.sum())
    off = abs(open_length - whole.length)
    if off > CLOSED * whole.length or abs(size - whole.area) > CLOSED * whole.area or uses.max() > 2:
        raise StringerlabError(
            Problem(
                f"Its parts do not meet edge to edge: {off:.3g} mm of edges lie open inside, and "
                f"{max(size - whole.area, 0.0):.3g} mm² are covered twice.",
                where,
                "Look for hairline gaps and overlaps in the drawing; a declared lap shares its place.",
            )
        )
