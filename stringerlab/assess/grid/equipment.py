"""What equipment does to the grid: loads by name, each with its full acceleration and at rest. N, N·mm, up.

A weight counts (1 + a) times, a the vertical acceleration in g: the equipment's own, else the method's at its
place. A tank presses with its head of water on its footprint, or its weight where that is more. Thrust acts
forward at its height: a couple on the feet, and a push along them. An outboard's thrust and weight turn the
longitudinals at the transom the same way, and add. A knee's load stands out from its member by its arm. A
gyro's torques come both ways. Lifting and blocking points push up, at rest unless an acceleration is entered.
The rest of the boat is taken as held at the grid's supports.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from stringerlab.assess.grid.acceleration import accelerations
from stringerlab.assess.grid.covering import on_pieces
from stringerlab.assess.grid.patches import Patches
from stringerlab.assess.grid.records import G_EARTH, Array, Beams, Ground, Index, unfolded
from stringerlab.assess.grid.shares import Shares
from stringerlab.assess.grid.standing import Standing, on_feet, standing
from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.layout import TransomLoad
from stringerlab.layout.found import Placed
from stringerlab.layout.plan import Equipment, EquipmentKind, MemberKind, Source
from stringerlab.methods import CraftRow, Method

WATER = 1025.0
"""kg/m³."""
OFF = 60.0
"""A foot further than this from the nearest member's middle line stands beside it [mm]."""
_SOURCES = {
    EquipmentKind.TANK: Source.TANKS,
    EquipmentKind.ENGINE: Source.MACHINERY,
    EquipmentKind.OUTBOARD: Source.MACHINERY,
    EquipmentKind.GYRO: Source.GYRO,
    EquipmentKind.DECK: Source.DECK,
    EquipmentKind.POINT: Source.DECK,
    EquipmentKind.KNEE: Source.DECK,
    EquipmentKind.LIFTING: Source.LIFTING,
    EquipmentKind.BLOCKING: Source.BLOCKING,
}
_UP = (EquipmentKind.LIFTING, EquipmentKind.BLOCKING)
"""What is loaded ashore: the acceleration at sea is not its."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Element:
    """One load: forces on stations of beams, at points of them, and couples on nodes."""

    name: str
    equipment: str
    source: Source
    stations: Array | None = None
    """(k,) N."""
    beam: Index = field(default_factory=lambda: np.zeros(0, np.intp))
    along: Array = field(default_factory=lambda: np.zeros(0))
    force: Array = field(default_factory=lambda: np.zeros(0))
    node: Index = field(default_factory=lambda: np.zeros(0, np.intp))
    couples: Array = field(default_factory=lambda: np.zeros((0, 3)))
    """Force up, couples about x and y, on those nodes."""
    both_ways: bool = False
    at_rest: float | None = None
    """What its weight at rest is of it; None for what is no weight."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Footing:
    """Forces on a foot, element by element: up, and along the laminate [N]."""

    stands: Standing
    foot: int
    up: tuple[float, ...]
    along: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standings:
    """Everything equipment does."""

    elements: tuple[Element, ...]
    footings: tuple[Footing, ...]
    transoms: tuple[tuple[int, TransomLoad], ...]
    """Of beams that end at the transom: beam, and what outboards put on it."""
    problems: tuple[Placed, ...]
    notes: tuple[str, ...]


