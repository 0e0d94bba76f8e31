"""Edits on tested coupons: added, changed, taken away, refused as a whole."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load, loads
from stringerlab.materials import shipped
from stringerlab.materials.records import CouponSet, Property, Reinforcement
from stringerlab.project import Project, edits
from stringerlab.project.coupons import MOST, coupons_changed, fresh_coupons, with_coupons, without_coupons

TENSION = CouponSet(
    property=Property.TENSION_1, mean=95, deviation=4, count=6, glass=0.3, source="report 1, invented"
)
FLEXURE = replace(TENSION, property=Property.FLEXURAL, mean=170)


@pytest.fixture
def project() -> Project:
    return edits.added(
        load(folder("sample_projects") / "first_hat_lesson.json"),
        replace(shipped().reinforcements[0], id="", name="Own mat"),
    )


def own(project: Project) -> Reinforcement:
    return project.materials.reinforcements[-1]


def test_coupons_are_added_changed_and_taken_away(project: Project) -> None:
    both = with_coupons(project, own(project).id, (TENSION, FLEXURE))
    assert own(both).coupons == (TENSION, FLEXURE)
    more = coupons_changed(both, own(both).id, [1], lambda each: replace(each, count=8))
    assert own(more).coupons == (TENSION, replace(FLEXURE, count=8))
    assert own(without_coupons(more, own(more).id, [0])).coupons == (replace(FLEXURE, count=8),)
    assert own(project).coupons == ()


def test_a_change_to_the_same_is_no_change(project: Project) -> None:
    held = with_coupons(project, own(project).id, (TENSION,))
    assert coupons_changed(held, own(held).id, [0], lambda each: each) is held


def test_a_shipped_material_takes_none(project: Project) -> None:
    with pytest.raises(StringerlabError, match="no reinforcement 'wr600' of its own"):
        with_coupons(project, "wr600", (TENSION,))


def test_coupons_that_are_not_there_are_refused(project: Project) -> None:
    with pytest.raises(StringerlabError, match="There are no coupons 1"):
        without_coupons(project, own(project).id, [0])


def test_too_many_sets_are_refused(project: Project) -> None:
    with pytest.raises(StringerlabError, match=f"{MOST} are the most"):
        with_coupons(project, own(project).id, (TENSION,) * (MOST + 1))


def test_fresh_coupons_are_one_of_a_property_not_tested_yet(project: Project) -> None:
    material = replace(own(project), coupons=(TENSION,))
    fresh = fresh_coupons(material, lambda tested: 117.0 if tested is Property.COMPRESSION_1 else None)
    assert (fresh.property, fresh.mean, fresh.count) == (Property.COMPRESSION_1, 117.0, 1)


def test_coupons_go_to_the_file_and_back(project: Project) -> None:
    both = with_coupons(
        project, own(project).id, (TENSION, replace(FLEXURE, thickness=3.2, standard="ISO 14125"))
    )
    assert loads(dumps(both)) == both
