"""A measured distance as drawn: two extension lines, a line between them with slashes, the figure. mm."""

import numpy as np

from stringerlab.drawing.display import Label, Line, Picture, Points, Role, Ticks

_OVER = 0.18
"""How far the extension lines run past the dimension line, as a part of its distance."""

_LEVEL = 0.05
"""A line that rises less than this over its length counts as level."""


def dimension(
    start: tuple[float, float], end: tuple[float, float], distance: float, text: str, *, subject: str = ""
) -> Picture:
    """Return a dimension of the distance between two points.

    Parameters
    ----------
    start, end
        What is measured (y, z) [mm].
    distance
        Of the dimension line, to the left of the way from start to end [mm].
    text
        The figure with its unit.
    subject
        Id for picking.
    """
    ends = np.array([start, end], float)
    along = ends[1] - ends[0]
    length = float(np.hypot(*along))
    if length == 0:
        return Picture()
    along = along / length
    aside = np.array([-along[1], along[0]]) * distance
    line = ends + aside
    slash = along + np.array([-along[1], along[0]])
    middle = line.mean(axis=0)
    below = aside[1] < -1e-9
    return Picture(
        items=(
            Line(points=np.array([ends[0], line[0] + _OVER * aside]), role=Role.DIMENSION, subject=subject),
            Line(points=np.array([ends[1], line[1] + _OVER * aside]), role=Role.DIMENSION, subject=subject),
            Line(points=line, role=Role.DIMENSION, subject=subject),
            _slashes(line, slash, subject),
            _figure(middle, along, text, below=below, subject=subject),
        )
    )


def _slashes(at: Points, direction: Points, subject: str) -> Ticks:
    both = np.concatenate([at, at])
    return Ticks(
        starts=both,
        ends=both + np.concatenate([[direction, direction], [-direction, -direction]]),
        role=Role.DIMENSION,
        size=1.0,
        subject=subject,
    )


def _figure(at: Points, along: Points, text: str, *, below: bool, subject: str) -> Label:
    """Return the figure clear of its line: beside one that stands, on the open side of one that slopes."""
    upright = abs(along[1]) > abs(along[0])
    slope = 0 if abs(along[1]) < _LEVEL * abs(along[0]) else (1 if along[0] * along[1] > 0 else -1)
    return Label(
        at=(float(at[0]), float(at[1])),
        text=text,
        role=Role.DIMENSION,
        align=1 if upright else slope * (1 if below else -1),
        level=0 if upright else (-1 if below else 1),
        small=True,
        subject=subject,
    )
