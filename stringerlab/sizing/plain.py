"""One boat as she is, judged the plain way: resolved, checked and taken off as everywhere else. kg, h.

What every faster way must agree with. No search, no batch of designs: one project in, its numbers out.
"""

from collections.abc import Collection, Iterable, Mapping, MutableMapping, Sequence
from dataclasses import dataclass

from stringerlab.assess.check import check
from stringerlab.assess.judging import blocked_finding, judged_panels, judged_spans
from stringerlab.assess.mechanics import mechanics_of_panels, mechanics_of_spans, with_mechanics
from stringerlab.errors import Problem
from stringerlab.methods import (
    Finding,
    FindingKey,
    FindingKind,
    Method,
    Verdict,
    craft_row,
    method_named,
    utilisation_text,
)
from stringerlab.methods.mechanics.topics import Topic
from stringerlab.project import Project, Resolved, resolve
from stringerlab.sizing.amounts import amounts_of
from stringerlab.sizing.kept import Kept, key_of
from stringerlab.sizing.records import Watch

AS_DESIGNED = "Judged as designed: nothing that was measured of her as built is taken."
"""Of a boat that was measured."""
REASONS = 3
"""Said of a boat that cannot be judged."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Measured:
    """What one boat comes to."""

    findings: Mapping[FindingKey, Finding]
    """Everything asked for, judged or not."""
    use: float
    """Highest utilisation of all rule findings that are judged; nan where none is."""
    worst: Finding | None
    """The rule finding that has it: the first where several do."""
    mass: float
    """Of members and of the plating of the panels judged [kg]; nan where it is not known."""
    cost: float
    """In the project's own currency; nan where nothing is priced."""
    hours: float
    """nan where no rate is set."""
    problems: tuple[Problem, ...]
    """What is wrong with the project, in meaning."""
    blocked: tuple[Problem, ...]
    """Why panels and spans cannot be judged, each reason once; none where all can."""
    resolved: Resolved

    @property
    def sound(self) -> bool:
        """Whether every panel and span there is can be judged."""
        return not self.blocked

    def highest(
        self,
        *kinds: FindingKind,
        subject: str = "",
        aspect: str = "",
        without: Collection[FindingKey] = (),
    ) -> Finding | None:
        """Return the highest used finding; None where none is judged.

        Parameters
        ----------
        kinds
            Of findings; none at all: every kind that was asked for.
        subject, aspect
            Id of a panel or span, and what is judged of it; empty: any.
        without
            Findings that are passed over.
        """
        return highest(
            one
            for one in self.findings.values()
            if (not kinds or one.kind in kinds)
            and subject in {"", one.subject}
            and aspect in {"", one.aspect}
            and one.key not in without
        )


Cache = MutableMapping[object, Measured]
"""Boats measured before, by value."""


def measured(
    project: Project,
    *,
    method: Method | str | None = None,
    topics: Sequence[Topic] = (),
    grid: bool | None = None,
    cache: Cache | None = None,
    kept: Kept | None = None,
    watch: Watch | None = None,
) -> Measured:
    """Return what a boat comes to by the plain path: resolve, check, take-off.

    Parameters
    ----------
    project
        The boat.
    method
        A method or its id; the project's own by default.
    topics
        Of the mechanics, what is judged too; none: the method alone.
    grid
        Whether the layout in use is analysed as a grid; as a check does it with these topics when None.
    cache
        Boats measured before: an equal one, asked for the same, is not measured again.
    kept
        Findings of panels and spans judged before: equal ones are not judged again. They have no workings.
    watch
        Told of progress, and asked by it to stop.

    Raises
    ------
    StringerlabError
        When there is no such method.
    Cancelled
        When the watch raises it.
    """
    chosen = method if isinstance(method, Method) else method_named(method or project.method)
    whole = any(topic.solver for topic in topics) if grid is None else grid
    tell = watch or _unwatched
    if cache is None:
        return _measured(project, chosen, topics, whole, kept, tell)
    key = (project, key_of(chosen), tuple(topic.name for topic in topics), whole)
    held = cache.get(key)
    if held is None:
        held = cache[key] = _measured(project, chosen, topics, whole, kept, tell)
    return held


def faults_beside(found: Measured, known: Collection[str]) -> str:
    """Return why a boat cannot be judged, as one line; empty where it can.

    Parameters
    ----------
    found
        The boat.
    known
        Ids of panels and spans that could not be judged before: they are passed over.
    """
    return joined_reasons(
        str(problem)
        for subject, reasons in found.resolved.blocked.items()
        if subject not in known
        for problem in reasons
    )


def joined_reasons(said: Iterable[str]) -> str:
    """Return a few reasons as one line, each once, and how many more there are."""
    each = [*dict.fromkeys(said)]
    more = f" … and {len(each) - REASONS} more." if len(each) > REASONS else ""
    return " ".join(each[:REASONS]) + more


