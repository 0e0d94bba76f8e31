"""Workings clause by clause: for the governing subject of each kind and aspect, or for every finding.

The same step with the same numbers is written out once; a later finding names the steps it begins from.
"""

import re
from collections.abc import Iterable, Iterator

import numpy as np

from stringerlab.methods import Finding, FindingKind, Verdict
from stringerlab.report.calculation.told import Told, listed, named, use
from stringerlab.report.markup import NEW_LINE, heading, note, points, said
from stringerlab.report.paper import Sheet, Watch
from stringerlab.workings import Step
from stringerlab.workings.recording import row_of
from stringerlab.workings.shown import typst_lines

_Key = tuple[int, tuple[float, ...]]
"""What a step is known by."""
_HEADING = re.compile(r"\*\d+\. ")
_UNSEEN = re.compile(r'frac|dot|quad|lr|cases|[&$(){}"_ ^]')
"""Of an equation's markup, what takes no width on paper."""
_NARROW = 46
"""Letters of an equation that has its symbols beside it."""
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
            "The same step with the same numbers is written out once; later findings name the steps they "
            "begin from. "
            "Numbers are rounded as printed, the run itself is not."
        ),
    ]
    groups = _by_subject(chosen)
    numbers: dict[_Key, int] = {}
    for number, (subject, found) in enumerate(groups.items()):
        watch(number / len(groups), f"Workings of {found[0].name}")
        parts.append(heading(named(found[0].name, subject), 2))
        parts += _subject(told, found, numbers)
    if not chosen:
        parts.append(note("No finding has workings."))
    return Sheet(markup="\n\n".join(parts))


def _by_subject(found: Iterable[Finding]) -> dict[str, list[Finding]]:
    groups: dict[str, list[Finding]] = {}
    for each in found:
        groups.setdefault(each.subject, []).append(each)
    order = list(FindingKind)
    return {subject: sorted(each, key=lambda one: order.index(one.kind)) for subject, each in groups.items()}


def _key(step: Step, row: int) -> _Key:
    """Return what a step is known by: the same formula with the same numbers is the same step."""
    values = [*step.inputs.values(), step.result]
    if any(np.ndim(value) > 1 for value in values):
        return id(step), (float(row),)
    return id(step.formula), tuple(float(row_of(value, row)) for value in values)


def _subject(told: Told, found: list[Finding], numbers: dict[_Key, int]) -> Iterator[str]:
    """Yield a subject's workings; a step that an earlier one has is named by its number."""
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
        steps = {_key(step, finding.row): step for step in finding.steps}
        fresh = {key: step for key, step in steps.items() if key not in numbers}
        known = sorted(numbers[key] for key in steps if key in numbers)
        if known:
            yield note(f"Begins from steps {_ranges(known)} above.")
        first = len(numbers) + 1
        numbers |= {key: first + n for n, key in enumerate(fresh)}
        lines = typst_lines(list(fresh.values()), finding.row, told.system, first=first, explained=explained)
        yield from _steps(lines)


def _steps(blocks: Iterable[str]) -> Iterator[str]:
    """Yield every step in the document's look: symbols and source beside its formulas, if these fit."""
    begun: list[str] = []
    for block in blocks:
        if _HEADING.match(block) and begun:
            yield _step(begun)
            begun = []
        begun.append(block)
    if begun:
        yield _step(begun)


def _step(blocks: list[str]) -> str:
    title, *rest = blocks
    head = f"#step[{title}]"
    equations = [block for block in rest if block.startswith("$")]
    others = [_styled(block) for block in rest if not block.startswith("$")]
    if max((_letters(line) for block in equations for line in block.split(" \\ ")), default=0) <= _NARROW:
        return f"{head}\n\n#worked([{NEW_LINE.join(equations)}], [{NEW_LINE.join(others)}])"
    return NEW_LINE.join(
        [
            head,
            *(f"#set-in(wide[{block}])" if block.startswith("$") else _styled(block) for block in rest),
        ]
    )


def _letters(equation: str) -> int:
    """Return about how many letters an equation is wide, on the safe side: fractions as if on one line."""
    return len(_UNSEEN.sub("", equation))


def _styled(block: str) -> str:
    """Return a block of workings in the document's own look."""
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
