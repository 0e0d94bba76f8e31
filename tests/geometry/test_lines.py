"""Fillets as chords, mitred offsets, and lines that cannot be drawn."""

from cmath import exp, rect
from collections.abc import Sequence
from math import cos, pi, radians, sin, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.geometry import fillet
from stringerlab.geometry.chords import CHORDS, as_pairs, as_points
from stringerlab.geometry.lines import Corners, Lines, corners_of, lines_of

Line = Sequence[tuple[float, float]]


def corners(*lines: Line, radii: Sequence[float] | None = None, closed: list[bool] | None = None) -> Corners:
    counts = np.array([len(line) for line in lines])
    points = np.array([complex(*point) for line in lines for point in line])
    given_radii = np.zeros(len(points)) if radii is None else np.array(radii, float)
    return corners_of(
        points, given_radii, np.cumsum(counts) - counts, np.array(closed or [False] * len(lines))
    )


def lines(*drawn: Line, **others: Any) -> Lines:
    return lines_of(corners(*drawn, **others))


class TestFillet:
    @given(turn=st.floats(-2.7, 2.7).filter(lambda turn: abs(turn) > 0.05), radius=st.floats(1, 50))
    def test_eight_chords_with_every_vertex_on_the_arc(self, turn: float, radius: float) -> None:
        leg = radius * tan(abs(turn) / 2) + 10
        after = leg + leg * exp(1j * turn)
        found = as_points(
            np.array(fillet.rounded([(0, 0), (leg, 0), (after.real, after.imag)], [0, radius, 0]))
        )
        arc = found[1:-1]
        assert len(arc) == CHORDS + 1
        # The tangent points lie 10 mm from the legs' ends; the centre square to the first of them.
        assert arc[0] == pytest.approx(10, abs=1e-9)
        assert arc[-1] == pytest.approx(leg + (leg - 10) * exp(1j * turn), abs=1e-9)
        centre = arc[0] + 1j * np.copysign(radius, turn)
        assert np.abs(arc - centre) == pytest.approx(np.full(CHORDS + 1, radius), rel=1e-9)
        assert np.abs(np.diff(arc)) == pytest.approx(
            np.full(CHORDS, 2 * radius * sin(abs(turn) / 16)), rel=1e-8
        )

    def test_the_stated_chord_error_of_a_right_angle(self) -> None:
        arc = as_points(np.array(fillet.rounded([(0, 0), (1, 0), (1, 1)], [0, 1, 0])))
        between = sum((a.conjugate() * b).imag for a, b in zip(arc - 1j, (arc - 1j)[1:], strict=False)) / 2
        assert pi / 4 - between == pytest.approx(0.0050, abs=0.00005)
        assert 1 - abs((arc[0] + arc[1]) / 2 - 1j) == pytest.approx(0.0048, abs=0.00005)
        assert 1 - np.abs(np.diff(arc)).sum() / (pi / 2) == pytest.approx(0.0016, abs=0.00005)

    def test_error_falls_with_the_square_of_the_number_of_chords(self) -> None:
        def missing(chords: int) -> float:
            arc = as_points(np.array(fillet.rounded([(0, 0), (1, 0), (1, 1)], [0, 1, 0], chords=chords)))
            return pi / 2 - float(np.abs(np.diff(arc)).sum())

        errors = [missing(chords) for chords in (8, 16, 32, 64)]
        rates = np.log2(np.array(errors[:-1]) / errors[1:])
        assert rates == pytest.approx([2, 2, 2], abs=0.01)

    def test_fillets_that_share_a_whole_leg_meet_in_one_point(self) -> None:
        found = fillet.rounded([(0, 0), (20, 0), (20, 20), (40, 20)], [0, 10, 10, 0])
        assert len(found) == 2 + 2 * (CHORDS + 1) - 1
        assert np.hypot(*np.diff(found, axis=0).T).min() > 1
        closed = fillet.rounded([(0, 0), (20, 0), (20, 20), (0, 20)], [10, 10, 10, 10], closed=True)
        assert len(closed) == 4 * CHORDS + 1
        assert np.hypot(*(closed - 10).T) == pytest.approx(np.full(len(closed), 10))

    @pytest.mark.parametrize(
        ("points", "radii"),
        [
            ([(0, 0)], [0]),
            ([(0, 0), (0, 0)], [0, 0]),
            ([(0, 0), (10, 0), (10, 10)], [0, 10.1, 0]),
            ([(0, 0), (10, 0), (0, 0.1)], [0, 0, 0]),
        ],
    )
    def test_a_line_that_cannot_be_drawn(self, points: list[tuple[float, float]], radii: list[float]) -> None:
        with pytest.raises(ValueError, match="line"):
            fillet.rounded(points, radii)


