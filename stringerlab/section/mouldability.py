"""Whether a section comes off its tool, and whether cloth lies in its corners: draft, undercuts, radii.

A wall's drawn line is the tool's surface and its laminate builds away from it. The stringer part's mould face
is inboard: in the boat its tool would lie above it, and the part comes off downwards, towards the shell,
turned over on the shop floor or not. A leg's draft is the angle between it and the pull: positive where the
part moves away from the tool as it is pulled, 90° where the leg lies square to the pull, negative where it is
undercut and the tool stands in the part's way. Fillets lie between their legs: as good as the worse of them.
mm; rad.

The rules on draft and on radii are common practice, no source, and say so.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import asin, cos, degrees, hypot, inf, radians, sin

from stringerlab.geometry.construct import Point, legs, nearest, turns
from stringerlab.laminate.records import PlyNumbers, Role
from stringerlab.materials.records import PlyKind
from stringerlab.section.records import SectionShape, Side, WallShape
from stringerlab.units import Kind
from stringerlab.units import format as shown
from stringerlab.workings import Known, Source

PRACTICE = Source("common practice, no source", known=Known.PRACTICE)

LEAST_DRAFT = radians(2.0)
"""With less a part hangs on its tool."""
NO_DRAFT = radians(0.25)
"""Within this of 0 a leg has no draft: what a drawing is drawn with."""
LEAST_TURN = radians(15.0)
"""A corner that turns less is none to cloth."""
ON_BACK = 0.1
"""So near to a laminate's back a wall's end lies on it [mm]."""
ALONG = radians(15.0)
"""Unidirectional fibres within this of the member's axis do not run round its corners."""

LEAST_RADIUS: Mapping[PlyKind, float] = {
    PlyKind.MAT: 5.0,
    PlyKind.WOVEN_ROVING: 10.0,
    PlyKind.BIAXIAL: 8.0,
    PlyKind.DOUBLE_BIAS: 6.0,
    PlyKind.UNIDIRECTIONAL: 12.0,
}
"""Tightest bend that a dry ply of each kind lies in without bridging or whitening [mm]; common practice."""


class Pull(StrEnum):
    """Which way the part leaves its tool."""

    OUTBOARD = "off its tool downwards"
    """Mould face inboard: the stringer part."""
    INBOARD = "off its tool upwards"
    """Mould face outboard."""


class Aspect(StrEnum):
    """What a reading is of."""

    DRAFT = "draft"
    UNDERCUT = "undercut"
    RADIUS = "radius"
    FACING = "mould face"


class Severity(StrEnum):
    """How bad it is, by word."""

    FINE = "fine"
    WATCH = "watch"
    LOCKED = "locked"
    """The part does not come off, or the cloth does not lie."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading of one place."""

    aspect: Aspect
    severity: Severity
    wall: str
    """Id."""
    index: int
    """Number from 0 of the leg, or for a radius of the point."""
    at: Point
    """The leg's middle, or the point [mm]."""
    value: float
    """Draft [rad] or the ply's own bend [mm]; nan where there is none."""
    limit: float
    """The least that is fine, in the same unit."""
    kind: Kind
    """Angle or length."""
    words: str
    """For a person: what it is, and what to do where it is not fine."""
    source: Source = PRACTICE


def mouldability(
    shape: SectionShape, *, pull: Pull = Pull.OUTBOARD, tilt: float = 0.0
) -> tuple[Reading, ...]:
    """Return the readings of every leg and corner of a section, wall by wall.

    A wall that turns its laminate the other way has its mould face on the other side: it does not come off
    with the part (a tab laid up in place, say), gets one reading that says so, and no draft; its corners are
    read. So are those of a wall laid on the back of one it laps (the cover of a block): no tool shapes it.
    Cores are not judged: they are scored or thermoformed.

    Parameters
    ----------
    shape
        The section, its laminates resolved.
    pull
        Which way the part leaves its tool.
    tilt
        Of the pull from the section's z towards its y, as where the section is drawn square to a sloping skin
        but the part is pulled upright in the boat [rad].
    """
    sign = -1.0 if pull is Pull.OUTBOARD else 1.0
    way = sign * complex(sin(tilt), cos(tilt))
    laid_on = _laid_on(shape)
    return tuple(
        reading
        for wall in shape.walls
        for reading in (_corners(wall) if wall.id in laid_on else _wall(wall, way, pull))
    )


