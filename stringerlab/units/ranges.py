"""Range annotations enforced on any frozen record, with a path to the field a person can read.

A field's ``Range`` counts in the field's own unit. It reaches through tuples, unions with None and
nested records; on a record that carries a ``value`` (a sourced value) it holds for that value.
"""

import dataclasses
import math
from collections.abc import Callable, Sequence
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, NamedTuple, Union, cast, get_args, get_origin, get_type_hints

from stringerlab.errors import Problem
from stringerlab.units.kinds import Range, Unit


class _Found(NamedTuple):
    path: tuple[str, ...]
    what: str
    remedy: str


_Check = Callable[[Any], Sequence[_Found]]
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")


def range_problems(record: Any, where: str = "") -> list[Problem]:
    """Return every number of a record that is missing, not finite, or outside its field's range.

    Parameters
    ----------
    record
        A dataclass instance.
    where
        How a person knows the record: ``laminate 'Bottom' (l3)``; the path to the field follows it.
    """
    kind = cast(type[Any], type(record))
    return [
        Problem(found.what, ", ".join(part for part in (where, *found.path) if part), found.remedy)
        for found in _record_check(kind)(record)
    ]


@cache
def _record_check(cls: type) -> _Check:
    hints = get_type_hints(cls, include_extras=True)
    checks = [
        (field.name, field.name.replace("_", " "), check)
        for field in dataclasses.fields(cls)
        if (check := _check_of(hints[field.name], field.name)) is not None
    ]

    def check_record(record: Any) -> Sequence[_Found]:
        found: list[_Found] = []
        for name, words, check in checks:
            for item in check(getattr(record, name)):
                # a tuple's check names its elements itself: "ply 2" says more than "plies, 2"
                path = item.path if item.path and item.path[0] == "" else (words, *item.path)
                found.append(item._replace(path=path[1:] if path[0] == "" else path))
        return found

    return check_record


def _check_of(annotation: Any, name: str) -> _Check | None:
    unit: Unit | None = None
    ranges: list[Range] = []
    if get_origin(annotation) is Annotated:
        annotation, *extras = get_args(annotation)
        unit = next((extra for extra in extras if isinstance(extra, Unit)), None)
        ranges = [extra for extra in extras if isinstance(extra, Range)]
    origin = get_origin(annotation)
    if origin is Union or origin is UnionType:
        return _optional(annotation, name)
    if annotation is float or annotation is int:
        return _number(unit, ranges)
    if origin is tuple:
        return _tuple(get_args(annotation), name)
    if dataclasses.is_dataclass(annotation):
        cls = cast(type, annotation)
        return _valued(unit, ranges) if ranges else lambda record: _record_check(cls)(record)
    return None


def _optional(annotation: Any, name: str) -> _Check | None:
    choices = [choice for choice in get_args(annotation) if choice is not NoneType]
    optional = len(choices) < len(get_args(annotation))
    checks = [check for choice in choices if (check := _check_of(choice, name)) is not None]
    if not checks:
        return None
    if len(choices) == 1:
        inner = checks[0]
        return lambda value: () if optional and value is None else inner(value)
    return lambda value: (
        _record_check(cast(type, type(value)))(value) if dataclasses.is_dataclass(value) else ()
    )


def _number(unit: Unit | None, ranges: Sequence[Range]) -> _Check:
    def check(value: Any) -> Sequence[_Found]:
        if isinstance(value, bool) or not isinstance(value, int | float):
            what = "is missing." if value is None else f"{value!r} is no number."
            return (_Found((), what, "Give a number."),)
        if not math.isfinite(value):
            return (_Found((), f"{value} is no finite number.", "Give a number."),)
        return tuple(_outside(value, allowed, unit) for allowed in ranges if not allowed.holds(value))

    return check


def _valued(unit: Unit | None, ranges: Sequence[Range]) -> _Check:
    number = _number(unit, ranges)
    return lambda record: number(getattr(record, "value", record))


def _tuple(items: tuple[Any, ...], name: str) -> _Check | None:
    if len(items) == 2 and items[1] is Ellipsis:
        each = _check_of(items[0], name)
        return None if each is None else _many(each, _singular(name))
    checks = [_check_of(item, name) for item in items]
    if all(check is None for check in checks):
        return None

    def check_fixed(values: Any) -> Sequence[_Found]:
        found: list[_Found] = []
        for index, (value, check) in enumerate(zip(values, checks, strict=False)):
            if check is not None and (items_found := check(value)):
                label = f"{_ORDINALS[index] if index < len(_ORDINALS) else index + 1} number"
                found.extend(item._replace(path=(label, *item.path)) for item in items_found)
        if len(values) != len(checks):
            found.append(_Found((), f"{len(values)} numbers where {len(checks)} belong.", "Give them all."))
        return found

    return check_fixed


def _many(each: _Check, singular: str) -> _Check:
    def check_many(values: Any) -> Sequence[_Found]:
        found: list[_Found] = []
        for index, value in enumerate(values, start=1):
            if items_found := each(value):
                label = _label(value, singular, index)
                found.extend(item._replace(path=("", label, *item.path)) for item in items_found)
        return found

    return check_many


def _label(value: Any, singular: str, index: int) -> str:
    identity, name = getattr(value, "id", None), getattr(value, "name", None)
    if identity and name:
        return f"{singular} '{name}' ({identity})"
    return f"{singular} {identity or index}"


def _singular(name: str) -> str:
    words = name.replace("_", " ")
    if words.endswith("ies"):
        return f"{words[:-3]}y"
    return words.removesuffix("es" if words.endswith("xes") else "s")


def _outside(value: float, allowed: Range, unit: Unit | None) -> _Found:
    symbol = f" {unit.symbol.strip()}" if unit is not None and unit.symbol.strip() else ""
    bounded = math.isfinite(allowed.low) and math.isfinite(allowed.high)
    if bounded and allowed.above:
        wanted = f"is not above {allowed.low:g} and at most {allowed.high:g}{symbol}."
    else:
        wanted = f"is {'outside' if bounded else 'not'} {allowed}{symbol}."
    return _Found((), f"{value:.12g}{symbol} {wanted}", "Give a number in that range.")
