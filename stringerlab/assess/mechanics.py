"""Panels and spans under a method's pressure, judged by the mechanics: how each part really fails.

The pressure is the method's, row by row; a span is a single beam with the factors of its ends, its section
counts the method's width of plating by moduli free to contract. Strengths are as resolved: what part of them
is allowed is ``Allowances``. What a solver cannot do is *not judged*, in the solver's words.
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

import numpy as np

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Moduli, is_sandwich
from stringerlab.layout import PanelCase, SpanCase, Surface
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    FindingKind,
    Judged,
    Method,
    PressureRows,
    Verdict,
    end_factors,
    findings,
    not_judged,
    panel_pressure_rows,
    plating_rows,
    span_pressure_rows,
)
from stringerlab.methods.mechanics import OURS, Allowances, LoadedPanel, LoadedSpan, beams
from stringerlab.methods.mechanics.topics import TOPICS, Topic
from stringerlab.section import Plating
from stringerlab.section.loads import SectionLoads
from stringerlab.workings import Array, Step, weakest, workings
from stringerlab.workings.recording import marks_of

QUICK = tuple(topic for topic in TOPICS if topic.quick)
"""What is judged while a section is dragged too."""
WITHOUT_SOLVERS = tuple(topic for topic in TOPICS if not topic.solver)
"""What is judged where many methods judge at once."""
REPLACED = frozenset({Aspect.BOND, Aspect.HARD_SPOT})
"""Aspects that methods leave open and the mechanics judge in their place."""
LEFT_TO_THE_CHECK = REPLACED & {topic.aspect for topic in TOPICS if not topic.quick}
"""Of these, what is not judged while a section is dragged."""

AT_ONCE = 12
"""Cases judged together at the most: between two batches, and two topics of each, a run can be ended."""

Tell = Callable[[float, str], None]
"""Told the part done and what is being judged; may raise to end it."""
_Case = TypeVar("_Case", PanelCase, SpanCase)
_Loaded = TypeVar("_Loaded", LoadedPanel, LoadedSpan)


def mechanics_of_panels(
    method: Method,
    craft: CraftRow,
    cases: Sequence[PanelCase],
    topics: Sequence[Topic] = TOPICS,
    tell: Tell | None = None,
) -> tuple[Finding, ...]:
    """Return what the mechanics find of panels under a method's pressure: surface by surface."""
    judges = [(topic, topic.panels) for topic in topics if topic.panels]
    alike = [
        [case for case in cases if case.panel.surface is surface and is_sandwich(case.stack) is cored]
        for surface in Surface
        for cored in (False, True)
    ]

    def load(some: Sequence[PanelCase]) -> _Batch[LoadedPanel]:
        return _panels(method, craft, some, cored=is_sandwich(some[0].stack))

    return _by_batches(method, alike, load, judges, tell)


def mechanics_of_spans(
    method: Method,
    craft: CraftRow,
    cases: Sequence[SpanCase],
    topics: Sequence[Topic] = TOPICS,
    tell: Tell | None = None,
) -> tuple[Finding, ...]:
    """Return what the mechanics find of spans under a method's pressure: surface by surface."""
    judges = [(topic, topic.spans) for topic in topics if topic.spans]
    alike = [[case for case in cases if case.span.surface is surface] for surface in Surface]

    def load(some: Sequence[SpanCase]) -> _Batch[LoadedSpan]:
        return _spans(method, craft, some)

    return _by_batches(method, alike, load, judges, tell)


def with_mechanics(
    own: Sequence[Finding], mechanics: Sequence[Finding], *, left: Collection[Aspect] = ()
) -> tuple[Finding, ...]:
    """Return a method's findings, then the mechanics', in place of what only these judge.

    Parameters
    ----------
    own
        The method's.
    mechanics
        Under its pressure.
    left
        Aspects that are left to another run of the mechanics: what the method leaves open of them is not
        said.
    """
    judged = {(one.subject, one.aspect) for one in mechanics if one.aspect in REPLACED}
    kept = [
        one
        for one in own
        if one.verdict is not Verdict.NOT_JUDGED
        or not (one.aspect in left or (one.subject, one.aspect) in judged)
    ]
    return (*kept, *mechanics)


