"""Two records of a material beside each other: which fields differ, and in what words that is shown.

A field goes by its words (``density``; ``layer 2, weight``); its value has a unit, a source and a mark
where the field has them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, is_dataclass
from enum import Enum
from typing import Any, cast

from stringerlab.materials.book import AnyMaterial
from stringerlab.materials.fields import forms_of
from stringerlab.materials.records import GelCoat, Sourced
from stringerlab.units import Kind, System, Unit, display_unit, in_unit, trimmed, unit_named
from stringerlab.workings import Known

NOT_GIVEN = "not given"
_FEWEST, _MOST = 4, 17
"""Significant digits shown: as many as it takes for two numbers that differ to look different."""
_LISTED = {"layers": "layer", "coupons": "coupon set"}


_BARE = unit_named("")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What one record has in one field; a number counts in ``unit``."""

    value: float | str | bool
    unit: Unit = _BARE
    source: str = ""
    known: Known | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """A field in which two records differ; None where one of them has nothing there."""

    field: str
    mine: Entry | None
    theirs: Entry | None

    def values(self, system: System) -> tuple[str, str]:
        """Return both values with units, to as many digits as it takes to tell them apart."""
        for digits in range(_FEWEST, _MOST + 1):
            said = _said(self.mine, system, digits), _said(self.theirs, system, digits)
            if said[0] != said[1]:
                return said
        return _said(self.mine, system, _FEWEST), _said(self.theirs, system, _FEWEST)

    def told(self, system: System) -> tuple[str, str]:
        """Return both values with units, marks and sources."""
        mine, theirs = self.values(system)
        return _with_source(mine, self.mine), _with_source(theirs, self.theirs)


def word(material: AnyMaterial) -> str:
    """Return what a material is: ``resin``, ``gel coat``."""
    return "gel coat" if isinstance(material, GelCoat) else type(material).__name__.lower()


def label(material: AnyMaterial) -> str:
    """Return how a person knows a material: ``resin 'Vinylester' (vinylester)``."""
    return f"{word(material)} '{material.name}' ({material.id})"


def differences(mine: AnyMaterial, theirs: AnyMaterial) -> tuple[Difference, ...]:
    """Return every field, ids left aside, in which two records differ; none when they are the same."""
    first, second = _entries(mine), _entries(theirs)
    if type(mine) is not type(theirs):
        first = {"what it is": Entry(value=word(mine)), **first}
        second = {"what it is": Entry(value=word(theirs)), **second}
    return tuple(
        Difference(field=field, mine=first.get(field), theirs=second.get(field))
        for field in dict.fromkeys((*first, *second))
        if first.get(field) != second.get(field)
    )


def everything(material: AnyMaterial) -> tuple[Difference, ...]:
    """Return every field of a material of theirs that has no counterpart."""
    return tuple(
        Difference(field=field, mine=None, theirs=entry) for field, entry in _entries(material).items()
    )


def _entries(material: AnyMaterial) -> dict[str, Entry]:
    return {", ".join(path): entry for path, entry in _inside(material, ()) if path != ("id",)}


def _inside(record: object, above: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Entry]]:
    for name, form in forms_of(type(record)).items():
        value: Any = getattr(record, name)
        path = (*above, name.replace("_", " "))
        if value is None or value == "":
            continue
        if isinstance(value, Sourced):
            entry = Entry(value=value.value, unit=form.unit, source=value.source, known=value.known)
            yield path, entry
        elif form.many:
            for number, part in enumerate(cast(tuple[object, ...], value), 1):
                yield from _inside(part, (*above, f"{_LISTED.get(name, name)} {number}"))
        elif is_dataclass(value):
            yield from _inside(value, path)
        else:
            yield path, Entry(value=_word_for(value) if isinstance(value, Enum) else value, unit=form.unit)


def _word_for(choice: Enum) -> str:
    return str(choice.value).replace("_", " ")


def _said(entry: Entry | None, system: System, digits: int) -> str:
    if entry is None:
        return NOT_GIVEN
    value, unit = entry.value, entry.unit
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if unit.kind is Kind.RATIO:
        return trimmed(value, digits)
    return in_unit(value * unit.factor, display_unit(unit.kind, system), digits=digits)


def _with_source(said: str, entry: Entry | None) -> str:
    return said if entry is None or entry.known is None else f"{said} ({entry.known.value}: {entry.source})"
