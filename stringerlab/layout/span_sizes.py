"""What a member's runs measure and how they end: spacing in the skin, length between supports, landings. mm.

Spacing s is the mean of the distances to the next member, line, keel or edge of the hull on either side,
square to the run in plan and measured in the skin, middle to middle, averaged along the run. Length lu is
from support to support in the skin, less half the base of what the run ends on at either end; where only the
section changes nothing supports it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import cast

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.geometry.faces import Faces
from stringerlab.geometry.graph import Array, Index, TooManyError, integers
from stringerlab.layout.found import MemberSize
from stringerlab.layout.network import Network, plan_length
from stringerlab.layout.openings import Backed, Crossing, Cut, Landing, LandsOn, Opening
from stringerlab.layout.plan import Contact, Held, Layout, Member, MemberKind
from stringerlab.layout.records import End
from stringerlab.layout.runs import Runs

_SAMPLES = np.array([1, 3, 5]) / 6
_MOST, _AT_ONCE = 20_000_000, 1_000_000
"""Pairs of rays and sides up to which a layout is looked through, and how many at once."""
_GLANCING = 0.35
"""A base met at less than 20° takes no more of a span than at 20° (sine)."""
_LANDINGS = {on: Landing(on=on) for on in LandsOn}
NOTHING = MemberSize(base_width=0.0, height=0.0)


def spacings(net: Network, runs: Runs, faces: Faces, bottom: Bottom) -> Array:
    """Return the spacing of every run (r,) [mm]; towards an edge it lies along there is none."""
    graph = net.graph
    piece = np.nonzero(net.member[graph.line])[0]
    count = len(runs.line)
    if not len(piece):
        return np.zeros(count)
    edge, run = graph.edge[piece], runs.edge_run[graph.edge[piece]]
    child = np.searchsorted(faces.parent[faces.parent >= 0], edge)
    back = (graph.ends[piece, 0] != graph.edges[edge, 0]).astype(np.intp)
    a, b = graph.points[graph.ends[piece, 0]], graph.points[graph.ends[piece, 1]]
    way = (b - a) / np.hypot(*(b - a).T)[:, None]
    left = np.stack([-way[:, 1], way[:, 0]], axis=1)
    starts = np.concatenate([a + part * (b - a) for part in _SAMPLES] * 2)
    rays = np.concatenate([np.tile(left, (3, 1)), np.tile(-left, (3, 1))])
    face = faces.face[np.concatenate([np.tile(2 * child + back, 3), np.tile(2 * child + 1 - back, 3)])]
    ends = _hits(starts, rays, face, faces)
    weight = np.tile(plan_length(graph)[piece], 6)
    reach = bottom.leg_lengths(starts, ends)
    total = np.bincount(np.tile(run, 6), weights=weight * reach, minlength=count)
    return total / np.bincount(np.tile(run, 6), weights=weight, minlength=count)


def _hits(starts: Array, rays: Array, face: Index, faces: Faces) -> Array:
    """Return where rays within faces first meet a side; their start where they lie in none."""
    counts = np.where(face >= 0, np.diff(faces.starts)[face] if len(faces.area) else 0, 0)
    total = int(counts.sum())
    if total > _MOST:
        raise TooManyError(total)
    nearest = np.full(len(starts), np.inf)
    batch = (np.cumsum(counts) - counts) // _AT_ONCE
    for rays_now in np.split(np.arange(len(starts)), np.nonzero(np.diff(batch))[0] + 1):
        _meet(nearest, rays_now, counts[rays_now], starts, rays, face, faces)
    nearest[~np.isfinite(nearest)] = 0.0
    return starts + nearest[:, None] * rays


def _meet(
    nearest: Array, which: Index, counts: Index, starts: Array, rays: Array, face: Index, faces: Faces
) -> None:
    """Lower ``nearest`` of some rays to how far they run to the nearest side of their faces."""
    ray = np.repeat(which, counts)
    offset = np.arange(len(ray)) - np.repeat(np.cumsum(counts) - counts, counts)
    half = faces.rings[faces.starts[face[ray]] + offset]
    a, b = faces.points[faces.origin[half]], faces.points[faces.target[half]]
    side, way, off = b - a, rays[ray], a - starts[ray]
    turn = way[:, 0] * side[:, 1] - way[:, 1] * side[:, 0]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        t = (off[:, 0] * side[:, 1] - off[:, 1] * side[:, 0]) / turn
        s = (off[:, 0] * way[:, 1] - off[:, 1] * way[:, 0]) / turn
        hit = (t > 1e-6) & (s >= -1e-9) & (s <= 1 + 1e-9)
    np.minimum.at(nearest, ray[hit], t[hit])


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """How one end of a run between supports is held."""

    end: End
    landing: Landing
    taken: float
    """Half the base of what it ends on, along it [mm]."""
    crossing: tuple[Cut, float] | None
    """Whether its crown is cut there, and how high the other member's stands."""


