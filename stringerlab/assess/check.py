"""Judge every panel and span by one method, then by the mechanics under its pressure, then in the grid.

Section properties are cached by value (section, plating, moduli), so that only what changed is computed
again. Subjects with problems are *not judged* and say why.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stringerlab.assess.judging import blocked_finding, judged_panels, judged_spans
from stringerlab.assess.mechanics import (
    TOPICS,
    Topic,
    mechanics_of_panels,
    mechanics_of_spans,
    with_mechanics,
)
from stringerlab.errors import Problem
from stringerlab.methods import Finding, Method, Verdict, craft_row, method_named
from stringerlab.project import Project, Resolved, resolve

if TYPE_CHECKING:
    from stringerlab.assess.grid import GridResults

Watch = Callable[[float, str], None]
"""Told the fraction done and what is being done; may raise ``Cancelled``."""


class Cancelled(Exception):  # noqa: N818
    """Raised by a watch to stop a run; no results come of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """Everything a check found, complete or not at all."""

    project: Project
    resolved: Resolved
    method: Method
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    """What is wrong with the project; its subjects are not judged. And what the grid is analysed without."""
    repairs: tuple[Problem, ...]
    """What was put right in a drawing, such as an overlap, and counted so."""
    doubts: tuple[Problem, ...] = ()
    """What is asked about, and counted as it stands."""
    grid: "GridResults | None" = None
    """The grid of the layout in use; None where none is in use, or it was not asked for."""


def check(
    project: Project,
    method: Method | str | None = None,
    watch: Watch | None = None,
    *,
    resolved: Resolved | None = None,
    topics: Sequence[Topic] = TOPICS,
) -> Results:
    """Judge a project's panels and spans.

    Parameters
    ----------
    project
        The document.
    method
        A method or its id; the project's own by default.
    watch
        Told of progress, and asked by it to stop.
    resolved
        The project with ids swapped for objects, where it is at hand.
    topics
        Of the mechanics, what is judged under the method's pressure; none at all: the method alone. With
        those that take solvers the layout in use is analysed as a grid too.

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
    resolved = resolved or resolve(project)
    found: dict[str, list[Finding]] = {}
    grid: GridResults | None = None
    if resolved.panels or resolved.spans:
        craft = craft_row(project.craft)
        tell(0.2, "Judging panels")
        judged = list(judged_panels(chosen, craft, resolved.panels))
        tell(0.3, "Judging spans")
        judged += judged_spans(chosen, craft, resolved.spans)
        if topics:
            under_it = mechanics_of_panels(
                chosen,
                craft,
                resolved.panels,
                topics,
                lambda done, what: tell(0.4 + 0.2 * done, f"Mechanics: {what}"),
            )
            under_it += mechanics_of_spans(
                chosen,
                craft,
                resolved.spans,
                topics,
                lambda done, what: tell(0.6 + 0.2 * done, f"Mechanics: {what}"),
            )
            judged = [*with_mechanics(judged, under_it)]
        if any(topic.solver for topic in topics):
            grid, under_grid = _grid(
                project, resolved, chosen, lambda done, what: tell(0.8 + 0.2 * done, f"Grid: {what}")
            )
            judged += under_grid
        for finding in judged:
            found.setdefault(finding.subject, []).append(finding)
    subjects = resolved.subjects
    for subject in subjects:
        if subject.id in resolved.blocked:
            found[subject.id] = [blocked_finding(chosen, subject, resolved.blocked[subject.id])]
    tell(1.0, "Done")
    return Results(
        project=project,
        resolved=resolved,
        method=chosen,
        findings=tuple(
            finding for subject in subjects for finding in sorted(found.get(subject.id, []), key=_advice)
        ),
        problems=(
            *resolved.problems,
            *(() if grid is None else dict.fromkeys(placed.problem for placed in grid.problems)),
        ),
        repairs=resolved.repairs,
        doubts=resolved.doubts,
        grid=grid,
    )


def _grid(
    project: Project, resolved: Resolved, method: Method, tell: Watch
) -> "tuple[GridResults | None, tuple[Finding, ...]]":
    """Return the grid of the layout in use and its findings; None where none is in use, or nothing is found.

    What solves it is read in only then.
    """
    if not project.layout or resolved.found is None:
        return None, ()
    from stringerlab.assess.grid import analysed, ground_of
    from stringerlab.assess.grid.bounds import with_uncut_said
    from stringerlab.assess.grid.judged import grid_findings
    from stringerlab.assess.grid.stepping import with_step_said

    ground = ground_of(project, resolved)
    if ground is None or not ground.spans:
        return None, ()
    found = analysed(ground, method, _part(tell, 0.0, 0.3))
    found = with_step_said(found, method, _part(tell, 0.3, 0.3, ", half the step"))
    found = with_uncut_said(found, method, _part(tell, 0.6, 0.1, ", crowns through"))
    return found, grid_findings(found, method, _part(tell, 0.7, 0.3))


def _part(tell: Watch, first: float, part: float, what: str = "") -> Watch:
    """Return a watch on a part of the work."""
    return lambda done, said: tell(first + part * done, f"{said}{what}")


def _advice(finding: Finding) -> bool:
    """Whether a finding is only advice: said below what is judged."""
    return finding.verdict is Verdict.ADVICE


def _unwatched(fraction: float, what: str) -> None:
    del fraction, what
