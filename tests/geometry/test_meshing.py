"""Meshes of areas that touch: shared edges, no cracks, no more triangles than allowed."""

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.geometry import meshing
from stringerlab.geometry.areas import Area


def box(width: float, height: float, y: float = 0.0, z: float = 0.0) -> Area:
    return [[np.array([(y, z), (y + width, z), (y + width, z + height), (y, z + height)], float)]]


def open_edges(mesh: meshing.Mesh) -> float:
    ends, edge = meshing.edges(mesh)
    lengths = np.hypot(*(mesh.points[ends[:, 1]] - mesh.points[ends[:, 0]]).T)
    return float(lengths[np.bincount(edge.ravel()) == 1].sum())


@pytest.mark.parametrize("size", [50.0, 7.0, 1.5])
def test_areas_that_touch_share_their_edges(size: float) -> None:
    mesh = meshing.meshed([box(100, 10), box(30, 40, y=20, z=10), box(15, 3, y=85, z=-3)], size)
    assert mesh.sizes.min() > 0
    assert mesh.sizes.sum() == pytest.approx(1000 + 1200 + 45)
    assert open_edges(mesh) == pytest.approx(220 + 80 + 6)
    assert [float(mesh.sizes[mesh.area == at].sum()) for at in range(3)] == pytest.approx([1000, 1200, 45])


def test_holes_stay_empty() -> None:
    ring = [[*box(100, 100)[0], box(60, 40, y=20, z=30)[0][0][::-1]]]
    for size in (60.0, 10.0, 4.0):
        mesh = meshing.meshed([ring], size)
        assert mesh.sizes.sum() == pytest.approx(10_000 - 2400)
        assert open_edges(mesh) == pytest.approx(400 + 200)


def test_a_hairline_gap_is_closed_and_a_wider_one_is_not() -> None:
    assert open_edges(meshing.meshed([box(50, 10), box(50, 10, z=10.004)], 20.0)) == pytest.approx(
        140, abs=0.02
    )
    assert open_edges(meshing.meshed([box(50, 10), box(50, 10, z=10.05)], 20.0)) == pytest.approx(240)


def test_areas_that_overlap_are_refused() -> None:
    with pytest.raises(StringerlabError, match=r"do not meet edge to edge.*covered twice"):
        meshing.meshed([box(50, 10), box(50, 10, z=8)], 20.0, where="section 'lap'")


def test_quartering_keeps_areas_and_outline() -> None:
    mesh = meshing.meshed([box(50, 10), box(20, 30, y=10, z=10)], 8.0)
    finer = meshing.quartered(meshing.quartered(mesh))
    assert len(finer.triangles) == 16 * len(mesh.triangles)
    assert finer.sizes.min() > 0
    assert open_edges(finer) == pytest.approx(open_edges(mesh))
    assert finer.sizes[finer.area == 1].sum() == pytest.approx(600)


def test_slivers_are_left_out_and_counted() -> None:
    mesh = meshing.meshed([box(50, 10), box(50, 1e-4, z=10)], 20.0)
    assert mesh.slivers == (1,)
    assert mesh.sizes.sum() == pytest.approx(500)


def test_nothing_but_slivers_is_refused() -> None:
    with pytest.raises(StringerlabError, match="nothing to mesh"):
        meshing.meshed([box(50, 1e-4)], 20.0)


def test_too_many_triangles_are_refused_before_any_is_made() -> None:
    with pytest.raises(StringerlabError, match="at most 200,000 are made") as told:
        meshing.meshed([box(1e6, 1.0)], 1.0)
    assert "coarser" in told.value.problems[0].remedy
    with pytest.raises(StringerlabError, match="at most 200,000"):
        meshing.meshed([box(100, 100)], 1.0, halvings=3)
