"""Lines made into a graph, and the faces they part the plane into."""

import numpy as np
import pytest

from stringerlab.geometry.faces import Faces, enclosing, faces_of, place_within, without_strips
from stringerlab.geometry.graph import Graph, TooManyError, graph_of
from stringerlab.geometry.near import edges_near, mirrored

SQUARE = np.array([(0, 0), (100, 0), (100, 100), (0, 100), (0, 0)], float)


def drawn(*lines: list[tuple[float, float]]) -> tuple[Graph, Faces]:
    graph = graph_of([SQUARE, *(np.array(line, float) for line in lines)], [0, *[1] * len(lines)], most=1000)
    return graph, faces_of(graph.points, graph.edges)


def test_two_crossing_lines_part_a_square_in_four() -> None:
    graph, faces = drawn([(0, 40), (100, 40)], [(30, 0), (30, 100)])
    assert sorted(faces.area) == pytest.approx(sorted([30 * 40, 70 * 40, 30 * 60, 70 * 60]))
    assert len(graph.points) == 4 + 4 + 1
    assert len(graph.edges) - len(graph.points) + 1 == 4  # Euler


def test_an_end_near_a_line_meets_it_and_the_line_stays_straight() -> None:
    graph, faces = drawn([(0, 40), (100, 40)], [(30, 40.4), (30, 100)])
    assert len(faces.area) == 3
    assert sorted(faces.area) == pytest.approx([30 * 60, 4000, 70 * 60])
    assert [30, 40] in graph.points.tolist()


def test_three_lines_through_nearly_one_point_meet_in_one() -> None:
    graph, faces = drawn([(0, 0), (100, 100)], [(0, 100), (100, 0)], [(50.2, 0), (50.2, 100)])
    assert len(faces.area) == 6
    assert len(graph.points) == 4 + 2 + 1


def test_open_ends_bound_nothing_but_lie_in_a_face() -> None:
    graph, faces = drawn([(0, 40), (60, 40)])
    assert faces.area == pytest.approx([10_000])
    stub = int(graph.edge[graph.line == 1][0])
    half = int(np.nonzero(faces.parent == stub)[0][0]) * 2
    assert faces.face[half] == faces.face[half + 1] == 0
    assert half not in faces.ring(0)


def test_a_loose_ring_is_a_face_and_a_hole_in_another() -> None:
    _, faces = drawn([(40, 40), (60, 40), (60, 60), (40, 60), (40, 40)])
    assert sorted(faces.area) == pytest.approx([400, 9600])


def test_lines_on_one_another_share_their_edges() -> None:
    graph, faces = drawn([(0, 40), (100, 40)], [(20, 40.2), (70, 39.9)])
    assert len(faces.area) == 2
    shared = set(graph.edge[graph.line == 1]) & set(graph.edge[graph.line == 2])
    assert len(shared) == 1


def test_places_along_a_line_are_kept() -> None:
    graph, _ = drawn([(0, 40), (100, 40)], [(30, 100), (30, 0)])
    assert graph.along[graph.line == 2] == pytest.approx(np.array([(0, 60), (60, 100)]))


def test_too_many_neighbours_are_refused() -> None:
    lines = [np.array([(0, y), (100, 100 - y)], float) for y in range(0, 100, 5)]
    with pytest.raises(TooManyError):
        graph_of(lines, [1] * len(lines), most=100)


def test_place_within_lies_within() -> None:
    bent = np.array([(0, 0), (100, 0), (100, 100), (90, 100), (90, 10), (0, 10)], float)
    assert enclosing([bent], np.array([place_within(bent), (50.0, 50.0)])) == [(0, 0)]


def test_what_strips_leave_of_a_ring() -> None:
    strip = np.array([(40, -5), (60, -5), (60, 105), (40, 105)], float)
    left = without_strips(SQUARE[:-1], [strip])
    assert [len(ring) for ring in left] == [4, 4]


def test_mirror_images_and_neighbours() -> None:
    points = np.array([(0, 10), (0, -10.3), (5, 0), (7, 3)], float)
    assert mirrored(points, 0.5).tolist() == [1, 0, 2, -1]
    place, _, distance, foot = edges_near(points, np.array([(0, 1)]), np.array([(3.0, 0.0), (9.0, 0.0)]), 4.0)
    assert place.tolist() == [0]
    assert distance == pytest.approx([3])
    assert foot == pytest.approx(np.array([(0, 0)]))
