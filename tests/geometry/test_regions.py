"""Boundary integrals against closed forms, overlaps against areas worked out by hand, and clean-up."""

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.geometry import planar
from stringerlab.geometry.areas import ring_size
from stringerlab.geometry.chords import Points
from stringerlab.geometry.cleaning import without_repeats
from stringerlab.geometry.noding import noded
from stringerlab.geometry.regions import Regions, polygon_moments, with_rings

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])


def box(y: float, z: float, width: float, height: float) -> planar.Area:
    return [[np.array([[y, z], [y + width, z], [y + width, z + height], [y, z + height]], float)]]


class TestMoments:
    def test_right_triangle(self) -> None:
        b, h = 30.0, 12.0
        triangle = np.array([[0, b, 0], [0, 0, h]], float)
        area, y, z, yy, zz, yz = polygon_moments(triangle, np.array([0]))[:, 0]
        assert area == pytest.approx(b * h / 2)
        assert (y, z) == pytest.approx((b * b * h / 6, b * h * h / 6))
        assert (yy, zz, yz) == pytest.approx((b**3 * h / 12, b * h**3 / 12, b * b * h * h / 24))

    def test_many_polygons_of_various_counts_at_once(self) -> None:
        corners = [3, 4, 7, 400]
        polygons: list[Points] = []
        starts: list[int] = []
        for n in corners:
            starts.append(sum(map(len, polygons)))
            polygons.append(5 * np.exp(2j * pi * np.arange(n) / n) + (3 + 4j))
        points = np.concatenate(polygons)
        found = polygon_moments(np.array([points.real, points.imag]), np.array(starts))
        n = np.array(corners)
        area = n / 2 * 25 * np.sin(2 * pi / n)
        about_centre = n / 24 * 625 * np.sin(2 * pi / n) * (2 + np.cos(2 * pi / n))
        assert found[0] == pytest.approx(area)
        assert found[1] == pytest.approx(3 * area)
        assert found[2] == pytest.approx(4 * area)
        assert found[3] == pytest.approx(about_centre + 9 * area)
        assert found[4] == pytest.approx(about_centre + 16 * area)
        assert found[5] == pytest.approx(12 * area)

    def test_clockwise_counts_negative(self) -> None:
        assert polygon_moments(SQUARE[::-1].T, np.array([0]))[0] == pytest.approx([-100])

    @given(z=st.floats(-5, 15))
    def test_first_moment_above_a_line(self, z: float) -> None:
        none = np.zeros(0, np.intp)
        empty = Regions(np.zeros((2, 0)), none, none, none, np.zeros(0), 0)
        hole = np.array([[2.0, 4.0], [2.0, 8.0], [6.0, 8.0], [6.0, 4.0]])
        regions = with_rings(empty, np.zeros(0, bool), [[SQUARE, hole]])

        def above(low: float, high: float, width: float) -> float:
            low = max(low, z)
            return width * ((high - z) ** 2 - (low - z) ** 2) / 2 if high > low else 0.0

        assert regions.first_moment_above(np.array([3.0]), z) == pytest.approx(
            3 * (above(0, 10, 10) - above(4, 8, 4)), abs=1e-9
        )


class TestPlanar:
    def test_overlap_and_its_thickness(self) -> None:
        assert planar.overlap(box(0, 0, 10, 10), box(8, 0, 10, 10)) == pytest.approx((20, 2 * 20 / 24))
        assert planar.overlap(box(0, 0, 10, 10), box(10, 0, 10, 10)) == (0, 0)

    def test_difference_can_leave_pieces_and_holes(self) -> None:
        pieces = planar.difference(box(0, 0, 30, 10), [box(10, -5, 10, 20)])
        assert len(pieces) == 2
        [ring] = planar.difference(box(0, 0, 30, 30), [box(10, 10, 10, 10)])
        sizes = [polygon_moments(each.T, np.array([0]))[0, 0] for each in ring]
        assert sizes == pytest.approx([900, -100])
        assert planar.difference(box(0, 0, 5, 5), [box(-1, -1, 20, 20)]) == []

    def test_holes_between_areas_that_but_touch(self) -> None:
        frame = [box(0, 0, 30, 5), box(0, 25, 30, 5), box(0, 5, 5, 20), box(25, 5 + 1e-9, 5, 20 - 2e-9)]
        assert [ring_size(ring) for ring in planar.holes(frame)] == pytest.approx([400])
        assert planar.holes(frame[:3]) == []

    def test_rings_nest_even_odd(self) -> None:
        rings = [box(0, 0, 90, 90)[0][0], box(10, 10, 70, 70)[0][0], box(20, 20, 10, 10)[0][0]]
        area = planar.area_of_rings([ring[::-1] for ring in rings])
        assert planar.sizes([area]) == pytest.approx((8100 - 4900 + 100,) * 2)
        with pytest.raises(ValueError, match="crosses itself"):
            planar.area_of_rings([SQUARE[[0, 2, 1, 3]]])

    def test_soundness(self) -> None:
        assert planar.ring_is_sound(SQUARE)
        assert not planar.ring_is_sound(SQUARE[[0, 2, 1, 3]])
        assert planar.line_is_simple(SQUARE)
        assert not planar.line_is_simple(SQUARE[[0, 2, 1, 3]])
        assert planar.covered_area(np.stack([SQUARE, SQUARE + 5])) == pytest.approx(175)


class TestNoding:
    def test_neighbours_vertices_stand_in_the_edge_they_touch(self) -> None:
        small = np.array([[10.0, 3.0], [15.0, 3.0], [15.0, 6.0], [10.0 + 4e-8, 6.0]])
        large, other = noded([SQUARE, small])
        assert [10, 3] in large.tolist()
        assert large.tolist().index([10, 3]) + 1 == large.tolist().index(other[3].tolist())
        assert polygon_moments(large.T, np.array([0]))[0, 0] == pytest.approx(100, rel=1e-6)

    def test_vertices_within_the_snapping_distance_become_one(self) -> None:
        one, two = noded([SQUARE, SQUARE + np.array([10.0, 3e-7])])
        assert {tuple(point) for point in one.tolist()} & {tuple(point) for point in two.tolist()} == {
            (10.0, 0.0),
            (10.0, 10.0),
        }


class TestCleaning:
    def test_repeats_go_and_the_larger_radius_stays(self) -> None:
        found = without_repeats([(0, 0), (0, 0), (9, 0), (9, 1e-12), (9, 9)], [0, 0, 2, 5, 0])
        assert found.points == ((0, 0), (9, 0), (9, 9))
        assert found.radii == (0, 5, 0)
        assert found.dropped == (2, 4)

    def test_closed_line_that_names_its_start_twice(self) -> None:
        found = without_repeats([(0, 0), (9, 0), (9, 9), (0, 0)], [0, 0, 0, 3], closed=True)
        assert found.points == ((0, 0), (9, 0), (9, 9))
        assert found.radii == (3, 0, 0)
        assert found.dropped == (4,)
        assert without_repeats(found.points, found.radii, closed=True).dropped == ()