def worst(readings: tuple[Reading, ...]) -> Severity:
    """Return the worst severity of readings; fine when there are none."""
    order = list(Severity)
    return max((reading.severity for reading in readings), key=order.index, default=Severity.FINE)


def _laid_on(shape: SectionShape) -> set[str]:
    """Return the walls that begin and end on the back of a wall they lap, not on a tool."""
    walls = {wall.id: wall for wall in shape.walls}
    return {
        one
        for pair in shape.laps
        for one, other in (pair, pair[::-1])
        if one in walls and other in walls and _on_back(walls[one], walls[other])
    }


def _on_back(wall: WallShape, under: WallShape) -> bool:
    thickness = sum(ply.thickness for ply in under.stack.plies)
    near = [nearest(under.points, end, closed=under.closed) for end in (wall.points[0], wall.points[-1])]
    return all(each is not None and abs(each.distance - thickness) < ON_BACK for each in near)


def _wall(wall: WallShape, pull: complex, mode: Pull) -> Iterator[Reading]:
    drafts = list(_drafts(wall, pull))
    facing = sum(length * sin(draft) for _, _, draft, length in drafts)
    total = sum(length for _, _, _, length in drafts)
    if total and facing < -1e-6 * total:
        yield Reading(
            aspect=Aspect.FACING,
            severity=Severity.WATCH,
            wall=wall.id,
            index=0,
            at=wall.points[0],
            value=float("nan"),
            limit=float("nan"),
            kind=Kind.ANGLE,
            words=(
                f"Its laminate builds against the pull, so it does not come {mode.value}: laid up in place, "
                "or off a tool of its own. If it is part of the moulding, swap its laminate's side."
            ),
            source=Source("this program's rule", known=Known.STATED),
        )
    else:
        yield from (_draft(wall, leg, at, draft) for leg, at, draft, _ in drafts)
    yield from _corners(wall)


def _drafts(wall: WallShape, pull: complex) -> Iterator[tuple[int, Point, float, float]]:
    """Number, middle, draft [rad] and length of each leg."""
    left = 1.0 if wall.side is Side.LEFT else -1.0
    count = len(wall.points)
    for leg in range(legs(count, closed=wall.closed)):
        start, end = wall.points[leg], wall.points[(leg + 1) % count]
        length = hypot(end[0] - start[0], end[1] - start[1])
        if length < 1e-9:
            continue
        away = 1j * left * (complex(*end) - complex(*start)) / length
        rate = (away * pull.conjugate()).real
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        yield leg, middle, asin(min(max(rate, -1.0), 1.0)), length


def _draft(wall: WallShape, leg: int, at: Point, draft: float) -> Reading:
    aspect, severity = Aspect.DRAFT, Severity.FINE
    said = shown(draft, Kind.ANGLE, digits=3)
    least = shown(LEAST_DRAFT, Kind.ANGLE, digits=3)
    if draft < -NO_DRAFT:
        aspect, severity = Aspect.UNDERCUT, Severity.LOCKED
        by = shown(-draft, Kind.ANGLE, digits=3)
        words = f"Undercut by {by}: it locks on the tool. Lean it the other way, or split the tool here."
    elif draft < NO_DRAFT:
        severity = Severity.WATCH
        words = f"No draft: it rubs on the tool all the way. Give it {least} or more."
    elif draft < LEAST_DRAFT:
        severity = Severity.WATCH
        words = f"{said} of draft is little: it will hang on the tool. Give it {least} or more."
    else:
        words = f"{said} of draft."
    return Reading(
        aspect=aspect,
        severity=severity,
        wall=wall.id,
        index=leg,
        at=at,
        value=draft,
        limit=LEAST_DRAFT,
        kind=Kind.ANGLE,
        words=words,
    )


