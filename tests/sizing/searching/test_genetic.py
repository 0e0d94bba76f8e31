"""Large spaces, searched: held against listing every design where they are small enough."""

import numpy as np
import pytest

from stringerlab.project.wishes import Aim, SizingPlan
from stringerlab.sizing.judging.dear import Dear
from stringerlab.sizing.searching.aims import values_of
from stringerlab.sizing.searching.archive import Archive
from stringerlab.sizing.searching.front import rounded
from stringerlab.sizing.searching.genetic import island
from stringerlab.sizing.searching.neighbours import looked_round, starts, walked
from stringerlab.sizing.searching.parts_first import put_together
from stringerlab.sizing.searching.splitting import split_of
from tests.sizing.searching.additive import MASS_AND_USE, Additive, brute


def searched(problem: Additive, plan: SizingPlan, budget: int, seed: int = 1) -> Archive:
    archive = Archive(problem, problem.columns, plan, lambda *_: None)
    present = np.zeros(len(problem.columns), np.int64)
    split = split_of(problem, problem.columns)
    put_together(archive, problem, split, present[None, :], budget // 5)
    first = np.concatenate([starts(archive, problem, present, budget // 5), archive.genes[:5]])
    island(archive, problem, seed, budget - archive.asked, first)
    return archive


@pytest.mark.parametrize("seed", range(6))
def test_a_search_finds_the_front_of_every_design(seed: int) -> None:
    problem = Additive(seed, (6, 5, 6, 5, 4), (0,), ((1,), (2,), (3,), (4,)))
    front, _ = brute(problem, SizingPlan(aims=(Aim.MASS,)))
    archive = searched(problem, SizingPlan(aims=(Aim.MASS,)), 3000)
    assert archive.values[0, 0] == rounded(front)[0, 0]
    assert archive.asked <= 3000


def test_a_search_of_two_aims_finds_nearly_all_of_the_front() -> None:
    problem = Additive(4, (6, 5, 6, 5, 4), (0,), ((1,), (2,), (3,), (4,)))
    front, _ = brute(problem, MASS_AND_USE)
    archive = searched(problem, MASS_AND_USE, 3000)
    found = {tuple(row) for row in archive.values.tolist()}
    assert len(found & {tuple(row) for row in rounded(front).tolist()}) >= 0.8 * len(front)
    assert problem.judge(archive.genes).holds.all()


@pytest.mark.parametrize("seed", range(4))
def test_a_walk_ends_where_no_single_change_betters_any_aim(seed: int) -> None:
    problem = Additive(seed, (6, 30, 6, 5, 40), (0,), ((1,), (2,), (3,), (4,)), unsound=0.0, ease=2.0)
    archive = Archive(problem, problem.columns, MASS_AND_USE, lambda *_: None)
    archive.judged(problem.sampled(20, seed))
    assert len(archive.genes)
    assert walked(archive, problem, 100_000)
    for aim in range(2):
        best = archive.genes[np.argmin(archive.values[:, aim])]
        near = np.array(
            [
                [*best[:column], choice, *best[column + 1 :]]
                for column, count in enumerate(problem.columns)
                for choice in range(count)
            ]
        )
        outcome = problem.judge(near)
        values = rounded(values_of(outcome, MASS_AND_USE))[outcome.holds, aim]
        assert values.min() == archive.values[:, aim].min()


def test_a_walk_keeps_to_its_budget_and_says_that_it_ended_there() -> None:
    problem = Additive(2, (6, 30, 6, 5, 40), (0,), ((1,), (2,), (3,), (4,)), ease=2.0, dear=(Dear((4,), 30),))
    archive = Archive(problem, problem.columns, MASS_AND_USE, lambda *_: None)
    archive.judged(problem.sampled(20, 1))
    before = archive.spent
    assert not walked(archive, problem, 200)
    assert archive.spent - before <= 200


def test_the_same_seed_gives_the_same_designs_and_another_seed_goes_another_way() -> None:
    problem = Additive(7, [9] * 12, (0,), [(i,) for i in range(1, 12)])
    first, again, other = (searched(problem, MASS_AND_USE, 1500, seed) for seed in (3, 3, 4))
    assert (first.genes == again.genes).all()
    assert first.seen == again.seen
    assert first.seen != other.seen


def test_designs_are_counted_once_however_often_they_are_judged() -> None:
    problem = Additive(1, (3, 4, 2), (0,), ((1,), (2,)))
    archive = searched(problem, MASS_AND_USE, 500)
    assert len(archive.seen) <= 24
    assert archive.asked > 24


def test_designs_in_a_space_beyond_64_bits_are_told_apart() -> None:
    problem = Additive(1, [4] * 40, (), [(i,) for i in range(40)])
    archive = Archive(problem, problem.columns, MASS_AND_USE, lambda *_: None)
    genes = np.unique(problem.sampled(5000, 1), axis=0)
    assert len(set(archive.keys(genes).tolist())) == len(genes)


def test_something_that_holds_is_found_in_a_space_of_1e30() -> None:
    problem = Additive(4, [10] * 30, (), [(i,) for i in range(30)], ease=1.2, unsound=0.02)
    archive = searched(problem, MASS_AND_USE, 4000)
    assert problem.count == 10**30
    assert len(archive.genes)
    assert problem.judge(archive.genes).holds.all()
    assert not problem.judge(problem.sampled(4000, 1)).holds.any()


def test_where_nothing_holds_the_nearest_seen_is_kept() -> None:
    problem = Additive(5, (5, 4, 6), (1,), ((0,), (2,)), ease=0.25)
    _, ratios = brute(problem, MASS_AND_USE)
    archive = searched(problem, MASS_AND_USE, 800)
    assert archive.nearest is not None
    assert archive.nearest.ratios.max() == pytest.approx(ratios.max(axis=1).min(), rel=1e-12)


def test_a_look_round_ends_where_no_neighbour_is_better() -> None:
    problem = Additive(8, (6, 5, 6), (0,), ((1,), (2,)))
    archive = Archive(problem, problem.columns, MASS_AND_USE, lambda *_: None)
    archive.judged(problem.sampled(10, 1))
    assert looked_round(archive, problem, 10_000)
    for genes in archive.genes:
        for column, count in enumerate(problem.columns):
            near = np.tile(genes, (count, 1))
            near[:, column] = np.arange(count)
            assert not archive.new(near).any()
    assert not looked_round(archive, problem, 0) or archive.asked > 0
