"""Openings, landings, crossings and outboards judged of one upright box by hand: 80 × 102 mm, 2 mm walls."""

from dataclasses import replace
from math import pi
from typing import Any

import numpy as np
import pytest

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack, shear_strength
from stringerlab.layout import (
    Backed,
    Crossing,
    Cut,
    Duty,
    End,
    Hole,
    Landing,
    LandsOn,
    Opening,
    Span,
    SpanCase,
    TransomLoad,
)
from stringerlab.methods import Aspect, Judged, span_rows
from stringerlab.methods.mechanics import OURS, Carried, LoadedSpan, ends, feet
from stringerlab.methods.unjudged import bond_and_ends
from stringerlab.section import Plating, SectionShape, Side, WallShape, crippling, facts, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.workings import workings

LOAD = 0.02 * 400
"""P·s [N/mm] on 1000 mm."""
HIGH = 102.0


def laminate(t: float, strength: float | None = 100.0, shear: float | None = 50.0) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=t,
        mass=1500.0 * t,
        dry_weight=500.0 * t,
        glass=0.3,
        E1=10e3,
        E2=10e3,
        G12=10e3 / 2.6,
        nu12=0.3,
        tension_1=strength,
        compression_1=strength,
        tension_2=strength,
        compression_2=strength,
        shear=shear,
        flexural=None if strength is None else 120.0,
        interlaminar=20.0,
        marks=(),
        tested=("flexural",),
    )
    return Stack(name="laminate", plies=(ply,))


def box(stack: Stack) -> SectionShape:
    points = ((-80, 2), (-40, 2), (-40, HIGH), (40, HIGH), (40, 2), (80, 2))
    wall = WallShape(id="w1", points=points, fillets=(), side=Side.RIGHT, closed=False, stack=stack)
    return SectionShape(name="box", walls=(wall,))


def loaded(stack: Stack | None = None, **of: Any) -> LoadedSpan:
    stack = stack or laminate(2.0)
    given: dict[str, Any] = {"section": "s1", "lu": 1000.0, "s": 400.0, "x": 900.0, "deadrise": 0.0, **of}
    span = Span(id="m1", name="floor", **given)
    plating = Plating(stack=laminate(6.0), width=200.0)
    shape = box(stack)
    return LoadedSpan(
        case=SpanCase(span=span, section=shape, plating=plating.stack),
        plating=plating,
        properties=properties(shape, plating, Moduli.CONTRACTED),
        facts=facts(shape),
        P=0.02,
        end=SectionLoads(),
        middle=SectionLoads(),
    )


def judged(one: LoadedSpan) -> dict[Aspect, Judged]:
    found = [each for each in ends.judge([one], OURS) if each.applies is None or each.applies[0]]
    assert len({each.aspect for each in found}) == len(found)
    return {each.aspect: each for each in found}


def use(each: Judged) -> float:
    return float(np.broadcast_to(each.utilisation, 1)[0])


def limber(x: float = 100.0, height: float = 30.0, width: float = 40.0, bottom: float = 0.0) -> Opening:
    return Opening(x=x, height=height, width=width, bottom=bottom, radius=15)


def test_a_plain_held_span_has_nothing_to_judge_here():
    assert ends.judge([loaded()], OURS) == ()


def test_shear_over_the_web_left_governs_where_the_shear_strength_is_low():
    one = loaded(laminate(2.0, shear=20.0), openings=(limber(),))
    found = judged(one)[Aspect.OPENING]
    # V at the hole's aft side, 8·(500 − 80); two webs of 2 × 100 mm less 30 of 102
    assert found.demand[0] == pytest.approx(LOAD * 420 / (400 * (1 - 30 / HIGH)))
    assert found.capacity[0] == pytest.approx(0.5 * shear_strength(laminate(2.0, shear=20.0))[0])
    assert found.governing is not None
    assert found.governing.name(0) == "opening 1, limber, at x 100 mm"


