"""Sections to scale with plies and neutral axis, and their numbers."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from stringerlab.assess import live_section, readings
from stringerlab.assess.live import Live, at_rest
from stringerlab.drawing import PRINT, Options, legend, paper_scale, section_picture, svg
from stringerlab.errors import StringerlabError
from stringerlab.report.calculation.told import NONE, Told, named
from stringerlab.report.markup import drawing, halved, heading, note, said, shares, table
from stringerlab.report.paper import Sheet, joined
from stringerlab.section import Section
from stringerlab.units import Kind, display_unit, trimmed

_WIDE, _HIGH = 168.0, 88.0
"""Room for a section's picture on the sheet [mm]."""
_ROOM = 174.0
"""Width of the sheet within its margins [mm]."""
_NOTHING = 1e-9
"""Below it a coordinate is rounding [mm]."""


def sections(told: Told) -> Sheet:
    """Return every section of the project that a span uses or that names a reference."""
    asked = [section for section in told.project.sections if section.id in told.results.resolved.shapes]
    if not asked:
        return Sheet(markup="\n\n".join([heading("Sections"), note("No sound section is drawn.")]))
    lead = Sheet(
        markup="\n\n".join(
            [
                heading("Sections"),
                said(
                    "Each is shown alone on its own reference strip of hull plating, by first-principles "
                    "moduli; what a method counts under a span may differ and stands in that span's "
                    "workings. y to the right, z inboard from the shell. Plies are at true thickness; the "
                    "dash-dotted line is the neutral axis."
                ),
            ]
        )
    )
    return joined(lead, *(_section(told, section) for section in asked))


def _section(told: Told, section: Section) -> Sheet:
    live, torsion_notes = _live(told, section)
    shape = told.results.resolved.shapes[section.id]
    options = Options(units=told.system)
    picture = section_picture(shape, live.plating, properties=live.properties, options=options)
    rows = legend(options, picture)
    scale = paper_scale(picture, _WIDE, _HIGH)
    file = f"section_{section.id}.svg"
    made = svg(picture, PRINT, title=f"Section {section.name}", legend=rows, scale=scale, room=_ROOM)
    reference = section.reference
    plated = (
        f"on {told.length(reference.width)} of plating, laminate "
        f"{named(told.results.resolved.stacks[reference.laminate].name, reference.laminate)}, shell at "
        f"{told.degrees(reference.deadrise)}"
        if reference and live.plating is not None
        else "without plating: it names no sound reference"
    )
    spans = [
        f"{case.span.name} ({case.span.id})"
        for case in told.results.resolved.spans
        if case.span.section == section.id
    ]
    parts = [
        heading(named(section.name, section.id), 2),
        drawing(file, f"Scale 1 : {1 / scale:g}; {plated}."),
        _numbers(told, live),
        *(note(f"{each[0].upper()}{each[1:]}.") for each in (*live.notes, *torsion_notes)),
        note(f"Used by {', '.join(spans)}." if spans else "No span uses it."),
        *_fibres(told, live),
        *_drawn(told, section),
    ]
    return Sheet(markup="\n\n".join(part for part in parts if part), pictures={file: made.encode()})


def _live(told: Told, section: Section) -> tuple[Live, list[str]]:
    resolved = told.results.resolved
    live = live_section(told.project, resolved, section.id)
    try:
        live = at_rest(live, resolved)
    except StringerlabError as error:
        return live, [
            f"no torsion and shear in full: {each.what.removesuffix('.')}" for each in error.problems
        ]
    return live, [each.what.removesuffix(".") for each in live.torsion.notes] if live.torsion else []


def _numbers(told: Told, live: Live) -> str:
    rows: list[list[str]] = []
    for group, held in groupby(readings(live), key=lambda one: one.group):
        first = group
        for one in held:
            value = told.show(one.value, one.kind)
            rows.append([first, one.name, value if value != NONE else "none", one.detail])
            first = ""
    starts = [at for at, row in enumerate(rows) if row[0]]
    middle = min(starts, key=lambda at: abs(at - len(rows) / 2), default=0)
    return halved(
        ["", "Number", "Value", "Where, how"],
        rows,
        shares(14, 23, 18, 30),
        at=middle,
        right=(2,),
        size=6.9,
    )


def _drawn(told: Told, section: Section) -> Iterator[str]:
    """Yield the lines as drawn, from which stiffness can be computed anew."""
    names = {each.id: each.name for each in told.project.laminates}
    rows = [
        [
            named(wall.name, wall.id),
            names.get(wall.laminate, wall.laminate),
            wall.side.value + (", closed" if wall.closed else ""),
            _places(told, wall.points, wall.fillets),
        ]
        for wall in section.walls
    ]
    rows += [
        [named(fill.name, fill.id), fill.material, "fill", _places(told, fill.points, ())]
        for fill in section.fills
    ]
    unit = display_unit(Kind.LENGTH, told.system).symbol
    yield table(
        ["Wall or fill", "Laminate or material", "Builds on", f"Points y, z; R is the fillet there [{unit}]"],
        rows,
        shares(32, 36, 20, 88),
        size=7.2,
    )


def _places(told: Told, points: Sequence[tuple[float, float]], fillets: Sequence[float]) -> str:
    def bare(value: float) -> str:
        settled = value if abs(value) > _NOTHING else 0.0
        return trimmed(settled / display_unit(Kind.LENGTH, told.system).factor)

    radii = [*fillets, *[0.0] * (len(points) - len(fillets))]
    return ";  ".join(
        f"{bare(y)}, {bare(z)}" + (f" R{bare(radius)}" if radius else "")
        for (y, z), radius in zip(points, radii, strict=True)
    )


def _fibres(told: Told, live: Live) -> Iterator[str]:
    properties = live.properties
    if properties is None:
        return
    fibres = properties.fibres
    rows = [
        [
            name,
            told.show(float(E), Kind.STRESS),
            told.length(float(z)),
            told.show(float(modulus), Kind.SECTION_MODULUS),
        ]
        for name, E, z, modulus in zip(fibres.names, fibres.E, fibres.z, properties.modulus(), strict=True)
    ]
    yield halved(
        ["Ply, at its extreme fibre", "E along", "z from axis", "EI/(E·|z|)"],
        rows,
        shares(40, 16, 16, 14),
        right=(1, 2, 3),
        size=6.9,
    )
    yield note("E along the member; EI/(E·|z|) is the section modulus at that fibre.")
