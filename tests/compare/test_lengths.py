"""Lengths of members: by hand on a flat bottom, no crossing counted twice."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.assess.takeoff import take_off
from stringerlab.compare import Chosen, compare
from stringerlab.craft import bottom
from stringerlab.layout.found import MemberSize
from stringerlab.layout.lengths import lengths_of
from stringerlab.layout.openings import Cut
from stringerlab.layout.plan import Contact, Hand, Member, MemberKind
from stringerlab.layout.records import Span
from stringerlab.project.finding import found_in
from stringerlab.project.section_shapes import member_sizes

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


def test_the_take_off_counts_a_layouts_members_once_and_says_that_bulkheads_are_left_out(
    boats: Boats,
) -> None:
    wall = replace(boats.floor(1500), id="w1", name="Wall", kind=MemberKind.BULKHEAD)
    project = boats.with_layout(boats.girders(), boats.floor(), wall)
    size = member_sizes(project, project.layouts[0])[boats.section.id]
    sheet = take_off(project)
    assert sheet.total.length == pytest.approx(2 * 6000 + 2000 - 2 * size.base_width)
    assert sheet.not_counted == ()
    assert "Bulkheads of the layout are not counted: Wall." in sheet.notes
    assert not any("given by hand" in note for note in sheet.notes)


def test_work_is_compared_for_drawn_members_and_for_no_span_given_by_hand_beside_them(
    boats: Boats,
) -> None:
    project = boats.with_layout(boats.girders(), boats.floor())
    base = member_sizes(project, project.layouts[0])[boats.section.id].base_width
    hand = Span(id="m900", name="Knee", section=boats.section.id, lu=5000, s=400, x=3000, deadrise=0)
    for one in compare([Chosen(project=project), Chosen(project=replace(project, spans=(hand,)))]).items:
        assert one.value("length") == pytest.approx(2 * 6000 + 2000 - 2 * base)
