"""Ids of found panels and spans: they survive edits, as long as the thing is still itself."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import Layout, Member
from stringerlab.project import Project, planning, resolve
from stringerlab.project.edits import added, replaced
from stringerlab.project.finding import found_in
from stringerlab.project.marking import is_reconciled, reconciled


@pytest.fixture(scope="module")
def drawn() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


def _layout(boat: Project) -> Layout:
    return next(layout for layout in boat.layouts if layout.id == boat.layout)


def _member(boat: Project, name: str) -> Member:
    return next(member for member in _layout(boat).members if member.name == name)


def _names(boat: Project) -> dict[str, str]:
    """Names in words by id of everything found."""
    found = found_in(boat, _layout(boat))
    panels = {bay.id: bay.panel.name for bay in found.bays if bay.panel}
    return panels | {span.id: span.span.name for span in found.spans if span.span}


def test_the_sample_is_marked_and_stays_as_it_is(drawn: Project) -> None:
    assert all(is_reconciled(drawn, layout) for layout in drawn.layouts)
    assert reconciled(drawn) is drawn


def test_what_is_found_goes_by_names_in_words(drawn: Project) -> None:
    names = set(_names(drawn).values())
    assert "Inner longitudinal, floor 3 to 4" in names
    assert "Between keel girder and inner longitudinal, floor 3 to 4" in names
    assert "Between outer longitudinal and chine, transom to floor 1" in names
    assert "Floor 3, keel girder to inner longitudinal" in names
    assert len(names) == len(_names(drawn))


@pytest.mark.parametrize("by", [40.0, -300.0, 700.0])
def test_a_floor_may_be_moved_and_everything_keeps_its_id(drawn: Project, by: float) -> None:
    floor = _member(drawn, "Floor 3").id
    moved = planning.moved(drawn, [floor], by, 0)
    assert _names(moved) == _names(drawn)
    assert moved.counter == drawn.counter


def test_a_longitudinal_moved_over_the_middles_of_its_panels_leaves_them_their_ids(drawn: Project) -> None:
    moved = planning.moved(drawn, [_member(drawn, "Inner longitudinal").id], 0, 230)
    assert [mark.id for mark in _layout(moved).bays] == [mark.id for mark in _layout(drawn).bays]
    names = _names(moved)
    assert names == {id_: name for id_, name in _names(drawn).items() if id_ in names}


def test_a_new_floor_splits_spans_which_name_their_parents(drawn: Project) -> None:
    before = _names(drawn)
    keel = next(id_ for id_, name in before.items() if name == "Keel girder, floor 3 to 4")
    floor = _member(drawn, "Floor 3")
    grown = planning.copied(drawn, [floor.id], 450, 0)
    after = _names(grown)
    halves = [mark for mark in _layout(grown).spans if mark.parent == keel]
    assert sorted(after[mark.id] for mark in halves) == [
        "Keel girder, floor 3 to 7",
        "Keel girder, floor 7 to 4",
    ]
    assert keel not in after
    untouched = [id_ for id_, name in before.items() if "floor 1 to 2" in name]
    assert [after[id_] for id_ in untouched] == [before[id_] for id_ in untouched]
    fresh = set(after) - set(before)
    assert all(int(id_[1:]) >= drawn.counter for id_ in fresh)


def test_taking_the_floor_out_again_leaves_the_rest_and_never_reuses_an_id(drawn: Project) -> None:
    grown = planning.copied(drawn, [_member(drawn, "Floor 3").id], 450, 0)
    shrunk = planning.without_parts(grown, [_member(grown, "Floor 7").id])
    assert sorted(_names(shrunk).values()) == sorted(_names(drawn).values())
    merged = next(id_ for id_, name in _names(shrunk).items() if name == "Keel girder, floor 3 to 4")
    assert merged in _names(grown)
    assert shrunk.counter >= grown.counter


def test_both_halves_of_a_parted_panel_have_its_laminate(drawn: Project) -> None:
    name = "Between keel girder and inner longitudinal, floor 3 to 4"
    id_ = next(id_ for id_, of in _names(drawn).items() if of == name)
    layout = _layout(drawn)
    own = tuple(replace(mark, laminate="l2") if mark.id == id_ else mark for mark in layout.bays)
    boat = replaced(drawn, replace(layout, bays=own))
    parted = planning.copied(boat, [_member(boat, "Floor 3").id], 450, 0)
    laminates = [mark.laminate for mark in _layout(parted).bays]
    assert laminates.count("l2") == 2
    assert id_ in {mark.id for mark in _layout(parted).bays}


def test_panels_that_become_one_are_asked_about_only_where_they_differ(drawn: Project) -> None:
    floor = _member(drawn, "Floor 3").id
    plain = planning.without_parts(drawn, [floor])
    assert not [doubt for doubt in resolve(plain).doubts if "become one" in doubt.what]
    name = "Between keel girder and inner longitudinal, floor 3 to 4"
    id_ = next(id_ for id_, of in _names(drawn).items() if of == name)
    layout = _layout(drawn)
    own = tuple(replace(mark, laminate="l2") if mark.id == id_ else mark for mark in layout.bays)
    asked = planning.without_parts(replaced(drawn, replace(layout, bays=own)), [floor])
    found = [doubt for doubt in resolve(asked).doubts if "become one" in doubt.what]
    assert len(found) == 1
    assert f"({id_})" in found[0].where
    assert resolve(asked).problems == ()


def test_a_layout_written_by_hand_is_marked_when_it_is_resolved(drawn: Project) -> None:
    bare = replace(drawn, layouts=tuple(replace(one, bays=(), spans=()) for one in drawn.layouts))
    resolved = resolve(bare)
    assert len(resolved.subjects) == len(resolve(drawn).subjects)
    ids = [subject.id for subject in resolved.subjects]
    assert len(ids) == len(set(ids))
    assert all(id_[0] in "pm" and id_[1:].isdigit() for id_ in ids)


def test_a_named_mark_keeps_its_name(drawn: Project) -> None:
    mark = _layout(drawn).spans[0]
    layout = replace(_layout(drawn), spans=(replace(mark, name="The long one"), *_layout(drawn).spans[1:]))
    assert _names(replaced(drawn, layout))[mark.id] == "The long one"


def test_an_edit_elsewhere_gives_no_id_that_a_mark_has(drawn: Project) -> None:
    section = added(drawn, drawn.sections[0]).sections[-1]
    marks = {mark.id for layout in drawn.layouts for mark in (*layout.bays, *layout.spans)}
    parts = {section.id, *(wall.id for wall in section.walls)}
    assert not {id_[1:] for id_ in marks} & {id_[1:] for id_ in parts}


def test_a_bottom_that_cannot_be_read_takes_no_mark_away(drawn: Project) -> None:
    craft = replace(drawn.craft, stations=drawn.craft.stations[:1])
    broken = reconciled(replace(drawn, craft=craft))
    assert broken.layouts is drawn.layouts
    assert resolve(broken).problems
    assert _names(replace(broken, craft=drawn.craft)) == _names(drawn)


def test_a_member_split_where_a_floor_crosses_keeps_the_ids_of_its_spans_and_joined_again_too(
    drawn: Project,
) -> None:
    outer = _member(drawn, "Outer longitudinal")
    parted = planning.split(drawn, outer.id, (4200, 905))
    spans = {mark.id for mark in _layout(drawn).spans}
    assert {mark.id for mark in _layout(parted).spans} == spans
    other = _member(parted, "Outer longitudinal 2").id
    of = {mark.id: mark.member for mark in _layout(parted).spans}
    names = _names(drawn)
    first = next(id_ for id_, name in names.items() if name == "Outer longitudinal, floor 1 to 2")
    last = next(id_ for id_, name in names.items() if name == "Outer longitudinal, floor 4 to 5")
    assert (of[first], of[last]) == (outer.id, other)
    whole = planning.joined(parted, outer.id, other)
    assert _names(whole) == names


GESTURES = some.tuples(
    some.sampled_from(["move", "copy", "remove", "split", "section"]),
    some.integers(min_value=0, max_value=30),
    some.floats(min_value=-600, max_value=600),
)


@settings(max_examples=12, deadline=None, derandomize=True)
@given(gestures=some.lists(GESTURES, min_size=1, max_size=4))
def test_after_any_gestures_all_is_marked_once_and_no_id_comes_twice(
    drawn: Project, gestures: list[tuple[str, int, float]]
) -> None:
    boat = drawn
    gone: set[str] = set()
    for gesture, number, by in gestures:
        before = _ids(boat)
        member = _layout(boat).members[number % len(_layout(boat).members)]
        if gesture == "move":
            boat = planning.moved(boat, [member.id], by, by / 3)
        elif gesture == "copy":
            boat = planning.copied(boat, [member.id], by, 0)
        elif gesture == "remove" and len(_layout(boat).members) > 1:
            boat = planning.without_parts(boat, [member.id])
        elif gesture == "split":
            middle = [(a + b) / 2 for a, b in zip(member.points[0], member.points[-1], strict=True)]
            boat = planning.split(boat, member.id, (middle[0], middle[1]))
        else:
            boat = planning.with_section(boat, [member.id], drawn.sections[number % 10].id)
        gone |= before - _ids(boat)
        assert not gone & _ids(boat)
        assert is_reconciled(boat, _layout(boat))
        assert reconciled(boat) is boat
        marks = [mark.id for mark in (*_layout(boat).bays, *_layout(boat).spans)]
        assert len(marks) == len(set(marks))


def _ids(boat: Project) -> set[str]:
    layout = _layout(boat)
    return {each.id for held in (layout.members, layout.bays, layout.spans) for each in held}
