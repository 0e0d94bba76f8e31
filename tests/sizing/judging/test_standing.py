"""What nothing in a space changes is no part of the highest use, is said, and still breaks demands."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.methods import Aspect, FindingKind
from stringerlab.project import Project
from stringerlab.project.wishes import Change, Demand, Holds, Number, SizingPlan
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.plain import measured
from stringerlab.sizing.records import Genes, Outcome
from stringerlab.sizing.running import Running
from stringerlab.sizing.searching.size import size

HEIGHT = Number(id="v1", change=Change.HEIGHT, of=("s5",), least=100, most=170, step=5)
HERE = Running(workers=1)


@cache
def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def used(project: Project) -> dict[tuple[str, str], float]:
    """Return every rule finding's utilisation by subject and aspect, the plain way."""
    return {
        (one.subject, one.aspect): one.utilisation
        for one in measured(project).findings.values()
        if one.kind is FindingKind.RULE and one.utilisation is not None
    }


def test_a_panel_that_no_hat_height_changes_does_not_pin_the_highest_utilisation() -> None:
    judge = Judge(sample("eelgrass_workboat"), SizingPlan(numbers=(HEIGHT,)))
    genes = judge.space.every()
    each = [used(judge.space.applied(judge.project, one)) for one in genes]
    stands = {key for key, value in each[0].items() if all(one[key] == value for one in each)}
    found = judge.judge(genes)
    assert {key for key in judge.standing if key in each[0]} == stands
    for row, one in enumerate(each):
        assert found.use[row] == pytest.approx(
            max(value for key, value in one.items() if key not in stands), rel=1e-10
        )
        assert found.ratios[row, 0] == pytest.approx(max(one.values()), rel=1e-10)
    assert len(np.unique(found.use)) > 5


def test_what_stands_is_said_with_the_highest_of_it() -> None:
    notes = Judge(sample("eelgrass_workboat"), SizingPlan(numbers=(HEIGHT,))).notes
    assert any("used to 0.97 at most: ply strength of Stringer to chine, forward bay" in one for one in notes)


def test_the_front_trades_mass_for_the_use_of_what_changes() -> None:
    project = sample("eelgrass_workboat")
    sized = size(project, project.wishes.sizing, running=HERE)
    assert sized.proven
    assert len(sized.front) > 10
    assert all("Main stringer" in one.governing for one in sized.front)
    assert sorted(one.use for one in sized.front)[::-1] == [one.use for one in sized.front]


def test_at_another_speed_nothing_stands() -> None:
    speed = Number(id="v2", change=Change.SPEED, least=15, most=30, step=5)
    judge = Judge(sample("eelgrass_workboat"), SizingPlan(numbers=(HEIGHT, speed)))
    assert not [key for key in judge.standing if "strength" in key[1]]


def test_a_demand_that_nothing_here_can_help_says_what_breaks_it_and_is_not_searched_for() -> None:
    plan = SizingPlan(numbers=(HEIGHT,), demands=(Demand(id="d", holds=Holds.USE, limit=0.9),))
    project = sample("eelgrass_workboat")
    sized = size(project, plan, running=HERE)
    [broken] = sized.broken
    present = used(project)
    standing = Judge(project, plan).standing
    worst = max(value for key, value in present.items() if key in standing)
    assert worst > 0.9
    assert broken.alone
    assert broken.least == pytest.approx(worst / 0.9, rel=1e-12)
    assert broken.words.startswith("Nothing that may change here changes what breaks it: ")
    assert not sized.front
    assert sized.proven
    assert sized.notes[0].startswith(f"Proven: none of the {sized.space} designs can hold")
    assert f"{sized.judged} were judged, and the other {sized.ruled_out} are ruled out" in sized.notes[0]
    assert sized.judged + sized.ruled_out == sized.space


@pytest.mark.parametrize(
    "demand",
    [
        Demand(id="d", holds=Holds.HEIGHT, limit=100.0, of=("s7",)),
        Demand(id="d", holds=Holds.DEFLECTION, limit=1e-5, of=("m26",)),
    ],
    ids=["height", "deflection"],
)
def test_a_floor_that_stays_as_it_is_breaks_its_own_demand(demand: Demand) -> None:
    project = sample("eelgrass_workboat")
    sized = size(project, SizingPlan(numbers=(HEIGHT,), demands=(demand,)), running=HERE)
    [broken] = sized.broken
    assert "Floor" in broken.words or "floor" in broken.words
    assert broken.least == pytest.approx(sized.present.ratios[0], rel=1e-9)


