"""What a section takes by material, a millimetre of it or a length: before waste, price and labour.

Masses in kg, areas in mm², volumes in mm³. A fabric of several layers is one fabric of one width; its resin
is that of all its layers.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from stringerlab.laminate import Ply, PlyNumbers, mark_of
from stringerlab.materials import Book
from stringerlab.materials.records import Core, GelCoat, Reinforcement
from stringerlab.project import Project
from stringerlab.project.bonding import adhesive_of
from stringerlab.section import Facts, Portion, Section, SectionShape, portions
from stringerlab.units import unit_named
from stringerlab.workings import Known, weakest

_KG_PER_MM3 = unit_named("kg").factor / unit_named("m³").factor
"""kg/m³ × mm³, and g/m² per mm × mm³, in kg."""


class Sort(StrEnum):
    """What a material is in a take-off."""

    FABRIC = "fabric"
    RESIN = "resin"
    CORE = "core"
    GEL_COAT = "gel coat"
    FILL = "fill or block"
    ADHESIVE = "adhesive"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """How much of one material: mass [kg], area [mm²] of what is laid, volume [mm³] of what fills.

    Fabric has no volume and resin neither: they make the laminate together.
    """

    sort: Sort
    material: str
    mass: float
    area: float
    volume: float
    known: Known
    """How well its mass is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a length takes, material by material, and how long its beads are [mm]."""

    stuff: tuple[Stuff, ...]
    beads: float

    def along(self, length: float) -> "Taken":
        """Return what so many times as much takes: that of a length [mm], of a millimetre's."""
        stuff = tuple(
            replace(one, mass=length * one.mass, area=length * one.area, volume=length * one.volume)
            for one in self.stuff
        )
        return Taken(stuff=stuff, beads=length * self.beads)


def taken_of(project: Project, book: Book, section: Section, shape: SectionShape, facts: Facts) -> Taken:
    """Return what a millimetre of a section takes.

    Parameters
    ----------
    project, book
        The document and its materials.
    section, shape
        A sound section as drawn and resolved.
    facts
        Its sizes.
    """
    found = portions(shape, facts.deadrise)
    stuff = [*_of_walls(project, book, section, shape, found), *_of_fills(book, section, found)]
    adhesive = adhesive_of(section, book)
    if adhesive is None or not facts.bonded:
        return Taken(stuff=summed(stuff), beads=0.0)
    volume = section.bead * facts.bonded_width
    bead = Stuff(
        sort=Sort.ADHESIVE,
        material=adhesive.id,
        mass=volume * adhesive.density.value * _KG_PER_MM3,
        area=facts.bonded_width,
        volume=volume,
        known=adhesive.density.known,
    )
    return Taken(stuff=summed([*stuff, bead]), beads=float(len(facts.bonded)))


def together(many: Sequence[Taken]) -> Taken:
    """Return the sum."""
    return Taken(
        stuff=summed([one for taken in many for one in taken.stuff]),
        beads=sum(taken.beads for taken in many),
    )


def _of_walls(
    project: Project, book: Book, section: Section, shape: SectionShape, found: Sequence[Portion]
) -> Iterator[Stuff]:
    laminates = {laminate.id: laminate for laminate in project.laminates}
    walls = {
        wall.id: (laminates[wall.laminate], drawn.stack)
        for wall, drawn in zip(section.walls, shape.walls, strict=True)
    }
    for portion in found:
        if portion.place >= 0:
            laminate, stack = walls[portion.owner]
            number = stack.numbers[portion.place]
            yield from _of_ply(laminate.plies[number - 1], stack.plies[portion.place], portion, book)


def _of_ply(ply: Ply, numbers: PlyNumbers, portion: Portion, book: Book) -> Iterator[Stuff]:
    mass = portion.area * numbers.mass / numbers.thickness * _KG_PER_MM3
    material = book.find(ply.material)
    if isinstance(material, Core | GelCoat):
        yield Stuff(
            sort=Sort.CORE if isinstance(material, Core) else Sort.GEL_COAT,
            material=material.id,
            mass=mass,
            area=portion.width,
            volume=portion.area,
            known=material.density.known,
        )
    if not isinstance(material, Reinforcement):
        return
    known = weakest([material.known, mark_of(numbers, "thickness")])
    dry = mass * numbers.dry_weight / numbers.mass
    yield Stuff(sort=Sort.FABRIC, material=material.id, mass=dry, area=portion.width, volume=0.0, known=known)
    yield Stuff(sort=Sort.RESIN, material=material.resin, mass=mass - dry, area=0.0, volume=0.0, known=known)


def _of_fills(book: Book, section: Section, found: Sequence[Portion]) -> Iterator[Stuff]:
    materials = {fill.id: fill.material for fill in section.fills}
    for portion in found:
        solid = book.solid(materials[portion.owner]) if portion.place < 0 else None
        if solid is not None:
            yield Stuff(
                sort=Sort.FILL,
                material=solid.id,
                mass=portion.area * solid.density.value * _KG_PER_MM3,
                area=0.0,
                volume=portion.area,
                known=solid.density.known,
            )


def summed(stuff: Sequence[Stuff]) -> tuple[Stuff, ...]:
    """Return one of each material, by sort and then in the order in which they come."""
    found: dict[tuple[Sort, str], list[Stuff]] = {}
    for one in sorted(stuff, key=lambda one: list(Sort).index(one.sort)):
        found.setdefault((one.sort, one.material), []).append(one)
    return tuple(
        Stuff(
            sort=sort,
            material=material,
            mass=sum(one.mass for one in held),
            area=sum(one.area for one in held),
            volume=sum(one.volume for one in held),
            known=weakest(one.known for one in held),
        )
        for (sort, material), held in found.items()
    )
