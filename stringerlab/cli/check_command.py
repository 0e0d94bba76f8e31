"""``check``: every declared panel and span with demand, capacity, utilisation, verdict, method and source."""

import argparse
import json
import sys
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from stringerlab.assess import Results, check
from stringerlab.cli.table import Column, coloured, paragraph, table
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import load
from stringerlab.methods import NOTICE, Aspect, Finding, Method, Verdict
from stringerlab.units import Kind, System, format, own_unit
from stringerlab.workings.shown import lines

_COLUMNS = (
    Column("aspect", 18),
    Column("demand", 12, right=True),
    Column("capacity", 12, right=True),
    Column("use", 5, right=True),
    Column("verdict", 10),
    Column("source, how well known, [notes]", 33),
)


def run(options: argparse.Namespace) -> int:
    """Print the findings and return the exit status."""
    allowed = _allowed(options.allow_not_judged)
    project = load(options.file)
    results = check(project, options.method)
    if options.json:
        print(json.dumps(as_json(results), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        system = System(options.units) if options.units else project.units
        print("\n".join(page(results, system, workings=options.workings)))
    for line in (*shown(results.problems), *shown(results.repairs)):
        print(line, file=sys.stderr)
    return status(results, allowed)


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
        "findings": [
            {
                "subject": finding.subject,
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
        ],
    }


def page(results: Results, system: System, *, workings: bool = False) -> list[str]:
    """Return the lines of a check for a terminal."""
    method, project = results.method, results.project
    said = [method.superseded] if method.superseded else []
    text = [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Project  {project.name}"),
        *paragraph(f"Craft    {project.craft.name}"),
        *paragraph(f"Method   {' '.join([f'{method.name}.', *said])}"),
        "",
        *table(_COLUMNS, []),
    ]
    notes: dict[str, int] = {}
    for subject, group in groupby(results.findings, key=lambda finding: finding.subject):
        found = list(group)
        text += [f"{found[0].name} ({subject})"]
        for finding in found:
            text += _rows(finding, method, system, notes)
        text.append("")
        for finding in found if workings else ():
            heading = f"Workings of {finding.name} ({subject}), {finding.aspect.value}"
            text += ["", heading, "─" * len(heading), *_workings(finding, system), ""]
    for note, number in notes.items():
        text += paragraph(f"[{number}] {note}")
    return [*text, "", *paragraph(_summary(results.findings))]


def _rows(finding: Finding, method: Method, system: System, notes: dict[str, int]) -> list[str]:
    own = [note for note in finding.notes if note != method.superseded]
    marks = " ".join(str(notes.setdefault(note, len(notes) + 1)) for note in own)
    source = finding.source.removeprefix(f"{method.title}, ")
    row = (
        finding.aspect.value,
        _number(finding.demand, finding.unit.kind, system),
        _number(finding.capacity, finding.unit.kind, system),
        "—" if finding.utilisation is None else f"{finding.utilisation:.2f}",
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
    return (
        f"{len(findings)} findings: {said}."
        if findings
        else "Nothing to judge: no panel and no span is declared."
    )


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
