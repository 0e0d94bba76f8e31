"""What the records of a file are made of, read from their annotations: fields, units, ranges."""

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, cast, get_args, get_origin, get_type_hints

from stringerlab.units import Range, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What a place in a file wants: type, parts of a list (one repeated, or each in turn), unit, range."""

    type: Any
    parts: tuple[Any, ...] = ()
    repeated: bool = False
    unit: Unit | None = None
    range: Range | None = None
    optional: bool = False

    def __str__(self) -> str:
        if is_dataclass(self.type):
            return "a record in { }"
        if self.type is tuple:
            return "a list in [ ]" if self.repeated else f"a list of {len(self.parts)} in [ ]"
        if issubclass(self.type, Enum):
            return f"one of {', '.join(choices(self.type))}"
        if self.type is float:
            return f"a number of {self.unit.symbol}" if self.unit and self.unit.symbol else "a number"
        return _WORDS.get(self.type, "something else")


_WORDS: Mapping[type, str] = {int: "a whole number", bool: "true or false", str: "text in double quotes"}


@cache
def wanted(annotation: Any) -> Wanted:
    """Return what an annotation wants."""
    unit: Unit | None = None
    limits: Range | None = None
    optional = False
    while True:
        origin, parts = get_origin(annotation), get_args(annotation)
        if origin is Annotated:
            unit = unit or next((part for part in parts[1:] if isinstance(part, Unit)), None)
            limits = limits or next((part for part in parts[1:] if isinstance(part, Range)), None)
            annotation = parts[0]
        elif origin in (Union, UnionType):
            optional = NoneType in parts
            annotation = next(part for part in parts if part is not NoneType)
        else:
            break
    repeated = len(parts) == 2 and parts[1] is Ellipsis
    return Wanted(
        type=origin or annotation,
        parts=parts[:1] if repeated else parts,
        repeated=repeated,
        unit=unit,
        range=limits,
        optional=optional,
    )


@cache
def annotations(record: Any) -> dict[str, Any]:
    """Return a record's fields and their annotations in declared order."""
    return get_type_hints(record, include_extras=True)


@cache
def needed(record: Any) -> tuple[str, ...]:
    """Return the fields of a record that have no default."""
    return tuple(
        field.name
        for field in fields(record)
        if field.default is MISSING and field.default_factory is MISSING
    )


def choices(enumeration: type[Enum]) -> list[str]:
    """Return the values of a closed list, in quotes."""
    return [f"'{member.value}'" for member in enumeration]


def wanted_at(root: Any, path: tuple[str | int, ...]) -> Wanted | None:
    """Return what is wanted at a path below a record type, None where nothing is."""
    here = wanted(root)
    for step in path:
        if isinstance(step, str):
            inside = annotations(here.type) if is_dataclass(here.type) else {}
            if step not in inside:
                return None
            here = wanted(inside[step])
        elif here.repeated:
            here = wanted(here.parts[0])
        elif step < len(here.parts):
            here = wanted(here.parts[step])
        else:
            return None
    return here


def records_below(root: Any) -> dict[str, Any]:
    """Return every record type reachable from one, by name."""
    found: dict[str, Any] = {}
    waiting = [root]
    while waiting:
        here = wanted(waiting.pop())
        waiting.extend(here.parts)
        if is_dataclass(here.type) and (name := cast(type, here.type).__name__) not in found:
            found[name] = here.type
            waiting.extend(annotations(here.type).values())
    return found
