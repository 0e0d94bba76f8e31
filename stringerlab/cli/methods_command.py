"""``methods``: panels and spans by several methods side by side, and in words why these differ."""

import argparse
import json
import sys
from typing import Any

from stringerlab.assess import Against, Difference, Line, against
from stringerlab.assess.effective import effective_widths, width_sentences
from stringerlab.assess.why import method_sentences, subject_sentences
from stringerlab.cli.named import one_named
from stringerlab.cli.table import NOTHING_TO_JUDGE, WIDTH, Column, paragraph, table
from stringerlab.errors import Problem, StringerlabError, shown
from stringerlab.files import load
from stringerlab.methods import NOTICE, Finding, utilisation_text
from stringerlab.project import Project, resolve
from stringerlab.units import System, own_unit

_ASPECT = 26
_GAP = 2
_LETTERS = "ABCDEFGHIJ"


def run(options: argparse.Namespace) -> int:
    """Print the methods side by side and return the exit status: 2 when the project has problems, else 0."""
    project = load(options.file)
    subject = None if options.subject is None else _subject(project, options.subject)
    wanted = tuple(name.strip() for name in options.against.split(",") if name.strip())
    of = against(project, wanted)
    if len(of.methods) > len(_LETTERS):
        raise StringerlabError(
            Problem(f"{len(of.methods)} methods do not fit one table.", "--against", "Name a few of them.")
        )
    system = System(options.units) if options.units else project.units
    if options.json:
        print(json.dumps(as_json(of, subject), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(page(of, system, subject)))
    for line in shown(of.results[0].problems):
        print(line, file=sys.stderr)
    return 2 if of.results[0].problems else 0


def page(of: Against, system: System, subject: str | None = None) -> list[str]:
    """Return the lines of methods side by side; words for a subject, else for those that govern the boat."""
    text = [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Project  {of.project.name}"),
        *paragraph(f"Craft    {of.project.craft.name}"),
    ]
    for i, method in enumerate(of.methods):
        own = ", the project's own" if method.id == of.project.method else ""
        base = "; the others are held against it" if i == 0 and len(of.methods) > 1 else ""
        text += paragraph(f"{_LETTERS[i]}        {method.name} ({method.id}){own}{base}")
    text += ["", *(line for said in method_sentences(of) for line in paragraph(said)), ""]
    if not of.subjects:
        return [*text, *paragraph(NOTHING_TO_JUDGE)]
    columns = _columns(len(of.methods))
    text += table(columns, [])
    for each in of.subjects if subject is None else (subject,):
        lines = of.of(each)
        text.append(f"{lines[0].name} ({each})" if lines else each)
        text += [*table(columns, [_row(line) for line in lines])[2:], ""]
    if len(of.methods) == 1:
        return [*text, *paragraph("There is but one method to judge by, so nothing stands against it.")]
    heading = "Why they differ" if subject else "Why they differ, where each method finds the most used"
    text += [heading, "─" * len(heading)]
    for each in of.worst_subjects() if subject is None else (subject,):
        if subject is None:
            text += ["", f"{of.of(each)[0].name} ({each})"]
        for said in subject_sentences(of, each, system, every=subject is not None):
            text += paragraph(said, "  ")
        if subject is not None:
            text += _plating(of, each, system)
    return text


def _plating(of: Against, subject: str, system: System) -> list[str]:
    """Return how wide plating works with a span, beside what each method counts; nothing for a panel."""
    cases = [case for case in of.results[0].resolved.spans if case.span.id == subject]
    widths = effective_widths(cases, of.methods)
    said = [
        line
        for width in widths
        for words in width_sentences(width, system)
        for line in paragraph(words, "  ")
    ]
    return ["", "  Plating that works with it", *said] if said else []


def as_json(of: Against, subject: str | None = None) -> dict[str, Any]:
    """Return the documented JSON of methods side by side, in the file's units (N, mm, MPa)."""
    subjects = of.subjects if subject is None else (subject,)
    return {
        "notice": NOTICE,
        "project": of.project.name,
        "methods": [{"method": method.id, "name": method.name} for method in of.methods],
        "differences": list(method_sentences(of)),
        "subjects": [
            {
                "subject": each,
                "aspects": [_aspect(of, line) for line in of.of(each)],
                "words": list(subject_sentences(of, each, System.METRIC)),
            }
            for each in subjects
        ],
    }


def _subject(project: Project, wanted: str) -> str:
    return one_named(resolve(project).subjects, wanted, "panel or span").id


def _columns(methods: int) -> tuple[Column, ...]:
    width = (WIDTH - _ASPECT) // methods - _GAP
    letters = (Column(_LETTERS[i], min(width, 18)) for i in range(methods))
    return (Column("utilisation, verdict by", _ASPECT), *letters)


def _row(line: Line) -> tuple[str, ...]:
    return (f"  {line.aspect.value}", *(_cell(finding) for finding in line.findings))


def _cell(finding: Finding | None) -> str:
    if finding is None:
        return "—"
    if finding.utilisation is None:
        return finding.verdict.value
    return f"{utilisation_text(finding.utilisation)} {finding.verdict.value}"


def _aspect(of: Against, line: Line) -> dict[str, Any]:
    return {
        "aspect": line.aspect.value,
        "findings": [_finding(finding) for finding in line.findings],
        "differences": [
            _difference(of.difference(line.subject, line.aspect, other))
            for other in range(1, len(of.methods))
        ],
    }


def _finding(finding: Finding | None) -> dict[str, Any] | None:
    if finding is None:
        return None
    return {
        "demand": finding.demand,
        "capacity": finding.capacity,
        "unit": own_unit(finding.unit.kind).symbol,
        "utilisation": finding.utilisation,
        "verdict": finding.verdict.value,
        "known": finding.known.value,
    }


def _difference(of: Difference) -> dict[str, Any]:
    return {
        "against": of.base_method.id,
        "method": of.other_method.id,
        "ratio": of.ratio,
        "parts": [
            {
                "part": share.name,
                "factor": share.factor,
                "base": share.number.base if share.number else None,
                "other": share.number.other if share.number else None,
                "unit": own_unit(share.number.kind).symbol if share.number else None,
            }
            for share in of.shares
        ],
    }
