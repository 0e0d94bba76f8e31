"""``study`` from the command line: one number, two, a project's own, CSV, bad input."""

import csv
import json
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.cli.typed_wishes import number_read
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.project.wishes import Study, Wishes

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")
HEIGHT = "height Hat stringer 90 150 20"
SPEED = "speed 20 30 5"


def test_one_number_is_a_table_of_a_column_a_reading(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["study", LESSON, "--along", HEIGHT, "--units", "metric"]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    for words in ("a  hat height of Hat stringer [mm]", "c  mass [kg]", "130.0", "101.6 mm"):
        assert words in text


def test_two_numbers_are_a_table_a_reading(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["study", LESSON, "--along", HEIGHT, "--along", SPEED, "--show", "mass"]) == 0
    text = capsys.readouterr().out
    assert "Down: hat height of Hat stringer [in]. Across: speed [kn]." in text
    assert "mass [lb]" in text
    assert "utilisation" not in text


def test_json_has_the_grid_in_typed_units_and_csv_its_steps(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    out = tmp_path / "steps.csv"
    asked = ["study", LESSON, "--along", HEIGHT, "--along", SPEED, "--csv", str(out), "--json"]
    assert run(asked) == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["values"] for one in found["along"]] == [[90, 110, 130, 150], [20, 25, 30]]
    use, mass = found["readings"]
    assert (use["unit"], mass["unit"]) == ("", "kg")
    assert [len(row) for row in use["values"]] == [3, 3, 3, 3]
    # more speed is more load; a higher hat weighs more
    assert all(row == sorted(row) for row in use["values"])
    assert [row[0] for row in mass["values"]] == sorted(row[0] for row in mass["values"])
    with out.open(encoding="utf-8-sig", newline="") as file:
        heads, *rows = csv.reader(file)
    assert heads[2] == "utilisation, highest"
    assert [float(row[2]) for row in rows] == pytest.approx([one for row in use["values"] for one in row])


def test_a_study_of_the_project_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    boat = load(LESSON)
    studies = tuple(
        Study(id=key, name=name, along=(number_read(boat, along, "v1"),))
        for key, name, along in (("u1", "Height", HEIGHT), ("u2", "Speed", SPEED))
    )
    file = str(tmp_path / "boat.json")
    save(replace(boat, wishes=Wishes(studies=studies)), file)
    assert run(["study", file, "Speed"]) == 0
    assert "Speed" in capsys.readouterr().out
    assert run(["study", file]) == 2
    assert "u1 (Height), u2 (Speed)" in capsys.readouterr().err
    save(replace(boat, wishes=Wishes()), file)
    assert run(["study", file]) == 2
    assert "The project has no study." in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("Height", "--along", HEIGHT), "Leave out 'Height'"),
        (("--along", HEIGHT, "--show", "beauty"), "Begin with one of: utilisation"),
        (("--along", HEIGHT, "--csv", "out.txt"), "End its name in .csv."),
        (("--along", HEIGHT, "--csv", "nowhere/out.csv"), "The folder is not there."),
        (("--along", HEIGHT, "--along", HEIGHT, "--along", SPEED), "one or two"),
    ],
)
def test_bad_input_is_said(capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], said: str) -> None:
    assert run(["study", LESSON, *arguments]) == 2
    assert said in capsys.readouterr().err
