"""A laminate as pictures: its plies to scale with their fibre directions, and its stiffness all round. mm."""

from math import cos, pi, radians, sin

import numpy as np

from stringerlab.drawing.dimensions import dimension
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Shape, Ticks
from stringerlab.drawing.sketches import ply_role
from stringerlab.laminate import abd, ply_thicknesses, thickness, thickness_with_gel
from stringerlab.laminate.records import PlyNumbers, Stack
from stringerlab.laminate.records import Role as Does
from stringerlab.laminate.stiffness import solved
from stringerlab.materials.records import PlyKind
from stringerlab.units import Kind, System, rounded, trimmed, unit_named
from stringerlab.units import format as shown
from stringerlab.workings import Array

ASPECT = 1.35
"""Width of the drawn strip over the laminate's thickness."""
AT_EASE = 8
"""Plies whose names have room beside the laminate; those of more are fanned out above and below it."""
RADIUS = 100.0
"""Of the outermost ring [mm]."""
DIRECTIONS = 180
"""Directions round the circle at which stiffness is drawn."""
_TURNS = {PlyKind.BIAXIAL: (0.0, 90.0), PlyKind.WOVEN_ROVING: (0.0, 90.0), PlyKind.DOUBLE_BIAS: (0.0, 90.0)}
"""Where the fibres of a kind lie from its axis 1 [deg]; that of a ±45 ply is turned by 45° already."""
_MAT_TURN = 137.508
"""Golden angle: a mat's fibres lie in no direction more than in another [deg]."""
_AROUND = ((0, 1, 0), (45, 1, 1), (90, 0, 1), (135, -1, 1), (180, -1, 0), (270, 0, -1))
"""Directions named round the circle, and the side of their point their words stand on."""
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def laminate_picture(stack: Stack, *, units: System = System.METRIC) -> Picture:
    """Return a laminate cut through: the mould at the bottom, plies to scale, their names at the right.

    Strokes in a ply show its fibres as seen from the mould's side, x to the right. ``ply/3`` is the third as
    drawn up; the layers of one fabric are each drawn, and all are that ply.

    Parameters
    ----------
    stack
        The laminate.
    units
        Units of the figures.
    """
    total = thickness_with_gel(stack)
    if not stack.plies or not total > 0:
        return Picture()
    width = ASPECT * total
    levels = np.concatenate([[0.0], np.cumsum(ply_thicknesses(stack))]).tolist()
    count = len(stack.plies)
    spread = max(1.0, count / AT_EASE)
    items: list[Item] = []
    for index, (number, ply) in enumerate(zip(stack.numbers, stack.plies, strict=True)):
        low, high = levels[index], levels[index + 1]
        subject = f"ply/{number}"
        ring = np.array([[0, low], [width, low], [width, high], [0, high]])
        tip = _ply_text(number, ply.name, ply, units)
        words = _ply_text(number, _short_name(stack, index), ply, units)
        items.append(Area(rings=(ring,), role=ply_role(ply), edge=Role.PLY_EDGE, subject=subject, tip=tip))
        items += _fibres(ply, low, high, width, subject)
        middle, beside = (low + high) / 2, total / 2 + ((index + 0.5) / count - 0.5) * total * spread
        elbow = np.array(
            [[width, middle], [1.035 * width, middle], [1.075 * width, beside], [1.1 * width, beside]]
        )
        items.append(Line(points=elbow, role=Role.GRID, subject=subject))
        items.append(Label(at=(1.11 * width, beside), text=words, align=1, small=count > 12, subject=subject))
    base = np.array([[0.0, 0.0], [width, 0.0]])
    items += [_mould(width), Line(points=base, role=Role.TOOL, tip="mould")]
    items.append(Label(at=(width / 2, -0.035 * total), text="mould", level=-1, small=True))
    laid = thickness(stack)
    words = shown(total, Kind.LENGTH, units, digits=3)
    if laid < total:
        words += f"\n{shown(laid, Kind.LENGTH, units, digits=3)}\nwithout\ngel coat"
    items += _height(total, -0.09 * width, words)
    return Picture(items=tuple(items))


