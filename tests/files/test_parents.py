"""Where a parent boat's file is looked for, and what is refused."""

from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load, load_parent, parent_path, samples, save
from stringerlab.project import Parent, Project

LESSON = folder("sample_projects") / "first_hat_lesson.json"


@pytest.fixture(scope="module")
def lesson() -> Project:
    return load(LESSON)


def child(lesson: Project, file: str) -> Project:
    return replace(lesson, parent=Parent(file=file))


def test_a_parent_lies_beside_the_project(tmp_path: Path, lesson: Project) -> None:
    (tmp_path / "old").mkdir()
    save(replace(lesson, name="Old boat"), tmp_path / "old" / "parent.json")
    own = tmp_path / "boat.json"
    for written in ("old/parent.json", "old\\parent.json", str(tmp_path / "old" / "parent.json")):
        assert load_parent(own, child(lesson, written)).name == "Old boat"


def test_a_boat_is_not_its_own_parent(tmp_path: Path, lesson: Project) -> None:
    own = tmp_path / "boat.json"
    (tmp_path / "x").mkdir()
    save(child(lesson, "x/../boat.json"), own)
    for project, file in ((load(own), None), (lesson, str(own))):
        with pytest.raises(StringerlabError, match="cannot be its own parent"):
            load_parent(own, project, file)


def test_a_missing_or_damaged_parent_is_said_to_be_the_parents(tmp_path: Path, lesson: Project) -> None:
    own = tmp_path / "boat.json"
    with pytest.raises(StringerlabError, match=r"parent boat, .*gone\.json: Cannot be read"):
        load_parent(own, child(lesson, "gone.json"))
    (tmp_path / "bad.json").write_text('{"format": "stringerlab"', encoding="utf-8")
    with pytest.raises(StringerlabError) as refused:
        load_parent(own, child(lesson, "bad.json"))
    assert all(problem.where.startswith("parent boat, bad.json") for problem in refused.value.problems)


def test_a_shipped_sample_stands_in_for_a_file_that_is_not_there(tmp_path: Path, lesson: Project) -> None:
    named = child(lesson, "eelgrass_workboat.json")
    assert "eelgrass_workboat" in samples()
    for own in (None, tmp_path / "boat.json"):
        assert parent_path(own, named) == folder("sample_projects") / "eelgrass_workboat.json"
    save(replace(lesson, name="Mine"), tmp_path / "eelgrass_workboat.json")
    assert load_parent(tmp_path / "boat.json", named).name == "Mine"


def test_an_unsaved_project_has_no_folder_to_look_in(lesson: Project) -> None:
    with pytest.raises(StringerlabError, match="Save the project first"):
        parent_path(None, child(lesson, "old.json"))
    with pytest.raises(StringerlabError, match="names no parent boat"):
        parent_path(None, lesson)
