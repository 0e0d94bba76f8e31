"""What every part of a calculation report reads: the results, units, and words for what they name."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import isnan, radians

from stringerlab.assess import Results
from stringerlab.layout import Panel, Span
from stringerlab.methods import Finding, FindingKind, Verdict, utilisation_text
from stringerlab.project import Project
from stringerlab.units import Kind, System, format

NONE = "—"
PLAN_SCALES = (10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 150, 200, 500)
"""Scales of a plan: one to so many."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Told:
    """A check's results as they are told on paper, in the project's units."""

    results: Results

    @property
    def project(self) -> Project:
        """The document."""
        return self.results.project

    @property
    def system(self) -> System:
        """Units on paper."""
        return self.results.project.units

    def show(self, value: float | None, kind: Kind, digits: int = 4) -> str:
        """Return a quantity in the program's unit as text, a dash where there is none."""
        if value is None or isnan(value):
            return NONE
        return format(value, kind, self.system, digits=digits)

    def length(self, value: float | None) -> str:
        """Return a length or place [mm] as text."""
        return self.show(value, Kind.LENGTH)

    def degrees(self, value: float | None) -> str:
        """Return an angle typed in degrees as text."""
        return NONE if value is None else self.show(radians(value), Kind.ANGLE)

    def demand(self, finding: Finding) -> str:
        """Return what is asked, in the project's units."""
        return self.show(finding.demand, finding.unit.kind)

    def capacity(self, finding: Finding) -> str:
        """Return what is there, in the project's units."""
        return self.show(finding.capacity, finding.unit.kind)

    @cached_property
    def ranked(self) -> tuple[Finding, ...]:
        """What is judged, the most used first; of equals the earlier in the project."""
        judged = [each for each in self.results.findings if is_judged(each)]
        return tuple(sorted(judged, key=lambda each: -(each.utilisation or 0.0)))

    @cached_property
    def governing(self) -> tuple[Finding, ...]:
        """The most used finding of every kind and aspect, kinds and aspects in the order they are ranked."""
        first: dict[tuple[FindingKind, str], Finding] = {}
        for each in self.ranked:
            first.setdefault((each.kind, each.aspect.value), each)
        return tuple(first.values())

    @cached_property
    def subjects(self) -> dict[str, Panel | Span]:
        """Everything to be judged, by id."""
        return {each.id: each for each in self.results.resolved.subjects}

    @cached_property
    def section_names(self) -> dict[str, str]:
        """Names of sections by id."""
        return {each.id: each.name for each in self.project.sections}


def is_judged(finding: Finding) -> bool:
    """Whether a finding has a utilisation that counts."""
    return finding.utilisation is not None and finding.verdict is not Verdict.ADVICE


def named(name: str, id_: str) -> str:
    """Return a thing as it is called on paper: name and id."""
    return f"{name} ({id_})" if name and name != id_ else id_


def title_of(finding: Finding) -> str:
    """Return which finding it is in a line."""
    return f"{named(finding.name, finding.subject)}: {finding.aspect.value}, {finding.kind.value}"


def use(finding: Finding) -> str:
    """Return a finding's utilisation as text."""
    return utilisation_text(finding.utilisation)


def listed(words: Sequence[str]) -> str:
    """Return words in a row, the last after "and"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
