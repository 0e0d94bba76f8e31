"""Edits of the parent boat: one step each, none where nothing changes."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Likeness, Parent, Project
from stringerlab.project.parenthood import with_likeness, with_parent, with_service


@pytest.fixture(scope="module")
def project() -> Project:
    return replace(load(folder("sample_projects") / "eelgrass_workboat.json"), parent=None)


def test_a_file_names_the_parent_and_an_empty_one_takes_it_away(project: Project) -> None:
    named = with_parent(project, " old.json ")
    assert named.parent == Parent(file="old.json")
    assert with_parent(named, "") == project
    assert with_parent(project, " ") is project
    assert with_parent(named, "old.json") is named


def test_another_file_keeps_service_and_likenesses(project: Project) -> None:
    told = with_likeness(
        with_service(with_parent(project, "old.json"), "ten years"), project.panels[0].id, "p1"
    )
    moved = with_parent(told, "kept/old.json").parent
    assert moved is not None
    assert told.parent is not None
    assert (moved.service, moved.likenesses) == ("ten years", told.parent.likenesses)


def test_a_likeness_is_named_changed_in_place_and_taken_away(project: Project) -> None:
    one, two = project.panels[0].id, project.spans[0].id
    named = with_likeness(with_likeness(with_parent(project, "old.json"), one, "p1"), two, "m1")
    changed = with_likeness(named, one, "p2")
    assert changed.parent is not None
    assert changed.parent.likenesses == (Likeness(own=one, parent="p2"), Likeness(own=two, parent="m1"))
    assert with_likeness(changed, one, "p2") is changed
    left = with_likeness(changed, one, "").parent
    assert left is not None
    assert left.likenesses == (Likeness(own=two, parent="m1"),)


def test_a_likeness_of_what_is_gone_can_still_be_taken_away(project: Project) -> None:
    dangling = replace(project, parent=Parent(file="x", likenesses=(Likeness(own="p99", parent="p1"),)))
    assert with_likeness(dangling, "p99", "").parent == Parent(file="x")
    with pytest.raises(StringerlabError, match="no panel and no span 'p98'"):
        with_likeness(dangling, "p98", "p1")


def test_without_a_parent_there_is_nothing_to_tell_of_it(project: Project) -> None:
    for change in (lambda: with_service(project, "x"), lambda: with_likeness(project, "p1", "p2")):
        with pytest.raises(StringerlabError, match="names no parent boat"):
            change()
