"""What would help most: one step in each number of a boat, and what it does to what is short or tight.

Every step is the whole boat judged the plain way, each alone, but that panels and spans it does not touch are
not judged again; two steps together need not do what both do alone. kg.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.mechanics import TOPICS
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Finding, FindingKey, FindingKind, Verdict, verdict_of
from stringerlab.project import Project
from stringerlab.sizing.changing.mat_between import taken
from stringerlab.sizing.changing.variables import all_steps, variable_of
from stringerlab.sizing.kept import Kept
from stringerlab.sizing.plain import AS_DESIGNED, Measured, faults_beside, measured
from stringerlab.sizing.records import Helped, Sensitivity, Watch
from stringerlab.sizing.running import Pack, Running, digest_of, pulse, run
from stringerlab.sizing.studying.help_words import After, Stepped, helped, name_of, nothing_tight, stepped
from stringerlab.workings import Array

_AT_ONCE, _AT_ONCE_IN_GRID = 4, 2
"""Steps of a task: about a second of work on a large boat."""
_kept = Kept()
"""Findings that this process has at hand: a step touches few of them."""
_FEW = 3
"""Steps named before the rest is counted."""
_PRESENT = 0.1
"""Part of the work that judging the boat as she is takes, as it is told."""


def sensitivity(
    project: Project, *, running: Running | None = None, watch: Watch | None = None, mechanics: bool = True
) -> Sensitivity:
    """Return what one step in each number does to every finding that is short or tight.

    Where nothing is, the highest used finding is followed, and a note says so.

    Parameters
    ----------
    project
        The boat.
    running
        How it is run; its numbers are the same however that is.
    watch
        Told of progress, and asked by it to stop.
    mechanics
        Whether the mechanics are judged too, and the grid where a layout is in use; otherwise the method
        alone.

    Raises
    ------
    StringerlabError
        When there is no such method, or the run cannot be run.
    Cancelled
        When the watch raises it.
    """
    tell = watch or _unwatched
    topics = TOPICS if mechanics else ()
    present = measured(project, topics=topics, watch=lambda done, what: tell(_PRESENT * done, what))
    followed = _followed(present.findings.values())
    if not followed:
        return Sensitivity(
            helped=(), tried=0, problems=present.blocked, notes=("Nothing is judged, so nothing can help.",)
        )
    grid = any(one.kind is FindingKind.GRID for one in followed)
    steps, bare, problems = _steps(project, lambda: tell(_PRESENT, "Setting out steps"))
    ran = run(
        worked,
        [*_tasks([one.boat for one in steps], present, followed, mechanics, grid)],
        running or Running(),
        lambda done, what: tell(_PRESENT + (1 - _PRESENT) * done, what),
        digest=digest_of(project, mechanics, "sensitivity"),
        what="Trying steps",
    )
    came_to = [one for pack in ran.packs for one in _came_to(pack)]
    unbuilt = [Problem(one.why, step.name) for step, one in zip(steps, came_to, strict=True) if one.why]
    return Sensitivity(
        helped=tuple(_each(project, present, followed, steps, came_to)),
        tried=len(steps),
        problems=(*problems, *unbuilt),
        notes=(*_notes(project, followed, steps, bare, mechanics, grid), *ran.notes),
    )


def _each(
    project: Project,
    present: Measured,
    followed: Sequence[Finding],
    steps: Sequence[Stepped],
    came_to: "Sequence[CameTo]",
) -> Iterator[Helped]:
    for number, finding in enumerate(followed):
        yield helped(
            finding,
            [
                After(
                    step=step,
                    use=float(one.uses[number]),
                    mass_change=one.mass - present.mass,
                    worst=one.worst,
                    worst_words=one.worst_words,
                    spoils=one.spoils,
                    spoiled=one.spoiled,
                )
                for step, one in zip(steps, came_to, strict=True)
                if not one.why
            ],
            project.units,
        )


def _steps(project: Project, beat: Callable[[], None]) -> tuple[list[Stepped], list[Stepped], list[Problem]]:
    """Return every step that is tried, those that no mat keeps apart, and what is wrong with the others."""
    found: list[Stepped] = []
    bare: list[Stepped] = []
    problems: list[Problem] = []
    for number in all_steps(project):
        try:
            variable = variable_of(project, number)
        except StringerlabError as error:
            problems += error.problems
            continue
        for choice in range(variable.count):
            beat()
            try:
                one = taken(project, variable, choice)
            except StringerlabError as error:
                problems += error.problems
                continue
            if one is None:
                bare.append(stepped(project, number, variable, choice, project))
            elif one.boat != project:
                found.append(stepped(project, number, variable, choice, one.boat, one.mats))
    return found, bare, problems


def _followed(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return what is short or tight, the highest used first; else the highest used alone."""
    judged = sorted(
        (one for one in findings if one.utilisation is not None),
        key=lambda one: one.utilisation or 0.0,
        reverse=True,
    )
    close = tuple(one for one in judged if one.verdict in {Verdict.SHORT, Verdict.TIGHT})
    return close or tuple(judged[:1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Some boats, each a step from the present one."""

    boats: tuple[Project, ...]
    followed: tuple[FindingKey, ...]
    short: frozenset[FindingKey]
    """What is short as the boat is."""
    blocked: frozenset[str]
    """What cannot be judged as the boat is, and so is no fault of a step."""
    mechanics: bool
    grid: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CameTo:
    """What one step came to."""

    uses: Array
    """(followed,) utilisations; nan where a finding is no longer there."""
    mass: float
    worst: float
    worst_words: str
    spoils: str
    """The highest used finding that was not short before and is now, in words; empty without one."""
    spoiled: float
    why: str
    """Why it cannot be built; empty where it can."""


def worked(steps: Steps) -> Pack:
    """Return what some steps come to: see ``CameTo``; words as JSON."""
    many = len(steps.boats)
    uses = np.full((many, len(steps.followed)), np.nan)
    mass, worst, spoiled = (np.full(many, np.nan) for _ in range(3))
    said: list[tuple[str, str, str]] = []
    for number, boat in enumerate(steps.boats):

        def beat(done: float, what: str, number: int = number) -> None:
            del what
            pulse((number + done) / many)

        beat(0.0, "")
        topics = TOPICS if steps.mechanics else ()
        found = measured(boat, topics=topics, grid=steps.grid, kept=_kept, watch=beat)
        if why := faults_beside(found, steps.blocked):
            said.append(("", "", why))
            continue
        highest, spoilt = found.highest(), found.highest(without=steps.short)
        if spoilt is not None and verdict_of(spoilt.utilisation) is not Verdict.SHORT:
            spoilt = None
        uses[number] = [_use(found.findings.get(key)) for key in steps.followed]
        mass[number], worst[number], spoiled[number] = found.mass, _use(highest), _use(spoilt)
        said.append((_name(highest), _name(spoilt), ""))
    return {"uses": uses, "mass": mass, "worst": worst, "spoiled": spoiled, "said": json.dumps(said)}


def _came_to(pack: Pack) -> Iterator[CameTo]:
    said: list[tuple[str, str, str]] = json.loads(str(pack["said"]))
    uses, mass, worst, spoiled = (
        np.asarray(pack[name], dtype=float) for name in ("uses", "mass", "worst", "spoiled")
    )
    for number, (worst_words, spoils, why) in enumerate(said):
        yield CameTo(
            uses=uses[number],
            mass=float(mass[number]),
            worst=float(worst[number]),
            worst_words=worst_words,
            spoils=spoils,
            spoiled=float(spoiled[number]),
            why=why,
        )


def _use(finding: Finding | None) -> float:
    return float("nan") if finding is None or finding.utilisation is None else finding.utilisation


def _name(finding: Finding | None) -> str:
    return "" if finding is None else name_of(finding)


def _tasks(
    boats: Sequence[Project], present: Measured, followed: Sequence[Finding], mechanics: bool, grid: bool
) -> Iterator[Steps]:
    at_once = _AT_ONCE_IN_GRID if grid else _AT_ONCE
    for first in range(0, len(boats), at_once):
        yield Steps(
            boats=tuple(boats[first : first + at_once]),
            followed=tuple(one.key for one in followed),
            short=frozenset(one.key for one in present.findings.values() if one.verdict is Verdict.SHORT),
            blocked=frozenset(present.resolved.blocked),
            mechanics=mechanics,
            grid=grid,
        )


def _notes(
    project: Project,
    followed: Sequence[Finding],
    steps: Sequence[Stepped],
    bare: Sequence[Stepped],
    mechanics: bool,
    grid: bool,
) -> Iterator[str]:
    if followed[0].verdict not in {Verdict.SHORT, Verdict.TIGHT}:
        yield nothing_tight(followed[0])
    yield "Every step is taken alone; two together need not do what each does."
    if any(one.by_hand for one in steps):
        yield (
            "A spacing or length of a part given by hand is changed alone: members that a lesser spacing "
            "asks for elsewhere are in no mass, so that none is called the most for its mass."
        )
    if bare:
        more = f" and {len(bare) - _FEW} more" if len(bare) > _FEW else ""
        yield (
            "Left out, for two fabrics would meet where their laminate has mat between: "
            f"{'; '.join(one.name for one in bare[:_FEW])}{more}."
        )
    if project.as_built is not None:
        yield AS_DESIGNED
    if not mechanics:
        yield "The method alone is judged: what a step does to the mechanics is not looked at."
    elif project.layout and not grid:
        yield "Nothing of the grid is short or tight, so what a step does to it is not looked at."


def _unwatched(done: float, what: str) -> None:
    del done, what