def _corners(wall: WallShape) -> Iterator[Reading]:
    """Read each corner by the ply that its bend is tightest for."""
    bends = turns(wall.points, closed=wall.closed)
    radii = wall.fillets or (0.0,) * len(wall.points)
    for index, (turn, radius) in enumerate(zip(bends, radii, strict=True)):
        if abs(turn) < LEAST_TURN:
            continue
        inside = (turn > 0) == (wall.side is Side.LEFT)
        ply = _tightest(wall, radius, inside=inside)
        if ply is not None:
            yield _radius(wall, index, *ply, inside=inside)


def _tightest(wall: WallShape, radius: float, *, inside: bool) -> tuple[PlyNumbers, int, float, float] | None:
    """Return the ply with the least room for what it needs: its place, own bend, and the least for it."""
    best: tuple[PlyNumbers, int, float, float] | None = None
    spare, level = inf, 0.0
    for place, ply in enumerate(wall.stack.plies):
        near, level = level, level + ply.thickness
        if ply.role is not Role.REINFORCED or ply.kind is None:
            continue
        own = max(radius - level, 0.0) if inside else radius + near
        least = LEAST_RADIUS[PlyKind.MAT] if _runs_along(ply) else LEAST_RADIUS[ply.kind]
        if own - least < spare:
            best, spare = (ply, place, own, least), own - least
    return best


def _runs_along(ply: PlyNumbers) -> bool:
    """Whether a unidirectional ply's fibres run along the member, so that only its stitching bends."""
    if ply.kind is not PlyKind.UNIDIRECTIONAL:
        return False
    return abs(sin(ply.angle)) <= sin(ALONG)


def _radius(
    wall: WallShape,
    index: int,
    ply: PlyNumbers,
    place: int,
    own: float,
    least: float,
    *,
    inside: bool,
) -> Reading:
    name = f"ply {wall.stack.numbers[place]} ({ply.name})"
    bend = shown(own, Kind.LENGTH, digits=3) if own > 0 else "a sharp edge"
    needed = shown(least, Kind.LENGTH, digits=3)
    level = sum(each.thickness for each in wall.stack.plies[: place + 1]) if inside else 0.0
    enough = shown(least + level, Kind.LENGTH, digits=3)
    if own >= least:
        severity, words = Severity.FINE, f"{name} bends around {bend}; {needed} is enough for its kind."
    else:
        severity = Severity.WATCH if own >= least / 2 else Severity.LOCKED
        words = (
            f"{name} would bend around {bend}, its kind lies down to {needed}: it will bridge or pull thin. "
            f"Round the tool to {enough} or more, or putty the corner first."
        )
    return Reading(
        aspect=Aspect.RADIUS,
        severity=severity,
        wall=wall.id,
        index=index,
        at=wall.points[index],
        value=own,
        limit=least,
        kind=Kind.LENGTH,
        words=words,
    )


def summary(readings: tuple[Reading, ...]) -> str:
    """Return one line for a person: least draft, undercuts, tightest corner against its need."""
    drafts = [reading for reading in readings if reading.aspect in (Aspect.DRAFT, Aspect.UNDERCUT)]
    undercuts = [reading for reading in drafts if reading.aspect is Aspect.UNDERCUT]
    tight = [
        reading
        for reading in readings
        if reading.aspect is Aspect.RADIUS and reading.severity is not Severity.FINE
    ]
    said: list[str] = []
    if drafts:
        said.append(f"least draft {degrees(min(reading.value for reading in drafts)):.1f}°")
    if undercuts:
        said.append(_counted(len(undercuts), "undercut"))
    if tight:
        said.append(f"{_counted(len(tight), 'corner')} too tight for the cloth")
    return ", ".join(said) if said else "nothing to read"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
