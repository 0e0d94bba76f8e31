"""What is built in, bought, paid and worked: by material, for a metre of every section and for every member.

A member is a span: its section along its length, as many times as the boat has it. One found in a layout is
as long as it is built, no crossing counted twice; one given by hand as it is typed. Hull plating is in no
number: it belongs to the hull. kg, mm, h; money in the user's own currency.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from math import radians

from stringerlab.assess.built import built_lengths, length_notes
from stringerlab.assess.sections import section_facts, sound_shape
from stringerlab.assess.taken import Sort, Stuff, Taken, taken_of, together
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Price, Rates, Span
from stringerlab.materials import Book
from stringerlab.project import Project, Resolved, book_of, resolve
from stringerlab.project.bonding import BOOK_ADHESIVE
from stringerlab.section import Section
from stringerlab.units import Kind, trimmed, unit_named
from stringerlab.units.ranges import range_problems
from stringerlab.workings import Known

METRE = unit_named("m").factor
SQUARE_METRE = unit_named("m²").factor
NOT_HULL = "Hull plating is in no number: it belongs to the hull."


class Task(StrEnum):
    """What is worked at."""

    LAY_UP = "lay-up"
    GEL_COATING = "gel coating"
    BONDING = "bonding"
    FILLING = "filling"


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """How much of one material: built in, and bought with its waste."""

    sort: Sort
    material: str
    """Id."""
    name: str
    mass: float
    """Built in [kg]."""
    area: float
    """Of fabric, core or gel coat, of adhesive that bonded [mm²]; 0 for what has none."""
    volume: float
    """Of core, gel coat, fill or adhesive [mm³]; 0 for fabric and resin."""
    bought: float
    """[kg]."""
    per_kg: float | None
    """Price; None where the user has set none."""
    cost: float | None
    """Of what is bought."""
    known: Known
    """How well the mass is known: the weakest of what it comes from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Labour:
    """How much there is of one task, and how long it takes."""

    task: Task
    quantity: float
    """In the program's unit of ``kind``: kg of laminate or fills, mm² of gel coat, mm of bead."""
    kind: Kind
    hours: float | None
    """None where the user has set no rate."""
    cost: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A metre of a section, a member, or the sum of members."""

    id: str
    name: str
    section: str
    """Name of the section it is of; empty for a sum."""
    length: float
    """All of it [mm]."""
    count: int
    amounts: tuple[Amount, ...]
    labour: tuple[Labour, ...]

    def mass(self, *sorts: Sort) -> float:
        """Return what is built in of some sorts, of everything when none is given [kg]."""
        return sum(one.mass for one in self.amounts if not sorts or one.sort in sorts)

    def area(self, sort: Sort) -> float:
        """Return the area of a sort [mm²]."""
        return sum(one.area for one in self.amounts if one.sort is sort)

    def volume(self, sort: Sort) -> float:
        """Return the volume of a sort [mm³]."""
        return sum(one.volume for one in self.amounts if one.sort is sort)

    @property
    def bought(self) -> float:
        """What is bought [kg]."""
        return sum(one.bought for one in self.amounts)

    @property
    def material_cost(self) -> float | None:
        """Of the materials that have a price; None where none has."""
        return _sum(one.cost for one in self.amounts)

    @property
    def hours(self) -> float | None:
        """Of the tasks that have a rate; None where none has."""
        return _sum(one.hours for one in self.labour)

    @property
    def labour_cost(self) -> float | None:
        """Of the hours known; None where there are none, or an hour has no cost."""
        return _sum(one.cost for one in self.labour)

    @property
    def cost(self) -> float | None:
        """Of materials and labour, as far as they are priced; None where nothing is."""
        return _sum([self.material_cost, self.labour_cost])

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Names of materials without a price, and of tasks without a rate or without an hour's cost."""
        materials = (one.name for one in self.amounts if one.cost is None)
        return tuple(dict.fromkeys([*materials, *(str(one.task) for one in self.labour if one.cost is None)]))


