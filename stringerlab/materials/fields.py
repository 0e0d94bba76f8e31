"""How each field of a record is written in a book: what it holds, its unit, whether it must be there."""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from stringerlab.units import Kind, Unit, unit_named

KEYS = ("value", "unit", "source", "known")
"""Keys of a value with its source."""
_ALWAYS_SAID = {"source", "known"}
_BARE = unit_named("")


@dataclass(frozen=True, slots=True)
class Form:
    """How a field is written."""

    base: type[Any]
    """What it holds, or each of the rows it holds: a number, text, choice or record."""
    unit: Unit
    """The unit its number is kept in."""
    many: bool
    required: bool

    @property
    def is_record(self) -> bool:
        """Whether it holds a table or rows."""
        return dataclasses.is_dataclass(self.base)

    @property
    def has_unit(self) -> bool:
        """Whether its number needs a unit to be said."""
        return self.unit.kind is not Kind.RATIO


def in_unit(value: float, written: Unit, kept: Unit) -> float:
    """Return a number written in one unit in another of its kind, without the noise of the factor."""
    if written.factor == kept.factor:
        return value
    return float(f"{value * written.factor / kept.factor:.15g}")


@cache
def forms_of(cls: type) -> Mapping[str, Form]:
    """Return how each field of a record is written, by name, in the record's order."""
    hints = get_type_hints(cls, include_extras=True)
    return {field.name: _form(hints[field.name], field) for field in dataclasses.fields(cls)}


def _form(annotation: Any, field: dataclasses.Field[Any]) -> Form:
    if get_origin(annotation) in (Union, UnionType):
        (annotation,) = [choice for choice in get_args(annotation) if choice is not NoneType]
    many = get_origin(annotation) is tuple
    if many:
        annotation = get_args(annotation)[0]
    unit = _BARE
    if get_origin(annotation) is Annotated:
        annotation, *extras = get_args(annotation)
        unit = next((extra for extra in extras if isinstance(extra, Unit)), _BARE)
    return Form(annotation, unit, many, _required(field))


def _required(field: dataclasses.Field[Any]) -> bool:
    if field.name in _ALWAYS_SAID:
        return True
    return field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
