"""Water by level: through limber holes to the bilge, held by the highest sill, shut out of sealed voids."""

from math import tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.layout.hollows import Shell
from stringerlab.layout.plan import Hand, Use

from .grids import AT_KEEL, BETA, FLAT, SIX, cavity, grid, limber, one, read, rising, said


def test_water_runs_from_bay_to_bay_to_the_bilge() -> None:
    layout, found = grid(*SIX, openings={**AT_KEEL, "l1": (limber(2500.0),)})
    result = read(
        layout,
        found,
        cavity("bilge", Use.BILGE, (500, 0)),
        cavity("locker", Use.RODE_LOCKER, (2500, 0)),
        cavity("side", Use.STORAGE, (2500, 600), hand=Hand.PORT),
        shell=Shell(z=rising),
    )
    locker = one(result, "locker")
    assert locker.drained
    assert {drain.path[-1] for drain in locker.drains} <= {"bay p1, port", "bay p1, starboard"}
    side = one(result, "side").drains[0]
    assert side.path == ("bay p6, port", "bay p5, port", "bay p3, port", "bay p1, port")
    assert "member 'L1' (l1), opening 1" in side.through[0]
    # the stringer runs uphill: its hole's aft edge at 2480 lies so much above the aft corner
    assert side.stands == pytest.approx(0.02 * 480)
    assert "Water stands 10 mm deep in bay p6, port" in said(result)


def test_what_stays_is_held_by_the_highest_sill_on_the_best_way() -> None:
    openings = {"t1": (limber(0.0, bottom=25.0),), "t2": (limber(0.0, bottom=60.0), limber(200.0))}
    layout, found = grid(*SIX, openings=openings)
    result = read(layout, found, cavity("bilge", Use.BILGE, (500, 0)), cavity("c", Use.STORAGE, (2500, 0)))
    drain = one(result, "c").drains[0]
    assert drain.stands == pytest.approx(60.0)  # the hole at 200 mm out lies at 72.8
    half = 60.0 / tan(BETA)
    assert drain.kept == pytest.approx(1000 * 60.0 * half / 2)
    assert not drain.dry
    assert drain.at[1] == 0.0


def test_a_bay_without_a_way_out_is_said_with_the_place_where_water_stands() -> None:
    layout, found = grid(*SIX, openings=AT_KEEL)
    result = read(
        layout,
        found,
        cavity("bilge", Use.BILGE, (500, 0)),
        cavity("side", Use.STORAGE, (1500, 600), hand=Hand.PAIR),
    )
    side = one(result, "side")
    assert not side.drained
    assert side.drains[0].kept is None
    assert side.drains[0].stands is None
    placed = next(each for each in side.problems if "finds no way to the bilge" in each.problem.what)
    assert placed.at[1] == 400.0
    assert result.foam_mass == 0.0


def test_a_limber_into_a_sealed_void_is_said_and_lets_nothing_through() -> None:
    layout, found = grid(*SIX, openings=AT_KEEL)
    result = read(
        layout,
        found,
        cavity("bilge", Use.BILGE, (500, 0)),
        cavity("void", Use.VOID, (1500, 0), sealed=True, foam="foam32"),
        cavity("locker", Use.RODE_LOCKER, (2500, 0)),
    )
    leads = [placed for placed in result.problems if "leads into a sealed void" in placed.problem.what]
    assert len(leads) == 2  # once a floor: a hole on the centreline is its own image
    assert {placed.at[0] for placed in leads} == {1000.0, 2000.0}
    assert one(result, "void").drains == ()
    assert not any(drain.reaches for drain in one(result, "locker").drains)


def test_no_bilge_at_all_is_said_once() -> None:
    layout, found = grid(*SIX, openings=AT_KEEL)
    text = said(read(layout, found, cavity("a", Use.BOX, (500, 0)), cavity("b", Use.BOX, (2500, 0))))
    assert text.count("nothing drains") == 1
    assert "finds no way" not in text


def test_a_limber_beyond_its_member_or_at_a_crossing_is_no_way() -> None:
    layout, found = grid(*SIX, openings={"t1": (limber(400.0), limber(5000.0))})
    text = said(read(layout, found, cavity("bilge", Use.BILGE, (500, 0))))
    assert "member 'T1' (t1), opening 1: This limber hole stands where another member meets this one." in text
    assert "member 'T1' (t1), opening 2: This limber hole lies beyond the member's end." in text


@settings(max_examples=10, deadline=None)
@given(st.sets(st.sampled_from([f"t{n}" for n in range(1, 6)] + ["l1", "l2"]), min_size=0))
def test_water_reaches_the_bilge_just_where_a_flood_fill_does(holed: set[str]) -> None:
    """On a level bottom every limber passes: who drains is who is joined to the bilge."""
    xs, ys = (0, 1000, 2000, 3000, 4000, 5000, 6000), (0, 300, 600, 900)
    openings = {
        name: tuple(limber(at) for at in ((150, 450, 750) if name[0] == "t" else range(500, 6000, 1000)))
        for name in holed
    }
    layout, found = grid(xs, ys, openings=openings)
    places = {(i, j): (500.0 + 1000 * i, 150.0 + 300 * j) for i in range(6) for j in range(3)}
    reached, edge = {(0, 0)}, [(0, 0)]
    while edge:
        i, j = edge.pop()
        for to, wall in (
            ((i + 1, j), f"t{i + 1}"),
            ((i - 1, j), f"t{i}"),
            ((i, j + 1), f"l{j + 1}"),
            ((i, j - 1), f"l{j}"),
        ):
            if wall in holed and to in places and to not in reached:
                reached.add(to)
                edge.append(to)
    of = [
        cavity(f"{i}.{j}", Use.BILGE if (i, j) == (0, 0) else Use.STORAGE, at, hand=Hand.PAIR)
        for (i, j), at in places.items()
    ]
    result = read(layout, found, *of, shell=FLAT)
    assert {tuple(map(int, each.id.split("."))) for each in result.readings if each.drained} == reached


def test_a_hole_through_a_wide_member_is_as_high_as_the_outer_web() -> None:
    layout, found = grid(*SIX, root=60.0, openings={**AT_KEEL, "l1": (limber(2500.0),)})
    result = read(
        layout,
        found,
        cavity("bilge", Use.BILGE, (500, 0)),
        cavity("side", Use.STORAGE, (2500, 600), hand=Hand.PORT),
        shell=Shell(z=rising),
    )
    # both corners stand at the outer web: what is between them is the hole's way along the member
    assert one(result, "side").drains[0].stands == pytest.approx(0.02 * (2480 - 2060))


def test_a_limber_in_the_foot_of_another_member_is_no_way_and_says_how_far_to_move_it() -> None:
    layout, found = grid(*SIX, root=60.0, openings={"t1": (limber(420.0),)})
    text = said(read(layout, found, cavity("bilge", Use.BILGE, (500, 0))))
    assert "opening 1: This limber hole stands where another member's foot covers it." in text
    assert "Move it 20 mm or more" in text
