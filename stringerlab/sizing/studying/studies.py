"""Studies: one or two numbers of a boat swept, utilisations, mass, cost and labour read off every step.

Every step is the whole boat judged as everywhere else: the plain way, or many steps at a time where there are
many. Values along a number are as typed: mm, kn, kg, layers; a step that cannot be built has no reading, and
says why.
"""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from stringerlab.assess.mechanics import TOPICS
from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.project.wish_words import typed_unit
from stringerlab.project.wishes import Shown, Study
from stringerlab.sizing.changing.changes import Changes, changed
from stringerlab.sizing.changing.choices import NumberVariable
from stringerlab.sizing.changing.variables import variable_of
from stringerlab.sizing.plain import AS_DESIGNED, Measured, faults_beside, joined_reasons, measured
from stringerlab.sizing.records import Studied, Watch
from stringerlab.sizing.running import Pack, Running, digest_of, pulse, run
from stringerlab.sizing.studying.asking import Asked, asked, reading_name, reading_unit, value_of
from stringerlab.sizing.studying.fast import AT_ONCE, WORTH, fast_readings, is_judged_fast
from stringerlab.units import System, Unit, display_unit, unit_named
from stringerlab.workings import Array

AT_ONCE_PLAINLY = 8
"""Steps of a task: about a second of work on a large boat."""


