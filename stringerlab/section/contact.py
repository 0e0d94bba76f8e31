"""Where drawn bodies lie: their faces, their place along the shell, and whether two of them touch. mm."""

from cmath import exp
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import Points
from stringerlab.geometry.lines import Lines
from stringerlab.section.drawing import Drawing

Array = NDArray[np.float64]

CONTACT = 1e-6
"""Bodies that overlap by less than this touch [mm], and areas smaller than its number are none [mm²]."""
DRAWN = 0.01
"""An overlap thinner than this is a drawing's own tolerance: cut away, but not reported [mm]."""


def in_shell_axes(points: Points, deadrise: float) -> Points:
    """Return points turned: the real part runs along the shell, the imaginary one inboard from its face."""
    return points * exp(-1j * deadrise)


def faces(drawing: Drawing, lines: Lines, index: int) -> tuple[Points, Points]:
    """Return the vertices of a stroke's line and of its laminate's far face."""
    part = lines.part(index)
    points = lines.points[part]
    return points, points + drawing.strokes[index].reach * lines.mitres[part]


def touching(low: Array, high: Array) -> Sequence[tuple[int, int]]:
    """Return the pairs of boxes (n, 2) that overlap by more than a contact, the earlier box first."""
    shared = (np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])).min(axis=2)
    one, other = np.nonzero(np.triu(shared > CONTACT, 1))
    return list(zip(one.tolist(), other.tolist(), strict=True))
