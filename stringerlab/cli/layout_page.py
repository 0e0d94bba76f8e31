"""A layout for a terminal: panels and spans found, cavities and where their water goes, flotation."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isnan, radians

from stringerlab.cli.table import Column, pairs, paragraph, table
from stringerlab.layout.cavities import Cavities, CavityReading
from stringerlab.layout.drains import Drain
from stringerlab.layout.flotation import EDITION, Flotation
from stringerlab.layout.found import Found, FoundBay, FoundSpan, Placed
from stringerlab.layout.plan import Contact, Layout, Use
from stringerlab.methods import NOTICE
from stringerlab.project import Project, Resolved
from stringerlab.project.finding import layout_in_use
from stringerlab.units import Kind, System, format, rounded

_PANELS = (
    Column("panel", 10),
    Column("b", 9, right=True),
    Column("l", 9, right=True),
    Column("x", 9, right=True),
    Column("deadrise", 9, right=True),
    Column("laminate", 18),
    Column("sides", 24),
)
_SPANS = (
    Column("span", 10),
    Column("member, from and to", 31),
    Column("section", 17),
    Column("lu", 9, right=True),
    Column("s", 9, right=True),
    Column("ends", 14),
)
_EDGES = {"chine": "chine", "keel": "keel", "transom": "transom", "forward": "forward edge"}
_NONE = "—"
_PLACE = re.compile(r"at x (-?\d+) mm")
_MISSING = {
    "length": "her length overall",
    "drive": "what drives her",
    "hull": "the hull's weight",
    "deck": "the deck's weight",
    "machinery": "the machinery's weight",
    "persons": "the weight of persons marked on her",
    "capacity": "the greatest weight marked on her",
}


@dataclass(frozen=True, kw_only=True, eq=False)
class Plan:
    """A project's layout in use, and all that is read off it."""

    project: Project
    resolved: Resolved
    found: Found
    cavities: Cavities
    flotation: Flotation | None

    @cached_property
    def layout(self) -> Layout:
        """The layout in use."""
        return next(one for one in (layout_in_use(self.project),) if one is not None)

    @cached_property
    def names(self) -> dict[str, str]:
        """Names of members, lines and the bottom's edges, by what sides name."""
        parts = (*self.layout.members, *self.layout.lines)
        return {**_EDGES, **{part.id: part.name or part.id for part in parts}}

    @cached_property
    def _laminates(self) -> dict[str, str]:
        return {case.panel.id: (case.hull or case.stack).name for case in self.resolved.panels}

    def laminate(self, bay: FoundBay) -> str:
        """Return the name of the hull laminate in a bay; empty where there is none to judge it by."""
        return self._laminates.get(bay.id, "")

    def contact(self, span: FoundSpan) -> str:
        """Return which edges of a span's member are bonded, in words."""
        members = {member.id: member.contact for member in self.layout.members}
        return members.get(span.member, Contact.BOTTOM).value


def placed_words(placed: Placed) -> str:
    """Return a problem with its place on the plan."""
    text = str(placed.problem)
    x, y = placed.at
    return text if "at x " in placed.problem.where else f"{text} Place: x {x:.0f}, y {y:.0f} mm."


def page(plan: Plan, system: System) -> list[str]:
    """Return the lines of a layout for a terminal."""
    layout, found = plan.layout, plan.found
    text = [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Project  {plan.project.name}"),
        *paragraph(f"Craft    {plan.project.craft.name}"),
        *paragraph(f"Layout   {layout.name} ({layout.id})"),
    ]
    if layout.notes:
        text += paragraph(layout.notes)
    text += ["", *paragraph(_found_words(found)), ""]
    if found.bays:
        text += [*table(_PANELS, [_panel(plan, bay, system) for bay in found.bays]), ""]
    judged = [span for span in found.spans if span.span is not None]
    if judged:
        text += [*table(_SPANS, [_span(plan, span, system) for span in judged]), ""]
    if plan.resolved.amiss:
        text += ["What is amiss", "", *_listed(map(placed_words, plan.resolved.amiss)), ""]
    return [*text, *_cavities(plan, system), *_flotation(plan.flotation, system)]


def _found_words(found: Found) -> str:
    bulkheads = sum(span.span is None for span in found.spans)
    more = f" ({bulkheads} lengths of bulkhead besides)" if bulkheads else ""
    panels, spans = len(found.bays), len(found.spans) - bulkheads
    return (
        f"Found: {panels} panels and {spans} spans{more}; × 2 stands to port and to starboard and is "
        "judged once. Panels are measured in the skin from web root to web root."
    )


def _often(id_: str, count: int) -> str:
    return f"{id_} × {count}" if count > 1 else id_


def _length(value: float, system: System) -> str:
    return format(value, Kind.LENGTH, system)


def _panel(plan: Plan, bay: FoundBay, system: System) -> tuple[str, ...]:
    sides = ", ".join(dict.fromkeys(plan.names.get(side.of, side.of) for side in bay.sides))
    own = next((mark.name for mark in plan.layout.bays if mark.id == bay.id and mark.name), "")
    sides = f"{own}: {sides}" if own else sides
    many = _often(bay.id, len(bay.rings))
    if bay.panel is None:
        return (many, _NONE, _NONE, _NONE, _NONE, _NONE, f"{sides}; too small to judge")
    panel = bay.panel
    return (
        many,
        _length(panel.b, system),
        _length(panel.l, system),
        _length(panel.x, system),
        format(radians(panel.deadrise), Kind.ANGLE, system, digits=3),
        plan.laminate(bay) or _NONE,
        sides,
    )


