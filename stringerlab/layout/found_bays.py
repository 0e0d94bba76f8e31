"""The bays of a layout, from the faces between its members: named, measured, one for each pair of images."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.geometry.faces import Faces, enclosing
from stringerlab.geometry.graph import Array, Index, integers
from stringerlab.layout.alike import images, judged_once
from stringerlab.layout.bay_sizes import CORNER, Flat, Sizes, clear_rings, laid_flat, sizes_of
from stringerlab.layout.found import FoundBay, FoundSpan, MemberSize, Placed, Side
from stringerlab.layout.network import Network
from stringerlab.layout.plan import BayMark, Layout
from stringerlab.layout.records import Panel
from stringerlab.layout.runs import Runs

NARROWEST, LONGEST = 20.0, 20_000.0
"""Bounds of what is judged, as a panel's record has them [mm]."""


def half_bases(runs: Runs, faces: Faces, sizes: Sequence[MemberSize], bottom: Bottom) -> Array:
    """Return half the base of the member along every half-edge (2e,), in plan [mm]."""
    base = np.array([*(size.base_width for size in sizes), 0.0], float)
    run = np.where(faces.parent >= 0, runs.edge_run[faces.parent], -1)
    half = base[run] / 2
    wide = np.nonzero(half > 0)[0]
    a, b = faces.points[faces.edges[wide, 0]], faces.points[faces.edges[wide, 1]]
    way = (b - a) / np.hypot(*(b - a).T)[:, None]
    slope = bottom.gradient((a + b) / 2)
    across = slope[:, 0] * -way[:, 1] + slope[:, 1] * way[:, 0]
    half[wide] /= np.sqrt(1 + across**2)
    return np.repeat(half, 2)


@dataclass(frozen=True, slots=True, eq=False)
class _Bays:
    rings: list[Array]
    clear: list[Array]
    sizes: Sizes
    whole: Flat


def found_bays(
    net: Network,
    runs: Runs,
    faces: Faces,
    layout: Layout,
    bottom: Bottom,
    half: Array,
    spans: Sequence[FoundSpan],
    of_run: Sequence[int],
    mirror: Index,
) -> tuple[tuple[FoundBay, ...], list[Placed]]:
    """Return the bays between members, and what is amiss with them.

    Parameters
    ----------
    net, runs, faces, layout, bottom
        What was found so far.
    half
        (2e,) half the base along every half-edge, in plan [mm].
    spans, of_run
        The found spans, and which each run is a part of.
    mirror
        (v,) of the faces' vertices: their mirror images.
    """
    walks = [faces.ring(number) for number in range(len(faces.area))]
    bounds = _Bounds(net, runs, faces, [spans[each].id for each in of_run])
    owners = [[bounds.owner[half] for half in integers(walk)] for walk in walks]
    rings = [faces.points[faces.origin[walk]] for walk in walks]
    clear = clear_rings(faces, half)
    bays = _Bays(rings, clear, sizes_of(clear, bottom), laid_flat(rings, bottom))
    labels = [frozenset(owner) for owner in owners]
    groups = judged_once(images([faces.origin[walk] for walk in walks], labels, mirror), bays.whole.middle)
    marks, amiss = _marked(layout.bays, rings, groups)
    found: list[FoundBay] = []
    taken: set[str] = set()
    for number, group in enumerate(groups):
        face = group[0]
        x, y = bays.whole.middle[face].tolist()
        mark = marks.get(number)
        id_ = mark.id if mark else f"bay@{x:.0f},{y:.0f}"
        while id_ in taken:
            id_ += "'"
        taken.add(id_)
        name = mark.name if mark and mark.name else f"Bottom at x {x:.0f}, y {abs(y):.0f} mm"
        panel = _panel(bays.sizes, face, id_, name, mark)
        if panel is None:
            amiss.append(_too_small(bays.sizes, face, f"{name} ({id_})", (x, y)))
        found.append(
            FoundBay(
                id=id_,
                rings=tuple(rings[each] for each in group),
                clear=tuple(clear[each] for each in group),
                sides=bounds.sides(integers(walks[face])),
                area=float(bays.whole.area[face]),
                panel=panel,
            )
        )
    return tuple(found), amiss


