"""Size for me, on sample boats: the same answer however it runs, what is said of it, and bad input."""

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from stringerlab.assess.check import Cancelled, check
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout.as_built import AsBuilt
from stringerlab.methods import Aspect, FindingKind
from stringerlab.project import Project
from stringerlab.project.wishes import Aim, Change, Demand, Holds, Number, Plies, SizingPlan, Weights
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.plain import measured
from stringerlab.sizing.records import Design, Genes, Outcome, Sized
from stringerlab.sizing.running import Running
from stringerlab.sizing.searching import runs as searching
from stringerlab.sizing.searching.size import size
from stringerlab.sizing.searching.tasks import judging

HERE = Running(workers=1)
AT_MOST = Demand(id="d1", holds=Holds.USE, limit=1.0)


@cache
def boat(name: str = "first_hat_lesson") -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def number(
    name: str, change: Change, of: str, least: float, most: float, step: float, ply: int = 0
) -> Number:
    return Number(id=name, change=change, of=(of,), least=least, most=most, step=step, ply=ply)


HAT = (
    number("n1", Change.HEIGHT, "s3", 61.6, 131.6, 10),
    number("n2", Change.CROWN_WIDTH, "s3", 46.2, 96.2, 10),
    number("n3", Change.REPEATS, "l1", 0, 2, 1, ply=4),
    number("n4", Change.REPEATS, "l2", 0, 2, 1, ply=3),
)
PLAN = SizingPlan(numbers=HAT, demands=(AT_MOST,))
SHELL = Plies(
    id="k1",
    laminate="l1",
    menu=("csm450", "csm300", "wr600", "wr800"),
    least=3,
    most=24,
    kept=2,
    mat_between=False,
)
STRINGER = Plies(
    id="k2", laminate="l2", menu=("csm450", "csm300", "wr600", "wr800"), least=3, most=30, mat_between=False
)


def found(sized: Sized) -> tuple[tuple[Design, ...], int, int, bool]:
    return sized.front, sized.judged, sized.ruled_out, sized.proven


def test_lighter_designs_hold_and_say_how_much_of_the_space_was_seen() -> None:
    sized = size(boat(), PLAN, running=HERE)
    assert sized.proven
    assert sized.space == 8 * 6 * 3 * 3 == sized.judged + sized.ruled_out
    assert sized.present_exact
    assert sized.present.mass == pytest.approx(measured(boat()).mass, rel=1e-12)
    assert sized.front[0].mass < sized.present.mass
    masses, uses = [one.mass for one in sized.front], [one.use for one in sized.front]
    assert masses == sorted(masses)
    assert uses == sorted(uses, reverse=True)
    assert max(uses) <= 1
    assert all(one.mechanics is None for one in sized.front)
    assert sized.notes[0].startswith("Proven: every one of the 432 designs was looked at or ruled out: ")
    assert not sized.broken


