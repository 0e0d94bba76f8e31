"""``size`` from the command line: designs found, one of them written, nothing that holds, bad input."""

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.project.wishes import SizingPlan, Wishes
from stringerlab.sizing.plain import measured

SAMPLES = folder("sample_projects")
LESSON = str(SAMPLES / "first_hat_lesson.json")
DRAWN = str(SAMPLES / "tidewrack_layout.json")
BARE = str(SAMPLES / "bladderwrack_parent.json")
ASKED = ("--vary", "height Hat stringer 90 150 20", "--plies", "Stringer: csm450 wr600, 3 to 5")
SMALL = ("--vary", "height Hat stringer 90 150 20")


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> dict[str, Any]:
    assert run(["size", LESSON, *arguments, "--json"]) == status
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def height_of(path: Path) -> float:
    from stringerlab.project.drafting_shapes import hats

    project = load(path)
    (hat,) = hats(project, project.sections[0]).values()
    return hat.height


def test_designs_are_printed_beside_the_boat_as_she_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["size", LESSON, *ASKED]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    for words in (
        "a  hat height of Hat stringer",
        "b  plies of Stringer",
        "now *",
        "Proven",
        "naval architect",
    ):
        assert words in text
    assert " in; b " in text  # the lesson is in US units
    assert run(["size", LESSON, *ASKED, "--units", "metric"]) == 0
    assert "a 90 mm; b " in capsys.readouterr().out


def test_a_boat_that_is_no_design_is_shown_by_her_own_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    boat = measured(load(LESSON))
    own = as_json(capsys, *SMALL)["boat"]
    assert own["mass"]["value"] == pytest.approx(boat.mass, rel=1e-12)
    assert own["values"] == ["4 in"]
    assert as_json(capsys, "--vary", "height Hat stringer 101.6 141.6 20")["boat"] is None
    assert run(["size", LESSON, *SMALL, "--units", "metric"]) == 0
    text = capsys.readouterr().out
    assert "a 101.6 mm" in text
    assert "her own numbers" in text


def test_json_is_in_mm_and_kg_and_its_front_is_one(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, *ASKED)
    assert found["proven"]
    assert found["space"] == found["judged"] + found["ruled_out"]
    masses = [one["mass"]["value"] for one in found["front"]]
    uses = [one["utilisation"] for one in found["front"]]
    assert masses == sorted(masses)
    assert uses == sorted(uses, reverse=True)
    assert max(uses) <= 1
    height, plies = found["front"][0]["changes"]
    assert (height["value"], height["unit"]) == (90.0, "mm")
    assert set(plies["plies"]) <= {"csm450", "wr600"}
    assert found["front"][0]["mass"]["unit"] == "kg"


