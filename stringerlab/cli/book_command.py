"""``book``: own books of materials checked, written from a project, merged into one, held against another."""

import argparse
import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from stringerlab.cli.table import Column, paragraph, table
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import Lock, dumps, load, save
from stringerlab.files.books import load_book, save_book
from stringerlab.files.store import write_whole
from stringerlab.materials import AnyMaterial, material_doubts
from stringerlab.materials.book import every
from stringerlab.materials.differences import Entry, label, word
from stringerlab.materials.merging import Choice, Conflict, Merge, merge
from stringerlab.materials.records import Materials
from stringerlab.project.books import Change, changes, in_use, merge_with, own_book, with_book
from stringerlab.units import System

_REFUSED = 2
_WIDTHS = (24, 35, 35)


def run(options: argparse.Namespace) -> int:
    """Do what is asked with books; 2 when one is wrong, or two disagree and nobody says which counts."""
    does = {"check": _check, "export": _export, "import": _import, "diff": _diff}
    return does[options.does](options)


# -- check, export ---------------------------------------------------------------------------------


def _check(options: argparse.Namespace) -> int:
    book = load_book(options.book)
    doubts = material_doubts(book)
    if options.json:
        asked = [{"what": one.what, "where": one.where, "remedy": one.remedy} for one in doubts]
        _print_json({"book": options.book, "materials": _counts(book), "questions": asked})
        return 0
    print("\n".join(paragraph(f"{Path(options.book).name} is in order: {_counted(book)}.")))
    for line in shown(doubts):
        print("\n".join(paragraph(line)))
    return 0


def _export(options: argparse.Namespace) -> int:
    project = load(options.project)
    ids = [id_.strip() for text in options.ids or () for id_ in text.split(",") if id_.strip()]
    wanted = ids or (list(in_use(project)) if options.in_use else None)
    book = own_book(project, wanted, with_shipped=options.all)
    save_book(book, options.out, anew=not options.replace)
    if options.json:
        _print_json({"written": options.out, "materials": _counts(book), "ids": [m.id for m in every(book)]})
    else:
        print("\n".join([f"Wrote {options.out}.", *paragraph(f"It holds {_counted(book)}.")]))
    return 0


# -- import ----------------------------------------------------------------------------------------


def _import(options: argparse.Namespace) -> int:
    book = load_book(options.book)
    for line in shown(material_doubts(book)):
        print(line, file=sys.stderr)
    project = load(options.project)
    merged = merge_with(project, book)
    choices = _choices(options.take or (), merged)
    open_still = [one for one in merged.conflicts if one.id not in choices]
    system = System(options.units) if options.units else project.units
    if open_still:
        if options.json:
            _print_json(_as_json(merged, choices, (), None))
        else:
            print("\n".join(_conflicts(open_still, ("mine", "theirs"), system)))
        count = f"{len(open_still)} conflict{'s' if len(open_still) > 1 else ''} to settle"
        said = Problem(
            f"Nothing was written: {count}.", options.book, "Say --take mine, theirs or both, or ID=theirs."
        )
        print(said, file=sys.stderr)
        return _REFUSED
    if options.out:
        after = with_book(project, book, choices)
        write_whole(dumps(after), Path(options.out), anew=True)
    else:
        with Lock(options.project) as lock:
            project = load(options.project)
            after = with_book(project, book, choices)
            save(after, options.project, lock=lock)
    written = options.out or options.project
    changed = changes(project, after)
    if options.json:
        _print_json(_as_json(merged, choices, changed, written))
    else:
        print("\n".join(_done(merged, choices, changed, written)))
    return 0


def _choices(said: Iterable[str], merged: Merge) -> dict[str, Choice]:
    """Return each conflict's choice: a word for all, or ``ID=word`` for one, which counts before it."""
    ids = {one.id for one in merged.conflicts}
    named: dict[str, Choice] = {}
    everywhere: Choice | None = None
    problems: list[Problem] = []
    for text in said:
        id_, _, choice = text.rpartition("=")
        if choice not in list(Choice):
            what = f"'{text}' is no choice."
            problems.append(Problem(what, "--take", "Say mine, theirs or both, or ID=theirs for one."))
        elif not id_:
            everywhere = Choice(choice)
        elif id_ in ids:
            named[id_] = Choice(choice)
        else:
            remedy = f"There is one over: {', '.join(sorted(ids))}." if ids else "There is none at all."
            problems.append(Problem(f"There is no conflict over '{id_}'.", "--take", remedy))
    if problems:
        raise StringerlabError(problems)
    return (dict.fromkeys(ids, everywhere) if everywhere else {}) | named