def _span(plan: Plan, found: FoundSpan, system: System) -> tuple[str, ...]:
    span = found.span
    assert span is not None
    sections = {section.id: section.name for section in plan.project.sections}
    return (
        _often(found.id, len(found.lines)),
        span.name,
        sections.get(found.section, found.section or _NONE),
        _length(span.lu, system),
        _length(span.s, system),
        ", ".join(end.value for end in span.ends),
    )


def _listed(words: Iterator[str] | Sequence[str]) -> list[str]:
    return [line for text in words for line in paragraph(text, "  ")]


def _cavities(plan: Plan, system: System) -> list[str]:
    cavities = plan.cavities
    if not cavities.readings:
        return ["No cavity is drawn.", ""]
    text = ["Cavities", ""]
    for each in cavities.readings:
        many = f", {each.count} of them, each" if each.count > 1 else ""
        text += [*paragraph(f"{each.name} ({each.id}), {each.use.value}{many}")]
        text += [*pairs(list(_values(each, system))), *_drains(each, system)]
        if each.access:
            text += paragraph(f"Access: {each.access}", "  ")
        elif each.use is Use.TANK_BAY:
            text += paragraph("Access: how the tank comes out and is looked at is not noted.", "  ")
        own = [note for note in each.notes if note not in cavities.notes]
        text += [*_listed([f"Note: {note}." for note in own]), ""]
    if any(each.foam_volume for each in cavities.readings):
        totals = [
            ("foam in all, dry", format(cavities.foam_mass, Kind.MASS, system)),
            ("water allowed for in it", format(cavities.wet_mass, Kind.MASS, system)),
            ("it bears, less its own mass and that water", format(cavities.buoyancy, Kind.MASS, system)),
        ]
        text += [*pairs(totals), ""]
    text += [*_listed([f"{note[0].upper()}{note[1:]}." for note in cavities.notes]), ""]
    if cavities.amiss:
        text += ["Amiss with cavities", "", *_listed([placed_words(each) for each in cavities.amiss]), ""]
    return text


def _values(each: CavityReading, system: System) -> Iterator[tuple[str, str]]:
    top = "along the shell" if each.level is None else f"level at z {_length(each.level, system)}"
    depth = _length(each.depth, system)
    yield "depth", depth if isnan(each.depth) else f"{depth}, its top {top}"
    yield "room", format(each.volume, Kind.VOLUME, system)
    yield "clear area in plan", format(each.area, Kind.AREA, system)
    yield "bonded to the bottom round it", _length(each.contact, system)
    if each.foam_volume:
        yield "foam", format(each.foam_volume, Kind.VOLUME, system)
        yield "foam, dry", format(each.foam_mass, Kind.MASS, system)
        if not each.sealed:
            yield "water allowed for in it", format(each.wet_mass, Kind.MASS, system)
        yield "it bears", format(each.buoyancy, Kind.MASS, system)
    if each.air_volume:
        yield (
            "air beside the foam" if each.foam_volume else "air",
            format(each.air_volume, Kind.VOLUME, system),
        )
    if each.insulation:
        u, loss = ([rounded(one, 2) for one in pair] for pair in (each.insulation.u, each.insulation.loss))
        thick, walls = each.insulation.thickness, each.insulation.area
        yield "insulation", f"{_length(thick, system)} on {format(walls, Kind.AREA, system)}"
        yield "heat through it", f"{u[0]} to {u[1]} W/m²K, {loss[0]} to {loss[1]} W/K in all"


def _drains(each: CavityReading, system: System) -> list[str]:
    if each.sealed:
        return paragraph("Drain: sealed, none.", "  ")
    return _listed([f"Drain: {_drain_words(drain, system)}" for drain in each.drains])


def _drain_words(drain: Drain, system: System) -> str:
    if drain.stands is None or drain.kept is None:
        return f"{drain.path[0]} finds no way to the bilge."
    if len(drain.path) == 1:
        return f"{drain.path[0]} is the bilge."
    through = "; ".join(_in_units(each, system) for each in drain.through)
    way = f"{drain.path[0]} runs to {drain.path[-1]} through {through}"
    if drain.dry:
        return f"{way}."
    kept = format(drain.kept, Kind.VOLUME, system, digits=2)
    stands = format(drain.stands, Kind.LENGTH, system, digits=2)
    return f"{way}; {stands} of water stands in it, {kept}."


def _in_units(words: str, system: System) -> str:
    """Return what water passes with its place in the units shown."""
    return _PLACE.sub(lambda at: f"at x {format(float(at[1]), Kind.LENGTH, system)}", words)


def _flotation(found: Flotation | None, system: System) -> list[str]:
    if found is None:
        return []
    text = [f"Flotation, an estimate in the form of {EDITION}", ""]
    rows = [("foam in sealed voids", format(found.present, Kind.VOLUME, system))]
    if found.unsealed:
        rows.append(("other foam, not counted", format(found.unsealed, Kind.VOLUME, system)))
    if found.outside:
        return [*text, *_listed([f"{each.what} {each.remedy}" for each in found.outside]), "", *pairs(rows)]
    if found.missing:
        names = ", ".join(_MISSING[name] for name in found.missing)
        return [*text, *paragraph(f"It is not reckoned: not known is {names}.", "  "), "", *pairs(rows)]
    asked = [
        ("asked for by hull and deck", found.hull),
        ("by the machinery", found.machinery),
        ("by the load", found.load),
        ("asked for in all", found.needed),
    ]
    answer = {True: "enough", False: "too little", None: "not told"}[found.enough]
    text += pairs(
        [
            *((name, format(volume, Kind.VOLUME, system)) for name, volume in asked),
            *rows,
            ("foam's density", format(found.density, Kind.DENSITY, system)),
            ("the foam there", f"{answer} ({found.known.value})"),
        ]
    )
    return [*text, *_listed([f"Note: {note}." for note in found.notes])]


__all__ = ["Plan", "page", "placed_words"]
