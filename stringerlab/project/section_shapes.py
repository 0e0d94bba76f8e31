"""A section's drawing with its laminates and materials in place of their ids, and its size in a plan."""

import math
from collections.abc import Iterator, Mapping

from stringerlab.errors import StringerlabError
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate.records import Stack
from stringerlab.layout.found import MemberSize
from stringerlab.layout.plan import Layout, Member
from stringerlab.materials import Book, shipped
from stringerlab.materials.records import Solid
from stringerlab.project.bonding import bead_shear_modulus
from stringerlab.project.kept import Kept
from stringerlab.project.records import Project
from stringerlab.project.span_problems import member_height
from stringerlab.section import facts
from stringerlab.section.records import Fill, FillShape, Section, SectionShape, WallShape

_SIZES: Kept[MemberSize] = Kept(256)
_NOTHING = MemberSize(base_width=0.0, height=0.0)


def section_shape(section: Section, book: Book, stacks: Mapping[str, Stack]) -> SectionShape:
    """Return a section's shape; every laminate of its walls is among the stacks."""
    return SectionShape(
        name=section.name,
        walls=tuple(
            WallShape(
                id=wall.id,
                points=wall.points,
                fillets=wall.fillets,
                side=wall.side,
                closed=wall.closed,
                stack=stacks[wall.laminate],
                counted=wall.on_hull.counted if wall.on_hull else 1.0,
            )
            for wall in section.walls
        ),
        fills=tuple(_fill(fill, solid) for fill in section.fills if (solid := book.solid(fill.material))),
        laps=section.laps,
        bead=section.bead,
        bead_G=bead_shear_modulus(section, book),
    )


def drawn_deadrise(section: Section) -> float:
    """Return the slope of the shell a section is drawn on [rad]."""
    return math.radians(section.reference.deadrise) if section.reference else 0.0


def sections_of(member: Member) -> Iterator[str]:
    """Yield the ids of the sections along a member, from its first point on."""
    yield member.section
    for stretch in member.stretches:
        yield stretch.section


def member_sizes(project: Project, layout: Layout) -> dict[str, MemberSize]:
    """Return what the plan needs to know of every section a layout names, by id.

    One that is not there has no size at all; one with a fault has no base: what depends on it is not judged.
    """
    sections = {section.id: section for section in project.sections}
    found: dict[str, MemberSize] = {}
    for member in layout.members:
        for name in sections_of(member):
            if name not in found:
                section = sections.get(name)
                found[name] = _NOTHING if section is None else _size(project, section)
    return found


def _size(project: Project, section: Section) -> MemberSize:
    return _SIZES.get((section, project.laminates, project.materials), lambda: _measured(project, section))


def _measured(project: Project, section: Section) -> MemberSize:
    height = member_height(section) or 0.0
    book = Book.of(project.materials, shipped())
    needed = {wall.laminate for wall in section.walls}
    try:
        stacks = {each.id: resolved_laminate(each, book) for each in project.laminates if each.id in needed}
        if not needed <= set(stacks):
            return MemberSize(base_width=0.0, height=height)
        measured = facts(section_shape(section, book, stacks), drawn_deadrise(section))
    except StringerlabError:
        return MemberSize(base_width=0.0, height=height)
    return MemberSize(base_width=measured.base_width, height=height)


def _fill(fill: Fill, solid: Solid) -> FillShape:
    structural = solid.structural and solid.modulus is not None
    return FillShape(
        id=fill.id,
        points=fill.points,
        name=fill.name or solid.name,
        density=solid.density.value,
        modulus=solid.modulus.value if structural and solid.modulus else 0.0,
        strength=solid.strength.value if structural and solid.strength else None,
    )
