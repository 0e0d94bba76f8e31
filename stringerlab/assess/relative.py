"""Findings beside those of a parent boat that has held up in service: same method, aspect and kind of part.

A subject is held against the one its likeness names, else against the nearest of its kind along the
waterline. Such a reading calibrates; it is no rule compliance.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from stringerlab.assess.check import Results
from stringerlab.errors import Problem
from stringerlab.laminate import is_sandwich
from stringerlab.layout import Panel, Span
from stringerlab.methods import Finding, FindingKey, Verdict, utilisation_text
from stringerlab.project import Parent, Project, Resolved
from stringerlab.project.finding import layout_in_use

NO_COMPLIANCE = (
    "A reading relative to a parent boat is no rule compliance: it says how hard the same method "
    "finds a part worked beside one that has held, not that either meets a rule."
)
_SAME = 5e-3
_AS_NEAR = 0.01
"""Part of the waterline within which two places are as near."""


class Chosen(StrEnum):
    """How the parent's subject was found."""

    LIKENESS = "named as its counterpart"
    NEAREST = "nearest of its kind"


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One finding beside the parent's; ``words`` say the ratio, or why there is none."""

    finding: Finding
    counterpart: Finding | None
    """The parent's finding of the same aspect."""
    chosen: Chosen | None
    apart: float | None
    """How far apart they lie along the waterline, as part of its length."""
    ratio: float | None
    """Utilisation over the parent's."""
    reason: str
    """Why there is no ratio, in a few words; empty when there is one."""
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Relative:
    """A project's findings beside a parent boat's, in the order of the project's."""

    parent: Parent
    boat: str
    """Name of the parent's project."""
    besides: tuple[Beside, ...]
    problems: tuple[Problem, ...]
    """What keeps findings from being held against the parent's; the project's own stay as they are."""
    remarks: tuple[str, ...]

    def of(self, finding: Finding) -> Beside | None:
        """Return what stands beside a finding of the project."""
        return next((one for one in self.besides if one.finding.key == finding.key), None)

    def by_finding(self) -> Mapping[FindingKey, Beside]:
        """Return all by subject, kind and aspect."""
        return {one.finding.key: one for one in self.besides}


def relative(results: Results, parent_results: Results, parent: Parent) -> Relative:
    """Return a project's findings beside those of a parent boat.

    Parameters
    ----------
    results
        Of the project.
    parent_results
        Of the parent boat, by the same method.
    parent
        What the project says of it: its service, and likenesses.
    """
    same_method = results.method.id == parent_results.method.id
    problems = [*_of_method(results, parent_results), *_own_problems(parent_results)]
    likenesses, wrong = _likenesses(results, parent_results, parent)
    problems += wrong
    finder = _Finder(results, parent_results, likenesses, {each.own for each in parent.likenesses})
    besides = [_beside(finding, finder, parent) for finding in results.findings if same_method]
    own = parent_results.project.method
    judged = results.method
    return Relative(
        parent=parent,
        boat=parent_results.project.name,
        besides=tuple(besides),
        problems=tuple(dict.fromkeys(problems)),
        remarks=(
            NO_COMPLIANCE,
            *(
                [f"The parent boat's own method is '{own}'; both boats are judged by {judged.name} here."]
                if same_method and own != judged.id
                else []
            ),
        ),
    )


def unknown_likenesses(project: Project) -> tuple[Problem, ...]:
    """Return the likenesses that name no panel or span of the project's own, whatever the parent holds."""
    layout = layout_in_use(project)
    marks = (*layout.bays, *layout.spans) if layout else ()
    own = [each.id for each in (*project.panels, *project.spans, *marks)]
    likenesses = project.parent.likenesses if project.parent else ()
    return tuple(
        _unknown("This boat has", likeness.own, own, number)
        for number, likeness in enumerate(likenesses, start=1)
        if likeness.own not in own
    )


def kind_of(subject: Panel | Span, resolved: Resolved) -> str:
    """Return what a subject is, as far as it may stand beside another: ``bottom panel, single skin``."""
    if isinstance(subject, Span):
        return f"{subject.surface.value} span"
    stack = next((case.stack for case in resolved.panels if case.panel.id == subject.id), None)
    skin = "" if stack is None else f", {'sandwich' if is_sandwich(stack) else 'single skin'}"
    return f"{subject.surface.value} panel{skin}"


def place_along(subject: Panel | Span, project: Project) -> float:
    """Return x from the waterline's aft end, as part of its length."""
    craft = project.craft
    return (subject.x - craft.waterline_aft) / craft.waterline_length


class _Finder:
    """Finds the parent's subject and finding for one of the project's."""

    def __init__(
        self, results: Results, parent: Results, likenesses: Mapping[str, str], named: set[str]
    ) -> None:
        self.results, self.parent, self.likenesses, self.named = results, parent, likenesses, named
        self.own = _subjects(results)
        self.theirs = _subjects(parent)
        self.kinds = {id: kind_of(each, parent.resolved) for id, each in self.theirs.items()}  # noqa: A001
        self.findings: dict[FindingKey, Finding] = {}
        for finding in parent.findings:
            held = self.findings.get(finding.key)
            if held is None or (finding.utilisation or 0.0) > (held.utilisation or 0.0):
                self.findings[finding.key] = finding
        self._found: dict[str, tuple[Panel | Span | None, Chosen | None, str]] = {}

    def subject(self, id: str) -> tuple[Panel | Span | None, Chosen | None, str]:  # noqa: A002
        """Return the parent's subject, how it was found, and otherwise why there is none."""
        if id not in self._found:
            self._found[id] = self._look(id)
        return self._found[id]

    def apart(self, id: str, other: Panel | Span) -> float:  # noqa: A002
        """Return how far apart two subjects lie, as part of the waterline."""
        return abs(place_along(self.own[id], self.results.project) - place_along(other, self.parent.project))

    def _look(self, id: str) -> tuple[Panel | Span | None, Chosen | None, str]:  # noqa: A002
        if id in self.likenesses:
            return self.theirs[self.likenesses[id]], Chosen.LIKENESS, ""
        if id in self.named:
            return None, None, "its likeness names what is not there"
        kind = kind_of(self.own[id], self.results.resolved)
        alike = [self.theirs[other] for other, of in self.kinds.items() if of == kind]
        if not alike:
            return None, None, f"the parent has no {kind}"
        own = self.own[id]

        def rank(other: Panel | Span) -> tuple[int, bool, float]:
            # what lies as near along counts by its name, then by how far from the centreline
            across = abs(own.y - other.y) if own.y is not None and other.y is not None else 0.0
            return round(self.apart(id, other) / _AS_NEAR), own.name != other.name, across

        return min(alike, key=rank), Chosen.NEAREST, ""


