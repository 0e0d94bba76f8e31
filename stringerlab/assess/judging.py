"""Cases to findings by one method: what a whole check and a section under the hand both call."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.errors import Problem
from stringerlab.laminate import is_sandwich
from stringerlab.layout import Panel, PanelCase, Span, SpanCase, Surface
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    Judged,
    Method,
    SpanRows,
    findings,
    not_judged,
    panel_rows,
    plating_rows,
    sandwich_rows,
    span_rows,
)
from stringerlab.section import Plating
from stringerlab.workings import workings


def judged_panels(method: Method, craft: CraftRow, cases: Sequence[PanelCase]) -> tuple[Finding, ...]:
    """Return the findings of panels: surface by surface, single skins first, each in the order given."""
    found: list[Finding] = []
    for surface in Surface:
        here = [case for case in cases if case.panel.surface is surface]
        single = [case for case in here if not is_sandwich(case.stack)]
        cored = [case for case in here if is_sandwich(case.stack)]
        found += _judged(method, single, partial(_panels, method, craft, single))
        found += _judged(method, cored, partial(_sandwiches, method, craft, cored))
    return tuple(found)


def judged_spans(method: Method, craft: CraftRow, cases: Sequence[SpanCase]) -> tuple[Finding, ...]:
    """Return the findings of spans: surface by surface, each in the order given.

    Raises
    ------
    StringerlabError
        When a section has no number to give.
    """
    found: list[Finding] = []
    for surface in Surface:
        here = [case for case in cases if case.span.surface is surface]
        found += _judged(method, here, partial(_spans, method, craft, here))
    return tuple(found)


def blocked_finding(method: Method, subject: Panel | Span, problems: Sequence[Problem]) -> Finding:
    """Return the one finding of a panel or span that cannot be judged, with every reason."""
    aspect = Aspect.THICKNESS if isinstance(subject, Panel) else Aspect.MODULUS
    return not_judged(method, subject.id, subject.name, aspect, problems)


def _judged(
    method: Method, cases: Sequence[PanelCase | SpanCase], run: Callable[[], Sequence[Judged]]
) -> tuple[Finding, ...]:
    if not cases:
        return ()
    with workings() as recording:
        judged = run()
    notes = {_subject(case)[0]: case.notes for case in cases if case.notes}
    found = findings(method, judged, [_subject(case) for case in cases], recording)
    return tuple(
        replace(one, notes=(*one.notes, *notes[one.subject])) if one.subject in notes else one
        for one in found
    )


def _subject(case: PanelCase | SpanCase) -> tuple[str, str]:
    record = case.panel if isinstance(case, PanelCase) else case.span
    return record.id, record.name


def _panels(method: Method, craft: CraftRow, cases: Sequence[PanelCase]) -> Sequence[Judged]:
    return method.judge_panels(craft, panel_rows(cases, method.evaluation))


def _sandwiches(method: Method, craft: CraftRow, cases: Sequence[PanelCase]) -> Sequence[Judged]:
    return method.judge_sandwiches(craft, sandwich_rows(cases, method.evaluation))


def _spans(method: Method, craft: CraftRow, cases: Sequence[SpanCase]) -> Sequence[Judged]:
    return method.judge_spans(craft, _rows(method, cases))


def _rows(method: Method, cases: Sequence[SpanCase]) -> SpanRows:
    known = [section_facts(case.section, case.drawn_deadrise) for case in cases]
    widths = method.plating(plating_rows(cases, known))
    found = [
        section_properties(
            case.section,
            Plating(stack=case.plating, width=float(width), deadrise=case.drawn_deadrise),
            method.moduli,
            None if method.evaluation.bare else method.evaluation,
        )
        for case, width in zip(cases, widths, strict=True)
    ]
    return span_rows(cases, found, known, method.evaluation)
