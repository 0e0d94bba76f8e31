"""Twenty small problems on sample boats: the proven front is what trying every design one by one gives.

Every design is drawn, resolved, checked and taken off on its own; no part of the search has a hand in it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import product

import numpy as np
import pytest

from stringerlab.assess.check import check
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.methods import Aspect, FindingKind
from stringerlab.project import Project
from stringerlab.project.wishes import Aim, Change, Demand, Holds, Plies, SizingPlan
from stringerlab.sizing.amounts import amounts_of
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import all_steps, variables_of
from stringerlab.sizing.running import Running
from stringerlab.sizing.searching.size import size

SMALL = ("first_hat_lesson", "bladderwrack_parent", "eelgrass_workboat")
LARGE = ("tidewrack_plain", "tidewrack_grid", "tidewrack_layout")
BOATS = [SMALL[seed % 3] for seed in range(14)] + [LARGE[seed % 3] for seed in range(6)]


@dataclass(frozen=True)
class Tried:
    """One design, tried on its own."""

    aims: dict[Aim, float]
    use: float
    modulus: float
    found: dict[tuple[str, str], float]

    def holds(self, demands: Sequence[Demand]) -> bool:
        return self.use <= demands[0].limit and self.modulus <= demands[1].limit


@cache
def boat(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def random_plan(project: Project, seed: int, most: int) -> SizingPlan:
    """Return a plan of a few things that may change, and a limit of utilisation about the present one."""
    rng = np.random.default_rng(seed)
    steps = [one for one in all_steps(project) if one.of and one.change is not Change.LENGTH]
    present = tried(project, (Aim.USE,))
    aims = ((Aim.MASS, Aim.USE), (Aim.MASS,), (Aim.USE, Aim.MASS))[seed % 3]
    if project.rates.prices:
        aims = ((Aim.COST, Aim.USE), (Aim.MASS, Aim.LABOUR), (Aim.MASS, Aim.COST, Aim.USE))[seed % 3]
    laminate = project.laminates[1]
    plies = Plies(
        id="k1",
        laminate=laminate.id,
        menu=tuple(dict.fromkeys(ply.material for ply in laminate.plies))[:3],
        least=len(laminate.plies) - 2,
        most=len(laminate.plies) - 1,
        kept=len(laminate.plies) - 3,
    )
    for _ in range(60):
        own = (plies,) if rng.random() < 0.4 else ()
        count = 2 if own else (4 if project.name == boat(SMALL[0]).name else 3)
        numbers = tuple(steps[int(i)] for i in rng.choice(len(steps), count, replace=False))
        plan = SizingPlan(
            numbers=numbers,
            laminates=own,
            demands=(
                Demand(id="d1", holds=Holds.USE, limit=float(present.use * rng.uniform(0.97, 1.25))),
                Demand(id="d2", holds=Holds.USE, limit=float(rng.uniform(0.8, 1)), aspect=Aspect.MODULUS),
            ),
            aims=aims,
        )
        try:
            variables = variables_of(project, plan)
        except StringerlabError:
            continue
        if 8 <= np.prod([one.count for one in variables]) <= most:
            return plan
    raise AssertionError("no plan")


def tried(project: Project, aims: Sequence[Aim]) -> Tried:
    """Try one design by itself."""
    results = check(project, topics=())
    rule = [one for one in results.findings if one.kind is FindingKind.RULE and one.utilisation is not None]
    amounts = amounts_of(project, results.resolved)
    use = max(one.utilisation or 0.0 for one in rule)
    told = {Aim.MASS: amounts.mass, Aim.COST: amounts.cost, Aim.LABOUR: amounts.hours, Aim.USE: use}
    return Tried(
        {aim: told[aim] for aim in aims},
        use,
        max((one.utilisation or 0.0 for one in rule if one.aspect is Aspect.MODULUS), default=0.0),
        {(one.subject, one.aspect): one.utilisation or 0.0 for one in rule},
    )


def brute(project: Project, plan: SizingPlan) -> list[tuple[float, ...]]:
    """Return the aims of every design that holds and no other beats, by trying them all."""
    space = Space(variables_of(project, plan))
    judged = tried(project, plan.aims).found.keys()
    found: list[Tried] = []
    for choices in product(*(range(count) for count in space.columns)):
        try:
            design = space.applied(project, choices)
        except StringerlabError:
            continue  # it cannot be drawn
        one = tried(design, plan.aims)
        if one.found.keys() >= judged:
            found.append(one)
    changing = [key for key in judged if not stands([one.found[key] for one in found])]
    rows = [
        tuple(
            max(one.found[key] for key in changing) if aim is Aim.USE else one.aims[aim] for aim in plan.aims
        )
        for one in found
        if one.holds(plan.demands)
    ]
    return [row for row in rows if not any(beats(other, row) for other in rows)]


def stands(values: Sequence[float]) -> bool:
    """Whether a finding is the same in every design."""
    return max(values) - min(values) <= 1e-12 * max(values)


def beats(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether a design is no worse in any aim and better in one, by more than rounding."""
    near = [abs(a - b) <= 1e-9 * abs(b) for a, b in zip(one, other, strict=True)]
    less = [a < b for a, b in zip(one, other, strict=True)]
    return all(n or l for n, l in zip(near, less, strict=True)) and not all(near)


def same(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(abs(a - b) <= 2e-9 * abs(b) for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize("seed", range(20))
def test_the_proven_front_is_that_of_trying_every_design(seed: int) -> None:
    project = boat(BOATS[seed])
    plan = random_plan(project, seed, 81 if BOATS[seed] in SMALL else 20)
    found = size(project, plan, running=Running(workers=1))
    wanted = brute(project, plan)
    assert found.proven
    assert found.judged + found.ruled_out == found.space
    got = [tuple(design.value(aim, 0.0) for aim in plan.aims) for design in found.front]
    assert all(any(same(row, other) for other in got) for row in wanted)
    assert all(any(same(row, other) for other in wanted) for row in got)
    assert bool(found.broken) == (not wanted)