def test_bending_of_the_tee_governs_at_a_wide_hole():
    one = loaded(openings=(limber(x=100, height=45, width=120),))
    found = judged(one)[Aspect.OPENING]
    shear, moment = LOAD * (500 - 40), LOAD * (-(1000**2) / 12 + 500 * 40 - 40**2 / 2)
    web, deep = 400 / HIGH, HIGH - 45
    flange, thick = one.facts.crown_width, one.facts.crown_thickness
    area = web * deep + flange * thick
    axis = (web * deep**2 / 2 + flange * thick * (deep + thick / 2)) / area
    second = web * deep * (deep**2 / 12 + (deep / 2 - axis) ** 2) + flange * thick * (
        thick**2 / 12 + (deep + thick / 2 - axis) ** 2
    )
    own = abs(moment) * 10e3 * abs(45 - one.properties.z_na) / one.properties.EI_y
    assert found.demand[0] == pytest.approx(own + shear * 120 / 2 / (second / axis))
    assert found.capacity[0] == pytest.approx(50)


def test_a_hole_under_what_its_span_is_known_to_carry_is_judged_as_under_the_load_that_gives_it():
    under = loaded(openings=(limber(x=100, height=45, width=120),))
    x = np.linspace(0, 1000, 2001)
    V, M = LOAD * (500 - x), LOAD * (-(1000**2) / 12 + 500 * x - x**2 / 2)
    carried = Carried(x=x, V=np.abs(V), M=np.abs(M))
    known = replace(under, P=float("nan"), carried=carried)
    one, other = (judged(each)[Aspect.OPENING] for each in (under, known))
    assert other.demand[0] == pytest.approx(one.demand[0], rel=1e-9)


def test_a_hole_as_high_as_half_the_web_is_at_its_limit():
    found = judged(loaded(openings=(limber(x=500, height=HIGH / 2, width=40),)))[Aspect.OPENING]
    assert found.unit.symbol == ""
    assert use(found) == pytest.approx(1.0)


def test_a_hole_keeps_its_own_height_from_an_end_and_from_the_next():
    near_end = judged(loaded(openings=(limber(x=35, height=30, width=40),)))[Aspect.OPENING]
    assert use(near_end) == pytest.approx(2.0)
    near_next = judged(loaded(openings=(limber(x=500), limber(x=555))))[Aspect.OPENING]
    assert use(near_next) == pytest.approx(2.0)


def test_the_worst_of_several_holes_is_told_by_its_number():
    found = judged(loaded(openings=(limber(x=500), limber(x=60), limber(x=800))))[Aspect.OPENING]
    assert found.governing is not None
    assert found.governing.name(0).startswith("opening 2,")


def test_a_hole_without_strengths_is_not_judged_and_says_which():
    found = judged(loaded(laminate(2.0, strength=None, shear=None), openings=(limber(x=500),)))
    each = found[Aspect.OPENING]
    assert np.isnan(use(each))
    assert "strength" in each.missing
    short = judged(loaded(laminate(2.0, strength=None, shear=None), openings=(limber(height=90, x=500),)))
    assert use(short[Aspect.OPENING]) > 1.5  # a proportion needs no strength


def test_an_opening_finding_shows_how_it_was_computed():
    one = loaded(laminate(2.0, shear=20.0), openings=(limber(),))
    with workings() as recording:
        [found] = ends.judge([one], OURS)
    names = [step.formula.name for step in recording.behind(found.demand, found.capacity)]
    assert names == ["shear_along", "net_web_area", "net_shear", "allowed_shear"]


def test_each_span_of_many_has_its_own_row():
    many = [loaded(), loaded(openings=(limber(x=500),)), loaded(openings=(limber(x=35),))]
    found = ends.judge(many, OURS)
    rows = np.array([one.applies for one in found])
    assert rows.sum(axis=0).tolist() == [0, 1, 1]
    alone = use(judged(many[2])[Aspect.OPENING])
    [there] = [one for one in found if one.applies is not None and one.applies[2]]
    assert float(there.utilisation[2]) == pytest.approx(alone)


def ended(forward: End = End.SIMPLE, **landing: Any) -> LoadedSpan:
    return loaded(ends=(End.HELD, forward), landings=(Landing(), Landing(**landing)))