def _beside(finding: Finding, finder: _Finder, parent: Parent) -> Beside:
    subject, chosen, none = finder.subject(finding.subject)
    counterpart = None if subject is None else finder.findings.get((subject.id, finding.kind, finding.aspect))
    ratio = None
    if counterpart is not None and counterpart.utilisation and finding.utilisation is not None:
        ratio = finding.utilisation / counterpart.utilisation
    apart = None if subject is None else finder.apart(finding.subject, subject)
    reason = none or ("" if ratio is not None else _reason(finding, counterpart))
    whom = "" if subject is None or apart is None or chosen is None else _whom(subject, chosen, apart)
    return Beside(
        finding=finding,
        counterpart=counterpart,
        chosen=chosen,
        apart=apart,
        ratio=ratio,
        reason=reason,
        words=_words(ratio, counterpart, whom, reason, parent),
    )


def _reason(finding: Finding, counterpart: Finding | None) -> str:
    if counterpart is None:
        return f"the parent's has no finding of {finding.aspect.value}"
    if finding.verdict is Verdict.ADVICE:
        return "it is only advice"
    if counterpart.utilisation is None:
        return "neither is judged" if finding.utilisation is None else "the parent's is not judged"
    return "not judged here" if finding.utilisation is None else "the parent's uses nothing"


def _words(ratio: float | None, counterpart: Finding | None, whom: str, reason: str, parent: Parent) -> str:
    if ratio is None or counterpart is None:
        return f"Not held against {whom or 'the parent boat'}: {reason}."
    service = parent.service.strip().rstrip(".")
    told = f"Its service: {service}." if service else "Nothing is told of its service."
    of = "As much as" if abs(ratio - 1) < _SAME else f"{ratio:.2f} of"
    return f"{of} {whom}, which uses {utilisation_text(counterpart.utilisation)}. {told}"


def _whom(subject: Panel | Span, chosen: Chosen, apart: float) -> str:
    how = chosen.value if chosen is Chosen.LIKENESS else f"{chosen.value}, {_apart(apart)}"
    return f"the parent's '{subject.name}' ({how})"


def _apart(apart: float) -> str:
    return "at the same place" if apart < _SAME else f"{apart:.2f} of the waterline apart"


def _of_method(results: Results, parent: Results) -> Iterator[Problem]:
    if results.method.id != parent.method.id:
        yield Problem(
            f"The parent boat is judged by {parent.method.name}, this one by {results.method.name}.",
            f"parent boat '{parent.project.name}'",
            "Judge both by the same method.",
        )


def _own_problems(parent: Results) -> Iterator[Problem]:
    for problem in parent.problems:
        yield Problem(problem.what, f"parent boat '{parent.project.name}', {problem.where}", problem.remedy)


def _likenesses(
    results: Results, parent_results: Results, parent: Parent
) -> tuple[Mapping[str, str], list[Problem]]:
    """Return sound likenesses, own id to the parent's, and what is wrong with the others."""
    own, theirs = _subjects(results), _subjects(parent_results)
    sound: dict[str, str] = {}
    wrong: list[Problem] = []
    for number, likeness in enumerate(parent.likenesses, start=1):
        where = f"parent, likeness {number}"
        missing = [
            _unknown(whose, id, found, number)
            for whose, id, found in (  # noqa: A001
                ("This boat has", likeness.own, own),
                (f"The parent boat '{parent_results.project.name}' has", likeness.parent, theirs),
            )
            if id not in found
        ]
        wrong += missing
        if missing:
            continue
        kinds = (
            kind_of(own[likeness.own], results.resolved),
            kind_of(theirs[likeness.parent], parent_results.resolved),
        )
        if kinds[0] != kinds[1] and not _blocked(likeness.own, likeness.parent, results, parent_results):
            what = f"'{own[likeness.own].name}' is a {kinds[0]}, the parent's "
            what += f"'{theirs[likeness.parent].name}' a {kinds[1]}."
            wrong.append(Problem(what, where, "Name one of the same kind."))
        elif likeness.own in sound:
            what = f"'{own[likeness.own].name}' has more than one likeness; the first counts."
            wrong.append(Problem(what, where, "Keep one."))
        else:
            sound[likeness.own] = likeness.parent
    return sound, wrong


def _unknown(whose: str, id: str, found: Collection[str], number: int) -> Problem:  # noqa: A002
    listed = ", ".join(found) or "none"
    return Problem(
        f"{whose} no panel and no span '{id}'.", f"parent, likeness {number}", f"There is {listed}."
    )


def _blocked(own: str, other: str, results: Results, parent: Results) -> bool:
    return own in results.resolved.blocked or other in parent.resolved.blocked


def _subjects(results: Results) -> dict[str, Panel | Span]:
    return {subject.id: subject for subject in results.resolved.subjects}
