"""Panels, spans and zones as rows of text: new ones, copied and pasted; the hull's deadrise. No Qt."""

from collections.abc import Sequence
from dataclasses import replace
from math import degrees

from stringerlab.craft import deadrise_at, reference_place
from stringerlab.desktop.models.span_columns import summary
from stringerlab.desktop.models.subject_columns import columns
from stringerlab.desktop.models.subject_field import Subject
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Panel, Span, Surface, Zone
from stringerlab.project import Project
from stringerlab.project.span_details import without_details
from stringerlab.units import Kind, System, display_unit, trimmed, unit_named

DETAILS = "ends and openings"
"""Head of what a copied span has besides its columns."""
_NOT_CARRIED = " (not carried as text)"
_DEG = unit_named("deg").factor


def hull_deadrise(project: Project, x: float) -> float | None:
    """Return the hull's deadrise [deg] at a place [mm], None where its stations are not sound."""
    try:
        return degrees(deadrise_at(project.craft, x))
    except StringerlabError:
        return None


def fresh(project: Project, like: Subject | None, kind: type[Subject]) -> Subject:
    """Return a new panel or span with values to begin from, those of another where there is one.

    Raises
    ------
    StringerlabError
        When the project has no laminate, or for a span no section, that it could name.
    """
    missing = [
        word
        for word, held in (("laminate", project.laminates), ("section", project.sections))
        if not held and (word == "laminate" or kind is Span)
    ]
    if missing:
        raise StringerlabError(
            Problem(f"There is no {word} yet.", remedy=f"Make a {word} first.") for word in missing
        )
    if kind is Zone:
        return _fresh_zone(project, like)
    x = round(reference_place(project.craft), -1)
    hull = hull_deadrise(project, x)
    slope = 15.0 if hull is None else round(hull, 1)
    names = {record.name for record in (project.panels if kind is Panel else project.spans)}
    word = "Panel" if kind is Panel else "Span"
    number = next(n for n in range(1, len(names) + 2) if f"{word} {n}" not in names)
    if like is not None:
        bare = without_details(like) if isinstance(like, Span) else like
        return replace(bare, name=f"{word} {number}")
    if kind is Panel:
        return Panel(
            id="",
            name=f"{word} {number}",
            b=400,
            l=1000,
            x=x,
            deadrise=slope,
            laminate=project.laminates[0].id,
        )
    return Span(
        id="",
        name=f"{word} {number}",
        section=project.sections[0].id,
        plating=project.laminates[0].id,
        lu=1000,
        s=400,
        x=x,
        deadrise=slope,
    )


def _fresh_zone(project: Project, like: Subject | None) -> Zone:
    names = {zone.name for zone in project.zones}
    number = next(n for n in range(1, len(names) + 2) if f"Zone {n}" not in names)
    if isinstance(like, Zone):
        return replace(like, name=f"Zone {number}")
    places = [station.x for station in project.craft.stations] or [0.0, project.craft.waterline_length]
    return Zone(
        id="",
        name=f"Zone {number}",
        laminate=project.laminates[0].id,
        aft=min(places),
        forward=max(places),
    )


def copied(records: Sequence[Subject], project: Project, further: Sequence[str] = ()) -> str:
    """Return records as tab-separated lines under their heads; ``further`` is what to add to each line.

    A span's openings, crossings, landings and outboards are named, but text does not carry them.
    """
    fields = columns(type(records[0])) if records else ()
    spans = any(isinstance(record, Span) for record in records)
    lines = ["\t".join([*(field.title for field in fields), *([DETAILS] if spans else [])])]
    for number, record in enumerate(records):
        cells = [field.typed(record, project) for field in fields]
        if isinstance(record, Span):
            cells.append(_uncarried(record))
        lines.append("\t".join([*cells, further[number]] if further else cells))
    return "\n".join(lines)


def pasted(text: str, kind: type[Subject], project: Project, like: Subject | None = None) -> list[Subject]:
    """Return the records that tab-separated lines mean; columns in the order of the table.

    Columns left out at the right, and empty cells but the name's, are those of a new record; a deadrise that
    is left out is the hull's. A line of heads is passed over.

    Raises
    ------
    StringerlabError
        With everything that does not read, cell by cell; or when there is nothing to read.
    """
    fields = columns(kind)
    lines = [line for line in text.splitlines() if line.strip()]
    if lines and lines[0].split("\t")[0].strip().casefold() == fields[0].title.casefold():
        del lines[0]
    if not lines:
        raise StringerlabError(
            Problem(
                "There is no row to paste.",
                remedy=f"Copy lines with the columns {', '.join(field.title for field in fields)}.",
            )
        )
    records: list[Subject] = []
    wrong: list[Problem] = []
    for number, line in enumerate(lines, 1):
        record = replace(fresh(project, like, kind), id="")
        cells = [cell.strip() for cell in line.split("\t")]
        given: set[str] = set()
        for field, cell in zip(fields, cells, strict=False):
            if not cell and field.key != "name":
                continue
            try:
                record = field.put(record, field.read(cell, project))
                given.add(field.key)
            except StringerlabError as error:
                wrong += [
                    Problem(problem.what, f"pasted row {number}, {field.title}", problem.remedy)
                    for problem in error.problems
                ]
        records.append(record if "deadrise" in given else _with_hull_deadrise(record, project))
    if wrong:
        raise StringerlabError(wrong)
    return records


def left_out(text: str, kind: type[Subject]) -> list[tuple[str, str]]:
    """Return of copied lines the names of those whose details text does not carry, and which these are."""
    place = len(columns(kind))
    rows = [[cell.strip() for cell in line.split("\t")] for line in text.splitlines()]
    return [
        (row[0], row[place].removesuffix(_NOT_CARRIED))
        for row in rows
        if len(row) > place and row[place].endswith(_NOT_CARRIED)
    ]


def with_details_of(records: Sequence[Subject], held: Sequence[Subject]) -> list[Subject]:
    """Return pasted spans with the openings, crossings, ends and outboards of those they were copied of."""
    return [
        replace(
            record,
            openings=own.openings,
            crossings=own.crossings,
            landings=own.landings,
            transom=own.transom,
        )
        if isinstance(record, Span) and isinstance(own, Span)
        else record
        for record, own in zip(records, held, strict=True)
    ]


def _uncarried(span: Span) -> str:
    """Return in words what text does not carry of a span; empty for nothing."""
    said = summary(span.landings, len(span.openings), len(span.crossings), span.transom)
    return f"{said}{_NOT_CARRIED}" if said else ""


def _with_hull_deadrise(record: Subject, project: Project) -> Subject:
    if isinstance(record, Zone) or (hull := hull_deadrise(project, record.x)) is None:
        return record
    return replace(record, deadrise=round(hull, 1))


def suggested(record: Subject, project: Project, system: System) -> str:
    """Return the hull's deadrise beside a bottom's where they differ by more than half a degree."""
    if isinstance(record, Zone) or record.surface is not Surface.BOTTOM:
        return ""
    hull = hull_deadrise(project, record.x)
    if hull is None or abs(hull - record.deadrise) <= 0.5:
        return ""
    unit = display_unit(Kind.ANGLE, system)
    return f"({trimmed(hull * _DEG / unit.factor, 3)})"
