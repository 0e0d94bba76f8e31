"""Plies as text with tabs between, as a spreadsheet gives and takes them; and back to plies.

No Qt. The head names each column with its unit; values nobody typed (a material's own weight) come back
as nobody's.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from stringerlab.desktop.models.ply_rows import PlyRow, ply_numbers
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Ply
from stringerlab.materials import Book
from stringerlab.materials.records import Core, GelCoat, Reinforcement
from stringerlab.units import Kind, System, Unit, display_unit, parse, rounded, trimmed
from stringerlab.units.kinds import UNITS

NOTHING = "—"
_LONGEST = 100_000
"""Characters read at most."""
_SAME = 1e-3
"""A number so near to the material's own, relatively, was copied from it and is nobody's."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A column of numbers: its title, the field of the ply it is typed into, and the number of a row."""

    title: str
    field: str
    kind: Kind
    number: Callable[[PlyRow], float | None]


def _modulus(row: PlyRow) -> float | None:
    return row.numbers.E1 if row.numbers is not None and row.numbers.E1 > 0 else None


ANGLE = Quantity("Angle", "angle", Kind.ANGLE, lambda row: row.angle if row.turns else None)
GLASS = Quantity("Glass", "glass", Kind.RATIO, lambda row: row.glass)
WEIGHT = Quantity("Dry weight", "weight", Kind.AREAL_MASS, lambda row: row.weight)
THICKNESS = Quantity("Thickness", "thickness", Kind.LENGTH, lambda row: row.thickness)
MASS = Quantity("Mass", "", Kind.AREAL_MASS, lambda row: row.numbers.mass if row.numbers else None)
MODULUS = Quantity("E1", "", Kind.STRESS, _modulus)
QUANTITIES = (ANGLE, GLASS, WEIGHT, THICKNESS, MASS, MODULUS)
TYPED = tuple(quantity for quantity in QUANTITIES if quantity.field)
"""Those a person can type."""
_HEADS = ("Ply", "Material", *(quantity.title for quantity in QUANTITIES), "Known")


def head(quantity: Quantity, system: System) -> str:
    """Return a column's title with its unit: ``Thickness, mm``."""
    return ", ".join(part for part in (quantity.title, display_unit(quantity.kind, system).symbol) if part)


def shown(quantity: Quantity, row: PlyRow, system: System) -> str:
    """Return a row's number in the unit of its column's head."""
    value = quantity.number(row)
    if value is None or math.isnan(value):
        return NOTHING
    number = value / display_unit(quantity.kind, system).factor
    return trimmed(number) if quantity.kind in (Kind.ANGLE, Kind.RATIO) else rounded(number)


def known_of(row: PlyRow) -> str:
    """Return how well a ply's modulus is known."""
    marks = dict(row.numbers.marks) if row.numbers is not None else {}
    return marks["E1"].value if "E1" in marks else NOTHING


def as_text(rows: Sequence[PlyRow], system: System) -> str:
    """Return plies as lines with tabs between, a head first."""
    heads = ["Ply", "Material", *(head(quantity, system) for quantity in QUANTITIES), "Known"]
    lines = [heads]
    for row in rows:
        numbers = (shown(quantity, row, system) for quantity in QUANTITIES)
        lines.append([str(row.number), row.name, *numbers, known_of(row)])
    return "\n".join("\t".join(line) for line in lines)


def from_text(text: str, book: Book, system: System) -> tuple[Ply, ...]:
    """Return the plies that a text says: a ply a line, the material by its name or id.

    With a head the columns go by their titles and units, else in the order they are copied in; a lone
    column is the material.

    Raises
    ------
    StringerlabError
        With every line that does not read.
    """
    if len(text) > _LONGEST:
        raise StringerlabError(Problem("There is too much on the clipboard for plies.", "clipboard"))
    lines = [[cell.strip() for cell in line.split("\t")] for line in text.splitlines() if line.strip()]
    columns, lines = _columns(lines, system)
    names = {found.name.casefold(): found.id for one in reversed(book.ids()) if (found := book.find(one))}
    plies: list[Ply] = []
    problems: list[Problem] = []
    for number, cells in enumerate(lines, 1):
        held = dict(zip(columns, cells, strict=False))
        try:
            plies.append(_ply(held, columns, names, book, system))
        except StringerlabError as error:
            problems += [Problem(p.what, f"pasted line {number}", p.remedy) for p in error.problems]
    if not lines:
        problems.append(Problem("There are no plies on the clipboard.", remedy="Copy some first."))
    if problems:
        raise StringerlabError(problems)
    return tuple(plies)


def _columns(lines: list[list[str]], system: System) -> tuple[dict[str, Unit | None], list[list[str]]]:
    """Return the titles of the columns with the units of their heads, and the lines without a head."""
    kinds = {quantity.title: quantity.kind for quantity in QUANTITIES}
    if lines and any(cell.casefold() == "material" for cell in lines[0]):
        found: dict[str, Unit | None] = {}
        for cell in lines[0]:
            title, _, symbol = (part.strip() for part in cell.partition(","))
            name = next((known for known in _HEADS if known.casefold() == title.casefold()), cell)
            kind = kinds.get(name)
            found[name] = UNITS[kind].get(symbol) if kind is not None and symbol else None
        return found, lines[1:]
    plain: dict[str, Unit | None] = {
        title: display_unit(kinds[title], system) if title in kinds else None for title in _HEADS
    }
    numbered = bool(lines) and len(lines[0]) > 1 and lines[0][0].isdecimal()
    return (plain if numbered else {title: unit for title, unit in plain.items() if title != "Ply"}), lines


def _ply(
    held: dict[str, str],
    columns: dict[str, Unit | None],
    names: dict[str, str],
    book: Book,
    system: System,
) -> Ply:
    wanted = held.get("Material", "")
    id = wanted if book.find(wanted) is not None else names.get(wanted.casefold())  # noqa: A001
    material = None if id is None else book.find(id)
    if id is None or not isinstance(material, Reinforcement | Core | GelCoat):
        what = f"There is no material '{wanted}' that makes a ply." if wanted else "It names no material."
        raise StringerlabError(Problem(what, remedy="Name one of the Materials page, by name or id."))
    ply = Ply(material=id)
    for quantity in TYPED:
        text = held.get(quantity.title, "")
        unit = columns.get(quantity.title) or display_unit(quantity.kind, system)
        own = quantity.number(PlyRow(0, ply, material, ply_numbers(ply, book)))
        if text in ("", NOTHING):
            continue
        value = _read(text, quantity, unit)
        if own is None or abs(value - own) > _SAME * abs(own):
            ply = with_value(ply, quantity, value)
    return ply


def _read(text: str, quantity: Quantity, unit: Unit) -> float:
    bare = text.replace("−", "-")
    try:
        return float(bare.replace(",", ".")) * unit.factor
    except ValueError:
        return parse(text, quantity.kind)


def with_value(ply: Ply, quantity: Quantity, value: float | None) -> Ply:
    """Return a ply with a number, in the program's unit of its kind, typed into one of its fields."""
    if quantity is ANGLE:
        return replace(ply, angle=as_typed(math.degrees(value or 0.0)))
    return replace(ply, **{quantity.field: None if value is None else as_typed(value)})


def as_typed(value: float) -> float:
    """Return a number without the noise that converting it left beyond its twelfth digit."""
    return float(f"{value:.12g}")
