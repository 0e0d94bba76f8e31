"""Edits of what is asked of scatter and of studies. Pure functions; each thing goes by its id.

New ids are a letter and a number that no other wish bears, above the project's counter: ``q`` a study, ``n``
a number it goes along, ``i`` an input that scatters.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeVar

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.counting import Counter
from stringerlab.project.records import Project
from stringerlab.project.wishes import Demand, Number, Plies, Scatter, ScatterPlan, Study, Wishes
from stringerlab.units.ranges import range_problems

STUDY, NUMBER, INPUT = "q", "n", "i"
"""Letters of ids."""
_NUMBERED = re.compile(r"[a-z](\d{1,15})")
_Wish = TypeVar("_Wish", Study, Number, Scatter)


# -- scatter -------------------------------------------------------------------------------------


def with_scatter_plan(project: Project, plan: ScatterPlan) -> Project:
    """Return the project with another plan of scatter; inputs without an id are given one.

    Raises
    ------
    StringerlabError
        When a value is out of its range.
    """
    _refuse_wrong(plan, "scatter")
    fresh = _Numbering(project)
    inputs = tuple(_identified(each, fresh, INPUT) for each in plan.inputs)
    return _with(project, fresh, replace(project.wishes, scatter=replace(plan, inputs=inputs)))


def with_usual_scatter(project: Project, usual: str) -> Project:
    """Return the project with the inputs of a named default in place of its own."""
    return with_scatter_plan(project, replace(project.wishes.scatter, usual=usual, inputs=()))


def with_inputs(project: Project, inputs: Sequence[Scatter]) -> Project:
    """Return the project with inputs of its own, in place of those of the named default.

    Each whose id is none of a project's own, as those of a default, is given one.
    """
    return with_scatter_plan(project, replace(project.wishes.scatter, inputs=tuple(inputs)))


def with_samples(project: Project, samples: int) -> Project:
    """Return the project with another number of samples."""
    return with_scatter_plan(project, replace(project.wishes.scatter, samples=samples))


def with_scatter_seed(project: Project, seed: int) -> Project:
    """Return the project with another seed of the samples."""
    return with_scatter_plan(project, replace(project.wishes.scatter, seed=seed))


# -- studies -------------------------------------------------------------------------------------


def study_of(project: Project, study: str) -> Study:
    """Return the study of an id.

    Raises
    ------
    StringerlabError
        When there is none.
    """
    found = next((each for each in project.wishes.studies if each.id == study), None)
    if found is None:
        raise StringerlabError(Problem(f"There is no study '{study}'.", "studies"))
    return found


def with_study(project: Project, study: Study) -> Project:
    """Return the project with a study at the end, it and its numbers under new ids."""
    fresh = _Numbering(project)
    along = tuple(replace(each, id=fresh(NUMBER)) for each in study.along)
    added = replace(study, id=fresh(STUDY), along=along)
    return _with(project, fresh, replace(project.wishes, studies=(*project.wishes.studies, added)))


def with_study_replaced(project: Project, study: Study) -> Project:
    """Return the project with the study of the same id replaced; numbers without an id are given one.

    Raises
    ------
    StringerlabError
        When there is no such study.
    """
    study_of(project, study.id)
    _refuse_wrong(study, f"study '{study.name}'")
    fresh = _Numbering(project)
    study = replace(study, along=tuple(_identified(each, fresh, NUMBER) for each in study.along))
    studies = tuple(study if each.id == study.id else each for each in project.wishes.studies)
    return _with(project, fresh, replace(project.wishes, studies=studies))


def with_study_renamed(project: Project, study: str, name: str) -> Project:
    """Return the project with a study renamed.

    Raises
    ------
    StringerlabError
        When there is no such study, or the name is empty.
    """
    held = study_of(project, study)
    if not name.strip():
        raise StringerlabError(Problem("A study needs a name.", f"study '{held.name}'"))
    return with_study_replaced(project, replace(held, name=name.strip()))


def with_study_copied(project: Project, study: str) -> Project:
    """Return the project with a copy of a study at the end.

    Raises
    ------
    StringerlabError
        When there is no such study.
    """
    held = study_of(project, study)
    names = {each.name for each in project.wishes.studies}
    name, number = f"{held.name}, copy", 2
    while name in names:
        name, number = f"{held.name}, copy {number}", number + 1
    return with_study(project, replace(held, name=name))


def without_study(project: Project, study: str) -> Project:
    """Return the project without a study.

    Raises
    ------
    StringerlabError
        When there is no such study.
    """
    study_of(project, study)
    left = tuple(each for each in project.wishes.studies if each.id != study)
    return replace(project, wishes=replace(project.wishes, studies=left))


def _refuse_wrong(wish: ScatterPlan | Study, where: str) -> None:
    wrong = range_problems(wish, where)
    if wrong:
        raise StringerlabError(wrong)


# -- ids -----------------------------------------------------------------------------------------


class _Numbering:
    """Hands out ids above every number that a wish bears."""

    def __init__(self, project: Project) -> None:
        numbers = [int(match[1]) for each in _ids(project) if (match := _NUMBERED.fullmatch(each))]
        self.next = max([Counter(project).next, *(number + 1 for number in numbers)])

    def __call__(self, letter: str) -> str:
        number, self.next = self.next, self.next + 1
        return f"{letter}{number}"


def _ids(project: Project) -> list[str]:
    wishes = project.wishes
    held: list[Number | Plies | Demand | Scatter | Study] = [*wishes.sizing.numbers, *wishes.sizing.laminates]
    held += [*wishes.sizing.demands, *wishes.scatter.inputs, *wishes.studies]
    held += [number for study in wishes.studies for number in study.along]
    return [each.id for each in held]


def _identified(wish: _Wish, fresh: Callable[[str], str], letter: str) -> _Wish:
    return wish if _NUMBERED.fullmatch(wish.id) else replace(wish, id=fresh(letter))


def _with(project: Project, numbering: _Numbering, wishes: Wishes) -> Project:
    return replace(project, wishes=wishes, counter=max(numbering.next, project.counter))
