"""The graph of thin walls and Bredt's cells against closed forms and one another."""

from math import pi

import numpy as np
import pytest
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.section.torsion import Cell, CellWall, cell_flows
from stringerlab.section.torsion.thin_graph import Graph, GraphAnswer, graph_answer

Array = NDArray[np.float64]
Points = list[tuple[float, float]]


def answered(
    points: list[tuple[float, float]],
    ends: list[tuple[int, int]],
    t: float | list[float] = 1.0,
    G: float = 1.0,
) -> GraphAnswer:
    thickness = np.broadcast_to(np.array(t, float), (len(ends),))
    return graph_answer(
        Graph(
            nodes=np.array(points, float),
            ends=np.array(ends),
            Gt=G * thickness,
            Et=thickness,
            strip=G * thickness**3 / 3,
        )
    )


def ring(count: int) -> list[tuple[float, float]]:
    return [(float(np.cos(t)), float(np.sin(t))) for t in np.linspace(0, 2 * pi, count, endpoint=False)]


def chain(count: int, *, closed: bool = False) -> list[tuple[int, int]]:
    return [(at, (at + 1) % count) for at in range(count if closed else count - 1)]


@pytest.mark.parametrize(("b", "h"), [(40.0, 100.0), (100.0, 60.0)])
def test_shear_centre_of_a_channel(b: float, h: float) -> None:
    found = answered([(b, 0), (0, 0), (0, h), (b, h)], chain(4))
    assert found.y_s == pytest.approx(-3 * b * b / (h + 6 * b))
    assert found.z_s == pytest.approx(h / 2)


def test_shear_centre_of_an_angle_is_its_corner() -> None:
    found = answered([(70, 0), (0, 0), (0, 40)], chain(3), [2.0, 3.0])
    assert (found.y_s, found.z_s) == pytest.approx((0, 0), abs=1e-9)


def test_shear_centre_of_a_tee_is_where_its_walls_meet() -> None:
    found = answered([(-30, 80), (30, 80), (0, 80), (0, 0)], [(0, 2), (2, 1), (2, 3)])
    assert (found.y_s, found.z_s) == pytest.approx((0, 80), abs=1e-9)


def test_shear_centre_of_a_channel_with_tapered_flanges_by_walls_of_two_thicknesses() -> None:
    """Flanges t1, web t3: e = b² h² t1 / (4 I)."""
    b, h, t_1, t_3 = 50.0, 120.0, 4.0, 2.0
    found = answered([(b, 0), (0, 0), (0, h), (b, h)], chain(4), [t_1, t_3, t_1])
    I = t_3 * h**3 / 12 + 2 * b * t_1 * (h / 2) ** 2
    assert -found.y_s == pytest.approx(b * b * h * h * t_1 / (4 * I))


def test_split_ring_against_closed_ring() -> None:
    closed = answered(ring(360), chain(360, closed=True), 0.05)
    split = answered([*ring(360), (1.0, 0.0)], chain(361), 0.05)
    assert pytest.approx(2 * pi * 0.05 + 2 * pi * 0.05**3 / 3, rel=1e-3) == closed.GJ
    assert pytest.approx(2 * pi * 0.05**3 / 3, rel=1e-3) == split.GJ
    assert (split.y_s, split.z_s) == pytest.approx((-2.0, 0.0), abs=2e-3)
    assert closed.GA_z == pytest.approx(pi * 0.05, rel=1e-3)


def test_a_wall_cut_in_pieces_is_the_same_wall() -> None:
    one = answered([(0, 0), (90, 0), (90, 50), (0, 50)], chain(4, closed=True), [1.0, 2.0, 3.0, 4.0])
    pieces = answered(
        [(0, 0), (20, 0), (90, 0), (90, 35), (90, 50), (0, 50)],
        chain(6, closed=True),
        [1.0, 1.0, 2.0, 2.0, 3.0, 4.0],
    )
    for name in ("GJ", "y_s", "z_s", "GA_y", "GA_z"):
        assert getattr(pieces, name) == pytest.approx(getattr(one, name), rel=1e-12)


