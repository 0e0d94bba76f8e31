"""Gestures on the plan as edits: what each does to a layout, and that it keeps what lies along members."""

from itertools import pairwise
from math import hypot

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.layout.openings import LandsOn, Opening
from stringerlab.layout.plan import (
    Combination,
    Equipment,
    EquipmentKind,
    Hand,
    Held,
    Layout,
    Member,
    MemberKind,
    Part,
    Stretch,
)
from stringerlab.project import Project, planning
from stringerlab.project.beginning import new_boat


def _member(kind: MemberKind, name: str, *points: tuple[float, float], hand: Hand = Hand.PAIR) -> Member:
    return Member(id="", name=name, kind=kind, hand=hand, points=points, section="s3")


def _boat() -> Project:
    """A boat 5.6 m long with a pair of longitudinals, and floors at 1, 2 and 3 m that end on the chine."""
    boat = new_boat()
    section = boat.sections[0].id
    members = (
        _member(MemberKind.LONGITUDINAL, "Inner", (0, 400), (4200, 400)),
        _member(MemberKind.TRANSVERSE, "Floor 1", (1000, 0), (1000, 950 + 30 * 1000 / 2200)),
        _member(MemberKind.TRANSVERSE, "Floor 2", (4200, 0), (4200, 850)),
    )
    layout = Layout(id="", name="Plan", members=tuple(_with_section(member, section) for member in members))
    return planning.with_layout(boat, layout)


def _with_section(member: Member, section: str) -> Member:
    return Member(
        id="", name=member.name, kind=member.kind, hand=member.hand, points=member.points, section=section
    )


@pytest.fixture
def boat() -> Project:
    return _boat()


def _ids(boat: Project) -> dict[str, str]:
    return {member.name: member.id for member in boat.layouts[0].members}


def _named(boat: Project, name: str) -> Member:
    return planning.member_of(boat, _ids(boat)[name])


def test_the_first_layout_is_in_use_and_a_second_is_not(boat: Project) -> None:
    assert boat.layout == boat.layouts[0].id
    two = planning.with_layout(boat)
    assert two.layout == boat.layout
    assert planning.with_layout_in_use(two, two.layouts[1].id).layout == two.layouts[1].id
    assert planning.without_layout(two, boat.layout).layout == ""


def test_a_duplicated_layout_has_ids_of_its_own_and_finds_the_same(boat: Project) -> None:
    boat = planning.with_part(
        boat, boat.layout, Equipment(id="", name="Engine", kind=EquipmentKind.ENGINE, at=(700, 0), mass=200)
    )
    engine = boat.layouts[0].equipment[0].id
    boat = planning.with_part(
        boat, boat.layout, Combination(id="", name="Run", parts=(Part(of="slam"), Part(of=engine)))
    )
    two = planning.duplicated_layout(boat, boat.layout)
    first, second = two.layouts
    assert second.name == "Plan 2"
    assert [part.of for part in second.combinations[0].parts] == ["slam", second.equipment[0].id]
    ids = [
        each.id
        for layout in two.layouts
        for held in (layout.members, layout.equipment, layout.combinations, layout.bays, layout.spans)
        for each in held
    ]
    assert len(ids) == len(set(ids))
    assert (len(second.spans), len(second.bays)) == (len(first.spans), len(first.bays))


def test_a_member_may_be_moved_and_its_end_on_the_chine_stays_there(boat: Project) -> None:
    moved = _named(planning.moved(boat, [_ids(boat)["Floor 1"]], 500, 0), "Floor 1")
    assert moved.points[0] == (1500, 0)
    # the chine runs straight from 950 mm at x 0 to 980 mm at x 2200
    assert moved.points[1] == pytest.approx((1500, 950 + 30 * 1500 / 2200))


def test_a_point_is_put_in_moved_and_taken_out(boat: Project) -> None:
    inner = _ids(boat)["Inner"]
    more = planning.with_plan_point(boat, inner, 1, (2000, 450))
    assert _named(more, "Inner").points == ((0, 400), (2000, 450), (4200, 400))
    there = planning.with_plan_point_moved(more, inner, 1, (2500, 430))
    assert _named(there, "Inner").points[1] == (2500, 430)
    assert _named(planning.without_plan_points(there, inner, [1]), "Inner").points == ((0, 400), (4200, 400))
    with pytest.raises(StringerlabError, match="needs 2 points"):
        planning.without_plan_points(boat, inner, [0])
    with pytest.raises(StringerlabError, match="no point 5"):
        planning.with_plan_point_moved(boat, inner, 4, (0, 0))


def _flat(member: Member) -> list[float]:
    return [number for point in member.points for number in point]


def _with_holes(boat: Project) -> Project:
    inner = _ids(boat)["Inner"]
    section = boat.sections[0].id
    for x in (500.0, 1500.0, 3500.0):
        boat = planning.with_member_opening(boat, inner, Opening(x=x, height=30, width=30))
    return planning.with_stretch(boat, inner, Stretch(start=2000.0, section=section, taper=100))


