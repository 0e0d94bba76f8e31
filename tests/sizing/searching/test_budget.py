"""A budget is spent on designs and on what is made anew for them: once, and never overdrawn."""

import numpy as np

from stringerlab.project.wishes import SizingPlan
from stringerlab.sizing.judging.dear import Dear
from stringerlab.sizing.searching.archive import Archive
from stringerlab.sizing.searching.genetic import island
from stringerlab.sizing.searching.splitting import split_of
from tests.sizing.searching.additive import MASS_AND_USE, Additive

SETTINGS = Dear((0, 1), 50)


def archive_of(problem: Additive, plan: SizingPlan = MASS_AND_USE) -> Archive:
    return Archive(problem, problem.columns, plan, unwatched)


def unwatched(done: float, words: str) -> None:
    del done, words


def test_a_setting_is_paid_once() -> None:
    problem = Additive(1, (10, 10, 10), (0, 1), ((2,),), dear=(SETTINGS,))
    archive = archive_of(problem)
    genes = np.array([[0, 0, 1], [0, 0, 2], [3, 4, 1]])
    assert archive.price(genes) == 3 + 2 * 50
    archive.judged(genes)
    assert archive.spent == 103
    assert archive.asked == 3
    assert archive.price(genes) == 3
    assert archive.price(np.array([[0, 0, 5], [4, 3, 5]])) == 2 + 50


def test_only_so_many_are_judged_as_can_be_paid() -> None:
    problem = Additive(1, (10, 10, 10), (0, 1), ((2,),), dear=(SETTINGS,))
    archive = archive_of(problem)
    genes = np.array([[row, 0, 0] for row in range(10)])
    assert len(archive.affordable(genes, 51)) == 1
    assert len(archive.affordable(genes, 153)) == 3
    assert len(archive.affordable(genes, 50)) == 0
    assert len(archive.affordable(genes, 10_000)) == 10


def test_an_island_of_dear_settings_keeps_to_its_budget() -> None:
    problem = Additive(3, (40, 40, 10), (0, 1), ((2,),), dear=(SETTINGS,), unsound=0.0, ease=2.0)
    archive = archive_of(problem)
    island(archive, problem, 1, 20_000, problem.sampled(4, 1))
    assert archive.spent <= 20_000
    assert archive.asked < 20_000 / 10
    assert len(archive.genes)


def test_proving_a_space_counts_every_setting() -> None:
    problem = Additive(1, (10, 10, 10), (0, 1), ((2,),), dear=(SETTINGS,))
    assert split_of(problem, problem.columns).effort == 100 * 11 + 100 * 50