def highest(findings: Iterable[Finding]) -> Finding | None:
    """Return the highest used of some findings, the first where several are; None where none is judged."""
    best: Finding | None = None
    for one in findings:
        if one.utilisation is not None and (best is None or one.utilisation > (best.utilisation or 0.0)):
            best = one
    return best


def words(finding: Finding) -> str:
    """Return what a finding is of, in words: ``section modulus of Keel span 2``."""
    return f"{finding.aspect} of {finding.name}"


def governing_words(finding: Finding | None) -> str:
    """Return which finding is highest used and how far, in words; empty without one."""
    if finding is None or finding.utilisation is None:
        return ""
    return f"{words(finding)}, {utilisation_text(finding.utilisation)}"


def _measured(
    project: Project, method: Method, topics: Sequence[Topic], grid: bool, kept: Kept | None, tell: Watch
) -> Measured:
    resolved = resolve(project)
    found = _findings(project, resolved, method, topics, grid, kept, tell)
    amounts = amounts_of(project, resolved)
    worst = highest(one for one in found if one.kind is FindingKind.RULE)
    return Measured(
        findings={one.key: one for one in found},
        use=float("nan") if worst is None or worst.utilisation is None else worst.utilisation,
        worst=worst,
        mass=amounts.mass,
        cost=amounts.cost,
        hours=amounts.hours,
        problems=resolved.problems,
        blocked=tuple(dict.fromkeys(one for reasons in resolved.blocked.values() for one in reasons)),
        resolved=resolved,
    )


def _findings(
    project: Project,
    resolved: Resolved,
    method: Method,
    topics: Sequence[Topic],
    grid: bool,
    kept: Kept | None,
    tell: Watch,
) -> tuple[Finding, ...]:
    """Return a check's findings, but for its notes on how fine the grid's patches are."""
    if kept is None:
        found = check(project, method, resolved=resolved, topics=(), watch=_part(tell, 0.0, 0.1)).findings
    else:
        found = _checked(project, resolved, method, kept)
    tell(0.1, "Mechanics")
    if not resolved.panels and not resolved.spans:
        return found
    if topics:
        found = with_mechanics(found, _mechanics(project, resolved, method, topics, kept or Kept(), tell))
    if grid and project.layout and resolved.found is not None:
        found = (*found, *_grid(project, resolved, method, tell))
    return found


def _checked(project: Project, resolved: Resolved, method: Method, kept: Kept) -> tuple[Finding, ...]:
    """Return what a check by the method alone returns, in its order, judging what is not at hand."""
    craft, under = craft_row(project.craft), (project.craft, key_of(method))
    found: dict[str, list[Finding]] = {}
    for one in (
        *kept.findings(under, resolved.panels, lambda some: judged_panels(method, craft, some)),
        *kept.findings(under, resolved.spans, lambda some: judged_spans(method, craft, some)),
    ):
        found.setdefault(one.subject, []).append(one)
    for subject in resolved.subjects:
        if subject.id in resolved.blocked:
            found[subject.id] = [blocked_finding(method, subject, resolved.blocked[subject.id])]
    return tuple(
        one
        for subject in resolved.subjects
        for one in sorted(found.get(subject.id, []), key=lambda each: each.verdict is Verdict.ADVICE)
    )


def _mechanics(
    project: Project, resolved: Resolved, method: Method, topics: Sequence[Topic], kept: Kept, tell: Watch
) -> tuple[Finding, ...]:
    """Return what the mechanics find of panels, then of spans, one after another."""
    craft = craft_row(project.craft)
    under = (project.craft, key_of(method), tuple(topic.name for topic in topics))
    panels, spans = _part(tell, 0.1, 0.2), _part(tell, 0.3, 0.2)
    return (
        *kept.findings(
            under, resolved.panels, lambda some: mechanics_of_panels(method, craft, some, topics, panels)
        ),
        *kept.findings(
            under, resolved.spans, lambda some: mechanics_of_spans(method, craft, some, topics, spans)
        ),
    )


def _grid(project: Project, resolved: Resolved, method: Method, tell: Watch) -> tuple[Finding, ...]:
    from stringerlab.assess.grid import analysed, ground_of
    from stringerlab.assess.grid.bounds import with_uncut_said
    from stringerlab.assess.grid.judged import grid_findings

    ground = ground_of(project, resolved)
    if ground is None or not ground.spans:
        return ()
    solved = analysed(ground, method, _part(tell, 0.5, 0.2))
    solved = with_uncut_said(solved, method, _part(tell, 0.7, 0.1))
    return grid_findings(solved, method, _part(tell, 0.8, 0.2))


def _part(tell: Watch, first: float, part: float) -> Watch:
    """Return a watch on a part of the work."""
    return lambda done, what: tell(first + part * done, what)


def _unwatched(done: float, what: str) -> None:
    del done, what
