"""Cavities on hand-made grids: room by solid geometry, water by level, foam by Archimedes, heat by ice."""

from dataclasses import replace
from math import cos, isnan, tan

import pytest

from stringerlab.craft import Category, Craft, Station, bottom
from stringerlab.layout import find
from stringerlab.layout.cavities import cavities
from stringerlab.layout.found import MemberSize
from stringerlab.layout.hollows import shell_of
from stringerlab.layout.plan import GridRules, Hand, Layout, MemberKind, PlanLine, Use

from .grids import (
    BETA,
    FLAT,
    FOAM,
    HEIGHTS,
    SIX,
    cavity,
    grid,
    limber,
    member,
    one,
    read,
    said,
)

# -- depth ---------------------------------------------------------------------------------------------


def test_a_level_top_stands_at_the_lowest_point_of_any_crown_round_it() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900), root=30.0)
    box = one(read(layout, found, cavity("box", Use.BOX, (1500, 200), hand=Hand.PORT)), "box")
    assert box.level == pytest.approx(150.0)  # of the floors at the keel, lower than the stringer's
    assert box.depth == pytest.approx(150.0)
    assert box.area == pytest.approx(940 * 370)
    level, slope = 150.0, tan(BETA)
    assert box.volume == pytest.approx(940 * (370 * level - 370**2 * slope / 2), rel=1e-12)


def test_a_longitudinal_s_crown_leans_with_the_deadrise() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900), sections={"t1": "high", "t2": "high"})
    heights = {"high": 900.0, "stringer": 200.0}
    box = cavity("box", Use.BOX, (1500, 200), hand=Hand.PORT)
    level = one(read(layout, found, box, heights=heights), "box").level
    assert level == pytest.approx(400 * tan(BETA) + 200 * cos(BETA))


def test_a_foam_void_s_top_runs_along_the_shell() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900), root=30.0)
    void = one(read(layout, found, cavity("v", Use.VOID, (1500, 650), hand=Hand.PAIR)), "v")
    assert void.level is None
    assert void.depth == 150.0
    assert void.count == 2
    assert void.volume == pytest.approx(150 * 940 * 470 / cos(BETA))


def test_its_own_depth_counts_from_its_lowest_place_and_says_when_it_stands_over_a_crown() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900))
    box = cavity("box", Use.BOX, (1500, 200), hand=Hand.PORT, depth=220.0)
    reading = one(read(layout, found, box), "box")
    assert reading.depth == 220.0
    assert any("stands 70 mm over the lowest crown" in note and "T2" in note for note in reading.notes)


def test_a_bay_with_no_crown_round_it_asks_for_a_depth() -> None:
    layout, found = grid((0, 1000), (0, 900))
    assert "Give it a depth" in said(read(layout, found, cavity("c", Use.STORAGE, (500, 200))))
    assert isnan(read(layout, found, cavity("c", Use.STORAGE, (500, 200))).readings[0].volume)


def test_a_bulkhead_bounds_a_cavity_but_not_its_depth() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900))
    members = tuple(
        replace(each, kind=MemberKind.BULKHEAD) if each.id in ("t1", "t2") else each
        for each in layout.members
    )
    box = cavity("box", Use.BOX, (1500, 200), hand=Hand.PORT)
    level = one(
        read(replace(layout, members=members), found, box, heights={"stringer": 100.0, "floor": 40.0}), "box"
    ).level
    assert level == pytest.approx(400 * tan(BETA) + 100 * cos(BETA))


def test_a_member_between_two_bays_of_one_cavity_does_not_bound_it() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900), sections={"t1": "low"})
    heights = {**HEIGHTS, "low": 40.0}
    both = cavity("c", Use.STORAGE, (500, 200), (1500, 200), hand=Hand.PORT)
    assert one(read(layout, found, both, heights=heights), "c").level == pytest.approx(150.0)
    alone = cavity("c", Use.STORAGE, (500, 200), hand=Hand.PORT)
    assert one(read(layout, found, alone, heights=heights), "c").level == pytest.approx(40.0)


