"""``size``: lighter designs of a boat, found or proven the best; one of them written as a project."""

import argparse
import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from stringerlab.cli.long_run import long_run
from stringerlab.cli.quantities import finite, quantity, value
from stringerlab.cli.table import WIDTH, Column, bullets, letter, paragraph, table
from stringerlab.cli.typed_wishes import (
    AIMS,
    demand_read,
    gathered,
    number_read,
    plies_read,
)
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load, save
from stringerlab.methods import NOTICE, utilisation_text
from stringerlab.project import Project
from stringerlab.project.wish_words import typed_unit
from stringerlab.project.wishes import Aim, Demand, Holds, SizingPlan, Weights
from stringerlab.sizing.changing.choices import NumberVariable, PliesVariable
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.records import Design, Sized
from stringerlab.sizing.searching.own_values import own_values
from stringerlab.sizing.searching.size import size
from stringerlab.units import Kind, System, format, rounded
from stringerlab.units.ranges import range_problems

NOTHING_HOLDS = 1
_NOW = "now"
_READ = (
    "Designs that hold, each with what it changes (a, b, …), plies counted from the mould without those "
    "that stay, beside the boat as she is now. Mass: of members and of the plating of the panels judged. "
    "Used: the highest utilisation of the method's own findings of what changes, and whose; above 1 is "
    "short. "
)
_NONE_OF_THEM = "* She is none of the designs: these are her own numbers."
_MECH = (
    "Mech.: the highest utilisation that mechanics and grid find, which are no rule and had no part in it. "
)