def test_an_end_that_does_not_say_how_it_lands_is_not_judged():
    found = judged(ended())[Aspect.HARD_SPOT]
    assert np.isnan(use(found))
    assert [remark.text for remark in found.lacking if remark.where is not None and remark.where[0]] == [
        "an end is not held and how it lands is not said: say whether on skin, chine, bulkhead or tapered"
    ]


def test_an_end_on_bare_skin_bends_it_as_a_patch_on_a_clamped_plate():
    found = judged(ended(on=LandsOn.SKIN))[Aspect.HARD_SPOT]
    force = 3 / 8 * LOAD * 1000
    radius = np.sqrt(80 * HIGH / np.pi)
    middle = 3 * force / (2 * np.pi * 36) * (1.3 * np.log(2 * 400 / (np.pi * radius)) + 0.067)
    assert found.demand[0] == pytest.approx(max(middle, 1.008 * force / 36))
    assert found.capacity[0] == pytest.approx(60)


def test_a_taper_spreads_what_an_end_puts_on_the_skin():
    bare, long = (
        judged(ended(on=on, taper=taper))[Aspect.HARD_SPOT]
        for on, taper in ((LandsOn.SKIN, 0.0), (LandsOn.TAPERED, 900.0))
    )
    assert use(long) < use(bare)


def test_a_steep_taper_is_short_by_common_practice():
    one = loaded(landings=(Landing(on=LandsOn.CONTINUES, taper=100, height=52), Landing()))
    found = judged(one)[Aspect.HARD_SPOT]
    assert use(found) == pytest.approx(0.5 * 3)
    assert use(judged(loaded(landings=(Landing(taper=300, height=52), Landing())))[Aspect.HARD_SPOT]) == (
        pytest.approx(0.5)
    )


def test_an_end_on_the_chine_is_not_judged_in_words():
    found = judged(ended(on=LandsOn.CHINE))[Aspect.HARD_SPOT]
    assert np.isnan(use(found))
    assert any(
        "chine" in remark.text for remark in found.lacking if remark.where is not None and remark.where[0]
    )


@pytest.mark.parametrize("on", [LandsOn.BULKHEAD, LandsOn.TRANSOM, LandsOn.CONTINUES])
def test_an_end_on_a_support_is_no_hard_spot(on: LandsOn):
    assert Aspect.HARD_SPOT not in judged(ended(on=on))


def kneed(shear: float, **landing: Any) -> LoadedSpan:
    return loaded(laminate(2.0, shear=shear), landings=(Landing(on=LandsOn.KNEE, **landing), Landing()))


def test_a_knee_takes_the_moment_of_simple_ends_round_the_corner():
    one = kneed(200.0, height=400.0)
    found = judged(one)[Aspect.KNEE]
    of = one.properties
    reach = max(float(np.abs(of.fibres.z_top).max()), float(np.abs(of.fibres.z_bottom).max()))
    assert found.demand[0] == pytest.approx(LOAD * 1000**2 / 8 * 10e3 * reach / of.EI_y)
    assert found.capacity[0] == pytest.approx(50)


def test_the_throat_of_a_knee_is_bent_by_what_goes_round_it():
    one = kneed(2000.0, height=60.0)
    found = judged(one)[Aspect.KNEE]
    crown = one.facts.crown_width * one.facts.crown_thickness
    # its crown with a sixth of two webs of 400/102 mm together
    assert found.demand[0] == pytest.approx(LOAD * 1000**2 / 8 / (60 * (crown + 400 / HIGH * 60 / 6)))
    assert found.source.title == "Rigid frames"


def test_the_corner_of_a_knee_is_sheared_by_its_crowns_force():
    found = judged(kneed(20.0))[Aspect.KNEE]
    assert found.demand[0] == pytest.approx(LOAD * 1000**2 / 8 / (HIGH**2 * 400 / HIGH))
    assert found.capacity[0] == pytest.approx(0.5 * shear_strength(laminate(2.0, shear=20.0))[0])
    assert found.governing is not None
    assert found.governing.name(0) == "its aft end, knee"
    assert any("as high as the member" in remark.text for remark in found.remarks)


def crossed(**of: Any) -> LoadedSpan:
    given: dict[str, Any] = {"x": 1000.0, "height": 200.0, **of}
    return loaded(crossings=(Crossing(**given),))


