"""Which findings the demands of a plan read, and what is left out as the boat as she is leaves it open."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from stringerlab.assess.check import check
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Panel, Span
from stringerlab.methods import (
    Aspect,
    FindingKind,
    Judged,
    Method,
    Verdict,
    craft_row,
    span_pressure_rows,
)
from stringerlab.project import Project, Resolved
from stringerlab.project.wishes import Demand, Holds, SizingPlan
from stringerlab.sizing.judging.standing import Fast, Standing, key_words
from stringerlab.sizing.judging.tally import Tally
from stringerlab.sizing.running.pulse import beat
from stringerlab.workings import Array

EVERY = Demand(id="", holds=Holds.USE, limit=1.0)
"""What is asked for where a plan demands nothing: every rule finding at 1."""


def demands_of(plan: SizingPlan) -> tuple[Demand, ...]:
    """Return what must hold: a plan's demands, or every rule finding at 1 where it has none."""
    return plan.demands or (EVERY,)


@dataclass(frozen=True, slots=True, eq=False)
class Asked:
    """The demands, and what the boat as she is leaves unjudged."""

    demands: tuple[Demand, ...]
    open: frozenset[tuple[str, Aspect]]
    """Subject and aspect of rule findings not judged in the boat as she is: no design is unsound by them."""
    open_aspects: frozenset[tuple[type[Panel | Span], Aspect]]
    """The same by kind of subject, for subjects the boat does not have."""
    known: frozenset[str]
    """Subjects of the boat as she is."""
    blocked: frozenset[str]
    """Those of them that cannot be judged at all."""
    notes: tuple[str, ...]
    names: Mapping[str, str] = field(default_factory=dict[str, str])
    """Of subjects and sections, by id."""
    sections: Mapping[str, str] = field(default_factory=dict[str, str])
    """Of spans, by their ids."""
    standing: Standing = field(default_factory=Standing)
    """What nothing in the space changes: it has no part in the highest utilisation."""

    def reads(self, holds: Holds, subject: Panel | Span, aspect: Aspect | None = None) -> list[int]:
        """Return which demands read a subject's findings of an aspect, or its deflection."""
        names = {subject.id, subject.section} if isinstance(subject, Span) else {subject.id}
        return [
            place
            for place, demand in enumerate(self.demands)
            if demand.holds is holds
            and (not demand.of or not names.isdisjoint(demand.of))
            and (aspect is None or demand.aspect in ("", aspect.value))
        ]

    def of_section(self, section: str) -> list[int]:
        """Return which demands read a section's height."""
        return [
            place
            for place, demand in enumerate(self.demands)
            if demand.holds is Holds.HEIGHT and (not demand.of or section in demand.of)
        ]

    def put(self, tally: Tally, subject: Panel | Span, judged: Sequence[Judged]) -> None:
        """Put what was judged of a subject, n designs of it, to what they come to."""
        n = len(tally.sound)
        for one in judged:
            if one.advice:
                continue
            found = np.broadcast_to(one.utilisation, n)
            applies = True if one.applies is None else np.broadcast_to(one.applies, n)
            number = np.isfinite(found)
            if not self._is_open(subject, one.aspect):
                tally.sound &= number | ~np.asarray(applies)
            used = np.where(number & applies, found, 0.0)
            key = (subject.id, one.aspect)
            if self.standing.heard is not None:
                self.standing.hear(key, used)
            if not used.any():
                continue
            if key not in self.standing.values:
                np.maximum(tally.use, used, out=tally.use)
            self.put_ratios(tally, self.reads(Holds.USE, subject, one.aspect), used)

    def put_ratios(self, tally: Tally, places: Sequence[int], values: Array) -> None:
        """Put what demands ask to what designs come to, over their limits."""
        for place in places:
            ratio = tally.ratios[place]
            np.maximum(ratio, values / self.demands[place].limit, out=ratio)

    def fast(self) -> tuple[Fast | None, ...]:
        """Return the most that each demand asks of what nothing changes; None where it reads nothing such."""
        return tuple(self._fast(demand) for demand in self.demands)

    def _fast(self, demand: Demand) -> Fast | None:
        of = set(demand.of)
        read = {
            key: value
            for key, value in self.standing.values.items()
            if (isinstance(key[1], Aspect) if demand.holds is Holds.USE else key[1] is demand.holds)
            and (not of or not of.isdisjoint((key[0], self.sections.get(key[0], ""))))
            and demand.aspect in ("", str(key[1]))
        }
        if not read:
            return None
        key = max(read, key=lambda one: read[one])
        return Fast(ratio=read[key] / demand.limit, words=key_words(key, self.names))

    def _is_open(self, subject: Panel | Span, aspect: Aspect) -> bool:
        if subject.id in self.known:
            return (subject.id, aspect) in self.open
        return (type(subject), aspect) in self.open_aspects


