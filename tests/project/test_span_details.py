"""Openings, landings, crossings and outboards of a span: what is wrong with them, and how they are edited."""

from dataclasses import replace
from typing import Any

import pytest

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Crossing, End, Hole, Landing, LandsOn, Opening, Span, TransomLoad
from stringerlab.project import Project, problems, resolve, span_details

HOLE = Opening(x=500, height=30, width=40, radius=15)


def spoiled(boat: Project, **changes: Any) -> tuple[Problem, ...]:
    return problems(replace(boat, spans=(replace(boat.spans[0], **changes), *boat.spans[1:])))


def only(boat: Project, **changes: Any) -> Problem:
    [problem] = spoiled(boat, **changes)
    return problem


def first(project: Project) -> Span:
    return project.spans[0]


def test_a_hole_that_fits_is_no_problem(boat: Project):
    assert spoiled(boat, openings=(HOLE, replace(HOLE, x=100, kind=Hole.LIGHTENING, bottom=20))) == ()


def test_a_hole_beyond_the_span(boat: Project):
    problem = only(boat, openings=(HOLE, replace(HOLE, x=15)))
    assert problem.where == "span 'Main stringer, bay 2' (m9), opening 2"
    assert problem.what == "It reaches from x -5 to 35 mm, beyond the span's 0 to 1100 mm."
    assert problem.remedy


def test_a_hole_as_high_as_the_member(boat: Project):
    problem = only(boat, openings=(replace(HOLE, height=100, bottom=25, radius=0),))
    assert problem.what == "It reaches 125 mm above the shell; the member is 114.1 mm high."


def test_holes_that_overlap(boat: Project):
    problem = only(boat, openings=(HOLE, replace(HOLE, x=530)))
    assert problem.what == "Openings 1 and 2 overlap."
    assert spoiled(boat, openings=(HOLE, replace(HOLE, x=540))) == ()
    assert spoiled(boat, openings=(HOLE, replace(HOLE, bottom=30))) == ()


def test_a_corner_too_round_for_its_hole(boat: Project):
    assert only(boat, openings=(replace(HOLE, radius=16),)).what == (
        "A corner of radius 16 mm does not fit 40 × 30 mm."
    )


def test_every_problem_of_a_span_is_listed_at_once(boat: Project):
    found = spoiled(
        boat,
        openings=(replace(HOLE, x=5, height=200), replace(HOLE, radius=100)),
        crossings=(Crossing(x=5000, height=100),),
        landings=(Landing(on=LandsOn.SKIN), Landing(on=LandsOn.BULKHEAD, taper=2000)),
        transom=TransomLoad(),
    )
    assert len(found) == 9
    assert len({problem.where for problem in found}) == 7
    assert all(problem.remedy for problem in found)


@pytest.mark.parametrize("on", [LandsOn.SKIN, LandsOn.CHINE])
def test_an_end_that_dies_is_not_held(boat: Project, on: LandsOn):
    problem = only(boat, landings=(Landing(), Landing(on=on)))
    assert problem.where == "span 'Main stringer, bay 2' (m9), forward landing"
    assert problem.what == f"An end that dies on the {on.value} is not held."
    assert spoiled(boat, ends=(End.HELD, End.SIMPLE), landings=(Landing(), Landing(on=on))) == ()


@pytest.mark.parametrize(
    ("landing", "words"),
    [
        (Landing(height=30), "over no length"),
        (Landing(on=LandsOn.BULKHEAD, taper=100), "to no height"),
        (Landing(on=LandsOn.BULKHEAD, taper=100, height=120), "does not fall"),
    ],
)
def test_a_taper_has_a_length_and_falls(boat: Project, landing: Landing, words: str):
    assert words in only(boat, landings=(landing, Landing())).what


def test_tapered_out_needs_a_length(boat: Project):
    problem = only(boat, ends=(End.SIMPLE, End.HELD), landings=(Landing(on=LandsOn.TAPERED), Landing()))
    assert problem.what == "It tapers over no length."


