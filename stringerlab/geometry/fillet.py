"""One line with its corners rounded, for whoever draws a shape. mm."""

from collections.abc import Sequence

import numpy as np

from stringerlab.geometry.chords import CHORDS, Array, as_pairs, as_points
from stringerlab.geometry.lines import corners_of, lines_of

__all__ = ["CHORDS", "rounded"]


def rounded(
    points: Sequence[tuple[float, float]],
    radii: Sequence[float],
    *,
    closed: bool = False,
    chords: int = CHORDS,
) -> Array:
    """Return the vertices (n, 2) of one line, corners rounded; a closed line ends on its first point again.

    Parameters
    ----------
    points
        Corners [mm].
    radii
        One a corner, 0 for sharp [mm]; without effect at an open end.

    Raises
    ------
    ValueError
        When the line is too short, repeats a point, doubles back, or a fillet does not fit its legs.
    """
    if len(points) < (3 if closed else 2):
        raise ValueError(f"A line of {len(points)} points has no corners.")
    corners = corners_of(
        as_points(np.array(points, float)), np.array(radii, float), np.zeros(1, np.intp), np.array([closed])
    )
    if not corners.sound:
        raise ValueError("The line repeats a point, doubles back, or has a fillet larger than its legs.")
    return as_pairs(lines_of(corners, chords=chords).points)