def study(
    project: Project, study: Study, *, running: Running | None = None, watch: Watch | None = None
) -> Studied:
    """Return a study worked through.

    Parameters
    ----------
    project
        The boat.
    study
        One or two numbers, and what is read off.
    running
        How it is run; its numbers are the same however that is.
    watch
        Told of progress, and asked by it to stop.

    Raises
    ------
    StringerlabError
        With everything that is wrong with the study.
    Cancelled
        When the watch raises it.
    """
    what = asked(project, study)
    ran = run(
        worked,
        [*_tasks(project, study, what)],
        running or Running(),
        watch,
        digest=digest_of(project, study, "study"),
        what="Study",
    )
    values = np.concatenate([np.asarray(pack["values"], dtype=float) for pack in ran.packs], axis=1)
    whys = [why for pack in ran.packs for why in json.loads(str(pack["whys"]))]
    problems = tuple((place, why) for place, why in zip(_places(what.shape), whys, strict=True) if why)
    return Studied(
        study=study,
        axes=tuple(variable.values for variable in what.variables),
        axis_names=tuple(variable.name for variable in what.variables),
        axis_units=tuple(typed_unit(number.change).symbol for number in study.along),
        reading_names=tuple(reading_name(one, what.present) for one in study.readings),
        reading_units=tuple(reading_unit(one, project) for one in study.readings),
        values=values.reshape(len(study.readings), *what.shape),
        present=tuple(variable.present for variable in what.variables),
        problems=problems,
        notes=(*_notes(project, study, what, values), *ran.notes),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Some steps of a study, one after another, the last number's running fastest."""

    project: Project
    study: Study
    choices: tuple[tuple[int, ...], ...]
    """Of each step, which of its values every number takes."""
    mechanics: bool
    fast: bool
    """Whether steps are judged many at a time, as far as they can be."""
    blocked: frozenset[str]
    """What cannot be judged as the boat is, and so is no fault of a step."""


def worked(part: Part) -> Pack:
    """Return the readings (readings, steps) of some steps, and why those without have none, as JSON."""
    values = np.full((len(part.study.readings), len(part.choices)), np.nan)
    whys = [""] * len(part.choices)
    left = np.ones(len(part.choices), dtype=np.bool_)
    if part.fast:
        values, left = fast_readings(part.project, part.study, part.choices)
    variables = [variable_of(part.project, number) for number in part.study.along]
    for at in np.flatnonzero(left).tolist():
        pulse(at / len(part.choices))
        values[:, at], whys[at] = _plainly(part, variables, part.choices[at])
    return {"values": values, "whys": json.dumps(whys)}


def _plainly(
    part: Part, variables: Sequence[NumberVariable], choices: tuple[int, ...]
) -> tuple[Array | float, str]:
    """Return one step's readings, and what of them is not there and why."""
    changes = Changes()
    try:
        for variable, choice in zip(variables, choices, strict=True):
            variable.gather(changes, part.project, choice)
        boat = changed(part.project, changes)
    except StringerlabError as error:
        return np.nan, joined_reasons(map(str, error.problems))
    found = measured(boat, topics=TOPICS if part.mechanics else (), grid=False)
    if why := faults_beside(found, part.blocked):
        return np.nan, why
    return np.array([value_of(one, found) for one in part.study.readings]), _missing(part.study, found)


def studied_rows(
    studied: Studied, system: System = System.METRIC
) -> tuple[tuple[str, ...], tuple[tuple[str | float, ...], ...]]:
    """Return a study as a table: heads with their units, then a row a step; nan where there is no reading.

    The last column says why a step has none, where any has not.

    Parameters
    ----------
    studied
        The study, worked through.
    system
        Units of lengths and masses.
    """
    along = [_shown(symbol, system) for symbol in studied.axis_units]
    read = [
        _shown(symbol if one.shown is Shown.MASS else "", system)
        for one, symbol in zip(studied.study.readings, studied.reading_units, strict=True)
    ]
    symbols = [unit.symbol or own for (unit, _), own in zip(read, studied.reading_units, strict=True)]
    heads = [
        *(_headed(name, unit.symbol) for name, (unit, _) in zip(studied.axis_names, along, strict=True)),
        *map(_headed, studied.reading_names, symbols),
    ]
    whys = dict(studied.problems)
    if whys:
        heads.append("why not")
    rows: list[tuple[str | float, ...]] = []
    for place in _places(studied.values.shape[1:]):
        values = (axis[at] for axis, at in zip(studied.axes, place, strict=True))
        readings: list[float] = studied.values[(slice(None), *place)].tolist()
        rows.append(
            (
                *(value * factor for value, (_, factor) in zip(values, along, strict=True)),
                *(value * factor for value, (_, factor) in zip(readings, read, strict=True)),
                *([whys.get(place, "")] if whys else []),
            )
        )
    return tuple(heads), tuple(rows)


def _shown(symbol: str, system: System) -> tuple[Unit, float]:
    """Return the unit a number is shown in, and what turns one as typed into it; ratios stay."""
    typed = unit_named(symbol)
    shown = display_unit(typed.kind, system)
    return shown, 1.0 if shown == typed else typed.factor / shown.factor


def _tasks(project: Project, study: Study, what: Asked) -> Iterator[Part]:
    steps = _places(what.shape)
    fast = not what.mechanics and len(steps) >= WORTH and is_judged_fast(project, study)
    at_once = AT_ONCE if fast else AT_ONCE_PLAINLY
    for first in range(0, len(steps), at_once):
        yield Part(
            project=project,
            study=study,
            choices=tuple(steps[first : first + at_once]),
            mechanics=what.mechanics,
            fast=fast,
            blocked=what.blocked,
        )


def _places(shape: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Return every step by its indices, the last running fastest."""
    return list(product(*map(range, shape)))


def _missing(study: Study, found: Measured) -> str:
    """Return what of a step is not read off though it is built; empty where everything is."""
    ids = {one.id for one in found.resolved.subjects}
    return joined_reasons(
        [
            f"{reading_name(one, found)}: "
            + ("it is no longer there." if one.subject and one.subject not in ids else "not judged here.")
            for one in study.readings
            if one.shown is Shown.USE and np.isnan(value_of(one, found))
        ]
    )


def _headed(name: str, unit: str) -> str:
    return f"{name} [{unit}]" if unit else name


def _notes(project: Project, study: Study, what: Asked, values: np.ndarray) -> Iterator[str]:
    uses = [one for one in study.readings if one.shown is Shown.USE]
    if uses and project.layout:
        yield "No reading is of the grid: load that it shares is in none."
    if project.as_built is not None:
        yield AS_DESIGNED
    if what.mechanics:
        yield (
            "What the method does not judge is read of the mechanics under its pressure: first principles, "
            "no rule compliance."
        )
    for one, line in zip(study.readings, values, strict=True):
        if one.shown in {Shown.COST, Shown.LABOUR} and np.isnan(line).all():
            lacking = "price" if one.shown is Shown.COST else "rate of labour"
            yield f"No {one.shown}: no {lacking} is set."
    if what.present.blocked:
        yield "Not judged as the boat is, so in no reading: " + joined_reasons(map(str, what.present.blocked))