# -- bays ----------------------------------------------------------------------------------------------


def test_a_cavity_on_the_centreline_takes_both_sides_of_the_keel() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900))
    half = one(read(layout, found, cavity("c", Use.BILGE, (1500, 200), hand=Hand.PORT)), "c")
    for anchor in ((1500, 200), (1500, 0)):
        whole = one(read(layout, found, cavity("c", Use.BILGE, anchor)), "c")
        assert whole.count == 1
        assert whole.volume == pytest.approx(2 * half.volume)
        assert len(whole.drains) == 2
        # one floor on either side of both ends, one stringer: the keel is no member
        assert whole.contact == pytest.approx(2 * half.contact)
        assert half.contact == pytest.approx(1000 + 2 * 400 / cos(BETA))


@pytest.mark.parametrize(
    ("anchor", "words"),
    [((1500, 2000), "lies in no bay"), ((1000, 200), "lies on member 'T1'"), ((1500, 400), "member 'L1'")],
)
def test_a_point_in_no_one_bay_is_said_with_its_place(anchor: tuple[float, float], words: str) -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900))
    result = read(layout, found, cavity("c", Use.BILGE, anchor, hand=Hand.PORT))
    reading = one(result, "c")
    assert [placed.at for placed in reading.problems] == [anchor]
    assert words in str(reading.problems[0].problem)
    assert isnan(reading.volume)


def test_two_cavities_in_one_bay_are_said() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900))
    result = read(
        layout, found, cavity("a", Use.BILGE, (1500, 0)), cavity("b", Use.BOX, (1500, 200), hand=Hand.PAIR)
    )
    assert "cavity 'b' (b): It and cavity 'a' (a) both lie in bay p3, port." in said(result)


def test_a_hand_says_its_side_however_drawn() -> None:
    layout, found = grid((0, 1000, 2000, 3000), (0, 400, 900))
    of = [cavity("c", Use.BOX, (1500, y), hand=Hand.STARBOARD) for y in (200, -200)]
    drawn = [one(read(layout, found, each), "c") for each in of]
    assert [each.drains[0].path for each in drawn] == [("bay p3, starboard",)] * 2


def found_on_a_vee() -> tuple[Layout, Craft, dict[str, MemberSize]]:
    """Floors and a pair of stringers on a prismatic vee of 20°, webs of no width, not yet looked through."""
    chine = 1000 * tan(BETA)
    craft = Craft(
        name="Vee",
        category=Category.C,
        waterline_length=6000,
        mass=2000,
        speed=30,
        stations=tuple(Station(x=x, keel_z=0, chine_y=1000, chine_z=chine) for x in (0, 1500, 6000)),
    )
    floors = tuple(
        replace(
            member(f"m{n}", MemberKind.TRANSVERSE, ((x, 0.0), (x, 1000.0)), limber(0.0), limber(405.0)),
            section="floor",
        )
        for n, x in enumerate((1000.0, 2000.0, 3000.0), 1)
    )
    stringers = replace(
        member("m9", MemberKind.LONGITUDINAL, ((0.0, 400.0), (6000.0, 400.0)), limber(3.0)),
        section="stringer",
    )
    layout = Layout(
        id="g1",
        name="Grid",
        members=(*floors, stringers),
        cavities=(
            cavity("bilge", Use.BILGE, (500, 0)),
            cavity("tank", Use.TANK_BAY, (2500, 0)),
            cavity("side", Use.VOID, (1500, 700), hand=Hand.PAIR, foam="foam32"),
        ),
    )
    sizes = {id_: MemberSize(base_width=0.0, height=each) for id_, each in HEIGHTS.items()}
    return layout, craft, sizes


