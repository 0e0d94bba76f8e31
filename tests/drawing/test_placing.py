"""Pictures moved and set out, words kept apart: what is drawn stays as it was."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from stringerlab.drawing import Area, Label, Line, Mark, Picture, Role, Shade, Shape, Ticks, area_of
from stringerlab.drawing.as_svg import covered
from stringerlab.drawing.placing import apart, moved, side_by_side

RING = np.array([[0.0, 0], [10, 0], [10, 20], [0, 20]])
ALL = Picture(
    items=(
        Area(rings=(RING,), role=Role.MAT, shade=Shade(z=(0.0, 20.0), values=(-1.0, 1.0), limit=1.0)),
        Line(points=RING, role=Role.TOOL),
        Ticks(starts=RING, ends=RING + 1, role=Role.MOULD_FACE),
        Mark(at=(5.0, 5.0), shape=Shape.CIRCLE, role=Role.NODE),
        Label(at=(5.0, 10.0), text="mat"),
    )
)


def words_of(picture: Picture) -> list[Label]:
    return [item for item in picture if isinstance(item, Label)]


def meet(one: Label, other: Label, scale: float) -> bool:
    a, b = (covered(Picture(items=(label,)), scale) for label in (one, other))
    return a.left < b.right and b.left < a.right and a.bottom < b.top and b.bottom < a.top


def test_everything_of_a_picture_moves_together() -> None:
    there = moved(ALL, 100.0, -7.0)
    low, high = np.array(ALL.bounds()).reshape(2, 2)
    assert np.array(there.bounds()).reshape(2, 2) == pytest.approx(
        np.stack([low, high]) + np.array([100.0, -7.0])
    )
    [area] = [item for item in there if isinstance(item, Area)]
    assert area_of(area) == pytest.approx(200.0)
    assert area.shade is not None
    assert area.shade.z == (-7.0, 13.0)
    back = moved(there, -100.0, 7.0)
    for one, other in zip(ALL, back, strict=True):
        assert type(one) is type(other)
    assert back.bounds() == pytest.approx(ALL.bounds())


def test_pictures_stand_in_rows_in_their_order_and_do_not_touch() -> None:
    boxes = [(-5.0, 0.0, 5.0 + size, 10.0 + size) for size in range(0, 50, 10)]
    pictures = [
        Picture(items=(Line(points=np.array([(a, b), (c, d)]), role=Role.TOOL),)) for a, b, c, d in boxes
    ]
    placed = [picture.bounds() for picture in side_by_side(pictures, boxes, 4.0)]
    assert None not in placed
    for one, other in combinations([box for box in placed if box], 2):
        assert (
            other[0] - one[2] >= 4 - 1e-9
            or one[0] - other[2] >= 4 - 1e-9
            or one[1] - other[3] >= 4 - 1e-9
            or other[1] - one[3] >= 4 - 1e-9
        )
    first, second, third, fourth, *_ = [box for box in placed if box]
    assert first[2] < second[0] < second[2] < third[0]
    assert first[1] == pytest.approx(second[1])
    assert fourth[3] < first[1]


def test_words_on_words_are_moved_clear_and_nothing_else_is() -> None:
    crowd = Picture(items=(*ALL.items, *(Label(at=(5.0, 10.0 + n / 10), text=f"p{n}") for n in range(6))))
    for scale in (1.0, 0.1):
        free = apart(crowd, scale)
        labels = words_of(free)
        assert not any(meet(one, other, scale) for one, other in combinations(labels, 2))
        assert [label.text for label in labels] == [label.text for label in words_of(crowd)]
        assert [label.at[0] for label in labels] == [label.at[0] for label in words_of(crowd)]
        assert labels[0].at == (5.0, 10.0)
        kept = [item for item in free if not isinstance(item, Label)]
        assert kept == [item for item in crowd if not isinstance(item, Label)]


def test_words_that_stand_clear_stay_where_they_are() -> None:
    clear = Picture(items=tuple(Label(at=(0.0, 20.0 * n), text="span") for n in range(5)))
    assert [label.at for label in words_of(apart(clear, 1.0))] == [label.at for label in words_of(clear)]