def test_outboards_hang_on_an_end_at_the_transom(boat: Project):
    load = TransomLoad(thrust=5000)
    assert "neither end lands on the transom" in only(boat, transom=load).what
    assert spoiled(boat, transom=load, landings=(Landing(on=LandsOn.TRANSOM), Landing())) == ()


def test_numbers_out_of_range_say_where(boat: Project):
    problem = only(boat, openings=(replace(HOLE, bottom=-3),))
    assert problem.where == "span 'Main stringer, bay 2' (m9), opening 1, bottom"
    problem = only(boat, crossings=(Crossing(x=500, height=-1),))
    assert problem.where == "span 'Main stringer, bay 2' (m9), crossing 1, height"


def test_a_span_with_a_wrong_hole_is_not_judged(boat: Project):
    wrong = replace(boat, spans=(replace(first(boat), openings=(replace(HOLE, x=5),)), *boat.spans[1:]))
    assert first(boat).id in resolve(wrong).blocked


def test_a_fresh_hole_fits_and_the_next_lies_in_the_longest_bare_stretch(boat: Project):
    hole = span_details.fresh_opening(boat, "m9")
    assert (hole.x, hole.height, hole.width, hole.radius) == (550, 34, 34, 17)  # 0.3 of 120 cos 18°
    moved = span_details.with_opening(boat, "m9", replace(hole, x=200))
    assert span_details.fresh_opening(moved, "m9").x == pytest.approx((217 + 1100) / 2)
    assert problems(moved) == ()


def test_a_span_full_of_holes_has_no_room(boat: Project):
    full = span_details.with_opening(boat, "m9", Opening(x=550, height=30, width=1080))
    with pytest.raises(StringerlabError, match="no room for another opening"):
        span_details.fresh_opening(full, "m9")


def test_holes_and_crossings_are_replaced_and_taken_out_by_number(boat: Project):
    project = boat
    for x in (100, 300, 500):
        project = span_details.with_opening(project, "m9", replace(HOLE, x=x))
        project = span_details.with_crossing(project, "m9", Crossing(x=x, height=150))
    project = span_details.with_opening(project, "m9", replace(HOLE, x=320), 1)
    project = span_details.with_crossing(project, "m9", Crossing(x=320, height=90), 1)
    assert [hole.x for hole in first(project).openings] == [100, 320, 500]
    project = span_details.without_openings(project, "m9", (0, 2))
    project = span_details.without_crossings(project, "m9", (0, 2))
    assert [hole.x for hole in first(project).openings] == [320]
    assert first(project).crossings == (Crossing(x=320, height=90),)
    assert first(boat).openings == ()


def test_a_fresh_crossing_is_by_a_member_as_high(boat: Project):
    assert span_details.fresh_crossing(boat, "m9") == Crossing(x=550, height=114.1)


def test_numbers_that_are_not_there(boat: Project):
    for wrong in (
        lambda: span_details.with_opening(boat, "m9", HOLE, 0),
        lambda: span_details.without_openings(boat, "m9", (0,)),
        lambda: span_details.with_crossing(boat, "m9", Crossing(x=1, height=9), 3),
        lambda: span_details.without_crossings(boat, "m9", (-1,)),
        lambda: span_details.with_landing(boat, "m99", 0, Landing()),
    ):
        with pytest.raises(StringerlabError, match="There is no"):
            wrong()


def test_an_end_that_comes_to_die_on_skin_is_called_simple(boat: Project):
    project = span_details.with_landing(boat, "m9", 1, Landing(on=LandsOn.SKIN))
    assert first(project).ends == (End.HELD, End.SIMPLE)
    assert problems(project) == ()
    back = span_details.with_landing(project, "m9", 1, Landing())
    assert first(back).ends == (End.HELD, End.SIMPLE)


def test_outboards_bring_their_landing_with_them(boat: Project):
    project = span_details.with_outboards(boat, "m9", TransomLoad(thrust=5000))
    assert first(project).landings[0].on is LandsOn.TRANSOM
    assert problems(project) == ()
    off = span_details.with_outboards(project, "m9", None)
    assert first(off).transom is None
    assert first(off).landings[0].on is LandsOn.TRANSOM
