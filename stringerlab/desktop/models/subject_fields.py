"""Panels and spans as rows of text: what each column is, how it is written and read. No Qt.

A record holds numbers as typed (mm, deg); a column gives and takes them in the program's unit (mm, rad).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import degrees
from typing import Any, cast

from stringerlab.craft import deadrise_at, reference_place
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import End, Panel, Span
from stringerlab.project import Project
from stringerlab.units import Kind, System, display_unit, parse, trimmed, unit_named

Subject = Panel | Span
_DEG = unit_named("deg").factor
_KEPT, _TYPED, _SHOWN = 12, 15, 6
"""Digits of a number that is put into a record, written to be typed again, and shown."""
_ENDS = [
    (End.HELD, End.HELD),
    (End.HELD, End.SIMPLE),
    (End.SIMPLE, End.HELD),
    (End.SIMPLE, End.SIMPLE),
    (End.HELD, End.FREE),
    (End.FREE, End.HELD),
]


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

    def value(self, record: Subject) -> Any:
        """Return what the record holds, a quantity in the program's unit."""
        held = getattr(record, self.key)
        return held * self.factor if self.kind is not None else held

    def put(self, record: Subject, value: Any) -> Subject:
        """Return the record with another value, a quantity given in the program's unit."""
        if self.kind is not None:
            value = float(f"{value / self.factor:.{_KEPT}g}")
        return replace(record, **{self.key: value})

    def shown(self, record: Subject, project: Project) -> str:
        """Return the text of a cell."""
        return self._written(record, project, _SHOWN)

    def typed(self, record: Subject, project: Project) -> str:
        """Return the text of a cell with every digit, as it would be typed."""
        return self._written(record, project, _TYPED)

    def read(self, text: str, project: Project) -> Any:
        """Return the value that a text means.

        Raises
        ------
        StringerlabError
            When it does not read.
        """
        if self.kind is not None:
            return parse(text, self.kind, project.units)
        words = text.strip()
        if self.choices is None:
            if not words:
                raise StringerlabError(Problem("It needs a name.", remedy="Type one."))
            return words
        return _chosen(words, self.choices(project), self.title)

    def _written(self, record: Subject, project: Project, digits: int) -> str:
        """Return what was entered without zeros behind it: 900 mm, 15.5 deg."""
        if self.kind is None:
            return self._words(record, project)
        unit = display_unit(self.kind, project.units)
        return f"{trimmed(self.value(record) / unit.factor, digits)} {unit.symbol}".rstrip()

    def _words(self, record: Subject, project: Project) -> str:
        held = getattr(record, self.key)
        if self.choices is None:
            return str(held)
        found = next((one.words for one in self.choices(project) if one.value == held), None)
        if found is not None:
            return found
        return _ends_words(held) if self.key == "ends" else str(held)


def hull_deadrise(project: Project, x: float) -> float | None:
    """Return the hull's deadrise [deg] at a place [mm], None where its stations are not sound."""
    try:
        return degrees(deadrise_at(project.craft, x))
    except StringerlabError:
        return None


def fresh(project: Project, like: Subject | None, kind: type[Subject]) -> Subject:
    """Return a new panel or span with values to begin from, those of another where there is one.

    Raises
    ------
    StringerlabError
        When the project has no laminate, or for a span no section, that it could name.
    """
    missing = [
        word
        for word, held in (("laminate", project.laminates), ("section", project.sections))
        if not held and (word == "laminate" or kind is Span)
    ]
    if missing:
        raise StringerlabError(
            Problem(f"There is no {word} yet.", remedy=f"Make a {word} first.") for word in missing
        )
    x = round(reference_place(project.craft), -1)
    hull = hull_deadrise(project, x)
    slope = 15.0 if hull is None else round(hull, 1)
    names = {record.name for record in (project.panels if kind is Panel else project.spans)}
    word = "Panel" if kind is Panel else "Span"
    number = next(n for n in range(1, len(names) + 2) if f"{word} {n}" not in names)
    if like is not None:
        return replace(like, name=f"{word} {number}")
    if kind is Panel:
        return Panel(
            id="",
            name=f"{word} {number}",
            b=400,
            l=1000,
            x=x,
            deadrise=slope,
            laminate=project.laminates[0].id,
        )
    return Span(
        id="",
        name=f"{word} {number}",
        section=project.sections[0].id,
        plating=project.laminates[0].id,
        lu=1000,
        s=400,
        x=x,
        deadrise=slope,
    )


def copied(records: Sequence[Subject], project: Project, further: Sequence[str] = ()) -> str:
    """Return records as tab-separated lines under their heads; ``further`` is what to add to each line."""
    fields = FIELDS[type(records[0])] if records else ()
    lines = ["\t".join(field.title for field in fields)]
    for number, record in enumerate(records):
        cells = [field.typed(record, project) for field in fields]
        lines.append("\t".join([*cells, further[number]] if further else cells))
    return "\n".join(lines)