def test_what_the_project_says_is_asked(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    from stringerlab.cli.typed_wishes import number_read

    boat = load(LESSON)
    plan = SizingPlan(numbers=(number_read(boat, SMALL[1], "v1"),))
    save(replace(boat, wishes=Wishes(sizing=plan)), tmp_path / "boat.json")
    assert run(["size", str(tmp_path / "boat.json"), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    typed = as_json(capsys, *SMALL)
    assert [one["mass"] for one in said["front"]] == [one["mass"] for one in typed["front"]]


@pytest.mark.parametrize("workers", ["1", "2"])
def test_any_number_of_workers_gives_the_same_answer(
    capsys: pytest.CaptureFixture[str], workers: str
) -> None:
    assert as_json(capsys, *ASKED, "--workers", workers) == as_json(capsys, *ASKED)


def test_a_design_is_written_as_a_boat(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = tmp_path / "lighter.json"
    found = as_json(capsys, *SMALL, "--apply", "1", "-o", str(out))
    assert height_of(out) == pytest.approx(found["front"][0]["changes"][0]["value"], abs=1e-9)
    assert height_of(Path(LESSON)) == pytest.approx(101.6, abs=1e-9)


def test_a_design_is_written_as_a_layout_beside_the_present_one(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    out = tmp_path / "lighter.json"
    vary = ("--vary", "height Outer longitudinal 150 160 10")
    assert run(["size", DRAWN, *vary, "--layout", "1", "-o", str(out)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "design 1 as a layout beside the present one, and in use" in said
    before, after = load(DRAWN), load(out)
    assert [one.name for one in after.layouts] == [*(one.name for one in before.layouts), "Lighter 1"]
    assert after.layout == after.layouts[-1].id


def test_where_nothing_holds_the_demand_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = tmp_path / "lighter.json"
    wanted = (*SMALL, "--hold", "utilisation 0.01", "--apply", "1", "-o", str(out))
    assert run(["size", LESSON, *wanted]) == 1
    text = capsys.readouterr().out
    assert "No design holds what must hold." in text
    assert re.search(
        r"[\d.]+ times the limit \(utilisation of every rule check at most 0.01\)", " ".join(text.split())
    )
    assert not out.exists()
    assert as_json(capsys, *SMALL, "--hold", "utilisation 0.01", status=1)["front"] == []


def test_every_finding_holds_at_1_unless_a_utilisation_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, *ASKED, "--hold", "height 200")
    assert max(one["utilisation"] for one in found["front"]) <= 1


def test_a_journal_is_gone_on_from_and_another_runs_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    journal = ("--journal", str(tmp_path / "run.journal"))
    first = as_json(capsys, *ASKED, *journal)
    again = as_json(capsys, *ASKED, *journal)
    assert again["front"] == first["front"]
    assert any("were in the journal" in note for note in again["notes"])
    assert run(["size", LESSON, *SMALL, *journal]) == 2
    assert "another run" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--vary", "hight 1 2 3"), "Begin with one of: height"),
        ((*SMALL, "--lower", "beauty"), "'beauty' is nothing to lower."),
        ((*SMALL, "--lower", "cost"), "nothing is priced"),
        ((*SMALL, "--mix", "0", "0", "0"), "no weight"),
        ((*SMALL, "--workers", "-1"), "-1 workers are not to be had"),
        ((*SMALL, "--apply", "1"), "Add -o OUT."),
        ((*SMALL, "-o", "out.json"), "Add --apply N"),
        ((*SMALL, "--apply", "1", "--layout", "1", "-o", "out.json"), "Give one of the two."),
        ((*SMALL, "--designs", "1"), "--designs: 1 is outside"),
        (("--vary", "height Hat stringer 100 100 10"), "Nothing may change"),
        ((*SMALL, "--apply", "0", "-o", "out.json"), "There is no design 0."),
        ((*SMALL, "--layout", "1", "-o", "out.json"), "no layout in use"),
        ((*SMALL, "--apply", "1", "-o", "nowhere/out.json"), "The folder is not there."),
        ((*SMALL, "--apply", "1", "-o", "."), "It is a folder."),
        ((*SMALL, "--journal", "nowhere/run.journal"), "cannot be written"),
    ],
)
def test_bad_input_is_said(
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    arguments: tuple[str, ...],
    said: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["size", LESSON, *arguments]) == 2
    assert said in capsys.readouterr().err


def test_where_nothing_is_said_to_change_it_is_said_how_to(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["size", BARE]) == 2
    assert "Nothing is said to change. Say it with --vary or --plies" in capsys.readouterr().err


def test_everything_wrong_is_said_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    wrong = {
        ("--vary", "hight 1 2 3"): "'hight' is not what may change",
        ("--vary", "height Hat stringer 150 90 20"): "'--vary 2': Its least, 5.9",
        ("--plies", "Stringer: csm450 spruce"): "'spruce'",
        ("--hold", "utilisation"): "It gives no limit.",
        ("--lower", "beauty"): "'beauty' is nothing to lower.",
        ("--designs", "1"): "--designs: 1 is outside",
        ("--apply", "0"): "There is no design 0.",
        ("-o", "nowhere/out.json"): "The folder is not there.",
    }
    assert run(["size", LESSON, *(word for pair in wrong for word in pair)]) == 2
    said = capsys.readouterr().err.splitlines()
    assert len(said) == len(wrong)
    for words in wrong.values():
        assert sum(words in line for line in said) == 1


def test_a_space_of_more_than_1e30_is_sampled_and_that_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    much = ("--plies", "Stringer: csm450 wr600 csm300 wr800 csm600, 3 to 40, keep 3, any order")
    found = as_json(capsys, *much, *SMALL, "--designs", "300", "--lower", "mass", "--workers", "1")
    assert found["space"] > 10**25
    assert 0 < found["judged"] <= 300
    assert not found["proven"]
    assert any("Found, not proven" in note and "a vanishing part" in note for note in found["notes"])


@pytest.mark.parametrize("command", ["size", "study", "scatter", "sensitivity"])
def test_a_damaged_file_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path, command: str) -> None:
    cut = tmp_path / "cut.json"
    cut.write_bytes(Path(LESSON).read_bytes()[:2000])
    assert run([command, str(cut)]) == 2
    assert "cut.json: The file is not JSON at line" in capsys.readouterr().err


def test_a_design_that_is_not_there_is_said(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = tmp_path / "lighter.json"
    assert run(["size", LESSON, *SMALL, "--apply", "99", "-o", str(out)]) == 2
    assert "There is no design 99." in capsys.readouterr().err
    assert not out.exists()
