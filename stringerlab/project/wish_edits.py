"""Edits of what a search is asked: what may change, what must hold, what to lower.

Numbers as typed: mm, deg, kn, kg. A value that is already there gives the same project back: no step to undo.
What contradicts itself, as a least above the most, may be typed and is said by who reads the plan.
"""

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any, TypeVar

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.counting import Counter
from stringerlab.project.paper import Paper
from stringerlab.project.records import Project
from stringerlab.project.wishes import Aim, Demand, Number, Plies, SizingPlan, Wishes
from stringerlab.units import System
from stringerlab.units.ranges import range_problems

VARIABLE_LETTER = "v"
DEMAND_LETTER = "d"
_NUMBERED = re.compile(r"[a-z](\d{1,15})")
_Wish = TypeVar("_Wish", Number, Plies, Demand)


def boat_alone(project: Project) -> Project:
    """Return the boat without what is asked of her, counters, units shown and what only stands on paper."""
    return replace(project, wishes=Wishes(), counter=0, notes="", units=System.METRIC, paper=Paper())


def with_variables(project: Project, *wished: Number | Plies) -> Project:
    """Return the project with more that may change, each under a new id.

    Raises
    ------
    StringerlabError
        When a value is out of its range.
    """
    ids = _ids(project)
    plan = project.wishes.sizing
    fresh = [replace(wish, id=f"{VARIABLE_LETTER}{next(ids)}") for wish in wished]
    grown = with_plan(
        project,
        numbers=(*plan.numbers, *(one for one in fresh if isinstance(one, Number))),
        laminates=(*plan.laminates, *(one for one in fresh if isinstance(one, Plies))),
    )
    return replace(grown, counter=next(ids)) if fresh else project


def with_variable_values(project: Project, id: str, **values: Any) -> Project:  # noqa: A002
    """Return the project with other values of one that may change, by field name.

    Raises
    ------
    StringerlabError
        When there is no such variable, or a value is out of its range.
    """
    plan = project.wishes.sizing
    if any(one.id == id for one in plan.laminates):
        return with_plan(project, laminates=_changed(plan.laminates, id, values))
    return with_plan(project, numbers=_changed(plan.numbers, id, values))


def without_variable(project: Project, id: str) -> Project:  # noqa: A002
    """Return the project with one fewer that may change.

    Raises
    ------
    StringerlabError
        When there is no such variable.
    """
    plan = project.wishes.sizing
    if any(one.id == id for one in plan.laminates):
        return with_plan(project, laminates=_without(plan.laminates, id))
    return with_plan(project, numbers=_without(plan.numbers, id))


def with_demand(project: Project, demand: Demand) -> Project:
    """Return the project with something more that must hold, under a new id.

    Raises
    ------
    StringerlabError
        When its limit is out of range.
    """
    ids = _ids(project)
    fresh = replace(demand, id=f"{DEMAND_LETTER}{next(ids)}")
    grown = with_plan(project, demands=(*project.wishes.sizing.demands, fresh))
    return replace(grown, counter=next(ids))


def with_demand_values(project: Project, id: str, **values: Any) -> Project:  # noqa: A002
    """Return the project with other values of something that must hold, by field name.

    Raises
    ------
    StringerlabError
        When there is no such demand, or its limit is out of range.
    """
    return with_plan(project, demands=_changed(project.wishes.sizing.demands, id, values))


def without_demand(project: Project, id: str) -> Project:  # noqa: A002
    """Return the project without something that had to hold.

    Raises
    ------
    StringerlabError
        When there is no such demand.
    """
    return with_plan(project, demands=_without(project.wishes.sizing.demands, id))


def with_aims(project: Project, aims: tuple[Aim, ...]) -> Project:
    """Return the project with other things to lower; what comes twice counts once.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    if not aims:
        raise StringerlabError(
            Problem("Nothing is to be lowered.", "what to lower", "Choose at least one, as mass.")
        )
    return with_plan(project, aims=tuple(dict.fromkeys(aims)))


def with_weights(project: Project, **values: float) -> Project:
    """Return the project with other weights of its weighted mix, by field name.

    Raises
    ------
    StringerlabError
        When a weight is out of its range.
    """
    return with_plan(project, weights=replace(project.wishes.sizing.weights, **values))


def with_plan(project: Project, **values: Any) -> Project:
    """Return the project with other values of its sizing plan, by field name.

    Raises
    ------
    StringerlabError
        When a value is out of its range.
    """
    plan = replace(project.wishes.sizing, **values)
    if plan == project.wishes.sizing:
        return project
    wrong = range_problems(plan, "sizing plan")
    if wrong:
        raise StringerlabError(wrong)
    return replace(project, wishes=replace(project.wishes, sizing=plan))


def variables_in(plan: SizingPlan) -> tuple[Number | Plies, ...]:
    """Return everything that may change, as the plan lists it."""
    return (*plan.numbers, *plan.laminates)


def _ids(project: Project) -> Iterator[int]:
    """Yield numbers no id has: those of wishes are counted beside those of the boat's things."""
    wishes = project.wishes
    held = [
        *(one.id for one in variables_in(wishes.sizing)),
        *(one.id for one in wishes.sizing.demands),
        *(one.id for one in wishes.scatter.inputs),
        *(one.id for study in wishes.studies for one in (study, *study.along)),
    ]
    numbers = [int(match[1]) for one in held if (match := _NUMBERED.fullmatch(one))]
    number = max([Counter(project).next, *(number + 1 for number in numbers)])
    while True:
        yield number
        number += 1


def _changed(wished: tuple[_Wish, ...], id: str, values: dict[str, Any]) -> tuple[_Wish, ...]:  # noqa: A002
    _refuse_unknown(wished, id)
    return tuple(replace(one, **values) if one.id == id else one for one in wished)


def _without(wished: tuple[_Wish, ...], id: str) -> tuple[_Wish, ...]:  # noqa: A002
    _refuse_unknown(wished, id)
    return tuple(one for one in wished if one.id != id)


def _refuse_unknown(wished: tuple[_Wish, ...], id: str) -> None:  # noqa: A002
    if not any(one.id == id for one in wished):
        raise StringerlabError(
            Problem(f"Nothing that is asked has the id {id}.", "sizing plan", "It may be gone already.")
        )