def equipment_loads(
    ground: Ground, bottom: Bottom, beams: Beams, shares: Shares, method: Method, craft: CraftRow
) -> Standings:
    """Return what a layout's equipment does to its grid."""
    things = ground.layout.equipment
    asked = accelerations(method, craft, np.array([one.at[0] for one in things], float))
    elements: list[Element] = []
    footings: list[Footing] = []
    transoms: list[tuple[int, TransomLoad]] = []
    problems: list[Placed] = []
    notes: list[str] = []
    for one, by_method in zip(things, asked.tolist(), strict=True):
        a, said = _acceleration(one, by_method, method)
        notes += said
        if one.kind is EquipmentKind.OUTBOARD:
            hung = _outboard(one, a, ground, beams)
            if hung is None:
                problems.append(
                    _placed(
                        one, "No longitudinal reaches the transom to take it.", "Draw one to the transom."
                    )
                )
                continue
            elements.append(hung[0])
            transoms += hung[1]
            continue
        for stands in standing(one, bottom, beams):
            if not bottom.within(stands.feet, 1.0).any():
                problems.append(_placed(one, "It stands off the bottom.", "Move it onto the grid."))
                continue
            notes += _beside(stands)
            if one.length > 0 and one.breadth > 0 and one.kind in (EquipmentKind.TANK, EquipmentKind.DECK):
                elements.append(_footprint(stands, a, bottom, shares))
                continue
            made, feet = _on_feet(stands, a, beams)
            elements += made
            footings += feet
    return Standings(
        elements=tuple(elements),
        footings=tuple(footings),
        transoms=tuple(transoms),
        problems=tuple(problems),
        notes=tuple(dict.fromkeys(notes)),
    )


def _acceleration(one: Equipment, by_method: float, method: Method) -> tuple[float, list[str]]:
    """Return the acceleration [g] of an equipment, and what must be said of it."""
    if one.acceleration is not None:
        return one.acceleration, [f"{one.name}: {1 + one.acceleration:.3g} times its weight, as entered"]
    if one.kind in _UP:
        return 0.0, [
            f"{one.name}: its weight at rest, as nothing is entered for how it is lifted or set down"
        ]
    if not np.isfinite(by_method):
        return 0.0, [f"{one.name}: its weight at rest, as {method.name} gives no acceleration; enter one"]
    return by_method, [
        f"{one.name}: {1 + by_method:.3g} times its weight, 1 g and {method.name}'s acceleration"
    ]


def _placed(one: Equipment, what: str, remedy: str) -> Placed:
    return Placed(problem=Problem(what, f"{one.kind.value} '{one.name}' ({one.id})", remedy), at=one.at)


def _beside(stands: Standing) -> Iterator[str]:
    far = np.flatnonzero(stands.off > OFF)
    if len(far) and not (stands.equipment.length and stands.equipment.breadth):
        yield (
            f"{stands.name}: {len(far)} of {len(stands.off)} feet stand up to {stands.off.max():.0f} mm "
            "beside the nearest member, which takes their force; the panel under them is not judged for it"
        )


def _footprint(stands: Standing, a: float, bottom: Bottom, shares: Shares) -> Element:
    """Return a tank's head, or a weight on a footprint, shared as the bottom under it is."""
    one = stands.equipment
    flat = unfolded(bottom.deadrise(stands.middle[:1]), stands.middle[None])
    breadth = one.breadth / float(np.cos(bottom.deadrise(stands.middle[:1]))[0])
    weight = one.mass * G_EARTH / (one.length * breadth)
    head = WATER * 1e-9 * G_EARTH * one.head
    patch = Patches(
        middle=flat,
        way=np.array([[1.0, 0.0]]),
        half=np.array([[one.length / 2, breadth / 2]]),
        pressure=np.array([-max(weight, head) * (1 + a)]),
        whole=np.array([bool(_whole(one, stands, bottom))]),
        plan=np.zeros((1, 4, 2)),
        slid=np.zeros(1),
    )
    force = np.asarray(shares.to @ on_pieces(patch, shares.pieces).toarray())[:, 0]
    words = "head" if head > weight else "weight"
    return Element(
        name=f"{stands.name}: {words}",
        equipment=one.id,
        source=_SOURCES[one.kind],
        stations=force,
        at_rest=1 / (1 + a),
    )


def _whole(one: Equipment, stands: Standing, bottom: Bottom) -> bool:
    corners = stands.middle + np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * (
        one.length / 2,
        one.breadth / 2,
    )
    return bool(bottom.within(corners).all())


