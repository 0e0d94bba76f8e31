"""How deep a cavity is and how much it holds: up to its own depth, or to the lowest crown round it. mm.

The top of a foam void runs along the shell; any other's is level, at its depth over its lowest place or at
the lowest point of any crown round it. Room is counted over the clear bottom, between web roots.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, isfinite, nan

import numpy as np

from stringerlab.layout.found import MemberSize
from stringerlab.layout.hollows import (
    Array,
    Shell,
    deadrise,
    highest,
    lowest,
    outline,
    plan_area,
    room_under,
)
from stringerlab.layout.plan import Cavity, MemberKind, Use
from stringerlab.layout.standing import NEAR, Bound, Stand, Standing

_ALONG = np.linspace(0.0, 1.0, 17)


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """Of one instance; nan where it cannot be told, and ``wrong`` says why: what, and what to do."""

    depth: float = nan
    area: float = 0.0
    volume: float = nan
    walls: float = nan
    """Bottom, sides and lid together [mm²]."""
    level: float | None = None
    wrong: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Crowns:
    """The lowest crowns round a cavity: over the shell, and by their level; inf without any."""

    height: float
    of_height: str
    level: float
    of_level: str
    unknown: tuple[str, ...]
    """Members whose height is not known."""


def size_of(
    cavity: Cavity, stands: Sequence[Stand], standing: Standing, shell: Shell, sizes: Mapping[str, MemberSize]
) -> Size:
    """Return a cavity's depth, room and walls.

    Parameters
    ----------
    cavity
        What is asked about.
    stands
        Where one instance of it lies.
    standing
        What bounds every bay.
    shell
        The hull bottom.
    sizes
        Of sections, by id.
    """
    if not stands:
        return Size()
    rings = [standing.clear(stand) for stand in stands]
    narrow = [standing.name(stand) for stand, ring in zip(stands, rings, strict=True) if len(ring) < 3]
    wrong = [(f"There is no room between the webs of {name}.", "Move the members apart.") for name in narrow]
    rings = [ring for ring in rings if len(ring) >= 3]
    crowns = _crowns(standing.between(stands), standing, shell, sizes)
    notes = [f"the height of {who} is not known: not counted round it" for who in crowns.unknown]
    along = cavity.use is Use.VOID
    depth = cavity.depth if cavity.depth is not None else crowns.height if along else crowns.level
    if not isfinite(depth):
        wrong.append(("It has no depth, and no crown of known height round it.", "Give it a depth."))
    if not rings or not isfinite(depth):
        return Size(area=sum(map(plan_area, rings)), wrong=tuple(wrong), notes=tuple(notes))
    if along:
        size = _along_shell(depth, stands, standing, rings, shell)
        if depth > crowns.height:
            notes.append(_stands_over(depth - crowns.height, crowns.of_height))
    else:
        bottom = min(lowest(ring, shell)[1] for ring in rings)
        level = bottom + depth if cavity.depth is not None else depth
        size = _under_level(level, bottom, stands, rings, shell)
        if level > crowns.level:
            notes.append(_stands_over(level - crowns.level, crowns.of_level))
        if max(highest(ring, shell) for ring in rings) > level:
            notes.append("its level top meets the bottom: part of its bays lies above it")
    return Size(
        depth=size.depth,
        area=size.area,
        volume=size.volume,
        walls=size.walls,
        level=size.level,
        wrong=tuple(wrong),
        notes=tuple(notes),
    )


def _stands_over(by: float, whose: str) -> str:
    return f"it stands {by:.0f} mm over the lowest crown round it, that of {whose}"


def _along_shell(
    depth: float, stands: Sequence[Stand], standing: Standing, rings: Sequence[Array], shell: Shell
) -> Size:
    area = sum(map(plan_area, rings))
    skin = _skin(stands, standing, area)
    edges = sum(_edge_integral(ring, shell, None, _joined(stands)) for ring in rings)
    return Size(depth=depth, area=area, volume=depth * skin, walls=2 * skin + depth * edges)


def _under_level(
    level: float, bottom: float, stands: Sequence[Stand], rings: Sequence[Array], shell: Shell
) -> Size:
    area = sum(map(plan_area, rings))
    sides = sum(_edge_integral(ring, shell, level, _joined(stands)) for ring in rings)
    return Size(
        depth=max(level - bottom, 0.0),
        area=area,
        volume=sum(room_under(ring, level, shell) for ring in rings),
        walls=area + _skin_of(rings, shell) + sides,
        level=level,
    )


def _skin(stands: Sequence[Stand], standing: Standing, area: float) -> float:
    """Return the clear area in the skin: the bays' own area in the skin, in parts as in plan."""
    bays = [standing.found.bays[bay].area for bay, _ in stands]
    return sum(bays) * area / sum(plan_area(standing.rings[stand]) for stand in stands)


def _skin_of(rings: Sequence[Array], shell: Shell) -> float:
    """Return the area of clear rings as they lie on the bottom, by its slope at their corners."""
    total = 0.0
    for ring in rings:
        x, y = ring[:, 0], ring[:, 1]
        total += plan_area(ring) * float(np.mean(1 / np.cos(deadrise(x, y, shell))))
    return total


def _joined(stands: Sequence[Stand]) -> bool:
    """Whether both sides of a bay are in it: the keel between them is no wall."""
    return len({bay for bay, _ in stands}) < len(stands)


def _edge_integral(ring: Array, shell: Shell, level: float | None, joined: bool) -> float:
    """Return the walls' area under a level along a ring, or its length in plan without one."""
    points = outline(ring, shell)
    total = 0.0
    for start, end in zip(points, np.roll(points, -1, axis=0), strict=True):
        if joined and max(abs(start[1]), abs(end[1])) <= NEAR:
            continue
        length = float(np.hypot(*(end - start)))
        if level is None:
            total += length
            continue
        line = start + np.outer(_ALONG, end - start)
        depth = np.maximum(level - shell.z(line[:, 0], line[:, 1]), 0.0)
        total += length * float(np.mean((depth[:-1] + depth[1:]) / 2))
    return total


def _crowns(
    bounds: Sequence[Bound], standing: Standing, shell: Shell, sizes: Mapping[str, MemberSize]
) -> _Crowns:
    """Find the lowest crowns; bulkheads have none, and bound nothing."""
    sections = {span.id: span.section for span in standing.found.spans}
    height, level, of_height, of_level = inf, inf, "", ""
    unknown: dict[str, None] = {}
    for bound in bounds:
        member = standing.members[bound.of]
        if member.kind is MemberKind.BULKHEAD:
            continue
        who = f"member '{member.name}' ({member.id})"
        size = sizes.get(sections.get(bound.span, member.section))
        if size is None:
            unknown[who] = None
            continue
        own = size.height
        if own < height:
            height, of_height = own, who
        line = outline(bound.line, shell)
        x, y = line[:, 0], line[:, 1]
        lean = 1.0 if member.kind is MemberKind.TRANSVERSE else np.cos(deadrise(x, y, shell))
        top = float(np.min(shell.z(x, y) + own * lean))
        if top < level:
            level, of_level = top, who
    return _Crowns(height=height, of_height=of_height, level=level, of_level=of_level, unknown=tuple(unknown))


__all__ = ["Size", "size_of"]
