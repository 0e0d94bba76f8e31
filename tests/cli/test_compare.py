"""``compare`` from the command line: files and layouts named, tables, JSON in N and mm, plot, bad input."""

import json
from pathlib import Path
from typing import Any

import pytest

from stringerlab.cli import run
from stringerlab.data import folder

SAMPLES = folder("sample_projects")
LAYOUTS = str(SAMPLES / "tidewrack_layout.json")
HAND = str(SAMPLES / "eelgrass_workboat.json")
LESSON = str(SAMPLES / "first_hat_lesson.json")
PARENT = str(SAMPLES / "bladderwrack_parent.json")


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert run(["compare", *arguments, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def values(found: dict[str, Any], measure: str) -> list[float | None]:
    (row,) = [one for one in found["measures"] if one["id"] == measure]
    return [one["value"] for one in row["values"]]


def test_one_file_alone_stands_for_its_layouts_and_the_parent_joins_them(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = as_json(capsys, LAYOUTS, "--parent")
    assert [one["name"] for one in found["compared"]][:2] == ["Full grid", "Plain stringers"]
    assert [one["parent"] for one in found["compared"]] == [False, False, True]
    assert [one["letter"] for one in found["compared"]] == ["A", "B", "C"]
    assert None not in values(found, "part")
    assert values(found, "deflection")[2] is None
    assert found["sentences"]
    assert found["not_known"]
    assert "naval architect" in found["notice"]


def test_files_with_spans_given_by_hand_compare_on_what_they_have(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(["compare", HAND, LESSON]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    assert "not known" in text
    assert "no layout is drawn" in text
    for words in ("stringer part, all of it", "worst utilisation by the method", "What the numbers say"):
        assert words in text


def test_json_is_in_the_programs_units_whatever_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    metric, us = (as_json(capsys, HAND, LESSON, "--units", units) for units in ("metric", "us"))
    assert values(metric, "part") == values(us, "part")
    assert values(metric, "length") == values(us, "length")
    units = {one["id"]: one["values"][0]["unit"] for one in metric["measures"]}
    assert (units["part"], units["length"], units["bonded"]) == ("kg", "mm", "mm²")
    assert units["energy"] == "N·mm"


def test_the_plot_is_written(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = tmp_path / "plot.svg"
    assert run(["compare", HAND, LESSON, "--svg", str(out)]) == 0
    assert "<svg" in out.read_text(encoding="utf-8")
    assert run(["compare", HAND, LESSON, "--svg", str(tmp_path / "no" / "plot.svg")]) == 2
    assert "there is no folder" in capsys.readouterr().err


def test_a_file_that_another_names_as_its_parent_is_told_as_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    plain = str(SAMPLES / "tidewrack_plain.json")
    found = as_json(capsys, PARENT, plain)
    assert [one["parent"] for one in found["compared"]] == [True, False]
    assert any("has held up in service" in note for note in found["notes"])


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([HAND], "2 to 6"),
        ([HAND, f"{HAND}#y1"], "There is no layout 'y1'."),
        ([LAYOUTS, "--layout", "Full grid", "--layout", "Half grid"], "There is no layout 'Half grid'."),
        ([HAND, LESSON, "--layout", "y1"], "Layouts are named apart for one file only."),
        ([HAND, "nowhere.json"], "nowhere.json"),
        ([HAND] * 7, "2 to 6"),
    ],
)
def test_bad_input_is_said(capsys: pytest.CaptureFixture[str], arguments: list[str], said: str) -> None:
    assert run(["compare", *arguments]) == 2
    assert said in capsys.readouterr().err
