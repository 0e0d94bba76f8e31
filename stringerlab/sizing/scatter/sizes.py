"""A section's web area and crown over the thickness of its laminates, and sections made thicker. mm."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Role, Stack
from stringerlab.section import Facts, facts
from stringerlab.section.records import SectionShape
from stringerlab.workings import Array

_SIZED = (0.98, 1.0, 1.02)
"""Parts of a wall's fabric at which sizes are taken: straight on either side, with a bend as drawn.

Near enough that laminates drawn on one another still lie on one another, as they do in the boat.
"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sizes:
    """Facts that go by thickness: web area, the crown's width and thickness."""

    nominal: Array
    """(3,)."""
    parts: tuple[Array, ...]
    """Of each wall, the parts of its fabric's thickness (m,) at which …"""
    changes: tuple[Array, ...]
    """… they differ by so much (m, 3)."""
    webs: tuple[int, ...]
    """Places of the walls whose laminates are webs'."""
    spreading: float
    """By how much the base grows for a millimetre that the section stands higher."""

    def at(self, parts: Sequence[Array]) -> tuple[Array, Array, Array]:
        """Return web area, crown width and crown thickness at parts (n,) of every wall's fabric."""
        found = np.tile(self.nominal, (len(parts[0]), 1))
        for known, change, part in zip(self.parts, self.changes, parts, strict=True):
            for place, column in enumerate(change.T):
                if column.any():
                    found[:, place] += _straight(part, known, column)
        return found[:, 0], found[:, 1], found[:, 2]


def _straight(at: Array, known: Array, values: Array) -> Array:
    """Return values between known places, and straight on beyond them."""
    found = np.interp(at, known, values)
    for end, inner, beyond in ((0, 1, at < known[0]), (-1, -2, at > known[-1])):
        slope = (values[end] - values[inner]) / (known[end] - known[inner])
        found = np.where(beyond, values[end] + slope * (at - known[end]), found)
    return np.asarray(found, np.float64)


def sizes_of(shape: SectionShape, deadrise: float, known: Facts) -> tuple[Sizes, float]:
    """Return the sizes over one wall's thickness after another, and how far they miss all at once."""
    nominal, count = _three(known), len(shape.walls)
    at: list[Array] = []
    changes: list[Array] = []
    for place in range(count):
        found = [
            (part, _sized(shape, [part if wall == place else 1.0 for wall in range(count)], deadrise))
            for part in _SIZED
        ]
        sound = [(part, sizes) for part, sizes in found if sizes is not None]
        at.append(np.array([part for part, _ in sound]))
        changes.append(np.nan_to_num(np.stack([sizes - nominal for _, sizes in sound])))
    webs = tuple(
        place for place, wall in enumerate(shape.walls) if any(wall.stack == one for one in known.web_stacks)
    )
    sizes = Sizes(
        nominal=nominal,
        parts=tuple(at),
        changes=tuple(changes),
        webs=webs,
        spreading=_spreading(shape, deadrise, known),
    )
    error = 0.0
    for part in (0.96, 0.97, 1.03, 1.04):
        exact = _sized(shape, [part] * count, deadrise)
        if exact is not None:
            ours = np.concatenate(sizes.at([np.array([part])] * count))
            with np.errstate(invalid="ignore", divide="ignore"):
                error = max(error, float(np.nan_to_num(np.abs(ours / exact - 1), posinf=0.0).max()))
    return sizes, error


def _spreading(shape: SectionShape, deadrise: float, known: Facts) -> float:
    try:
        return (facts(raised(shape, deadrise, 1.0), deadrise).base_width - known.base_width) / 1.0
    except StringerlabError:
        return 0.0


def raised(shape: SectionShape, deadrise: float, by: float) -> SectionShape:
    """Return a section stood higher above the shell's face by so much, square to it [mm]."""
    dy, dz = -by * math.sin(deadrise), by * math.cos(deadrise)
    return replace(
        shape,
        walls=tuple(
            replace(wall, points=tuple((y + dy, z + dz) for y, z in wall.points)) for wall in shape.walls
        ),
        fills=tuple(
            replace(fill, points=tuple((y + dy, z + dz) for y, z in fill.points)) for fill in shape.fills
        ),
    )


def _sized(shape: SectionShape, parts: Sequence[float], deadrise: float) -> Array | None:
    try:
        return _three(facts(thicker(shape, parts), deadrise))
    except StringerlabError:
        return None


def _three(known: Facts) -> Array:
    return np.array([known.web_area, known.crown_width, known.crown_thickness])


def thicker(shape: SectionShape, parts: Sequence[float]) -> SectionShape:
    """Return a section whose walls' fabric is so many times as thick, wall by wall."""
    return replace(
        shape,
        walls=tuple(
            wall if part == 1 else replace(wall, stack=_thicker(wall.stack, part))
            for wall, part in zip(shape.walls, parts, strict=True)
        ),
    )


def _thicker(stack: Stack, part: float) -> Stack:
    return Stack(
        name=stack.name,
        plies=tuple(
            replace(ply, thickness=ply.thickness * part) if ply.role is Role.REINFORCED else ply
            for ply in stack.plies
        ),
    )


def _fabric(stack: Stack) -> float:
    return sum(ply.thickness for ply in stack.plies if ply.role is Role.REINFORCED)


def thicker_whole(shape: SectionShape, parts: Sequence[float]) -> SectionShape:
    """Return a section whose walls are so many times as thick in all, by their fabric alone."""
    by_fabric = [
        1.0
        if part == 1
        else 1 + (part - 1) * sum(ply.thickness for ply in wall.stack.plies) / _fabric(wall.stack)
        for wall, part in zip(shape.walls, parts, strict=True)
    ]
    return thicker(shape, by_fabric)
