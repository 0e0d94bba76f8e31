"""Judge every panel and span of a project by one method.

Section properties are cached by value (section, plating, moduli), so that only what changed is computed
again. Subjects with problems are *not judged* and say why.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.errors import Problem
from stringerlab.laminate import is_sandwich
from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods import (
    Aspect,
    Finding,
    Judged,
    Method,
    SpanRows,
    craft_row,
    findings,
    method_named,
    not_judged,
    panel_rows,
    plating_rows,
    sandwich_rows,
    span_rows,
)
from stringerlab.project import Project, resolve
from stringerlab.section import Plating
from stringerlab.workings import workings

Watch = Callable[[float, str], None]
"""Told the fraction done and what is being done; may raise ``Cancelled``."""


class Cancelled(Exception):  # noqa: N818
    """Raised by a watch to stop a run; no results come of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """Everything a check found, complete or not at all."""

    project: Project
    method: Method
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    """What is wrong with the project; its subjects are not judged."""
    repairs: tuple[Problem, ...]
    """What was put right in a drawing, such as an overlap, and counted so."""


def check(project: Project, method: Method | str | None = None, watch: Watch | None = None) -> Results:
    """Judge a project's panels and spans.

    Parameters
    ----------
    project
        The document.
    method
        A method or its id; the project's own by default.
    watch
        Told of progress, and asked by it to stop.

    Raises
    ------
    StringerlabError
        When there is no such method.
    Cancelled
        When the watch raises it.
    """
    tell = watch or _unwatched
    chosen = method if isinstance(method, Method) else method_named(method or project.method)
    tell(0.0, "Reading the project")
    resolved = resolve(project)
    panels, spans, blocked = resolved.panels, resolved.spans, resolved.blocked
    found: dict[str, list[Finding]] = {}

    def judge(cases: Sequence[PanelCase | SpanCase], run: Callable[[], Sequence[Judged]]) -> None:
        if not cases:
            return
        subjects = [_subject(case) for case in cases]
        with workings() as recording:
            judged = run()
        for finding in findings(chosen, judged, subjects, recording):
            found.setdefault(finding.subject, []).append(finding)

    if panels or spans:
        craft = craft_row(project.craft)
        single = [case for case in panels if not is_sandwich(case.stack)]
        cored = [case for case in panels if is_sandwich(case.stack)]
        tell(0.2, "Judging panels")
        judge(single, lambda: chosen.judge_panels(craft, panel_rows(single)))
        judge(cored, lambda: chosen.judge_sandwiches(craft, sandwich_rows(cored)))
        tell(0.5, "Judging spans")
        judge(spans, lambda: chosen.judge_spans(craft, _spans(chosen, spans)))
    for subject in (*project.panels, *project.spans):
        if subject.id in blocked:
            aspect = Aspect.THICKNESS if subject in project.panels else Aspect.MODULUS
            found[subject.id] = [not_judged(chosen, subject.id, subject.name, aspect, blocked[subject.id])]
    tell(1.0, "Done")
    ordered = [finding for s in (*project.panels, *project.spans) for finding in found.get(s.id, [])]
    return Results(
        project=project,
        method=chosen,
        findings=tuple(ordered),
        problems=resolved.problems,
        repairs=resolved.repairs,
    )


def _subject(case: PanelCase | SpanCase) -> tuple[str, str]:
    record = case.panel if isinstance(case, PanelCase) else case.span
    return record.id, record.name


def _spans(method: Method, cases: Sequence[SpanCase]) -> SpanRows:
    known = [section_facts(case.section) for case in cases]
    widths = method.plating(plating_rows(cases, known))
    found = [
        section_properties(
            case.section,
            Plating(stack=case.plating, width=float(width), deadrise=case.drawn_deadrise),
            method.moduli,
        )
        for case, width in zip(cases, widths, strict=True)
    ]
    return span_rows(cases, found, known)


def _unwatched(fraction: float, what: str) -> None:
    del fraction, what
