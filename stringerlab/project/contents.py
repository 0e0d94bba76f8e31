"""What a project holds by id, and which of it refers to which: the base of problems and edits alike."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from stringerlab.laminate.records import Laminate
from stringerlab.layout.records import Panel, Span, Zone
from stringerlab.materials.records import Adhesive, Core, Fibre, GelCoat, Reinforcement, Resin, Solid
from stringerlab.project.places import SINGULAR, Path
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Section, Wall

Material = Resin | Fibre | Reinforcement | Core | GelCoat | Solid | Adhesive
Part = Wall | Fill
"""What stands in a section."""
Record = Laminate | Zone | Section | Panel | Span | Material
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
}
PARTS: dict[type[Part], str] = {Wall: "walls", Fill: "fills"}

PLY = ("reinforcement", "core", "gel coat")
"""What a ply may be of."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A record with an id, and its path in the project."""

    path: Path
    record: Record | Part

    @property
    def kind(self) -> str:
        """The word for what it is: ``wall``."""
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


def owner(path: Path) -> Path:
    """Return the path of the record of a list of its own that a path leads into: a wall's section."""
    return path[:3] if path[:1] == ("materials",) else path[:2]


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
