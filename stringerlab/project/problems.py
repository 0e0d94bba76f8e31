"""Everything wrong in meaning with a project, at once, each with the record it belongs to.

A file of the right shape always opens; what is listed here makes the subjects it touches *not judged*.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from difflib import get_close_matches
from typing import Any, get_args, get_type_hints

from stringerlab.craft import station_problems
from stringerlab.errors import Problem
from stringerlab.layout.plan import Layout
from stringerlab.layout.records import End, Panel, Span
from stringerlab.materials import Book, material_problems, shipped
from stringerlab.methods.discovery import available
from stringerlab.project.as_built import as_built_problems
from stringerlab.project.contents import LayoutPart, Thing, Use, owner, things, uses
from stringerlab.project.layout_problems import layout_problems
from stringerlab.project.places import Path, place
from stringerlab.project.records import Project
from stringerlab.project.span_problems import span_problems
from stringerlab.section.records import Section
from stringerlab.units import Kind, Range, Unit, unit_named
from stringerlab.units.ranges import range_problems

CRAFT: Path = ("craft",)
_WRITTEN_ELSEWHERE = {Kind.LENGTH: ("m", "ft", "in", "cm"), Kind.MASS: ("t",), Kind.SPEED: ()}


class Faults:
    """Problems by the path of the record they belong to, and which records each record needs.

    ``()`` is the project itself. ``paths`` finds a record by kind and id, the first where an id is doubled.
    """

    def __init__(self, paths: Mapping[tuple[str, str], Path]) -> None:
        self.paths = paths
        self._own: defaultdict[Path, dict[Problem, None]] = defaultdict(dict)
        self._needs: defaultdict[Path, dict[Path, None]] = defaultdict(dict)

    def add(self, path: Path, problems: Iterable[Problem]) -> None:
        """Give problems to the record they belong to."""
        self._own[path].update(dict.fromkeys(problems))

    def need(self, path: Path, needed: Path) -> None:
        """Say that a record is unsound where another is."""
        self._needs[path][needed] = None

    def own(self, path: Path) -> tuple[Problem, ...]:
        """Return a record's own problems."""
        return tuple(self._own.get(path, ()))

    def blocking(self, path: Path) -> tuple[Problem, ...]:
        """Return the problems of a record and of all it needs, once each."""
        reached = {path: None}
        waiting = [path]
        while waiting:
            for needed in self._needs.get(waiting.pop(), ()):
                if needed not in reached:
                    reached[needed] = None
                    waiting.append(needed)
        return tuple(dict.fromkeys(problem for each in reached for problem in self.own(each)))

    def every(self, project: Project) -> tuple[Problem, ...]:
        """Return all problems in the order of the file, once each."""
        order = dict.fromkeys([(), CRAFT, *(owner(thing.path) for thing in things(project))])
        return tuple(dict.fromkeys(problem for path in order for problem in self.own(path)))


def book_of(project: Project) -> Book:
    """Return a project's materials by id: its own before the shipped ones."""
    return Book.of(project.materials, shipped())


def record_faults(project: Project, book: Book) -> Faults:
    """Return what is wrong with the records as written, before anything is resolved to numbers."""
    found = list(things(project))
    paths: dict[tuple[str, str], Path] = {}
    for thing in found:
        paths.setdefault((thing.kind, thing.record.id), thing.path)
    wrong = Faults(paths)
    wrong.add((), _method_problems(project))
    wrong.add((), _layout_problems(project))
    wrong.add((), range_problems(project.bonding, "bonding"))
    wrong.add((), as_built_problems(project, book))
    where = f"craft '{project.craft.name}'"
    wrong.add(CRAFT, _hinted(range_problems(project.craft, where), project.craft, where))
    wrong.add(CRAFT, station_problems(project.craft))
    for path, problem in (*_material_problems(project), *_id_problems(project, found)):
        wrong.add(path, [problem])
    for thing in found:
        wrong.add(thing.path, _record_problems(project, thing))
    for use in uses(project):
        user = owner(use.path)
        target = next((paths[kind, use.id] for kind in use.kinds if (kind, use.id) in paths), None)
        if target is None:
            wrong.add(user, _unknown(project, use, paths, book))
        elif owner(target) != user and "reference" not in use.path:
            wrong.need(user, target)
    return wrong


def _method_problems(project: Project) -> Iterator[Problem]:
    known = list(available())
    if project.method not in known:
        yield Problem(
            f"There is no method '{project.method}'.", "method", _offer(project.method, known, "methods")
        )


def _layout_problems(project: Project) -> Iterator[Problem]:
    known = [layout.id for layout in project.layouts]
    if project.layout and project.layout not in known:
        yield Problem(
            f"There is no layout '{project.layout}'.", "layout", _offer(project.layout, known, "layouts")
        )