def kick() -> float:
    return LOAD * 1000**2 / 12 / (HIGH - 1 + 3)


def test_a_crown_cut_at_a_higher_web_pushes_it():
    one = crossed()
    found = judged(one)[Aspect.CROSSING]
    at = HIGH - 1
    wide = one.facts.crown_width + 2 * (200 - at)
    assert found.demand[0] == pytest.approx(6 * kick() * at * (200 - at) / 200 / (wide * 2**2))
    assert found.capacity[0] == pytest.approx(50)
    assert [remark.text for remark in found.remarks if remark.where is not None and remark.where[0]] == [
        "a cut crown with nothing behind it holds no end: reckon this end simple"
    ]


def test_tabs_and_diaphragms_take_the_kick():
    tabs = judged(crossed(backed=Backed.TABS, thickness=4.0, length=60.0))[Aspect.CROSSING]
    assert tabs.demand[0] == pytest.approx(kick() / (2 * 4 * 60))
    plate = judged(crossed(backed=Backed.DIAPHRAGM, thickness=4.0, length=60.0))[Aspect.CROSSING]
    assert plate.demand[0] == pytest.approx(kick() / (4 * 60))


def test_backing_without_sizes_is_not_judged():
    found = judged(crossed(backed=Backed.TABS))[Aspect.CROSSING]
    assert np.isnan(use(found))
    assert "not given" in found.missing


def test_a_crown_over_the_one_it_is_cut_at_has_nothing_to_push():
    found = judged(crossed(height=90.0))[Aspect.CROSSING]
    assert np.isnan(use(found))
    assert "stands above" in next(remark.text for remark in found.lacking)


def test_a_crown_that_goes_through_is_not_judged():
    assert judged(crossed(crown=Cut.CONTINUOUS)) == {}


def test_simple_ends_leave_a_crossing_there_no_kick():
    one = loaded(ends=(End.HELD, End.SIMPLE), crossings=(Crossing(x=1000, height=200.0),))
    assert judged(one)[Aspect.CROSSING].demand[0] == pytest.approx(0, abs=1e-6)


OUTBOARDS = TransomLoad(thrust=6000, weight=3500, depth=400, overhang=300, share=0.5, times=3)


def test_outboards_bend_and_push_the_section_at_the_transom():
    one = loaded(transom=OUTBOARDS, landings=(Landing(on=LandsOn.TRANSOM), Landing()))
    found = judged(one)[Aspect.TRANSOM]
    of = one.properties
    moment = 0.5 * (6000 * (400 + of.z_na) + 3 * 3500 * 300)
    ends_of = np.concatenate([of.fibres.z_top, of.fibres.z_bottom])
    stress = 10e3 * (moment * ends_of / of.EI_y - 3000 / of.EA)
    assert found.demand[0] == pytest.approx(np.abs(stress).max())
    assert found.governing is not None
    assert found.governing.name(0).endswith("in tension")


def test_shear_of_the_weight_governs_where_webs_are_weak():
    weak = laminate(2.0, strength=1000.0, shear=4.0)
    load = replace(OUTBOARDS, thrust=0, overhang=0)
    found = judged(loaded(weak, transom=load, landings=(Landing(on=LandsOn.TRANSOM), Landing())))
    assert found[Aspect.TRANSOM].demand[0] == pytest.approx(0.5 * 3 * 3500 / 400)


def test_weight_at_rest_is_said():
    load = replace(OUTBOARDS, times=1.0)
    found = judged(loaded(transom=load, landings=(Landing(on=LandsOn.TRANSOM), Landing())))[Aspect.TRANSOM]
    said = [remark.text for remark in found.remarks if remark.where is not None and remark.where[0]]
    assert said[0] == "the weight as at rest: no acceleration is given for it"
    three = judged(loaded(transom=OUTBOARDS, landings=(Landing(on=LandsOn.TRANSOM), Landing())))
    assert not any(
        "at rest" in remark.text
        for remark in three[Aspect.TRANSOM].remarks
        if remark.where is not None and remark.where[0]
    )


