"""Materials a project's laminates, beads and fills are made of, every value with its source and mark."""

from collections.abc import Iterable, Iterator
from dataclasses import fields
from typing import Any, cast

from stringerlab.materials import Book
from stringerlab.materials.fields import forms_of
from stringerlab.materials.records import Reinforcement, Sourced
from stringerlab.project import Project, book_of
from stringerlab.project.bonding import adhesive_of
from stringerlab.project.finding import layout_in_use
from stringerlab.report.calculation.told import NONE, Told, named
from stringerlab.report.markup import heading, note, said, shares, table
from stringerlab.report.paper import Sheet
from stringerlab.units import Kind, rounded

_HEAD = ["Material", "Property", "Value", "Known", "Source"]
_WIDTHS = shares(44, 36, 26, 20, 50)


def used_fabrics(project: Project, book: Book) -> tuple[Reinforcement, ...]:
    """Return the reinforcements of a project's laminates, each once, in the order they come up."""
    found = (book.reinforcement(id_) for id_ in _ply_materials(project))
    return tuple(each for each in found if each is not None)


def used_materials(project: Project, book: Book) -> tuple[Any, ...]:
    """Return resins, fibres, cores, gel coats, solids and adhesives in use, each once."""
    fabrics = used_fabrics(project, book)
    layout = layout_in_use(project)
    solids = [fill.material for section in project.sections for fill in section.fills]
    solids += [cavity.foam for cavity in layout.cavities if cavity.foam] if layout else []
    found: list[Any] = [book.resin(id_) for id_ in dict.fromkeys(each.resin for each in fabrics)]
    found += [book.fibre(id_) for id_ in dict.fromkeys(each.fibre for each in fabrics)]
    found += [book.core(id_) for id_ in _ply_materials(project)]
    found += [book.gel_coat(id_) for id_ in _ply_materials(project)]
    found += [book.solid(id_) for id_ in dict.fromkeys(solids)]
    found += dict.fromkeys(adhesive_of(section, book) for section in project.sections)
    return tuple(each for each in found if each is not None)


def materials(told: Told) -> Sheet:
    """Return the tables of reinforcements and of all other materials in use."""
    book = book_of(told.project)
    fabrics = used_fabrics(told.project, book)
    others = used_materials(told.project, book)
    rows = [row for each in others for row in _rows(told, each)]
    tests = [row for each in fabrics for row in _tested(told, each)]
    bonding = list(_values(told, told.project.bonding, "Bond of part and hull"))
    parts = [
        heading("Materials"),
        said(
            "As the project or the shipped book holds them. Moduli and strengths of reinforced plies follow "
            "from glass content by the estimate named, or from tests; they stand with each laminate."
        ),
        heading("Reinforcements", 2),
        table(
            ["Fabric or mat", "Kind", "Dry weight", "Glass by mass", "Estimate", "Known", "Source"],
            [
                [
                    named(each.name, each.id),
                    each.kind.value,
                    told.show(each.weight, Kind.AREAL_MASS),
                    rounded(each.glass, 3),
                    each.estimate.value,
                    each.known.value,
                    each.source,
                ]
                for each in fabrics
            ],
            shares(36, 24, 18, 13, 26, 18, 41),
            right=(2, 3),
        )
        or note("No reinforcement is in use."),
        heading("Tested values", 2) if tests else "",
        table(_HEAD, tests, _WIDTHS, right=(2,)),
        heading("Resins, fibres, cores, gel coats, solids, adhesives", 2) if rows else "",
        table(_HEAD, rows, _WIDTHS, right=(2,)),
        heading("What is allowed of the bond", 2),
        table(_HEAD[1:], [row[1:] for row in bonding], shares(40, 20, 20, 96), right=(1,)),
    ]
    return Sheet(markup="\n\n".join(part for part in parts if part))


def _ply_materials(project: Project) -> Iterable[str]:
    return dict.fromkeys(ply.material for laminate in project.laminates for ply in laminate.plies)


def _rows(told: Told, record: Any) -> Iterator[list[str]]:
    return _values(told, record, named(record.name, record.id))


def _tested(told: Told, fabric: Reinforcement) -> Iterator[list[str]]:
    yield from _values(told, fabric.tested, named(fabric.name, fabric.id))
    for each in fabric.coupons:
        spread = told.show(each.deviation, Kind.STRESS)
        yield [
            named(fabric.name, fabric.id),
            f"{each.property.value.replace('_', ' ')}, {each.count} coupons at glass "
            f"{rounded(each.glass, 3)}",
            f"{told.show(each.mean, Kind.STRESS)} ± {spread}",
            "tested",
            "; ".join(part for part in (each.source, each.standard) if part) or NONE,
        ]


def _values(told: Told, record: Any, name: str) -> Iterator[list[str]]:
    """Yield a row for every value with a source that a record holds; its name once, in the first."""
    forms = forms_of(cast(Any, type(record)))
    first = name
    for field in fields(record):
        value = getattr(record, field.name)
        if not isinstance(value, Sourced):
            continue
        unit = forms[field.name].unit
        number = told.show(value.value * unit.factor, unit.kind)
        yield [first, field.name.replace("_", " "), number, value.known.value, value.source]
        first = ""


__all__ = ["materials", "used_fabrics", "used_materials"]
