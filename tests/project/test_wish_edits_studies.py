"""Edits of scatter and studies: pure, by id, refused as a whole, and without an id given twice."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.wish_edits import with_demand
from stringerlab.project.wish_edits_studies import (
    study_of,
    with_inputs,
    with_samples,
    with_scatter_seed,
    with_study,
    with_study_copied,
    with_study_renamed,
    with_study_replaced,
    with_usual_scatter,
    without_study,
)
from stringerlab.project.wishes import Change, Demand, Holds, Number, Scatter, Scattered, Study, Wishes

HEIGHT = Number(id="", change=Change.HEIGHT, of=("s1",), least=100, most=160, step=10)
STUDY = Study(id="", name="Height", along=(HEIGHT,))


@pytest.fixture(scope="module")
def boat() -> Project:
    return replace(load(folder("sample_projects") / "eelgrass_workboat.json"), wishes=Wishes())


def test_a_study_and_its_numbers_have_ids_that_no_other_wish_has(boat: Project) -> None:
    demanded = with_demand(boat, Demand(id="", holds=Holds.USE, limit=0.9))
    grown = with_study(with_study(demanded, STUDY), STUDY)
    first, second = grown.wishes.studies
    ids = [
        first.id,
        second.id,
        first.along[0].id,
        second.along[0].id,
        demanded.wishes.sizing.demands[0].id,
    ]
    assert len({one[1:] for one in ids}) == 5
    assert grown.counter > max(int(one[1:]) for one in ids)
    assert boat.wishes.studies == ()


def test_a_study_taken_out_never_gives_its_id_to_another(boat: Project) -> None:
    one = with_study(boat, STUDY)
    gone = one.wishes.studies[0].id
    again = with_study(without_study(one, gone), STUDY)
    assert again.wishes.studies[0].id != gone


def test_a_study_is_renamed_and_copied_by_its_id(boat: Project) -> None:
    one = with_study(boat, STUDY)
    id = one.wishes.studies[0].id  # noqa: A001
    renamed = with_study_renamed(one, id, "  Heights ")
    assert study_of(renamed, id).name == "Heights"
    twice = with_study_copied(with_study_copied(renamed, id), id)
    assert [each.name for each in twice.wishes.studies] == ["Heights", "Heights, copy", "Heights, copy 2"]
    assert len({each.along[0].id for each in twice.wishes.studies}) == 3


def test_a_number_put_into_a_study_is_given_an_id_and_others_keep_theirs(boat: Project) -> None:
    one = with_study(boat, STUDY)
    study = one.wishes.studies[0]
    speed = Number(id="", change=Change.SPEED, least=20, most=30, step=1)
    changed = with_study_replaced(one, replace(study, along=(*study.along, speed)))
    along = changed.wishes.studies[0].along
    assert along[0] == study.along[0]
    assert along[1].id not in ("", along[0].id)


@pytest.mark.parametrize("edit", [study_of, without_study, with_study_copied])
def test_a_study_that_is_not_there_is_refused(boat: Project, edit: Callable[[Project, str], object]) -> None:
    with pytest.raises(StringerlabError, match="no study 'q99'"):
        edit(boat, "q99")


def test_a_study_needs_a_name(boat: Project) -> None:
    one = with_study(boat, STUDY)
    with pytest.raises(StringerlabError, match="needs a name"):
        with_study_renamed(one, one.wishes.studies[0].id, " ")


def test_a_default_gives_way_to_inputs_of_the_projects_own_and_comes_back(boat: Project) -> None:
    inputs = (
        Scatter(id="usual ply thickness", what=Scattered.THICKNESS),
        Scatter(id="usual speed", what=Scattered.SPEED, spread=0.1),
    )
    own = with_inputs(boat, inputs)
    held = own.wishes.scatter.inputs
    assert [one.what for one in held] == [Scattered.THICKNESS, Scattered.SPEED]
    assert len({one.id for one in held} - {one.id for one in inputs}) == 2
    assert with_inputs(own, held).wishes == own.wishes
    back = with_usual_scatter(own, "rough hand lay-up")
    assert back.wishes.scatter.inputs == ()
    assert back.wishes.scatter.usual == "rough hand lay-up"


def test_samples_seed_and_spread_are_held_to_their_ranges(boat: Project) -> None:
    assert with_samples(boat, 1000).wishes.scatter.samples == 1000
    assert with_scatter_seed(boat, 9).wishes.scatter.seed == 9
    for refused in (
        lambda: with_samples(boat, 3),
        lambda: with_scatter_seed(boat, -1),
        lambda: with_inputs(boat, [Scatter(id="", what=Scattered.BEAD, spread=2.0)]),
    ):
        with pytest.raises(StringerlabError, match="scatter"):
            refused()
