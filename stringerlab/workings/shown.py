"""Steps of a calculation as a reader sees them, one row at a time: formula, numbers, result, source.

Numbers stand in the clause's own units, and again in the project's where those differ.
"""

import math
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.units import System, Unit, display_unit, rounded, trimmed
from stringerlab.workings import display
from stringerlab.workings.display import PLAIN, TYPST, Style
from stringerlab.workings.nomenclature import meaning
from stringerlab.workings.recording import Step, row_of
from stringerlab.workings.source import Known
from stringerlab.workings.wrapping import wrapped

WIDTH = 100
"""Columns of a page for a terminal."""
_LISTED = 20
"""Results written out where a step has several in a row, such as one for each ply."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A symbol with its value; ``project`` is empty where the project's unit is the clause's own."""

    symbol: str
    meaning: str
    clause: str
    project: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """A name that a formula gives a value of its own on the way to its result."""

    symbol: str
    formula: str
    numbers: str
    result: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One step in one row. ``formula`` is the whole equation, ``numbers`` its right-hand side."""

    symbol: str
    meaning: str
    formula: str
    numbers: str
    result: str
    exact: str
    """The result as it goes into a later step, to more digits."""
    project_result: str
    """The result in the project's units, empty where they are the clause's own."""
    derived: tuple[Derived, ...]
    inputs: tuple[Quantity, ...]
    source: str
    note: str
    """What the source itself must be said of."""
    known: Known
    outside: tuple[str, ...]
    places: int
    """How many places of the row have a result, all where none has; the numbers are those of the first."""


def shown(step: Step, row: int | tuple[int, ...], system: System, style: Style = PLAIN) -> Shown:
    """Return a step as it is shown in one row.

    Parameters
    ----------
    step
        A recorded step.
    row
        Row of the batch, or the place in a batch of more axes, such as (row, ply).
    system
        Units of the project.
    style
        ``PLAIN`` or ``TYPST``: how the mathematics is written.

    Raises
    ------
    IndexError
        When the step has no such row.
    """
    formula = step.formula
    places = _places(step, row)
    place = next((p for p in places if math.isfinite(row_of(step.result, p))), places[0])
    inputs = {name: row_of(value, place) for name, value in step.inputs.items()}
    in_clause = {name: value / formula.units[name].factor for name, value in inputs.items()}
    derived = {name: float(value) for name, value in formula.body.local_values(in_clause).items()}
    named = {name: value for name, value in formula.body.constants.items() if name != "pi"}
    numbers = {**named, **in_clause, **derived}
    equations = display.equations(formula.body, formula.symbol, style)
    results = [row_of(step.result, p) for p in places]
    return Shown(
        symbol=style.name(formula.symbol),
        meaning=formula.means,
        formula=equations[0],
        numbers=display.written(formula.body.returned, style, numbers),
        result=_listed(results, formula.unit, style),
        exact=_text(trimmed(row_of(step.result, place) / formula.unit.factor), formula.unit.symbol, style),
        project_result=_repeated(results, formula.unit, system, style),
        derived=tuple(
            Derived(
                symbol=style.name(name),
                formula=equation,
                numbers=display.written(node, style, numbers),
                result=_text(rounded(derived[name]), "", style),
            )
            for equation, (name, node) in zip(equations[1:], formula.body.assigned, strict=True)
        ),
        inputs=tuple(_quantity(name, inputs[name], formula.units[name], system, style) for name in inputs),
        source=str(formula.source),
        note=formula.source.note,
        known=formula.source.known,
        outside=outside_notes((step,), row),
        places=sum(map(math.isfinite, results)) or len(places),
    )


def outside_notes(steps: Iterable[Step], row: int | tuple[int, ...]) -> tuple[str, ...]:
    """Return what must be said of inputs outside their formula's stated range in one row, each once."""
    notes: dict[str, None] = {}
    for step in steps:
        for name, mask in step.formula.outside(step.inputs).items():
            unit = step.formula.units[name]
            stated = f"{step.formula.valid[name]} {unit.symbol}".rstrip()
            for place in _places(step, row):
                if row_of(mask, place):
                    value = (
                        f"{trimmed(row_of(step.inputs[name], place) / unit.factor)} {unit.symbol}".rstrip()
                    )
                    notes[f"{PLAIN.name(name)} = {value} is outside {stated}, the stated range"] = None
    return tuple(notes)


def lines(steps: Sequence[Step], row: int | tuple[int, ...], system: System) -> list[str]:
    """Return a page for a terminal, at most 100 columns wide: clause by clause, each step as in a textbook.

    A symbol is explained where it first comes up; a result that goes into a later step is not explained
    there again.
    """
    page: list[str] = []
    explained: set[tuple[str, str]] = set()
    for number, step in enumerate(steps, start=1):
        item = shown(step, row, system)
        page += ["", *_heading(number, item)] if page else _heading(number, item)
        page += _equation(item.formula, "    ")
        page += _table([given for given in item.inputs if (given.symbol, given.clause) not in explained])
        for local in item.derived:
            page += _equation(local.formula, "    ")
            page += _equation(f"{local.symbol} = {local.numbers}", "    ", repeat=False)
            page += _equation(f"{local.symbol} = {local.result}", "    ", repeat=False)
        repeated = f"   ({item.project_result})" if item.project_result else ""
        page += _equation(f"{item.symbol} = {item.numbers}", "    ", repeat=bool(item.derived))
        page += _equation(f"{item.symbol} = {item.result}{repeated}", "    ", repeat=False)
        page += _remarks(item)
        explained |= {(given.symbol, given.clause) for given in item.inputs}
        explained.add((item.symbol, item.exact))
    return page


