"""What may change of a boat, made of its wishes: variables with their choices, all wrong wishes told at once.

A variable has choices from 0: each a value as typed (mm, kn, kg, a whole number) or a sequence of plies.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Protocol

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.records import Project
from stringerlab.project.resolving import problems as problems_of
from stringerlab.project.wish_words import length_words, wish_words
from stringerlab.project.wishes import Change, Number, Plies, SizingPlan
from stringerlab.sizing.changing.changes import Changes
from stringerlab.sizing.changing.choices import (
    NumberVariable,
    PliesVariable,
    laid,
    laminate_of,
    present_of,
    run_of,
    sequences_of,
)
from stringerlab.sizing.changing.steps import all_steps
from stringerlab.sizing.changing.wish_faults import number_faults, plies_faults, values_of

__all__ = [
    "NumberVariable",
    "PliesVariable",
    "Variable",
    "all_steps",
    "laid",
    "variable_of",
    "variables_of",
]

_MOVING = (Change.PLACE, Change.TRANSVERSES)
"""Changes that move members of a layout."""


class Variable(Protocol):
    """Something that may change: a `NumberVariable` or a `PliesVariable`."""

    @property
    def id(self) -> str:
        """Of the wish."""
        ...

    @property
    def name(self) -> str:
        """In words: ``hat height of Main stringer``."""
        ...

    @property
    def count(self) -> int:
        """How many choices there are, exactly."""
        ...

    @property
    def columns(self) -> tuple[int, ...]:
        """How many values each of its gene columns has; see `stringerlab.sizing.changing.space`."""
        ...

    def words(self, choice: int, project: Project) -> str:
        """Return a choice in words, in the project's units."""
        ...

    def applied(self, project: Project, choice: int) -> Project:
        """Return the project with this choice taken."""
        ...

    def nearest(self, project: Project) -> tuple[int, bool]:
        """Return the choice nearest to what a project has, and whether it is that."""
        ...

    def gather(self, changes: Changes, project: Project, choice: int) -> None:
        """Put what a choice changes of a project among other changes."""
        ...


def variable_of(project: Project, number: Number) -> NumberVariable:
    """Return the variable that a number is of a project. Its ends are not tried out.

    Raises
    ------
    StringerlabError
        With everything wrong about it.
    """
    faults = list(number_faults(project, number))
    if faults:
        raise StringerlabError(faults)
    present, exact = present_of(project, number)
    return NumberVariable(
        id=number.id,
        name=wish_words(project, number),
        number=number,
        values=values_of(number),
        present=present,
        exact=exact,
    )


def plies_of(project: Project, plies: Plies) -> PliesVariable:
    """Return the variable that a laminate whose plies may change is.

    Raises
    ------
    StringerlabError
        With everything wrong about it: among it, that no sequence reaches the gauge or keeps the rules.
    """
    faults = list(plies_faults(project, plies))
    if faults:
        raise StringerlabError(faults)
    variable = PliesVariable(
        id=plies.id,
        name=wish_words(project, plies),
        plies=plies,
        sequences=sequences_of(project, plies),
        letters=plies.menu,
    )
    if not variable.count:
        raise StringerlabError(_none_allowed(project, plies, variable))
    return variable


def variables_of(project: Project, plan: SizingPlan, *, tried: bool = True) -> tuple[Variable, ...]:
    """Return everything that may change, numbers before laminates, in the order of the plan.

    ``tried`` says whether the boat is looked through with every number and laminate at either end, which is
    the slow part of it: left out for a plan that was tried before.

    Raises
    ------
    StringerlabError
        With every problem: unknown ids, sections that are no hats, empty menus, ends out of order, a gauge
        out of reach, two wishes for the same number, an end that cannot be drawn or is out of range, and
        that nothing may change.
    """
    made: list[Variable] = []
    problems: list[Problem] = []
    for number in plan.numbers:
        try:
            made.append(variable_of(project, number))
        except StringerlabError as error:
            problems += error.problems
    for plies in plan.laminates:
        try:
            made.append(plies_of(project, plies))
        except StringerlabError as error:
            problems += error.problems
    problems += _fights(project, plan)
    problems += _same_ids(plan)
    if not problems and all(variable.count == 1 for variable in made):
        what = "Nothing may change." if not made else "Nothing may change: every wish has a single choice."
        remedy = "Say what may change: a height, a width, a spacing, the plies of a laminate."
        problems.append(Problem(what, "what may change", remedy))
    if tried and not problems:
        problems += _tried(project, made)
    if problems:
        raise StringerlabError(dict.fromkeys(problems))
    return tuple(made)


