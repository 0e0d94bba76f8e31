"""Nodes of a network and the members' runs between them, with the nodes' lasting keys.

x forward, y to port, mm.
"""

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.geometry.graph import SNAP, Array, Index, integers
from stringerlab.layout.found import Node
from stringerlab.layout.network import Network, plan_length
from stringerlab.layout.plan_lines import Line


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """r runs of members from node to node, in the order their lines are drawn."""

    nodes: tuple[Node, ...]
    node_vertex: Index
    """(nodes,)."""
    line: Index
    """(r,)."""
    ends: Index
    """(r, 2) nodes, as drawn."""
    along: Array
    """(r, 2) where it begins and ends along its line in plan [mm]."""
    length: Array
    """(r,) in the skin."""
    flat: Array
    """(r,) in plan."""
    middle: Array
    """(r, 2) halfway along in plan."""
    vertices: tuple[Index, ...]
    """Of every run, as drawn."""
    whole: Index
    """(r,) runs with the same number lie between the same supports: no node between them holds anything."""
    edge_run: Index
    """(e,) the run along an edge of the network's graph; -1 for none."""

    def lines(self, points: Array) -> list[Array]:
        """Return the plan line of every run."""
        return [points[each] for each in self.vertices]


def runs_of(net: Network, bottom: Bottom) -> Runs:
    """Return nodes and runs of a network."""
    graph = net.graph
    piece = np.nonzero(net.member[graph.line])[0]
    line, ends, along = graph.line[piece], graph.ends[piece], graph.along[piece]
    count = len(graph.points)
    pairs, times = np.unique(np.repeat(line, 2) * count + ends.ravel(), return_counts=True)
    at, lines_at = pairs % count, np.bincount(pairs % count, minlength=count)
    held = lines_at >= 2
    held[at[times != 2]] = True
    starts = np.ones(len(piece), bool)
    starts[1:] = (line[1:] != line[:-1]) | (ends[1:, 0] != ends[:-1, 1])
    held[ends[starts, 0]] = True
    held[ends[np.append(starts[1:], True)[: len(piece)], 1]] = True
    stops = _stops(net, line, ends, along)
    node = held.copy()
    node[list(stops)] = True
    begins = starts | node[ends[:, 0]] if len(piece) else starts
    run = np.cumsum(begins) - 1
    first = np.nonzero(begins)[0]
    last = np.append(first[1:], len(piece))[: len(first)] - 1
    vertex = np.nonzero(node)[0]
    number = np.full(count, -1)
    number[vertex] = np.arange(len(vertex))
    legs = bottom.leg_lengths(graph.points[ends[:, 0]], graph.points[ends[:, 1]])
    length = np.bincount(run, weights=legs, minlength=len(first)).astype(float)
    plan = plan_length(graph)[piece]
    open_ = ~starts[first] & ~held[ends[first, 0]]
    edge_run = np.full(len(graph.edges), -1)
    edge_run[graph.edge[piece]] = run
    spread = np.stack([along[first, 0], along[last, 1]], axis=1)
    bounds = zip(integers(first), integers(last), strict=True)
    chains = [np.append(ends[a : b + 1, 0], ends[b, 1]) for a, b in bounds]
    return Runs(
        nodes=_nodes(net, vertex, at, pairs // count, times, stops, line, ends, along),
        node_vertex=vertex,
        line=line[first],
        ends=number[np.stack([ends[first, 0], ends[last, 1]], axis=1)],
        along=spread,
        length=length,
        flat=np.bincount(run, weights=plan, minlength=len(first)).astype(float),
        middle=_middles(graph.points, ends, plan, run, first),
        vertices=tuple(chains),
        whole=np.cumsum(~open_) - 1,
        edge_run=edge_run,
    )


def _stops(net: Network, line: Index, ends: Index, along: Array) -> dict[int, tuple[int, int]]:
    """Return the vertices where another section begins: the line, and the stretch's number."""
    found: dict[int, tuple[int, int]] = {}
    for number, drawn in enumerate(net.lines):
        if not drawn.stops:
            continue
        mine = np.nonzero(line == number)[0]
        for at, stretch in drawn.stops:
            if len(mine):
                off = np.abs(along[mine] - at)
                place = np.unravel_index(int(off.argmin()), off.shape)
                if off[place] <= 2 * SNAP:
                    found.setdefault(int(ends[mine[place[0]], place[1]]), (number, stretch))
    return found


def _middles(points: Array, ends: Index, length: Array, run: Index, first: Index) -> Array:
    """Return the place halfway along every run."""
    if not len(first):
        return np.zeros((0, 2))
    total = np.bincount(run, weights=length)
    done = np.cumsum(length)
    before = (done[first] - length[first])[run]
    past = done - before >= total[run] / 2 - 1e-9
    chosen = np.full(len(first), len(run))
    np.minimum.at(chosen, run[past], np.nonzero(past)[0])
    start = done[chosen] - length[chosen] - before[chosen]
    part = (total / 2 - start) / length[chosen]
    a, b = points[ends[chosen, 0]], points[ends[chosen, 1]]
    return a + part[:, None] * (b - a)


def _nodes(
    net: Network,
    vertex: Index,
    at: Index,
    lines: Index,
    times: Index,
    stops: dict[int, tuple[int, int]],
    line: Index,
    ends: Index,
    along: Array,
) -> tuple[Node, ...]:
    there: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for place, number, often in zip(integers(at), integers(lines), integers(times), strict=True):
        there[place].append((number, often))
    where: dict[tuple[int, int], float] = {}
    for number, pair, runs in zip(integers(line), ends.tolist(), along.tolist(), strict=True):
        where.setdefault((number, pair[0]), runs[0])
        where[number, pair[1]] = runs[1]
    points = net.graph.points[vertex]
    bases: list[str] = []
    members: list[tuple[str, ...]] = []
    edges: list[str] = []
    order = {name: _natural(name) for name in {each.of for each in net.lines}}
    for place, y in zip(integers(vertex), points[:, 1].tolist(), strict=True):
        met = there[place]
        ids = tuple(sorted({net.lines[number].of for number, _ in met}, key=order.__getitem__))
        edge = net.hull[place] or ("keel" if _at_keel(met, y) else "")
        members.append(ids)
        edges.append(edge)
        bases.append(_base(ids, edge, met, net.lines, stops.get(place), where, place))
    keys = _distinct(bases, points)
    return tuple(
        Node(key=key, at=(float(x), float(y)), members=ids, edge=edge)
        for key, (x, y), ids, edge in zip(keys, points.tolist(), members, edges, strict=True)
    )


def _at_keel(met: Sequence[tuple[int, int]], y: float) -> bool:
    return abs(y) <= SNAP and all(often == 1 for _, often in met)


def _base(
    ids: tuple[str, ...],
    edge: str,
    met: Sequence[tuple[int, int]],
    lines: Sequence[Line],
    stop: tuple[int, int] | None,
    where: dict[tuple[int, int], float],
    place: int,
) -> str:
    first = ids[0]
    if len(ids) > 1:
        return "×".join(ids) + (f"@{edge}" if edge in ("transom", "chine", "forward") else "")
    if edge:
        return f"{first}@{edge}"
    number, often = met[0]
    if len(met) > 1 or often > 2:
        return f"{first}×{first}"
    if often == 1:
        line = lines[number]
        whole = line.joined or float(np.hypot(*np.diff(line.points, axis=0).T).sum())
        return f"{first}:{0 if line.own(where[number, place]) < whole / 2 else 1}"
    return f"{first}/{stop[1]}" if stop else f"{first}×{first}"


def _distinct(bases: Sequence[str], points: Array) -> list[str]:
    """Return keys that tell apart what has the same base: its mirror image, then by place from aft."""
    keys = [f"{base}'s" if y < -SNAP else base for base, (_, y) in zip(bases, points.tolist(), strict=True)]
    alike: dict[str, list[int]] = defaultdict(list)
    for number, key in enumerate(keys):
        alike[key].append(number)
    for key, numbers in alike.items():
        if len(numbers) > 1:
            numbers.sort(key=lambda each: (round(float(points[each, 0])), abs(float(points[each, 1]))))
            for times, number in enumerate(numbers[1:], 2):
                keys[number] = f"{key}#{times}"
    return keys


def _natural(name: str) -> tuple[object, ...]:
    """Order m7 before m12."""
    head = re.match(r"\D*", name)
    letters = head.group() if head else ""
    digits = re.match(r"\d+", name[len(letters) :])
    return (letters, int(digits.group()) if digits else -1, name)
