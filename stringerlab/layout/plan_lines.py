"""The lines a layout draws on the bottom, one for every instance: both of a pair, the hull's edges, the keel.

x forward, y to port, mm. A transverse of a pair that starts at the keel is one line from chine to chine.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.geometry.graph import SNAP, Array
from stringerlab.layout.found import Placed
from stringerlab.layout.plan import Hand, Layout, Member, MemberKind, PlanLine, PlanPoint

EDGES = ("transom", "chine", "forward")
KEEL = "keel"
_SHORTEST = 1.0
"""A member shorter than this has no length [mm]."""
_STEEP = 0.577
"""A pair meets itself at the keel as one member where it runs within 30° of square to it (tangent)."""


@dataclass(frozen=True, slots=True, eq=False)
class Line:
    """An instance of what is drawn."""

    of: str
    """The member's or line's id, or the name of the hull's edge."""
    points: Array
    """(n, 2)."""
    member: int | None = None
    """Which of the layout's members it is; None for others."""
    image: int = 0
    """1 for the mirrored one of a pair."""
    joined: float = 0.0
    """Where along it the keel lies, for one made of both halves of a pair."""
    inward: bool = False
    """Whether the halves of a joined one are drawn towards the keel."""
    stops: tuple[tuple[float, int], ...] = ()
    """Where along it another section begins, and the number of that stretch, from 1."""

    @property
    def rank(self) -> int:
        """Order in which lines give way: hull, keel, all others."""
        return 0 if self.of in EDGES else 1 if self.of == KEEL else 2

    def own(self, along: float) -> float:
        """Return where a place along this line lies from the first point the member was drawn with."""
        if not self.joined:
            return along
        out = abs(along - self.joined)
        return self.joined - out if self.inward else out


def hull_lines(bottom: Bottom) -> list[Line]:
    """Return the edges of the bottom: transom, both chines, forward edge."""
    outline, n = bottom.outline, len(bottom.x)
    return [
        Line("chine", outline[:n]),
        Line("forward", outline[n - 1 : n + 1]),
        Line("chine", outline[n:]),
        Line("transom", outline[[-1, 0]]),
    ]


def drawn_lines(layout: Layout, bottom: Bottom) -> tuple[list[Line], list[Placed]]:
    """Return every line that parts the bottom, members first drawn first, and what cannot be drawn."""
    lines = hull_lines(bottom)
    amiss: list[Placed] = []
    if layout.rules.keel_bounds:
        lines.append(Line(KEEL, np.array([(bottom.x[0], 0.0), (bottom.x[-1], 0.0)])))
    for number, member in enumerate(layout.members):
        points = _cleaned(member.points)
        if points is None:
            amiss.append(_no_length(f"member '{member.name}' ({member.id})", member.points))
        else:
            lines += _of_member(number, member, points)
    for line in layout.lines:
        if not line.bounds:
            continue
        points = _cleaned(line.points)
        if points is None:
            amiss.append(_no_length(f"line '{line.name}' ({line.id})", line.points))
        else:
            lines += [Line(line.id, image, image=at) for at, image in enumerate(images(points, line.hand))]
    return lines, amiss


def images(points: Array, hand: Hand) -> list[Array]:
    """Return where a thing drawn at points (n, 2) stands, to port first; its hand says its side."""
    if hand is Hand.CENTRELINE:
        return [points]
    port = points if points[:, 1].sum() >= 0 else points * (1, -1)
    starboard = port * (1, -1)
    return {Hand.PORT: [port], Hand.STARBOARD: [starboard], Hand.PAIR: [port, starboard]}[hand]


def standing(drawn: Member | PlanLine) -> list[Array]:
    """Return the polylines (n, 2) at which a member or line stands, to port first."""
    return images(np.array(drawn.points, float).reshape(-1, 2), drawn.hand)


def _cleaned(points: Sequence[PlanPoint]) -> Array | None:
    """Return points (n, 2) without repeats; None when they have no length or are no numbers."""
    kept: list[PlanPoint] = []
    for x, y in points:
        if not (isfinite(x) and isfinite(y)):
            return None
        if not kept or (x - kept[-1][0]) ** 2 + (y - kept[-1][1]) ** 2 > _HAIR**2:
            kept.append((x, y))
    if len(kept) < 2:
        return None
    found: Array = np.array([(round(x, 6), round(y, 6)) for x, y in kept], float)
    return found if np.hypot(*np.diff(found, axis=0).T).sum() >= _SHORTEST else None


_HAIR = 1e-6


def _no_length(where: str, points: Sequence[PlanPoint]) -> Placed:
    at = next(((x, y) for x, y in points if isfinite(x) and isfinite(y)), (0.0, 0.0))
    remedy = "Draw it through two points or more, or remove it."
    return Placed(problem=Problem("It has no length.", where, remedy), at=at)


def _of_member(number: int, member: Member, points: Array) -> Iterator[Line]:
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    stops = [
        (stretch.start, place)
        for place, stretch in enumerate(member.stretches, 1)
        if SNAP < stretch.start < run[-1] - SNAP
    ]
    points = _with_stops(points, run, [at for at, _ in stops])
    joined = _joined(member, points)
    if joined is None:
        for at, image in enumerate(images(points, member.hand)):
            yield Line(member.id, image, member=number, image=at, stops=tuple(stops))
        return
    inward, whole = joined
    length = float(run[-1])
    out = [(length - at if inward else at, place) for at, place in stops]
    both = [(length + sign * at, place) for at, place in out for sign in (-1, 1)]
    yield Line(member.id, whole, member=number, joined=length, inward=inward, stops=tuple(sorted(both)))


def _with_stops(points: Array, run: Array, stops: list[float]) -> Array:
    """Return points with one more at each stop along them that has none."""
    missing = [at for at in stops if np.abs(run - at).min() > SNAP]
    if not missing:
        return points
    every = np.union1d(run, missing)
    return np.stack([np.interp(every, run, points[:, 0]), np.interp(every, run, points[:, 1])], axis=1)


def _joined(member: Member, points: Array) -> tuple[bool, Array] | None:
    """Return both halves of a pair that meets itself squarely at the keel as one line, starboard to port."""
    if member.hand is not Hand.PAIR or member.kind is MemberKind.LONGITUDINAL:
        return None
    inward = abs(points[-1, 1]) <= SNAP
    if not inward and abs(points[0, 1]) > SNAP:
        return None
    out = points[::-1] if inward else points
    if out[:, 1].sum() < 0:
        out = out * (1, -1)
    out = out.copy()
    out[0, 1] = 0.0
    way = out[1] - out[0]
    if abs(way[0]) > _STEEP * way[1] or (out[1:, 1] <= 0).any():
        return None
    return inward, np.concatenate([out[:0:-1] * (1, -1), out])
