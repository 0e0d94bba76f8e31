"""Reads a book of materials: TOML tables into frozen records, strictly, with every problem at once.

A file holds ``[[resin]]``, ``[[fibre]]``, ``[[reinforcement]]``, ``[[core]]``, ``[[gel_coat]]``,
``[[solid]]`` and ``[[adhesive]]`` rows; a value is ``{ value = …, source = "…", known = "…" }``.
"""

import dataclasses
import difflib
import tomllib
from collections.abc import Mapping, Sequence
from enum import StrEnum
from pathlib import Path
from types import NoneType
from typing import Annotated, Any, cast, get_args, get_origin, get_type_hints

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials.checks import material_problems
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
from stringerlab.units.ranges import range_problems

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

_ALWAYS_SAID = {"source", "known"}
_UNREADABLE = object()


def read_materials(paths: Sequence[Path]) -> Materials:
    """Return the materials of a book's files.

    Raises
    ------
    StringerlabError
        With every problem of every file: not TOML, unknown tables or keys, missing values or sources,
        values out of range, ids used twice, references to materials that are not there.
    """
    problems: list[Problem] = []
    rows: dict[str, list[Any]] = {field: [] for field, _ in ROWS.values()}
    for path in paths:
        for table, entries in _tables(path, problems).items():
            field, cls = ROWS[table]
            for number, entry in enumerate(entries, start=1):
                label = f"{path.name}, {table.replace('_', ' ')} {number}"
                identity = entry.get("id")
                where = f"{label} ({identity})" if isinstance(identity, str) and identity else label
                record = _record(cls, entry, where, problems)
                if record is not None:
                    problems.extend(range_problems(record, where))
                    rows[field].append(record)
    materials = Materials(**{field: tuple(records) for field, records in rows.items()})
    if not problems:
        problems.extend(material_problems(materials))
    if problems:
        raise StringerlabError(problems)
    return materials


def _tables(path: Path, problems: list[Problem]) -> dict[str, list[dict[str, Any]]]:
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        problems.append(Problem(f"cannot be read: {error.strerror}.", path.name, "Check the file."))
        return {}
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        problems.append(Problem(f"is no TOML: {error}.", path.name, "Mend the file at that place."))
        return {}
    tables: dict[str, list[dict[str, Any]]] = {}
    for name, content in document.items():
        entries = cast(list[Any], content) if isinstance(content, list) else []
        if name not in ROWS:
            problems.append(_unknown("table", name, list(ROWS), path.name))
        elif not entries or not all(isinstance(entry, dict) for entry in entries):
            problems.append(Problem("holds no rows.", f"{path.name}, {name}", f"Write it as [[{name}]]."))
        else:
            tables[name] = entries
    return tables


def _record(cls: type, raw: Mapping[str, Any], where: str, problems: list[Problem]) -> Any:
    """Return the record, or None when a problem stands in the way."""
    hints = get_type_hints(cls, include_extras=True)
    fields = {field.name: field for field in dataclasses.fields(cls)}
    before = len(problems)
    problems.extend(_unknown("key", key, list(fields), where) for key in raw if key not in fields)
    values: dict[str, Any] = {}
    for name, field in fields.items():
        place = f"{where}, {name.replace('_', ' ')}"
        if name in raw:
            values[name] = _value(hints[name], raw[name], place, problems)
        elif _required(field):
            problems.append(Problem("is missing.", place, "Give it."))
    return cls(**values) if len(problems) == before else None


def _required(field: dataclasses.Field[Any]) -> bool:
    if field.name in _ALWAYS_SAID:
        return True
    return field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING


def _value(annotation: Any, raw: Any, where: str, problems: list[Problem]) -> Any:
    if get_origin(annotation) is Annotated:
        annotation = get_args(annotation)[0]
    elif NoneType in get_args(annotation):
        (inner,) = [choice for choice in get_args(annotation) if choice is not NoneType]
        return _value(inner, raw, where, problems)
    if annotation is Sourced and not isinstance(raw, dict):
        what = "is no table of value, source and known."
        problems.append(Problem(what, where, 'Write it as { value = …, source = "…", known = "…" }.'))
    elif dataclasses.is_dataclass(annotation):
        if isinstance(raw, dict):
            return _record(cast(type, annotation), cast(dict[str, Any], raw), where, problems)
        problems.append(Problem("is no table.", where, "Write it as { … }."))
    elif isinstance(annotation, type) and issubclass(annotation, StrEnum):
        choices = [member.value for member in annotation]
        if raw in choices:
            return annotation(raw)
        problems.append(
            Problem(f"{raw!r} is none of the choices.", where, f"Use one of: {', '.join(choices)}.")
        )
    elif annotation is float:
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            return float(raw)
        problems.append(Problem(f"{raw!r} is no number.", where, "Give a number."))
    elif annotation is bool:
        if isinstance(raw, bool):
            return raw
        problems.append(Problem(f"{raw!r} is neither true nor false.", where, "Write true or false."))
    elif isinstance(raw, str) and raw.strip():
        return raw
    else:
        problems.append(Problem("is no text, or empty.", where, "Give it as text."))
    return _UNREADABLE


def _unknown(what: str, name: str, known: Sequence[str], where: str) -> Problem:
    near = difflib.get_close_matches(name, known, n=1)
    remedy = f"Did you mean '{near[0]}'?" if near else f"Use: {', '.join(known)}."
    return Problem(f"'{name}' is no {what} known here.", where, remedy)
