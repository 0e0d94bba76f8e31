"""``study``: one or two numbers swept, and what is read off every step, as a table, CSV or JSON."""

import argparse
import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from math import isnan
from pathlib import Path
from typing import Any

import numpy as np

from stringerlab.cli.long_run import long_run
from stringerlab.cli.named import one_named
from stringerlab.cli.table import WIDTH, Column, bullets, letter, paragraph, table
from stringerlab.cli.typed_wishes import gathered, number_read, reading_read
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load
from stringerlab.methods import NOTICE
from stringerlab.project import Project
from stringerlab.project.wish_words import value_words
from stringerlab.project.wishes import Shown, Study
from stringerlab.sizing.records import Studied
from stringerlab.sizing.studying.studies import studied_rows, study
from stringerlab.units import System, rounded

_ACROSS = 8
"""Columns of a table of two numbers that go side by side."""
_TYPED = "typed"


def run(options: argparse.Namespace) -> int:
    """Print the study; always 0: it judges nothing."""
    project = load(options.file)
    asked = study_of(project, options)
    out = _csv_path(options.csv)
    system = System(options.units) if options.units else project.units
    with long_run(options) as (running, watch):
        found = study(project, asked, running=running, watch=watch)
    if out is not None:
        _write_csv(found, out, system)
    if options.json:
        print(json.dumps(as_json(found, project), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(page(found, project, system)))
    return 0


def study_of(project: Project, options: argparse.Namespace) -> Study:
    """Return what is asked: one of the project's studies, or what is typed.

    Raises
    ------
    StringerlabError
        With everything that is wrong with what is typed.
    """
    along, wrong = gathered("--along", options.along, partial(number_read, project))
    readings, unread = gathered("--show", options.show, partial(reading_read, project))
    wrong += unread
    if options.along and options.study:
        what = "A study is one of the project's, or typed."
        wrong.append(Problem(what, "--along", f"Leave out '{options.study}', or --along."))
    if wrong:
        raise StringerlabError(wrong)
    if options.along:
        asked = Study(id=_TYPED, name=" and ".join(options.along), along=along)
    elif options.study:
        asked = one_named(project.wishes.studies, options.study, "study")
    elif len(project.wishes.studies) == 1:
        asked = project.wishes.studies[0]
    else:
        held = ", ".join(f"{one.id} ({one.name})" for one in project.wishes.studies)
        raise StringerlabError(
            Problem(
                "It is not said which study." if held else "The project has no study.",
                "study",
                f"Name one: {held}." if held else "Say it: --along 'height Main stringer 100 160 10'.",
            )
        )
    return replace(asked, readings=readings) if readings else asked


def _csv_path(named: str | None) -> Path | None:
    if named is None:
        return None
    if Path(named).suffix.lower() != ".csv":
        raise StringerlabError(Problem("A table is a CSV file.", named, "End its name in .csv."))
    if not Path(named).absolute().parent.is_dir():
        raise StringerlabError(Problem("The folder is not there.", named, "Make it, or name another."))
    return Path(named)


def _write_csv(found: Studied, path: Path, system: System) -> None:
    from stringerlab.report.csv_text import Table, csv_bytes
    from stringerlab.report.writing import written

    heads, rows = studied_rows(found, system)
    written(path, csv_bytes(Table(heads=heads, rows=rows)))


def page(found: Studied, project: Project, system: System) -> list[str]:
    """Return the lines of a study for a terminal."""
    text = [*paragraph(NOTICE), "", *paragraph(f"{project.name}: {found.study.name}"), ""]
    heads, rows = studied_rows(found, system)
    if len(found.axes) == 1:
        text += _along_one(found, heads, rows)
    else:
        for reading in range(len(found.reading_names)):
            text += [*paragraph(heads[2 + reading]), *_along_two(found, heads, rows, reading), ""]
    text += [
        *([] if text[-1] == "" else [""]),
        *paragraph(f"The boat as she is: {_at(found, found.present, system)}."),
    ]
    for place, why in found.problems:
        values = [axis[one] for axis, one in zip(found.axes, place, strict=True)]
        text += paragraph(f"Not judged at {_at(found, values, system)}: {why}")
    if any(one.shown is Shown.USE for one in found.study.readings):
        text += paragraph(_READ + _DASH * bool(np.isnan(found.values).any()))
    return [*text, *bullets(found.notes)]


_READ = (
    "A utilisation is demand over capacity, in load, and short above 1: of the method's own findings, unless "
    "it is said below to be of the mechanics. "
)
_DASH = "A dash: nothing could be judged there."


def _at(found: Studied, values: Sequence[float], system: System) -> str:
    """Return a place along the numbers in words."""
    return ", ".join(
        f"{name} {value_words(number.change, value, system)}"
        for name, number, value in zip(found.axis_names, found.study.along, values, strict=True)
    )


def _along_one(found: Studied, heads: Sequence[str], rows: Sequence[Sequence[str | float]]) -> Iterator[str]:
    count = 1 + len(found.reading_names)
    for number, head in enumerate(heads[:count]):
        yield from paragraph(f"{letter(number)}  {head}", "  ")
    yield ""
    width = min((WIDTH - 2 * count) // count, 14)
    columns = [Column(letter(number), max(width, 6), right=True) for number in range(count)]
    yield from table(columns, [tuple(map(_cell, row[:count])) for row in rows])


def _along_two(
    found: Studied, heads: Sequence[str], rows: Sequence[Sequence[str | float]], reading: int
) -> Iterator[str]:
    first, second = (len(axis) for axis in found.axes)
    yield from paragraph(f"Down: {heads[0]}. Across: {heads[1]}.")
    for begin in range(0, second, _ACROSS):
        across = range(begin, min(begin + _ACROSS, second))
        columns = [
            Column("", 10, right=True),
            *(Column(_cell(rows[one][1]), 9, right=True) for one in across),
        ]
        yield from table(
            columns,
            [
                (
                    _cell(rows[down * second][0]),
                    *(_cell(rows[down * second + one][2 + reading]) for one in across),
                )
                for down in range(first)
            ],
        )


def _cell(value: str | float) -> str:
    if isinstance(value, str):
        return value
    return "—" if isnan(value) else rounded(value)


def as_json(found: Studied, project: Project) -> dict[str, Any]:
    """Return the documented JSON of a study: mm, kn, kg; null where a step could not be judged."""
    return {
        "notice": NOTICE,
        "project": project.name,
        "study": found.study.name,
        "along": [
            {"name": name, "unit": unit, "values": list(values), "present": present}
            for name, unit, values, present in zip(
                found.axis_names, found.axis_units, found.axes, found.present, strict=True
            )
        ],
        "readings": [
            {"name": name, "unit": unit, "values": _nested(values.tolist())}
            for name, unit, values in zip(found.reading_names, found.reading_units, found.values, strict=True)
        ],
        "not_judged": [{"at": list(place), "why": why} for place, why in found.problems],
        "notes": list(found.notes),
    }


def _nested(values: Any) -> Any:
    if isinstance(values, list):
        return [_nested(one) for one in values]  # pyright: ignore[reportUnknownVariableType]
    return None if isnan(values) else values


__all__ = ["as_json", "page", "run", "study_of"]
