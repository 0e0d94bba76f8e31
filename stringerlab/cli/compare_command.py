"""``compare``: two to six layouts or boats side by side, as a table, sentences, JSON, a one-page plot."""

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from stringerlab.cli.quantities import value
from stringerlab.cli.table import WIDTH, Column, paragraph, table
from stringerlab.compare import Chosen, Compared, Comparison, Measure, compare
from stringerlab.compare.sentences import titled
from stringerlab.compare.shown import cell, unit_of
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import load, load_parent, parent_path
from stringerlab.methods import NOTICE
from stringerlab.project import Project
from stringerlab.units import System

_NOTED = ("part", "hull", "side", "hours", "cost")
"""Measures whose notes are printed; JSON has all."""
_LEAST, _MOST = 12, 20
"""Widths of a value's column."""


def run(options: argparse.Namespace) -> int:
    """Print the comparison; 2 when something is wrong with what is compared."""
    chosen = chosen_of(options.of, options.layout or (), parent=options.parent)
    system = System(options.units) if options.units else chosen[0].project.units
    found = compare(chosen, system=system)
    if options.svg:
        _write_plot(found, Path(options.svg), system)
    if options.pdf:
        _write_sheet(found, Path(options.pdf), system)
    if options.json:
        print(json.dumps(as_json(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(page(found, system)))
    wrong = [
        Problem(problem.what, f"{one.letter}, {one.boat}, {problem.where}", problem.remedy)
        for one in found.items
        for problem in one.problems
    ]
    for line in shown(dict.fromkeys(wrong)):
        print(line, file=sys.stderr)
    return 2 if wrong else 0


def chosen_of(named: Sequence[str], layouts: Sequence[str] = (), *, parent: bool = False) -> list[Chosen]:
    """Return what is to be compared.

    Parameters
    ----------
    named
        Project files, or ``FILE#LAYOUT``; one file alone stands for its layouts.
    layouts
        Layouts of the one file named, by id or unique name.
    parent
        Whether the parent boat that the first file names stands last.

    Raises
    ------
    StringerlabError
        With every file that cannot be read.
    """
    wrong: list[Problem] = []
    read: list[tuple[Path, str, Project]] = []
    projects: dict[Path, Project] = {}
    for name in named:
        path, layout = _parted(name)
        try:
            projects[path] = projects.get(path) or load(path)
            read.append((path, layout, projects[path]))
        except StringerlabError as error:
            wrong += error.problems
    if layouts and len(named) > 1:
        what = "Layouts are named apart for one file only."
        wrong.append(Problem(what, "--layout", "Write FILE#LAYOUT for every one."))
    if wrong:
        raise StringerlabError(wrong)
    if len(read) == 1 and not read[0][1]:
        path, _, project = read[0]
        wanted = layouts or [one.id for one in project.layouts]
        read = [(path, layout, project) for layout in wanted] or read
    parents = _parents(read)
    found = [
        Chosen(
            project=project,
            layout=layout,
            parent=path.resolve() in parents,
            service=parents.get(path.resolve(), ""),
            file=str(path),
        )
        for path, layout, project in read
    ]
    return [*found, *_first_parent(read, parents, wanted=parent)]


def _parted(name: str) -> tuple[Path, str]:
    """Return a file, and the layout named after ``#``; a file's own name may hold one."""
    if "#" not in name or Path(name).exists():
        return Path(name), ""
    file, _, layout = name.rpartition("#")
    return Path(file), layout


def _parents(read: Sequence[tuple[Path, str, Project]]) -> dict[Path, str]:
    """Return the files that any of the boats names as its parent, and the service it tells of."""
    found: dict[Path, str] = {}
    for path, _, project in read:
        if project.parent is not None and project.parent.file.strip():
            try:
                found[parent_path(path, project).resolve()] = project.parent.service
            except StringerlabError:
                continue  # its own check says so
    return found


def _first_parent(
    read: Sequence[tuple[Path, str, Project]], parents: dict[Path, str], *, wanted: bool
) -> Iterator[Chosen]:
    if not wanted:
        return
    path, _, project = read[0]
    file = parent_path(path, project)
    if file.resolve() not in {each.resolve() for each, _, _ in read}:
        yield Chosen(
            project=load_parent(path, project),
            parent=True,
            service=parents.get(file.resolve(), ""),
            file=str(file),
        )


def _write_plot(found: Comparison, path: Path, system: System) -> None:
    from stringerlab.drawing import PRINT, svg
    from stringerlab.drawing.comparison import LEGEND, comparison_picture
    from stringerlab.report.writing import written

    picture = comparison_picture(found, units=system)
    text = svg(picture, PRINT, title="Layouts and boats side by side", legend=LEGEND)
    written(path, text.encode("utf-8"))


def _write_sheet(found: Comparison, path: Path, system: System) -> None:
    from stringerlab.report.comparison import comparison_sheet
    from stringerlab.report.writing import written

    if path.suffix.lower() != ".pdf":
        raise StringerlabError(Problem("A comparison sheet is a PDF.", str(path), "End its name in .pdf."))
    written(path, comparison_sheet(found, system=system))


def page(found: Comparison, system: System) -> list[str]:
    """Return the lines of a comparison for a terminal."""
    text = [*paragraph(NOTICE), ""]
    for one in found.items:
        text += paragraph(f"{one.letter}  {_told(one)}")
    width = min(max((WIDTH - 30) // len(found.items) - 2, _LEAST), _MOST)
    first = WIDTH - len(found.items) * (width + 2)
    columns = (
        Column("", max(first, 14)),
        *(Column(one.letter, width, right=True) for one in found.items),
    )
    for group, measures in found.groups():
        title = group.value[0].upper() + group.value[1:]
        rows = [_row(measure, found, system) for measure in measures]
        text += ["", title, *table(columns, rows)]
    text += ["", "What the numbers say"]
    for sentence in found.sentences:
        text += paragraph(sentence, "  ")
    for said in (*found.missing, *found.notes, *_item_notes(found)):
        text += paragraph(said)
    return text


def _told(one: Compared) -> str:
    return titled(one) if one.name == one.boat else f"{titled(one)}, of {one.boat}"


def _row(measure: Measure, found: Comparison, system: System) -> tuple[str, ...]:
    return (measure.name, *(cell(measure, one.measured.get(measure.id), system) for one in found.items))


def _item_notes(found: Comparison) -> Iterator[str]:
    for one in found.items:
        for note in one.notes:
            yield f"{one.letter}: {note}"
        for measure in found.measures:
            if measure.id in _NOTED and (told := one.measured[measure.id].notes):
                yield f"{one.letter}, {measure.name}: {'; '.join(told)}."
        if one.worst:
            yield f"{one.letter} uses most at {one.worst}."


def as_json(found: Comparison) -> dict[str, Any]:
    """Return the documented JSON of a comparison, each number with its unit; null where it is not known."""
    return {
        "notice": NOTICE,
        "notes": list(found.notes),
        "compared": [
            {
                "letter": one.letter,
                "name": one.name,
                "boat": one.boat,
                "file": one.chosen.file,
                "layout": one.layout.id if one.layout is not None else None,
                "parent": one.chosen.parent,
                "worst": one.worst,
                "notes": list(one.notes),
                "problems": [str(problem) for problem in one.problems],
            }
            for one in found.items
        ],
        "measures": [
            {
                "id": measure.id,
                "name": measure.name,
                "group": measure.group.value,
                "values": [_value(measure, one) for one in found.items],
            }
            for measure in found.measures
        ],
        "sentences": list(found.sentences),
        "not_known": list(found.missing),
    }


def _value(measure: Measure, one: Compared) -> dict[str, Any]:
    held = one.measured[measure.id]
    return {
        "of": one.letter,
        **value(held.value, unit_of(measure, held.unit)),
        "why": held.why,
        "notes": list(held.notes),
    }


__all__ = ["as_json", "chosen_of", "page", "run"]
