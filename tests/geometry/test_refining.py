"""Meshes made finer in places: still one mesh of the same areas, and no more pointed."""

import numpy as np
import pytest

from stringerlab.geometry import meshing
from stringerlab.geometry.meshing import Mesh
from stringerlab.geometry.refining import refined

ANGLE = np.array([(0, 0), (90, 0), (90, 20), (20, 20), (20, 90), (0, 90)], float)
BESIDE = np.array([(90, 0), (120, 0), (120, 20), (90, 20)], float)


def angle(size: float = 20.0) -> Mesh:
    return meshing.meshed([[[ANGLE]], [[BESIDE]]], size)


def near(mesh: Mesh, y: float, z: float, reach: float) -> np.ndarray:
    middle = mesh.points[mesh.triangles].mean(axis=1)
    return np.hypot(middle[:, 0] - y, middle[:, 1] - z) < reach


def least_angle(mesh: Mesh) -> float:
    corners = mesh.points[mesh.triangles]
    one, other = np.roll(corners, -1, axis=1) - corners, np.roll(corners, 1, axis=1) - corners
    across = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return float(np.arctan2(across, (one * other).sum(axis=-1)).min())


def test_the_corner_is_finer_and_the_rest_as_it_was() -> None:
    mesh = angle()
    for _ in range(5):
        mesh = refined(mesh, near(mesh, 20, 20, 4.0) | near(mesh, 20, 20, 1.5 * mesh.sizes.min() ** 0.5))
    there = near(mesh, 20, 20, 2.0)
    assert mesh.sizes[there].max() < mesh.sizes[~there].max() / 50


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_whatever_is_chosen_it_stays_one_mesh_of_the_same_areas(seed: int) -> None:
    start = mesh = angle()
    random = np.random.default_rng(seed)
    for _ in range(6):
        chosen = random.uniform(size=len(mesh.triangles)) < 0.2
        mesh = refined(mesh, chosen)
    assert mesh.sizes.min() > 0
    for area, size in ((0, 90 * 20 + 70 * 20), (1, 600)):
        assert mesh.sizes[mesh.area == area].sum() == pytest.approx(size, rel=1e-12)
    ends, edge = meshing.edges(mesh)
    uses = np.bincount(edge.ravel(), minlength=len(ends))
    lengths = np.hypot(*(mesh.points[ends[:, 1]] - mesh.points[ends[:, 0]]).T)
    # No hanging vertex: what is open is the outline of both areas together.
    assert uses.max() == 2
    assert lengths[uses == 1].sum() == pytest.approx(2 * 120 + 2 * 90, rel=1e-12)
    assert len(np.unique(mesh.points.round(9), axis=0)) == len(mesh.points)
    assert least_angle(mesh) >= least_angle(start) / 2 * (1 - 1e-9)


def test_nothing_chosen_changes_nothing_and_everything_cuts_each_in_four() -> None:
    mesh = angle()
    none = np.zeros(len(mesh.triangles), bool)
    assert len(refined(mesh, none).triangles) == len(mesh.triangles)
    assert len(refined(mesh, ~none).triangles) == 4 * len(mesh.triangles)
