"""What is laid, where, in which order from the mould: every laminate of members and hull zones, ply by ply.

mm, deg as typed, g/m² dry, parts of 1. Thickness without gel coat unless said.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees

import numpy as np

from stringerlab.assess import section_facts
from stringerlab.assess.sections import sound_shape
from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    PlyNumbers,
    Stack,
    glass_content,
    thickness,
    thickness_with_gel,
)
from stringerlab.laminate.records import Laminate, Role
from stringerlab.layout.records import Surface, Zone
from stringerlab.materials import Book
from stringerlab.materials.records import PlyKind, Reinforcement
from stringerlab.project import Project, Resolved, book_of
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.report.shop.members import hull_bottom, in_use
from stringerlab.section import Section, portions

_CROSSED = (PlyKind.BIAXIAL, PlyKind.WOVEN_ROVING, PlyKind.DOUBLE_BIAS)
"""Kinds with fibres square to their axis 1 too; of a ±45 ply that axis is resolved with its 45° in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPly:
    """One ply as drawn up; its layers are one piece of cloth."""

    number: int
    name: str
    role: Role
    kind: PlyKind | None
    """Of the whole cloth; None for core and gel coat."""
    angle: float
    """Of the roll's length, from 0° [deg]."""
    directions: tuple[float, ...]
    """Of its fibres [deg]; none where they lie every way."""
    random: bool
    """Whether a layer of it is mat."""
    weight: float
    """Dry [g/m²]; 0 for core and gel coat."""
    thickness: float
    glass: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a laminate is laid: a wall of a section, or a zone of the hull."""

    name: str
    says: str
    """What it is, for a person."""
    zone: Zone | None = None
    length: float | None = None
    """Of a zone, along the boat [mm]."""
    width: float | None = None
    """Of a zone on the bottom, one side, in the skin at its widest [mm]; None where it is not known."""
    section: Section | None = None
    wall: str = ""
    widths: tuple[tuple[int, float], ...] = ()
    """Of a wall: number of every ply, and its width round the section [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamination:
    """A laminate with its plies and every place it is laid in."""

    id: str
    name: str
    plies: tuple[LaidPly, ...]
    thickness: float
    with_gel: float
    glass: float
    places: tuple[Place, ...]

    @property
    def cloths(self) -> int:
        """How many plies are no gel coat: what a taper is shared by."""
        return sum(ply.role is not Role.GEL_COAT for ply in self.plies)


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """Every laminate in use, in the order of the file, and what could not be scheduled."""

    laminations: tuple[Lamination, ...]
    left_out: tuple[str, ...]


def schedule(project: Project, resolved: Resolved) -> Schedule:
    """Return what is laid in the members in use and in the hull's zones.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    """
    book = book_of(project)
    places: dict[str, list[Place]] = {}
    left_out: list[str] = []
    for section in in_use(project):
        try:
            for laminate, place in _walls(resolved, section):
                places.setdefault(laminate, []).append(place)
        except StringerlabError as error:
            left_out += [f"section '{section.name}': {problem.what}" for problem in error.problems]
    for zone in project.zones:
        places.setdefault(zone.laminate, []).append(_zone(project, zone))
    made: list[Lamination] = []
    for laminate in project.laminates:
        if laminate.id not in places:
            continue
        stack = resolved.stacks.get(laminate.id)
        if stack is None:
            left_out.append(f"laminate '{laminate.name}': it cannot be made up; see the project's problems")
            continue
        made.append(_lamination(laminate, stack, book, places[laminate.id]))
    return Schedule(laminations=tuple(made), left_out=tuple(dict.fromkeys(left_out)))


def _lamination(laminate: Laminate, stack: Stack, book: Book, places: Sequence[Place]) -> Lamination:
    layers: dict[int, list[PlyNumbers]] = {}
    for number, ply in zip(stack.numbers, stack.plies, strict=True):
        layers.setdefault(number, []).append(ply)
    plies = tuple(
        _laid(number, held, book, laminate.plies[number - 1].material, laminate.plies[number - 1].angle)
        for number, held in layers.items()
    )
    return Lamination(
        id=laminate.id,
        name=laminate.name,
        plies=plies,
        thickness=thickness(stack),
        with_gel=thickness_with_gel(stack),
        glass=glass_content(stack),
        places=tuple(places),
    )


def _laid(number: int, layers: Sequence[PlyNumbers], book: Book, material: str, angle: float) -> LaidPly:
    found = book.find(material)
    kind = found.kind if isinstance(found, Reinforcement) else None
    mass = sum(ply.mass for ply in layers)
    dry = sum(ply.dry_weight for ply in layers)
    return LaidPly(
        number=number,
        name=material if found is None else found.name,
        role=layers[0].role,
        kind=kind,
        angle=angle if kind not in (None, PlyKind.MAT) else 0.0,
        directions=tuple(dict.fromkeys(turn for ply in layers for turn in directions(ply))),
        random=any(ply.kind is PlyKind.MAT for ply in layers),
        weight=dry,
        thickness=sum(ply.thickness for ply in layers),
        glass=dry / mass if mass > 0 else 0.0,
    )


def directions(ply: PlyNumbers) -> tuple[float, ...]:
    """Return where the fibres of a resolved ply lie [deg], above −90 to 90; none for mat and core."""
    if ply.role is not Role.REINFORCED or ply.kind is PlyKind.MAT or ply.kind is None:
        return ()
    own = (0.0, 90.0) if ply.kind in _CROSSED else (0.0,)
    turns = (round(degrees(ply.angle) + each, 6) for each in own)
    return tuple(90.0 - (90.0 - turn) % 180.0 for turn in turns)


def _walls(resolved: Resolved, section: Section) -> list[tuple[str, Place]]:
    shape = sound_shape(resolved, section)
    slope = drawn_deadrise(section)
    section_facts(shape, slope)
    widths: dict[str, dict[int, float]] = {wall.id: {} for wall in section.walls}
    for portion in portions(shape, slope):
        if portion.place >= 0:
            wall = next(each for each in shape.walls if each.id == portion.owner)
            number = wall.stack.numbers[portion.place]
            widths[portion.owner][number] = widths[portion.owner].get(number, 0.0) + portion.width
    return [
        (
            wall.laminate,
            Place(
                name=section.name,
                says=wall.name or f"wall {wall.id}",
                section=section,
                wall=wall.id,
                widths=tuple(widths[wall.id].items()),
            ),
        )
        for wall in section.walls
    ]


def _zone(project: Project, zone: Zone) -> Place:
    hull = hull_bottom(project)
    length, width = zone.forward - zone.aft, None
    if zone.surface is Surface.BOTTOM and hull is not None:
        aft, forward = max(zone.aft, float(hull.x[0])), min(zone.forward, float(hull.x[-1]))
        length = max(forward - aft, 0.0)
        width = _girth(project, zone, aft, forward)
    return Place(name=zone.name, says=f"hull, {zone.surface}", zone=zone, length=length, width=width)


def _girth(project: Project, zone: Zone, aft: float, forward: float) -> float | None:
    """Return the widest a zone of the bottom is on one side, at its ends and the stations between [mm]."""
    hull = hull_bottom(project)
    if hull is None or forward <= aft:
        return None
    x = np.array([aft, forward, *hull.x[(hull.x > aft) & (hull.x < forward)]])
    half = hull.half_beam(x)
    outer = half if zone.outboard is None else np.minimum(half, zone.outboard)
    return float((np.maximum(outer - (zone.inboard or 0.0), 0.0) / np.cos(hull.deadrise(x))).max())
