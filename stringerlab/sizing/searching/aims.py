"""What a plan lowers, as columns of numbers, and what a search needs of what judges designs. kg, h, money."""

from typing import Protocol

import numpy as np

from stringerlab.errors import Problem
from stringerlab.project import Project, book_of
from stringerlab.project.wishes import Aim, SizingPlan, Weights
from stringerlab.sizing.amounts import is_priced, is_timed, sound_rates
from stringerlab.sizing.judging.dear import Dear
from stringerlab.sizing.records import Genes, Mask, Outcome
from stringerlab.workings import Array


class Judging(Protocol):
    """What judges many designs at once, whole or in parts: ``judge.Judge``, or another in its place."""

    @property
    def outer(self) -> tuple[int, ...]:
        """Columns of genes that enter more than one group of spans, or what all stand on."""
        ...

    @property
    def groups(self) -> tuple[tuple[int, ...], ...]:
        """Columns of genes that enter one group of spans alone."""
        ...

    @property
    def dear(self) -> tuple[Dear, ...]:
        """What is made anew for combinations of some columns, and its cost in designs."""
        ...

    def judge(self, genes: Genes) -> Outcome:
        """Judge whole designs."""
        ...

    def rest(self, genes: Genes) -> Outcome:
        """Judge all that depends on outer columns alone."""
        ...

    def part(self, group: int, genes: Genes, /) -> Outcome:
        """Judge the spans and members of one group."""
        ...


def values_of(outcome: Outcome, plan: SizingPlan) -> Array:
    """Return what every aim of a plan lowers (n, k); inf where a design cannot be built."""
    columns = [_column(outcome, aim, plan.weights) for aim in aims_of(plan)]
    return np.where(outcome.sound[:, None], np.stack(columns, axis=1), np.inf)


def aims_of(plan: SizingPlan) -> tuple[Aim, ...]:
    """Return a plan's aims, each once."""
    return tuple(dict.fromkeys(plan.aims))


def that_add(plan: SizingPlan) -> Mask:
    """Return which aims of a plan add over parts; the highest utilisation is the highest of the parts."""
    return np.array([aim is not Aim.USE for aim in aims_of(plan)])


def mix_of(mass: float, cost: float | None, hours: float | None, weights: Weights) -> float:
    """Return the weighted mix; nan where something weighed in is not known."""
    terms = ((weights.mass, mass), (weights.cost, cost), (weights.labour, hours))
    return sum(weight * (float("nan") if term is None else term) for weight, term in terms if weight > 0)


def excess(outcome: Outcome) -> Array:
    """Return how far the worst demand of every design is over its limit (n,): 0 where all hold."""
    if not outcome.ratios.shape[1]:
        return np.where(outcome.sound, 0.0, np.inf)
    worst = np.where(np.isnan(outcome.ratios), np.inf, outcome.ratios).max(axis=1)
    return np.where(outcome.sound, np.maximum(worst - 1, 0.0), np.inf)


def problems_of_aims(plan: SizingPlan, project: Project) -> tuple[Problem, ...]:
    """Return why a plan cannot be lowered: no aim, no weight, or nothing to count cost or labour by."""
    aims, weights = aims_of(plan), plan.weights
    rates = sound_rates(project.rates, book_of(project))
    where = "sizing, what to lower"
    if not aims:
        return (Problem("Nothing is to be lowered.", where, "Choose mass, cost, labour or utilisation."),)
    found: list[Problem] = []
    mixed = Aim.MIX in aims
    if mixed and not (weights.mass > 0 or weights.cost > 0 or weights.labour > 0):
        found.append(Problem("The weighted mix has no weight.", where, "Set a weight above 0."))
    if (Aim.COST in aims or (mixed and weights.cost > 0)) and not is_priced(rates):
        found.append(
            Problem(
                "Cost is to be lowered, but nothing is priced.",
                where,
                "Set prices of materials, or rates of labour with the cost of an hour, under Rates on "
                "Take-off (rates in the file); or lower the mass.",
            )
        )
    if (Aim.LABOUR in aims or (mixed and weights.labour > 0)) and not is_timed(rates):
        found.append(
            Problem(
                "Labour is to be lowered, but no rate of labour is set.",
                where,
                "Set rates of lay-up, gel coating, bonding or filling under Rates on Take-off "
                "(rates in the file); or lower the mass.",
            )
        )
    return tuple(found)


def _column(outcome: Outcome, aim: Aim, weights: Weights) -> Array:
    match aim:
        case Aim.MASS:
            return outcome.mass
        case Aim.COST:
            return outcome.cost
        case Aim.LABOUR:
            return outcome.hours
        case Aim.USE:
            return outcome.use
        case Aim.MIX:
            terms = (
                (weights.mass, outcome.mass),
                (weights.cost, outcome.cost),
                (weights.labour, outcome.hours),
            )
            return sum((weight * term for weight, term in terms if weight > 0), np.zeros(len(outcome.mass)))
