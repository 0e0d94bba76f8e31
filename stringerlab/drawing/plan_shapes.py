"""Lines drawn with width, and pieces of a polyline: pure geometry of a plan's picture. mm."""

import numpy as np

from stringerlab.drawing.display import Points

_MITRE = 4.0
"""A corner sharper than this many half widths is cut off there."""


def ribbon(line: Points, half: float) -> Points:
    """Return the outline of a line (n, 2) drawn so wide to either side, its corners mitred.

    Parameters
    ----------
    line
        (n, 2), n at least 2, no two points in a row the same.
    half
        Half of the width [mm].
    """
    out = offsets(line)
    return np.concatenate([line + half * out, (line - half * out)[::-1]])


def offsets(line: Points) -> Points:
    """Return (n, 2) how to go from each point of a line to one that lies 1 mm to its left."""
    legs = np.diff(line, axis=0)
    legs = legs / np.maximum(np.hypot(legs[:, 0], legs[:, 1]), 1e-12)[:, None]
    left = np.stack([-legs[:, 1], legs[:, 0]], axis=1)
    both = left[:-1] + left[1:]
    size = np.maximum((both * both).sum(axis=1) / 2, 2.0 / _MITRE**2)
    return np.concatenate([left[:1], both / size[:, None], left[-1:]])


def distances(line: Points) -> Points:
    """Return (n,) how far along a line each of its points lies [mm]."""
    legs = np.diff(line, axis=0)
    return np.concatenate([[0.0], np.cumsum(np.hypot(legs[:, 0], legs[:, 1]))])


def at_parts(line: Points, parts: Points) -> Points:
    """Return places (s, 2) at parts of a line's length, from 0 to 1."""
    run = distances(line)
    along: Points = np.asarray(parts, float) * run[-1]
    return np.stack([np.interp(along, run, line[:, 0]), np.interp(along, run, line[:, 1])], axis=1)


def piece(line: Points, start: float, end: float) -> Points:
    """Return what lies between two distances along a line [mm]; fewer than two points where nothing does."""
    run = distances(line)
    start, end = max(start, 0.0), min(end, float(run[-1]))
    if end - start < 1e-6:
        return np.empty((0, 2))
    inner = run[(run > start + 1e-6) & (run < end - 1e-6)]
    return at_parts(line, np.concatenate([[start], inner, [end]]) / run[-1])


def clean(points: Points) -> Points:
    """Return points (n, 2) without those that repeat the one before, or are no numbers."""
    points = np.asarray(points, float).reshape(-1, 2)
    points = points[np.isfinite(points).all(axis=1)]
    if len(points) < 2:
        return points
    legs = np.diff(points, axis=0)
    return points[np.concatenate([[True], np.hypot(legs[:, 0], legs[:, 1]) > 1e-6])]


def middle(ring: Points) -> tuple[float, float]:
    """Return the middle of a ring's area; of its corners where it has none."""
    x, y = (ring - ring[0]).T
    cross = x * np.roll(y, -1) - np.roll(x, -1) * y
    area = float(cross.sum()) / 2
    if abs(area) < 1e-9:
        at = ring.mean(axis=0)
    else:
        weights = cross / (6 * area)
        at = ring[0] + [((x + np.roll(x, -1)) * weights).sum(), ((y + np.roll(y, -1)) * weights).sum()]
    return float(at[0]), float(at[1])