def pasted(text: str, kind: type[Subject], project: Project, like: Subject | None = None) -> list[Subject]:
    """Return the records that tab-separated lines mean; columns in the order of the table.

    Columns left out at the right, and empty cells but the name's, are those of a new record; a deadrise that
    is left out is the hull's. A line of heads is passed over.

    Raises
    ------
    StringerlabError
        With everything that does not read, cell by cell; or when there is nothing to read.
    """
    fields = FIELDS[kind]
    lines = [line for line in text.splitlines() if line.strip()]
    if lines and lines[0].split("\t")[0].strip().casefold() == fields[0].title.casefold():
        del lines[0]
    if not lines:
        raise StringerlabError(
            Problem(
                "There is no row to paste.",
                remedy=f"Copy lines with the columns {', '.join(field.title for field in fields)}.",
            )
        )
    records: list[Subject] = []
    wrong: list[Problem] = []
    for number, line in enumerate(lines, 1):
        record = replace(fresh(project, like, kind), id="")
        cells = [cell.strip() for cell in line.split("\t")]
        given: set[str] = set()
        for field, cell in zip(fields, cells, strict=False):
            if not cell and field.key != "name":
                continue
            try:
                record = field.put(record, field.read(cell, project))
                given.add(field.key)
            except StringerlabError as error:
                wrong += [
                    Problem(problem.what, f"pasted row {number}, {field.title}", problem.remedy)
                    for problem in error.problems
                ]
        hull = hull_deadrise(project, record.x) if "deadrise" not in given else None
        records.append(record if hull is None else replace(record, deadrise=round(hull, 1)))
    if wrong:
        raise StringerlabError(wrong)
    return records


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


def _laminates(project: Project) -> Sequence[Choice]:
    return [Choice(value=one.id, words=one.name or one.id) for one in project.laminates]


def _sections(project: Project) -> Sequence[Choice]:
    return [Choice(value=one.id, words=one.name or one.id) for one in project.sections]


def _ends(project: Project) -> Sequence[Choice]:
    del project
    return [Choice(value=pair, words=_ends_words(pair)) for pair in _ENDS]


def _ends_words(pair: object) -> str:
    return "–".join(end.value for end in cast(tuple[End, End], pair))


def _attached(project: Project) -> Sequence[Choice]:
    del project
    return [Choice(value=True, words="yes"), Choice(value=False, words="no")]


def _length(key: str, title: str, meaning: str, width: int = 80) -> Field:
    return Field(key=key, title=title, meaning=meaning, width=width, kind=Kind.LENGTH)


def _places(width: int) -> tuple[Field, ...]:
    return (
        _length("x", "x", "From the transom forward to its middle", 74),
        Field(
            key="deadrise",
            title="deadrise (hull)",
            meaning="Slope of the bottom where it lies; in brackets the hull's own there, where they differ",
            width=width,
            kind=Kind.ANGLE,
            factor=_DEG,
        ),
        _length("camber", "camber", "Rise of the curve over the span; 0 where it is flat", 62),
    )


FIELDS: dict[type[Subject], tuple[Field, ...]] = {
    Panel: (
        Field(key="name", title="panel", meaning="A piece of hull bottom between web roots", width=200),
        _length("b", "b", "Short side, in the skin, from web root to web root"),
        _length("l", "l", "Long side, in the skin"),
        *_places(114),
        Field(
            key="laminate",
            title="laminate",
            meaning="The hull's laminate there",
            width=130,
            choices=_laminates,
        ),
    ),
    Span: (
        Field(key="name", title="span", meaning="A member between two supports", width=188),
        Field(key="section", title="section", meaning="The member's section", width=94, choices=_sections),
        Field(
            key="plating",
            title="plating",
            meaning="The hull's laminate under it",
            width=66,
            choices=_laminates,
        ),
        _length("lu", "lu", "Unsupported length between the supports", 70),
        _length("s", "s", "Spacing of the members, centre to centre, in the skin", 70),
        *_places(114),
        Field(
            key="ends",
            title="ends",
            meaning="How each end is held: held (goes on or clamped), simple (dies there), free",
            width=76,
            choices=_ends,
        ),
        Field(
            key="attached",
            title="attached",
            meaning="Whether its flanges are bonded to the plating all along",
            width=70,
            choices=_attached,
        ),
    ),
}
"""The columns of each kind, in the order in which they are shown, copied and pasted."""


def suggested(record: Subject, project: Project, system: System) -> str:
    """Return the hull's deadrise beside a record's where they differ by more than half a degree."""
    hull = hull_deadrise(project, record.x)
    if hull is None or abs(hull - record.deadrise) <= 0.5:
        return ""
    unit = display_unit(Kind.ANGLE, system)
    return f"({trimmed(hull * _DEG / unit.factor, 3)})"