@pytest.fixture
def small_islands(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have even a small budget give two islands."""
    monkeypatch.setattr(searching, "PER_ISLAND", 400)


def unprovable(budget: int = 1_500) -> SizingPlan:
    return replace(
        PLAN, laminates=(), budget=budget, numbers=(*HAT, number("n5", Change.SPACING, "p5", 250, 450, 2))
    )


@pytest.mark.usefixtures("small_islands")
def test_a_search_gives_the_same_for_a_seed_on_one_core_and_on_two() -> None:
    plan = unprovable()
    one, two = (size(boat(), plan, running=Running(workers=workers)) for workers in (1, 2))
    assert not one.proven
    assert found(one) == found(two)
    assert one.judged <= plan.budget
    assert one.front
    assert f"{one.judged} of " in one.notes[0]
    assert one.notes[0].startswith("Found, not proven")
    other = size(boat(), replace(plan, seed=2), running=HERE)
    assert found(other) != found(one)


def test_a_search_comes_to_the_front_that_a_proof_proves() -> None:
    searched, proved = (size(boat(), unprovable(budget), running=HERE) for budget in (4000, 10**6))
    assert not searched.proven
    assert proved.proven
    assert searched.judged < proved.space / 10
    assert [one.mass for one in searched.front] == pytest.approx([one.mass for one in proved.front], rel=1e-9)
    assert [one.use for one in searched.front] == pytest.approx([one.use for one in proved.front], rel=1e-9)


def test_a_proof_gives_the_same_on_one_core_and_on_two(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(searching, "TASKS", 3)
    monkeypatch.setattr(searching, "PER_TASK", 30)
    one, two = (size(boat(), PLAN, running=Running(workers=workers)) for workers in (1, 2))
    monkeypatch.undo()
    whole = size(boat(), PLAN, running=HERE)
    assert found(one) == found(two)
    assert one.front == whole.front


@pytest.mark.usefixtures("small_islands")
def test_a_run_stopped_goes_on_from_its_journal(tmp_path: Path) -> None:
    running = Running(workers=1, journal=tmp_path / "run.jsonl")
    plan = unprovable()

    def stop_midway(done: float, words: str) -> None:
        if done > 0.6:
            raise Cancelled

    with pytest.raises(Cancelled):
        size(boat(), plan, running=running, watch=stop_midway)
    resumed = size(boat(), plan, running=running)
    assert found(resumed) == found(size(boat(), plan, running=HERE))
    assert len(resumed.notes) > len(size(boat(), plan, running=HERE).notes)


def test_a_watch_sees_it_through_and_can_end_it() -> None:
    parts: list[float] = []
    size(boat(), PLAN, running=HERE, watch=lambda done, _: parts.append(done))
    assert parts == sorted(parts)
    assert parts[0] == 0
    assert parts[-1] == 1

    def stop(done: float, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        size(boat(), PLAN, running=HERE, watch=stop)


def test_progress_is_told_of_before_the_search_and_within_every_design_judged_again() -> None:
    judging.cache_clear()
    told: list[tuple[float, str]] = []
    sized = size(boat(), PLAN, running=HERE, watch=lambda done, words: told.append((done, words)))
    before = [done for done, words in told if words == "Trying what nothing here changes"]
    assert max(before) == pytest.approx(0.05)
    again = {done for done, words in told if words == "Judging the best again, one by one"}
    assert len(again) > 2 * len(sized.front)


def test_it_can_be_ended_while_what_judges_designs_is_made() -> None:
    told: list[str] = []

    def stop(done: float, words: str) -> None:
        told.append(words)
        if len(told) == 2:
            raise Cancelled

    plan = replace(PLAN, numbers=(number("a", Change.HEIGHT, "s5", 100, 170, 7),))
    with pytest.raises(Cancelled):
        size(boat("eelgrass_workboat"), plan, running=HERE, watch=stop)
    assert told == ["Reading what may change"] * 2


def test_a_space_of_1e30_says_so_and_something_that_holds_is_found() -> None:
    plan = SizingPlan(numbers=HAT[:2], laminates=(SHELL, STRINGER), demands=(AT_MOST,), budget=300)
    sized = size(boat(), plan, running=HERE)
    assert sized.space > 10**30
    assert not sized.proven
    assert 0 < sized.judged <= 300
    assert sized.front
    assert "a vanishing part" in sized.notes[0]
    assert "·10³" in sized.notes[0]


def test_a_weighted_mix_is_the_sum_of_what_it_weighs() -> None:
    plain = boat("tidewrack_plain")
    numbers = (number("n1", Change.HEIGHT, "s20", 200, 230, 10), number("n2", Change.BEAD, "s20", 5, 7, 1))
    plan = SizingPlan(
        numbers=numbers, demands=(), aims=(Aim.MIX,), weights=Weights(mass=10, cost=1, labour=50)
    )
    (best,) = size(plain, plan, running=HERE).front
    every = size(plain, replace(plan, aims=(Aim.MASS, Aim.COST, Aim.LABOUR, Aim.USE)), running=HERE).front
    mixes = [10 * one.mass + (one.cost or 0) + 50 * (one.hours or 0) for one in every]
    assert 10 * best.mass + (best.cost or 0) + 50 * (best.hours or 0) == pytest.approx(min(mixes), rel=1e-9)


def test_mechanics_and_grid_are_asked_of_the_designs_shown_alone() -> None:
    plan = replace(PLAN, numbers=HAT[:1], aims=(Aim.MASS,))
    sized = size(boat(), plan, running=HERE, mechanics=True)
    (best,) = sized.front
    (variable,) = variables_of(boat(), plan)
    findings = check(variable.applied(boat(), best.genes[0])).findings
    worst = max(one.utilisation or 0 for one in findings if one.kind is not FindingKind.RULE)
    assert best.mechanics == pytest.approx(worst, rel=1e-9)
    assert best.mechanics_governing
    assert any("no rule" in note for note in sized.notes)


def test_mechanics_are_asked_of_the_present_boat_too() -> None:
    plan = replace(PLAN, numbers=HAT[:1], aims=(Aim.MASS,))
    sized = size(boat(), plan, running=HERE, mechanics=True)
    findings = check(boat()).findings
    worst = max(one.utilisation or 0 for one in findings if one.kind is not FindingKind.RULE)
    assert sized.present_exact
    assert sized.boat is None
    assert sized.now.mechanics == pytest.approx(worst, rel=1e-9)


def test_a_boat_that_is_none_of_the_designs_is_told_by_her_own_numbers() -> None:
    numbers = (number("n1", Change.HEIGHT, "s3", 66.6, 126.6, 10), *HAT[2:3])
    plan = replace(PLAN, numbers=numbers)
    sized = size(boat(), plan, running=HERE, mechanics=True)
    assert not sized.present_exact
    assert sized.boat is not None
    assert sized.now is sized.boat
    truly = measured(boat())
    assert sized.boat.mass == pytest.approx(truly.mass, rel=1e-12)
    assert sized.boat.ratios == pytest.approx((truly.use,), rel=1e-12)
    assert sized.boat.values[0] == "4 in"
    assert sized.boat.mechanics is not None
    assert sized.present.mass != pytest.approx(sized.boat.mass, rel=1e-6)
    assert sized.boat.genes == sized.present.genes


def test_measurements_as_built_are_said_to_be_left_out() -> None:
    built = replace(boat(), as_built=AsBuilt())
    said = [size(one, replace(PLAN, numbers=HAT[:1]), running=HERE).notes for one in (boat(), built)]
    assert [any("as built" in note for note in notes) for notes in said] == [False, True]


def test_a_search_says_what_its_budget_went_on() -> None:
    plan = replace(PLAN, numbers=HAT[:2], laminates=(SHELL,), budget=1_500)
    sized = size(boat(), plan, running=HERE)
    [said] = [note for note in sized.notes if note.startswith("Of the budget of 1 500, ")]
    numbers = [
        int(one.replace(" ", "")) for one in re.findall(r"\d+(?: \d{3})*(?= (?:went|on|were|paid))", said)
    ]
    assert sum(numbers) == plan.budget
    assert numbers[0] >= sized.judged
    assert "laminates" in said


def test_the_lightest_found_is_no_heavier_than_any_that_lies_one_change_away() -> None:
    plan = unprovable(4000)
    sized = size(boat(), plan, running=HERE)
    judge = Judge(boat(), plan)
    best = min(sized.front, key=lambda one: one.mass)
    near = [
        [*best.genes[:column], choice, *best.genes[column + 1 :]]
        for column, count in enumerate(judge.space.columns)
        for choice in range(count)
    ]
    outcome = judge.judge(np.array(near))
    assert outcome.mass[outcome.holds].min() == pytest.approx(best.mass, rel=1e-9)


def test_a_demand_that_cannot_hold_is_named_with_how_near_it_comes() -> None:
    demands = (AT_MOST, Demand(id="d2", holds=Holds.HEIGHT, limit=40, of=("s3",)))
    sized = size(boat(), replace(PLAN, demands=demands), running=HERE)
    assert not sized.front
    assert sized.proven
    (broken,) = sized.broken
    assert broken.demand.id == "d2"
    assert broken.alone
    assert broken.least == pytest.approx(61.6 / 40, rel=1e-9)
    assert "Hat stringer" in broken.words
    assert "times the limit" in broken.words


def test_demands_that_hold_alone_but_not_together_are_told_so() -> None:
    plan = replace(PLAN, numbers=HAT[:1])
    (variable,) = variables_of(boat(), plan)
    tallest = measured(variable.applied(boat(), variable.count - 1)).findings
    stiffest = min(one.utilisation or 1 for one in tallest.values() if one.aspect is Aspect.MODULUS)
    low = Demand(id="d1", holds=Holds.HEIGHT, limit=80, of=("s3",))
    stiff = Demand(id="d2", holds=Holds.USE, limit=stiffest * 1.01, aspect=Aspect.MODULUS)
    assert size(boat(), replace(plan, demands=(low,)), running=HERE).front
    assert size(boat(), replace(plan, demands=(stiff,)), running=HERE).front
    sized = size(boat(), replace(plan, demands=(low, stiff)), running=HERE)
    assert not sized.front
    assert sized.broken
    assert all(not one.alone for one in sized.broken)
    assert all(one.least > 1 for one in sized.broken)
    assert all("not together" in one.words for one in sized.broken)


def test_cost_and_labour_without_rates_say_where_rates_are_set() -> None:
    with pytest.raises(StringerlabError) as error:
        size(boat(), replace(PLAN, aims=(Aim.COST, Aim.LABOUR)), running=HERE)
    assert len(error.value.problems) == 2
    assert all("Take-off" in one.remedy for one in error.value.problems)
    with pytest.raises(StringerlabError, match="no weight"):
        size(boat(), replace(PLAN, aims=(Aim.MIX,), weights=Weights(mass=0)), running=HERE)
    with pytest.raises(StringerlabError, match="Nothing is to be lowered"):
        size(boat(), replace(PLAN, aims=()), running=HERE)


def test_nothing_may_change_is_told_with_all_else_that_is_wrong() -> None:
    with pytest.raises(StringerlabError) as error:
        size(boat(), SizingPlan(aims=(Aim.COST,)), running=HERE)
    assert len(error.value.problems) == 2


def test_a_search_that_disagrees_with_the_check_gives_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    honest: Callable[[Judge, Genes], Outcome] = Judge.judge

    def lighter(judge: Judge, genes: Genes) -> Outcome:
        outcome = honest(judge, genes)
        return replace(outcome, mass=outcome.mass * (1 - 1e-8))

    monkeypatch.setattr(Judge, "judge", lighter)
    with pytest.raises(StringerlabError, match="disagree: mass"):
        size(boat(), PLAN, running=HERE)
