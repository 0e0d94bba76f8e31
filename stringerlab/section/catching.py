"""What of a section a pointer catches on, and what of it can be picked. mm."""

from collections.abc import Iterable, Iterator
from math import pi

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.construct import turns
from stringerlab.geometry.picking import Body, Pickable
from stringerlab.geometry.snapping import Curve, Point, Targets
from stringerlab.section.drawn import DrawnWall, drawn_walls, shell_line
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import Plating, Section, SectionShape

Array = NDArray[np.float64]

SHELL = "shell"
PLATING = "plating"
UNDERLAY = "underlay"
FAR = 10_000.0
"""How far the shell's line goes each way [mm]."""


def targets(
    shape: SectionShape | Section,
    plating: Plating | None = None,
    *,
    deadrise: float = 0.0,
    grid: float = 0.0,
    underlay: Iterable[Array] = (),
) -> Targets:
    """Return what a pointer catches on: walls and their faces, fills, shell, plating, underlay, grid.

    Parameters
    ----------
    shape
        The section; one that is not resolved has drawn lines but no faces.
    plating
        The strip shown with it; its slope counts as the deadrise.
    deadrise
        Slope of the shell when there is no strip [rad].
    grid
        Spacing, 0 for none [mm].
    underlay
        Lines (n, 2) lying under the drawing [mm].
    """
    slope = plating.deadrise if plating else deadrise
    return Targets.of(
        [
            *(curve for wall in drawn_walls(shape) for curve in _wall_curves(wall)),
            *(Curve(fill.id, _ring(fill.points), face=True) for fill in shape.fills if fill.points),
            Curve(SHELL, _shell(slope), face=True),
            *_plating_curves(plating),
            *(Curve(UNDERLAY, np.asarray(line, float)) for line in underlay),
        ],
        grid,
    )


def bodies_to_pick(shape: SectionShape | Section) -> Pickable:
    """Return what of a section can be picked: its walls and fills."""
    walls = [
        Body(
            subject=wall.id,
            corners=wall.corners,
            line=wall.tool,
            chord=wall.chord,
            corner_of=wall.corner_of,
            rings=tuple(wall.outline),
            closed=wall.closed,
        )
        for wall in drawn_walls(shape)
    ]
    fills = [
        Body(
            subject=fill.id,
            corners=np.array(fill.points, float),
            line=_ring(fill.points),
            chord=np.zeros(len(fill.points), bool),
            corner_of=np.append(np.arange(len(fill.points)), 0),
            rings=(np.array(fill.points, float),),
            closed=True,
            fill=True,
        )
        for fill in shape.fills
        if len(fill.points) > 2
    ]
    return Pickable.of([*walls, *fills])


def _wall_curves(wall: DrawnWall) -> Iterator[Curve]:
    circles = tuple(_circles(wall))
    rounded = np.array([radius > 0 for radius in wall.radii], bool)
    yield Curve(wall.id, wall.tool, wall.chord, corners=wall.corners[rounded], circles=circles)
    if wall.thickness:
        by = wall.side * wall.thickness
        shifted = tuple(
            (centre, size)
            for (centre, radius), turn in zip(circles, _rounded_turns(wall), strict=True)
            if (size := radius - by * np.sign(turn)) > 0
        )
        yield Curve(wall.id, wall.face, wall.chord, face=True, circles=shifted)
        for at in () if wall.closed else (0, -1):
            yield Curve(wall.id, np.stack([wall.tool[at], wall.face[at]]), face=True)


def _rounded_turns(wall: DrawnWall) -> list[float]:
    bends = turns([(float(y), float(z)) for y, z in wall.corners], closed=wall.closed)
    return [turn for turn, radius in zip(bends, wall.radii, strict=True) if radius > 0 and abs(turn) > 1e-9]


def _circles(wall: DrawnWall) -> Iterator[tuple[Point, float]]:
    """Centre and radius of each fillet."""
    corners = [complex(*point) for point in wall.corners]
    count = len(corners)
    bends = turns([(point.real, point.imag) for point in corners], closed=wall.closed)
    for index, (turn, radius) in enumerate(zip(bends, wall.radii, strict=True)):
        if radius > 0 and abs(turn) > 1e-9:
            back, on = corners[index - 1] - corners[index], corners[(index + 1) % count] - corners[index]
            both = back / abs(back) + on / abs(on)
            centre = corners[index] + both / abs(both) * radius / np.sin((pi - abs(turn)) / 2)
            yield (float(centre.real), float(centre.imag)), radius


def _ring(points: tuple[Point, ...]) -> Array:
    return np.array([*points, points[0]], float)


def _shell(deadrise: float) -> Array:
    """The shell's line, parted at the origin so that it can be caught there."""
    left, right = shell_line(deadrise, FAR)
    return np.stack([left, np.zeros(2), right])


def _plating_curves(plating: Plating | None) -> Iterator[Curve]:
    if plating is None:
        return
    inboard = shell_line(plating.deadrise, plating.width / 2)
    thickness = float(stack_sizes(plating.stack).levels[-1])
    out = thickness * np.array([np.sin(plating.deadrise), -np.cos(plating.deadrise)])
    corners = np.concatenate([inboard, (inboard + out)[::-1]])
    yield Curve(PLATING, np.concatenate([corners, corners[:1]]), face=True)