@dataclass(frozen=True, slots=True, kw_only=True)
class NotCounted:
    """A section or member that is in no sum, and why."""

    id: str
    name: str
    kind: str
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOff:
    """The take-off of a project."""

    project: Project
    sections: tuple[Item, ...]
    """A metre of each sound section."""
    members: tuple[Item, ...]
    total: Item
    """Of all members counted."""
    not_counted: tuple[NotCounted, ...]
    problems: tuple[Problem, ...]
    """What is wrong with the rates; wrong ones are left out."""
    notes: tuple[str, ...]
    """What a reader of the numbers must know."""


def take_off(project: Project, resolved: Resolved | None = None) -> TakeOff:
    """Return what a project's sections and members take.

    Parameters
    ----------
    project
        The document.
    resolved
        The same with ids swapped for objects, where it is at hand.
    """
    resolved = resolved or resolve(project)
    book = book_of(project)
    rates, problems = _sound_rates(project.rates, book)
    priced = partial(_item, book=book, rates=rates)
    per_mm: dict[str, Taken] = {}
    left_out: list[NotCounted] = []
    for section in project.sections:
        try:
            shape = sound_shape(resolved, section)
            slope = radians(section.reference.deadrise) if section.reference else 0.0
            per_mm[section.id] = taken_of(project, book, section, shape, section_facts(shape, slope))
        except StringerlabError as error:
            left_out.append(_left_out(section, "section", error.problems))
    names = {section.id: section.name for section in project.sections}
    wrong = {one.id: one.problems for one in left_out}
    built = built_lengths(project, resolved)
    counted: list[tuple[Span, float, Taken]] = []
    spans = [subject for subject in resolved.subjects if isinstance(subject, Span)]
    for span in spans:
        found = tuple(range_problems(span, f"span '{span.name}' ({span.id})"))
        if found or span.section not in per_mm:
            left_out.append(_left_out(span, "span", found or wrong.get(span.section) or [_no_section(span)]))
        else:
            length = built.get(span.id, span.lu * span.count)
            counted.append((span, length, per_mm[span.section].along(length)))
    members = tuple(
        priced(span.id, span.name, names[span.section], taken, length, span.count)
        for span, length, taken in counted
    )
    whole = together([taken for _, _, taken in counted])
    return TakeOff(
        project=project,
        sections=tuple(
            priced(section.id, section.name, section.name, per_mm[section.id].along(METRE), METRE)
            for section in project.sections
            if section.id in per_mm
        ),
        members=members,
        total=priced(
            "", "All members", "", whole, sum(m.length for m in members), sum(m.count for m in members)
        ),
        not_counted=tuple(left_out),
        problems=tuple(problems),
        notes=(
            NOT_HULL,
            *length_notes(project, resolved, spans),
            *_notes(project, spans, book, rates, whole),
        ),
    )


def priced_taken(project: Project, taken: Taken, name: str) -> Item:
    """Return what is taken, with waste, price and labour by a project's rates; wrong rates are left out."""
    book = book_of(project)
    rates, _ = _sound_rates(project.rates, book)
    return _item("", name, "", taken, 0.0, book=book, rates=rates)


def _item(
    id: str,  # noqa: A002
    name: str,
    section: str,
    taken: Taken,
    length: float,
    count: int = 1,
    *,
    book: Book,
    rates: Rates,
) -> Item:
    return Item(
        id=id,
        name=name,
        section=section,
        length=length,
        count=count,
        amounts=tuple(_amount(one, book, rates) for one in taken.stuff),
        labour=tuple(_labour(taken, rates)),
    )


def _amount(stuff: Stuff, book: Book, rates: Rates) -> Amount:
    bought = stuff.mass * (1 + _waste(stuff.sort, rates))
    per_kg = next((price.per_kg for price in rates.prices if price.material == stuff.material), None)
    material = book.find(stuff.material)
    return Amount(
        sort=stuff.sort,
        material=stuff.material,
        name=stuff.material if material is None else material.name,
        mass=stuff.mass,
        area=stuff.area,
        volume=stuff.volume,
        bought=bought,
        per_kg=per_kg,
        cost=None if per_kg is None else bought * per_kg,
        known=stuff.known,
    )


