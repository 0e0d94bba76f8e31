"""Workings clause by clause: for the governing subject of each kind and aspect, or for every finding.

Within a subject a step is written out once; a later finding names the numbers it begins from.
"""

import re
from collections.abc import Iterable, Iterator

from stringerlab.methods import Finding, FindingKind, Verdict
from stringerlab.report.calculation.told import Told, listed, named, use
from stringerlab.report.markup import heading, note, points, said
from stringerlab.report.paper import Sheet, Watch
from stringerlab.workings.shown import typst_lines

_HEADING = re.compile(r"\*\d+\. ")
_TABLE = "#table(columns: 4, stroke: none, "


def worked(told: Told, *, every: bool, watch: Watch) -> Sheet:
    """Return workings of the governing findings, or of all that have any.

    Parameters
    ----------
    told
        The results.
    every
        All findings rather than those that govern their kind and aspect.
    watch
        Told of progress, and asked to stop.
    """
    wanted = told.results.findings if every else told.governing
    chosen = [each for each in wanted if each.steps and each.verdict is not Verdict.NOT_JUDGED]
    what = "every finding" if every else "the most used subject of each kind and aspect"
    parts = [
        heading("Workings"),
        said(
            f"Clause by clause for {what}: formula, numbers in the clause's own units, result, and where it "
            "differs the result in the project's units. A formula is drawn from the very function that ran. "
            "Within a subject a step is written out once; later findings name the steps they begin from. "
            "Numbers are rounded as printed, the run itself is not."
        ),
    ]
    groups = _by_subject(chosen)
    for number, (subject, found) in enumerate(groups.items()):
        watch(number / len(groups), f"Workings of {found[0].name}")
        parts.append(heading(named(found[0].name, subject), 2))
        parts += _subject(told, found)
    if not chosen:
        parts.append(note("No finding has workings."))
    return Sheet(markup="\n\n".join(parts))


def _by_subject(found: Iterable[Finding]) -> dict[str, list[Finding]]:
    groups: dict[str, list[Finding]] = {}
    for each in found:
        groups.setdefault(each.subject, []).append(each)
    order = list(FindingKind)
    return {subject: sorted(each, key=lambda one: order.index(one.kind)) for subject, each in groups.items()}


def _subject(told: Told, found: list[Finding]) -> Iterator[str]:
    numbers: dict[tuple[int, int], int] = {}
    explained: set[tuple[str, str]] = set()
    for finding in found:
        yield heading(f"{finding.aspect.value[0].upper()}{finding.aspect.value[1:]}, {finding.kind.value}", 3)
        yield said(
            f"Demand {told.demand(finding)}, capacity {told.capacity(finding)}, utilisation "
            f"{use(finding)}: {finding.verdict.value}. {finding.source}; known: {finding.known.value}."
        )
        if finding.utilisation is not None and finding.power != 1:
            yield note(f"Utilisation = (demand / capacity) to the power {finding.power:g}, in load.")
        yield points(f"{text[0].upper()}{text[1:]}" for text in finding.notes if text)
        fresh = [step for step in finding.steps if (id(step), finding.row) not in numbers]
        known = sorted(
            {numbers[key] for step in finding.steps if (key := (id(step), finding.row)) in numbers}
        )
        if known:
            yield note(f"Begins from steps {_ranges(known)} above.")
        first = len(numbers) + 1
        numbers |= {(id(step), finding.row): first + n for n, step in enumerate(fresh)}
        lines = typst_lines(fresh, finding.row, told.system, first=first, explained=explained)
        yield from map(_styled, lines)


def _styled(block: str) -> str:
    """Return a block of workings in the document's own look."""
    if _HEADING.match(block):
        return f"#step[{block}]"
    if block.startswith('#"'):
        return f"#note[{block}]"
    return block.replace(_TABLE, "#symbols(", 1) if block.startswith(_TABLE) else block


def _ranges(numbers: list[int]) -> str:
    """Return whole numbers as a person lists them: ``1 to 5 and 8``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return listed([f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs])
