"""Findings beside a parent boat's: same method, aspect and kind; a likeness, else the nearest along."""

from dataclasses import replace

import pytest

from stringerlab.assess import Results, check, relative, unknown_likenesses
from stringerlab.assess.relative import NO_COMPLIANCE, Chosen
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout import Surface
from stringerlab.methods import Aspect, method_named
from stringerlab.project import Likeness, Parent, Project, edits

SERVICE = "ten years of survey work, no cracks"
ISO = method_named("iso_12215_5_2008")


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def results(workboat: Project) -> Results:
    return check(workboat)


@pytest.fixture(scope="module")
def slower(workboat: Project) -> Results:
    craft = replace(workboat.craft, speed=0.8 * workboat.craft.speed)
    return check(replace(workboat, name="Old launch", craft=craft))


def test_a_boat_beside_itself_is_one_everywhere(results: Results) -> None:
    found = relative(results, results, Parent(file="x.json", service=SERVICE))
    assert len(found.besides) == len(results.findings)
    ratios = [one.ratio for one in found.besides if one.finding.utilisation is not None]
    assert ratios
    assert all(ratio == 1.0 for ratio in ratios)
    assert not found.problems


def test_each_subject_stands_beside_the_one_of_its_kind_at_its_place(
    results: Results, slower: Results
) -> None:
    found = relative(results, slower, Parent(file="x.json", service=SERVICE))
    for one in found.besides:
        assert one.counterpart is None or one.counterpart.subject == one.finding.subject
        assert one.chosen is Chosen.NEAREST
        assert one.apart == pytest.approx(0.0)


def test_the_ratio_is_of_utilisations_and_the_words_tell_the_service(
    results: Results, slower: Results
) -> None:
    found = relative(results, slower, Parent(file="x.json", service=SERVICE))
    one = next(o for o in found.besides if o.finding.aspect is Aspect.THICKNESS)
    assert one.counterpart is not None
    assert one.ratio == pytest.approx((one.finding.utilisation or 0) / (one.counterpart.utilisation or 1))
    assert one.ratio is not None
    assert one.ratio > 1.05
    assert one.words.startswith(f"{one.ratio:.2f} of the parent's '{one.counterpart.name}'")
    assert f"which uses {one.counterpart.utilisation:.2f}" in one.words
    assert one.words.endswith(f"Its service: {SERVICE}.")
    assert found.remarks[0] == NO_COMPLIANCE
    assert "no rule compliance" in NO_COMPLIANCE


def test_places_are_compared_along_the_waterline_not_in_millimetres(workboat: Project) -> None:
    """A parent twice as long, its subjects twice as far forward: the same places."""
    craft = workboat.craft
    longer = replace(
        workboat,
        craft=replace(
            craft,
            waterline_length=2 * craft.waterline_length,
            stations=tuple(replace(s, x=2 * s.x) for s in craft.stations),
        ),
        panels=tuple(replace(p, name=f"{p.name} of it", x=2 * p.x) for p in workboat.panels),
        spans=tuple(replace(s, name=f"{s.name} of it", x=2 * s.x) for s in workboat.spans),
    )
    found = relative(check(workboat), check(longer), Parent(file="x.json"))
    assert max(one.apart or 0.0 for one in found.besides) < 1e-9
    spans = [one for one in found.besides if one.finding.subject in {s.id for s in workboat.spans}]
    assert {one.counterpart.subject for one in spans if one.counterpart} <= {s.id for s in longer.spans}


def test_a_likeness_goes_before_the_nearest(results: Results, slower: Results, workboat: Project) -> None:
    own, far = workboat.panels[0].id, workboat.panels[-1].id
    parent = Parent(file="x.json", service=SERVICE, likenesses=(Likeness(own=own, parent=far),))
    found = relative(results, slower, parent)
    of_own = [one for one in found.besides if one.finding.subject == own]
    assert {one.counterpart.subject for one in of_own if one.counterpart} == {far}
    assert {one.chosen for one in of_own} == {Chosen.LIKENESS}
    assert "(named as its counterpart)" in of_own[0].words


