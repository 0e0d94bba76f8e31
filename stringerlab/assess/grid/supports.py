"""What holds the grid: its edges as the layout says, bulkheads, and ends drawn on a support. N/mm, N·mm/rad.

Simple holds w, and turning in the plane of transom, side or bulkhead, which is stiff: a member does not roll
over where it lands. Elastic resists turning about the chine too, by the side's bending from a hinge at the
deck edge, 3D/h a mm, over the chine half way to the next node on either side; without a side laminate, and at
other edges, it is read as simple. A transverse bonded up the side (all round) is held from turning about the
chine there, unless the chine is elastic: then the side's own spring turns it back, as others, and no more.
"""

from dataclasses import dataclass

import numpy as np

from stringerlab.assess.grid.records import Array, Beams, Ground, Mask
from stringerlab.craft import Bottom
from stringerlab.laminate import Stack, abd
from stringerlab.layout import LandsOn
from stringerlab.layout.plan import Contact, Held, MemberKind, Supports

ON_BULKHEAD = 1.0
"""Nearer than this to a bulkhead a node is held by it [mm]."""
_UPRIGHT = (LandsOn.BULKHEAD, LandsOn.KNEE, LandsOn.TRANSOM)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Springs:
    """Springs to earth (n, 3) on w, θx, θy; and what must be said of them."""

    springs: Array
    notes: tuple[str, ...]


def springs_of(ground: Ground, bottom: Bottom, beams: Beams) -> Springs:
    """Return the springs that hold a grid's nodes.

    Parameters
    ----------
    ground, bottom
        The layout, and the hull's bottom.
    beams
        The grid.
    """
    supports = ground.layout.supports
    springs = np.zeros((len(beams.at), 3))
    notes: list[str] = []
    chine = np.array([edge == "chine" for edge in beams.edges], bool)
    rules: dict[str, Held] = {
        edge: getattr(supports, edge) for edge in ("transom", "chine", "forward", "keel")
    }
    for edge, held in rules.items():
        at = np.array([each == edge for each in beams.edges], bool)
        if held is Held.FREE or not at.any():
            continue
        springs[at, 0] = np.inf
        if edge != "keel":
            springs[at, 2 if edge == "chine" else 1] = np.inf
        if held is Held.CLAMPED:
            springs[at, 1:] = np.inf
        elif held is Held.ELASTIC and edge == "chine":
            notes += _elastic(ground, supports, bottom, beams, at, springs)
        elif held is Held.ELASTIC:
            notes.append(f"the {edge} has no spring of its own: read as simple")
    all_round = _all_round(ground, beams, chine)
    if all_round.any() and supports.chine is Held.ELASTIC:
        notes.append("members bonded up the side have the elastic chine's own spring there, and no more")
    elif all_round.any():
        springs[all_round] = np.maximum(springs[all_round], [0.0, np.inf, 0.0])
        if supports.chine is not Held.CLAMPED:
            notes.append("members bonded up the side are held from turning about the chine there")
    for node, way in _on_bulkheads(beams).items():
        springs[node, 0] = np.inf
        springs[node, 1 if abs(way[1]) >= abs(way[0]) else 2] = np.inf
    for node, on in _drawn(ground, beams).items():
        springs[node, 0] = np.inf
        if on is LandsOn.KNEE:
            springs[node, 1:] = np.inf
    return Springs(springs=springs, notes=tuple(notes))


def _elastic(
    ground: Ground, supports: Supports, bottom: Bottom, beams: Beams, at: Mask, springs: Array
) -> list[str]:
    """Give chine nodes their turning springs; return what must be said."""
    stack = ground.stacks.get(supports.side_laminate)
    if stack is None:
        return ["elastic chines have no sound side laminate: read as simple"]
    k = 3 * bending(stack) / supports.side_height
    for node, reach in tributary(bottom, beams, at).items():
        along = _chine_way(bottom, beams.at[node])
        springs[node, 1:] = np.maximum(springs[node, 1:], k * reach * along**2)
    return [
        f"elastic chines: held up, and turned back by {k:.4g} N·mm/rad a mm of chine, the side of "
        f"'{supports.side_laminate}' bending over {supports.side_height:g} mm"
    ]


