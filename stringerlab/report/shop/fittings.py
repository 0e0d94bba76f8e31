"""Blocks under machinery, fills within sections, holes through webs: what, where, how big. mm."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import TakeOff
from stringerlab.drawing.plan_shapes import at_parts, clean, distances
from stringerlab.layout.openings import Opening
from stringerlab.layout.plan import Equipment, Hand, Insert
from stringerlab.layout.plan_lines import standing
from stringerlab.materials.records import Solid
from stringerlab.project import Project, book_of
from stringerlab.project.finding import layout_in_use
from stringerlab.report.shop.members import runs_of
from stringerlab.section import Fill, Section


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockAtFoot:
    """One foot of a piece of equipment, and the block laminated in under it."""

    equipment: str
    kind: str
    foot: int
    x: float
    y: float
    """To port above 0 [mm]."""
    insert: Insert | None
    """None where the equipment states none."""
    material: str
    """Name; empty where none is stated, or the book has it not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockInSection:
    """A fill or block that runs along members of a section."""

    section: Section
    fill: Fill
    material: str
    solid: Solid | None
    width: float
    height: float
    """Of what bounds its outline, in the section's axes [mm]."""
    members: tuple[str, ...]
    length: float
    """Of all members together, as the take-off counts them [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleAt:
    """One hole through every web of a member."""

    member: str
    hand: str
    opening: Opening
    along: float
    """From the member's first point, in plan; of a span given by hand from its aft or inboard end [mm]."""
    x: float | None
    y: float | None
    """In plan; None of a span given by hand."""
    count: int = 1


def blocks_at_feet(project: Project) -> tuple[BlockAtFoot, ...]:
    """Return a row a foot of everything with feet or a block, on both sides of the boat."""
    layout = layout_in_use(project)
    if layout is None:
        return ()
    book = book_of(project)

    def name(insert: Insert | None) -> str:
        solid = book.solid(insert.material) if insert is not None and insert.material else None
        return "" if solid is None else solid.name

    return tuple(
        BlockAtFoot(
            equipment=one.name,
            kind=str(one.kind),
            foot=number,
            x=x,
            y=y,
            insert=one.insert,
            material=name(one.insert),
        )
        for one in layout.equipment
        if one.insert is not None or one.feet
        for number, (x, y) in enumerate(_feet(one), start=1)
    )


def _feet(one: Equipment) -> Iterator[tuple[float, float]]:
    """Yield the places of a piece's feet in plan, port first."""
    at = np.array(one.at, float)
    own = at + np.array(one.feet or ((0.0, 0.0),), float)
    port = own if one.at[1] >= 0 else own * (1, -1)
    match one.hand:
        case Hand.CENTRELINE:
            sides = [own]
        case Hand.PORT:
            sides = [port]
        case Hand.STARBOARD:
            sides = [port * (1, -1)]
        case Hand.PAIR:
            sides = [port, port * (1, -1)]
    for side in sides:
        yield from ((x, y) for x, y in side.tolist())


def blocks_in_sections(project: Project, taken: TakeOff) -> tuple[BlockInSection, ...]:
    """Return every fill of the sections in use, with the members it runs along and how far."""
    book, runs = book_of(project), runs_of(project)
    found: list[BlockInSection] = []
    for section in project.sections:
        names = tuple(dict.fromkeys(run.name for run in runs if run.section.id == section.id))
        if not names:
            continue
        length = sum(item.length for item in taken.members if item.section == section.name)
        for fill in section.fills:
            solid = book.solid(fill.material)
            points = np.array(fill.points, float)
            wide, high = np.ptp(points, axis=0).tolist()
            found.append(
                BlockInSection(
                    section=section,
                    fill=fill,
                    material=fill.material if solid is None else solid.name,
                    solid=solid,
                    width=wide,
                    height=high,
                    members=names,
                    length=length,
                )
            )
    return tuple(found)


def fill_total(taken: TakeOff) -> tuple[tuple[str, float, float], ...]:
    """Return name, volume [mm³] and mass [kg] of every material that fills sections, by the take-off."""
    return tuple((one.name, one.volume, one.mass) for one in taken.total.amounts if one.sort is Sort.FILL)


def holes(project: Project) -> tuple[HoleAt, ...]:
    """Return every hole of the members drawn, by member and side, then of the spans given by hand."""
    found: list[HoleAt] = []
    layout = layout_in_use(project)
    for member in layout.members if layout is not None else ():
        lines = [line for line in map(clean, standing(member)) if len(line) > 1]
        for number, line in enumerate(lines):
            hand = ("port", "starboard")[number] if len(lines) == 2 else str(member.hand)
            whole = float(distances(line)[-1])
            for opening in sorted(member.openings, key=lambda each: each.x):
                x, y = at_parts(line, np.array([min(opening.x / whole, 1.0)]))[0].tolist()
                found.append(
                    HoleAt(member=member.name, hand=hand, opening=opening, along=opening.x, x=x, y=y)
                )
    found += [
        HoleAt(
            member=span.name,
            hand="",
            opening=opening,
            along=opening.x,
            x=None,
            y=None,
            count=span.count,
        )
        for span in project.spans
        for opening in sorted(span.openings, key=lambda each: each.x)
    ]
    return tuple(found)
