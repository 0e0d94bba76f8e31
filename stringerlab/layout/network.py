"""The members of a layout as one network: what reaches over the bottom's edge, lies double or ends short.

x forward, y to port, mm.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.geometry.graph import Array, Graph, Index, Mask, TooManyError, graph_of, integers
from stringerlab.geometry.near import edges_near
from stringerlab.layout.found import Placed
from stringerlab.layout.openings import LandsOn
from stringerlab.layout.plan import Layout
from stringerlab.layout.plan_lines import EDGES, KEEL, Line

ALMOST = 25.0
"""An end nearer to what it does not meet was meant to meet it, and one as far past it to end there [mm]."""
MOST_PAIRS = 150_000
"""Pairs of pieces near one another up to which a layout is looked through."""
MOST_PLACES = 60_000
_SAID = 500
"""Of one kind of thing amiss no more are told one by one, but how many more there are."""
_ON = 0.01
"""What lies no farther beyond an edge lies on it [mm]."""
_HULL = ("", "chine", "forward", "transom")


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """Lines, and the graph of what of them lies on the bottom."""

    lines: Sequence[Line]
    graph: Graph
    member: Mask
    """(lines,) which are members."""
    edge_line: Index
    """(e,) the line an edge belongs to: a member before a line, a line before keel and hull."""
    hull: tuple[str, ...]
    """(v,) the hull's edge a vertex lies on; empty within."""


def network(lines: Sequence[Line], layout: Layout, bottom: Bottom) -> tuple[Network, list[Placed]]:
    """Return the network of lines, and what is amiss with them.

    Raises
    ------
    TooManyError
        When more lines lie near one another than can be looked through.
    """
    graph = graph_of([line.points for line in lines], [line.rank for line in lines], most=MOST_PAIRS)
    if len(graph.line) > MOST_PLACES:
        raise TooManyError(len(graph.line))
    names = {member.id: f"member '{member.name}' ({member.id})" for member in layout.members}
    names |= {line.id: f"line '{line.name}' ({line.id})" for line in layout.lines}
    amiss: list[Placed] = []
    graph = _within(graph, lines, bottom, names, amiss)
    member = np.array([line.member is not None for line in lines], bool)
    hull = _hull_vertices(graph, lines)
    graph = _single(graph, lines, member, names, amiss)
    graph = _without_stubs(graph, lines, member, names, amiss)
    order = np.array([(line.member is None) + 2 - line.rank for line in lines], np.intp)
    code = order * len(lines) + np.arange(len(lines))
    least = np.full(len(graph.edges), np.iinfo(np.intp).max)
    np.minimum.at(least, graph.edge, code[graph.line])
    made = Network(lines, graph, member, least % len(lines), tuple(_HULL[each] for each in integers(hull)))
    amiss += _open_ends(made, layout, names)
    return made, amiss


def plan_length(graph: Graph) -> Array:
    """Return the length in plan of every piece of a graph [mm]."""
    return np.hypot(*(graph.points[graph.ends[:, 1]] - graph.points[graph.ends[:, 0]]).T)


def _hull_vertices(graph: Graph, lines: Sequence[Line]) -> Index:
    found = np.zeros(len(graph.points), np.intp)
    code = np.array([_HULL.index(line.of) if line.of in EDGES else 0 for line in lines], np.intp)
    np.maximum.at(found, graph.ends.ravel(), np.repeat(code[graph.line], 2))
    return found


def _told(line: Line, places: Array) -> Mask:
    """Return at which places (n, 2) what is amiss is said of a line: of a pair only to port."""
    return np.full(len(places), line.image == 0) & ((places[:, 1] >= 0) | (not line.joined))


def _joined(graph: Graph, lines: Sequence[Line]) -> Mask:
    """Return which pieces (k,) are of lines made of both halves of a pair: these are told to port only."""
    return np.array([bool(line.joined) for line in lines], bool)[graph.line]


def _more(beyond: Index, words: str, line: Index, told: Mask, middle: Array) -> list[Placed]:
    """Say how many lines of a kind amiss are not told one by one; nothing where all are."""
    if not len(beyond):
        return []
    what = f"{len(beyond)} more {words}; {_SAID} are told one by one."
    at = middle[told & (line == beyond[0])][0]
    return [_placed(what, "", "Put right those that are told, and look again.", at)]


def _within(
    graph: Graph, lines: Sequence[Line], bottom: Bottom, names: Mapping[str, str], amiss: list[Placed]
) -> Graph:
    """Return the graph without what lies outside the bottom, and say so."""
    middle = graph.points[graph.ends].mean(axis=1)
    rank = np.array([line.rank for line in lines], np.intp)
    outside = ~bottom.within(middle, _ON) & (rank[graph.line] > 0)
    if not outside.any():
        return graph
    length = plan_length(graph)
    drawn = np.array([line.of != KEEL and line.image == 0 for line in lines], bool)
    told = outside & drawn[graph.line] & ((middle[:, 1] >= 0) | ~_joined(graph, lines))
    numbers = np.unique(graph.line[told])
    for number in integers(numbers[:_SAID]):
        of = graph.line == number
        here = of & told
        at = middle[here][0]
        beyond = float(length[here].sum())
        whole = bool((of & outside == of).all())
        what = "It lies outside the bottom." if whole else f"{beyond:.0f} mm of it lie outside the bottom."
        remedy = "Move it inside, or remove it." if whole else "That part is left out; trim it to the edge."
        amiss.append(_placed(what, names[lines[number].of], remedy, at))
    amiss += _more(numbers[_SAID:], "lie outside the bottom, wholly or in part", graph.line, told, middle)
    return graph.only(~outside)