def polar_picture(stack: Stack, *, units: System = System.METRIC) -> Picture:
    """Return a laminate's modulus in every direction in its plane, held flat, as a curve over rings.

    Parameters
    ----------
    stack
        The laminate.
    units
        Units of the rings' figures.

    Raises
    ------
    StringerlabError
        When the laminate has no stiffness.
    """
    angles = np.arange(2 * DIRECTIONS) * pi / DIRECTIONS
    E = moduli_round(stack, angles)
    unit = unit_named("GPa" if units is System.METRIC else "ksi", Kind.STRESS)
    step, rings = _ring_step(float(E.max()) / unit.factor)
    scale = RADIUS / (step * rings * unit.factor)
    items: list[Item] = [_ring(RADIUS * ring / rings) for ring in range(1, rings + 1)]
    for degrees in range(0, 180, 45):
        along = np.array([cos(radians(degrees)), sin(radians(degrees))])
        items.append(Line(points=np.array([-RADIUS * along, RADIUS * along]), role=Role.GRID))
    points = scale * E[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    items.append(Area(rings=(points,), role=Role.CURVE, edge=Role.CURVE, subject="polar"))
    for ring in range(1, rings + 1):
        at = RADIUS * ring / rings
        if rings > 4 and (rings - ring) % 2:  # every second one where rings lie close
            continue
        text = trimmed(step * ring) + (f" {unit.symbol}" if ring == rings else "")
        place = radians(-112.5)
        items.append(Label(at=(at * cos(place), at * sin(place)), text=text, small=True))
    for degrees, align, level in (
        (0, 1, 0),
        (45, 1, 1),
        (90, 0, 1),
        (135, -1, 1),
        (180, -1, 0),
        (270, 0, -1),
    ):
        at = 1.04 * RADIUS
        words = f"{degrees}°" if degrees <= 135 else {180: "180°", 270: "−90°"}[degrees]
        items.append(
            Label(
                at=(at * cos(radians(degrees)), at * sin(radians(degrees))),
                text=f"{words}  x" if degrees == 0 else words,
                role=Role.DIMENSION,
                align=align,
                level=level,
            )
        )
    for direction, name in ((0, "Ex"), (DIRECTIONS // 2, "Ey")):
        y, z = points[direction].tolist()
        words = f"{name} {rounded(float(E[direction]) / unit.factor, 3)} {unit.symbol}"
        items.append(Mark(at=(y, z), shape=Shape.CIRCLE, role=Role.CURVE, subject=name, tip=words))
        inward = (-1, 1) if direction == 0 else (1, -1)
        items.append(
            Label(at=(y, z), text=name, role=Role.CURVE, align=inward[0], level=inward[1], subject=name)
        )
    return Picture(items=tuple(items))


def moduli_round(stack: Stack, angles: Array) -> Array:
    """Return the modulus of a laminate held flat along directions in its plane (n,) [MPa].

    Parameters
    ----------
    stack
        The laminate.
    angles
        Directions from x (n,) [rad].

    Raises
    ------
    StringerlabError
        When the laminate has no stiffness.
    """
    compliance = solved(abd(stack)[:3, :3], np.eye(3))
    c, s = np.cos(angles), np.sin(angles)
    along = np.stack([c * c, s * s, c * s], axis=1)
    return np.asarray(1 / (thickness(stack) * np.einsum("ni,ij,nj->n", along, compliance, along)))


def _short_name(stack: Stack, index: int) -> str:
    """Return a ply's name; of a fabric's layers the last laid, which stands above them, says the fabric."""
    ply = stack.plies[index]
    if not ply.layer or ply.kind is None:
        return ply.name
    above = stack.numbers[index + 1 : index + 2]
    if above == (stack.numbers[index],):
        return ply.kind.value
    return f"{ply.name.removesuffix(f', {ply.layer}')}: {ply.kind.value}"


def _ply_text(number: int, name: str, ply: PlyNumbers, units: System) -> str:
    words = f"{number}  {name}"
    if ply.role is Does.REINFORCED and ply.kind is not PlyKind.MAT:
        words += f"  {trimmed(ply.angle * 180 / pi, 4)}°"
    return f"{words}  {shown(ply.thickness, Kind.LENGTH, units, digits=3)}"


def _fibres(ply: PlyNumbers, low: float, high: float, width: float, subject: str) -> list[Item]:
    """Return strokes along the fibres: two ways for what is woven or crossed, every way for mat."""
    if ply.role is not Does.REINFORCED:
        return []
    half = 0.36 * min(high - low, width / 24)
    places = np.arange(2.4 * half, width - 2 * half, max(5.2 * half, width / 40))
    count = len(places)
    if not count:
        return []
    middles = np.stack([places, np.full(count, (low + high) / 2)], axis=1)
    if ply.kind is PlyKind.MAT:
        turns = np.radians(_MAT_TURN) * np.arange(count)[:, None]
    else:
        own = np.radians(_TURNS.get(ply.kind, (0.0,)) if ply.kind else (0.0,))
        turns = np.repeat((ply.angle + own)[None, :], count, axis=0)
    ways = np.stack([np.cos(turns), np.sin(turns)], axis=2) * half
    starts = (middles[:, None] - ways).reshape(-1, 2)
    ends = (middles[:, None] + ways).reshape(-1, 2)
    return [Ticks(starts=starts, ends=ends, role=Role.FIBRE, subject=subject)]


def _mould(width: float) -> Ticks:
    starts = np.stack([np.linspace(0.015, 0.985, 28) * width, np.zeros(28)], axis=1)
    return Ticks(starts=starts, ends=starts + np.array([0.6, -1.0]), role=Role.MOULD_FACE, size=1.2)


def _height(total: float, place: float, words: str) -> list[Item]:
    """Return the thickness, dimensioned at the left."""
    found = dimension((0.0, 0.0), (0.0, total), -place, words).items
    return [
        Label(at=item.at, text=item.text, role=item.role, align=-1, small=True)
        if isinstance(item, Label)
        else item
        for item in found
    ]


def _ring(radius: float) -> Line:
    turns = np.arange(120) * pi / 60
    points: Points = radius * np.stack([np.cos(turns), np.sin(turns)], axis=1)
    return Line(points=points, role=Role.GRID, closed=True)


def _ring_step(greatest: float) -> tuple[float, int]:
    """Return a round step and how many of it hold a value: three to five rings."""
    power = 10.0 ** np.floor(np.log10(greatest / 5))
    step = next(step * power for step in _STEPS if 5 * step * power >= greatest * (1 - 1e-12))
    return float(step), int(np.ceil(greatest / step * (1 - 1e-12)))
