"""A picture fits a space with its words."""

import numpy as np
import pytest

from stringerlab.drawing import Label, Line, Picture, Role
from stringerlab.drawing.fitting import fit, frame

BAR = Line(points=np.array([[0.0, 0.0], [100.0, 50.0]]), role=Role.TOOL)


def measure(label: Label) -> tuple[float, float]:
    return 8.0 * len(label.text), 16.0


def test_without_words_the_tighter_side_decides() -> None:
    scale, covered = fit(Picture(items=(BAR,)), measure, 400, 100)
    assert scale == pytest.approx(2.0)
    assert (covered.left, covered.bottom, covered.right, covered.top) == (0, 0, 100, 50)


@pytest.mark.parametrize("align", [-1, 0, 1])
@pytest.mark.parametrize("level", [-1, 0, 1])
@pytest.mark.parametrize("space", [(400, 300), (150, 600), (1200, 90)])
def test_words_stay_inside(align: int, level: int, space: tuple[float, float]) -> None:
    words = Label(at=(100.0, 50.0), text="ten letters", align=align, level=level)
    picture = Picture(items=(BAR, words))
    scale, covered = fit(picture, measure, *space)
    assert covered.width * scale <= space[0] * (1 + 1e-9)
    assert covered.height * scale <= space[1] * (1 + 1e-9)
    larger = frame(picture, measure, scale * 1.01)
    assert larger.width * scale * 1.01 > space[0] or larger.height * scale * 1.01 > space[1]


def test_words_longer_than_the_space_do_not_shrink_the_picture_to_nothing() -> None:
    picture = Picture(items=(BAR, Label(at=(0.0, 0.0), text="x" * 500, align=1)))
    scale, _ = fit(picture, measure, 400, 400)
    assert scale == pytest.approx(0.4, rel=1e-3)


def test_single_point_and_empty_pictures_fit_anything() -> None:
    for picture in (Picture(), Picture(items=(Label(at=(3.0, 4.0), text="alone"),))):
        scale, _ = fit(picture, measure, 400, 300)
        assert scale == 1.0
