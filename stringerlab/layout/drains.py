"""Whether water in each bay reaches the bilge through the limber holes, and how much of it stays, where.

Water runs to the lowest place of a bay's bottom, rises to the lowest way out, and goes on to the next. What
is left everywhere is found from the bilge backwards, the lowest level first. The boat lies level. A hole's
sill is its lower edge at its lowest, on whichever side of the member the shell stands higher there.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import pairwise, product
from math import inf

import numpy as np

from stringerlab.errors import Problem
from stringerlab.layout.found import Placed
from stringerlab.layout.hollows import Array, Shell, length_in_skin, lowest, outline, room_under
from stringerlab.layout.openings import Hole, Opening
from stringerlab.layout.plan import Member, PlanPoint
from stringerlab.layout.plan_lines import standing as lines_of
from stringerlab.layout.standing import Bound, Stand, Standing

KEPT = 5.0
"""Depth of water left behind that is no more than a wet corner [mm]: our own bound."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drain:
    """How water leaves a space: the bays it passes, the first its own and the last a bilge's, and by what.

    ``stands`` is the depth of water that stays at its lowest place ``at``, ``kept`` how much that is [mm³];
    None where no way leads out.
    """

    reaches: bool
    path: tuple[str, ...]
    through: tuple[str, ...]
    stands: float | None
    kept: float | None
    at: PlanPoint

    @property
    def dry(self) -> bool:
        """Whether all but a wet corner runs out."""
        return self.stands is not None and self.stands <= KEPT


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way for water between two stands: how high it must stand, and what it goes through."""

    one: Stand
    other: Stand
    sill: float
    by: str


class Drains:
    """Water in every bay that is not sealed."""

    def __init__(
        self, standing: Standing, shell: Shell, bilges: Collection[Stand], sealed: Collection[Stand]
    ) -> None:
        self.standing, self.shell, self.sealed = standing, shell, set(sealed)
        self.amiss: list[Placed] = []
        self._told: set[tuple[str, int]] = set()
        self.ways = self._ways()
        self.level: dict[Stand, float] = {}
        self.onward: dict[Stand, Way] = {}
        self._bilges = [stand for stand in bilges if stand not in self.sealed]
        self._flood(self._bilges)

    @property
    def any_bilge(self) -> bool:
        """Whether there is a bilge that water can run to."""
        return bool(self._bilges)

    def of(self, stand: Stand) -> Drain:
        """Return how water leaves a stand that is not sealed."""
        at, low = lowest(self._floor(stand), self.shell)
        level = self.level.get(stand)
        path, through = [stand], list[str]()
        while (way := self.onward.get(path[-1])) is not None:
            path.append(way.other if way.one == path[-1] else way.one)
            through.append(way.by)
        return Drain(
            reaches=level is not None,
            path=tuple(self.standing.name(each) for each in path),
            through=tuple(through),
            stands=None if level is None else max(0.0, level - low),
            kept=None if level is None else room_under(self._floor(stand), level, self.shell),
            at=at,
        )

    def _floor(self, stand: Stand) -> Array:
        clear = self.standing.clear(stand)
        return clear if len(clear) > 2 else self.standing.rings[stand]

    def _flood(self, bilges: Iterable[Stand]) -> None:
        """Find the level that stays in each stand: the least, over all ways, of the highest sill on it."""
        ways: defaultdict[Stand, list[Way]] = defaultdict(list)
        for way in self.ways:
            ways[way.one].append(way)
            ways[way.other].append(way)
        queue: list[tuple[float, Stand]] = []
        for stand in bilges:
            self.level[stand] = lowest(self._floor(stand), self.shell)[1]
            heappush(queue, (self.level[stand], stand))
        while queue:
            level, stand = heappop(queue)
            if level > self.level[stand]:
                continue
            for way in ways[stand]:
                back = way.other if way.one == stand else way.one
                rises = max(level, way.sill)
                if rises < self.level.get(back, inf):
                    self.level[back], self.onward[back] = rises, way
                    heappush(queue, (rises, back))

    def _ways(self) -> list[Way]:
        found: list[Way] = []
        for beside in self.standing.beside:
            if not {beside.one, beside.other} & self.sealed:
                line = outline(beside.line, self.shell)
                sill = float(np.min(self.shell.z(line[:, 0], line[:, 1])))
                found.append(Way(one=beside.one, other=beside.other, sill=sill, by="open across the line"))
        for member in self.standing.layout.members:
            for number, opening in enumerate(member.openings, 1):
                if opening.kind is Hole.LIMBER:
                    found += self._through(member, number, opening)
        return found

    def _through(self, member: Member, number: int, opening: Opening) -> list[Way]:
        """Return the ways through a limber hole on either side of the boat; what is amiss with it is kept."""
        found: list[Way] = []
        for line in lines_of(member):
            place = _place(line, opening.x)
            where = f"member '{member.name}' ({member.id}), opening {number}"
            if place is None:
                end = (float(line[-1, 0]), float(line[-1, 1]))
                self._say("This limber hole lies beyond the member's end.", where, "Move it.", end)
                break
            bounds = self.standing.on_member(member.id, np.array(place))
            rooms = self.standing.rooms({bound.stand for bound in bounds})
            if len(rooms) == 2:
                one, other = rooms
                found += self._ways_between(one, other, _lower_edge(line, opening), opening, where)
            elif len(rooms) > 2:
                self._say(
                    "This limber hole stands where another member meets this one.",
                    where,
                    "Move it clear of the crossing: it is counted as no way for water.",
                    place,
                )
            else:
                self._say(
                    "This limber hole joins no two bays.",
                    where,
                    "Move it between two bays of the bottom.",
                    place,
                )
            if place[1] == 0:
                break  # its own image
        return found

    def _ways_between(
        self, one: Sequence[Stand], other: Sequence[Stand], edge: Array, opening: Opening, where: str
    ) -> list[Way]:
        place = (float(edge[1, 0]), float(edge[1, 1]))
        shut = [room for room in (one, other) if self.sealed.intersection(room)]
        for room in shut:
            told = (where, room[0][0])  # of a pair: once
            if told in self._told:
                continue
            self._told.add(told)
            self._say(
                f"This limber hole leads into a sealed void, {self.standing.name(room[0])}.",
                where,
                "Move the hole, seal it round, or let the void drain.",
                place,
            )
        if shut:
            return []
        feet = {stand: _nearest(self._floor(stand), edge) for stand in (*one, *other)}
        way = edge[2] - edge[0]
        size = float(np.hypot(*way))
        off = max(abs(float((foot[1] - edge[1]) @ way)) for foot in feet.values()) / size if size else 0.0
        if off > opening.width / 2:
            self._say(
                "This limber hole stands where another member's foot covers it.",
                where,
                f"Move it {off - opening.width / 2:.0f} mm or more, clear of that member's web: it is "
                "counted as no way for water.",
                place,
            )
            return []
        z = {stand: self.shell.z(foot[:, 0], foot[:, 1]) for stand, foot in feet.items()}
        by = f"{where}, at x {place[0]:.0f} mm"
        return [
            Way(
                one=first,
                other=second,
                sill=float(np.maximum(z[first], z[second]).min()) + opening.bottom,
                by=by,
            )
            for first, second in product(one, other)
        ]

    def _say(self, what: str, where: str, remedy: str, at: PlanPoint) -> None:
        if not any((one.problem.what, one.problem.where) == (what, where) for one in self.amiss):
            self.amiss.append(Placed(problem=Problem(what, where, remedy), at=at))  # of a pair: once


def _place(line: Array, along: float) -> PlanPoint | None:
    """Return the place so far along a plan line (n, 2); None beyond its end."""
    for start, end in pairwise(line):
        length = float(np.hypot(*(end - start)))
        if along <= length and length > 0:
            x, y = start + along / length * (end - start)
            return float(x), float(y)
        along -= length
    return None


def _lower_edge(line: Array, opening: Opening) -> Array:
    """Return both ends and the middle (3, 2) of a hole's lower edge, between its rounded corners."""
    length = float(np.hypot(*np.diff(line, axis=0).T).sum())
    half = max(opening.width / 2 - opening.radius, 0.5)
    along = (max(opening.x - half, 0.0), opening.x, min(opening.x + half, length))
    return np.array([_place(line, min(each, length)) or line[-1] for each in along], float)


def _nearest(ring: Array, places: Array) -> Array:
    """Return where a ring (n, 2) is nearest to each of some places (k, 2)."""
    start, along = ring, np.roll(ring, -1, axis=0) - ring
    size = np.einsum("ij,ij->i", along, along)
    part = np.einsum("kij,ij->ki", places[:, None] - start, along) / np.where(size > 0, size, 1.0)
    on = start + np.clip(part, 0.0, 1.0)[..., None] * along
    away = np.linalg.norm(on - places[:, None], axis=2)
    return on[np.arange(len(places)), away.argmin(axis=1)]


def contact(bounds: Iterable[Bound], shell: Shell) -> float:
    """Return how long the members' bounds are, as they lie on the bottom [mm]."""
    return sum(length_in_skin(bound.line, shell) for bound in bounds)


__all__ = ["KEPT", "Drain", "Drains", "Way", "contact"]