class Ends:
    """How the ends of runs are held, from what else is at their nodes."""

    def __init__(self, net: Network, runs: Runs, layout: Layout, sizes: Sequence[MemberSize]) -> None:
        self.net, self.runs, self.layout, self.sizes = net, runs, layout, sizes
        self.line = integers(runs.line)
        self.members = [_member(net, layout, number) for number in self.line]
        self.ends = cast("list[tuple[int, int]]", runs.ends.tolist())
        self.along = cast("list[tuple[float, float]]", runs.along.tolist())
        self.at: list[list[tuple[int, int]]] = [[] for _ in runs.nodes]
        for number, (a, b) in enumerate(self.ends):
            self.at[a].append((number, 0))
            self.at[b].append((number, 1))
        corners = np.array([(c[0], c[1], c[-2], c[-1]) for c in runs.vertices], np.intp).reshape(-1, 4)
        legs = net.graph.points[corners[:, 1::2]] - net.graph.points[corners[:, ::2]]
        ways = legs / np.hypot(legs[..., :1], legs[..., 1:])
        self.way = cast("list[tuple[tuple[float, float], tuple[float, float]]]", ways.tolist())

    def member(self, run: int) -> Member:
        """Return the member a run is of."""
        return self.members[run]

    def of(self, run: int, side: int) -> Ended:
        """Return how the run ends at its first node (0) or its last (1)."""
        number = self.ends[run][side]
        node, line, mine = self.runs.nodes[number], self.line[run], self.members[run]
        here = [each for each in self.at[number] if each != (run, side)]
        goes_on = any(self.line[other] == line for other, _ in here)
        images = [o for o, _ in here if self.line[o] != line and self.members[o].id == mine.id]
        met = [(other, at) for other, at in here if self.members[other].id != mine.id]
        taken = max((self._taken(run, side, other, at) for other, at in met), default=0.0)
        height = self.sizes[run].height
        bulkhead = any(self.members[other].kind is MemberKind.BULKHEAD for other, _ in met)
        other = max((self.sizes[o].height for o, _ in met), default=0.0)
        crossing: tuple[Cut, float] | None = None
        if met and not bulkhead and other > 0:
            passes = goes_on and (height > other or mine.crown is Cut.CONTINUOUS)
            crossing = (Cut.CONTINUOUS if passes else Cut.CUT, other)
        tip = self._tip(run, side)
        drawn = LandsOn.AS_END if goes_on else mine.ends[tip]
        carried = goes_on or bool(images)
        end, on = self._held(mine, drawn, node.edge, carried, bulkhead, bool(met), other >= height)
        if on is LandsOn.CONTINUES and crossing and crossing[0] is Cut.CUT:
            on = LandsOn.AS_END
        tapers = on is LandsOn.TAPERED and mine.tapers[tip] > 0
        landing = Landing(on=on, taper=mine.tapers[tip]) if tapers else _LANDINGS[on]
        return Ended(end=end, landing=landing, taken=taken, crossing=crossing)

    def _taken(self, run: int, side: int, other: int, at: int) -> float:
        (a, b), (c, d) = self.way[run][side], self.way[other][at]
        return self.sizes[other].base_width / 2 / max(abs(a * d - b * c), _GLANCING)

    def _tip(self, run: int, side: int) -> int:
        """Return which of its member's ends a run's end is nearer to: 0 for the first, 1 for the last."""
        line = self.net.lines[self.line[run]]
        whole = line.joined or float(np.hypot(*np.diff(line.points, axis=0).T).sum())
        own = line.own(self.along[run][side])
        return 0 if own < whole / 2 else 1

    def _held(
        self,
        member: Member,
        drawn: LandsOn,
        edge: str,
        carried: bool,
        bulkhead: bool,
        met: bool,
        deep: bool,
    ) -> tuple[End, LandsOn]:
        supports = self.layout.supports
        if drawn is LandsOn.TRANSOM:
            return _clamped(supports.transom), drawn
        if drawn is LandsOn.BULKHEAD and edge == "forward":
            return _clamped(supports.forward), drawn
        if drawn is not LandsOn.AS_END:
            return (End.HELD if drawn.supports else End.SIMPLE), drawn
        if bulkhead:
            return End.HELD, LandsOn.BULKHEAD
        if carried:
            return End.HELD, LandsOn.CONTINUES
        if met:
            return (End.HELD if deep else End.SIMPLE), LandsOn.AS_END
        if edge == "transom":
            return _clamped(supports.transom), LandsOn.TRANSOM
        if edge == "forward":
            return _clamped(supports.forward), LandsOn.AS_END
        if edge == "chine":
            round_ = member.contact is Contact.ALL_ROUND
            return (End.HELD, LandsOn.AS_END) if round_ else (End.SIMPLE, LandsOn.CHINE)
        return End.SIMPLE, LandsOn.SKIN


