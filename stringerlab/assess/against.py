"""Method against method: every panel and span of a project judged by several methods, side by side.

The methods' own findings only: the mechanics are the same for all but for the pressure and the plating.
The project is resolved once, and sections are computed once for all methods that count the same plating.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from stringerlab.assess.check import Results, Watch, check
from stringerlab.assess.differences import Difference, difference
from stringerlab.assess.sections import section_facts
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Aspect, Finding, Method, available, method_named, plating_rows
from stringerlab.project import Project, Resolved, resolve


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One aspect of one subject by each method, None where a method has no such aspect."""

    subject: str
    name: str
    aspect: Aspect
    findings: tuple[Finding | None, ...]


@dataclass(frozen=True, kw_only=True)
class Against:
    """A project by several methods; the first is the base, the project's own where it is among them."""

    project: Project
    results: tuple[Results, ...]
    """By each method."""
    lines: tuple[Line, ...]
    """Subjects in the order of the project, aspects in the order of the base method, then the others'."""
    widths: tuple[Mapping[str, float], ...]
    """By each method: the width of plating [mm] that counts under a span, by its id."""

    @property
    def methods(self) -> tuple[Method, ...]:
        """The methods, the base first."""
        return tuple(each.method for each in self.results)

    @property
    def subjects(self) -> tuple[str, ...]:
        """Ids of the panels and spans that have a finding, in the order of the project."""
        return tuple(self._by_subject)

    def of(self, subject: str) -> tuple[Line, ...]:
        """Return the lines of a subject, by its id."""
        return self._by_subject.get(subject, ())

    def governing(self, subject: str) -> tuple[Finding | None, ...]:
        """Return the most used finding of a subject by each method, None where it judges none."""
        lines = self.of(subject)
        return tuple(_most_used([line.findings[i] for line in lines]) for i in range(len(self.results)))

    def worst_subjects(self) -> tuple[str, ...]:
        """Return the subject that each method finds most used, by id, each once, in the methods' order."""
        worst = [
            max(
                (found for subject in self.subjects if (found := self.governing(subject)[i]) is not None),
                key=lambda finding: finding.utilisation or 0.0,
                default=None,
            )
            for i in range(len(self.results))
        ]
        return tuple(dict.fromkeys(finding.subject for finding in worst if finding is not None))

    def difference(self, subject: str, aspect: Aspect, other: int = 1) -> Difference:
        """Return how a method differs from the base in one aspect of a subject.

        Parameters
        ----------
        subject
            Id of a panel or span.
        aspect
            One of its aspects.
        other
            The method's place among ``methods``.

        Raises
        ------
        StringerlabError
            When no method has a finding of it.
        """
        line = next((line for line in self.of(subject) if line.aspect is aspect), None)
        if line is None:
            raise StringerlabError(Problem(f"No method says anything of the {aspect.value} of '{subject}'."))
        base, theirs = self.methods[0], self.methods[other]
        return difference(base, line.findings[0], theirs, line.findings[other])

    @cached_property
    def _by_subject(self) -> Mapping[str, tuple[Line, ...]]:
        found: dict[str, list[Line]] = {}
        for line in self.lines:
            found.setdefault(line.subject, []).append(line)
        return {subject: tuple(lines) for subject, lines in found.items()}


def against(project: Project, methods: Sequence[Method | str] = (), watch: Watch | None = None) -> Against:
    """Judge a project by several methods.

    Parameters
    ----------
    project
        The document.
    methods
        Methods or their ids; all there are by default. The project's own goes first when it is one of them.
    watch
        Told of progress, and asked by it to stop.

    Raises
    ------
    StringerlabError
        When there is no such method: every unknown one is said.
    Cancelled
        When the watch raises it.
    """
    chosen = _chosen(methods or available(), project.method)
    resolved = resolve(project)
    results: list[Results] = []
    for i, method in enumerate(chosen):

        def tell(fraction: float, what: str, i: int = i, method: Method = method) -> None:
            if watch is not None:
                watch((i + fraction) / len(chosen), f"{method.name}: {what.lower()}")

        results.append(check(project, method, tell, resolved=resolved, topics=()))
    return Against(
        project=project,
        results=tuple(results),
        lines=_lines(results),
        widths=tuple(_widths(method, resolved) for method in chosen),
    )


def _chosen(wanted: Sequence[Method | str], own: str) -> tuple[Method, ...]:
    found: dict[str, Method] = {}
    wrong: list[Problem] = []
    for each in wanted:
        try:
            method = each if isinstance(each, Method) else method_named(each)
        except StringerlabError as error:
            wrong += error.problems
            continue
        found.setdefault(method.id, method)
    if wrong:
        raise StringerlabError(wrong)
    return tuple(sorted(found.values(), key=lambda method: method.id != own))


def _lines(results: Sequence[Results]) -> tuple[Line, ...]:
    order = {subject.id: i for i, subject in enumerate(results[0].resolved.subjects)}
    found: dict[tuple[str, Aspect], list[list[Finding]]] = {}
    for i, one in enumerate(results):
        for finding in one.findings:
            by_method = found.setdefault((finding.subject, finding.aspect), [[] for _ in results])
            by_method[i].append(finding)
    lines = [
        Line(
            subject=subject,
            name=next(each[0].name for each in by_method if each),
            aspect=aspect,
            findings=tuple((_most_used(each) or each[0]) if each else None for each in by_method),
        )
        for (subject, aspect), by_method in found.items()
    ]
    return tuple(sorted(lines, key=lambda line: order[line.subject]))


def _most_used(findings: Sequence[Finding | None]) -> Finding | None:
    judged = [finding for finding in findings if finding is not None and finding.utilisation is not None]
    return max(judged, key=lambda finding: finding.utilisation or 0.0, default=None)


def _widths(method: Method, resolved: Resolved) -> Mapping[str, float]:
    cases = resolved.spans
    if not cases:
        return {}
    known = [section_facts(case.section, case.drawn_deadrise) for case in cases]
    widths = method.plating(plating_rows(cases, known))
    return {case.span.id: float(width) for case, width in zip(cases, widths, strict=True)}
