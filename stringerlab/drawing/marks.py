"""The shapes of marks and ticks, before a player gives them their size."""

import numpy as np

from stringerlab.drawing.display import Points, Shape, Ticks


def mark_outline(shape: Shape) -> Points:
    """Return the corners of a mark of half size 1 about 0, (n, 2), z up; a cross as two strokes of two."""
    match shape:
        case Shape.SQUARE:
            corners = [[-0.85, -0.85], [0.85, -0.85], [0.85, 0.85], [-0.85, 0.85]]
        case Shape.TRIANGLE:
            corners = [[-1.05, -0.8], [1.05, -0.8], [0.0, 1.1]]
        case Shape.DIAMOND:
            corners = [[0.0, -1.25], [1.25, 0.0], [0.0, 1.25], [-1.25, 0.0]]
        case Shape.CROSS:
            corners = [[-1.9, 0.0], [1.9, 0.0], [0.0, -1.9], [0.0, 1.9]]
        case Shape.CIRCLE:
            turns = np.arange(24) * np.pi / 12
            return np.stack([np.cos(turns), np.sin(turns)], axis=1)
    return np.array(corners)


def unit_vectors(ticks: Ticks) -> Points:
    """Return the directions of ticks, (n, 2)."""
    step = ticks.ends - ticks.starts
    return np.asarray(step / np.maximum(np.hypot(step[:, 0], step[:, 1]), 1e-300)[:, None])