def typst_lines(
    steps: Sequence[Step],
    row: int | tuple[int, ...],
    system: System,
    *,
    first: int = 1,
    explained: set[tuple[str, str]] | None = None,
) -> list[str]:
    """Return the same page as Typst markup, one block a string: heading, mathematics, symbols, source.

    Parameters
    ----------
    steps
        The steps, in the order they ran.
    row
        Row of the batch.
    system
        Units of the project.
    first
        Number of the first step.
    explained
        Symbols with their values that steps before these explain; those explained here are added to it.
    """
    page: list[str] = []
    explained = set() if explained is None else explained
    for number, step in enumerate(steps, start=first):
        item = shown(step, row, system, TYPST)
        page.append(f"*{number}. {_words(item.meaning)}*")
        page.append(f"$ {item.formula} $")
        given = [given for given in item.inputs if (given.symbol, given.clause) not in explained]
        if given:
            page.append(f"#table(columns: 4, stroke: none, {', '.join(map(_cells, given))})")
        page += [
            f"$ {local.formula.replace(' = ', ' &= ', 1)} \\ &= {local.numbers} \\ &= {local.result} $"
            for local in item.derived
        ]
        repeated = f" quad ({item.project_result})" if item.project_result else ""
        page.append(f"$ {item.symbol} &= {item.numbers} \\ &= {item.result}{repeated} $")
        page.append(_words("; ".join(_said(item))))
        explained |= {(given.symbol, given.clause) for given in item.inputs}
        explained.add((item.symbol, item.exact))
    return page


def _places(step: Step, row: int | tuple[int, ...]) -> list[tuple[int, ...]]:
    """Return the places of a row in a step's result: one, or one for each ply or other further axis."""
    shape = np.shape(step.result)
    given = ((row,) if isinstance(row, int) else row)[: len(shape)]
    if len(given) == len(shape):
        return [given]
    return [(*given, *further) for further in np.ndindex(shape[len(given) :])]


def _quantity(name: str, value: float, unit: Unit, system: System, style: Style) -> Quantity:
    return Quantity(
        symbol=style.name(name),
        meaning=meaning(name),
        clause=_text(trimmed(value / unit.factor), unit.symbol, style),
        project=_repeated([value], unit, system, style),
    )


def _listed(values: Sequence[float], unit: Unit, style: Style) -> str:
    finite = [value for value in values if math.isfinite(value)] or list(values[:1])
    written = [_text(rounded(value / unit.factor), "", style) for value in finite[:_LISTED]]
    more = f" … ({len(finite)})" if len(finite) > _LISTED else ""
    return _with_unit("; ".join(written) + (style.text(more) if more else ""), unit.symbol, style)


def _repeated(values: Sequence[float], unit: Unit, system: System, style: Style) -> str:
    project = display_unit(unit.kind, system)
    return "" if project.factor == unit.factor else _listed(values, project, style)


def _text(number: str, unit: str, style: Style) -> str:
    return _with_unit(display.number_text(number, style), unit, style)


def _with_unit(number: str, unit: str, style: Style) -> str:
    return f"{number} {style.text(unit)}" if unit else number


def _heading(number: int, item: Shown) -> list[str]:
    return textwrap.wrap(f"{number}. {item.meaning}", WIDTH, subsequent_indent="   ")


def _equation(equation: str, indent: str, *, repeat: bool = True) -> list[str]:
    """Return an equation's lines, aligned at the sign; without ``repeat`` the left side is left blank."""
    left, right = equation.split(" = ", 1)
    head = f"{indent}{left if repeat else ' ' * len(left)} = "
    first, *rest = wrapped(right, WIDTH - len(head))
    return [f"{head}{first}", *(f"{' ' * len(head)}{line}" for line in rest)]


def _table(given: Sequence[Quantity]) -> list[str]:
    if not given:
        return []
    rows = [(one.symbol, f"= {one.clause}", one.project and f"({one.project})") for one in given]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    page: list[str] = []
    for one, row in zip(given, rows, strict=True):
        cells = [f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True) if width]
        head = f"        {cells[0]} {'  '.join(cells[1:])}  "
        words = textwrap.wrap(one.meaning, max(WIDTH - len(head), 20)) or [""]
        page += [(head + words[0]).rstrip(), *(" " * len(head) + line for line in words[1:])]
    return page


def _said(item: Shown) -> list[str]:
    """Return what stands below a step: source and mark, the source's note, places, stated ranges left."""
    said = [f"Source: {item.source} ({item.known})"]
    if item.note:
        said.append(item.note)
    if item.places > 1:
        said.append(f"{item.places} places in this row; the numbers are those of the first with a result")
    return [*said, *item.outside]


def _remarks(item: Shown) -> list[str]:
    return [
        line
        for remark in _said(item)
        for line in textwrap.wrap(remark, WIDTH, initial_indent="    ", subsequent_indent="      ")
    ]


def _cells(one: Quantity) -> str:
    project = f"${one.project}$" if one.project else ""
    return f"[${one.symbol}$], [${one.clause}$], [{project}], [{_words(one.meaning)}]"


def _words(text: str) -> str:
    """Return words as a Typst string, so that nothing in them is markup."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'#"{escaped}"'
