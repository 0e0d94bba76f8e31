"""Every number of a boat that may sensibly change, one sensible step either side. mm, kn, kg as typed."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from stringerlab.layout.plan import Hand, Layout, MemberKind
from stringerlab.materials.records import Core, GelCoat
from stringerlab.project.drafting_shapes import hats
from stringerlab.project.finding import layout_in_use
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.project.wishes import Change, Number
from stringerlab.sizing.changing.choices import HAT_FIELDS, distance_of, run_of
from stringerlab.sizing.changing.transverses import in_order
from stringerlab.units import System, unit_named

_INCH = unit_named("in").factor


@dataclass(frozen=True, slots=True)
class Steps:
    """A shop's usual steps in one system of units."""

    hat: float
    """In a height, a width, a bonding flange [mm]."""
    bead: float
    place: float
    """From the centreline, and in a spacing."""
    length: float
    whole_mass: float
    """To what a step in the displacement is rounded [kg]."""


STEPS = {
    System.METRIC: Steps(hat=10.0, bead=1.0, place=25.0, length=100.0, whole_mass=10.0),
    System.US: Steps(
        hat=_INCH / 2, bead=_INCH / 16, place=_INCH, length=4 * _INCH, whole_mass=10 * unit_named("lb").factor
    ),
}
"""1/2 in, 1/16 in, 1 in, 4 in, 10 lb where a boat is drawn in US units."""
SPEED_STEP = 1.0
"""[kn]"""
MASS_STEP = 0.05
"""Of the displacement."""
LEAST_LEFT = 20.0
"""What is left of a width or length after a step down [mm]."""


def all_steps(project: Project) -> tuple[Number, ...]:
    """Return every sensible number of a boat: from a step below the present to a step above it.

    Of sections, laminates, panels and spans those that something judged uses; spans alike and panels alike
    change together. Values that a step down would bring to nothing begin at the present one. Steps are
    a shop's usual ones in the project's units: 10 mm or 1/2 in in a hat, a layer, 25 mm or 1 in in a place or
    spacing, 100 mm or 4 in in a span, 1 kn.
    """
    found = [
        *_of_hats(project),
        *_of_laminates(project),
        *_of_layout(project),
        *_of_hand(project),
        *_of_boat(project),
    ]
    return tuple(_named(found))


def _named(found: Iterable[tuple[Change, tuple[str, ...], int, float, float, float]]) -> Iterator[Number]:
    for number, (change, of, ply, present, step, least) in enumerate(found, start=1):
        low = present - step if present - step >= least else present
        yield Number(
            id=f"step {number}",
            change=change,
            of=of,
            ply=ply,
            least=round(low, 9),
            most=round(present + step, 9),
            step=step,
        )


Found = Iterator[tuple[Change, tuple[str, ...], int, float, float, float]]


def _sections_in_use(project: Project) -> list[str]:
    named = [span.section for span in project.spans]
    layout = layout_in_use(project)
    for member in layout.members if layout else ():
        named += [member.section, *(stretch.section for stretch in member.stretches)]
    held = set(named)
    return [section.id for section in project.sections if section.id in held]


def _of_hats(project: Project) -> Found:
    used, steps = set(_sections_in_use(project)), STEPS[project.units]
    for section in project.sections:
        found = list(hats(project, section).values()) if section.id in used else []
        if len(found) != 1:
            continue
        for change, field in HAT_FIELDS.items():
            yield change, (section.id,), 0, getattr(found[0], field), steps.hat, LEAST_LEFT
        if section.bead > 0:
            yield Change.BEAD, (section.id,), 0, section.bead, steps.bead, steps.bead


def _of_laminates(project: Project) -> Found:
    book = book_of(project)
    used = _laminates_in_use(project)
    for laminate in project.laminates:
        if laminate.id not in used:
            continue
        first = 0
        while first < len(laminate.plies):
            start, stop = run_of(laminate, first)
            material = book.find(laminate.plies[first].material)
            if not isinstance(material, GelCoat | Core):
                alone = stop - start == len(laminate.plies)
                yield Change.REPEATS, (laminate.id,), start + 1, float(stop - start), 1.0, float(alone)
            first = stop


def _laminates_in_use(project: Project) -> set[str]:
    used = set(_sections_in_use(project))
    held = {wall.laminate for one in project.sections if one.id in used for wall in one.walls}
    held |= {zone.laminate for zone in project.zones}
    held |= {panel.laminate for panel in project.panels} | {span.plating for span in project.spans}
    layout = layout_in_use(project)
    held |= {mark.laminate for mark in layout.bays} if layout else set[str]()
    return held


def _of_layout(project: Project) -> Found:
    layout, step = layout_in_use(project), STEPS[project.units].place
    if layout is None:
        return
    for member in layout.members:
        beside = member.hand is not Hand.CENTRELINE and any(y for _, y in member.points)
        if member.kind is MemberKind.LONGITUDINAL and beside and distance_of(member) > 0:
            yield Change.PLACE, (member.id,), 0, distance_of(member), step, step
    yield from _rows_of_transverses(project, layout)


def _rows_of_transverses(project: Project, layout: Layout) -> Found:
    rows: defaultdict[tuple[Hand, str], list[str]] = defaultdict(list)
    for member in layout.members:
        if member.kind is MemberKind.TRANSVERSE and member.section:
            rows[member.hand, member.section].append(member.id)
    for held in rows.values():
        if len(held) > 1:
            of = tuple(member.id for member in in_order(project, tuple(held)))
            yield Change.TRANSVERSES, of, 0, float(len(of)), 1.0, 2.0


def _of_hand(project: Project) -> Found:
    steps = STEPS[project.units]
    spacings: defaultdict[tuple[str, float], list[str]] = defaultdict(list)
    lengths: defaultdict[tuple[str, float], list[str]] = defaultdict(list)
    for span in project.spans:
        spacings[span.section, span.s].append(span.id)
        lengths[span.section, span.lu].append(span.id)
    for panel in project.panels:
        spacings["", panel.b].append(panel.id)
        lengths["", panel.l].append(panel.id)
    for (_, present), of in spacings.items():
        yield Change.SPACING, tuple(of), 0, present, steps.place, LEAST_LEFT
    for (_, present), of in lengths.items():
        yield Change.LENGTH, tuple(of), 0, present, steps.length, LEAST_LEFT


def _of_boat(project: Project) -> Found:
    craft, whole = project.craft, STEPS[project.units].whole_mass
    yield Change.SPEED, (), 0, craft.speed, SPEED_STEP, SPEED_STEP
    step = max(round(MASS_STEP * craft.mass / whole), 1) * whole
    yield Change.MASS, (), 0, craft.mass, step, 100.0