def _done(merged: Merge, choices: Mapping[str, Choice], changed: Sequence[Change], written: str) -> list[str]:
    lines = [f"Wrote {written}."]
    new = dict(merged.renamed)
    lines += _listed("Added", [_under(one, new.get(one.id)) for one in merged.added])
    for choice, words in (
        (Choice.THEIRS, "Theirs in place of mine"),
        (Choice.BOTH, "Theirs beside mine"),
        (Choice.MINE, "Mine kept"),
    ):
        held = [one for one in merged.conflicts if choices[one.id] is choice]
        lines += _listed(
            words, [_under(one.theirs, one.new_id if choice is Choice.BOTH else None) for one in held]
        )
    if merged.same:
        lines.append(f"Same in both: {len(merged.same)}.")
    said = [f"{one.user.owner} ({one.user.id}), {one.user.part}" for one in changed]
    return [*lines, *(_listed("Changed by it", said) if said else ["No laminate is changed by it."])]


def _under(material: AnyMaterial, id_: str | None) -> str:
    return f"{label(material)} as {id_}" if id_ else label(material)


def _listed(words: str, parts: Sequence[str]) -> list[str]:
    return paragraph(f"{words}: {'; '.join(parts)}.") if parts else []


# -- diff ------------------------------------------------------------------------------------------


def _diff(options: argparse.Namespace) -> int:
    first, second = _both(options.first, options.second)
    merged = merge(first, second)
    there = {one.id for one in every(second)}
    missing = [one for one in every(first) if one.id not in there]
    if options.json:
        page = _as_json(merged, {}, (), None)
        _print_json(
            {"first": options.first, "second": options.second, "only_first": [one.id for one in missing]}
            | {"only_second": page["added"], "same": page["same"], "conflicts": page["conflicts"]}
        )
        return 0
    names = _apart(Path(options.first), Path(options.second))
    system = System(options.units) if options.units else System.METRIC
    text = _conflicts(merged.conflicts, names, system)
    for name, held in zip(names, (missing, merged.added), strict=True):
        text += _listed(f"Only in {name}", [label(one) for one in held])
    disagree = len(merged.conflicts)
    words = "They disagree in none" if not disagree else f"They disagree in {disagree}"
    print("\n".join([*text, f"{words}; {len(merged.same)} are the same in both."]))
    return 0


def _both(first: str, second: str) -> tuple[Materials, Materials]:
    """Return two books; what is wrong with either is said at once."""
    books: list[Materials] = []
    problems: list[Problem] = []
    for path in (first, second):
        try:
            books.append(load_book(path))
        except StringerlabError as refused:
            problems += refused.problems
    if problems:
        raise StringerlabError(problems)
    return books[0], books[1]


def _apart(first: Path, second: Path) -> tuple[str, str]:
    if first.name != second.name:
        return first.name, second.name
    return str(first), str(second)


# -- both ------------------------------------------------------------------------------------------


def _conflicts(conflicts: Sequence[Conflict], names: tuple[str, str], system: System) -> list[str]:
    lines: list[str] = []
    for conflict in conflicts:
        whose = "" if conflict.own else ", mine the shipped one"
        columns = [Column(head, width) for head, width in zip(("field", *names), _WIDTHS, strict=True)]
        rows = [(one.field, *one.told(system)) for one in conflict.differences]
        lines += [*paragraph(f"{label(conflict.mine)}{whose}"), *table(columns, rows), ""]
    return lines


def _as_json(
    merged: Merge, choices: Mapping[str, Choice], changed: Sequence[Change], written: str | None
) -> dict[str, Any]:
    return {
        "written": written,
        "added": [one.id for one in merged.added],
        "same": [one.id for one in merged.same],
        "renamed": dict(merged.renamed),
        "conflicts": [
            {
                "id": one.id,
                "kind": word(one.mine),
                "name": one.mine.name,
                "mine_is": "own" if one.own else "shipped",
                "new_id": one.new_id,
                "choice": choices[one.id].value if one.id in choices else None,
                "differences": [
                    {"field": each.field, "mine": _entry(each.mine), "theirs": _entry(each.theirs)}
                    for each in one.differences
                ],
            }
            for one in merged.conflicts
        ],
        "changed": [
            {
                "id": one.user.id,
                "kind": one.user.kind,
                "name": one.user.owner,
                "part": one.user.part,
                "materials": list(one.materials),
            }
            for one in changed
        ],
    }


def _entry(entry: Entry | None) -> dict[str, Any] | None:
    if entry is None:
        return None
    said: dict[str, Any] = {"value": entry.value, "unit": entry.unit.symbol}
    if entry.known is not None:
        said |= {"source": entry.source, "known": entry.known.value}
    return said


def _counts(book: Materials) -> dict[str, int]:
    counts: dict[str, int] = {}
    for one in every(book):
        counts[word(one)] = counts.get(word(one), 0) + 1
    return counts


def _counted(book: Materials) -> str:
    parts = [f"{n} {_several(kind) if n > 1 else kind}" for kind, n in _counts(book).items()]
    return ", ".join(parts)


def _several(kind: str) -> str:
    return f"{kind}s"


def _print_json(page: Mapping[str, Any]) -> None:
    print(json.dumps(page, indent=2, ensure_ascii=False, allow_nan=False))
