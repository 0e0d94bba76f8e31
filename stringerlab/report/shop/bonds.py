"""How the part is bonded to the hull: bead by bead how long, how thick, how much, and the outline to trace.

Lengths and volumes are the take-off's; what is to be laid fills the widest gap and presses out. mm, mm², mm³.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi, sqrt

from stringerlab.assess import section_facts
from stringerlab.assess.sections import sound_shape
from stringerlab.assess.takeoff import Item, TakeOff
from stringerlab.layout.plan import Contact
from stringerlab.materials.records import Adhesive
from stringerlab.project import Project, Resolved, book_of
from stringerlab.project.bonding import adhesive_of
from stringerlab.project.finding import layout_in_use
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.report.shop.gaps import flange_count
from stringerlab.report.shop.members import runs_of
from stringerlab.report.shop.practice import Practice
from stringerlab.section import Section, bond_forms
from stringerlab.units import unit_named
from stringerlab.units.ranges import range_problems

_LITRE = unit_named("l").factor
IN_PLACE = "laminated in place: no bead"
NO_FLANGE = "no flange lies on the shell as drawn: no bead is counted"
NOT_TAKEN = "in no take-off: measure its bead off the part"
UP_THE_SIDE = "bonded up the hull's side too: that bead is not counted"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bead:
    """The beads of one member with one section."""

    name: str
    section: Section
    adhesive: Adhesive | None
    named: bool
    """Whether the section names its adhesive; else the book's usual one is taken."""
    widths: tuple[float, ...]
    """Of its flanges [mm]."""
    length: float
    """Of one flange, all alike members together [mm]."""
    count: int
    volume: float
    """Of the gap as drawn [mm³]."""
    laid: tuple[float, ...]
    """Cross-section of the bead laid under each flange [mm²]."""
    notes: tuple[str, ...] = ()

    @property
    def beads(self) -> float:
        """Length of all its beads [mm]."""
        return self.length * len(self.widths)

    @property
    def to_lay(self) -> float:
        """Volume to lay [mm³]."""
        return self.length * sum(self.laid)

    @property
    def ropes(self) -> tuple[float, ...]:
        """Diameter of a round bead of each cross-section laid [mm]."""
        return tuple(sqrt(4 * area / pi) for area in self.laid)


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """Of one adhesive, for all beads."""

    adhesive: Adhesive
    volume: float
    to_lay: float
    """With the adhesive's waste [mm³]."""
    cartridges: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bonds:
    """Every bead, what is laminated in place, and the adhesive of all."""

    beads: tuple[Bead, ...]
    without: tuple[tuple[str, str], ...]
    """Members without a bead, and why."""
    needed: tuple[Needed, ...]
    tolerance: float
    squeeze_out: float
    waste: float


def bonds(project: Project, resolved: Resolved, taken: TakeOff, practice: Practice) -> Bonds:
    """Return how a project's members are bonded.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    taken
        The take-off of the same project: lengths are its own.
    practice
        The size of a cartridge.
    """
    bonding = project.bonding
    sound = not range_problems(bonding)
    tolerance = bonding.gap_tolerance.value if sound else 0.0
    over = bonding.squeeze_out.value if sound else 0.0
    waste = 0.0 if range_problems(project.rates) else project.rates.adhesive_waste
    sections = {section.name: section for section in project.sections}
    by_id = _section_of(project, resolved)
    beads: list[Bead] = []
    without: list[tuple[str, str]] = []
    for name, items in _by_member(project, resolved, taken):
        section = by_id.get(items[0].id) or sections[items[0].section]
        made = _bead(project, resolved, name, section, items, (tolerance, over))
        if section.bead > 0 and made.widths:
            beads.append(made)
    has = {(bead.name, bead.section.id) for bead in beads}
    for run in runs_of(project):
        if (run.name, run.section.id) not in has:
            beaded, flanges = run.section.bead > 0, flange_count(resolved, run)
            without.append((run.name, IN_PLACE if not beaded else NOT_TAKEN if flanges else NO_FLANGE))
    return Bonds(
        beads=tuple(beads),
        without=tuple(dict.fromkeys(without)),
        needed=tuple(_needed(beads, waste, practice)),
        tolerance=tolerance,
        squeeze_out=over,
        waste=waste,
    )


def _section_of(project: Project, resolved: Resolved) -> dict[str, Section]:
    sections = {section.id: section for section in project.sections}
    return {
        case.span.id: sections[case.span.section] for case in resolved.spans if case.span.section in sections
    }


def _by_member(project: Project, resolved: Resolved, taken: TakeOff) -> Iterator[tuple[str, list[Item]]]:
    """Yield the take-off's items together where they are spans of one drawn member with one section."""
    layout = layout_in_use(project)
    owners: dict[str, str] = {}
    if layout is not None and resolved.found is not None:
        names = {member.id: member.name for member in layout.members}
        owners = {span.id: names[span.member] for span in resolved.found.spans}
    groups: dict[tuple[str, str], list[Item]] = {}
    for item in taken.members:
        key = owners.get(item.id, item.id) if item.id in owners else item.id
        groups.setdefault((key, item.section), []).append(item)
    for (key, _), items in groups.items():
        yield (key if items[0].id in owners else items[0].name), items


def _bead(
    project: Project,
    resolved: Resolved,
    name: str,
    section: Section,
    items: Sequence[Item],
    allowed: tuple[float, float],
) -> Bead:
    book = book_of(project)
    measured = section_facts(sound_shape(resolved, section), drawn_deadrise(section))
    widths = tuple(end - start for start, end in sorted(measured.bonded))
    tolerance, over = allowed
    laid = tuple(float(bond_forms.laid_bead(width, section.bead, tolerance, over)) for width in widths)
    layout = layout_in_use(project)
    sides = (
        {m.name for m in layout.members if m.contact is Contact.ALL_ROUND}
        if layout is not None
        else set[str]()
    )
    length = sum(item.length for item in items)
    return Bead(
        name=name,
        section=section,
        adhesive=adhesive_of(section, book),
        named=bool(section.adhesive),
        widths=widths,
        length=length,
        count=max(item.count for item in items),
        volume=length * section.bead * measured.bonded_width,
        laid=laid,
        notes=(UP_THE_SIDE,) if name in sides else (),
    )


def _needed(beads: Sequence[Bead], waste: float, practice: Practice) -> Iterator[Needed]:
    adhesives = {bead.adhesive.id: bead.adhesive for bead in beads if bead.adhesive is not None}
    for id_, adhesive in adhesives.items():
        mine = [bead for bead in beads if bead.adhesive is not None and bead.adhesive.id == id_]
        to_lay = sum(bead.to_lay for bead in mine) * (1 + waste)
        yield Needed(
            adhesive=adhesive,
            volume=sum(bead.volume for bead in mine),
            to_lay=to_lay,
            cartridges=to_lay / (practice.cartridge.value * _LITRE),
        )
