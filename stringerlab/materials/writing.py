"""Writes a set of materials as a book: the TOML that ``reading`` takes, the same set always as the same text.

A value is ``{value = …, unit = "…", source = "…", known = "…"}``, a plain number ``{value = …, unit = "…"}``;
ratios and counts stand without a unit. What a record leaves out is left out.
"""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import TYPE_CHECKING, Any, cast

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials.book import every
from stringerlab.materials.fields import Form, forms_of, in_unit
from stringerlab.materials.reading import ROWS
from stringerlab.materials.records import Materials, PlyKind, Sourced
from stringerlab.units import Kind, Unit
from stringerlab.units.kinds import UNITS

if TYPE_CHECKING:
    from tomlkit.items import InlineTable, Table

_HEAD = "A book of materials: every value with its unit, where it comes from and how well it is known."
_EXACT = 2**53
_SHORT = 6
"""Characters of a number that a person stated; one with more of them was converted."""


def book_text(materials: Materials) -> str:
    """Return a set of materials as the text of a book.

    Parameters
    ----------
    materials
        What to write, each kind in its order; numbers go out in the units of their fields, or in the shop's
        own (oz/yd², psi) where they were stated so.

    Raises
    ------
    StringerlabError
        When a text in it is half a character, which no file can hold.
    """
    import tomlkit
    from tomlkit.items import AoT

    _refuse_half_characters(materials)
    document = tomlkit.document()
    document.add(tomlkit.comment(_HEAD))
    for table, (field, _) in ROWS.items():
        records: tuple[object, ...] = getattr(materials, field)
        if records:
            document.add(table, AoT([_table(record) for record in records]))
    return tomlkit.dumps(document)


def _table(record: object) -> "Table":
    """Return a record as a table: its own values first, tables within it after them."""
    import tomlkit
    from tomlkit.items import AoT

    table, below = tomlkit.table(), list[tuple[str, Any]]()
    shops = "oz/ft²" if getattr(record, "kind", None) is PlyKind.MAT else "oz/yd²"
    for name, form in forms_of(type(record)).items():
        value: Any = getattr(record, name)
        if value is None or value == "" or value == ():
            continue
        if form.many:
            below.append((name, AoT([_table(part) for part in cast(tuple[object, ...], value)])))
        elif form.is_record and form.base is not Sourced:
            inner = _table(value)
            if inner:
                below.append((name, inner))
        elif form.base is Sourced or (form.base is float and form.has_unit):
            table.add(name, _valued(value, form, shops))
        else:
            table.add(name, _plain(value))
    for name, part in below:
        table.add(name, part)
    return table


def _valued(value: Any, form: Form, shops: str) -> "InlineTable":
    import tomlkit

    inline = tomlkit.inline_table()
    number, unit = _as_stated(value.value if isinstance(value, Sourced) else value, form.unit, shops)
    inline.add("value", _plain(number))
    if form.has_unit:
        inline.add("unit", unit.symbol)
    if isinstance(value, Sourced):
        inline.add("source", value.source)
        inline.add("known", value.known.value)
    return inline


def _as_stated(number: float, unit: Unit, shops: str) -> tuple[float, Unit]:
    """Return a number in the unit in which somebody stated it: another of its kind if short in that alone.

    What is read back is the number exactly, else it stays in its field's own unit. ``shops`` is the unit that
    US shops weigh this fabric in.
    """
    if unit.kind is Kind.RATIO or len(f"{number:.15g}") <= _SHORT:
        return number, unit
    for other in sorted(UNITS[unit.kind].values(), key=lambda one: one.symbol != shops):
        stated = float(f"{number * unit.factor / other.factor:.9g}")
        if len(f"{stated:.15g}") <= _SHORT and in_unit(stated, other, unit) == number:
            return stated, other
    return number, unit


def _plain(value: Any) -> Any:
    """Return a bare value; a whole number without decimals, be it int or float."""
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float) and value.is_integer() and abs(value) < _EXACT:
        return int(value)
    return value


def _refuse_half_characters(materials: Materials) -> None:
    problems: list[Problem] = []
    for record in every(materials):
        try:
            "".join(_texts(record)).encode()
        except UnicodeEncodeError as error:
            what = f"The text {error.object[error.start : error.end]!a} is half a character."
            problems.append(Problem(what, f"material {record.id!a}", "Type it again."))
    if problems:
        raise StringerlabError(problems)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for part in cast(tuple[object, ...], value):
            yield from _texts(part)
    elif is_dataclass(value):
        for field in fields(value):
            yield from _texts(getattr(value, field.name))
