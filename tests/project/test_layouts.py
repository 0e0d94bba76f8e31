"""Layouts in the document: what refers to what, what is wrong, and found subjects among those judged."""

from dataclasses import replace

import pytest

from stringerlab.assess import check
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout.plan import (
    Cavity,
    Combination,
    Equipment,
    EquipmentKind,
    Insert,
    Layout,
    Member,
    MemberKind,
    Part,
    Stretch,
    Use,
)
from stringerlab.layout.records import Panel, Span
from stringerlab.methods import Verdict
from stringerlab.project import Project, planning, resolve
from stringerlab.project.again import resolved_again
from stringerlab.project.drafting import moved as wall_moved
from stringerlab.project.edits import added, removed, renamed, replaced
from stringerlab.project.places import place
from stringerlab.project.pointing import pointed_at
from stringerlab.project.where_used import users

SAMPLES = folder("sample_projects")


@pytest.fixture(scope="module")
def drawn() -> Project:
    return load(SAMPLES / "tidewrack_layout.json")


def _layout(boat: Project) -> Layout:
    return next(layout for layout in boat.layouts if layout.id == boat.layout)


def _member(boat: Project, name: str) -> Member:
    return next(member for member in _layout(boat).members if member.name == name)


def _with(boat: Project, layout: Layout) -> Project:
    return replace(boat, layouts=tuple(layout if one.id == layout.id else one for one in boat.layouts))


def test_found_panels_and_spans_are_judged_after_those_given_by_hand(drawn: Project) -> None:
    resolved = resolve(drawn)
    own = [one.id for one in (*drawn.panels, *drawn.spans)]
    marks = {mark.id for mark in (*_layout(drawn).bays, *_layout(drawn).spans)}
    ids = [subject.id for subject in resolved.subjects]
    assert ids[: len(own)] == own
    bulkheads = {one.id for one in _layout(drawn).members if one.kind is MemberKind.BULKHEAD}
    judged = {mark.id for mark in _layout(drawn).spans if mark.member not in bulkheads}
    assert set(ids[len(own) :]) == judged | {mark.id for mark in _layout(drawn).bays}
    assert judged < marks
    results = check(drawn, topics=())
    assert {finding.subject for finding in results.findings} == set(ids)
    assert resolved.found is not None
    assert resolved.blocked == {}


def test_no_layout_in_use_judges_only_what_is_given_by_hand(drawn: Project) -> None:
    resolved = resolve(replace(drawn, layout=""))
    assert resolved.found is None
    assert resolved.subjects == (*drawn.panels, *drawn.spans)


def test_found_plating_comes_from_the_zones_at_its_place(drawn: Project) -> None:
    notes = {case.panel.name: case.notes for case in resolve(drawn).panels}
    assert notes["Between keel girder and inner longitudinal, floor 3 to 4"] == (
        "plating by place, at its middle: Bottom, all over, Keel strip",
    )


def test_a_panel_with_a_laminate_of_its_own_has_that(drawn: Project) -> None:
    layout = _layout(drawn)
    mark = layout.bays[0]
    boat = replaced(drawn, replace(layout, bays=(replace(mark, laminate="l3"), *layout.bays[1:])))
    case = next(one for one in resolve(boat).panels if one.panel.id == mark.id)
    assert case.stack is resolve(boat).stacks["l3"] or case.stack == resolve(boat).stacks["l3"]
    assert case.notes == ()


def test_a_member_without_section_blocks_its_spans_and_panels_and_says_so_once(drawn: Project) -> None:
    keel = _member(drawn, "Keel girder")
    boat = replaced(drawn, replace(keel, section=""))
    resolved = resolve(boat)
    [problem] = resolved.problems
    assert problem.what == "It has no section."
    assert problem.where == f"layout 'Full grid' ({boat.layout}), member 'Keel girder' ({keel.id})"
    blocked = [one for one in resolved.subjects if one.id in resolved.blocked]
    assert {one.name for one in blocked if isinstance(one, Span)} == {
        one.name for one in resolved.subjects if one.name.startswith("Keel girder,")
    }
    assert all("keel girder" in one.name for one in blocked if isinstance(one, Panel))
    assert any(isinstance(one, Panel) for one in blocked)
    assert [placed.problem for placed in resolved.amiss] == [problem]
    verdicts = {one.subject: one.verdict for one in check(boat, topics=()).findings}
    assert all(verdicts[one.id] is Verdict.NOT_JUDGED for one in blocked)