def _material_problems(project: Project) -> Iterator[tuple[Path, Problem]]:
    """Give each of the materials' problems to the material it names; to all of them when it names none."""
    found = material_problems(project.materials, shipped())
    if not found:
        return
    listed = [
        (thing.path, f"{thing.kind} '{thing.record.name}' ({thing.record.id})")
        for thing in things(project)
        if thing.path[0] == "materials"
    ]
    for problem in found:
        named = [path for path, label in listed if re.match(re.escape(label) + r"(,|$)", problem.where)]
        for path in named or [path for path, _ in listed]:
            yield path, problem


def _id_problems(project: Project, found: Iterable[Thing]) -> Iterator[tuple[Path, Problem]]:
    by_id: defaultdict[str, list[Thing]] = defaultdict(list)
    for thing in found:
        by_id[thing.record.id].append(thing)
    for identity, sharing in by_id.items():
        where = place(project, sharing[-1].path)
        if not identity.strip():
            for thing in sharing:
                problem = Problem("It has no id.", place(project, thing.path), "Give it one of its own.")
                yield owner(thing.path), problem
        elif len(sharing) > 1 and not all(thing.path[0] == "materials" for thing in sharing):
            others = "; ".join(place(project, thing.path) for thing in sharing[:-1])
            problem = Problem(
                f"Its id '{identity}' is also that of {others}.", where, "Give each an id of its own."
            )
            for thing in sharing:
                yield owner(thing.path), problem


def _record_problems(project: Project, thing: Thing) -> Iterator[Problem]:
    record = thing.record
    if isinstance(record, Layout | LayoutPart):
        yield from layout_problems(record, place(project, thing.path))
        return
    if not isinstance(record, Section | Panel | Span):
        return  # said by the materials and the laminates themselves
    where = place(project, thing.path)
    yield from _hinted(range_problems(record, where), record, where)
    if isinstance(record, Section) and not record.walls:
        yield Problem("It has no wall.", where, "Draw at least one.")
    if isinstance(record, Panel) and record.b > record.l:
        yield Problem(
            f"b is {record.b:g} mm and l {record.l:g} mm, but b is the short side.",
            where,
            "Exchange b and l.",
        )
    if isinstance(record, Span) and End.FREE in record.ends and End.HELD not in record.ends:
        ends = " and ".join(end.value for end in record.ends)
        yield Problem(
            f"With ends {ends} it carries no load.", where, "An end may be free only where the other is held."
        )
    if isinstance(record, Span):
        section = next((one for one in project.sections if one.id == record.section), None)
        yield from span_problems(record, section, where)


def _unknown(
    project: Project, use: Use, paths: Mapping[tuple[str, str], Path], book: Book
) -> Iterator[Problem]:
    if use.path[0] in ("materials", "laminates") or "laps" in use.path:
        return  # said by the materials, the laminates and the sections themselves
    [kind] = use.kinds
    known = [identity for of, identity in paths if of == kind]
    if kind in ("solid", "adhesive"):
        if (book.solid if kind == "solid" else book.adhesive)(use.id) is not None:
            return
        behind = shipped()
        known += [one.id for one in (behind.solids if kind == "solid" else behind.adhesives)]
    other = next((of for of, identity in paths if identity == use.id), None)
    what = f"There is no {kind} '{use.id}'." if other is None else f"'{use.id}' is a {other}, not a {kind}."
    yield Problem(what, place(project, use.path), _offer(use.id, known, f"{kind}s"))


def _offer(wanted: str, known: list[str], several: str) -> str:
    near = get_close_matches(wanted, known, n=1)
    if near:
        return f"Did you mean '{near[0]}'?"
    if not known:
        return f"The project has no {several} yet."
    more = f" and {len(known) - 8} more" if len(known) > 8 else ""
    return f"There is {', '.join(known[:8])}{more}."


def _hinted(problems: Iterable[Problem], record: object, where: str) -> Iterator[Problem]:
    """Say what unit a number below its range may be in, where another than ours would make sense of it."""
    hints = dict(_hints(record, where))
    for problem in problems:
        hint = hints.get(problem.where)
        yield problem if hint is None else Problem(problem.what, problem.where, hint)


def _hints(record: Any, where: str) -> Iterator[tuple[str, str]]:
    annotations = get_type_hints(record.__class__, include_extras=True)
    for field in fields(record):
        parts = get_args(annotations[field.name])
        unit = next((part for part in parts if isinstance(part, Unit)), None)
        allowed = next((part for part in parts if isinstance(part, Range)), None)
        value = getattr(record, field.name)
        if (
            unit is None
            or allowed is None
            or not isinstance(value, float | int)
            or not 0 < value < allowed.low
        ):
            continue
        likely = [
            symbol
            for symbol in _WRITTEN_ELSEWHERE.get(unit.kind, ())
            if allowed.holds(value * unit_named(symbol).factor / unit.factor)
        ]
        if likely:
            words = field.name.replace("_", " ")
            yield (
                f"{where}, {words}",
                f"It looks like a number in {' or '.join(likely)}; write it in {unit.symbol}.",
            )