def run(options: argparse.Namespace) -> int:
    """Print the designs; 1 where nothing holds, 0 otherwise."""
    project = load(options.file)
    plan = plan_of(project, options)
    system = System(options.units) if options.units else project.units
    with long_run(options) as (running, watch):
        found = size(project, plan, running=running, watch=watch, mechanics=options.mechanics)
    if options.json:
        _written(project, plan, found, options)
        print(json.dumps(as_json(found, project), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(page(_in_units(found, project, system), project, system)))
        print(*_written(project, plan, found, options), sep="\n", end="")
    return 0 if found.front else NOTHING_HOLDS


def plan_of(project: Project, options: argparse.Namespace) -> SizingPlan:
    """Return what is asked: what the project says, with what is typed in the place of the same.

    Raises
    ------
    StringerlabError
        With everything that is wrong with what is typed.
    """
    plan = project.wishes.sizing
    numbers, wrong = gathered("--vary", options.vary, partial(number_read, project))
    laminates, amiss = gathered("--plies", options.plies, partial(plies_read, project))
    demands, unheld = gathered("--hold", options.hold, partial(demand_read, project))
    wrong += [*amiss, *unheld]
    typed = bool(options.vary or options.plies)
    if typed:
        plan = replace(plan, numbers=numbers, laminates=laminates)
    if options.hold:
        if not any(one.holds is Holds.USE for one in demands):
            demands = (Demand(id="every rule finding", holds=Holds.USE, limit=1.0), *demands)
        plan = replace(plan, demands=demands)
    for aim in options.lower:
        if aim not in AIMS:
            what = f"'{aim}' is nothing to lower."
            wrong.append(Problem(what, "--lower", f"There is: {', '.join(AIMS)}."))
    aims = tuple(AIMS[aim] for aim in options.lower if aim in AIMS)
    if options.mix:
        mass, cost, labour = options.mix
        plan = replace(plan, weights=Weights(mass=mass, cost=cost, labour=labour))
        aims = aims or (Aim.MIX, Aim.USE)
    if aims:
        plan = replace(plan, aims=tuple(dict.fromkeys(aims)))
    if options.seed is not None:
        plan = replace(plan, seed=options.seed)
    if options.designs is not None:
        plan = replace(plan, budget=options.designs)
    wrong += [
        Problem(one.what, _OPTION.get(one.where, one.where), one.remedy)
        for one in range_problems(replace(plan, numbers=(), laminates=(), demands=()), "size")
    ]
    wrong += _unwritable(project, options)
    if not (typed or plan.numbers or plan.laminates):
        wrong.append(_NOTHING_CHANGES)
    if wrong:
        raise StringerlabError([*wrong, *_of_a_boat(project, plan)])
    return plan


_NOTHING_CHANGES = Problem(
    "Nothing is said to change.",
    "what may change",
    "Say it with --vary or --plies, or on the window's Size page. Examples: --vary 'height "
    "Main stringer 100 160 10'; --plies 'Stringer: csm450 wr600, 3 to 7'.",
)
_OPTION = {"size, budget": "--designs", "size, seed": "--seed"}


def _of_a_boat(project: Project, plan: SizingPlan) -> Sequence[Problem]:
    """Return what is wrong of this boat with what could be read, beside what could not."""
    if not (plan.numbers or plan.laminates):
        return ()
    try:
        variables_of(project, plan)
    except StringerlabError as error:
        return error.problems
    return ()


def _unwritable(project: Project, options: argparse.Namespace) -> Iterator[Problem]:
    """Yield what is wrong with where a design goes: before the work, as far as it can be told then."""
    apply, layout, out = options.apply, options.layout, options.out
    if apply is not None and layout is not None:
        yield Problem("A design is written in one way.", "--apply, --layout", "Give one of the two.")
    asked = apply is not None or layout is not None
    if asked != bool(out):
        what = "It is not said where the design goes." if asked else "It is not said which design is written."
        yield Problem(what, "-o", "Add -o OUT." if asked else "Add --apply N, or --layout N.")
    for option, number in (("--apply", apply), ("--layout", layout)):
        if number is not None and number < 1:
            yield Problem(f"There is no design {number}.", option, "They are counted from 1.")
    if layout is not None and not project.layout:
        what = "The boat has no layout in use, for another to stand beside."
        yield Problem(what, "--layout", "Write a boat of its own, with --apply.")
    if out and not Path(out).absolute().parent.is_dir():
        yield Problem("The folder is not there.", f"-o {out}", "Make the folder, or name another.")
    elif out and Path(out).is_dir():
        yield Problem("It is a folder.", f"-o {out}", "Name a file.")


def _written(project: Project, plan: SizingPlan, found: Sized, options: argparse.Namespace) -> list[str]:
    """Write the design asked for, and return what was done in words."""
    from stringerlab.sizing.changing.opening import as_boat, as_layout, left_as_is

    number: int | None = options.apply if options.apply is not None else options.layout
    if number is None or not found.front:
        return []
    if not 1 <= number <= len(found.front):
        what, remedy = f"There is no design {number}.", f"There is 1 to {len(found.front)}."
        raise StringerlabError(Problem(what, f"-o {options.out}", remedy))
    genes = found.front[number - 1].genes
    if options.apply is not None:
        save(as_boat(project, plan, genes), options.out)
        return ["", *paragraph(f"{options.out}: the boat changed into design {number}."), ""]
    save(as_layout(project, plan, genes, f"Lighter {number}", in_use=True), options.out)
    left = left_as_is(project, plan, genes)
    stays = f" Given by hand, and left as it is: {', '.join(left)}." if left else ""
    said = f"{options.out}: design {number} as a layout beside the present one, and in use.{stays}"
    return ["", *paragraph(said), ""]


def _in_units(found: Sized, project: Project, system: System) -> Sized:
    """Return what was found with its designs in the units asked for."""
    if system is project.units:
        return found
    shown = replace(project, units=system)
    space = Space(variables_of(project, found.plan, tried=False))

    def again(one: Design) -> Design:
        return replace(one, values=space.words(one.genes, shown))

    boat = found.boat and replace(found.boat, values=own_values(space, shown))
    return replace(found, present=again(found.present), boat=boat, front=tuple(map(again, found.front)))


def page(found: Sized, project: Project, system: System) -> list[str]:
    """Return the lines of a search for a terminal."""
    text = [*paragraph(NOTICE), "", *paragraph(f"Project  {project.name}"), "", "What may change"]
    text += [line for mark, name in _marked(found) for line in paragraph(f"{mark}  {name}", "  ")]
    if found.front:
        money = project.rates.currency or "cost"
        priced = any(one.cost is not None for one in found.front)
        timed = any(one.hours is not None for one in found.front)
        columns = _columns(money, priced=priced, timed=timed, asked=_mechanics(found))
        now = _NOW if found.present_exact else f"{_NOW} *"
        rows = [
            _row(name, one, system, priced=priced, timed=timed, asked=_mechanics(found))
            for name, one in [(now, found.now), *((str(n), d) for n, d in enumerate(found.front, 1))]
        ]
        money_read = f"{money[:10].capitalize()}, hours: of the same. "
        text += ["", *paragraph(_READ + money_read * (priced or timed) + _MECH * _mechanics(found))]
        text += ["", *table(columns, rows)]
        if not found.present_exact:
            text += ["", *paragraph(_NONE_OF_THEM)]
    else:
        text += ["", "No design holds what must hold."]
        for one in found.broken:
            text += paragraph(one.words, "  ")
    text += ["", *bullets(found.notes)]
    return text


def _mechanics(found: Sized) -> bool:
    return any(one.mechanics is not None for one in found.front)


def _columns(money: str, *, priced: bool, timed: bool, asked: bool) -> list[Column]:
    columns = [Column("", 5, right=True), Column("mass", 9, right=True)]
    columns += [Column(money[:10], 10, right=True)] * priced
    columns += [Column("hours", 7, right=True)] * timed
    columns += [Column("used", 5, right=True)]
    columns += [Column("mech.", 5, right=True)] * asked
    left = WIDTH - sum(column.width + 2 for column in columns)
    return [
        *columns,
        Column("highest used", min(30, left // 2)),
        Column("design", left - min(30, left // 2) - 2),
    ]


def _row(
    name: str, one: Design, system: System, *, priced: bool, timed: bool, asked: bool
) -> tuple[str, ...]:
    row = [name, format(one.mass, Kind.MASS, system)]
    row += ["—" if one.cost is None else rounded(one.cost)] * priced
    row += ["—" if one.hours is None else rounded(one.hours, 3)] * timed
    row += [utilisation_text(one.use)]
    row += [utilisation_text(one.mechanics)] * asked
    worst = one.governing
    if one.mechanics is not None and one.mechanics > one.use:
        worst = f"{worst}; mechanics: {one.mechanics_governing}"
    design = "; ".join(f"{letter(number)} {words}" for number, words in enumerate(one.values))
    return (*row, worst, design)


def _marked(found: Sized) -> Iterator[tuple[str, str]]:
    for number, name in enumerate(found.names):
        yield letter(number), name


def as_json(found: Sized, project: Project) -> dict[str, Any]:
    """Return the documented JSON of a search: kg, mm, kn; a cost in the project's own currency."""
    space = Space(variables_of(project, found.plan, tried=False))
    return {
        "notice": NOTICE,
        "project": project.name,
        "space": found.space,
        "judged": found.judged,
        "ruled_out": found.ruled_out,
        "proven": found.proven,
        "seed": found.plan.seed,
        "lowers": [aim.value for aim in found.plan.aims],
        "currency": project.rates.currency,
        "present": {**_design(found.present, space), "exact": found.present_exact},
        "boat": found.boat and {"values": list(found.boat.values), **_numbers(found.boat)},
        "front": [_design(one, space) for one in found.front],
        "broken": [
            {"demand": one.demand.id, "words": one.words, "least": finite(one.least), "alone": one.alone}
            for one in found.broken
        ],
        "notes": list(found.notes),
    }


def _design(one: Design, space: Space) -> dict[str, Any]:
    return {
        "genes": list(one.genes),
        "changes": list(_changes(one, space)),
        **_numbers(one),
    }


def _numbers(one: Design) -> dict[str, Any]:
    return {
        "mass": quantity(finite(one.mass), Kind.MASS),
        "cost": finite(one.cost),
        "hours": value(finite(one.hours), "h"),
        "utilisation": finite(one.use),
        "governing": one.governing,
        "mechanics": finite(one.mechanics),
        "mechanics_governing": one.mechanics_governing,
        "ratios": [finite(ratio) for ratio in one.ratios],
    }


def _changes(one: Design, space: Space) -> Iterator[dict[str, Any]]:
    choices = space.choices(one.genes)
    for variable, choice in zip(space.variables, choices, strict=True):
        head = {"id": variable.id, "name": variable.name}
        if isinstance(variable, NumberVariable):
            unit = typed_unit(variable.number.change).symbol
            yield {**head, **value(variable.values[choice], unit)}
        elif isinstance(variable, PliesVariable):
            yield {**head, "plies": list(variable.unranked(choice))}


__all__ = ["as_json", "page", "plan_of", "run"]
