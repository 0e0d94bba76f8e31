"""Findings beside a parent boat's, for a terminal and as JSON."""

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

from stringerlab.assess import Relative, Results, check, relative, unknown_likenesses
from stringerlab.assess.relative import Beside
from stringerlab.cli.table import Column, paragraph, table
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load_parent
from stringerlab.methods import utilisation_text
from stringerlab.project import Parent

_COLUMNS = (
    Column("aspect", 24),
    Column("use", 6, right=True),
    Column("parent's", 8, right=True),
    Column("of parent", 9, right=True),
    Column("", 45),
)


def beside(
    results: Results, path: Path | str, file: str | None
) -> tuple[Relative | None, tuple[Problem, ...]]:
    """Return a check's findings beside those of its parent boat, and what is wrong with that.

    Parameters
    ----------
    results
        Of the check.
    path
        The project's file.
    file
        Another boat's project file in place of the parent that the project names.
    """
    project = results.project
    if file is None and project.parent is None:
        return None, ()
    try:
        parent = load_parent(path, project, file)
    except StringerlabError as error:
        return None, (*error.problems, *(unknown_likenesses(project) if file is None else ()))
    named = Parent(file=file) if file is not None else project.parent
    assert named is not None
    found = relative(results, check(parent, results.method), named)
    return found, found.problems


def as_json(of: Relative | None, wrong: Sequence[Problem]) -> dict[str, Any]:
    """Return findings beside a parent boat's as JSON; without it, what is wrong alone."""
    problems = [{"what": p.what, "where": p.where, "remedy": p.remedy} for p in wrong]
    if of is None:
        return {"problems": problems}
    return {
        "project": of.boat,
        "file": of.parent.file,
        "service": of.parent.service,
        "remarks": list(of.remarks),
        "findings": [
            {
                "subject": one.finding.subject,
                "aspect": one.finding.aspect.value,
                "counterpart": one.counterpart.subject if one.counterpart else None,
                "chosen": one.chosen.value if one.chosen else None,
                "apart": one.apart,
                "utilisation": one.counterpart.utilisation if one.counterpart else None,
                "ratio": one.ratio,
                "reason": one.reason,
                "words": one.words,
            }
            for one in of.besides
        ],
        "problems": problems,
    }


def page(of: Relative) -> list[str]:
    """Return the lines of findings beside a parent boat's for a terminal."""
    service = of.parent.service.strip() or "nothing is told of it"
    heading = f"Relative to the parent boat, {of.boat}"
    text = [heading, "─" * min(len(heading), 100), *paragraph(f"Its service: {service}")]
    for remark in of.remarks:
        text += paragraph(remark)
    if of.besides:
        text += ["", *table(_COLUMNS, [])]
    for subject, group in groupby(of.besides, key=lambda one: one.finding.subject):
        found = list(group)
        text += paragraph(f"{found[0].finding.name} ({subject}){_held_against(found)}")
        text += table(_COLUMNS, [_row(one) for one in found])[2:]
    return text


def _held_against(found: Sequence[Beside]) -> str:
    first = next((one for one in found if one.counterpart is not None), None)
    if first is None or first.counterpart is None or first.chosen is None or first.apart is None:
        return ""
    counterpart = first.counterpart
    along = f"{first.apart:.2f} of the waterline apart" if first.apart >= 0.005 else "at the same place"
    return f", beside '{counterpart.name}' ({counterpart.subject}), {first.chosen.value}, {along}"


def _row(one: Beside) -> tuple[str, ...]:
    theirs = one.counterpart.utilisation if one.counterpart else None
    return (
        one.finding.aspect.value,
        utilisation_text(one.finding.utilisation),
        utilisation_text(theirs),
        "—" if one.ratio is None else f"{one.ratio:.2f}",
        one.reason,
    )
