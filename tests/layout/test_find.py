"""Spans and panels found in plain layouts, against lengths and widths worked out by hand."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.layout import Backed, Cut, End, LandsOn, Opening
from stringerlab.layout.find import found, unmarked
from stringerlab.layout.plan import (
    BayMark,
    Contact,
    GridRules,
    Hand,
    Held,
    MemberKind,
    SpanMark,
    Stretch,
    Supports,
)
from tests.layout.conftest import craft_of

if TYPE_CHECKING:
    from tests.layout.conftest import Draw


def test_panel_between_web_roots_is_measured_in_the_skin(draw: "Draw") -> None:
    # keel to girder in plan 400: in the skin 500, less half of 100; floors at 1000 and 3000 less 2 × 30
    girder = draw.girder("g", (0, 400), (6000, 400))
    result = draw.found(draw.vee, girder, *(draw.floor(f"f{x}", (x, 0), (x, 800)) for x in (1000, 3000)))
    bay = draw.bay(result, 2000, 200)
    assert bay.panel is not None
    assert (bay.panel.b, bay.panel.l) == pytest.approx((450, 1940))
    assert bay.panel.deadrise == pytest.approx(np.degrees(np.arctan(0.75)))
    assert bay.area == pytest.approx(500 * 2000)
    assert len(bay.rings) == 2
    assert bay.panel.x == pytest.approx(2000)


def test_floor_across_the_keel_is_one_span_between_girders(draw: "Draw") -> None:
    girder, floor = draw.girder("g", (0, 400), (6000, 400)), draw.floor("f", (1000, 0), (1000, 800))
    whole = draw.floor("f", (1000, -800), (1000, 800), hand=Hand.CENTRELINE)
    for drawn in (floor, whole):
        result = draw.found(draw.vee, girder, drawn)
        middle = draw.span(result, "f", "f×g", "f×g's")
        assert middle.span is not None
        assert middle.length == pytest.approx(1000)  # 2 × 400 × 1.25
        assert middle.span.lu == pytest.approx(900)
        assert middle.span.count == 1
        assert middle.slope == pytest.approx(np.arctan(0.75))
        outer = draw.span(result, "f", "f×g", "f@chine")
        assert outer.span is not None
        assert outer.span.count == 2
        assert outer.span.lu == pytest.approx(450)
        assert outer.span.ends == (End.HELD, End.SIMPLE)
        assert outer.span.landings[1].on is LandsOn.CHINE
        assert outer.span.deadrise == 0


def test_spacing_is_the_mean_of_both_sides_in_the_skin(draw: "Draw") -> None:
    result = draw.found(
        draw.vee, *(draw.girder(name, (0, y), (6000, y)) for name, y in (("a", 240), ("b", 560)))
    )
    a, b = draw.span(result, "a").span, draw.span(result, "b").span
    assert a is not None
    assert b is not None
    assert a.s == pytest.approx((300 + 400) / 2)  # keel 240 and the other 320, × 1.25
    assert b.s == pytest.approx((400 + 300) / 2)
    assert a.count == 2
    assert a.deadrise == pytest.approx(np.degrees(np.arctan(0.75)))


def test_girder_ends_at_the_transom_and_passes_a_lower_floor(draw: "Draw") -> None:
    girder, floor = draw.girder("g", (0, 400), (6000, 400)), draw.floor("f", (1000, 0), (1000, 1000))
    result = draw.found(draw.flat, girder, floor)
    aft = draw.span(result, "g", "g@transom").span
    assert aft is not None
    assert aft.ends == (End.SIMPLE, End.HELD)
    assert [landing.on for landing in aft.landings] == [LandsOn.TRANSOM, LandsOn.CONTINUES]
    assert [(one.x, one.crown, one.height) for one in aft.crossings] == [
        (pytest.approx(1000 - 30), Cut.CONTINUOUS, 80)
    ]
    outer = draw.span(result, "f", "f@chine").span
    assert outer is not None
    assert [(one.x, one.crown, one.height) for one in outer.crossings] == [(0.0, Cut.CUT, 150)]


def test_end_on_a_lower_member_is_simple_on_a_bulkhead_held(draw: "Draw") -> None:
    floor = draw.floor("f", (1000, 0), (1000, 1000))
    girder = draw.girder("g", (0, 400), (1000, 400))
    on_floor = draw.span(draw.found(draw.flat, girder, floor), "g").span
    assert on_floor is not None
    assert on_floor.ends[1] is End.SIMPLE
    result = draw.found(draw.flat, girder, replace(floor, kind=MemberKind.BULKHEAD))
    on_bulkhead = draw.span(result, "g").span
    assert on_bulkhead is not None
    assert on_bulkhead.ends[1] is End.HELD
    assert on_bulkhead.landings[1].on is LandsOn.BULKHEAD
    assert all(span.span is None for span in result.spans if span.member == "f")


def test_contact_all_round_holds_the_end_at_the_chine(draw: "Draw") -> None:
    floor = replace(draw.floor("f", (1000, 0), (1000, 1000)), contact=Contact.ALL_ROUND)
    span = draw.span(draw.found(draw.flat, floor), "f").span
    assert span is not None
    assert span.ends == (End.HELD, End.HELD)
    assert span.lu == pytest.approx(2000)


def test_another_section_parts_the_member_but_supports_nothing(draw: "Draw") -> None:
    girder = replace(
        draw.girder("g", (0, 400), (6000, 400)), stretches=(Stretch(start=2500, section="thin"),)
    )
    result = draw.found(draw.flat, girder, draw.floor("f", (4000, 0), (4000, 1000)))
    aft, fore = draw.span(result, "g", "g@transom", "g/1"), draw.span(result, "g", "g/1", "f×g")
    assert (aft.section, fore.section) == ("s1", "thin")
    assert (aft.length, fore.length) == pytest.approx((2500, 1500))
    assert aft.span is not None
    assert fore.span is not None
    assert aft.span.lu == fore.span.lu == pytest.approx(4000 - 30)


def test_openings_follow_their_span(draw: "Draw") -> None:
    holes = tuple(Opening(x=x, height=30, width=60) for x in (500, 3000))
    girder = replace(draw.girder("g", (0, 400), (6000, 400)), openings=holes)
    result = draw.found(draw.flat, girder, draw.floor("f", (1000, 0), (1000, 1000)))
    aft, fore = (draw.span(result, "g", key).span for key in ("g@transom", "g@forward"))
    assert aft is not None
    assert fore is not None
    assert [hole.x for hole in aft.openings] == pytest.approx([500])
    assert [hole.x for hole in fore.openings] == pytest.approx([3000 - 1030])


def test_meeting_within_half_a_millimetre_meets_and_farther_almost(draw: "Draw") -> None:
    girder = draw.girder("g", (0, 400), (6000, 400))
    met = draw.found(draw.flat, girder, draw.floor("f", (1000, 400.4), (1000, 1000)))
    assert not met.amiss
    assert len(met.bays) == 3
    almost = draw.found(draw.flat, girder, draw.floor("f", (1000, 420), (1000, 1000)))
    assert "It ends 20.0 mm from member 'g' (g), which it almost meets." in draw.said(almost)
    assert almost.amiss[0].at == pytest.approx((1000, 420))
    assert len(almost.amiss) == 1
    past = draw.found(draw.flat, girder, draw.floor("f", (1000, 390), (1000, 1000)))
    assert "runs 10.0 mm past" in draw.said(past)
    assert len(past.bays) == 3


def test_bay_that_leaks_is_told_where(draw: "Draw") -> None:
    result = draw.found(
        draw.flat, draw.girder("g", (0, 400), (6000, 400)), draw.floor("f", (1000, 600), (1000, 1000))
    )
    assert "ends on the bare skin" in draw.said(result)
    assert result.amiss[0].at == pytest.approx((1000, 600))
    assert len(result.bays) == 2


def test_everything_wrong_is_said_at_once(draw: "Draw") -> None:
    girder = draw.girder("g", (0, 400), (6000, 400))
    result = draw.found(
        draw.flat,
        girder,
        draw.girder("double", (1000, 400), (3000, 400)),
        draw.girder("none", (500, 500), (500, 500)),
        draw.girder("gone", (7000, 200), (8000, 200)),
        draw.floor("over", (2000, 0), (2000, 1300)),
        draw.girder("close", (0, 465), (6000, 465), section="thin"),
        draw.girder("unknown", (0, 800), (6000, 800), section="s9"),
    )
    said = draw.said(result)
    for words in (
        "It lies on member 'g' (g) over 2000 mm",
        "It has no length",
        "It lies outside the bottom",
        "300 mm of it lie outside",
        "under 20 mm",
        "Its section 's9' is not in the project",
    ):
        assert words in said
    assert all(np.isfinite(placed.at).all() for placed in result.amiss)


def test_two_sides_drawn_apart_are_judged_apart(draw: "Draw") -> None:
    result = draw.found(
        draw.flat,
        draw.girder("p", (0, 400), (6000, 400), hand=Hand.PORT),
        draw.girder("s", (0, -300), (6000, -300), hand=Hand.STARBOARD),
    )
    assert sorted(len(bay.rings) for bay in result.bays) == [1, 1, 1, 1]
    assert {span.member: len(span.lines) for span in result.spans} == {"p": 1, "s": 1}


def test_keel_bounds_a_panel_only_where_told(draw: "Draw") -> None:
    layout = draw.plan(draw.girder("g", (0, 400), (6000, 400)))
    free = replace(layout, rules=GridRules(keel_bounds=False))
    bounded, whole = (found(each, draw.vee, draw.sizes) for each in (layout, free))
    assert len(bounded.bays) == 2
    middle = draw.bay(whole, 3000, 0)
    assert middle.panel is not None
    assert middle.panel.b == pytest.approx(1000 - 100)
    assert middle.panel.camber == 0


def test_panel_whose_chine_bulges_between_its_corners_is_as_wide_as_its_area_asks(draw: "Draw") -> None:
    bulging = craft_of((0, 0, 1000, 0), (2000, 0, 1200, 0), (4000, 0, 1000, 0))
    layout = draw.found(bulging, draw.girder("g", (0, 800), (4000, 800), section="thin"))
    panel = draw.bay(layout, 2000, 900).panel
    assert panel is not None
    assert panel.l == pytest.approx(4000)
    assert panel.b == pytest.approx((200 * 4000 + 200 * 4000 / 2) / 4000)  # 200 at both ends, 400 half way


def test_three_sided_bay_is_its_area_over_the_enclosing_rectangle(draw: "Draw") -> None:
    roof = (draw.girder(name, (x, 0), (3000, 1000), section="thin") for name, x in (("a", 0), ("b", 6000)))
    (bay,) = (bay for bay in draw.found(draw.flat, *roof).bays if len(bay.sides) == 3 and bay.area > 2e6)
    assert bay.panel is not None
    assert bay.panel.l == pytest.approx(6000)
    assert bay.panel.b == pytest.approx(3e6 / 6000)


def test_marks_keep_ids_and_merged_marks_are_told(draw: "Draw") -> None:
    layout = draw.plan(draw.girder("g", (0, 400), (6000, 400)), draw.floor("f", (1000, 0), (1000, 1000)))
    first = unmarked(found(layout, draw.flat, draw.sizes), layout)
    marked = replace(
        layout,
        spans=tuple(
            SpanMark(id=f"n{k}", member=span.member, between=span.key[1])
            for k, (span, _) in enumerate(first.spans)
        ),
        bays=tuple(BayMark(id=f"p{k}", at=at) for k, (_, at) in enumerate(first.bays)),
    )
    again = found(marked, draw.flat, draw.sizes)
    assert not unmarked(again, marked).spans
    assert not unmarked(again, marked).bays
    assert {bay.id for bay in again.bays} == {"p0", "p1", "p2", "p3"}
    merged = replace(marked, members=marked.members[:1])
    result = found(merged, draw.flat, draw.sizes)
    assert "have become one" in draw.said(result)
    gone = unmarked(result, merged)
    assert len(gone.gone_bays) == 2
    assert {span.member for span, _ in gone.spans} == {"g"}
    parent = gone.spans[0][1]
    assert parent in {mark.id for mark in marked.spans if mark.member == "g"}


def test_moving_a_member_keeps_its_spans_ids(draw: "Draw") -> None:
    girder = draw.girder("g", (0, 400), (6000, 400))
    one = draw.found(draw.flat, girder, draw.floor("f", (1000, 0), (1000, 1000)))
    two = draw.found(draw.flat, girder, draw.floor("f", (1700, 0), (1700, 1000)))
    assert {span.key for span in one.spans} == {span.key for span in two.spans}


def test_thousands_of_members_are_found_or_refused_in_words(draw: "Draw") -> None:
    grid = [draw.floor(f"f{k}", (k, 0), (k, 1000)) for k in range(1, 5001)]
    girders = [draw.girder(f"g{y}", (0, y), (6000, y)) for y in range(20, 1000, 20)]
    result = draw.found(draw.flat, *grid, *girders)
    assert not result.bays
    assert "5049 members" in draw.said(result)


def test_tabs_of_a_member_stand_at_its_cut_crossings(draw: "Draw") -> None:
    tabbed = replace(
        draw.girder("g", (0, 400), (6000, 400)), backed=Backed.TABS, tab_thickness=4.0, tab_length=150.0
    )
    floor = draw.floor("f", (3000, 0), (3000, 1000))
    (aft, _) = [one.span for one in draw.found(draw.flat, tabbed, floor).spans if one.member == "g"]
    assert aft is not None
    (crossing,) = aft.crossings
    assert (crossing.backed, crossing.thickness, crossing.length) == (Backed.TABS, 4.0, 150.0)
    bare = replace(tabbed, backed=Backed.NONE)
    (aft, _) = [one.span for one in draw.found(draw.flat, bare, floor).spans if one.member == "g"]
    assert aft is not None
    assert (aft.crossings[0].thickness, aft.crossings[0].length) == (None, None)


def test_a_taper_is_that_of_the_end_it_was_drawn_for(draw: "Draw") -> None:
    ends = (LandsOn.AS_END, LandsOn.TAPERED)
    tapered = replace(draw.girder("g", (0, 400), (5000, 400)), ends=ends, tapers=(0.0, 450.0))
    floor = draw.floor("f", (3000, 0), (3000, 1000))
    (aft, fore) = [one.span for one in draw.found(draw.flat, tapered, floor).spans if one.member == "g"]
    assert aft is not None
    assert fore is not None
    assert [one.taper for one in (*aft.landings, *fore.landings)] == [0, 0, 0, 450]
    assert (fore.landings[1].on, fore.ends[1]) == (LandsOn.TAPERED, End.SIMPLE)
    long = replace(tapered, tapers=(0.0, 2400.0))
    assert "tapers are longer than the span" in draw.said(draw.found(draw.flat, long, floor))


@pytest.mark.parametrize(("held", "end"), [(Held.SIMPLE, End.SIMPLE), (Held.CLAMPED, End.HELD)])
def test_a_bulkhead_at_the_forward_edge_holds_as_that_edge_does(draw: "Draw", held: Held, end: End) -> None:
    landing = (LandsOn.AS_END, LandsOn.BULKHEAD)
    girder = replace(draw.girder("g", (0, 400), (6000, 400)), ends=landing)
    layout = replace(draw.plan(girder), supports=Supports(forward=held))
    (span,) = [one.span for one in found(layout, draw.flat, draw.sizes).spans]
    assert span is not None
    assert (span.ends[1], span.landings[1].on) == (end, LandsOn.BULKHEAD)


def test_of_many_amiss_in_one_way_it_is_said_how_many_more_there_are(draw: "Draw") -> None:
    outside = [draw.girder(f"o{k}", (7000, 10 + k), (7500, 10 + k)) for k in range(503)]
    doubled = [draw.girder(f"d{k}", (0, 400), (6000, 400)) for k in range(505)]
    said = draw.said(draw.found(draw.flat, *outside, *doubled))
    assert "3 more lie outside the bottom, wholly or in part; 500 are told one by one." in said
    assert "4 more lie on one another; 500 are told one by one." in said
    few = draw.said(draw.found(draw.flat, *outside[:500], *doubled[:501]))
    assert " more " not in few


def test_doubled_station_is_a_problem_not_an_error(draw: "Draw") -> None:
    craft = replace(draw.flat, stations=(draw.flat.stations[0], draw.flat.stations[0]))
    result = draw.found(craft, draw.girder("g", (0, 400), (6000, 400)))
    assert not result.bays
    assert "Two stations" in draw.said(result)
