import dataclasses
from dataclasses import replace

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.project import History, Project


def test_undo_and_redo_go_by_the_names_of_the_edits(boat: Project):
    wider = replace(boat, notes="wider")
    taller = replace(boat, notes="taller")
    history = History.of(boat).did("Widen stringer", wider).did("Raise crown", taller)
    assert (history.project, history.undo_label, history.redo_label) == (taller, "Raise crown", None)
    history = history.undo()
    assert (history.project, history.undo_label, history.redo_label) == (
        wider,
        "Widen stringer",
        "Raise crown",
    )
    history = history.undo()
    assert (history.project, history.undo_label, history.redo_label) == (boat, None, "Widen stringer")
    assert history.redo().redo().project is taller


def test_edit_after_undo_gives_up_what_was_undone(boat: Project):
    history = History.of(boat).did("a", replace(boat, notes="a")).did("b", replace(boat, notes="b")).undo()
    history = history.did("c", replace(boat, notes="c"))
    assert [snapshot.label for snapshot in history.snapshots] == ["", "a", "c"]
    assert history.redo_label is None


def test_nothing_to_undo_or_redo(boat: Project):
    with pytest.raises(StringerlabError, match="nothing to undo"):
        History.of(boat).undo()
    with pytest.raises(StringerlabError, match="nothing to redo"):
        History.of(boat).redo()


def test_no_change_is_no_step(boat: Project):
    history = History.of(boat)
    assert history.did("Move nothing", boat) is history


def test_history_itself_is_frozen_and_an_older_one_stays_as_it_was(boat: Project):
    before = History.of(boat)
    before.did("Rename", replace(boat, name="Other"))
    assert before.project is boat
    assert before.redo_label is None
    with pytest.raises(dataclasses.FrozenInstanceError):
        before.at = 3  # pyright: ignore[reportAttributeAccessIssue]


def test_ten_thousand_steps_back_and_forth(boat: Project):
    history = History.of(boat)
    for step in range(10_000):
        history = history.did(f"Step {step}", replace(boat, notes=str(step)))
    assert len(history.snapshots) == 10_001
    while history.undo_label is not None:
        history = history.undo()
    assert history.project is boat
    while history.redo_label is not None:
        history = history.redo()
    assert history.project.notes == "9999"
    assert history.snapshots[1].project.sections[0] is boat.sections[0]
