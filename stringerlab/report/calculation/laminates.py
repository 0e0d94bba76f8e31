"""Laminates in use: plies counted away from the mould, as resolved, with thickness, mass and stiffness."""

from collections.abc import Iterator
from dataclasses import asdict

from stringerlab.laminate import (
    Constants,
    Stack,
    dry_mass,
    engineering_constants,
    flexural_constants,
    glass_content,
    is_sandwich,
    mass,
    reinforced,
    thickness,
    thickness_with_gel,
)
from stringerlab.laminate.records import PlyNumbers
from stringerlab.report.calculation.told import NONE, Told, named
from stringerlab.report.markup import heading, note, said, shares, table
from stringerlab.report.paper import Sheet
from stringerlab.units import Kind, display_unit, rounded
from stringerlab.workings.source import weakest

_MEANINGS = (
    "Ply 1 lies on the mould. E1, E2, G12 along and across the fibres; σt1, σc1 strengths along them in "
    "tension and compression, τ12 in plane, τi between plies, all as resolved, before the method's own "
    "factors. Known: the weakest mark of the ply's numbers. A core's τ12 is its shear strength."
)


def laminates(told: Told) -> Sheet:
    """Return every sound laminate of the project."""
    stacks = told.results.resolved.stacks
    parts = [heading("Laminates"), said(_MEANINGS)]
    parts += [part for id_, stack in stacks.items() for part in _laminate(told, id_, stack)]
    wrong = [each for each in told.project.laminates if each.id not in stacks]
    parts += [note(f"Laminate {named(each.name, each.id)} has faults and is left out.") for each in wrong]
    return Sheet(markup="\n\n".join(parts))


def _laminate(told: Told, id_: str, stack: Stack) -> Iterator[str]:
    yield heading(named(stack.name, id_), 2)
    rows = [_ply(told, number, ply) for number, ply in zip(stack.numbers, stack.plies, strict=True)]
    yield table(
        _head(told),
        rows,
        shares(6, 44, 9.5, 9.5, 14, 17, 12, 12, 12, 10.5, 10.5, 10.5, 10, 18),
        right=(0, *range(2, 13)),
        size=6.9,
    )
    totals = [
        f"thickness {told.length(thickness(stack))} without gel coat, "
        f"{told.length(thickness_with_gel(stack))} with it",
        f"dry fibre mass {told.show(dry_mass(stack), Kind.AREAL_MASS)}",
        f"mass {told.show(mass(stack), Kind.AREAL_MASS)}",
    ]
    if reinforced(stack):
        totals.append(f"glass content {rounded(glass_content(stack), 3)} by mass")
    yield said(f"{'; '.join(totals)[0].upper()}{'; '.join(totals)[1:]}.")
    flat = "In plane, core included" if is_sandwich(stack) else "In plane"
    yield table(
        ["Stiffness of the whole", "Ex", "Ey", "Gxy", "νxy"],
        [
            [flat, *_constants(told, engineering_constants(stack))],
            ["In bending", *_constants(told, flexural_constants(stack))],
        ],
        right=range(1, 5),
    )


def _head(told: Told) -> list[str]:
    """Return the head of a table of plies with its columns' units."""
    length, areal, stress = (
        display_unit(kind, told.system).symbol for kind in (Kind.LENGTH, Kind.AREAL_MASS, Kind.STRESS)
    )
    return (
        ["Ply", "Material", "Angle", "Glass", f"Thick {length}", f"Mass {areal}"]
        + [f"{name} {stress}" for name in ("E1", "E2", "G12", "σt1", "σc1", "τ12", "τi")]
        + ["Known"]
    )


def _bare(told: Told, value: float, kind: Kind, digits: int = 4) -> str:
    return rounded(value / display_unit(kind, told.system).factor, digits)


def _constants(told: Told, of: Constants) -> list[str]:
    return [
        rounded(value) if name.startswith("nu") else told.show(value, Kind.STRESS)
        for name, value in asdict(of).items()
    ][:4]


def _ply(told: Told, number: int, ply: PlyNumbers) -> list[str]:
    def stress(value: float | None) -> str:
        return _bare(told, value, Kind.STRESS, 3) if value else NONE

    return [
        str(number),
        ply.name,
        told.show(ply.angle, Kind.ANGLE).replace(" deg", "°"),
        f"{ply.glass:.2f}" if ply.glass > 0 else NONE,
        _bare(told, ply.thickness, Kind.LENGTH),
        _bare(told, ply.mass, Kind.AREAL_MASS),
        *map(stress, (ply.E1, ply.E2, ply.G12)),
        *map(stress, (ply.tension_1, ply.compression_1, ply.shear, ply.interlaminar)),
        weakest(mark for _, mark in ply.marks).value if ply.marks else NONE,
    ]
