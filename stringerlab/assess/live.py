"""One section under the hand: its stiffness, sizes and the findings of its spans, for the same frame.

The same functions as in a whole check, cached by the same values: what a drag shows is what a check says,
but for those of the mechanics that are not quick.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import radians

from stringerlab.assess.check import Results
from stringerlab.assess.judging import blocked_finding, judged_spans
from stringerlab.assess.mechanics import LEFT_TO_THE_CHECK, QUICK, mechanics_of_spans, waiting, with_mechanics
from stringerlab.assess.sections import reference_plating, section_facts, section_properties, sound_shape
from stringerlab.assess.torsion import Torsional, full_torsion, quick_torsion
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.layout import Span
from stringerlab.methods import Finding, craft_row, method_named
from stringerlab.project import Project, Resolved
from stringerlab.section import Facts, Plating, Properties, Section, lying_notes


@dataclass(frozen=True, slots=True, kw_only=True)
class Live:
    """A section's numbers as it stands; ``properties`` and ``facts`` are None where problems forbid them."""

    section: Section
    plating: Plating | None
    """The strip ``properties`` counts: that of the section's reference; None for the section alone."""
    properties: Properties | None
    """On that strip, by first-principles moduli: what a method counts may differ."""
    facts: Facts | None
    findings: tuple[Finding, ...]
    """Of the spans that use the section, in the order of the project: of the mechanics what is quick."""
    problems: tuple[Problem, ...]
    """What forbids a number of the section or of its spans, each once."""
    notes: tuple[str, ...] = ()
    """What of the section counts in part or not at all."""
    torsion: Torsional | None = None
    """On the same strip, by thin walls until `at_rest`; None where they give none."""


def live_section(project: Project, resolved: Resolved, section_id: str) -> Live:
    """Return a section's numbers and the findings of the spans that use it.

    Parameters
    ----------
    project
        The document, or a preview of it during a drag.
    resolved
        The same with ids swapped for objects.
    section_id
        Id of the section.

    Raises
    ------
    StringerlabError
        When the project has no such section or no such method.
    """
    section = next((one for one in project.sections if one.id == section_id), None)
    if section is None:
        raise StringerlabError(Problem(f"There is no section '{section_id}'.", "project"))
    plating = reference_plating(resolved, section)
    properties: Properties | None = None
    facts: Facts | None = None
    torsion: Torsional | None = None
    problems: list[Problem] = []
    try:
        shape = sound_shape(resolved, section)
        facts = section_facts(shape, radians(section.reference.deadrise) if section.reference else 0.0)
        properties = section_properties(shape, plating, Moduli.CONTRACTED)
        torsion = quick_torsion(shape, plating)
    except StringerlabError as error:
        problems += error.problems
    spans = [span for span in resolved.subjects if isinstance(span, Span) and span.section == section_id]
    problems += [problem for span in spans for problem in resolved.blocked.get(span.id, ())]
    return Live(
        section=section,
        plating=plating,
        properties=properties,
        facts=facts,
        findings=_findings(project, resolved, spans),
        problems=tuple(dict.fromkeys(problems)),
        notes=lying_notes(section),
        torsion=torsion,
    )


def at_rest(live: Live, resolved: Resolved) -> Live:
    """Return a section's numbers with torsion and shear by finite elements; some ten milliseconds.

    Raises
    ------
    StringerlabError
        When the full solution gives none; what is known by thin walls holds as it was.
    """
    return replace(live, torsion=full_torsion(sound_shape(resolved, live.section), live.plating))


def completed(live: Sequence[Finding], whole: Results | None, *, settled: bool) -> tuple[Finding, ...]:
    """Return live findings with those that only a whole check brings; until it is done these wait."""
    kept, subjects = {one.key for one in live}, {one.subject for one in live}
    of = whole.findings if whole else ()
    slow = [one for one in of if one.subject in subjects and one.key not in kept]
    return (*live, *(one if settled else waiting(one) for one in slow))


def _findings(project: Project, resolved: Resolved, spans: Sequence[Span]) -> tuple[Finding, ...]:
    if not spans:
        return ()
    method = method_named(project.method)
    wanted = {span.id for span in spans}
    cases = [case for case in resolved.spans if case.span.id in wanted]
    found: dict[str, list[Finding]] = {}
    if cases:
        craft = craft_row(project.craft)
        own = judged_spans(method, craft, cases)
        quick = mechanics_of_spans(method, craft, cases, QUICK)
        for finding in with_mechanics(own, quick, left=LEFT_TO_THE_CHECK):
            found.setdefault(finding.subject, []).append(finding)
    for span in spans:
        if span.id in resolved.blocked:
            found[span.id] = [blocked_finding(method, span, resolved.blocked[span.id])]
    return tuple(finding for span in spans for finding in found.get(span.id, ()))
