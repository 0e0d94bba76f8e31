"""What a table of plies shows of a laminate, sound or not: each ply, its numbers, what is wrong with it.

No Qt. Numbers in the program's units (mm, rad, MPa, g/m²).
"""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Laminate, Ply, PlyNumbers, Role, Stack, as_one, resolve
from stringerlab.materials import AnyMaterial, Book, shipped
from stringerlab.materials.records import Core, GelCoat, Materials, PlyKind, Reinforcement
from stringerlab.project import Project, Resolved, book_of

PLY_HEADS: Mapping[PlyKind, str] = {
    PlyKind.MAT: "Mats",
    PlyKind.WOVEN_ROVING: "Woven rovings",
    PlyKind.BIAXIAL: "0/90 stitched",
    PlyKind.DOUBLE_BIAS: "±45 stitched",
    PlyKind.UNIDIRECTIONAL: "Unidirectional",
    PlyKind.TRIAXIAL: "Triaxial",
    PlyKind.QUADRIAXIAL: "Quadriaxial",
    PlyKind.MAT_STITCHED: "Stitched with mat",
}
"""Heads over reinforcements, by kind of ply."""
_SKIN = "skin beside a ply looked at alone"


@dataclass(frozen=True, slots=True)
class PlyRow:
    """A ply as drawn up, its material, its numbers where it has any, and its problems."""

    number: int
    """From 1, away from the mould."""
    ply: Ply
    material: AnyMaterial | None
    numbers: PlyNumbers | None
    """Of a fabric of several layers: as one, its moduli those of its layers together, held flat."""
    problems: tuple[Problem, ...] = ()
    layers: tuple[PlyNumbers, ...] = ()
    """The resolved plies it is counted as: one, but for a fabric of several layers; none where unsound."""

    @property
    def name(self) -> str:
        """The material's name, its id where there is no such material."""
        return self.ply.material if self.material is None else self.material.name

    @property
    def turns(self) -> bool:
        """Whether the ply's angle says anything."""
        return isinstance(self.material, Reinforcement) and self.material.kind is not PlyKind.MAT

    @property
    def glass(self) -> float | None:
        """Glass content by mass, None for what has none."""
        if isinstance(self.material, Reinforcement):
            return self.material.glass if self.ply.glass is None else self.ply.glass
        return self.ply.glass

    @property
    def weight(self) -> float | None:
        """Dry weight [g/m²], None for what has none."""
        if isinstance(self.material, Reinforcement):
            return self.material.weight if self.ply.weight is None else self.ply.weight
        return self.ply.weight

    @property
    def thickness(self) -> float | None:
        """Thickness [mm], None where it is not known."""
        return self.ply.thickness if self.numbers is None else self.numbers.thickness

    @property
    def angle(self) -> float:
        """The angle of the roll [rad]."""
        return math.radians(self.ply.angle)


def ply_rows(project: Project, resolved: Resolved, laminate: Laminate) -> tuple[PlyRow, ...]:
    """Return the rows of a laminate's plies; a ply that is sound has numbers in an unsound laminate too."""
    book = book_of(project)
    stack = resolved.stacks.get(laminate.id)
    wrong = laminate_problems(project, resolved, laminate)
    rows: list[PlyRow] = []
    for i, ply in enumerate(laminate.plies):
        material = book.find(ply.material)
        layers = _layers_in(stack, i + 1) if stack is not None else ply_layers(ply, material, book)
        layers = tuple(replace(layer, number=i + 1) for layer in layers)
        mine = tuple(problem for problem in wrong if ply_number(problem) == i + 1)
        rows.append(PlyRow(i + 1, ply, material, _as_one(ply, material, layers), mine, layers))
    return tuple(rows)


def _layers_in(stack: Stack, number: int) -> tuple[PlyNumbers, ...]:
    return tuple(ply for ply in stack.plies if ply.number == number)


def _as_one(ply: Ply, material: AnyMaterial | None, layers: Sequence[PlyNumbers]) -> PlyNumbers | None:
    return as_one(material.name, layers, ply.angle) if material is not None and layers else None


def sound_plies(name: str, rows: Sequence[PlyRow]) -> Stack:
    """Return a stack of the plies that have numbers: what can be pictured of a laminate that is not sound."""
    return Stack(name=name, plies=tuple(layer for row in rows for layer in row.layers))


def ply_numbers(ply: Ply, book: Book) -> PlyNumbers | None:
    """Return the numbers of a ply looked at alone, None where it has none."""
    material = book.find(ply.material)
    return None if material is None else numbers_of(ply, material, book)


def numbers_of(ply: Ply, material: AnyMaterial, book: Book) -> PlyNumbers | None:
    """Return the numbers of a ply of this very material, which another of its id may stand in front of.

    A fabric of several layers has them as one.
    """
    return _as_one(ply, material, ply_layers(ply, material, book))


