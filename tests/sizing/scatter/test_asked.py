"""What is asked for: named lay-ups, and bad plans refused with everything that is wrong."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.wishes import Law, Scatter, Scattered, ScatterPlan
from stringerlab.sizing.running import Running
from stringerlab.sizing.scatter import PRACTICE, USUAL, scatter

_HERE = Running(workers=1)


@pytest.fixture(scope="module")
def hat() -> Project:
    return load(folder("sample_projects") / "first_hat_lesson.json")


def _wrong(project: Project, plan: ScatterPlan) -> list[str]:
    with pytest.raises(StringerlabError) as refused:
        scatter(project, plan, running=_HERE)
    return [str(problem) for problem in refused.value.problems]


def test_everything_wrong_with_a_plan_is_said_at_once(hat: Project) -> None:
    plan = ScatterPlan(
        inputs=(
            Scatter(id="s1", what=Scattered.THICKNESS, of=("l99",)),
            Scatter(id="s1", what=Scattered.BEAD, of=("s98",)),
            Scatter(id="s3", what=Scattered.SPEED, of=("l1",)),
            Scatter(id="s4", what=Scattered.STRENGTH, spread=7.0),
        ),
        samples=3,
    )
    said = "\n".join(_wrong(hat, plan))
    for words in ("laminate 'l99'", "section 's98'", "'s1' is taken", "whole boat", "spread", "samples"):
        assert words in said


def test_an_unknown_lay_up_is_refused_with_those_there_are(hat: Project) -> None:
    (said,) = _wrong(hat, ScatterPlan(usual="vacuum bag"))
    assert "vacuum bag" in said
    assert all(name in said for name in USUAL)


def test_spreads_of_nothing_are_refused(hat: Project) -> None:
    (said,) = _wrong(hat, ScatterPlan(inputs=(Scatter(id="s1", what=Scattered.THICKNESS, spread=0.0),)))
    assert "Nothing scatters" in said


def test_what_no_judged_subject_is_made_of_scatters_nothing(hat: Project) -> None:
    only = Scatter(id="s1", what=Scattered.BEAD)  # the lesson's hat is laminated in place
    (said,) = _wrong(hat, ScatterPlan(inputs=(only,)))
    assert "Nothing scatters that a judged panel or span is made of" in said


def test_a_boat_without_anything_to_judge_is_refused(hat: Project) -> None:
    said = _wrong(replace(hat, panels=(), spans=()), ScatterPlan())
    assert "no panel or span" in said[0]


def test_named_lay_ups_are_called_common_practice_without_a_source(hat: Project) -> None:
    found = scatter(hat, ScatterPlan(samples=64), running=_HERE)
    assert any(PRACTICE in words for words in found.inputs)
    assert "no source" in PRACTICE


def test_a_rougher_lay_up_scatters_more_in_everything() -> None:
    careful, usual, rough = (
        {one.what: one for one in USUAL[name]}
        for name in ("careful hand lay-up", "usual hand lay-up", "rough hand lay-up")
    )
    for what in Scattered:
        assert careful[what].spread < usual[what].spread < rough[what].spread


def test_own_inputs_are_said_with_their_law_middle_and_spread(hat: Project) -> None:
    own = Scatter(id="s1", what=Scattered.STRENGTH, law=Law.UNIFORM, mean=0.95, spread=0.2, of=("l1",))
    found = scatter(hat, ScatterPlan(inputs=(own,), samples=64), running=_HERE)
    assert found.inputs == (
        "strengths of Bottom: uniform, middle 0.95 of the nominal value, half its width 20 %",
    )
