"""What would help most: steps against closed forms, ranked, in words, the same on one core and two."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess.check import Cancelled, check
from stringerlab.assess.mechanics import TOPICS
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.as_built import AsBuilt
from stringerlab.methods import FindingKind, Verdict, method_named
from stringerlab.methods.records import CraftRow, Judged, PanelRows
from stringerlab.project import Project
from stringerlab.project.edits import replaced
from stringerlab.project.wishes import Change, Number
from stringerlab.sizing.changing.mat_between import taken
from stringerlab.sizing.changing.variables import all_steps, variable_of
from stringerlab.sizing.kept import Kept
from stringerlab.sizing.plain import measured
from stringerlab.sizing.running import Running
from stringerlab.sizing.studying.sensitivity import Steps, sensitivity, worked

HERE = Running(workers=1)


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


@pytest.fixture(scope="module")
def lesson() -> Project:
    return sample("first_hat_lesson")


@pytest.mark.parametrize("name", ["first_hat_lesson", "eelgrass_workboat"])
def test_every_finding_that_is_short_or_tight_is_followed(name: str) -> None:
    project = sample(name)
    found = sensitivity(project, running=HERE, mechanics=False)
    close = [
        one for one in measured(project).findings.values() if one.verdict in {Verdict.SHORT, Verdict.TIGHT}
    ]
    assert close
    assert {(one.subject, one.aspect) for one in found.helped} == {(one.subject, one.aspect) for one in close}
    uses = [one.use for one in found.helped]
    assert uses == sorted(uses, reverse=True)
    assert found.tried > 4


def test_steps_are_ranked_by_what_they_take_off(lesson: Project) -> None:
    for one in sensitivity(lesson, running=HERE, mechanics=False).helped:
        after = [step.use for step in one.steps]
        assert after == sorted(after)
        assert after[0] < one.use
        for step in one.steps:
            assert step.use_change == pytest.approx(step.use - one.use, abs=1e-15)
            assert step.worst_after >= step.use - 1e-12


def test_a_step_is_the_boat_with_that_one_change(lesson: Project) -> None:
    """A layer more in the panel: judged and weighed by hand, beside what is said of it."""
    (panel,) = [
        one for one in sensitivity(lesson, running=HERE, mechanics=False).helped if one.subject == "p5"
    ]
    bottom = lesson.laminates[0]
    more = replaced(lesson, replace(bottom, plies=(*bottom.plies, bottom.plies[-1])))
    by_hand, before = measured(more), measured(lesson)
    finding = by_hand.highest(subject="p5", aspect=panel.aspect)
    assert finding is not None
    assert finding.utilisation is not None
    gained = by_hand.mass - before.mass
    matching = [
        step
        for step in panel.steps
        if step.mass_change == pytest.approx(gained, rel=1e-6)
        and step.use == pytest.approx(finding.utilisation, rel=1e-6)
    ]
    assert matching
    assert matching[0].worst_after == pytest.approx(by_hand.use, rel=1e-12)


def test_words_say_the_step_what_it_does_and_its_mass(lesson: Project) -> None:
    (panel,) = [
        one for one in sensitivity(lesson, running=HERE, mechanics=False).helped if one.subject == "p5"
    ]
    heavier = next(step for step in panel.steps if step.use_change < 0 and step.mass_change > 0)
    assert f"takes {panel.aspect} of Bottom panel from 0.94 to " in heavier.words
    assert " lb more" in heavier.words
    assert panel.words.startswith(panel.steps[0].words) or panel.words.split(" takes ")[0] in {
        step.words.split(" takes ")[0] for step in panel.steps
    }


def test_a_step_that_makes_another_finding_short_says_so(lesson: Project) -> None:
    found = sensitivity(lesson, running=HERE, mechanics=False)
    spoiling = [step for one in found.helped for step in one.steps if step.worst_after > 1]
    assert spoiling
    for step in spoiling:
        assert step.spoils
        assert step.use == step.worst_after or f"but makes short {step.spoils}" in step.words
    for one in found.helped:
        for step in one.steps:
            assert bool(step.spoils) == (step.worst_after > 1)


def test_where_nothing_is_tight_the_highest_used_is_followed(lesson: Project) -> None:
    slow = replace(lesson, craft=replace(lesson.craft, speed=14.0))
    found = sensitivity(slow, running=HERE, mechanics=False)
    worst = measured(slow).worst
    assert worst is not None
    (one,) = found.helped
    assert (one.subject, one.aspect) == (worst.subject, worst.aspect)
    assert any(note.startswith("Nothing is short or tight") for note in found.notes)


def test_mechanics_are_followed_too(lesson: Project) -> None:
    fast = replace(lesson, craft=replace(lesson.craft, speed=23.0))
    kinds = {one.kind for one in sensitivity(fast, running=HERE).helped}
    assert "mechanics" in kinds
    assert "rule" in kinds


def test_the_answer_is_the_same_on_one_core_and_two(lesson: Project) -> None:
    fast = replace(lesson, craft=replace(lesson.craft, speed=23.0))
    one = sensitivity(fast, running=Running(workers=1))
    two = sensitivity(fast, running=Running(workers=2))
    assert {each.kind for each in one.helped} == {"mechanics", "rule"}
    assert one.helped == two.helped
    assert one.problems == two.problems


def test_a_layout_is_stepped_by_its_rule_findings() -> None:
    project = sample("tidewrack_layout")
    found = sensitivity(project, running=HERE, mechanics=False)
    assert found.helped
    assert all(one.steps for one in found.helped)
    for one in found.helped:
        assert min(step.use for step in one.steps) < one.use


def test_a_step_in_a_layout_is_judged_in_the_grid_as_a_check_does() -> None:
    project = sample("tidewrack_layout")
    faster = replace(project, craft=replace(project.craft, speed=project.craft.speed + 1))
    checked = check(faster)
    in_grid = [
        one for one in checked.findings if one.kind is FindingKind.GRID and one.utilisation is not None
    ]
    assert in_grid
    pack = worked(
        Steps(
            boats=(faster,),
            followed=tuple(one.key for one in in_grid),
            short=frozenset(),
            blocked=frozenset(),
            mechanics=True,
            grid=True,
        )
    )
    assert np.asarray(pack["uses"])[0].tolist() == [one.utilisation for one in in_grid]
    highest = max(one.utilisation or 0.0 for one in checked.findings)
    assert np.asarray(pack["worst"]).tolist() == [highest]


def test_nothing_judged_is_said(lesson: Project) -> None:
    empty = replace(lesson, panels=(), spans=())
    found = sensitivity(empty, running=HERE)
    assert found.helped == ()
    assert found.tried == 0
    assert found.notes
    blocked = sensitivity(replace(lesson, sections=(), panels=()), running=HERE)
    assert blocked.problems


def test_a_watch_ends_the_work(lesson: Project) -> None:
    told: list[float] = []

    def stop(done: float, what: str) -> None:
        told.append(done)
        if done > 0.4:
            raise Cancelled(what)

    with pytest.raises(Cancelled):
        sensitivity(lesson, running=HERE, watch=stop)
    assert told == sorted(told)


@pytest.mark.parametrize("name", ["first_hat_lesson", "eelgrass_workboat"])
def test_steps_come_to_what_a_whole_check_of_their_boats_says(name: str) -> None:
    """A step judges again only what it touches: its numbers are those of a check that judges all."""
    project = sample(name)
    present = measured(project, topics=TOPICS)
    followed = tuple(present.findings)
    boats = tuple(
        boat
        for number in all_steps(project)[::3]
        for variable in [variable_of(project, number)]
        for boat in [variable.applied(project, 0), variable.applied(project, variable.count - 1)]
    )
    steps = Steps(
        boats=boats,
        followed=followed,
        short=frozenset(),
        blocked=frozenset(present.resolved.blocked),
        mechanics=True,
        grid=False,
    )
    pack = worked(steps)
    uses, highest = np.asarray(pack["uses"], float), np.asarray(pack["worst"], float)
    assert len(boats) > 8
    for boat, found, worst in zip(boats, uses, highest, strict=True):
        wholly = {one.key: one.utilisation for one in check(boat, topics=TOPICS).findings}
        if np.isnan(worst):
            assert set(measured(boat).resolved.blocked) - set(present.resolved.blocked)
            continue
        by_check = [np.nan if wholly.get(key) is None else wholly[key] for key in followed]
        np.testing.assert_allclose(found, np.array(by_check, float), rtol=1e-12)
        assert worst == pytest.approx(max(one for one in wholly.values() if one is not None), rel=1e-12)


def test_of_a_boat_a_step_away_only_what_the_step_touches_is_judged() -> None:
    project = sample("eelgrass_workboat")
    kept = Kept()
    measured(project, topics=TOPICS, kept=kept)
    cases = kept.judged
    (number,) = [one for one in all_steps(project) if one.change is Change.HEIGHT][:1]
    boat = variable_of(project, number).applied(project, 0)
    found = measured(boat, topics=TOPICS, kept=kept)
    assert 0 < kept.judged - cases <= cases / 2
    assert all(one.recording is None and not one.steps for one in found.findings.values())
    again = kept.judged
    assert measured(boat, topics=TOPICS, kept=kept).use == measured(boat).use
    assert kept.judged == again


def test_no_step_lays_roving_on_roving_where_mat_lies_between() -> None:
    project = sample("eelgrass_workboat")
    (number,) = [
        one
        for one in all_steps(project)
        if one.change is Change.REPEATS and (one.of, one.ply) == (("l1",), 4)
    ]
    bottom = project.laminates[0]
    assert [ply.material for ply in bottom.plies[2:6]] == ["csm450", "wr800", "csm450", "wr800"]
    one = taken(project, variable_of(project, number), 2)
    assert one is not None
    assert one.mats == ("csm450",)
    laid = [ply.material for ply in one.boat.laminates[0].plies]
    held = [ply.material for ply in bottom.plies]
    assert laid == [*held[:4], "csm450", "wr800", *held[4:]]
    found = sensitivity(project, running=HERE, mechanics=False)
    words = [step.words for helped in found.helped for step in helped.steps]
    assert any(
        one.startswith("One more layer of ply 4 (wr800) in Bottom, with csm450 between, ") for one in words
    )
    assert not any(one.startswith("One layer less of ply 5 (csm450) in Bottom") for one in words)
    (left,) = [note for note in found.notes if note.startswith("Left out, for two fabrics would meet")]
    assert "layers of ply 5 (csm450) in Bottom 1 → 0" in left
    assert left.endswith(" and 2 more.")


def test_a_laminate_that_has_fabric_on_fabric_already_may_have_more(lesson: Project) -> None:
    bottom = lesson.laminates[0]
    bare = replaced(
        lesson, replace(bottom, plies=tuple(ply for ply in bottom.plies if "csm" not in ply.material))
    )
    place = next(at for at, ply in enumerate(bare.laminates[0].plies, 1) if ply.material == "wr600")
    wish = Number(id="r", change=Change.REPEATS, of=(bottom.id,), ply=place, least=1, most=3, step=1)
    one = taken(bare, variable_of(bare, wish), 2)
    assert one is not None
    assert one.mats == ()


def test_a_spacing_given_by_hand_is_not_the_most_for_its_mass(lesson: Project) -> None:
    (panel,) = [
        one for one in sensitivity(lesson, running=HERE, mechanics=False).helped if one.subject == "p5"
    ]
    spacing = next(step for step in panel.steps if "1 in less spacing" in step.words)
    assert spacing.per_kilogram == max(step.per_kilogram for step in panel.steps)
    assert "in that part alone" in spacing.words
    assert "Most for its mass: 1 in less spacing" not in panel.words


def test_measurements_as_built_are_said_not_to_be_taken(lesson: Project) -> None:
    measured_ = replace(lesson, as_built=AsBuilt())
    said = "Judged as designed: nothing that was measured of her as built is taken."
    assert said in sensitivity(measured_, running=HERE, mechanics=False).notes
    assert said not in sensitivity(lesson, running=HERE, mechanics=False).notes


def test_methods_of_one_id_that_judge_otherwise_keep_their_own_findings(lesson: Project) -> None:
    kept = Kept()
    whole = method_named(lesson.method)
    none = replace(whole, judge_panels=_judging_nothing)
    assert measured(lesson, method=whole, kept=kept).highest(subject="p5") is not None
    assert measured(lesson, method=none, kept=kept).highest(subject="p5") is None
    cases = kept.judged
    again = measured(lesson, method=replace(whole, parts=dict(whole.parts)), kept=kept)
    assert again.use == measured(lesson).use
    assert kept.judged == cases, "an equal method finds them again"


def _judging_nothing(craft: CraftRow, rows: PanelRows) -> list[Judged]:
    del craft, rows
    return []


def test_kept_findings_are_bounded() -> None:
    project = sample("eelgrass_workboat")
    few, many = Kept(most=5), Kept()
    assert list(measured(project, kept=few).findings) == list(measured(project, kept=many).findings)
    measured(project, kept=few)
    assert few.judged > many.judged
