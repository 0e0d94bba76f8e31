"""How much of its capacity the bottom's structure uses: worst, mean, how many are short."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from stringerlab.assess import Results
from stringerlab.compare.records import Measured, unknown
from stringerlab.layout.records import Span, Surface
from stringerlab.methods import Finding, FindingKind, Verdict

SAID = {
    FindingKind.RULE: "by the method",
    FindingKind.MECHANICS: "by the mechanics",
    FindingKind.GRID: "by the grid",
}
"""In whose view."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Uses:
    """Of one kind of finding: the worst and the mean over subjects of each one's greatest utilisation."""

    worst: Measured
    mean: Measured
    short: Measured
    where: str = ""
    """The worst, in words."""
    unjudged: int = 0
    """Findings that are not judged."""


def said(kind: FindingKind) -> str:
    """Return in words in whose view a kind of finding is."""
    return SAID[kind]


def uses(results: Results, kind: FindingKind) -> Uses:
    """Return how much of the capacity is used, in the view of one kind of findings."""
    wanted = bottom_subjects(results)
    mine = [one for one in results.findings if one.kind is kind and one.subject in wanted]
    used: dict[str, list[Finding]] = defaultdict(list)
    for one in mine:
        if one.utilisation is not None and one.verdict is not Verdict.ADVICE:
            used[one.subject].append(one)
    unjudged = sum(one.verdict is Verdict.NOT_JUDGED for one in mine)
    notes = (f"{unjudged} findings are not judged",) if unjudged else ()
    if not used:
        found = unknown(_why(wanted, mine, kind))
        return Uses(worst=found, mean=found, short=found, unjudged=unjudged)
    tops = [max(each, key=_utilisation) for each in used.values()]
    top = max(tops, key=_utilisation)
    short = sum(any(one.verdict is Verdict.SHORT for one in each) for each in used.values())
    return Uses(
        worst=Measured(value=_utilisation(top), notes=notes),
        mean=Measured(value=sum(map(_utilisation, tops)) / len(tops), notes=notes),
        short=Measured(value=float(short), notes=notes),
        where=f"{top.name}, {top.aspect.value}",
        unjudged=unjudged,
    )


def bottom_subjects(results: Results) -> frozenset[str]:
    """Return the ids of what is compared: found in the layout in use, else the bottom's given by hand."""
    found = results.resolved.found
    if found is not None:
        spans = (one.span.id for one in found.spans if one.span is not None)
        return frozenset([*spans, *(one.panel.id for one in found.bays if one.panel is not None)])
    project = results.project
    given = (*project.panels, *project.spans)
    return frozenset(one.id for one in given if one.surface is Surface.BOTTOM)


def bottom_spans(spans: Sequence[Span]) -> tuple[Span, ...]:
    """Return the spans given by hand that stiffen the bottom."""
    return tuple(span for span in spans if span.surface is Surface.BOTTOM)


def _utilisation(finding: Finding) -> float:
    return finding.utilisation if finding.utilisation is not None else 0.0


def _why(wanted: frozenset[str], mine: Sequence[Finding], kind: FindingKind) -> str:
    if not wanted:
        return "no panel and no span of the bottom is there to judge"
    if not mine:
        return f"nothing of it is judged {said(kind)}"
    why = next((note for one in mine for note in one.notes), "")
    return f"none of its {len(mine)} findings is judged" + (f": {why}" if why else "")


__all__ = ["Uses", "bottom_spans", "bottom_subjects", "said", "uses"]
