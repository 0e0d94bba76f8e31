"""Small spaces, proven: held against listing every design."""

import numpy as np
import pytest

from stringerlab.project.wishes import Aim, SizingPlan
from stringerlab.sizing.searching.aims import values_of
from stringerlab.sizing.searching.exhaustive import explored
from stringerlab.sizing.searching.front import nondominated
from stringerlab.sizing.searching.nearest import nearest_of_all
from stringerlab.sizing.searching.splitting import split_of
from tests.sizing.searching.additive import MASS_AND_USE, Additive, brute

PLANS = (
    MASS_AND_USE,
    SizingPlan(aims=(Aim.MASS,)),
    SizingPlan(aims=(Aim.COST, Aim.LABOUR)),
    SizingPlan(aims=(Aim.MASS, Aim.COST, Aim.USE)),
)
Shape = tuple[tuple[int, ...], tuple[int, ...], tuple[tuple[int, ...], ...]]
SHAPES: tuple[Shape, ...] = (
    ((4, 3, 5, 4), (1,), ((0,), (2, 3))),
    ((3, 4, 2, 5, 2), (0, 3), ((1,), (2,), (4,))),
    ((30, 7), (0, 1), ()),
    ((6, 5, 4), (), ((0,), (1,), (2,))),
    ((3, 2, 7), (0,), ((2,),)),  # the middle one changes nothing
)


def searched(problem: Additive, plan: SizingPlan, known: np.ndarray | None = None):
    split = split_of(problem, problem.columns)
    none = np.zeros((0, len(plan.aims)))
    base = np.zeros(len(problem.columns), np.int64)
    return explored(
        problem, split, plan, (0, split.outers), base, none if known is None else known, lambda *_: None
    )


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("seed", range(5))
def test_front_is_that_of_every_design(plan: SizingPlan, shape: Shape, seed: int) -> None:
    problem = Additive(seed, *shape)
    front, _ = brute(problem, plan)
    found = searched(problem, plan)
    assert found.complete
    assert found.values[np.lexsort(found.values.T[::-1])] == pytest.approx(front, rel=1e-12)
    outcome = problem.judge(found.genes)
    assert outcome.holds.all()
    assert values_of(outcome, plan) == pytest.approx(found.values, rel=1e-12)
    assert found.whole + found.ruled_out == split_of(problem, problem.columns).outers


def test_a_front_known_before_spares_judging() -> None:
    """What the first half comes to rules out parts of the second, which loses nothing of the whole by it."""
    problem = Additive(3, (600, 40, 9), (0,), ((1,), (2,)), ease=4.0, rest=10)
    split = split_of(problem, problem.columns)
    base, none = np.zeros(3, np.int64), np.zeros((0, 2))
    half, alone = (
        explored(problem, split, MASS_AND_USE, span, base, none, lambda *_: None)
        for span in ((0, 300), (300, 600))
    )
    after = explored(problem, split, MASS_AND_USE, (300, 600), base, half.values, lambda *_: None)
    assert after.parts < alone.parts < 300 * (1 + 40 + 9)
    together, less = (np.concatenate([half.values, other.values]) for other in (alone, after))
    assert {tuple(row) for row in together[nondominated(together)]} == {
        tuple(row) for row in less[nondominated(less)]
    }


@pytest.mark.parametrize("seed", range(10))
def test_what_is_known_before_rules_out_more_and_loses_nothing(seed: int) -> None:
    problem = Additive(seed, (300, 6, 6), (0,), ((1,), (2,)))
    alone = searched(problem, MASS_AND_USE)
    rows = problem.rows
    after = searched(problem, MASS_AND_USE, alone.values)
    assert problem.rows - rows <= rows
    assert after.ruled_out >= alone.ruled_out > 0
    assert {tuple(row) for row in after.values} == {tuple(row) for row in alone.values}


def test_outer_choices_apart_give_the_front_of_all_together() -> None:
    problem = Additive(3, (24, 5, 4), (0,), ((1,), (2,)))
    split = split_of(problem, problem.columns)
    base, none = np.zeros(3, np.int64), np.zeros((0, 2))
    parts = [
        explored(problem, split, MASS_AND_USE, (at, at + 5), base, none, lambda *_: None)
        for at in range(0, 20, 5)
    ]
    parts.append(explored(problem, split, MASS_AND_USE, (20, 24), base, none, lambda *_: None))
    values = np.concatenate([part.values for part in parts])
    front, _ = brute(problem, MASS_AND_USE)
    assert {tuple(np.round(row, 9)) for row in front} <= {tuple(np.round(row, 9)) for row in values}


@pytest.mark.parametrize("seed", range(10))
def test_where_nothing_holds_the_nearest_is_that_of_every_design(seed: int) -> None:
    problem = Additive(seed, (5, 4, 6), (1,), ((0,), (2,)), ease=0.25)
    front, ratios = brute(problem, MASS_AND_USE)
    assert not len(front)
    found = searched(problem, MASS_AND_USE)
    assert not len(found.genes)
    near = found.nearest
    assert near is not None
    assert near.least == pytest.approx(ratios.min(axis=0), rel=1e-12)
    assert near.ratios.max() == pytest.approx(ratios.max(axis=1).min(), rel=1e-12)
    assert problem.judge(near.genes).ratios == pytest.approx(near.ratios, rel=1e-12)
    assert nearest_of_all([near, near]).ratios == pytest.approx(near.ratios)


def test_where_nothing_can_be_built_nothing_is_near() -> None:
    problem = Additive(1, (3, 4), (0,), ((1,),), unsound=1.1)
    near = searched(problem, MASS_AND_USE).nearest
    assert near is not None
    assert not len(near.genes)
    assert np.isinf(near.least).all()


def test_more_designs_than_could_be_listed_are_proven_part_by_part() -> None:
    """30 groups of 10 choices are 10³⁰ designs, and 300 parts."""
    problem = Additive(2, [10] * 30, (), [(i,) for i in range(30)], unsound=0.0, ease=3.0)
    split = split_of(problem, problem.columns)
    assert split.each == 10**30
    assert split.effort == 301
    found = searched(problem, SizingPlan(aims=(Aim.MASS,)))
    lightest = problem.rest(np.zeros((1, 30), np.int64)).mass[0]
    for group in range(30):
        own = np.zeros((10, 30), np.int64)
        own[:, group] = np.arange(10)
        part = problem.part(group, own)
        lightest += part.mass[part.holds].min()
    assert found.values[0, 0] == pytest.approx(lightest, rel=1e-12)


def test_a_watch_ends_it() -> None:
    class Stopped(Exception):  # noqa: N818
        pass

    def watch(done: float, words: str) -> None:
        raise Stopped

    problem = Additive(3, (24, 5, 4), (0,), ((1,), (2,)))
    split = split_of(problem, problem.columns)
    with pytest.raises(Stopped):
        explored(problem, split, MASS_AND_USE, (0, 24), np.zeros(3, np.int64), np.zeros((0, 2)), watch)