def _waste(sort: Sort, rates: Rates) -> float:
    match sort:
        case Sort.FABRIC | Sort.CORE:
            return rates.fabric_waste
        case Sort.RESIN | Sort.GEL_COAT:
            return rates.resin_waste
        case Sort.ADHESIVE:
            return rates.adhesive_waste
        case Sort.FILL:
            return 0.0


def _labour(taken: Taken, rates: Rates) -> Iterator[Labour]:
    """Yield the tasks there is anything of."""

    def mass(*sorts: Sort) -> float:
        return sum(one.mass for one in taken.stuff if one.sort in sorts)

    coated = sum(one.area for one in taken.stuff if one.sort is Sort.GEL_COAT)
    for task, quantity, kind, per, rate in (
        (Task.LAY_UP, mass(Sort.FABRIC, Sort.RESIN, Sort.CORE), Kind.MASS, 1.0, rates.lay_up),
        (Task.GEL_COATING, coated, Kind.AREA, SQUARE_METRE, rates.gel_coating),
        (Task.BONDING, taken.beads, Kind.LENGTH, METRE, rates.bonding),
        (Task.FILLING, mass(Sort.FILL), Kind.MASS, 1.0, rates.filling),
    ):
        if quantity > 0:
            hours = quantity / per * rate if rate > 0 else None
            cost = hours * rates.hour if hours is not None and rates.hour > 0 else None
            yield Labour(task=task, quantity=quantity, kind=kind, hours=hours, cost=cost)


def _sound_rates(rates: Rates, book: Book) -> tuple[Rates, list[Problem]]:
    """Return the rates that can be used, and what is wrong with the others."""
    problems = list(range_problems(rates, "rates"))
    sound = Rates(currency=rates.currency) if problems else rates
    kept: dict[str, Price] = {}
    for number, price in enumerate(rates.prices, start=1):
        where = f"rates, price {number}"
        if price.material in kept:
            problems.append(Problem(f"'{price.material}' is priced before; the first counts.", where))
        elif book.find(price.material) is None:
            problems.append(Problem(f"There is no material '{price.material}'.", where, "Take it out."))
        elif not range_problems(price):
            kept[price.material] = price
    return replace(sound, prices=tuple(kept.values())), problems


def _left_out(thing: Section | Span, kind: str, problems: Sequence[Problem]) -> NotCounted:
    return NotCounted(id=thing.id, name=thing.name, kind=kind, problems=tuple(problems))


def _no_section(span: Span) -> Problem:
    where = f"span '{span.name}' ({span.id})"
    return Problem(f"There is no section '{span.section}'.", where, "Name one of the project's.")


def _notes(project: Project, spans: Sequence[Span], book: Book, rates: Rates, whole: Taken) -> Iterator[str]:
    used = {span.section for span in spans}
    if idle := [section.name for section in project.sections if section.id not in used]:
        yield f"In no member, so in no sum: {', '.join(idle)}."
    unnamed = [one.name for one in project.sections if one.bead > 0 and not one.adhesive]
    adhesive = book.adhesive(BOOK_ADHESIVE)
    if unnamed and adhesive is not None:
        yield f"Taken for beads of no named adhesive, {adhesive.name} ({adhesive.id}): {', '.join(unnamed)}."
    if any(one.sort is Sort.FILL for one in whole.stuff):
        yield "Foam is mass and cost, no strength; wet foam is heavier."
    if rates.fabric_waste or rates.resin_waste or rates.adhesive_waste:
        yield (
            f"Bought is built in, plus waste: fabric and core {_percent(rates.fabric_waste)}, resin and "
            f"gel coat {_percent(rates.resin_waste)}, adhesive {_percent(rates.adhesive_waste)}, fills none."
        )
    else:
        yield "No waste is set: what is bought is what is built in."
    if not rates.prices and not rates.hour:
        yield "No price and no hour's cost is set, so nothing is priced."


def _percent(part: float) -> str:
    return f"{trimmed(100 * part)} %"


def _sum(parts: Iterable[float | None]) -> float | None:
    known = [part for part in parts if part is not None]
    return sum(known) if known else None
