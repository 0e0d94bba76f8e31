"""What scatters: the inputs of a plan, one for every laminate or section that scatters on its own."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import Project
from stringerlab.project.wishes import Scatter, Scattered, ScatterPlan
from stringerlab.sizing.scatter.usual import PRACTICE, USUAL
from stringerlab.units.ranges import range_problems

OF_SECTIONS = (Scattered.BEAD,)
OF_BOAT = (Scattered.SPEED,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One thing that scatters on its own: what of which laminate or section; of the boat ``of`` is empty."""

    scatter: Scatter
    of: str
    name: str

    @property
    def what(self) -> Scattered:
        """What scatters."""
        return self.scatter.what


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """Ids of what the judged subjects are made of, in the order of the file."""

    laminates: Sequence[str]
    sections: Sequence[str]


def scatters_of(plan: ScatterPlan) -> tuple[Scatter, ...]:
    """Return a plan's own scatters, or those it names."""
    return plan.inputs or USUAL.get(plan.usual, ())


def problems_of(project: Project, plan: ScatterPlan) -> list[Problem]:
    """Return everything that is wrong with a plan."""
    found = range_problems(plan, "scatter")
    if not plan.inputs and plan.usual not in USUAL:
        what = f"There is no lay-up called '{plan.usual}'."
        return [*found, Problem(what, "scatter", f"Use one of: {', '.join(USUAL)}; or say what scatters.")]
    laminates = {one.id for one in project.laminates}
    sections = {one.id for one in project.sections}
    seen: set[str] = set()
    for number, scatter in enumerate(plan.inputs, 1):
        where = f"scatter, input {number} ({scatter.what})"
        if scatter.id in seen:
            found.append(Problem(f"Its id '{scatter.id}' is taken.", where, "Give it another."))
        seen.add(scatter.id)
        if scatter.what in OF_BOAT:
            if scatter.of:
                found.append(
                    Problem("The speed is the whole boat's.", where, "Name no laminate or section for it.")
                )
            continue
        there, kind = (sections, "section") if scatter.what in OF_SECTIONS else (laminates, "laminate")
        found += [
            Problem(f"There is no {kind} '{one}'.", where, f"Name a {kind} by its id, or none for all.")
            for one in scatter.of
            if one not in there
        ]
    if not any(scatter.spread > 0 for scatter in scatters_of(plan)):
        found.append(
            Problem("Nothing scatters: every spread is 0.", "scatter", "Give at least one input a spread.")
        )
    return found


def inputs_of(project: Project, plan: ScatterPlan, needed: Needed) -> tuple[Input, ...]:
    """Return what scatters on its own among what is needed, in the order of the plan, then of the file.

    Raises
    ------
    StringerlabError
        Where nothing that is judged scatters.
    """
    inputs = tuple(one for scatter in scatters_of(plan) for one in _each(project, scatter, needed))
    if not any(one.scatter.spread > 0 for one in inputs):
        raise StringerlabError(
            Problem(
                "Nothing scatters that a judged panel or span is made of.",
                "scatter",
                "Name laminates and sections in use, or none for all.",
            )
        )
    return inputs


def _each(project: Project, scatter: Scatter, needed: Needed) -> Iterator[Input]:
    if scatter.what in OF_BOAT:
        yield Input(scatter=scatter, of="", name=f"{scatter.what}")
        return
    of_sections = scatter.what in OF_SECTIONS
    used = needed.sections if of_sections else needed.laminates
    names = {one.id: one.name for one in (project.sections if of_sections else project.laminates)}
    for one in used:
        if not scatter.of or one in scatter.of:
            yield Input(scatter=scatter, of=one, name=f"{scatter.what} of {names[one]}")


def words_of(project: Project, plan: ScatterPlan) -> tuple[str, ...]:
    """Return every scatter in words: what, of which, law, middle, spread; of a named set what it is worth."""
    names = {one.id: one.name for one in (*project.laminates, *project.sections)}
    said = tuple(_words(scatter, names) for scatter in scatters_of(plan))
    return said if plan.inputs else (*said, f"'{plan.usual}': {PRACTICE}")


def _words(scatter: Scatter, names: dict[str, str]) -> str:
    of = ""
    if scatter.what not in OF_BOAT:
        each = "every section" if scatter.what in OF_SECTIONS else "every laminate"
        of = f" of {', '.join(names[one] for one in scatter.of) if scatter.of else each}"
    kind = "deviation" if scatter.law.value in ("normal", "lognormal") else "half its width"
    return (
        f"{scatter.what}{of}: {scatter.law}, middle {scatter.mean:g} of the nominal value, "
        f"{kind} {100 * scatter.spread:g} %"
    )
