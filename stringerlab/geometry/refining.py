"""A mesh made finer where it is asked: chosen triangles cut in four, neighbours by their longest edge. mm."""

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.meshing import Mesh, edges

Index = NDArray[np.intp]


def refined(mesh: Mesh, chosen: NDArray[np.bool_]) -> Mesh:
    """Return the mesh with every edge of the chosen triangles (t,) halved.

    A triangle with a halved edge has its longest halved too (Rivara), so that none becomes more pointed than
    half its least angle, however often this is done.
    """
    ends, edge = edges(mesh)
    length = np.hypot(*(mesh.points[ends[:, 1]] - mesh.points[ends[:, 0]]).T)
    longest = length[edge].argmax(axis=1)
    main = edge[np.arange(len(edge)), longest]
    cut = np.zeros(len(ends), bool)
    cut[edge[chosen]] = True
    while (open_ := cut[edge].any(axis=1) & ~cut[main]).any():
        cut[main[open_]] = True
    middle = np.cumsum(cut) - 1 + len(mesh.points)
    points = np.concatenate([mesh.points, mesh.points[ends[cut]].mean(axis=1)])
    # Each triangle turned so that its longest edge runs from a to b.
    turned = (longest[:, None] + np.arange(3)) % 3
    (a, b, c), sides = np.take_along_axis(mesh.triangles, turned, 1).T, np.take_along_axis(edge, turned, 1)
    ab, bc, ca = middle[sides].T
    _, second, third = cut[sides].T
    whole = ~cut[main]
    triangles: list[Index] = []
    of: list[Index] = []
    for where, parts in (
        (whole, [(a, b, c)]),
        (~whole & ~third, [(a, ab, c)]),
        (~whole & third, [(a, ab, ca), (ab, c, ca)]),
        (~whole & ~second, [(ab, b, c)]),
        (~whole & second, [(ab, b, bc), (ab, bc, c)]),
    ):
        at = np.flatnonzero(where)
        for part in parts:
            triangles.append(np.stack([corner[at] for corner in part], axis=1))
            of.append(at)
    owner = np.concatenate(of)
    return Mesh(points, np.concatenate(triangles), mesh.area[owner], mesh.polygon[owner], mesh.slivers)