def test_another_kind_is_no_counterpart_and_that_is_said(workboat: Project, results: Results) -> None:
    sides = replace(
        workboat,
        panels=tuple(replace(p, surface=Surface.SIDE, height=300.0) for p in workboat.panels),
    )
    found = relative(results, check(sides), Parent(file="x.json"))
    one = next(o for o in found.besides if o.finding.subject == workboat.panels[0].id)
    assert (one.counterpart, one.ratio) == (None, None)
    assert "the parent has no bottom panel, single skin" in one.words
    assert len(found.besides) == len(results.findings)


def test_a_parent_judged_by_another_method_gives_nothing(results: Results, workboat: Project) -> None:
    other = check(workboat, replace(ISO, id="other", name="other form"))
    found = relative(results, other, Parent(file="x.json"))
    assert not found.besides
    assert "judged by other form, this one by ISO 12215-5:2008 form" in str(found.problems[0])


def test_everything_wrong_is_said_at_once_and_own_findings_stay(results: Results, workboat: Project) -> None:
    broken = replace(workboat, panels=(replace(workboat.panels[0], laminate="l99"), *workboat.panels[1:]))
    parent = Parent(
        file="x.json",
        likenesses=(
            Likeness(own="p99", parent=workboat.panels[1].id),
            Likeness(own=workboat.panels[1].id, parent="p98"),
            Likeness(own=workboat.panels[2].id, parent=workboat.spans[0].id),
            Likeness(own=workboat.panels[3].id, parent=workboat.panels[3].id),
            Likeness(own=workboat.panels[3].id, parent=workboat.panels[2].id),
        ),
    )
    found = relative(results, check(replace(broken, name="Broken")), parent)
    said = "\n".join(map(str, found.problems))
    for words in (
        "l99",
        "no panel and no span 'p99'",
        "no panel and no span 'p98'",
        "span.",
        "more than one",
    ):
        assert words in said
    assert all("parent" in problem.where for problem in found.problems)
    assert [one.finding for one in found.besides] == list(results.findings)
    lost = next(one for one in found.besides if one.finding.subject == workboat.panels[1].id)
    assert "its likeness names what is not there" in lost.words


def test_likenesses_of_what_this_boat_lacks_are_known_without_the_parent(workboat: Project) -> None:
    gone = Parent(file="gone.json", likenesses=(Likeness(own="p99", parent="p1"),))
    (problem,) = unknown_likenesses(replace(workboat, parent=gone))
    assert "p99" in problem.what
    assert not unknown_likenesses(workboat)


def test_what_is_not_judged_has_no_ratio_and_says_whose(workboat: Project, results: Results) -> None:
    blocked = replace(workboat, panels=(replace(workboat.panels[0], laminate="l99"), *workboat.panels[1:]))
    found = relative(check(blocked), results, Parent(file="x.json"))
    one = next(o for o in found.besides if o.finding.subject == workboat.panels[0].id)
    assert one.ratio is None
    assert one.reason


def test_a_parent_kept_by_another_method_is_remarked(results: Results, workboat: Project) -> None:
    other = check(replace(workboat, method="rule_of_thumb"), ISO)
    found = relative(results, other, Parent(file="x.json"))
    assert any("'rule_of_thumb'" in remark for remark in found.remarks)
    assert found.besides


def test_a_removed_subject_leaves_its_likeness_as_a_problem_not_a_fault(workboat: Project) -> None:
    own = workboat.panels[0].id
    kin = replace(workboat, parent=Parent(file="x.json", likenesses=(Likeness(own=own, parent=own),)))
    without = edits.removed(kin, own)
    assert [problem.where for problem in unknown_likenesses(without)] == ["parent, likeness 1"]
    assert check(without).findings
