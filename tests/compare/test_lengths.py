"""Lengths of members: by hand on a flat bottom, no crossing counted twice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from stringerlab.compare.lengths import lengths_of
from stringerlab.craft import bottom
from stringerlab.layout.found import MemberSize
from stringerlab.layout.openings import Cut
from stringerlab.layout.plan import Contact, Hand, Member
from stringerlab.project.finding import found_in

if TYPE_CHECKING:
    from tests.compare.conftest import Boats

BASE = 120.0


def lengths(boats: Boats, *members: Member, low: str = "") -> dict[str, float]:
    project = boats.with_layout(*members)
    hull, layout = bottom(project.craft), project.layouts[0]
    sizes = {each.section: MemberSize(base_width=BASE, height=150.0) for each in members}
    sizes["low"] = MemberSize(base_width=60.0, height=80.0)
    found: dict[str, float] = {}
    for one in lengths_of(layout, found_in(project, layout), hull, sizes):
        found[one.member.id] = found.get(one.member.id, 0.0) + one.length
    return found


def test_floor_stops_at_the_web_roots_of_girders_that_go_through(boats: Boats) -> None:
    found = lengths(boats, boats.girders(), boats.floor())
    assert found["g1"] == pytest.approx(2 * 6000)
    assert found["f1"] == pytest.approx(2000 - 2 * BASE)


def test_a_crown_drawn_continuous_goes_through_and_the_other_stops(boats: Boats) -> None:
    found = lengths(boats, boats.girders(), boats.floor(crown=Cut.CONTINUOUS))
    assert found["f1"] == pytest.approx(2000)
    assert found["g1"] == pytest.approx(2 * (6000 - BASE))


def test_the_higher_goes_through_whatever_way_it_runs(boats: Boats) -> None:
    found = lengths(boats, boats.girders(section="low"), boats.floor())
    assert found["f1"] == pytest.approx(2000)
    assert found["g1"] == pytest.approx(2 * (6000 - BASE))


def test_a_member_that_ends_on_another_loses_half_its_base(boats: Boats) -> None:
    stub = boats.member("f2", (3000, 500), (3000, 1000), across=True, hand=Hand.PAIR)
    found = lengths(boats, boats.girders(), stub)
    assert found["f2"] == pytest.approx(2 * (500 - BASE / 2))
    assert found["g1"] == pytest.approx(2 * 6000)


def test_only_chine_ends_bonded_up_the_side_are_told(boats: Boats) -> None:
    for contact, ends in ((Contact.BOTTOM, 0), (Contact.ALL_ROUND, 2)):
        project = boats.with_layout(boats.girders(contact=contact), boats.floor(contact=contact))
        hull, layout = bottom(project.craft), project.layouts[0]
        sizes = {boats.section.id: MemberSize(base_width=BASE, height=150.0)}
        found = lengths_of(layout, found_in(project, layout), hull, sizes)
        assert sum(one.chine_ends for one in found) == ends
