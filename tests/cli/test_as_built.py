"""``stringerlab check FILE --as-built``."""

import json
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.layout.as_built import LaminateAsBuilt, PlyAsBuilt
from stringerlab.project.measuring import with_laminate_measured, with_ply_measured

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"


@pytest.fixture
def thinned(tmp_path: Path) -> str:
    missing = tuple(PlyAsBuilt(ply=n, missing=True) for n in (4, 5, 6))
    project = with_laminate_measured(load(WORKBOAT), LaminateAsBuilt(laminate="l1", plies=missing))
    path = tmp_path / "thinned.json"
    save(project, path)
    return str(path)


def test_what_changed_is_printed_verdicts_first(thinned: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", thinned, "--as-built", "--no-mechanics"]) == 1
    said = capsys.readouterr().out
    assert said.index("Verdicts that changed") < said.index("Utilisations that changed")
    assert "to a worse one" in " ".join(said.split())
    assert max(map(len, said.splitlines())) <= 100


def test_json_has_both_findings(thinned: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", thinned, "--as-built", "--no-mechanics", "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    worse = [change for change in found["changes"] if change["worse"]]
    assert worse
    assert found["changes"][: len(worse)] == worse
    assert worse[0]["as_built"]["utilisation"] > worse[0]["as_drawn"]["utilisation"]


def test_nothing_measured_is_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(WORKBOAT), "--as-built"]) == 2
    assert "Nothing was measured" in capsys.readouterr().err


def test_everything_wrong_is_told_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = with_ply_measured(load(WORKBOAT), "l1", PlyAsBuilt(ply=40, missing=True))
    project = with_ply_measured(project, "l1", PlyAsBuilt(ply=2, thickness=-1.0))
    path = tmp_path / "wrong.json"
    save(project, path)
    assert run(["check", str(path), "--as-built"]) == 2
    said = capsys.readouterr().err
    assert "ply 40: is said to be missing, but it is not there" in said
    assert "ply 2, thickness" in said


def test_it_goes_by_one_method(thinned: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", thinned, "--as-built", "--method", "all"]) == 2
    assert "by one method" in capsys.readouterr().err
