"""Equipment on a plan, to scale, each kind by a shape of its own. x forward, y to port, mm."""

from collections.abc import Callable, Iterator

import numpy as np

from stringerlab.drawing.display import Area, Item, Label, Line, Points, Role
from stringerlab.layout.plan import Equipment, EquipmentKind, Hand, PlanPoint
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

_PLAIN = {
    EquipmentKind.TANK: (700.0, 500.0),
    EquipmentKind.ENGINE: (900.0, 600.0),
    EquipmentKind.OUTBOARD: (650.0, 450.0),
    EquipmentKind.GYRO: (550.0, 550.0),
    EquipmentKind.DECK: (800.0, 800.0),
    EquipmentKind.POINT: (160.0, 160.0),
    EquipmentKind.KNEE: (400.0, 300.0),
    EquipmentKind.LIFTING: (140.0, 140.0),
    EquipmentKind.BLOCKING: (300.0, 300.0),
}
"""Length and breadth at which one without a size of its own is drawn, which its tip says."""
_OVER = 60.0
"""How far a machine stands out over its feet [mm]."""
_FOOT = 45.0
"""Half of a foot that has no block [mm]."""
Lines = list[tuple[Points, bool]]
"""Points about the middle (n, 2), and whether they close."""


def places_of(thing: Equipment) -> tuple[PlanPoint, ...]:
    """Return where an equipment stands: a pair on both sides, to port first."""
    x, y = thing.at
    match thing.hand:
        case Hand.CENTRELINE:
            return ((x, y),)
        case Hand.PORT:
            return ((x, abs(y)),)
        case Hand.STARBOARD:
            return ((x, -abs(y)),)
        case Hand.PAIR:
            return ((x, abs(y)), (x, -abs(y)))


def extent(thing: Equipment) -> tuple[float, float, bool]:
    """Return the length and breadth an equipment is drawn at, and whether they are its own."""
    length, breadth = thing.length, thing.breadth
    if not (length > 0 and breadth > 0) and len(thing.feet) > 1:
        reach = 2 * (np.abs(np.array(thing.feet)).max(axis=0) + _OVER)
        length, breadth = max(length, float(reach[0])), max(breadth, float(reach[1]))
    if length > 0 and breadth > 0:
        return length, breadth, True
    plain = _PLAIN[thing.kind]
    return length or plain[0], breadth or plain[1], False


def symbol(thing: Equipment, *, named: bool = True, units: System = System.METRIC) -> Iterator[Item]:
    """Yield an equipment on every side it stands: its shape, its feet, its name.

    Parameters
    ----------
    thing
        The equipment.
    named
        Whether its name is written by it.
    units
        Of the weight in its tip.
    """
    length, breadth, own = extent(thing)
    body, details = _SHAPES[thing.kind](length / 2, breadth / 2)
    said = [thing.name or str(thing.kind), str(thing.kind)]
    if thing.mass > 0:
        said.append(shown(thing.mass, Kind.MASS, units))
    if not own:
        said.append("no size given")
    tip = ", ".join(dict.fromkeys(said))
    for at in places_of(thing):
        if not np.isfinite(at).all():
            continue
        side = -1.0 if at[1] < 0 else 1.0
        flip, middle = np.array([1.0, side]), np.array(at)
        ring = middle + body * flip
        yield Area(rings=(ring,), role=Role.EQUIPMENT, edge=Role.EQUIPMENT, subject=thing.id, tip=tip)
        for points, closed in details:
            line = middle + points * flip
            yield Line(points=line, role=Role.EQUIPMENT, closed=closed, subject=thing.id, tip=tip)
        mirrored = thing.at[1] * at[1] < 0
        for dx, dy in thing.feet:
            yield from _foot(thing, (at[0] + dx, at[1] + (-dy if mirrored else dy)))
    if named:
        x, y = places_of(thing)[0]
        if np.isfinite((x, y)).all():
            words = thing.name or str(thing.kind)
            yield Label(at=(x, y), text=words, role=Role.EQUIPMENT, small=True, level=1, subject=thing.id)


