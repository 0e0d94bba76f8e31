"""What a plan asks, looked at while a person edits it: how many designs, and what is wrong, in its place."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import prod

from stringerlab.desktop.jobs import Watch
from stringerlab.desktop.sizing.said import designs_words, space_words
from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import Project, problems, resolve
from stringerlab.project.contents import things
from stringerlab.project.pointing import pointed_at
from stringerlab.project.wish_edits import variables_in
from stringerlab.project.wish_offers import usual
from stringerlab.project.wish_words import demand_words, wish_name
from stringerlab.project.wishes import Demand, Number, Plies, SizingPlan
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.searching.aims import problems_of_aims
from stringerlab.sizing.searching.splitting import split_of

_NOTHING = "Nothing may change yet."
_WRONG = "The designs are counted once what is wrong is put right."


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a plan comes to."""

    words: str
    """How many designs there are, or why that is not said."""
    problems: dict[str, list[str]]
    """What is wrong with what may change and must hold, by its id."""
    lower: tuple[str, ...] = ()
    """What is wrong with what is to be lowered."""
    elsewhere: tuple[tuple[str, str], ...] = ()
    """What else is wrong, each with the id of the thing it is of, empty for none."""
    may_run: bool = False


def asked(project: Project, tell: Watch) -> Asked:
    """Return what a project's sizing plan comes to. It touches nothing of the window.

    Parameters
    ----------
    project
        With the plan.
    tell
        Told how many designs there are before it is known whether all of them can be judged.
    """
    plan = project.wishes.sizing
    if not variables_in(plan):
        return Asked(words=_NOTHING, problems={})
    found: list[Problem] = []
    words = _WRONG
    try:
        space = Space(variables_of(project, plan))
        tell(0.5, f"{designs_words(space.count)} …")
        words = space_words(space.count, whole=_whole(project, plan, space))
    except StringerlabError as error:
        found += [*error.problems, *_why_nothing_is_judged(project)]
    placed: dict[str, list[str]] = {}
    elsewhere: list[tuple[str, str]] = []
    for id, problem in (*_demands(project, plan), *((_place(project, one), one) for one in found)):  # noqa: A001
        said = _named(project, f"{problem.what} {problem.remedy}".strip())
        if id:
            at = _apart(project, id, problem)
            placed.setdefault(id, []).append(f"{at}{said}")
        else:
            elsewhere.append((str(problem), pointed_at(project, problem.where)))
    lower = tuple(f"{one.what} {one.remedy}" for one in problems_of_aims(plan, project))
    return Asked(
        words=words,
        problems=placed,
        elsewhere=tuple(elsewhere),
        lower=lower,
        may_run=not placed and not elsewhere and not lower,
    )


def sound_usual(project: Project, tell: Watch) -> tuple[Number | Plies, ...]:
    """Return what is usually asked, each range drawn in as far as the boat can be drawn at both its ends.

    What stays wrong however it is drawn in is offered as it is, so that it is said in its place.
    """
    wished = usual(project)
    found: list[Number | Plies] = []
    for number, wish in enumerate(wished):
        tell(number / len(wished), "Looking at what may change")
        found.append(next((one for one in _narrower(wish) if _sound(project, one)), wish))
    return tuple(found)


def _narrower(wish: Number | Plies) -> Iterator[Number | Plies]:
    """Yield a wish, and then with its ends drawn in step by step, its upper end first."""
    step = 1 if isinstance(wish, Plies) else wish.step
    for up, down in ((0, 0), (1, 0), (2, 0), (2, 1), (2, 2)):
        least, most = wish.least + down * step, wish.most - up * step
        if least <= most:
            if isinstance(wish, Plies):
                yield replace(wish, least=round(least), most=round(most))
            else:
                yield replace(wish, least=least, most=most)


def _sound(project: Project, wish: Number | Plies) -> bool:
    numbers, laminates = ((), (wish,)) if isinstance(wish, Plies) else ((wish,), ())
    try:
        variables_of(project, SizingPlan(numbers=numbers, laminates=laminates))
    except StringerlabError:
        return False
    return True


def _why_nothing_is_judged(project: Project) -> tuple[Problem, ...]:
    """Return what is wrong with a boat of which nothing can be judged; nothing where something can."""
    resolved = resolve(project)
    if any(subject.id not in resolved.blocked for subject in resolved.subjects):
        return ()
    return problems(project)


def _whole(project: Project, plan: SizingPlan, space: Space) -> bool:
    """Whether all of a space can be judged within the budget, as the search decides it."""
    from stringerlab.sizing.judging.judge import Judge

    if prod(space.columns) != space.count:
        return False
    return split_of(Judge(project, plan), space.columns).effort <= plan.budget


def _demands(project: Project, plan: SizingPlan) -> Iterator[tuple[str, Problem]]:
    known = {thing.record.id for thing in things(project)}
    for demand in plan.demands:
        for one in demand.of:
            if one not in known:
                yield demand.id, Problem(f"There is no '{one}' any more.", "", "Choose another.")


def _place(project: Project, problem: Problem) -> str:
    """Return the id of the wish that a problem is of, empty for none."""
    plan = project.wishes.sizing
    for wish in (*variables_in(plan), *plan.demands):
        if f"'{wish.id}'" in problem.where:
            return wish.id
    for wish in variables_in(plan):
        if problem.where.startswith(_begun(project, wish)):
            return wish.id
    return ""


def _begun(project: Project, wish: Number | Plies) -> str:
    """Return how the place of a problem begins that one end of a variable would make of the boat."""
    name = wish_name(project, wish)
    return f"{name[0].lower()}{name[1:]}, "


def _apart(project: Project, id: str, problem: Problem) -> str:  # noqa: A002
    """Return at which value of a wish a problem is, as it begins its words; empty for any."""
    for wish in variables_in(project.wishes.sizing):
        begun = _begun(project, wish)
        if wish.id == id and problem.where.startswith(begun):
            return f"At {problem.where[len(begun) :]}: "
    return ""


def _named(project: Project, text: str) -> str:
    """Return words with the names of wishes in place of their ids."""
    plan = project.wishes.sizing
    named: list[tuple[Number | Plies | Demand, str]] = [
        *((wish, wish_name(project, wish)) for wish in variables_in(plan)),
        *((one, demand_words(project, one, project.units)) for one in plan.demands),
    ]
    for wish, name in named:
        text = text.replace(f"'{wish.id}'", f"'{name}'")
    return text
