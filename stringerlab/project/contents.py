"""What a project holds by id, and which of it refers to which: the base of problems and edits alike."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from stringerlab.laminate.records import Laminate
from stringerlab.layout.plan import (
    BayMark,
    Cavity,
    Combination,
    Equipment,
    Layout,
    Member,
    PlanLine,
    Source,
    SpanMark,
)
from stringerlab.layout.records import Panel, Span, Zone
from stringerlab.materials.records import Adhesive, Core, Fibre, GelCoat, Reinforcement, Resin, Solid
from stringerlab.project.places import SINGULAR, Path
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Section, Wall

Material = Resin | Fibre | Reinforcement | Core | GelCoat | Solid | Adhesive
LayoutPart = Member | PlanLine | Cavity | Equipment | Combination
"""What stands in a layout."""
Mark = BayMark | SpanMark
"""What keeps the id of something found in a layout."""
Part = Wall | Fill
"""What stands in a section."""
Held = Part | LayoutPart
"""What stands in a section or a layout."""
Record = Laminate | Zone | Section | Panel | Span | Layout | Material
"""What stands in a list of its own."""

LISTS: dict[type[Record], Path] = {
    Resin: ("materials", "resins"),
    Fibre: ("materials", "fibres"),
    Reinforcement: ("materials", "reinforcements"),
    Core: ("materials", "cores"),
    GelCoat: ("materials", "gel_coats"),
    Solid: ("materials", "solids"),
    Adhesive: ("materials", "adhesives"),
    Laminate: ("laminates",),
    Zone: ("zones",),
    Section: ("sections",),
    Panel: ("panels",),
    Span: ("spans",),
    Layout: ("layouts",),
}
PARTS: dict[type[Held], str] = {
    Wall: "walls",
    Fill: "fills",
    Member: "members",
    PlanLine: "lines",
    Cavity: "cavities",
    Equipment: "equipment",
    Combination: "combinations",
}
MARKS: dict[type[Mark], str] = {BayMark: "found panel", SpanMark: "found span"}
"""What stands in a layout's lists of marks, in a word."""
IN_LAYOUT = ("members", "lines", "cavities", "equipment", "combinations", "bays", "spans")
"""A layout's lists, in the order of the file."""
SOURCES = frozenset(str(source.value) for source in Source)

PLY = ("reinforcement", "core", "gel coat")
"""What a ply may be of."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A record with an id, and its path in the project."""

    path: Path
    record: Record | Held | Mark

    @property
    def kind(self) -> str:
        """The word for what it is: ``wall``."""
        if isinstance(self.record, BayMark | SpanMark):
            return MARKS[type(self.record)]
        return SINGULAR[str(self.path[-2])]


@dataclass(frozen=True, slots=True)
class Use:
    """One record's reference to another by id: where the id stands, and what kinds it may name."""

    path: Path
    id: str
    kinds: tuple[str, ...]


def things(project: Project) -> Iterator[Thing]:
    """Yield everything that has an id, in the order of the file."""
    for path in LISTS.values():
        held: object = project
        for step in path:
            held = getattr(held, str(step))
        for i, record in enumerate(cast(tuple[Record, ...], held)):
            yield Thing((*path, i), record)
            if isinstance(record, Section):
                yield from (Thing((*path, i, "walls", j), wall) for j, wall in enumerate(record.walls))
                yield from (Thing((*path, i, "fills", j), fill) for j, fill in enumerate(record.fills))
            elif isinstance(record, Layout):
                for name in IN_LAYOUT:
                    parts = cast(tuple[LayoutPart | Mark, ...], getattr(record, name))
                    yield from (Thing((*path, i, name, j), part) for j, part in enumerate(parts))


def owner(path: Path) -> Path:
    """Return the path of the record a path leads into: a wall's section, but a member, not its layout."""
    if path[:1] == ("materials",):
        return path[:3]
    inside = path[:1] == ("layouts",) and len(path) > 3 and path[2] in IN_LAYOUT
    return path[:4] if inside else path[:2]


def uses(project: Project) -> Iterator[Use]:
    """Yield every reference by id, in the order of the file; laps name walls of their own section."""
    for i, reinforcement in enumerate(project.materials.reinforcements):
        path = ("materials", "reinforcements", i)
        yield Use((*path, "fibre"), reinforcement.fibre, ("fibre",))
        yield Use((*path, "resin"), reinforcement.resin, ("resin",))
    for i, laminate in enumerate(project.laminates):
        for j, ply in enumerate(laminate.plies):
            yield Use(("laminates", i, "plies", j, "material"), ply.material, PLY)
    for i, zone in enumerate(project.zones):
        yield Use(("zones", i, "laminate"), zone.laminate, ("laminate",))
    for i, section in enumerate(project.sections):
        yield from _uses_of_section(section, ("sections", i))
    for i, panel in enumerate(project.panels):
        if panel.laminate:
            yield Use(("panels", i, "laminate"), panel.laminate, ("laminate",))
        if panel.pan is not None:
            yield Use(("panels", i, "pan", "laminate"), panel.pan.laminate, ("laminate",))
    for i, span in enumerate(project.spans):
        yield Use(("spans", i, "section"), span.section, ("section",))
        if span.plating:
            yield Use(("spans", i, "plating"), span.plating, ("laminate",))
    for i, layout in enumerate(project.layouts):
        yield from _uses_of_layout(layout, ("layouts", i))


def _uses_of_layout(layout: Layout, path: Path) -> Iterator[Use]:
    for j, member in enumerate(layout.members):
        here = (*path, "members", j)
        if member.section:
            yield Use((*here, "section"), member.section, ("section",))
        for k, stretch in enumerate(member.stretches):
            if stretch.section:
                yield Use((*here, "stretches", k, "section"), stretch.section, ("section",))
    for j, cavity in enumerate(layout.cavities):
        if cavity.foam:
            yield Use((*path, "cavities", j, "foam"), cavity.foam, ("solid",))
    for j, equipment in enumerate(layout.equipment):
        if equipment.insert is not None and equipment.insert.material:
            place = (*path, "equipment", j, "insert", "material")
            yield Use(place, equipment.insert.material, ("solid",))
    if layout.supports.side_laminate:
        yield Use((*path, "supports", "side_laminate"), layout.supports.side_laminate, ("laminate",))
    for j, combination in enumerate(layout.combinations):
        for k, part in enumerate(combination.parts):
            if part.of not in SOURCES:
                yield Use((*path, "combinations", j, "parts", k, "of"), part.of, ("equipment",))
    for j, mark in enumerate(layout.bays):
        here = (*path, "bays", j)
        if mark.laminate:
            yield Use((*here, "laminate"), mark.laminate, ("laminate",))
        if mark.pan is not None:
            yield Use((*here, "pan", "laminate"), mark.pan.laminate, ("laminate",))


def _uses_of_section(section: Section, path: Path) -> Iterator[Use]:
    for j, wall in enumerate(section.walls):
        yield Use((*path, "walls", j, "laminate"), wall.laminate, ("laminate",))
    for j, fill in enumerate(section.fills):
        yield Use((*path, "fills", j, "material"), fill.material, ("solid",))
    for j, lap in enumerate(section.laps):
        yield Use((*path, "laps", j, 0), lap[0], ("wall",))
        yield Use((*path, "laps", j, 1), lap[1], ("wall",))
    if section.adhesive:
        yield Use((*path, "adhesive"), section.adhesive, ("adhesive",))
    if section.reference is not None:
        yield Use((*path, "reference", "laminate"), section.reference.laminate, ("laminate",))
