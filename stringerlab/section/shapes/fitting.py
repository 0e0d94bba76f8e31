"""Which sizes a shape cannot have: all that is wrong with them at once. mm, degrees."""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from math import atan2, cos, hypot, inf, isfinite, pi, tan

from stringerlab.errors import Problem
from stringerlab.geometry.chords import CHORDS
from stringerlab.geometry.lines import TOUCH
from stringerlab.section.records import Point, Side

MAX_DRAFT = 40.0
"""Degrees from vertical: a web at 45° to the shell is no web any more."""
MAX_DEADRISE = 60.0


def misfits(
    where: str,
    points: tuple[Point, ...],
    fillets: tuple[float, ...],
    legs: tuple[str, ...],
    side: Side,
    thickness: float,
) -> Iterable[Problem]:
    """Problems of fillets that do not fit their legs, and of a laminate that folds on its inside."""
    headings = [atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(points)]
    turns = [0.0, *(_within_pi(b - a) for a, b in pairwise(headings)), 0.0]
    inward = [-turn if side is Side.RIGHT else turn for turn in turns]
    tangents = [radius * tan(abs(turn) / 2) for radius, turn in zip(fillets, turns, strict=True)]
    # How much of a leg's end the laminate's far face loses, per mm of thickness.
    losses = [
        tan(turn / 2 if radius == 0 else turn / 4 / CHORDS)
        for radius, turn in zip(fillets, inward, strict=True)
    ]
    for index, leg in enumerate(legs):
        start, end = points[index], points[index + 1]
        length = hypot(end[0] - start[0], end[1] - start[1])
        flat = length - tangents[index] - tangents[index + 1]
        if flat < -TOUCH:
            yield Problem(
                f"the fillets need {length - flat:.4g} mm of it, it has {length:.4g} mm.",
                f"{where}, {leg}",
                "Make the radius smaller or the leg longer.",
            )
        elif flat > TOUCH and flat - thickness * (losses[index] + losses[index + 1]) <= 0:
            yield Problem(
                f"the laminate ({thickness:.4g} mm) leaves nothing of its far face: its neighbours cross.",
                f"{where}, {leg}",
                "Make it wider, or the laminate thinner.",
            )
    for index, radius in enumerate(fillets):
        if radius > 0 and inward[index] > 0 and radius * cos(inward[index] / 2 / CHORDS) <= thickness:
            corner = f"{where}, fillet between {legs[index - 1]} and {legs[index]}"
            yield Problem(
                f"the laminate ({thickness:.4g} mm) is thicker than the radius ({radius:g} mm): it folds.",
                corner,
                "Make the radius more than the laminate's thickness, or 0 for a sharp corner.",
            )


def _within_pi(angle: float) -> float:
    return (angle + pi) % (2 * pi) - pi


def not_positive(where: str, values: Mapping[str, float]) -> Iterable[Problem]:
    """Yield the problems of lengths that must be above 0."""
    for name, value in values.items():
        if not 0 < value < inf:
            yield Problem(f"{value:g} mm is not above 0.", f"{where}, {name}", "Give a length above 0.")


def negative(where: str, values: Mapping[str, float]) -> Iterable[Problem]:
    """Yield the problems of lengths that must not be below 0."""
    for name, value in values.items():
        if not 0 <= value < inf:
            yield Problem(
                f"{value:g} mm is not 0 or more.", f"{where}, {name}", "Give 0 or a length above 0."
            )


def outside(
    where: str, name: str, value: float, most: float, why: str, least: float = 0.0
) -> Iterable[Problem]:
    """Yield the problem of an angle that is not between two others."""
    if not (isfinite(value) and least <= value <= most):
        yield Problem(f"{value:g}° is not within {least:g}° to {most:g}°.", f"{where}, {name}", why)
