"""Whole runs: exact chances where they are known, the same on one core and two, cancel, what is said."""

from dataclasses import replace
from math import log, sqrt

import pytest
from scipy.special import ndtr

from stringerlab.assess.check import Cancelled, check
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.as_built import AsBuilt, LaminateAsBuilt
from stringerlab.methods import method_named
from stringerlab.methods.records import Aspect
from stringerlab.project import Project, resolve
from stringerlab.project.wishes import Law, Scatter, Scattered, ScatterPlan
from stringerlab.sizing.records import Chance, Scattering
from stringerlab.sizing.running import Running
from stringerlab.sizing.scatter import scatter

_HERE = Running(workers=1)


def _loaded(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


@pytest.fixture(scope="module")
def hat() -> Project:
    return _loaded("first_hat_lesson")


def _of(found: Scattering, subject: str, aspect: Aspect) -> Chance:
    return next(one for one in found.chances if (one.subject, one.aspect) == (subject, aspect.value))


@pytest.mark.parametrize("spread", [0.05, 0.12, 0.25])
def test_lognormal_strength_alone_gives_the_chance_known_exactly(hat: Project, spread: float) -> None:
    plan = ScatterPlan(
        inputs=(Scatter(id="s1", what=Scattered.STRENGTH, law=Law.LOGNORMAL, spread=spread),), samples=16_384
    )
    found = scatter(hat, plan, running=_HERE)
    one = _of(found, "p5", Aspect.PLY_STRENGTH)
    # the utilisation is the nominal one over the factor on the strength: short where that is below it
    wide = log(1 + spread**2)
    exact = float(ndtr((log(one.nominal) + wide / 2) / sqrt(wide)))
    assert one.low <= exact <= one.high
    assert one.short == pytest.approx(exact, abs=2e-3)
    assert one.mean == pytest.approx(one.nominal * (1 + spread**2), rel=2e-3)
    assert [(driver.name, round(driver.correlation, 9)) for driver in one.drivers] == [
        ("strengths of Bottom", -1.0)
    ]


def test_uniform_thickness_alone_gives_the_chance_known_exactly(hat: Project) -> None:
    plan = ScatterPlan(
        inputs=(Scatter(id="s1", what=Scattered.THICKNESS, law=Law.UNIFORM, spread=0.1, of=("l1",)),),
        samples=16_384,
    )
    one = _of(scatter(hat, plan, running=_HERE), "p5", Aspect.PLY_STRENGTH)
    # a laminate k times as thick all through carries k² of the moment
    exact = (one.nominal**0.5 - 0.9) / 0.2
    assert one.low <= exact <= one.high
    assert one.short == pytest.approx(exact, abs=1e-3)


def test_percentiles_are_those_of_the_law(hat: Project) -> None:
    plan = ScatterPlan(
        inputs=(Scatter(id="s1", what=Scattered.STRENGTH, law=Law.UNIFORM, spread=0.2),), samples=65_536
    )
    one = _of(scatter(hat, plan, running=_HERE), "p5", Aspect.PLY_STRENGTH)
    exact = [one.nominal / factor for factor in (1.18, 1.0, 0.82)]
    assert one.percentiles == pytest.approx(exact, rel=1e-3)
    parts, below = zip(*one.curve, strict=True)
    law = [one.nominal / (1.2 - 0.4 * part / 100) for part in parts]
    assert (parts[0], parts[-1]) == (0.5, 99.5)
    assert below == pytest.approx(law, rel=2e-3)


def test_one_process_and_two_give_the_same_to_the_last_digit() -> None:
    project, plan = _loaded("bladderwrack_parent"), ScatterPlan(samples=2048, seed=5)
    alone = scatter(project, plan, running=_HERE)
    both = scatter(project, plan, running=Running(workers=2))
    assert alone.chances == both.chances
    assert alone.any_short == both.any_short


def test_another_seed_takes_other_samples(hat: Project) -> None:
    one, other = (scatter(hat, ScatterPlan(samples=1024, seed=seed), running=_HERE) for seed in (1, 2))
    assert one.chances != other.chances
    assert one.any_short[1] <= other.any_short[0] <= one.any_short[2]


def test_any_is_short_at_least_as_often_as_the_likeliest() -> None:
    found = scatter(_loaded("tidewrack_plain"), ScatterPlan(samples=1024), running=_HERE)
    assert [one.short for one in found.chances] == sorted((one.short for one in found.chances), reverse=True)
    assert found.any_short[0] >= found.chances[0].short > 0
    assert found.samples == 1024


def test_what_is_not_sampled_is_said() -> None:
    found = scatter(_loaded("eelgrass_workboat"), ScatterPlan(samples=64), running=_HERE)
    said = "\n".join(found.left_out)
    assert "all other mechanics" in said
    assert "the grid" in said
    assert "laminated in place" in said
    assert any("the long way" in note for note in found.notes)


def test_a_chance_says_whether_it_is_of_a_rule_or_of_the_mechanics() -> None:
    found = scatter(_loaded("eelgrass_workboat"), ScatterPlan(samples=64), running=_HERE)
    assert {one.kind for one in found.chances} == {"rule", "mechanics"}
    assert all((one.kind == "mechanics") == (one.aspect == "bond") for one in found.chances)


def test_what_is_not_sampled_is_counted_not_listed() -> None:
    found = scatter(_loaded("tidewrack_layout"), ScatterPlan(samples=64), running=_HERE)
    resolved = resolve(_loaded("tidewrack_layout"))
    (bonds,) = [one for one in found.left_out if one.startswith("bond of ")]
    assert bonds.count("Floor 1, ") + bonds.count("Floor 2, ") == 3
    sampled = {one.subject for one in found.chances if one.aspect == "bond"}
    laminated = {one.name for one in resolved.subjects if one.id not in sampled} & {
        case.span.name for case in resolved.spans if not case.section.bead
    }
    assert f" and {len(laminated) - 3} more: " in bonds
    assert max(map(len, found.left_out)) < 300
    assert not [line for line in (*found.left_out, *found.notes, *found.inputs) if "  " in line]


def test_a_wider_bead_is_less_often_short_in_shear() -> None:
    project = _loaded("bladderwrack_parent")

    def bonds(mean: float) -> list[Chance]:
        plan = ScatterPlan(
            inputs=(Scatter(id="s1", what=Scattered.BEAD, mean=mean, spread=0.1),), samples=256
        )
        found = scatter(project, plan, running=_HERE)
        return sorted((one for one in found.chances if one.aspect == "bond"), key=lambda one: one.subject)

    narrow, wide = bonds(0.7), bonds(1.3)
    assert len(narrow) == len(wide) == 6
    for one, other in zip(narrow, wide, strict=True):
        assert one.nominal == other.nominal
        assert one.mean > other.mean
        assert one.drivers[0].name.startswith("bead width")
        assert one.drivers[0].correlation == pytest.approx(-1.0)


def test_speed_drives_what_has_no_other_input(hat: Project) -> None:
    plan = ScatterPlan(inputs=(Scatter(id="s1", what=Scattered.SPEED, law=Law.TRIANGULAR),), samples=256)
    found = scatter(hat, plan, running=_HERE)
    for one in found.chances:
        assert all(driver.name == "speed" for driver in one.drivers)
    assert _of(found, "p5", Aspect.PLY_STRENGTH).drivers[0].correlation == pytest.approx(1.0)


def test_a_method_of_ones_own_is_sampled_too(hat: Project) -> None:
    from dataclasses import replace

    own = replace(method_named("iso_12215_5_2008"), id="my_own", name="My own form")
    plan = ScatterPlan(samples=256)
    assert scatter(hat, plan, method=own).chances == scatter(hat, plan, running=_HERE).chances


def test_a_run_ends_when_its_watch_says_so(hat: Project) -> None:
    told: list[tuple[float, str]] = []

    def watch(part: float, words: str) -> None:
        told.append((part, words))
        if part > 0.3:
            raise Cancelled

    with pytest.raises(Cancelled):
        scatter(hat, ScatterPlan(samples=65_536), running=_HERE, watch=watch)
    assert [part for part, _ in told] == sorted(part for part, _ in told)
    assert told[0][0] == 0.0


def test_an_unused_laminate_is_no_input(hat: Project) -> None:
    from dataclasses import replace

    spare = replace(hat.laminates[0], id="l77", name="Spare")
    more = replace(hat, laminates=(*hat.laminates, spare))
    plan = ScatterPlan(samples=64)
    found = scatter(more, plan, running=_HERE)
    assert not any("Spare" in driver.name for one in found.chances for driver in one.drivers)
    # thickness, glass content, moduli, strengths of two laminates, and the speed; no bead
    assert "of 9 inputs" in found.notes[0]


def test_it_is_said_that_she_is_sampled_as_designed_where_she_was_measured(hat: Project) -> None:
    plan = ScatterPlan(samples=64)
    said = "nothing that was measured of her as built is taken"
    assert not any(said in note for note in scatter(hat, plan, running=_HERE).notes)
    measured = replace(hat, as_built=AsBuilt(laminates=(LaminateAsBuilt(laminate="l1", thickness=9.0),)))
    found = scatter(measured, plan, running=_HERE)
    assert any(said in note for note in found.notes)
    assert found.chances == scatter(hat, plan, running=_HERE).chances


def test_dry_fibre_does_not_go_with_the_thickness_and_it_is_said() -> None:
    grid = _loaded("tidewrack_grid")
    plan = ScatterPlan(inputs=(Scatter(id="s1", what=Scattered.THICKNESS, spread=0.1),), samples=64)
    found = scatter(grid, plan, running=_HERE)
    dry = [one for one in found.chances if one.aspect == Aspect.DRY_MASS.value]
    assert dry
    assert all(one.percentiles == pytest.approx([one.nominal] * 3, rel=1e-12) for one in dry)
    assert any("dry fibre counts as without scatter" in note for note in found.notes)


def test_a_chance_is_said_to_be_of_the_method_and_none_of_failure(hat: Project) -> None:
    plan = ScatterPlan(
        inputs=(Scatter(id="s1", what=Scattered.GLASS, law=Law.UNIFORM, spread=0.1, of=("l1",)),), samples=64
    )
    found = scatter(hat, plan, running=_HERE)
    assert any("no chance here is one of failure" in note for note in found.notes)
    # glass that scatters is not glass that was measured: what the method takes off for it stays
    nominal = check(hat, topics=()).findings
    one = _of(found, "p5", Aspect.PLY_STRENGTH)
    rule = next(each for each in nominal if (each.subject, each.aspect) == ("p5", Aspect.PLY_STRENGTH))
    assert one.nominal == pytest.approx(rule.utilisation, rel=1e-12)
    assert one.percentiles[1] == pytest.approx(one.nominal, rel=0.02)