def _holes(boat: Project) -> list[float]:
    """Where openings lie along the boat, of all longitudinals."""
    found: list[float] = []
    for member in boat.layouts[0].members:
        (x, _), *_ = member.points
        found += [x + hole.x for hole in member.openings]
    return sorted(found)


def test_a_split_member_keeps_what_lies_along_it_where_it_is(boat: Project) -> None:
    holed = _with_holes(boat)
    parted = planning.split(holed, _ids(boat)["Inner"], (1700, 380))
    first, second = (one for one in parted.layouts[0].members if one.kind is MemberKind.LONGITUDINAL)
    assert _flat(first) == pytest.approx([0, 400, 1700, 400])
    assert _flat(second) == pytest.approx([1700, 400, 4200, 400])
    assert (first.id, second.name) == (_ids(boat)["Inner"], "Inner 2")
    assert _holes(parted) == pytest.approx([500, 1500, 3500])
    assert first.stretches == ()
    assert [stretch.start for stretch in second.stretches] == pytest.approx([300])


def test_a_member_is_split_at_all_its_crossings(boat: Project) -> None:
    parted = planning.split(boat, _ids(boat)["Inner"])
    long = [one for one in parted.layouts[0].members if one.kind is MemberKind.LONGITUDINAL]
    assert [one.points[-1][0] for one in long] == pytest.approx([1000, 4200])
    with pytest.raises(StringerlabError, match="not parted at its end"):
        planning.split(boat, _ids(boat)["Inner"], (0, 400))


def test_joining_what_was_split_gives_the_member_again(boat: Project) -> None:
    holed = _with_holes(boat)
    parted = planning.split(holed, _ids(boat)["Inner"], (1700, 400))
    other = _ids(parted)["Inner 2"]
    for pair in ((_ids(boat)["Inner"], other), (other, _ids(boat)["Inner"])):
        whole = next(
            one
            for one in planning.joined(parted, *pair).layouts[0].members
            if one.kind is MemberKind.LONGITUDINAL
        )
        length = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(whole.points))
        assert length == pytest.approx(4200)
        assert {whole.points[0], whole.points[-1]} == {(0.0, 400.0), (4200.0, 400.0)}
    joined = planning.joined(parted, _ids(boat)["Inner"], other)
    assert _holes(joined) == pytest.approx([500, 1500, 3500])


def test_trimming_takes_the_piece_round_the_pointer(boat: Project) -> None:
    floor = _ids(boat)["Floor 1"]
    within = _named(planning.trimmed(boat, floor, (1000, 700)), "Floor 1")
    assert _flat(within) == pytest.approx([1000, 0, 1000, 400])
    without = _named(planning.trimmed(boat, floor, (1000, 100)), "Floor 1")
    assert without.points[0] == pytest.approx((1000, 400))
    crossed = planning.spaced_every(boat, floor, 500, count=2)
    middle = planning.trimmed(crossed, _ids(crossed)["Inner"], (1200, 400))
    ends = [
        x for one in middle.layouts[0].members if one.kind is MemberKind.LONGITUDINAL for x, _ in one.points
    ]
    assert ends == pytest.approx([0, 1000, 1500, 4200])


def test_an_end_is_extended_to_what_lies_ahead(boat: Project) -> None:
    floor = _ids(boat)["Floor 1"]
    short = planning.trimmed(boat, floor, (1000, 700))
    long = _named(planning.extended(short, floor, 1), "Floor 1")
    assert long.points[1] == pytest.approx((1000, 950 + 30 * 1000 / 2200))
    inner = _ids(boat)["Inner"]
    back = planning.extended(planning.with_plan_point_moved(boat, inner, 0, (300, 400)), inner, 0)
    assert _named(back, "Inner").points[0] == pytest.approx((0, 400))
    with pytest.raises(StringerlabError, match="no member or line"):
        planning.extended(short, floor, 1, to="b999")


def test_members_are_spaced_between_two_and_at_a_pitch(boat: Project) -> None:
    ids = _ids(boat)
    between = planning.spaced_between(boat, ids["Floor 1"], ids["Floor 2"], 3)
    at = sorted(one.points[0][0] for one in between.layouts[0].members if one.kind is MemberKind.TRANSVERSE)
    assert at == pytest.approx([1000, 1800, 2600, 3400, 4200])
    pitched = planning.spaced_every(boat, ids["Floor 1"], 400, until=3000)
    names = [one.name for one in pitched.layouts[0].members if one.kind is MemberKind.TRANSVERSE]
    assert names == ["Floor 1", "Floor 2", "Floor 3", "Floor 4", "Floor 5", "Floor 6", "Floor 7"]
    assert max(one.points[0][0] for one in pitched.layouts[0].members[3:]) == pytest.approx(3000)
    with pytest.raises(StringerlabError, match=r"sets 4[0-9]{3} members"):
        planning.spaced_every(boat, ids["Floor 1"], 1)
    with pytest.raises(StringerlabError, match="pitch of nothing"):
        planning.spaced_every(boat, ids["Floor 1"], 0)