def test_a_found_layout_s_cavities_are_those_of_its_hull() -> None:
    """Floors and a pair of stringers found on a prismatic vee of 20°, webs of no width."""
    layout, craft, sizes = found_on_a_vee()
    hull = bottom(craft)
    result = cavities(layout, find.found(layout, craft, sizes), shell_of(hull), sizes, {FOAM.id: FOAM})
    assert said(result) == ""
    tank, side = one(result, "tank"), one(result, "side")
    assert tank.volume == pytest.approx(1000 * 2 * (400 * 150 - 400**2 * tan(BETA) / 2))
    assert tank.contact == pytest.approx(2 * 1000 + 4 * 400 / cos(BETA))
    assert len(tank.drains[0].path) == 3
    assert side.volume == pytest.approx(150 * 1000 * 600 / cos(BETA), rel=1e-6)
    assert side.count == 2
    assert len(side.drains[0].path) == 3  # along the floor's hole outboard, then through the stringer
    assert side.drained


@pytest.mark.parametrize(
    "more",
    [
        {"rules": GridRules(keel_bounds=False)},
        {"lines": (PlanLine(id="s1", name="Step", points=((0, 800), (6000, 700)), bounds=True),)},
    ],
)
def test_what_parts_panels_but_is_no_member_changes_no_cavity(more: dict[str, object]) -> None:
    """Neither a keel that bounds panels or not, nor a spray step, is a wall."""
    layout, craft, sizes = found_on_a_vee()
    other = replace(layout, **more)  # type: ignore[arg-type]
    as_drawn, changed = (
        cavities(each, find.found(each, craft, sizes), shell_of(bottom(craft)), sizes, {FOAM.id: FOAM})
        for each in (layout, other)
    )
    assert said(changed) == ""
    for one_, same in zip(as_drawn.readings, changed.readings, strict=True):
        for name in ("volume", "area", "contact", "depth", "foam_mass", "count"):
            assert getattr(same, name) == pytest.approx(getattr(one_, name), rel=1e-6)


# -- foam, water, heat ---------------------------------------------------------------------------------


def test_foam_bears_what_it_displaces_less_what_it_weighs() -> None:
    layout, found = grid(*SIX)
    void = cavity("v", Use.VOID, (1500, 650), hand=Hand.PAIR, foam="foam32", filled=0.8, wet=0.05)
    wet, dry = (read(layout, found, replace(void, sealed=sealed)) for sealed in (False, True))
    cubic_metres = 0.8 * 0.15 * 1.0 * 0.5 / cos(BETA)
    assert one(dry, "v").foam_mass == pytest.approx(32 * cubic_metres)
    assert one(dry, "v").wet_mass == 0.0
    assert one(dry, "v").buoyancy == pytest.approx((1000 - 32) * cubic_metres)
    assert one(dry, "v").air_volume == pytest.approx(one(dry, "v").volume * 0.2)
    assert one(wet, "v").wet_mass == pytest.approx(50 * cubic_metres)
    assert one(wet, "v").buoyancy == pytest.approx((1000 - 32 - 50) * cubic_metres)
    assert dry.buoyancy == pytest.approx(2 * one(dry, "v").buoyancy)
    assert any("no strength" in note for note in one(dry, "v").notes)


def test_a_foam_that_is_not_in_the_book_is_said() -> None:
    layout, found = grid(*SIX)
    result = read(layout, found, cavity("v", Use.VOID, (1500, 650), hand=Hand.PORT, foam="cork"))
    assert "There is no fill material 'cork'." in said(result)
    assert isnan(one(result, "v").foam_mass)


def test_a_box_s_walls_are_its_bottom_lid_and_sides() -> None:
    layout, found = grid(*SIX)
    box = cavity("b", Use.BOX, (1500, 0), insulation=50.0, depth=200.0)
    reading = one(read(layout, found, box, shell=FLAT), "b").insulation
    assert reading is not None
    assert reading.area == pytest.approx(2 * 1000 * 800 + 200 * 2 * (1000 + 800))
    assert reading.u == pytest.approx((0.5, 0.7))
    assert reading.loss == pytest.approx((0.5 * 2.32, 0.7 * 2.32))


def test_access_reaches_the_reading() -> None:
    layout, found = grid(*SIX)
    tank = cavity("t", Use.TANK_BAY, (1500, 0), access="tank lifts out after the hatch")
    assert one(read(layout, found, tank), "t").access == "tank lifts out after the hatch"