def test_graph_of_three_cells_is_bredts() -> None:
    """Two webs in a box, their own strips left out: the same flows and GJ as one unknown a cell."""
    points = [(0, 0), (100, 0), (180, 0), (300, 0), (300, 80), (180, 80), (100, 80), (0, 80)]
    ends = [*chain(8, closed=True), (1, 6), (2, 5)]
    thickness = np.array([2.0, 1.0, 3.0, 2.0, 1.5, 1.0, 2.5, 1.0, 4.0, 0.5])
    nodes = np.array(points, float)
    graph = Graph(nodes=nodes, ends=np.array(ends), Gt=thickness, Et=thickness, strip=np.zeros(10))
    found = graph_answer(graph)
    length = np.hypot(*(nodes[[end for _, end in ends]] - nodes[[start for start, _ in ends]]).T)
    owner = [
        (0, None),
        (1, None),
        (2, None),
        (2, None),
        (2, None),
        (1, None),
        (0, None),
        (0, None),
        (0, 1),
        (1, 2),
    ]
    walls = [
        CellWall(length=float(L), thickness=float(t), G=1.0, cell=one, other=other)
        for L, t, (one, other) in zip(length, thickness, owner, strict=True)
    ]
    flows, GJ = cell_flows([Cell(area=8000), Cell(area=6400), Cell(area=9600)], walls)
    assert pytest.approx(GJ) == found.GJ
    assert found.flow[[0, 1, 2], 0, 0] == pytest.approx(flows)
    assert found.flow[8, 0, 0] == pytest.approx(flows[0] - flows[1])


def test_flow_balances_along_and_at_every_node() -> None:
    points: Points = [(0, 0), (100, 0), (180, 0), (180, 80), (100, 80), (0, 80), (250, 0)]
    ends = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (1, 4), (2, 6)]
    found = answered(points, ends, [2.0, 1.0, 3.0, 2.0, 1.5, 1.0, 2.5, 2.0])
    out = np.zeros((len(points), 3))
    for wall, (start, end) in enumerate(ends):
        out[start] += found.flow[wall, 0]
        out[end] -= found.flow[wall, 1]
    assert np.abs(out).max() < 1e-12
    nodes = np.array(points, float)
    way = nodes[[end for _, end in ends]] - nodes[[start for start, _ in ends]]
    # The mean flow of a wall whose growth is linear is Simpson's; its force is that times its way.
    grown = found.flow.mean(axis=1)
    force = np.einsum("ml,mi->li", grown, way)
    assert force[0] == pytest.approx((0, 0), abs=1e-12)
    thickness = np.array([2.0, 1.0, 3.0, 2.0, 1.5, 1.0, 2.5, 2.0])
    assert force[1:] + _curve(found, thickness, way) == pytest.approx(np.eye(2), abs=1e-9)


def _curve(found: GraphAnswer, t: Array, way: Array) -> Array:
    """What the curve of a wall's flow adds to the mean of its ends: L × the change of growth over 12."""
    length = np.hypot(way[:, 0], way[:, 1])
    change = (t[:, None] * way) @ np.linalg.inv(found.EI)
    return np.einsum("m,ml,mi->li", length / 12, change, way)


def test_one_straight_wall_has_shear_stiffness_along_itself_alone() -> None:
    found = answered([(0, 0), (0, 90)], [(0, 1)], 3.0)
    assert found.GA_z == pytest.approx(5 / 6 * 270)
    assert np.isnan(found.GA_y)
    assert pytest.approx(90 * 27 / 3) == found.GJ


def test_walls_apart_are_refused() -> None:
    with pytest.raises(StringerlabError, match="do not hang together"):
        answered([(0, 0), (10, 0), (0, 5), (10, 5)], [(0, 1), (2, 3)])


@pytest.mark.parametrize("G", [0.0, -1.0])
def test_walls_without_stiffness_are_refused(G: float) -> None:
    with pytest.raises(StringerlabError, match="no stiffness"):
        answered([(0, 0), (10, 0)], [(0, 1)], G=G)


def test_cells_without_walls_or_area_are_refused() -> None:
    wall = CellWall(length=100, thickness=1, G=1, cell=0)
    for cells, walls in (
        ([Cell(area=0)], [wall]),
        ([Cell(area=10), Cell(area=10)], [wall]),
        ([Cell(area=10)], [CellWall(length=100, thickness=0, G=1, cell=0)]),
    ):
        with pytest.raises(StringerlabError):
            cell_flows(cells, walls)


def test_parts_apart_are_refused_though_each_balances_its_own_torque() -> None:
    with pytest.raises(StringerlabError, match="do not hang together"):
        answered(
            [(0, 0), (90, 0), (90, 60), (0, 200), (90, 200), (90, 260)], [(0, 1), (1, 2), (3, 4), (4, 5)]
        )
