"""Reads a book of materials: TOML tables into frozen records, strictly, with every problem at once.

A file holds ``[[resin]]``, ``[[fibre]]``, ``[[reinforcement]]``, ``[[core]]``, ``[[gel_coat]]``,
``[[solid]]`` and ``[[adhesive]]`` rows, a fabric's layers and coupons as ``[[reinforcement.layers]]`` and
``[[reinforcement.coupons]]`` under it. A value is ``{ value = …, unit = "…", source = "…", known = "…" }``, a
number that shares its row's source ``{ value = …, unit = "…" }``; only what has no unit goes without one.
"""

import difflib
import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Any, NamedTuple, cast

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials.book import Book
from stringerlab.materials.by_volume import by_volume_problem, given_by_volume, named_by_volume, share_said
from stringerlab.materials.checks import material_problems
from stringerlab.materials.fields import KEYS, Form, forms_of, in_unit
from stringerlab.materials.records import (
    Adhesive,
    Core,
    Fibre,
    GelCoat,
    Materials,
    Reinforcement,
    Resin,
    Solid,
    Sourced,
)
from stringerlab.units import Kind, Unit
from stringerlab.units.kinds import UNITS
from stringerlab.units.ranges import range_problems
from stringerlab.units.reading import unit_written
from stringerlab.workings import Known

ROWS: Mapping[str, tuple[str, type]] = {
    "resin": ("resins", Resin),
    "fibre": ("fibres", Fibre),
    "reinforcement": ("reinforcements", Reinforcement),
    "core": ("cores", Core),
    "gel_coat": ("gel_coats", GelCoat),
    "solid": ("solids", Solid),
    "adhesive": ("adhesives", Adhesive),
}
"""Table name in a file: the field of ``Materials`` it fills, and its record."""

_UNREADABLE = object()
_LARGEST = 10**300
"""What is not below it counts as infinite: a whole number may be too large for any float."""


def read_materials(paths: Sequence[Path], *behind: Materials) -> Materials:
    """Return the materials of a book's files.

    Parameters
    ----------
    paths
        The files, read as one book.
    behind
        Sets its references may also reach: the shipped book behind a person's own.

    Raises
    ------
    StringerlabError
        With every problem of every file: not TOML, unknown tables or keys, missing values, units or sources,
        units unknown or of another kind, glass contents by volume, values out of range, ids used twice,
        references to materials that are not there, layers that do not add up.
    """
    reading = _Reading()
    return _materials(reading, [(path.name, reading.tables(path)) for path in paths], behind)


def read_book(text: str, name: str, *behind: Materials) -> Materials:
    """Return the materials of one book's text.

    Parameters
    ----------
    text
        A whole file.
    name
        Its name, for messages.
    behind
        Sets its references may also reach.

    Raises
    ------
    StringerlabError
        As `read_materials` does.
    """
    reading = _Reading()
    return _materials(reading, [(name, reading.parsed(text, name))], behind)


def _materials(
    reading: "_Reading",
    files: Sequence[tuple[str, Mapping[str, list[dict[str, Any]]]]],
    behind: Sequence[Materials],
) -> Materials:
    rows: dict[str, list[Any]] = {name: [] for name, _ in ROWS.values()}
    for file, tables in files:
        for table, entries in tables.items():
            name, cls = ROWS[table]
            for number, entry in enumerate(entries, start=1):
                label = f"{file}, {table.replace('_', ' ')} {number}"
                identity = entry.get("id")
                where = f"{label} ({identity})" if isinstance(identity, str) and identity else label
                record = reading.row(cls, entry, where)
                if record is not None:
                    reading.problems.extend(range_problems(record, where))
                    rows[name].append(record)
    materials = Materials(**{name: tuple(records) for name, records in rows.items()})
    book = Book.of(materials, *behind)
    reading.problems.extend(
        by_volume_problem(share_said(one.raw), book.fibre(one.fibre), book.resin(one.resin), one.where)
        for one in reading.by_volume
    )
    if not reading.problems:
        reading.problems.extend(material_problems(materials, *behind))
    if reading.problems:
        raise StringerlabError(reading.problems)
    return materials


class _ByVolume(NamedTuple):
    """A glass content by volume, told of once all fibres and resins are read."""

    raw: object
    where: str
    fibre: str
    resin: str


