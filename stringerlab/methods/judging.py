"""From judged arrays to findings: one subject and one aspect each, with verdict, mark, notes and workings."""

from collections.abc import Sequence

import numpy as np

from stringerlab.errors import Problem
from stringerlab.methods.records import Aspect, Finding, FindingKind, Judged, Method
from stringerlab.methods.verdicts import Verdict, verdict_of
from stringerlab.units import unit_named
from stringerlab.workings import Known, Recording, Source, Step, weakest
from stringerlab.workings.recording import marks_of
from stringerlab.workings.shown import outside_notes


def findings(
    method: Method,
    judged: Sequence[Judged],
    subjects: Sequence[tuple[str, str]],
    recording: Recording | None = None,
    *,
    kind: FindingKind = FindingKind.RULE,
) -> tuple[Finding, ...]:
    """Return the findings of judged rows, subject by subject.

    Parameters
    ----------
    method
        The method that judged.
    judged
        Its aspects, over n rows.
    subjects
        Id and name of each row's subject, n of them.
    recording
        The formulas as they ran, when they were recorded; without it the workings are empty, and neither
        the formulas' marks nor their ranges are known.
    kind
        Whether these are the method's own or mechanics under its pressure.
    """
    aspects = [_Aspect(method, one, recording, len(subjects), kind) for one in judged]
    return tuple(
        aspect.finding(row, id, name)
        for row, (id, name) in enumerate(subjects)  # noqa: A001
        for aspect in aspects
        if aspect.applies[row]
    )


def not_judged(
    method: Method,
    subject: str,
    name: str,
    aspect: Aspect,
    problems: Sequence[Problem],
    *,
    kind: FindingKind = FindingKind.RULE,
) -> Finding:
    """Return the finding of a subject that could not be judged for what is wrong with it."""
    source = Source(title=method.name, known=Known.STATED)
    return Finding(
        subject=subject,
        name=name,
        aspect=aspect,
        demand=None,
        capacity=None,
        unit=unit_named(""),
        utilisation=None,
        verdict=Verdict.NOT_JUDGED,
        method=method.name,
        source=str(source),
        known=source.known,
        notes=(*(str(problem) for problem in problems), *_edition(method)),
        kind=kind,
    )


class _Aspect:
    """One aspect over all rows, with what its findings share computed once."""

    def __init__(
        self, method: Method, judged: Judged, recording: Recording | None, rows: int, kind: FindingKind
    ) -> None:
        self.method, self.judged, self.recording, self.kind = method, judged, recording, kind
        self.applies = np.broadcast_to(True if judged.applies is None else judged.applies, rows)
        self.demand = np.broadcast_to(judged.demand, rows)
        self.capacity = np.broadcast_to(judged.capacity, rows)
        utilisation = np.broadcast_to(judged.utilisation, rows)
        self.utilisation = np.where(np.isfinite(utilisation), utilisation, np.nan)
        self.steps = () if recording is None else recording.behind(judged.demand, judged.capacity)
        self.known = weakest(
            [judged.source.known, marks_of(self.steps)] if self.steps else [judged.source.known]
        )
        self.remarks, self.lacking = (
            [
                (remark.text, None if remark.where is None else np.broadcast_to(remark.where, rows))
                for remark in said
            ]
            for said in (judged.remarks, judged.lacking)
        )
        self.strained = [step for step in self.steps if step.formula.outside(step.inputs)]

    def finding(self, row: int, subject: str, name: str) -> Finding:
        utilisation = float(self.utilisation[row])
        verdict = verdict_of(utilisation)
        seen = verdict is not Verdict.NOT_JUDGED
        advice = seen and self.judged.advice
        return Finding(
            subject=subject,
            name=name,
            aspect=self.judged.aspect,
            demand=float(self.demand[row]) if seen else None,
            capacity=float(self.capacity[row]) if seen else None,
            unit=self.judged.unit,
            utilisation=utilisation if seen and not advice else None,
            verdict=Verdict.ADVICE if advice else verdict,
            method=self.method.name,
            source=str(self.judged.source),
            known=self._mark(row),
            notes=tuple(dict.fromkeys(self._notes(row, seen=seen))),
            kind=self.kind,
            power=self.judged.power,
            governs=self.judged.governing.bare(row) if seen and self.judged.governing is not None else "",
            steps=self.steps,
            row=row,
            recording=self.recording,
        )

    def _mark(self, row: int) -> Known:
        marks = self.judged.marks
        return self.known if marks is None else weakest([self.known, Known.ranked(int(marks[row]))])

    def _notes(self, row: int, *, seen: bool) -> list[str]:
        judged = self.judged
        notes: list[str] = []
        if not seen:
            reasons = [text for text, where in self.lacking if where is None or where[row]]
            notes += reasons or [judged.missing or "a number is missing"]
        elif judged.governing is not None and (name := judged.governing.name(row)):
            notes.append(f"governing: {name}")
        notes += [text for text, where in self.remarks if where is None or where[row]]
        for step in self.strained:
            notes += [_with_consequence(note, step) for note in outside_notes((step,), row)]
        notes += _edition(self.method) if self.steps else ()
        return notes


def _with_consequence(note: str, step: Step) -> str:
    return f"{note}; {step.formula.source.note}" if step.formula.source.note else note


def _edition(method: Method) -> tuple[str, ...]:
    return (method.superseded,) if method.superseded else ()