class TestCorners:
    def test_what_is_wrong_is_found_in_its_own_line(self) -> None:
        found = corners(
            [(0, 0), (10, 0), (10, 10)],
            [(0, 0), (0, 0), (9, 9)],
            [(0, 0), (10, 0), (0, 0.1)],
            radii=[0, 12, 0, 0, 0, 0, 0, 0, 0],
        )
        assert not found.sound
        assert np.flatnonzero(found.overrun > 0).tolist() == [0, 1]
        assert found.overrun[0] == pytest.approx(2)
        assert np.flatnonzero(found.repeated).tolist() == [3]
        assert np.flatnonzero(found.doubling).tolist() == [7]

    def test_one_way_lines_keep_within_half_a_circle(self) -> None:
        hat = [(-9, 0), (-5, 0), (-5, 8), (5, 8), (5, 0), (9, 0)]
        lock = [(-9, 0), (-5, 0), (-6, 8), (6, 8), (5, 0), (9, 0)]
        assert corners(hat, lock, hat).one_way.tolist() == [True, False, True]
        assert corners(hat[1:5], closed=[True]).one_way.tolist() == [False]


class TestOffsets:
    @given(
        headings=st.lists(st.floats(-1.2, 1.2), min_size=2, max_size=6),
        lengths=st.lists(st.floats(20, 100), min_size=6, max_size=6),
        reach=st.floats(-5, 5),
    )
    def test_every_segment_moves_square_to_itself_by_the_reach(
        self, headings: list[float], lengths: list[float], reach: float
    ) -> None:
        legs = [rect(length, heading) for length, heading in zip(lengths, headings, strict=False)]
        points = np.concatenate([[0], np.cumsum(legs)])
        line = lines(as_pairs(points).tolist())
        moved = line.offset(np.array([reach]))
        normal = 1j * np.diff(points) / np.abs(np.diff(points))
        for ends in (slice(0, -1), slice(1, None)):
            assert ((moved - points)[ends] * normal.conj()).real == pytest.approx(
                np.full(len(normal), reach), abs=1e-9
            )
        # Ends are cut square.
        assert (moved - points)[0] == pytest.approx(reach * normal[0], abs=1e-9)
        assert (moved - points)[-1] == pytest.approx(reach * normal[-1], abs=1e-9)
        along = np.diff(moved) * (np.diff(points) / np.abs(np.diff(points))).conj()
        assert line.offset_lengths(np.array([reach]))[:-1] == pytest.approx(along.real, abs=1e-9)

    def test_closed_square_grows_on_all_sides(self) -> None:
        square = lines([(0, 0), (10, 0), (10, 10), (0, 10)], closed=[True])
        assert square.points[0] == square.points[-1]
        assert as_pairs(square.offset(np.array([-2.0]))).tolist() == [
            [-2, -2], [12, -2], [12, 12], [-2, 12], [-2, -2]
        ]  # fmt: skip

    def test_fold_shows_as_a_negative_length(self) -> None:
        bend = lines([(0, 0), (50, 0), (50, 50)], radii=[0, 6, 0])
        inside = 6 * cos(radians(90) / 16)
        assert bend.offset_lengths(np.array([inside - 0.01])).min() > 0
        assert bend.offset_lengths(np.array([inside + 0.01])).min() < 0
        assert bend.offset_lengths(np.array([-40.0])).min() > 0

    def test_lines_in_one_batch_do_not_touch_each_other(self) -> None:
        one, two = [(0, 0), (10, 0), (10, 10)], [(50, 5), (40, 5), (40, 30), (60, 40)]
        both = lines(one, two, radii=[0, 3, 0, 0, 2, 4, 0])
        alone = [lines(one, radii=[0, 3, 0]), lines(two, radii=[0, 2, 4, 0])]
        reach = np.array([1.0, -2.0])
        moved = both.offset(reach)
        for index, each in enumerate(alone):
            assert np.array_equal(moved[both.part(index)], each.offset(reach[index : index + 1]))
            assert both.chord[both.part(index)].sum() == each.chord.sum() == CHORDS * (index + 1)