@dataclass
class _Reading:
    """One reading of a book: what is wrong so far, and the row being read."""

    problems: list[Problem] = field(default_factory=list[Problem])
    by_volume: list[_ByVolume] = field(default_factory=list[_ByVolume])
    _row: Mapping[str, Any] = field(default_factory=dict[str, Any])

    def tables(self, path: Path) -> dict[str, list[dict[str, Any]]]:
        """Return the rows of a file by table."""
        try:
            text = path.read_text(encoding="utf-8")
        except OSError as error:
            self._wrong(f"cannot be read: {error.strerror}.", path.name, "Check the file.")
            return {}
        except UnicodeDecodeError as error:
            self._wrong(f"is no TOML: {error}.", path.name, "Mend the file at that place.")
            return {}
        return self.parsed(text, path.name)

    def parsed(self, text: str, file: str) -> dict[str, list[dict[str, Any]]]:
        """Return the rows of a text by table."""
        try:
            document = tomllib.loads(text)
        except RecursionError:
            self._wrong("is no book: its brackets nest too deep.", file, "Mend the file.")
            return {}
        except ValueError as error:  # TOMLDecodeError, or a number of thousands of digits
            self._wrong(f"is no TOML: {_in_words(error)}.", file, "Mend the file at that place.")
            return {}
        found: dict[str, list[dict[str, Any]]] = {}
        for name, content in document.items():
            entries = cast(list[Any], content) if isinstance(content, list) else []
            if name not in ROWS:
                self._unknown("table", name, list(ROWS), file)
            elif not entries or not all(isinstance(entry, dict) for entry in entries):
                self._wrong("holds no rows.", f"{file}, {name}", f"Write it as [[{name}]].")
            else:
                found[name] = entries
        return found

    def row(self, cls: type, raw: Mapping[str, Any], where: str) -> Any:
        """Return the record of a row, or None when a problem stands in the way."""
        self._row = raw
        return self._record(cls, raw, where)

    def _record(self, cls: type, raw: Mapping[str, Any], where: str) -> Any:
        forms = forms_of(cls)
        before = len(self.problems) + len(self.by_volume)
        volume = False
        for key in raw:
            if key in forms:
                continue
            if "glass" in forms and named_by_volume(key):
                volume = True
                self._by_volume(raw[key], f"{where}, {key.replace('_', ' ')}")
            else:
                self._unknown("key", key, list(forms), where)
        values: dict[str, Any] = {}
        for name, form in forms.items():
            place = f"{where}, {name.replace('_', ' ')}"
            if name == "glass" and given_by_volume(raw.get(name)):
                self._by_volume(raw[name], place)
            elif name == "glass" and _percent(raw.get(name)):
                remedy = f"Write glass = {raw[name] / 100:g} if {raw[name]:g} % is meant."
                self._wrong(f"{raw[name]:g} is no part of 1.", place, remedy)
            elif name in raw:
                values[name] = self._value(form, raw[name], place)
            elif form.required and not (name == "glass" and volume):
                self._wrong("is missing.", place, "Give it.")
        return cls(**values) if len(self.problems) + len(self.by_volume) == before else None

    def _value(self, form: Form, raw: Any, where: str) -> Any:
        if form.many:
            return self._many(form, raw, where)
        if form.base is Sourced:
            return self._sourced(form, raw, where)
        if form.is_record:
            if isinstance(raw, dict):
                return self._record(form.base, cast(dict[str, Any], raw), where)
            return self._wrong("is no table.", where, "Write it as { … }.")
        if issubclass(form.base, StrEnum):
            return self._choice(form.base, raw, where)
        if form.base is float:
            return self._quantity(form.unit, raw, where) if form.has_unit else self._number(raw, where)
        if form.base is int:
            if isinstance(raw, int) and not isinstance(raw, bool):
                return raw
            return self._wrong(f"{raw!r} is no whole number.", where, "Give a whole number.")
        if form.base is bool:
            if isinstance(raw, bool):
                return raw
            return self._wrong(f"{raw!r} is neither true nor false.", where, "Write true or false.")
        if isinstance(raw, str) and raw.strip():
            return raw
        return self._wrong("is no text, or empty.", where, "Give it as text.")

    def _many(self, form: Form, raw: Any, where: str) -> Any:
        entries = cast(list[Any], raw) if isinstance(raw, list) else [raw]
        if not all(isinstance(entry, dict) for entry in entries):
            name = where.rpartition(", ")[2].replace(" ", "_")
            return self._wrong("holds no rows.", where, f"Write each as [[reinforcement.{name}]].")
        singular = where.removesuffix("s")
        found = [self._record(form.base, entry, f"{singular} {i}") for i, entry in enumerate(entries, 1)]
        return tuple(found)

    def _sourced(self, form: Form, raw: Any, where: str) -> Any:
        unit = f'unit = "{form.unit.symbol}", ' if form.has_unit else ""
        if not isinstance(raw, dict):
            words = "value, unit, source and known" if unit else "value, source and known"
            remedy = f'Write it as {{ value = …, {unit}source = "…", known = "…" }}.'
            return self._wrong(f"is no table of {words}.", where, remedy)
        table = cast(dict[str, Any], raw)
        before = len(self.problems)
        for key in table:
            if key not in KEYS:
                self._unknown("key", key, list(KEYS), where)
        for key in ("value", "source", "known"):
            if key not in table:
                self._wrong("is missing.", f"{where}, {key}", "Give it.")
        value = self._in_unit(form.unit, table, where)
        source: Any = table.get("source", "unsaid")
        if not isinstance(source, str) or not source.strip():
            self._wrong("is no text, or empty.", f"{where}, source", "Say where the value comes from.")
        known: Any = self._choice(Known, table["known"], f"{where}, known") if "known" in table else None
        if len(self.problems) > before:
            return _UNREADABLE
        return Sourced(value=value, source=source, known=known)

    def _quantity(self, unit: Unit, raw: Any, where: str) -> Any:
        remedy = f'Write it as {{ value = …, unit = "{unit.symbol}" }}.'
        if not isinstance(raw, dict):
            return self._wrong(f"{raw!r} has no unit.", where, remedy)
        table = cast(dict[str, Any], raw)
        for key in table:
            if key not in ("value", "unit"):
                self._unknown("key", key, ["value", "unit"], where)
        if "value" not in table:
            self._wrong("is missing.", f"{where}, value", "Give it.")
        return self._in_unit(unit, table, where)

    def _in_unit(self, unit: Unit, table: Mapping[str, Any], where: str) -> Any:
        """Return a table's value in its field's own unit."""
        written = self._unit(unit, table, f"{where}, unit")
        value: Any = self._number(table["value"], f"{where}, value") if "value" in table else _UNREADABLE
        if value is _UNREADABLE or written is None:
            return _UNREADABLE
        return in_unit(value, written, unit)

    def _unit(self, unit: Unit, table: Mapping[str, Any], where: str) -> Unit | None:
        symbol: Any = table.get("unit", "" if unit.kind is Kind.RATIO else None)
        if symbol is None or not isinstance(symbol, str) or not (symbol or unit.kind is Kind.RATIO):
            others = ", ".join(name for name in UNITS[unit.kind] if name != unit.symbol)
            or_other = f", or another of {unit.kind.value}: {others}" if others else ""
            self._wrong("is missing.", where, f'Say unit = "{unit.symbol}"{or_other}.')
            return None
        try:
            return unit_written(symbol, unit.kind)
        except StringerlabError as error:
            (problem,) = error.problems
            self._wrong(problem.what, where, problem.remedy)
            return None

    def _number(self, raw: Any, where: str) -> Any:
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            if isinstance(raw, float) or abs(raw) < _LARGEST:
                return float(raw)
            return math.inf if raw > 0 else -math.inf
        return self._wrong(f"{raw!r} is no number.", where, "Give a number.")

    def _choice(self, cls: type[StrEnum], raw: Any, where: str) -> Any:
        choices = [member.value for member in cls]
        if raw in choices:
            return cls(raw)
        return self._wrong(f"{raw!r} is none of the choices.", where, f"Use one of: {', '.join(choices)}.")

    def _by_volume(self, raw: object, where: str) -> None:
        fibre, resin = (str(self._row.get(name, "")) for name in ("fibre", "resin"))
        self.by_volume.append(_ByVolume(raw, where, fibre, resin))

    def _unknown(self, what: str, name: str, known: Sequence[str], where: str) -> None:
        near = difflib.get_close_matches(name, known, n=1)
        remedy = f"Did you mean '{near[0]}'?" if near else f"Use: {', '.join(known)}."
        self._wrong(f"'{name}' is no {what} known here.", where, remedy)

    def _wrong(self, what: str, where: str, remedy: str) -> object:
        self.problems.append(Problem(what, where, remedy))
        return _UNREADABLE


def _percent(raw: object) -> bool:
    """Whether a glass content is stated in percent where a part of 1 is wanted."""
    return isinstance(raw, int | float) and 1 < raw <= 100


def _in_words(error: ValueError) -> str:
    if isinstance(error, tomllib.TOMLDecodeError):
        return str(error)
    return "it holds a number of thousands of digits"