class _Bounds:
    """What bounds bays: by half-edge, whose it is and which span's."""

    def __init__(self, net: Network, runs: Runs, faces: Faces, spans: Sequence[str]) -> None:
        names, ids = [*(line.of for line in net.lines), ""], [*spans, ""]
        real = np.repeat(faces.parent, 2) >= 0
        parent = np.repeat(faces.parent, 2)
        line = np.where(real, net.edge_line[parent], -1)
        self.run = integers(np.where(real, runs.edge_run[parent], -1))
        self.owner = [names[each] for each in integers(line)]
        self.span = [ids[each] for each in self.run]
        self.starts = faces.points[faces.origin].tolist()
        self.ends = faces.points[faces.target].tolist()
        way = faces.points[faces.target] - faces.points[faces.origin]
        self.way = np.arctan2(way[:, 1], way[:, 0]).tolist()

    def sides(self, walk: Sequence[int]) -> tuple[Side, ...]:
        """Return the sides along half-edges: what belongs to one span or edge, from corner to corner."""
        count = len(walk)
        breaks = [k for k in range(count) if self._turns(walk[k - 1], walk[k])] or [0]
        sides: list[Side] = []
        for first, after in zip(breaks, [*breaks[1:], breaks[0] + count], strict=True):
            start, end = self.starts[walk[first]], self.ends[walk[(after - 1) % count]]
            of, span = self.owner[walk[first]], self.span[walk[first]]
            sides.append(Side(of=of, span=span, start=(start[0], start[1]), end=(end[0], end[1])))
        return tuple(sides)

    def _turns(self, half: int, after: int) -> bool:
        """Return whether a side ends between two half-edges."""
        if self.run[half] != self.run[after] or self.owner[half] != self.owner[after]:
            return True
        return abs((self.way[after] - self.way[half] + pi) % (2 * pi) - pi) > CORNER


def _panel(sizes: Sizes, face: int, id_: str, name: str, mark: BayMark | None) -> Panel | None:
    b, l = float(sizes.b[face]), float(sizes.l[face])
    if not (b >= NARROWEST and l <= LONGEST):
        return None
    x, y = sizes.middle[face].tolist()
    return Panel(
        id=id_,
        name=name,
        b=min(b, l),
        l=max(b, l),
        x=x,
        deadrise=min(float(np.degrees(sizes.deadrise[face])), 60.0),
        camber=float(sizes.camber[face]),
        laminate=mark.laminate if mark else "",
        y=abs(y),
        pan=mark.pan if mark else None,
    )


def _too_small(sizes: Sizes, face: int, where: str, at: tuple[float, float]) -> Placed:
    b, l = float(sizes.b[face]), float(sizes.l[face])
    if not b >= 0:
        what = "Nothing of it is left between the members' bases."
    elif l > LONGEST:
        what = f"It is {l / 1000:.1f} m long, over 20 m: not judged."
    else:
        what = f"It is {b:.1f} mm wide between web roots, under 20 mm: not judged."
    remedy = "Divide it by a member." if l > LONGEST else "Move its members apart, or remove one."
    return Placed(problem=Problem(what, where, remedy), at=at)


def _marked(
    marks: Sequence[BayMark], rings: Sequence[Array], groups: Sequence[tuple[int, ...]]
) -> tuple[dict[int, BayMark], list[Placed]]:
    """Return each group's mark, and the marks that have come to lie in one bay with an older one."""
    group_of = {face: number for number, group in enumerate(groups) for face in group}
    found: dict[int, BayMark] = {}
    amiss: list[Placed] = []
    lying: dict[int, int] = {}
    for face, place in enclosing(rings, np.array([mark.at for mark in marks], float).reshape(-1, 2)):
        lying.setdefault(place, group_of[face])
    for place, mark in enumerate(marks):
        if place not in lying:
            continue
        kept = found.setdefault(lying[place], mark)
        if kept is not mark:
            what = f"Two bays, {kept.id} and {mark.id}, have become one."
            remedy = f"{kept.id} is kept, the older; {mark.id} is gone."
            amiss.append(Placed(problem=Problem(what, f"bay {mark.name or mark.id}", remedy), at=mark.at))
    return found, amiss
