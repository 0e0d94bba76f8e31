"""Shear flow along a section's walls: a ribbon on every middle line, as wide as the flow is great. mm, N/mm.

The flow is thin-wall theory's of a force through the neutral point. It is drawn on walls and plating; what
passes through a joint from one to the other is in the balance, but has no ribbon.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import hypot, sqrt
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stringerlab.drawing.display import Area, Item, Label, Line, Points, Role
from stringerlab.errors import Problem, StringerlabError
from stringerlab.section import Plating, SectionShape
from stringerlab.section.loads import SectionLoads
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

if TYPE_CHECKING:
    from stringerlab.section.torsion import ThinWalls

Array = NDArray[np.float64]
Index = NDArray[np.intp]

PLATING = "plating"
WIDEST = 0.14
"""Of the greatest ribbon's width, as part of the section's size."""
STEP = 0.04
"""Between places where flow is drawn, as part of the size."""
APART = 0.25
"""Between arrowheads, as part of the size."""
ARROW = 0.03
"""Reach of an arrowhead, as part of the size."""
FAINT = 0.1
"""Flow below this part of the greatest has no arrowhead."""
_LEAST = 1e-6
"""Flow times the section's size, as part of the force, below which there is none."""
_ALIKE = 1e-6
"""Flows nearer to one another than this part of the greatest are alike: the first is named."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Run:
    """Flow along one unbroken stretch of a middle line; a place stands twice where the flow steps."""

    owner: str
    """Wall id, ``plating``, or empty for a joint between walls."""
    points: Points
    """(n, 2)."""
    flow: Array
    """(n,) along the run where positive [N/mm]."""
    offset: Points
    """(n, 2) to the left of the run, such that edges at one distance from it run along with it."""


def runs(walls: "ThinWalls", loads: SectionLoads, step: float) -> tuple[Run, ...]:
    """Return the flow along walls, plating and joints.

    Parameters
    ----------
    walls
        The section as thin walls.
    loads
        Forces and torque at the neutral point.
    step
        Greatest distance between places [mm].
    """
    graph = walls.graph
    start, end = graph.nodes[graph.ends[:, 0]], graph.nodes[graph.ends[:, 1]]
    way = end - start
    length = np.hypot(way[:, 0], way[:, 1])
    flows, bends = walls.flows(loads), walls.bends(loads)
    piece, part = _places(length, flows, bends, step)
    flow = flows[piece, 0] * (1 - part) + flows[piece, 1] * part - bends[piece] * part * (1 - part) / 2
    points = start[piece] + part[:, None] * way[piece]
    normal = np.stack([-way[:, 1], way[:, 0]], axis=1) / length[:, None]
    offset = normal[piece]
    owners = np.array(walls.owners)
    follows = (owners[1:] == owners[:-1]) & (graph.ends[1:, 0] == graph.ends[:-1, 1]) & (owners[1:] != "")
    between = 1 + (normal[1:] * normal[:-1]).sum(axis=1)
    mitre = (normal[1:] + normal[:-1]) / np.maximum(between, 0.5)[:, None]
    first = np.searchsorted(piece, np.arange(len(length)))
    for after in (np.flatnonzero(follows) + 1).tolist():
        offset[first[after] - 1] = offset[first[after]] = mitre[after - 1]
    breaks = first[np.flatnonzero(~follows) + 1]
    bounds = [0, *breaks.tolist(), len(piece)]
    return tuple(
        Run(
            owner=walls.owners[int(piece[low])],
            points=points[low:high],
            flow=flow[low:high],
            offset=offset[low:high],
        )
        for low, high in pairwise(bounds)
    )


def _places(length: Array, flows: Array, bends: Array, step: float) -> tuple[Index, Array]:
    """Return where flow is drawn: pieces and parts along them, the ends and the extreme of each included."""
    counts = np.maximum(np.ceil(length / step), 1).astype(np.intp) + 1
    piece = np.repeat(np.arange(len(length)), counts)
    part = (np.arange(len(piece)) - np.repeat(np.cumsum(counts) - counts, counts)) / (counts - 1)[piece]
    change = flows[:, 1] - flows[:, 0]
    bent = np.flatnonzero(np.abs(bends) > 2 * np.abs(change))
    piece = np.concatenate([piece, bent])
    part = np.concatenate([part, 0.5 - change[bent] / bends[bent]])
    order = np.lexsort([part, piece])
    return piece[order], part[order]


def wall_flows(shape: SectionShape, plating: Plating | None, shear: float, units: System) -> list[Item]:
    """Return ribbons, arrowheads and the greatest flow under a vertical force [N].

    Raises
    ------
    StringerlabError
        As `stringerlab.section.torsion.thin_walls` does; also for walls that a vertical force does not shear.
    """
    from stringerlab.section.torsion import thin_walls

    walls = thin_walls(shape, plating)
    own = np.array([bool(owner) and owner != PLATING for owner in walls.owners])
    nodes = walls.graph.nodes[np.unique(walls.graph.ends[own] if own.any() else walls.graph.ends)]
    low, high = nodes.min(axis=0), nodes.max(axis=0)
    width, height = (high - low).tolist()
    size = max(sqrt(width * height), 0.4 * hypot(width, height))  # a flat pan's webs are short
    drawn = [run for run in runs(walls, SectionLoads(V_z=shear), STEP * size) if run.owner]
    greatest = max(float(np.abs(run.flow).max()) for run in drawn)
    if not greatest * size > _LEAST * abs(shear):
        raise StringerlabError(
            Problem(
                "A vertical force does not shear its walls.",
                f"section '{shape.name}'",
                "Draw a wall that stands.",
            )
        )
    scale = WIDEST * size / greatest
    ribbons: list[Item] = []
    arrows: list[Item] = []
    for run in drawn:
        half = (scale / 2 * run.flow)[:, None] * run.offset
        ring = np.concatenate([run.points + half, (run.points - half)[::-1]])
        most = shown(float(np.abs(run.flow).max()), Kind.LINE_LOAD, units, digits=3)
        tip = " ".join([f"{run.owner}: shear flow up to {most}.", *(note.what for note in walls.remarks)])
        subject = f"shear flow: {run.owner}"
        ribbons.append(Area(rings=(ring,), role=Role.SHEAR, edge=Role.SHEAR, subject=subject, tip=tip))
        arrows += _arrows(run, size, FAINT * greatest, subject)
    words = [f"shear flow, V = {shown(shear, Kind.FORCE, units)}"]
    if walls.remarks:
        words.append("thin walls alone: fills or shared places left out")
    top = float(high[1]) + max(0.24 * height, 0.1 * width)  # clear of the neutral axis
    middle = float(low[0] + high[0]) / 2
    title = Label(at=(middle, top), text="\n".join(words), level=1, small=True)
    return [*ribbons, *arrows, title, _greatest(drawn, greatest, scale, middle, units)]


def _arrows(run: Run, size: float, least: float, subject: str) -> list[Item]:
    """Return arrowheads along a run where its flow is not faint, evenly from end to end."""
    steps = np.diff(run.points, axis=0)
    lengths: Array = np.hypot(steps[:, 0], steps[:, 1])
    along = np.concatenate([np.zeros(1), np.cumsum(lengths)])
    whole = float(along[-1])
    count = max(round(whole / (APART * size)), 1)
    items: list[Item] = []
    for place in [(number + 0.5) * whole / count for number in range(count)]:
        after = min(max(int(np.searchsorted(along, place)), 1), len(steps))
        length = float(along[after] - along[after - 1])
        part = (place - float(along[after - 1])) / length if length > 0 else 0.0
        flow = float(run.flow[after - 1] * (1 - part) + run.flow[after] * part)
        if abs(flow) < least or length == 0:
            continue
        forward = steps[after - 1] / length * (ARROW * size if flow > 0 else -ARROW * size)
        aside = np.array([-forward[1], forward[0]])
        at = run.points[after - 1] + part * steps[after - 1]
        head = np.stack([at - forward / 2 + aside, at + forward / 2, at - forward / 2 - aside])
        items.append(Line(points=head, role=Role.SHEAR, subject=subject))
    return items


def _greatest(drawn: list[Run], greatest: float, scale: float, middle: float, units: System) -> Label:
    """Return the greatest flow in words, beside its place, on the side of the section's middle."""
    run = next(run for run in drawn if float(np.abs(run.flow).max()) >= (1 - _ALIKE) * greatest)
    place = int(np.argmax(np.abs(run.flow) >= (1 - _ALIKE) * greatest))
    at, away = run.points[place], run.offset[place] * scale * greatest / 2
    text = shown(greatest, Kind.LINE_LOAD, units, digits=3)
    if abs(away[1]) > abs(away[0]):
        below = run.owner == PLATING
        at = at + away * (1 if (away[1] < 0) is below else -1)
        align, level = 0, -1 if below else 1
    else:
        align, level = (1 if at[0] <= middle + 1e-6 else -1), 1  # the neutral axis runs there
        at = at + away * (1 if (away[0] > 0) is (align > 0) else -1)
    return Label(
        at=(float(at[0]), float(at[1])), text=text, role=Role.SHEAR, align=align, level=level, small=True
    )