def test_an_unsound_section_blocks_only_what_needs_it(drawn: Project) -> None:
    floor = next(one for one in drawn.sections if one.name == "Floor")
    boat = replaced(drawn, replace(floor, walls=()))
    resolved = resolve(boat)
    spans = [one for one in resolved.subjects if isinstance(one, Span) and one.section == floor.id]
    assert all(one.id in resolved.blocked for one in spans)
    keel = [one for one in resolved.subjects if one.name.startswith("Keel girder,")]
    assert not any(one.id in resolved.blocked for one in keel)


def test_a_section_deleted_while_a_member_has_it_is_refused(drawn: Project) -> None:
    floor = next(one for one in drawn.sections if one.name == "Floor")
    with pytest.raises(StringerlabError) as refused:
        removed(drawn, floor.id)
    wheres = [problem.where for problem in refused.value.problems]
    assert (
        f"layout 'Full grid' ({drawn.layout}), member 'Floor 1' ({_member(drawn, 'Floor 1').id}), section"
        in wheres
    )
    found = {(user.owner, user.kind) for user in users(drawn, floor.id, "section")}
    assert ("Floor 1", "member") in found


def test_what_a_layout_names_must_be_there(drawn: Project) -> None:
    layout = _layout(drawn)
    keel = layout.members[0]
    wrong = replace(
        layout,
        members=(replace(keel, stretches=(Stretch(start=900, section="s999"),)), *layout.members[1:]),
        cavities=(Cavity(id="c901", name="Void", use=Use.VOID, anchors=((600, 600),), foam="nofoam"),),
        equipment=(
            Equipment(
                id="e902",
                name="Engine",
                kind=EquipmentKind.ENGINE,
                at=(1500, 0),
                mass=99_999,
                insert=Insert(material="unobtainium"),
            ),
        ),
        combinations=(Combination(id="o903", name="Run", parts=(Part(of="slam"), Part(of="e999"))),),
        supports=replace(layout.supports, side_laminate="l999", side_height=1.0),
        bays=(replace(layout.bays[0], laminate="l998"), *layout.bays[1:]),
    )
    found = {
        problem.where.removeprefix(f"layout 'Full grid' ({layout.id}), "): problem.what
        for problem in resolve(_with(drawn, wrong)).problems
    }
    assert found[f"member 'Keel girder' ({keel.id}), stretch 1, section"] == "There is no section 's999'."
    assert found["cavity 'Void' (c901), foam"] == "There is no solid 'nofoam'."
    assert found["equipment 'Engine' (e902), insert, material"] == "There is no solid 'unobtainium'."
    assert found["combination 'Run' (o903), part 2, of"] == "There is no equipment 'e999'."
    assert found["supports, side_laminate"] == "There is no laminate 'l999'."
    assert "outside" in found["supports, side height"]
    assert "outside" in found["equipment 'Engine' (e902), mass"]


def test_a_place_in_a_layout_is_said_as_the_trade_says_it(drawn: Project) -> None:
    number = drawn.layouts.index(_layout(drawn))
    inner = _member(drawn, "Inner longitudinal")
    path = ("layouts", number, "members", _layout(drawn).members.index(inner), "points", 1, 0)
    words = place(drawn, path)
    assert (
        words == f"layout 'Full grid' ({drawn.layout}), member 'Inner longitudinal' ({inner.id}), point 2, x"
    )
    assert pointed_at(drawn, words) == inner.id


