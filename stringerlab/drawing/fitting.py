"""How a picture with words of fixed size fits a space: scale and place. mm to screen or page units."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringerlab.drawing.display import Label, Mark, Picture, Points

Measure = Callable[[Label], tuple[float, float]]
"""Width and height of a label's words in screen or page units."""

ROUNDS = 24
"""Times the scale is halved in on."""
GAP = 6.0
"""Between a point and words beside it, in screen units."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What a picture covers in mm: least y and z, greatest y and z."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom


def place(label: Label, size: tuple[float, float], gap: float = GAP) -> tuple[float, float]:
    """Return where a label's words begin from its point: to the right and up, of their lower left corner."""
    width, height = size
    right = {-1: -width - gap, 0: -width / 2, 1: gap}[label.align]
    up = {-1: -height - gap / 2, 0: -height / 2, 1: gap / 2}[label.level]
    return right, up


def frame(picture: Picture, measure: Measure, scale: float, gap: float = GAP) -> Frame:
    """Return what a picture covers, words and marks included, at a scale.

    Parameters
    ----------
    picture
        The picture.
    measure
        Sizes of words, in the units that ``scale`` gives a millimetre.
    scale
        Units a millimetre.
    gap
        Between points and words, in those units.
    """
    return _covered(_Reach.of(picture, measure, gap), scale)


def fit(
    picture: Picture, measure: Measure, width: float, height: float, gap: float = GAP
) -> tuple[float, Frame]:
    """Return the greatest scale at which a picture fits a space with its words, and what it covers then.

    Words too long for the space overhang rather than shrink the picture below a tenth of what fits without.
    """
    reach = _Reach.of(picture, measure, gap)
    low, high = reach.low, reach.high
    across, up = float(high[0] - low[0]), float(high[1] - low[1])
    if not max(across, up) > 0:
        return 1.0, _covered(reach, 1.0)
    most = min(part / size for part, size in ((width, across), (height, up)) if size > 0)
    least = most / 10
    for _ in range(ROUNDS):
        middle = (least + most) / 2
        covered = _covered(reach, middle)
        if covered.width * middle <= width and covered.height * middle <= height:
            least = middle
        else:
            most = middle
    return least, _covered(reach, least)


@dataclass(frozen=True, slots=True, eq=False)
class _Reach:
    """The box of what is drawn in mm, and of each word and mark its point and its reach from there."""

    low: Points
    high: Points
    at: Points
    """(n, 2) mm."""
    back: Points
    """(n, 2) screen units from the point to the lower left corner …"""
    ahead: Points
    """… and to the upper right."""

    @classmethod
    def of(cls, picture: Picture, measure: Measure, gap: float) -> "_Reach":
        bounds = picture.bounds() or (0.0, 0.0, 0.0, 0.0)
        at: list[tuple[float, float]] = []
        back: list[tuple[float, float]] = []
        ahead: list[tuple[float, float]] = []
        for item in picture:
            if isinstance(item, Label):
                size = measure(item)
                right, up = place(item, size, gap)
                back.append((right, up))
                ahead.append((right + size[0], up + size[1]))
                at.append(item.at)
            elif isinstance(item, Mark):
                back.append((-gap, -gap))
                ahead.append((gap, gap))
                at.append(item.at)
        return cls(
            np.array(bounds[:2]),
            np.array(bounds[2:]),
            *(np.array(each, float).reshape(-1, 2) for each in (at, back, ahead)),
        )


def _covered(reach: _Reach, scale: float) -> Frame:
    low = np.vstack([reach.low[None], reach.at + reach.back / scale]).min(axis=0)
    high = np.vstack([reach.high[None], reach.at + reach.ahead / scale]).max(axis=0)
    return Frame(float(low[0]), float(low[1]), float(high[0]), float(high[1]))