def _single(
    graph: Graph, lines: Sequence[Line], member: Mask, names: Mapping[str, str], amiss: list[Placed]
) -> Graph:
    """Return the graph with one member along an edge, the first drawn, and say which lie on one another."""
    first = np.full(len(graph.edges), len(lines))
    of_member = member[graph.line]
    np.minimum.at(first, graph.edge[of_member], graph.line[of_member])
    double = of_member & (graph.line != first[graph.edge])
    # a line that runs back on itself keeps its first run
    again = np.nonzero(of_member & ~double)[0]
    back = np.ones(len(again), bool)
    back[np.unique(graph.edge[again], return_index=True)[1]] = False
    double[again[back]] = True
    if not double.any():
        return graph
    length = plan_length(graph)
    middle = graph.points[graph.ends].mean(axis=1)
    drawn = np.array([line.image == 0 for line in lines], bool)
    met = np.minimum(first[graph.edge], len(lines) - 1)
    told = double & (drawn[graph.line] | drawn[met]) & ((middle[:, 1] >= 0) | ~_joined(graph, lines))
    pairs = np.unique(np.stack([graph.line[told], met[told]], axis=1), axis=0)
    for one, other in map(integers, pairs[:_SAID]):
        here = told & (graph.line == one) & (met == other)
        at = middle[here][0]
        shared = float(length[here].sum())
        if lines[one].of == lines[other].of:
            what = f"It lies on itself over {shared:.0f} mm."
            remedy = "One of a pair that crosses or lies on the centreline is a centreline member."
        else:
            what = f"It lies on {names[lines[other].of]} over {shared:.0f} mm."
            remedy = "Only the first counts there; move or remove one."
        amiss.append(_placed(what, names[lines[one].of], remedy, at))
    amiss += _more(pairs[_SAID:, 0], "lie on one another", graph.line, told, middle)
    return graph.only(~double)


def _without_stubs(
    graph: Graph, lines: Sequence[Line], member: Mask, names: Mapping[str, str], amiss: list[Placed]
) -> Graph:
    """Return the graph without ends that run a little past what they meet, and say so."""
    degree = np.bincount(graph.edges.ravel(), minlength=len(graph.points))
    length = plan_length(graph)
    loose, meets = degree[graph.ends] == 1, degree[graph.ends] >= 3
    stub = member[graph.line] & (length <= ALMOST)
    stub &= (loose[:, 0] & meets[:, 1]) | (loose[:, 1] & meets[:, 0])
    for number in integers(np.nonzero(stub)[0]):
        line = lines[int(graph.line[number])]
        at = graph.points[graph.ends[number, 0 if loose[number, 0] else 1]]
        if _told(line, at[None])[0]:
            what = f"It runs {length[number]:.1f} mm past what it meets."
            amiss.append(_placed(what, names[line.of], "That end is left out; trim it.", at))
    return graph.only(~stub) if stub.any() else graph


def _open_ends(net: Network, layout: Layout, names: Mapping[str, str]) -> list[Placed]:
    """Say which ends meet nothing, or almost something."""
    graph = net.graph
    degree = np.bincount(graph.edges.ravel(), minlength=len(graph.points))
    loose = (degree[graph.ends] == 1) & net.member[graph.line][:, None]
    piece, side = np.nonzero(loose)
    if not len(piece):
        return []
    vertex = graph.ends[piece, side]
    places = graph.points[vertex]
    place, edge, distance, _ = edges_near(graph.points, graph.edges, places, ALMOST)
    foreign = ~np.isin(
        edge * len(net.lines) + graph.line[piece[place]], graph.edge * len(net.lines) + graph.line
    )
    place, edge, distance = place[foreign], edge[foreign], distance[foreign]
    order = np.lexsort((distance, place))
    best = {int(place[k]): k for k in order[::-1].tolist()}
    ends = set(vertex.tolist())
    said: set[frozenset[int]] = set()
    amiss: list[Placed] = []
    for number, (which, at) in enumerate(zip(piece.tolist(), places, strict=True)):
        line = net.lines[int(graph.line[which])]
        if line.member is None or not _told(line, at[None])[0]:
            continue
        member = layout.members[line.member]
        if number in best:
            k = best[number]
            other = net.lines[int(net.edge_line[edge[k]])]
            near = [end for end in graph.edges[edge[k]].tolist() if end in ends]
            pair = frozenset([int(vertex[number]), *near])
            if pair in said:
                continue
            said.add(pair)
            to = names.get(other.of, f"the {other.of}") if other.of != line.of else "its mirror image"
            what = f"It ends {distance[k]:.1f} mm from {to}, which it almost meets."
            amiss.append(_placed(what, names[line.of], "Snap or extend it, or draw it well clear.", at))
            continue
        along = float(graph.along[which, side[number]])
        whole = line.joined or float(np.hypot(*np.diff(line.points, axis=0).T).sum())
        if member.ends[0 if line.own(along) < whole / 2 else 1] is LandsOn.AS_END:
            amiss.append(
                _placed(
                    "It ends on the bare skin: the bay there is not closed by it.",
                    names[line.of],
                    "Extend it to a member or edge, or say how it lands.",
                    at,
                )
            )
    return amiss


def _placed(what: str, where: str, remedy: str, at: Array) -> Placed:
    return Placed(problem=Problem(what, where, remedy), at=(float(at[0]), float(at[1])))