def test_a_mechanism_is_not_judged():
    one = loaded(ends=(End.FREE, End.SIMPLE), openings=(limber(x=500),))
    assert np.isnan(use(judged(one)[Aspect.OPENING]))


def test_a_lightening_hole_is_named_so():
    hole = replace(limber(x=500, bottom=30), kind=Hole.LIGHTENING)
    found = judged(loaded(openings=(hole,)))[Aspect.OPENING]
    assert found.governing is not None
    assert found.governing.name(0) == "opening 1, lightening, at x 500 mm"


def test_what_the_other_ways_come_to_is_noted_of_the_row_itself():
    many = [loaded(openings=(limber(x=500, height=HIGH / 2, width=40),)), loaded(openings=(limber(x=35),))]
    height, edge = ends.judge(many, OURS)
    [said] = [remark for remark in height.remarks if "at the same place" in remark.text]
    assert said.where is not None
    assert said.where.tolist() == [True, False]
    assert said.text.startswith("at the same place: mean shear ")
    shear = LOAD * 20 / (400 / 2) / (0.5 * shear_strength(laminate(2.0))[0])
    assert f"mean shear {shear:.2f}," in said.text
    [other] = [remark for remark in edge.remarks if "at the same place" in remark.text]
    assert other.where is not None
    assert other.where.tolist() == [False, True]


@pytest.mark.parametrize(("on", "open_"), [(LandsOn.AS_END, True), (LandsOn.BULKHEAD, False)])
def test_a_method_leaves_no_hard_spot_open_where_a_support_carries_the_end(on: LandsOn, open_: bool):
    one = ended(on=on)
    rows = span_rows([one.case], [one.properties], [one.facts])
    assert rows.may_die.tolist() == [open_]
    [spot] = [each for each in bond_and_ends(rows) if each.aspect is Aspect.HARD_SPOT]
    assert spot.applies is not None
    assert spot.applies.tolist() == [open_]


def test_a_transoms_own_plate_is_not_judged_and_says_what_is_missing():
    found = judged(loaded(transom=OUTBOARDS, landings=(Landing(on=LandsOn.TRANSOM), Landing())))
    plate = found[Aspect.TRANSOM_PLATE]
    assert np.isnan(use(plate))
    assert all(word in plate.missing for word in ("its laminate", "bolts", "the members that hold it"))
    assert Aspect.TRANSOM_PLATE not in judged(ended(on=LandsOn.TRANSOM))


@pytest.mark.parametrize("duty", [Duty.ENGINE_BED, Duty.GYRO])
def test_a_bed_whose_feet_are_not_known_is_not_judged_under_them(duty: Duty):
    found = judged(loaded(duty=duty))[Aspect.FEET]
    assert np.isnan(use(found))
    assert found.missing.startswith("no foot load entered")


def test_a_foot_presses_the_webs_under_it():
    one = loaded(duty=Duty.ENGINE_BED)
    [found] = feet.judge([one], OURS, {"m1": (feet.Foot(name="foot 1", force=2000, length=80),)})
    # half on each of two webs like the other, spread at 45° over their depth
    root = crippling.roots(one.facts.shape)[0]
    assert found.demand[0] == pytest.approx(1000 / (80 + root.depth))
    euler = pi**2 * 10e3 * 2**3 / (12 * (1 - 0.3**2)) / root.depth**2
    assert found.capacity[0] == pytest.approx(0.5 * euler, rel=0.02)  # little of it is shear's
    assert found.governing is not None
    assert found.governing.name(0).endswith("under foot 1")


def test_the_harder_of_two_feet_governs_and_the_longer_helps():
    one = loaded(duty=Duty.ENGINE_BED)

    def used(*standing: feet.Foot) -> float:
        [found] = feet.judge([one], OURS, {"m1": standing})
        return use(found)

    light, hard = (feet.Foot(name="foot", force=force, length=80) for force in (1000, 3000))
    assert used(light, hard) == pytest.approx(3 * used(light))
    assert used(replace(hard, length=160)) < used(hard)


def test_feet_on_another_span_leave_a_plain_one_alone():
    assert feet.judge([loaded()], OURS, {"m9": (feet.Foot(name="foot", force=1000, length=80),)}) == ()
