"""Values drawn along members of a plan: to the left of a member's way above 0, to its right below. mm.

On a mirror image left and right change places, so that both sides of the boat read alike.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.grid import GridResults
from stringerlab.assess.grid.records import Beams, Index
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Points, Role, Shape
from stringerlab.drawing.plan_shapes import offsets

FULL = 0.11
"""Width of the greatest value's diagram, as a part of the bottom's breadth."""
_WRITTEN = 0.25
"""Extremes below this part of the greatest are not written."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Diagram:
    """Values along m beams at s places."""

    places: Points
    """(s,) 0 to 1."""
    upper: Points
    """(m, s) 0 or above."""
    lower: Points
    """(m, s) 0 or below."""
    roles: tuple[Role, Role]
    """Of what is above 0, and below."""
    words: Callable[[float], str]
    filled: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class _Run:
    """The beams of one span on one side of the boat, end to end."""

    line: Points
    left: Points
    values: tuple[Points, Points]


def diagrams(grid: GridResults, diagram: Diagram) -> tuple[list[Item], float]:
    """Return the diagrams along every span, and the greatest value.

    Extremes are written once, on the side that has the greater, else the one a pair is drawn on: of every
    span where they lie within it, at its ends only a member's greatest.
    """
    beams = grid.beams
    greatest = float(max(diagram.upper.max(initial=0.0), -diagram.lower.min(initial=0.0)))
    if beams is None or not greatest > 0:
        return [], 0.0
    scale = FULL * float(np.ptp(grid.ground.found.outline[:, 1])) / greatest
    areas: list[Item] = []
    words: list[Item] = []
    most = _of_members(grid, beams, diagram)
    for number, span in enumerate(grid.ground.found.spans):
        sides = [
            _run(beams, mine, diagram, flipped=image == 1)
            for image in (0, 1)
            if len(mine := np.flatnonzero((beams.span == number) & (beams.image == image)))
        ]
        for which, role in enumerate(diagram.roles):
            runs = [
                (run, values) for run in sides if np.abs(values := run.values[which]).max() > 1e-3 * greatest
            ]
            for run, values in runs:
                drawn = run.line + run.left * (values * scale)[:, None]
                if diagram.filled:
                    ring = np.concatenate([drawn, run.line[::-1]])
                    areas.append(Area(rings=(ring,), role=role, edge=role, subject=span.id))
                else:
                    areas.append(Line(points=drawn, role=role, subject=span.id))
            if not runs:
                continue
            run, values = max(runs, key=lambda pair: round(float(np.abs(pair[1]).max() / greatest), 6))
            place = int(np.abs(values).argmax())
            value = float(values[place])
            inside = 0 < place < len(values) - 1
            if abs(value) < _WRITTEN * greatest:
                continue
            if inside or abs(value) >= most[span.member, role] * (1 - 1e-9):
                most[span.member, role] = max(most[span.member, role], abs(value) * (1 + 1e-6))
                at = run.line[place] + run.left[place] * value * scale
                words += _written(at, value, run.left[place], diagram, role, span.id)
    return [*areas, *words], greatest


def _of_members(grid: GridResults, beams: Beams, diagram: Diagram) -> dict[tuple[str, Role], float]:
    """Return the greatest of every member, above 0 and below."""
    found: dict[tuple[str, Role], float] = {}
    for number, span in enumerate(grid.ground.found.spans):
        mine = beams.span == number
        for values, role in zip((diagram.upper, diagram.lower), diagram.roles, strict=True):
            greatest = float(np.abs(values[mine]).max(initial=0.0))
            found[span.member, role] = max(found.get((span.member, role), 0.0), greatest)
    return found


def _written(
    at: Points, value: float, left: Points, diagram: Diagram, role: Role, subject: str
) -> list[Item]:
    way = left * np.sign(value)
    x, y = at.tolist()
    sideways = abs(way[0]) > abs(way[1])
    align = (1 if way[0] > 0 else -1) if sideways else 0
    level = 0 if sideways else (1 if way[1] > 0 else -1)
    text = diagram.words(value)
    return [
        Mark(at=(x, y), shape=Shape.CIRCLE, role=role, subject=subject, tip=text),
        Label(at=(x, y), text=text, role=role, align=align, level=level, small=True, subject=subject),
    ]


def _run(beams: Beams, mine: Index, diagram: Diagram, *, flipped: bool) -> _Run:
    """Return the line of a span's beams and the values along it; a beam's ends are drawn apart."""
    low = beams.part[mine].min(axis=1)
    order = mine[np.argsort(low, kind="stable")]
    lines: list[Points] = []
    lefts: list[Points] = []
    upper: list[Points] = []
    lower: list[Points] = []
    for beam in order.tolist():
        ends = beams.at[beams.grid.beams[beam]]
        backward = beams.part[beam, 0] > beams.part[beam, 1]
        places = diagram.places[::-1] if backward else diagram.places
        step = slice(None, None, -1) if backward else slice(None)
        lines.append(ends[0] + places[:, None] * (ends[1] - ends[0]))
        left = offsets(lines[-1][[0, -1]])[:1]
        lefts.append(np.repeat(-left if flipped else left, len(places), axis=0))
        upper.append(diagram.upper[beam, step])
        lower.append(diagram.lower[beam, step])
    return _Run(
        line=np.concatenate(lines),
        left=np.concatenate(lefts),
        values=(np.concatenate(upper), np.concatenate(lower)),
    )
