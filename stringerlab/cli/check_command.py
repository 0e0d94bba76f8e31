"""``check``: every declared panel and span with demand, capacity, utilisation, verdict, method and source."""

import argparse
import json
import sys
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from stringerlab.assess import Results, check
from stringerlab.assess.mechanics import TOPICS, WITHOUT_SOLVERS
from stringerlab.cli import relative_page
from stringerlab.cli.progress import part_of, progress
from stringerlab.cli.relative_page import beside
from stringerlab.cli.table import NOTHING_TO_JUDGE, Column, coloured, paragraph, table
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import load
from stringerlab.layout import Surface
from stringerlab.methods import (
    NOTICE,
    Aspect,
    Finding,
    FindingKind,
    Method,
    Verdict,
    available,
    utilisation_text,
)
from stringerlab.project import Project, resolve
from stringerlab.units import Kind, System, format, own_unit
from stringerlab.workings.shown import lines

_COLUMNS = (
    Column("aspect", 18),
    Column("demand", 12, right=True),
    Column("capacity", 12, right=True),
    Column("use", 6, right=True),
    Column("verdict", 10),
    Column("source, how well known, [notes]", 32),
)
_SEVERITY = (0, 3, 1, 2)
"""Exit statuses from good to worse."""
_STATUS = {1: "something is short", 2: "something is wrong with the project", 3: "something is not judged"}


ALL = "all"
"""In place of a method's id: every method there is."""


