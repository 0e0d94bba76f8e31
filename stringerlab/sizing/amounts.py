"""What a boat's members and plating weigh, cost and take to build: what a search lowers. kg, h, money.

Members are the take-off's. Plating is the hull's own laminate over the panels that are judged: of a bay
found in a layout its area from member middle to middle, with its mirror image; of a panel given by hand
b × l, once. A pan lying on the hull is neither. Both are priced by the project's rates.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import nan

from stringerlab.assess.taken import Sort, Stuff, Taken, summed
from stringerlab.assess.takeoff import Item, priced_taken, take_off
from stringerlab.laminate.records import Laminate, PlyNumbers, Role, Stack
from stringerlab.layout import Panel, Rates
from stringerlab.layout.zones import laid_over
from stringerlab.materials import Book
from stringerlab.materials.records import Core, GelCoat, Reinforcement
from stringerlab.project import Project, Resolved, book_of
from stringerlab.project.plating import named_laminate, zones_under
from stringerlab.units import unit_named
from stringerlab.units.ranges import range_problems
from stringerlab.workings import Known

KG_PER_MM2 = unit_named("kg").factor / 1000 / unit_named("m²").factor
"""g/m² × mm² in kg."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Amounts:
    """What a boat takes."""

    mass: float
    """Of members and plating, built in [kg]."""
    members: float
    """[kg]."""
    plating: float
    """[kg]."""
    cost: float
    """Of both, bought and worked; nan where neither a price nor a cost of worked hours is set."""
    hours: float
    """Of both; nan where no rate of labour is set."""


def amounts_of(project: Project, resolved: Resolved) -> Amounts:
    """Return what a boat takes.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    """
    members = take_off(project, resolved).total
    plating = priced_taken(project, plating_taken(project, resolved), "Plating")
    rates = sound_rates(project.rates, book_of(project))
    return Amounts(
        mass=members.mass() + plating.mass(),
        members=members.mass(),
        plating=plating.mass(),
        cost=_cost(members) + _cost(plating) if is_priced(rates) else nan,
        hours=(members.hours or 0.0) + (plating.hours or 0.0) if is_timed(rates) else nan,
    )


def is_timed(rates: Rates) -> bool:
    """Whether any rate of labour is set."""
    return max(rates.lay_up, rates.gel_coating, rates.bonding, rates.filling) > 0


def is_priced(rates: Rates) -> bool:
    """Whether any price, or the cost of hours that are known, is set."""
    return bool(rates.prices) or (is_timed(rates) and rates.hour > 0)


def sound_rates(rates: Rates, book: Book) -> Rates:
    """Return the rates that a take-off can use: of a material priced twice, the first price."""
    if range_problems(rates, "rates"):
        return Rates(currency=rates.currency)
    first = {price.material: price for price in reversed(rates.prices) if book.find(price.material)}
    return replace(rates, prices=tuple(first.values()))


def plating_areas(resolved: Resolved) -> dict[str, float]:
    """Return the area of plating of every judged panel by its id, its mirror image with it [mm²]."""
    found = () if resolved.found is None else resolved.found.bays
    bays = {bay.panel.id: bay.area * len(bay.rings) for bay in found if bay.panel is not None}
    return {case.panel.id: bays.get(case.panel.id, case.panel.b * case.panel.l) for case in resolved.panels}


def plating_taken(project: Project, resolved: Resolved) -> Taken:
    """Return what the plating of the judged panels takes."""
    book = book_of(project)
    areas = plating_areas(resolved)
    known = known_stacks(project, resolved.stacks)
    return Taken(
        stuff=summed(
            [
                stuff
                for case in resolved.panels
                for stuff in of_plating(hull_plies(project, known, case.panel), book, areas[case.panel.id])
            ]
        ),
        beads=0.0,
    )


def known_stacks(project: Project, stacks: Mapping[str, Stack]) -> dict[str, Stack]:
    """Return sound laminates by id, every ply named by its material's id instead of its name."""
    return {
        laminate.id: material_named(laminate, stacks[laminate.id])
        for laminate in project.laminates
        if laminate.id in stacks
    }


def material_named(laminate: Laminate, stack: Stack) -> Stack:
    """Return a resolved laminate, every ply named by its material's id instead of its name."""
    return Stack(
        name=laminate.id,
        plies=tuple(
            replace(ply, name=laminate.plies[number - 1].material)
            for ply, number in zip(stack.plies, stack.numbers, strict=True)
        ),
    )


def hull_plies(project: Project, known: Mapping[str, Stack], panel: Panel) -> tuple[PlyNumbers, ...]:
    """Return the plies of the hull's own laminate at a panel, every ply named as in ``known``."""
    named = named_laminate(panel)
    if named:
        return known[named].plies
    return tuple(
        ply for zone in zones_under(project, panel) for ply in laid_over([zone], known, panel.x).plies
    )


def of_plating(plies: tuple[PlyNumbers, ...], book: Book, area: float) -> Iterator[Stuff]:
    """Yield what plies, named by their materials' ids, take over an area [mm²]."""
    for ply in plies:
        material = book.find(ply.name)
        mass = area * ply.mass * KG_PER_MM2
        if isinstance(material, Reinforcement):
            dry = mass * ply.dry_weight / ply.mass
            yield _stuff(Sort.FABRIC, material.id, dry, area)
            yield _stuff(Sort.RESIN, material.resin, mass - dry, 0.0)
        elif isinstance(material, Core | GelCoat):
            sort = Sort.GEL_COAT if ply.role is Role.GEL_COAT else Sort.CORE
            yield _stuff(sort, material.id, mass, area, area * ply.thickness)


def _stuff(sort: Sort, material: str, mass: float, area: float, volume: float = 0.0) -> Stuff:
    return Stuff(sort=sort, material=material, mass=mass, area=area, volume=volume, known=Known.STATED)


def _cost(item: Item) -> float:
    return item.cost or 0.0


__all__ = [
    "Amounts",
    "amounts_of",
    "hull_plies",
    "is_priced",
    "is_timed",
    "known_stacks",
    "material_named",
    "of_plating",
    "plating_areas",
    "plating_taken",
    "sound_rates",
]