def bending(stack: Stack) -> float:
    """Return a laminate's bending stiffness along its softer axis, free to stretch [N·mm]."""
    found = abd(stack)
    A, B, D = found[:3, :3], found[:3, 3:], found[3:, 3:]
    flexible = np.linalg.inv(D - B @ np.linalg.solve(A, B))
    return float(min(1 / flexible[0, 0], 1 / flexible[1, 1]))


def tributary(bottom: Bottom, beams: Beams, at: Mask) -> dict[int, float]:
    """Return the length of chine each chine node stands for [mm]: half way to the next, and to the ends."""
    found: dict[int, float] = {}
    for side in (1, -1):
        nodes = [int(node) for node in np.flatnonzero(at) if beams.at[node, 1] * side > 0]
        nodes.sort(key=lambda node: float(beams.at[node, 0]))
        if not nodes:
            continue
        x = beams.at[nodes, 0]
        bounds = np.concatenate([[bottom.x[0]], (x[1:] + x[:-1]) / 2, [bottom.x[-1]]])
        for node, low, high in zip(nodes, bounds[:-1].tolist(), bounds[1:].tolist(), strict=True):
            inner = bottom.x[(bottom.x > low) & (bottom.x < high)]
            places = np.concatenate([[low], inner, [high]])
            found[node] = float(np.hypot(np.diff(places), np.diff(bottom.half_beam(places))).sum())
    return found


def _chine_way(bottom: Bottom, at: Array) -> Array:
    """Return the chine's direction in plan."""
    x = np.clip(at[0] + np.array([-1.0, 1.0]), bottom.x[0], bottom.x[-1])
    way = np.array([x[1] - x[0], np.diff(bottom.half_beam(x))[0] * (1 if at[1] > 0 else -1)])
    return way / np.hypot(*way)


def _all_round(ground: Ground, beams: Beams, chine: Mask) -> Mask:
    """Return which chine nodes end a transverse that is bonded up the side."""
    up = {
        member.id
        for member in ground.layout.members
        if member.contact is Contact.ALL_ROUND and member.kind is not MemberKind.BULKHEAD
    }
    found = np.zeros(len(beams.at), bool)
    for ends, number in zip(beams.grid.beams, beams.span, strict=True):
        if ground.found.spans[int(number)].member in up:
            found[ends] = True
    return found & chine


def _on_bulkheads(beams: Beams) -> dict[int, Array]:
    """Return the nodes on bulkheads, and which way the bulkhead runs there."""
    if not beams.held:
        return {}
    pieces = np.array(beams.held, float)
    a, way = pieces[:, 0], pieces[:, 1] - pieces[:, 0]
    off = beams.at[:, None] - a
    t = np.clip((off * way).sum(axis=2) / np.maximum((way * way).sum(axis=1), 1e-9), 0, 1)
    off -= t[..., None] * way
    near = np.hypot(off[..., 0], off[..., 1])
    best = near.argmin(axis=1)
    return {node: way[best[node]] for node in np.flatnonzero(near.min(axis=1) < ON_BULKHEAD).tolist()}


def _drawn(ground: Ground, beams: Beams) -> dict[int, LandsOn]:
    """Return the nodes within the bottom that are drawn to end on a bulkhead, knee or transom."""
    number = {key: node for node, key in enumerate(beams.keys)}
    found: dict[int, LandsOn] = {}
    for span in ground.found.spans:
        if span.span is None:
            continue
        for end in (0, 1):
            on = span.span.landings[end].on
            for ends in span.nodes:
                found_node = ground.found.nodes[ends[end]]
                node = number.get(found_node.key)
                if (
                    on in _UPRIGHT
                    and not found_node.edge
                    and len(found_node.members) == 1
                    and node is not None
                ):
                    found[node] = on
    return found