def run(options: argparse.Namespace) -> int:
    """Print the findings and return the exit status."""
    allowed = _allowed(options.allow_not_judged)
    project = load(options.file)
    system = System(options.units) if options.units else project.units
    if options.as_built:
        return _run_as_built(options, project, allowed)
    if options.method == ALL:
        return _run_all(options, project, system, allowed)
    with progress() as watch:
        results = check(project, options.method, watch, topics=TOPICS if options.mechanics else ())
    of_parent, wrong = beside(results, options.file, options.parent)
    if options.json:
        more = {"parent": relative_page.as_json(of_parent, wrong)} if of_parent or wrong else {}
        print(json.dumps(as_json(results) | more, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        more = [] if of_parent is None else ["", *relative_page.page(of_parent)]
        print("\n".join([*page(results, system, workings=options.workings), *more]))
    _tell(results, wrong)
    return 2 if options.parent is not None and of_parent is None else status(results, allowed)


def _run_all(options: argparse.Namespace, project: Project, system: System, allowed: Sequence[Aspect]) -> int:
    """Judge by every method; the exit status is the worst of them all."""
    if options.parent is not None:
        raise StringerlabError(
            Problem("A parent boat is held against by one method.", "--parent", "Name one by --method.")
        )
    topics = WITHOUT_SOLVERS if options.mechanics else ()
    ids = list(available())
    with progress() as watch:
        watch(0.0, "Reading the project")
        resolved = resolve(project)
        each = [
            check(
                project,
                method,
                part_of(watch, n / len(ids), 1 / len(ids)),
                resolved=resolved,
                topics=topics,
            )
            for n, method in enumerate(ids)
        ]
    statuses = [status(results, allowed) for results in each]
    worst = max(statuses, key=_SEVERITY.index)
    if options.json:
        methods = [
            {"method": results.method.id, "name": results.method.name, "findings": _findings(results)}
            for results in each
        ]
        found = {"notice": NOTICE, "project": project.name, "methods": methods}
        print(json.dumps(found, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        text = _head(project)
        if topics:
            text += paragraph(f"Not judged by all methods at once, but by each alone: {_left_out()}.")
        for results in each:
            text += ["", *_by_method(results), "", *_judged(results, system, workings=options.workings), ""]
        said = [f"{results.method.name}: {_summary(results.findings)}" for results in each]
        text += ["", *(line for words in said for line in paragraph(words)), *_status_words(each, statuses)]
        print("\n".join(text))
    _tell(each[0], ())
    return worst


def _run_as_built(options: argparse.Namespace, project: Project, allowed: Sequence[Aspect]) -> int:
    """Print what changed from the boat as drawn; the exit status is that of the boat as built."""
    from stringerlab.assess.as_built import check_as_built
    from stringerlab.cli import as_built_page

    if options.method == ALL or options.parent is not None:
        raise StringerlabError(
            Problem(
                "What was built is held against what was drawn, by one method.", "--as-built", "Ask alone."
            )
        )
    found = check_as_built(project, options.method, topics=TOPICS if options.mechanics else ())
    if options.json:
        print(json.dumps(as_built_page.as_json(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(as_built_page.page(found)))
    _tell(found.built, ())
    return status(found.built, allowed)


def _left_out() -> str:
    """Return what of the mechanics takes solvers, in words."""
    return ", ".join(topic.name for topic in TOPICS if topic.solver)


def _status_words(each: Sequence[Results], statuses: Sequence[int]) -> list[str]:
    worst = max(statuses, key=_SEVERITY.index)
    if worst == 0:
        return paragraph("Exit status 0: nothing is short by any method.")
    by = [r.method.name for r, status in zip(each, statuses, strict=True) if status == worst]
    return paragraph(f"Exit status {worst}, the worst of all: {_STATUS[worst]} by {', '.join(by)}.")


def _tell(results: Results, more: Iterable[Problem]) -> None:
    for line in (*shown(results.problems), *shown(results.doubts), *shown(results.repairs), *shown(more)):
        print(line, file=sys.stderr)


def status(results: Results, allowed: Iterable[Aspect] = ()) -> int:
    """Return the exit status: the worst of bad input (2), short (1), not judged and not allowed (3), or 0."""
    if results.problems:
        return 2
    verdicts = {finding.verdict for finding in results.findings if finding.aspect not in set(allowed)}
    if any(finding.verdict is Verdict.SHORT for finding in results.findings):
        return 1
    return 3 if Verdict.NOT_JUDGED in verdicts else 0


def as_json(results: Results) -> dict[str, Any]:
    """Return the documented JSON of a check, in the file's units (N, mm, MPa)."""
    return {
        "notice": NOTICE,
        "project": results.project.name,
        "findings": _findings(results),
    }


def _findings(results: Results) -> list[dict[str, Any]]:
    surfaces = _surfaces(results)
    return [
        {
            "subject": finding.subject,
            "surface": surfaces[finding.subject].value,
            "kind": finding.kind.value,
            "aspect": finding.aspect.value,
            "demand": finding.demand,
            "capacity": finding.capacity,
            "unit": own_unit(finding.unit.kind).symbol,
            "utilisation": finding.utilisation,
            "verdict": finding.verdict.value,
            "method": finding.method,
            "source": finding.source,
            "known": finding.known.value,
            "notes": list(finding.notes),
        }
        for finding in results.findings
    ]


def page(results: Results, system: System, *, workings: bool = False) -> list[str]:
    """Return the lines of a check for a terminal."""
    head = [*_head(results.project), *_by_method(results)]
    judged = [*_judged(results, system, workings=workings), ""] if results.findings else []
    return [*head, "", *judged, *paragraph(_summary(results.findings))]


def _head(project: Project) -> list[str]:
    return [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Project  {project.name}"),
        *paragraph(f"Craft    {project.craft.name}"),
    ]


def _by_method(results: Results) -> list[str]:
    method = results.method
    said = [method.superseded] if method.superseded else []
    return paragraph(f"Method   {' '.join([f'{method.name}.', *said])}")


def _judged(results: Results, system: System, *, workings: bool) -> list[str]:
    text = table(_COLUMNS, [])
    surfaces = _surfaces(results)
    notes: dict[str, int] = {}
    for subject, group in groupby(results.findings, key=lambda finding: finding.subject):
        found = list(group)
        text += [f"{found[0].name} ({subject}){_off_bottom(surfaces[subject])}"]
        for finding in found:
            text += _rows(finding, results.method, system, notes)
        text.append("")
        for finding in found if workings else ():
            heading = f"Workings of {finding.name} ({subject}), {finding.aspect.value}"
            text += ["", heading, "─" * len(heading), *_workings(finding, system), ""]
    for note, number in notes.items():
        text += paragraph(f"[{number}] {note}")
    return text


def _surfaces(results: Results) -> dict[str, Surface]:
    return {subject.id: subject.surface for subject in results.resolved.subjects}


def _off_bottom(surface: Surface) -> str:
    return "" if surface is Surface.BOTTOM else f", {surface.value}"


def _rows(finding: Finding, method: Method, system: System, notes: dict[str, int]) -> list[str]:
    own = [note for note in finding.notes if note != method.superseded]
    marks = " ".join(str(notes.setdefault(note, len(notes) + 1)) for note in own)
    source = finding.source.removeprefix(f"{method.title}, ")
    row = (
        finding.aspect.value + (", in the grid" if finding.kind is FindingKind.GRID else ""),
        _number(finding.demand, finding.unit.kind, system),
        _number(finding.capacity, finding.unit.kind, system),
        utilisation_text(finding.utilisation),
        finding.verdict.value,
        f"{source}, {finding.known.value}" + (f" [{marks}]" if marks else ""),
    )
    return [coloured(line, finding.verdict.value) for line in table(_COLUMNS, [row])[2:]]


def _workings(finding: Finding, system: System) -> list[str]:
    if not finding.steps:
        return ["Not judged, so there are none."]
    return lines(finding.steps, finding.row, system)


def _number(value: float | None, kind: Kind, system: System) -> str:
    return "—" if value is None else format(value, kind, system)


def _summary(findings: Sequence[Finding]) -> str:
    counts = {verdict: sum(f.verdict is verdict for f in findings) for verdict in Verdict}
    said = ", ".join(f"{count} {verdict.value}" for verdict, count in counts.items() if count)
    return f"{len(findings)} findings: {said}." if findings else NOTHING_TO_JUDGE


def _allowed(text: str) -> tuple[Aspect, ...]:
    names = [name.strip() for name in text.split(",") if name.strip()]
    known = {aspect.value: aspect for aspect in Aspect}
    unknown = [name for name in names if name not in known]
    if unknown:
        raise StringerlabError(
            Problem(
                f"No aspect is called {', '.join(unknown)}.",
                "--allow-not-judged",
                f"Use one of: {', '.join(known)}.",
            )
        )
    return tuple(known[name] for name in names)
