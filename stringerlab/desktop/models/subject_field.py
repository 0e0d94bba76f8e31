"""One column of a table of panels, spans or zones: how it is written, read and put into a record. No Qt.

A record holds numbers as typed (mm, deg); a column gives and takes them in the program's unit (mm, rad).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar, cast

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import End, Panel, Span, Zone
from stringerlab.project import Project
from stringerlab.units import Kind, display_unit, parse, trimmed

Subject = Panel | Span | Zone
_Record = TypeVar("_Record")
_KEPT, _TYPED, _SHOWN = 12, 15, 6
"""Digits of a number that is put into a record, written to be typed again, and shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One thing a cell may be: the value, and the words for it."""

    value: Any
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A column a person can type in."""

    key: str
    """The record's field."""
    title: str
    meaning: str
    width: int
    kind: Kind | None = None
    """Of a quantity; None for words and choices."""
    factor: float = 1.0
    """From the record's number to the program's unit."""
    choices: Callable[[Project], Sequence[Choice]] | None = None
    optional: bool = False
    """Whether a quantity may be left out, None."""
    held: Callable[[Any], Any] | None = None
    """How the record's number is come by, where it is not a field of its own."""
    with_value: Callable[[Any, Any], Any] | None = None
    """How the record with another number is made, likewise."""

    def value(self, record: object) -> Any:
        """Return what the record holds, a quantity in the program's unit."""
        held = getattr(record, self.key) if self.held is None else self.held(record)
        return held * self.factor if self.kind is not None and held is not None else held

    def put(self, record: _Record, value: Any) -> _Record:
        """Return the record with another value, a quantity given in the program's unit.

        Raises
        ------
        StringerlabError
            When the record can hold no such value.
        """
        if self.kind is not None and value is not None:
            value = float(f"{value / self.factor:.{_KEPT}g}")
        if self.with_value is not None:
            return cast(_Record, self.with_value(record, value))
        return replace(cast(Any, record), **{self.key: value})

    def shown(self, record: object, project: Project) -> str:
        """Return the text of a cell."""
        return self._written(record, project, _SHOWN)

    def typed(self, record: object, project: Project) -> str:
        """Return the text of a cell with every digit, as it would be typed."""
        return self._written(record, project, _TYPED)

    def read(self, text: str, project: Project) -> Any:
        """Return the value that a text means.

        Raises
        ------
        StringerlabError
            When it does not read.
        """
        if self.optional and text.strip() in ("", "—"):
            return None
        if self.kind is not None:
            return parse(text, self.kind, project.units)
        words = text.strip()
        if self.choices is None:
            if not words:
                raise StringerlabError(Problem("It needs a name.", remedy="Type one."))
            return words
        return _chosen(words, self.choices(project), self.title)

    def _written(self, record: object, project: Project, digits: int) -> str:
        """Return what was entered without zeros behind it: 900 mm, 15.5 deg."""
        if self.kind is None:
            return self._words(record, project)
        if self.value(record) is None:
            return ""
        unit = display_unit(self.kind, project.units)
        return f"{trimmed(self.value(record) / unit.factor, digits)} {unit.symbol}".rstrip()

    def _words(self, record: object, project: Project) -> str:
        held = self.value(record)
        if self.choices is None:
            return str(held)
        found = next((one.words for one in self.choices(project) if one.value == held), None)
        if found is not None:
            return found
        return ends_words(held) if self.key == "ends" else str(held)


def ends_words(pair: object) -> str:
    """Return the words for how both ends of a span are held."""
    return "–".join(end.value for end in cast(tuple[End, End], pair))


def _chosen(words: str, choices: Sequence[Choice], title: str) -> Any:
    for one in choices:
        if one.value == words:
            return one.value
    matching = [one for one in choices if one.words.casefold() == words.casefold()]
    if len(matching) == 1:
        return matching[0].value
    offered = ", ".join(one.words for one in choices[:8]) or "none yet"
    if matching:
        ids = ", ".join(str(one.value) for one in matching)
        raise StringerlabError(Problem(f"'{words}' is the name of several.", remedy=f"Use an id: {ids}."))
    raise StringerlabError(Problem(f"'{words}' is no {title} there is.", remedy=f"There is: {offered}."))