def _member(net: Network, layout: Layout, line: int) -> Member:
    number = net.lines[line].member
    assert number is not None
    return layout.members[number]


def _clamped(held: Held) -> End:
    return End.HELD if held is Held.CLAMPED else End.SIMPLE


def run_sizes(
    net: Network, runs: Runs, layout: Layout, sizes: Mapping[str, MemberSize]
) -> tuple[list[str], list[MemberSize]]:
    """Return every run's section, and its size: that of a bulkhead is as high as anything that meets it."""
    sections: list[str] = []
    found: list[MemberSize] = []
    for number, (a, b) in zip(integers(runs.line), runs.along.tolist(), strict=True):
        line, member = net.lines[number], _member(net, layout, number)
        section = section_at(member, line.own((a + b) / 2))
        size = sizes.get(section, NOTHING)
        if member.kind is MemberKind.BULKHEAD:
            size = MemberSize(base_width=size.base_width, height=inf)
        sections.append(section)
        found.append(size)
    return sections, found


def section_at(member: Member, own: float) -> str:
    """Return the section a member has at a place from its first point, in plan [mm]."""
    section, last = member.section, -1.0
    for stretch in member.stretches:
        if last < stretch.start <= own:
            section, last = stretch.section, stretch.start
    return section


def crossings_of(member: Member, ends: tuple[Ended, Ended], lu: float) -> tuple[Crossing, ...]:
    """Return where other members cross or take a run's ends: at its two ends."""
    return tuple(
        Crossing(
            x=x,
            crown=ended.crossing[0],
            height=ended.crossing[1],
            backed=member.backed,
            thickness=None if member.backed is Backed.NONE else member.tab_thickness,
            length=None if member.backed is Backed.NONE else member.tab_length,
        )
        for x, ended in zip((0.0, lu), ends, strict=True)
        if ended.crossing is not None
    )


def openings_of(
    member: Member,
    joined: float,
    inward: bool,
    along: tuple[float, float],
    whole: tuple[float, float],
    lu: float,
) -> tuple[Opening, ...]:
    """Return a member's openings whose middles lie in a run, measured from where its clear length begins.

    Parameters
    ----------
    member
        With openings from its first point.
    joined, inward
        Of its line.
    along
        Where the run begins and ends along its line, in plan, in the span's direction.
    whole
        The same of the clear length between supports.
    lu
        That length in the skin [mm].
    """
    found: list[Opening] = []
    low, high = min(along), max(along)
    for opening in member.openings:
        own = (joined - opening.x if inward else opening.x) if joined else opening.x
        places = sorted({joined - own, joined + own}) if joined else [own]
        for place in places:
            if low <= place < high:
                part = (place - whole[0]) / (whole[1] - whole[0])
                found.append(
                    Opening(
                        kind=opening.kind,
                        x=min(max(part, 0.0), 1.0) * lu,
                        height=opening.height,
                        width=opening.width,
                        bottom=opening.bottom,
                        radius=opening.radius,
                    )
                )
    return tuple(sorted(found, key=lambda each: each.x))