def _on_feet(stands: Standing, a: float, beams: Beams) -> tuple[list[Element], list[Footing]]:
    """Return the loads of equipment on its feet, and each foot's forces."""
    one = stands.equipment
    source, sign = _SOURCES[one.kind], 1.0 if one.kind in _UP else -1.0
    weight = sign * one.mass * G_EARTH * (1 + a)
    made: list[Element] = []
    ups: list[Array] = []

    def add(name: str, up: float, M_x: float, M_y: float, rest: float | None, *, both: bool = False) -> None:
        force, left = on_feet(stands, up, M_x, M_y)
        ups.append(force)
        if both:
            ups.append(-force)
        nodes = np.zeros(0, np.intp)
        couples = np.zeros((0, 3))
        if left.any():
            ends = beams.grid.beams[stands.beam]
            nodes = np.where(stands.along < 0.5, ends[:, 0], ends[:, 1])
            couples = np.tile([0.0, left[0], left[1]], (len(nodes), 1)) / len(nodes)
        made.append(
            Element(
                name=f"{stands.name}: {name}",
                equipment=one.id,
                source=source,
                beam=stands.beam,
                along=stands.along,
                force=force,
                node=nodes,
                couples=couples,
                both_ways=both,
                at_rest=rest,
            )
        )

    if weight:
        out = one.overhang if one.kind is EquipmentKind.KNEE else 0.0
        turned = weight * (out if stands.middle[1] >= 0 else -out)
        add("push" if sign > 0 else "weight", weight, turned, 0.0, None if sign > 0 else 1 / (1 + a))
    turns = (one.torque, one.pitching + one.thrust * one.height)
    if any(turns) or one.thrust:
        words = "torque" if one.kind is EquipmentKind.GYRO else "thrust and torque"
        add(words, 0.0, *turns, None, both=one.kind is EquipmentKind.GYRO)
    share = one.thrust / len(stands.feet)
    return made, [
        Footing(stands=stands, foot=foot, up=tuple(float(up[foot]) for up in ups), along=share)
        for foot in range(len(stands.feet))
    ]


def _outboard(
    one: Equipment, a: float, ground: Ground, beams: Beams
) -> tuple[Element, list[tuple[int, TransomLoad]]] | None:
    """Return an outboard's thrust and weight on longitudinals at the transom; None without any."""
    kinds = {member.id: member.kind for member in ground.layout.members}
    ends: dict[int, int] = {}
    for beam, (pair, number) in enumerate(zip(_pairs(beams), map(int, beams.span), strict=True)):
        if kinds[ground.found.spans[number].member] is MemberKind.LONGITUDINAL:
            ends |= {node: beam for node in pair if beams.edges[node] == "transom"}
    if not ends:
        return None
    nodes = sorted(ends, key=lambda node: float(beams.at[node, 1]))
    y = beams.at[nodes, 1]
    share = np.zeros(len(nodes))
    sides = (1.0, -1.0) if one.hand.value == "pair" else (-1.0,) if one.hand.value == "starboard" else (1.0,)
    for side in sides:
        _hang(share, y, side * abs(one.at[1]) if one.hand.value != "centreline" else one.at[1])
    weight, depth = one.mass * G_EARTH, max(-one.height, 0.0)
    turn = one.thrust * depth + weight * (1 + a) * one.overhang
    element = Element(
        name=f"{one.name}: thrust and weight",
        equipment=one.id,
        source=Source.MACHINERY,
        node=np.array(nodes, np.intp),
        couples=np.stack([-weight * (1 + a) * share, 0 * share, -turn * share], axis=1),
    )
    loads = [
        (
            ends[node],
            TransomLoad(
                thrust=one.thrust * part,
                weight=weight * part,
                depth=depth,
                overhang=one.overhang,
                times=min(1 + a, 12.0),
            ),
        )
        for node, part in zip(nodes, share.tolist(), strict=True)
        if part > 1e-9
    ]
    return element, loads


def _hang(share: Array, y: Array, at: float) -> None:
    """Add one outboard's parts: to the two longitudinals it hangs between, or to the outermost."""
    after = int(np.clip(np.searchsorted(y, at), 1, max(len(y) - 1, 1)))
    if len(y) == 1:
        share[0] += 1
        return
    part = float(np.clip((at - y[after - 1]) / max(y[after] - y[after - 1], 1e-9), 0, 1))
    share[after - 1] += 1 - part
    share[after] += part


def _pairs(beams: Beams) -> list[list[int]]:
    return [[int(node) for node in pair] for pair in beams.grid.beams]