def ply_layers(ply: Ply, material: AnyMaterial | None, book: Book) -> tuple[PlyNumbers, ...]:
    """Return what a ply looked at alone is counted as: its layers, none where it has no numbers."""
    if material is None:
        return ()
    skin = replace(shipped().reinforcements[0], id=_SKIN)
    beside = Ply(material=_SKIN)
    match material:
        case Core():
            plies, at = (beside, ply, beside), 1
        case GelCoat():
            plies, at = (ply, beside), 0
        case _:
            plies, at = (ply,), 0
    own = _with_makings(Materials(reinforcements=(skin,)), material, book)
    try:
        stack = resolve(Laminate(id="", name="", plies=plies), Book.of(own, shipped()))
    except StringerlabError:
        return ()
    return _layers_in(stack, at + 1)


def _with_makings(held: Materials, material: AnyMaterial, book: Book) -> Materials:
    """Return materials with one more, and with the fibre and resin it is laid of."""
    match material:
        case Reinforcement():
            fibre, resin = book.fibre(material.fibre), book.resin(material.resin)
            return replace(
                held,
                reinforcements=(*held.reinforcements, material),
                fibres=(fibre,) if fibre else (),
                resins=(resin,) if resin else (),
            )
        case Core():
            return replace(held, cores=(material,))
        case GelCoat():
            return replace(held, gel_coats=(material,))
        case _:
            return held


def laminate_problems(project: Project, resolved: Resolved, laminate: Laminate) -> tuple[Problem, ...]:
    """Return what is wrong with a laminate, and with the project's own materials that it is laid of."""
    wanted = [f"({laminate.id})", *_materials_of(project, laminate)]
    return tuple(
        problem
        for problem in resolved.problems
        if any(_about(problem, "laminate" if i == 0 else "", mark) for i, mark in enumerate(wanted))
    )


def ply_number(problem: Problem) -> int | None:
    """Return the number, from 1, of the ply a problem is about."""
    match = re.match(r"laminate .*\([^()]*\), ply (\d+)", problem.where)
    return int(match[1]) if match else None


def in_words(problem: Problem) -> str:
    """Return a problem without the laminate's name, which stands over it already."""
    where = re.sub(r"^laminate .*?\([^()]*\)(, )?", "", problem.where)
    return str(Problem(problem.what, where, problem.remedy))


def _about(problem: Problem, kind: str, mark: str) -> bool:
    head = problem.where.partition(mark)[0] if mark in problem.where else None
    if head is None or "'" not in head:
        return False
    word = head.partition(" '")[0]
    return word == kind if kind else word not in ("laminate", "section", "panel", "span", "craft")


def _materials_of(project: Project, laminate: Laminate) -> Iterable[str]:
    book = book_of(project)
    named: dict[str, None] = {}
    for ply in laminate.plies:
        named[ply.material] = None
        if isinstance(material := book.reinforcement(ply.material), Reinforcement):
            named[material.fibre] = named[material.resin] = None
    return [f"({name})" for name in named]


def choices(project: Project) -> dict[str, tuple[AnyMaterial, ...]]:
    """Return what a ply may be of, by kind in words; the project's own materials first."""
    held = (project.materials, shipped())
    found: dict[str, tuple[AnyMaterial, ...]] = {
        "Reinforcements": tuple(one for many in held for one in many.reinforcements),
        "Cores": tuple(one for many in held for one in many.cores),
        "Gel coats": tuple(one for many in held for one in many.gel_coats),
    }
    return {
        kind: tuple({one.id: one for one in reversed(many)}.values())[::-1] for kind, many in found.items()
    }


def choices_by_head(project: Project) -> dict[str, tuple[AnyMaterial, ...]]:
    """Return the same, reinforcements split by kind of ply, as the list of materials has them."""
    found: dict[str, tuple[AnyMaterial, ...]] = {}
    for kind, records in choices(project).items():
        if kind != "Reinforcements":
            found[kind] = records
            continue
        for ply_kind, head in PLY_HEADS.items():
            found[head] = tuple(one for one in records if getattr(one, "kind", None) is ply_kind)
    return {head: records for head, records in found.items() if records}


def searched(material: AnyMaterial, head: str) -> str:
    """Return the words by which a material is found: name, id, head, and what a reinforcement is of."""
    makings = f" {material.fibre} {material.resin}" if isinstance(material, Reinforcement) else ""
    return f"{material.name} {material.id} {head}{makings}"


def of_material(ply: Ply, material: str, book: Book) -> Ply:
    """Return a ply of another material; what the new kind cannot have is dropped."""
    before, after = book.find(ply.material), book.find(material)
    if isinstance(after, Reinforcement):
        kept = isinstance(before, Reinforcement)
        return replace(ply, material=material, thickness=ply.thickness if kept else None)
    kept = type(before) is type(after)
    thickness = ply.thickness if kept or before is None else None
    return replace(ply, material=material, angle=0.0, glass=None, weight=None, thickness=thickness)


def is_core(row: PlyRow) -> bool:
    """Return whether a ply is a core."""
    return isinstance(row.material, Core) or (row.numbers is not None and row.numbers.role is Role.CORE)