def asked_of(project: Project, resolved: Resolved, plan: SizingPlan, method: Method) -> Asked:
    """Return what a plan asks of a boat by a method, and what the boat as she is leaves unjudged."""
    subjects = {subject.id: subject for subject in resolved.subjects}
    findings = [
        one
        for one in check(project, method, resolved=resolved, topics=(), watch=_beat).findings
        if one.kind is FindingKind.RULE and one.subject not in resolved.blocked
    ]
    lacking = [(one.subject, one.aspect) for one in findings if one.verdict is Verdict.NOT_JUDGED]
    asked = Asked(
        demands=demands_of(plan),
        open=frozenset(lacking),
        open_aspects=frozenset((type(subjects[subject]), aspect) for subject, aspect in lacking),
        known=frozenset(subjects),
        blocked=frozenset(resolved.blocked),
        notes=tuple(_notes(subjects, resolved, lacking, method)),
        names={one.id: one.name for one in (*project.sections, *subjects.values())},
        sections={one.id: one.section for one in subjects.values() if isinstance(one, Span)},
    )
    used = [(subjects[one.subject], one.aspect) for one in findings if one.utilisation is not None]
    spans = [case.span for case in resolved.spans] if _presses(project, resolved, method) else []
    sections = {one.section for one in resolved.subjects if isinstance(one, Span)}
    read = {place for subject, aspect in used for place in asked.reads(Holds.USE, subject, aspect)}
    read |= {place for span in spans for place in asked.reads(Holds.DEFLECTION, span)}
    read |= {
        place
        for section in project.sections
        for place in asked.of_section(section.id)
        if section.id in sections or section.id in asked.demands[place].of
    }
    if silent := [one for place, one in enumerate(asked.demands) if place not in read]:
        raise StringerlabError([_reads_nothing(one, method) for one in silent])
    return asked


def _beat(done: float, words: str) -> None:
    del done, words
    beat()


def _presses(project: Project, resolved: Resolved, method: Method) -> bool:
    """Whether a method states a pressure on any span of the boat."""
    if method.pressure is None or not resolved.spans:
        return False
    craft = craft_row(project.craft)
    return any(
        np.isfinite(method.pressure(craft, span_pressure_rows([case]))).any() for case in resolved.spans
    )


def _reads_nothing(demand: Demand, method: Method) -> Problem:
    where = f"what must hold, '{demand.id or 'every rule finding'}'"
    if demand.holds is Holds.HEIGHT:
        return Problem(
            "It asks for the height of sections, but no span is of one of them.",
            where,
            "Name a section that is there.",
        )
    if demand.holds is Holds.DEFLECTION:
        what = f"It asks for a deflection, but {method.name} states no pressure on any span it names."
        return Problem(what, where, "Take a method that does, or leave it out.")
    said = demand.aspect or "anything"
    what = f"It asks for a utilisation, but {method.name} does not judge {said} of what it names."
    return Problem(what, where, "Name what is judged, or take another method.")


def _notes(
    subjects: Mapping[str, Panel | Span],
    resolved: Resolved,
    lacking: Sequence[tuple[str, Aspect]],
    method: Method,
) -> Iterator[str]:
    if resolved.blocked:
        names = ", ".join(subjects[one].name for one in resolved.blocked if one in subjects)
        yield f"Left out, because the boat as she is has something wrong there: {names}."
    counted = Counter((type(subjects[subject]), aspect) for subject, aspect in lacking)
    several = {Panel: ("panel", "panels"), Span: ("span", "spans")}
    said = [f"{aspect} of {count} {several[kind][count > 1]}" for (kind, aspect), count in counted.items()]
    if said:
        yield (
            f"Left out, because {method.name} does not judge it of the boat as she is: {', '.join(said)}. "
            "The mechanics judge some of it; a search does not ask them."
        )


__all__ = ["Asked", "asked_of", "demands_of"]
