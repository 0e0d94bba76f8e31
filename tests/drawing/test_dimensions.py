"""Dimensions stand off what they measure, with their figure clear of the line."""

import numpy as np
import pytest

from stringerlab.drawing import Label, Line, Picture, dimension


def lines(picture: Picture) -> list[Line]:
    return [item for item in picture if isinstance(item, Line)]


def figure(picture: Picture) -> Label:
    (label,) = [item for item in picture if isinstance(item, Label)]
    return label


def test_dimension_line_is_parallel_at_its_distance_on_the_left() -> None:
    start, end = (10.0, 20.0), (40.0, 60.0)
    line = lines(dimension(start, end, 5.0, "50 mm"))[-1].points
    along = np.array([0.6, 0.8])
    assert line[1] - line[0] == pytest.approx(50 * along)
    assert line[0] - start == pytest.approx(5 * np.array([-0.8, 0.6]))


@pytest.mark.parametrize(
    ("end", "distance", "align", "level"),
    [
        ((100.0, 0.0), 10.0, 0, 1),
        ((100.0, 0.0), -10.0, 0, -1),
        ((0.0, 100.0), 10.0, 1, 0),
        ((100.0, 30.0), -10.0, 1, -1),
        ((100.0, -30.0), -10.0, -1, -1),
        ((100.0, 30.0), 10.0, -1, 1),
    ],
)
def test_figure_stands_on_the_open_side(
    end: tuple[float, float], distance: float, align: int, level: int
) -> None:
    label = figure(dimension((0.0, 0.0), end, distance, "x", subject="bonded"))
    assert (label.align, label.level, label.subject) == (align, level, "bonded")


def test_no_distance_has_no_dimension() -> None:
    assert not dimension((1.0, 1.0), (1.0, 1.0), 5.0, "0 mm").items