# -- what is wrong with several ------------------------------------------------------------------


def _claims(project: Project, number: Number) -> Iterator[tuple[str, ...]]:
    """Yield what a number sets, each so that another that sets it too yields the same."""
    if not number.of:
        yield (number.change.value,)
    for one in number.of:
        if number.change is Change.REPEATS:
            record = next((each for each in project.laminates if each.id == one), None)
            if record is not None and 1 <= number.ply <= len(record.plies):
                yield (number.change.value, one, str(run_of(record, number.ply - 1)[0]))
        else:
            yield (number.change.value, one)


def _fights(project: Project, plan: SizingPlan) -> Iterator[Problem]:
    """Yield the wishes that set what another sets."""
    taken: dict[tuple[str, ...], Number] = {}
    for number in plan.numbers:
        for claim in dict.fromkeys(_claims(project, number)):
            other = taken.setdefault(claim, number)
            if other is not number:
                yield _fight(project, f"the {number.change.value}", claim, number.id, other.id)
    free: dict[str, Plies] = {}
    for plies in plan.laminates:
        other_plies = free.setdefault(plies.laminate, plies)
        if other_plies is not plies:
            claim = ("plies", plies.laminate)
            yield _fight(project, "the plies", claim, plies.id, other_plies.id)
    for number in plan.numbers:
        for one in dict.fromkeys(number.of) if number.change is Change.REPEATS else ():
            if one in free:
                yield _fight(project, "the plies", ("plies", one), number.id, free[one].id)


def _fight(project: Project, what: str, claim: tuple[str, ...], one: str, other: str) -> Problem:
    name = ""
    if len(claim) > 1:
        held = (*project.sections, *project.laminates, *project.panels, *project.spans)
        members = (member for layout in project.layouts for member in layout.members)
        name = next((f" of '{each.name}'" for each in (*held, *members) if each.id == claim[1]), "")
    return Problem(
        f"It sets {what}{name}, which '{other}' sets too.",
        f"what may change, '{one}'",
        "Let only one of them set it.",
    )


def _same_ids(plan: SizingPlan) -> Iterator[Problem]:
    seen: set[str] = set()
    for wish in (*plan.numbers, *plan.laminates):
        if wish.id in seen:
            yield Problem("Its id comes twice.", f"what may change, '{wish.id}'", "Give each its own.")
        seen.add(wish.id)


def _none_allowed(project: Project, plies: Plies, variable: PliesVariable) -> Problem:
    """Return why a laminate has no sequence: its gauge, or its rules."""
    asked = variable.sequences
    where = f"what may change, '{plies.id}'"
    name = laminate_of(project, plies.laminate).name
    free = sequences_of(project, _without_gauge(plies))
    if free.count:
        reached = (plies.gauge or 0.0) - asked.needed + free.thickest
        gauge, thickest = (length_words(one, project.units) for one in (plies.gauge or 0.0, reached))
        what = (
            f"'{name}' cannot reach its gauge of {gauge}: the thickest that is allowed comes to {thickest}."
        )
        return Problem(what, where, "Allow more plies, or heavier ones, or a lower gauge.")
    what = f"No sequence of {plies.least} to {plies.most} plies of '{name}' has mat between all its fabrics."
    return Problem(what, where, "Put a mat on the menu, or let fabrics face each other.")


def _without_gauge(plies: Plies) -> Plies:
    return replace(plies, gauge=None)


def _tried(project: Project, variables: Sequence[Variable]) -> Iterator[Problem]:
    """Yield what becomes wrong with the boat at either end of a variable, all else as it is.

    Where members move their neighbours decide what can be built, so that it is told only where neither end
    can; a laminate too thick for a section is left to the search, which has other sections to try.
    """
    known = set(problems_of(project))
    for variable in variables:
        choices = dict.fromkeys((0, variable.count - 1))
        ends = [_wrong(project, variable, choice, known) for choice in choices]
        if isinstance(variable, NumberVariable) and variable.number.change in _MOVING and not all(ends):
            continue
        for choice, end in zip(choices, ends, strict=True):
            at = f"{variable.name}, {variable.words(choice, project)}"
            yield from (Problem(one.what, f"{at}: {one.where}", one.remedy) for one in end)


def _wrong(project: Project, variable: Variable, choice: int, known: set[Problem]) -> list[Problem]:
    """Return what is wrong with a boat when a choice is taken that was not before."""
    try:
        found = problems_of(variable.applied(project, choice))
    except StringerlabError as error:
        found = error.problems if isinstance(variable, NumberVariable) else ()
    return [problem for problem in found if problem not in known]