def test_none_is_repeated_onto_the_forward_edge_itself(boat: Project) -> None:
    pitched = planning.spaced_every(boat, _ids(boat)["Floor 1"], 920)  # 1000 + 5 × 920 = 5600, the bow
    assert max(one.points[0][0] for one in pitched.layouts[0].members) == pytest.approx(4680)


def test_hands_are_changed_and_what_stands_on_one_side_is_mirrored(boat: Project) -> None:
    inner = _ids(boat)["Inner"]
    port = planning.with_hand(boat, [inner], Hand.PORT)
    starboard = planning.mirrored(port, [inner])
    assert _named(starboard, "Inner").hand is Hand.STARBOARD
    assert [y for _, y in _named(starboard, "Inner").points] == [-400, -400]
    again = planning.with_hand(starboard, [inner], Hand.PAIR)
    assert _named(again, "Inner").points == _named(boat, "Inner").points
    assert planning.mirrored(boat, [inner]) is boat


def test_a_copy_has_a_name_and_an_id_of_its_own(boat: Project) -> None:
    copied = planning.copied(boat, [_ids(boat)["Floor 1"]], 300, 0)
    assert len(set(_ids(copied).values())) == 4
    assert _named(copied, "Floor 3").points[0] == (1300, 0)


def test_sections_go_to_members_and_stretches(boat: Project) -> None:
    inner = _ids(boat)["Inner"]
    section = boat.sections[0].id
    stretched = planning.with_stretch(boat, inner, Stretch(start=3000, section=section))
    stretched = planning.with_stretch(stretched, inner, Stretch(start=1500, section=section))
    assert [each.start for each in _named(stretched, "Inner").stretches] == [1500, 3000]
    other = planning.with_section(stretched, [inner], "elsewhere", stretch=1)
    assert [each.section for each in _named(other, "Inner").stretches] == [section, "elsewhere"]
    assert [each.start for each in _named(planning.without_stretch(other, inner, 0), "Inner").stretches] == [
        3000
    ]
    with pytest.raises(StringerlabError, match="no stretch 3"):
        planning.without_stretch(other, inner, 2)


def test_values_that_are_there_already_are_no_step_to_undo(boat: Project) -> None:
    inner = _ids(boat)["Inner"]
    assert planning.with_part_values(boat, [inner], hand=Hand.PAIR) is boat
    assert planning.with_supports(boat, boat.layout, chine=Held.SIMPLE) is boat
    landed = planning.with_part_values(boat, [inner], ends=(LandsOn.TRANSOM, LandsOn.AS_END))
    assert _named(landed, "Inner").ends[0] is LandsOn.TRANSOM
    assert planning.with_rules(boat, boat.layout, step=0.125).layouts[0].rules.step == 0.125
    with pytest.raises(StringerlabError, match="has no colour"):
        planning.with_part_values(boat, [inner], colour="red")


def test_equipment_a_combination_names_is_not_removed_without_it(boat: Project) -> None:
    boat = planning.with_part(
        boat, boat.layout, Equipment(id="", name="", kind=EquipmentKind.ENGINE, at=(700, 0), mass=200)
    )
    engine = boat.layouts[0].equipment[0]
    assert engine.name == "Engine"
    boat = planning.with_part(boat, boat.layout, Combination(id="", name="Run", parts=(Part(of=engine.id),)))
    with pytest.raises(StringerlabError, match="in use"):
        planning.without_parts(boat, [engine.id])
    gone = planning.without_parts(boat, [engine.id, boat.layouts[0].combinations[0].id])
    assert (gone.layouts[0].equipment, gone.layouts[0].combinations) == ((), ())


def test_a_drawing_underneath_is_traced_and_nothing_ends_at_it(boat: Project) -> None:
    floor = _ids(boat)["Floor 1"]
    traced = planning.with_traces(boat, boat.layout, [((0, 200), (4000, 200)), ((5, 5),)], "Old plan")
    [trace] = traced.layouts[0].lines
    assert (trace.name, trace.points) == ("Old plan", ((0, 200), (4000, 200)))
    assert trace.id not in ("", floor)
    assert (traced.layouts[0].spans, traced.layouts[0].bays) == (boat.layouts[0].spans, boat.layouts[0].bays)
    within = _named(planning.trimmed(traced, floor, (1000, 100)), "Floor 1")
    assert within.points[0] == pytest.approx((1000, 400))
    assert planning.without_traces(traced, boat.layout).layouts[0].lines == ()
    with pytest.raises(StringerlabError, match="holds no line"):
        planning.with_traces(boat, boat.layout, [((5, 5),)])