def waiting(finding: Finding) -> Finding:
    """Return a finding whose numbers wait for the whole check, since the section is under the hand."""
    return replace(
        finding,
        demand=None,
        capacity=None,
        utilisation=None,
        verdict=Verdict.NOT_JUDGED,
        notes=("judged as soon as the hand rests",),
        governs="",
        steps=(),
        recording=None,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Batch(Generic[_Loaded]):
    """Cases under their pressure; ``loads`` are the arrays their loads came from, nan where there is none."""

    loaded: Sequence[_Loaded]
    loads: tuple[Array, ...]
    missing: tuple[str, ...]
    """Why a case has no load, case by case; empty where it has one."""


_Judge = Callable[[Sequence[_Loaded], Allowances], tuple[Judged, ...]]


def _by_batches(
    method: Method,
    alike: Sequence[Sequence[_Case]],
    load: Callable[[Sequence[_Case]], _Batch[_Loaded]],
    judges: Sequence[tuple[Topic, _Judge[_Loaded]]],
    tell: Tell | None,
) -> tuple[Finding, ...]:
    """Return the findings of cases that may be judged together, some at a time, telling of each step."""
    batches = [
        (group[start : start + AT_ONCE], start, len(group))
        for group in alike
        for start in range(0, len(group), AT_ONCE)
    ]
    found: list[Finding] = []
    for number, (batch, start, whole) in enumerate(batches):
        place = "" if whole == len(batch) else f", {start + 1} to {start + len(batch)} of {whole}"
        steps = [
            (
                topic.aspect,
                _told(judge, tell, (number + part / len(judges)) / len(batches), topic.name + place),
            )
            for part, (topic, judge) in enumerate(judges)
        ]
        found += _findings(method, batch, load, steps)
    return tuple(found)


def _told(judge: _Judge[_Loaded], tell: Tell | None, done: float, what: str) -> _Judge[_Loaded]:
    """Return a judge that tells of itself first."""
    if tell is None:
        return judge

    def told(loaded: Sequence[_Loaded], allow: Allowances) -> tuple[Judged, ...]:
        tell(done, what)
        return judge(loaded, allow)

    return told


def _findings(
    method: Method,
    cases: Sequence[_Case],
    load: Callable[[Sequence[_Case]], _Batch[_Loaded]],
    judges: Sequence[tuple[Aspect, _Judge[_Loaded]]],
) -> tuple[Finding, ...]:
    """Return the findings of cases by every judge; where one fails on a batch, case by case."""
    if not cases or not judges:
        return ()
    named = replace(method, name=f"{method.name}: mechanics")
    judged: list[Judged] = []
    alone: list[Finding] = []
    with workings() as recording:
        try:
            batch = load(cases)
        except StringerlabError as error:
            return _case_by_case(named, method, cases, load, judges, error)
        if any(batch.missing):
            return _without_load(named, method, cases, load, judges, batch.missing)
        for aspect, judge in judges:
            try:
                judged += judge(batch.loaded, OURS)
            except StringerlabError as error:
                alone += _case_by_case(named, method, cases, load, [(aspect, judge)], error)
        before = recording.behind(*batch.loads)
    found = findings(named, judged, [_subject(case) for case in cases], recording, kind=FindingKind.MECHANICS)
    notes = {_subject(case)[0]: case.notes for case in cases if case.notes}
    return (*(_completed(one, before, notes.get(one.subject, ())) for one in found), *alone)


def _case_by_case(
    named: Method,
    method: Method,
    cases: Sequence[_Case],
    load: Callable[[Sequence[_Case]], _Batch[_Loaded]],
    judges: Sequence[tuple[Aspect, _Judge[_Loaded]]],
    error: StringerlabError,
) -> tuple[Finding, ...]:
    """Return the findings of cases judged one at a time; of a single one, what its solver said."""
    if len(cases) > 1:
        return tuple(one for case in cases for one in _findings(method, [case], load, judges))
    return tuple(_open(named, cases[0], aspect, error.problems) for aspect, _ in judges)


def _without_load(
    named: Method,
    method: Method,
    cases: Sequence[_Case],
    load: Callable[[Sequence[_Case]], _Batch[_Loaded]],
    judges: Sequence[tuple[Aspect, _Judge[_Loaded]]],
    missing: Sequence[str],
) -> tuple[Finding, ...]:
    """Return the findings of the cases that have a load, and one, not judged, of each that has none."""
    sound = [case for case, why in zip(cases, missing, strict=True) if not why]
    none = [
        _open(named, case, Aspect.PLY_FAILURE, [Problem(f"No mechanics: {why}.")])
        for case, why in zip(cases, missing, strict=True)
        if why
    ]
    return (*_findings(method, sound, load, judges), *none)


def _open(named: Method, case: PanelCase | SpanCase, aspect: Aspect, problems: Sequence[Problem]) -> Finding:
    return not_judged(named, *_subject(case), aspect, problems, kind=FindingKind.MECHANICS)


def _completed(finding: Finding, before: tuple[Step, ...], notes: tuple[str, ...]) -> Finding:
    """Return a finding whose workings begin with its loads, and whose mark is no better than theirs."""
    if finding.utilisation is None:
        return replace(finding, notes=(*finding.notes, *notes)) if notes else finding
    own = tuple(step for step in finding.steps if step not in before)
    return replace(
        finding,
        steps=(*before, *own),
        known=weakest((finding.known, marks_of(before))),
        notes=(*finding.notes, *notes),
    )


def _subject(case: PanelCase | SpanCase) -> tuple[str, str]:
    record = case.panel if isinstance(case, PanelCase) else case.span
    return record.id, record.name


def _pressure(method: Method, craft: CraftRow, rows: PressureRows) -> Array:
    if method.pressure is None:
        return np.full(len(rows.x), np.nan)
    return method.pressure(craft, rows)


def _panels(method: Method, craft: CraftRow, cases: Sequence[PanelCase], cored: bool) -> _Batch[LoadedPanel]:
    P = _pressure(method, craft, panel_pressure_rows(cases, sandwich=cored))
    return _Batch(
        loaded=[LoadedPanel(case=case, P=value) for case, value in zip(cases, P.tolist(), strict=True)],
        loads=(P,),
        missing=tuple("" if value else _NO_PRESSURE for value in np.isfinite(P).tolist()),
    )


_NO_PRESSURE = "the method gives no pressure here"
_MECHANISM = "a free end with no held one is a mechanism"


def _spans(method: Method, craft: CraftRow, cases: Sequence[SpanCase]) -> _Batch[LoadedSpan]:
    rows = span_pressure_rows(cases)
    P = _pressure(method, craft, rows)
    factors = end_factors([case.span.ends for case in cases])
    load = {"P": P, "s": rows.width, "l_u": rows.length}
    M_e = beams.end_moment(f_e=factors.end, **load)
    M_m = beams.middle_moment(f_m=factors.middle, **load)
    V_e = beams.end_shear(f_Q=factors.shear, **load)
    facts = [section_facts(case.section, case.drawn_deadrise) for case in cases]
    widths = method.plating(plating_rows(cases, facts))
    loaded: list[LoadedSpan] = []
    for case, known, width, *numbers in zip(
        cases, facts, widths.tolist(), P.tolist(), M_e.tolist(), M_m.tolist(), V_e.tolist(), strict=True
    ):
        pressure, end, middle, shear = numbers
        plating = Plating(stack=case.plating, width=width, deadrise=case.drawn_deadrise)
        loaded.append(
            LoadedSpan(
                case=case,
                plating=plating,
                properties=section_properties(case.section, plating, Moduli.CONTRACTED),
                facts=known,
                P=pressure,
                end=SectionLoads(V_z=shear, M_y=end),
                middle=SectionLoads(M_y=middle),
            )
        )
    pressed, carried = np.isfinite(P).tolist(), np.isfinite(M_e).tolist()
    return _Batch(
        loaded=loaded,
        loads=(P, M_e, M_m, V_e),
        missing=tuple(
            "" if held else _MECHANISM if here else _NO_PRESSURE
            for here, held in zip(pressed, carried, strict=True)
        ),
    )