def test_every_demand_that_cannot_hold_on_its_own_is_named_beside_one_that_nothing_changes() -> None:
    project = sample("eelgrass_workboat")
    low = Demand(id="low", holds=Holds.HEIGHT, limit=95.0, of=("s5",))
    held = Demand(id="held", holds=Holds.HEIGHT, limit=200.0, of=("s5",))
    plan = SizingPlan(numbers=(HEIGHT,), demands=(Demand(id="d", holds=Holds.USE, limit=0.9), low, held))
    sized = size(project, plan, running=HERE)
    judge = Judge(project, plan)
    least = judge.judge(judge.space.every()).ratios.min(axis=0)
    assert [one.demand.id for one in sized.broken] == ["d", "low"]
    assert all(one.alone for one in sized.broken)
    assert all(type(one.least) is float for one in sized.broken)
    assert [one.least for one in sized.broken] == pytest.approx(least[:2].tolist(), rel=1e-9)
    assert "height above the shell of Main stringer at most 95.00 mm" in sized.broken[1].words
    assert sized.judged + sized.ruled_out == sized.space


def test_too_many_designs_to_go_through_are_looked_at_for_the_other_demands() -> None:
    project = sample("eelgrass_workboat")
    low = Demand(id="low", holds=Holds.HEIGHT, limit=95.0, of=("s5",))
    wide = Number(id="v2", change=Change.CROWN_WIDTH, of=("s5",), least=60, most=120, step=1)
    plan = SizingPlan(
        numbers=(HEIGHT, wide), demands=(Demand(id="d", holds=Holds.USE, limit=0.9), low), budget=200
    )
    sized = size(project, plan, running=HERE)
    assert [one.demand.id for one in sized.broken] == ["d", "low"]
    assert sized.broken[1].least == pytest.approx(100 / 95, rel=1e-9)
    assert sized.broken[1].words.startswith("In every design judged")
    assert 0 < sized.judged < 200


@pytest.mark.parametrize("kind", ["utilisation", "deflection", "height", "nowhere"])
def test_what_is_wrongly_held_to_stand_is_found_out(kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    project = sample("eelgrass_workboat")
    plan = SizingPlan(
        numbers=(HEIGHT,),
        demands=(
            Demand(id="1", holds=Holds.DEFLECTION, limit=1 / 100),
            Demand(id="2", holds=Holds.HEIGHT, limit=400.0),
            Demand(id="3", holds=Holds.USE, limit=1.0),
        ),
    )
    honest = Judge(project, plan).standing
    kinds = {"deflection": Holds.DEFLECTION, "height": Holds.HEIGHT}
    wrong = {
        "nowhere": ("no such", Aspect.MODULUS),
        "utilisation": max(
            (one for one in honest if isinstance(one[1], Aspect)), key=lambda one: honest[one]
        ),
    }.get(kind) or next(one for one in honest if one[1] is kinds[kind])
    off = {**honest, wrong: honest.get(wrong, 1.0) * (1 + 1e-8)}
    monkeypatch.setattr(Judge, "standing", property(lambda _: off))
    with pytest.raises(StringerlabError, match="was held to be"):
        size(project, plan, running=HERE)


@pytest.mark.parametrize("place", [0, 1], ids=["deflection", "height"])
def test_a_judge_a_hair_wrong_about_a_deflection_or_a_height_is_found_out(
    place: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest: Callable[[Judge, Genes], Outcome] = Judge.judge
    project = sample("eelgrass_workboat")
    plan = SizingPlan(
        numbers=(HEIGHT,),
        demands=(
            Demand(id="1", holds=Holds.DEFLECTION, limit=1 / 100, of=("s5",)),
            Demand(id="2", holds=Holds.HEIGHT, limit=180.0),
        ),
    )
    assert all(0 < one.ratios[0] <= 1 for one in size(project, plan, running=HERE).front)

    def off(judge: Judge, genes: Genes) -> Outcome:
        outcome = honest(judge, genes)
        ratios = outcome.ratios.copy()
        ratios[:, place] *= 1 - 1e-8
        return replace(outcome, ratios=ratios)

    monkeypatch.setattr(Judge, "judge", off)
    with pytest.raises(StringerlabError, match=f"what demand {place + 1} comes to"):
        size(project, plan, running=HERE)