def test_what_is_amiss_lands_among_the_problems_with_its_place(drawn: Project) -> None:
    floor = _member(drawn, "Floor 3")
    boat = planning.with_plan_point_moved(drawn, floor.id, 1, (4200, 1240))
    resolved = resolve(boat)
    [placed] = [one for one in resolved.amiss if floor.id in one.problem.where]
    assert placed.at == pytest.approx((4200, 1240))
    assert placed.problem in resolved.problems
    assert placed.problem.where == (
        f"layout 'Full grid' ({boat.layout}), member 'Floor 3' ({floor.id}), at x 4200, y 1240 mm"
    )
    assert pointed_at(boat, placed.problem.where) == floor.id


def test_equipment_beside_the_boat_is_said_and_an_unknown_layout_too(drawn: Project) -> None:
    tank = next(one for one in _layout(drawn).equipment if one.name == "Fuel tank")
    boat = planning.with_plan_point_moved(drawn, tank.id, 0, (4700, 5000))
    assert [one.problem.what for one in resolve(boat).amiss] == ["It stands off the bottom."]
    [problem] = resolve(replace(drawn, layout="y999")).problems
    assert problem.what == "There is no layout 'y999'."


def test_a_thing_of_a_layout_is_renamed_replaced_and_removed_like_any_other(drawn: Project) -> None:
    keel = _member(drawn, "Keel girder")
    assert _member(renamed(drawn, keel.id, "Kielträger"), "Kielträger").id == keel.id
    with pytest.raises(StringerlabError, match="is a member, not a cavity"):
        replaced(drawn, Cavity(id=keel.id, name="", use=Use.BILGE, anchors=((0, 0),)))
    with pytest.raises(StringerlabError, match="no layout"):
        added(drawn, keel, to="y999")
    shrunk = planning.without_parts(drawn, [keel.id])
    assert not any(one.id == keel.id for one in _layout(shrunk).members)
    assert all(mark.member != keel.id for mark in _layout(shrunk).spans)


def test_a_doubled_id_in_a_layout_is_said(drawn: Project) -> None:
    layout = _layout(drawn)
    twice = replace(layout, members=(*layout.members, replace(layout.members[3], name="Again")))
    assert any("is also that of" in problem.what for problem in resolve(_with(drawn, twice)).problems)


def test_a_moved_member_resolved_again_is_as_resolved_anew(drawn: Project) -> None:
    earlier = resolve(drawn)
    for by in (30.0, -420.0):
        boat = planning.moved(drawn, [_member(drawn, "Floor 3").id], by, 0)
        again, anew = resolved_again(boat, drawn, earlier), resolve(boat)
        for name in ("panels", "spans", "problems", "blocked", "subjects", "doubts", "amiss", "repairs"):
            assert getattr(again, name) == getattr(anew, name), name
    wrong = replaced(drawn, replace(_member(drawn, "Floor 3"), section=""))
    assert resolved_again(wrong, drawn, earlier).problems == resolve(wrong).problems != ()
    assert resolved_again(drawn, wrong, resolve(wrong)).problems == ()


def test_a_section_that_grows_moves_the_panels_beside_it(drawn: Project) -> None:
    section = next(one for one in drawn.sections if one.name == "Keel girder")
    wider = wall_moved(drawn, section.id, [section.walls[0].id], 0.0, 5.0)
    again, anew = resolved_again(wider, drawn, resolve(drawn)), resolve(wider)
    assert again.problems == anew.problems
    assert again.subjects == anew.subjects
    assert again.spans == anew.spans


def test_words_about_what_was_found_lead_to_it(drawn: Project) -> None:
    strip = next(zone for zone in drawn.zones if zone.name == "Keel strip")
    drawn = replaced(drawn, replace(strip, forward=8300.0))  # within the foremost bays
    doubts = [doubt for doubt in resolve(drawn).doubts if "zone ends" in doubt.what]
    assert doubts
    marks = {mark.id for mark in (*_layout(drawn).bays, *_layout(drawn).spans)}
    assert {pointed_at(drawn, doubt.where) for doubt in doubts} <= marks
