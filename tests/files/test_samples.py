import json
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load, new_from_sample, samples, save
from stringerlab.project import Project


@pytest.fixture
def shelf(tmp_path: Path, boat: Project, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of samples of our own, with a place to begin projects in."""
    held = tmp_path / "samples"
    held.mkdir()
    save(boat, held / "workboat.json")
    save(boat, held / "lesson.json")
    (held / "README.md").write_text("Samples.")
    monkeypatch.setattr("stringerlab.files.store.folder", lambda name: {"sample_projects": held}[name])
    return tmp_path


def test_samples_are_named_in_order(shelf: Path):
    assert samples() == ["lesson", "workboat"]


def test_new_project_is_the_sample(shelf: Path, boat: Project):
    new_from_sample("workboat", shelf / "mine.json")
    assert load(shelf / "mine.json") == boat


def test_new_project_never_replaces_a_file(shelf: Path):
    (shelf / "mine.json").write_text("precious")
    with pytest.raises(StringerlabError, match=r"There is a file already.*Choose another name"):
        new_from_sample("workboat", shelf / "mine.json")
    assert (shelf / "mine.json").read_text() == "precious"


def test_unknown_sample_offers_the_nearest_or_all(shelf: Path):
    with pytest.raises(StringerlabError, match="Did you mean 'workboat'"):
        new_from_sample("work boat", shelf / "mine.json")
    with pytest.raises(StringerlabError, match="Choose one of: lesson, workboat"):
        new_from_sample("zzz", shelf / "mine.json")
    assert not (shelf / "mine.json").exists()


def test_shipped_samples_open_and_are_written_as_they_stand():
    from stringerlab.data import folder

    for name in samples():
        path = folder("sample_projects") / f"{name}.json"
        assert (
            json.loads(dumps(load(path)))["project"]["name"]
            == json.loads(path.read_bytes())["project"]["name"]
        )