def _foot(thing: Equipment, at: PlanPoint) -> Iterator[Item]:
    half = np.array([thing.insert.length, thing.insert.width]) / 2 if thing.insert else np.full(2, _FOOT)
    corners = np.array(at) + half * [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    yield Area(
        rings=(corners,), role=Role.BLOCK, edge=Role.EQUIPMENT, subject=thing.id, tip=f"foot of {thing.name}"
    )


# -- shapes about their middle, by half length and half breadth ----------------------------------


def _box(a: float, b: float, cut: float = 0.0) -> Points:
    """Return a rectangle's corners, cut off by so much."""
    if cut <= 0:
        return np.array([(-a, -b), (a, -b), (a, b), (-a, b)], float)
    return np.array(
        [(-a + cut, -b), (a - cut, -b), (a, -b + cut), (a, b - cut), (a - cut, b), (-a + cut, b),
         (-a, b - cut), (-a, -b + cut)]
    )  # fmt: skip


def _round(radius: float, x: float = 0.0, y: float = 0.0, over: float = 1.0) -> Points:
    turns = np.arange(32) * np.pi / 16
    return np.stack([x + radius * np.cos(turns), y + over * radius * np.sin(turns)], axis=1)


def _stroke(*points: tuple[float, float]) -> tuple[Points, bool]:
    return np.array(points, float), False


def _tank(a: float, b: float) -> tuple[Points, Lines]:
    """A box with cut corners, two baffles and a filler."""
    cut = 0.16 * min(a, b)
    baffles = [_stroke((part * a, -b), (part * a, b)) for part in (-1 / 3, 1 / 3)]
    return _box(a, b, cut), [*baffles, (_round(0.16 * min(a, b), 0.66 * a, 0.5 * b), True)]


def _engine(a: float, b: float) -> tuple[Points, Lines]:
    """A block with its gearbox aft, its shaft, and its cylinders in two rows."""
    body = np.array(
        [(-0.55 * a, -0.7 * b), (a, -0.7 * b), (a, 0.7 * b), (-0.55 * a, 0.7 * b), (-0.7 * a, 0.35 * b),
         (-a, 0.35 * b), (-a, -0.35 * b), (-0.7 * a, -0.35 * b)]
    )  # fmt: skip
    radius = 0.13 * min(a, b)
    rows = [(_round(radius, x * a, y * b), True) for x in (-0.25, 0.2, 0.65) for y in (-0.35, 0.35)]
    return body, [*rows, _stroke((-a, 0.0), (-1.6 * a, 0.0))]


def _outboard(a: float, b: float) -> tuple[Points, Lines]:
    """A cowl behind its clamp, which is at the place, the propeller at its aft end."""
    turns = np.linspace(np.pi / 2, 3 * np.pi / 2, 17)
    back = np.stack([-0.2 * a + 0.8 * a * np.cos(turns), 0.8 * b * np.sin(turns)], axis=1)
    cowl = np.concatenate([[(0.6 * a, 0.55 * b)], back, [(0.6 * a, -0.55 * b)]]) - (0.8 * a, 0.0)
    blades = _stroke((-1.95 * a, -0.6 * b), (-1.95 * a, 0.6 * b))
    return cowl, [(_box(0.15 * a, b), True), blades, _stroke((-1.8 * a, 0.0), (-1.95 * a, 0.0))]


def _gyro(a: float, b: float) -> tuple[Points, Lines]:
    """A rotor in its frame, and the axis it leans about."""
    radius = 0.78 * min(a, b)
    return _box(a, b), [
        (_round(radius), True),
        (_round(radius, over=0.3), True),
        _stroke((0.0, -b), (0.0, b)),
    ]


def _deck(a: float, b: float) -> tuple[Points, Lines]:
    """A field with its diagonals."""
    return _box(a, b), [_stroke((-a, -b), (a, b)), _stroke((-a, b), (a, -b))]


def _point(a: float, b: float) -> tuple[Points, Lines]:
    """A target."""
    radius = min(a, b)
    return _round(radius), [_stroke((-radius, 0), (radius, 0)), _stroke((0, -radius), (0, radius))]


def _knee(a: float, b: float) -> tuple[Points, Lines]:
    """A triangle with its upright side outboard, a rib in it."""
    return np.array([(-a, b), (a, b), (0.0, -b)]), [_stroke((0.0, b), (0.0, -b))]


def _lifting(a: float, b: float) -> tuple[Points, Lines]:
    """A ring and the sling from it."""
    radius = min(a, b)
    return _round(radius), [(_round(0.5 * radius), True), _stroke((0.0, radius), (0.0, 2.2 * radius))]


def _blocking(a: float, b: float) -> tuple[Points, Lines]:
    """A keel block: three timbers."""
    return _box(a, b), [_stroke((part * a, -b), (part * a, b)) for part in (-1 / 3, 1 / 3)] + [
        _stroke((-a, 0.0), (a, 0.0))
    ]


_SHAPES: dict[EquipmentKind, Callable[[float, float], tuple[Points, Lines]]] = {
    EquipmentKind.TANK: _tank,
    EquipmentKind.ENGINE: _engine,
    EquipmentKind.OUTBOARD: _outboard,
    EquipmentKind.GYRO: _gyro,
    EquipmentKind.DECK: _deck,
    EquipmentKind.POINT: _point,
    EquipmentKind.KNEE: _knee,
    EquipmentKind.LIFTING: _lifting,
    EquipmentKind.BLOCKING: _blocking,
}
