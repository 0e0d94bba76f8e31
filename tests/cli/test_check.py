"""``check`` from the command line: what it prints and how it exits."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.layout import End

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
LESSON = folder("sample_projects") / "first_hat_lesson.json"
KEYS = [
    *("subject", "surface", "kind", "aspect", "demand", "capacity", "unit", "utilisation"),
    *("verdict", "method", "source", "known", "notes"),
]


def _json(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, Any]:
    status = run([*arguments, "--json"])
    return status, json.loads(capsys.readouterr().out)


def test_every_panel_and_span_of_the_workboat_is_found(capsys: pytest.CaptureFixture[str]) -> None:
    status, page = _json(capsys, "check", str(WORKBOAT), "--allow-not-judged", "bond")
    assert status in (0, 1, 3)
    assert {finding["kind"] for finding in page["findings"]} == {"rule", "mechanics"}
    assert list(page) == ["notice", "project", "findings"]
    project = load(WORKBOAT)
    subjects = {finding["subject"] for finding in page["findings"]}
    assert subjects == {record.id for record in (*project.panels, *project.spans)}
    assert all(list(finding) == KEYS for finding in page["findings"])
    for finding in page["findings"]:
        numbers = [finding["demand"], finding["capacity"]]
        assert (finding["verdict"] == "not judged") == (None in numbers)
        assert (finding["verdict"] in ("not judged", "advice")) == (finding["utilisation"] is None)


def test_numbers_of_json_do_not_follow_the_units_shown(capsys: pytest.CaptureFixture[str]) -> None:
    assert _json(capsys, "check", str(LESSON), "--units", "us") == _json(capsys, "check", str(LESSON))


def test_bond_left_not_judged_exits_3_unless_waved_through(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(WORKBOAT), "--no-mechanics"]) == 3
    assert run(["check", str(WORKBOAT), "--no-mechanics", "--allow-not-judged", "bond"]) == 0
    assert "not judged" in capsys.readouterr().out


def test_a_rule_check_can_be_read_alone(capsys: pytest.CaptureFixture[str]) -> None:
    _, alone = _json(capsys, "check", str(WORKBOAT), "--no-mechanics")
    _, both = _json(capsys, "check", str(WORKBOAT))
    replaced = {("rule", "bond")}
    own = [f for f in alone["findings"] if (f["kind"], f["aspect"]) not in replaced]
    assert [f for f in both["findings"] if f["kind"] == "rule"] == own
    bonds = {f["subject"]: f["kind"] for f in both["findings"] if f["aspect"] == "bond"}
    assert bonds == {span.id: "mechanics" for span in load(WORKBOAT).spans}


def test_mechanics_short_exits_1_as_the_methods_own(capsys: pytest.CaptureFixture[str]) -> None:
    """Exit status counts both kinds: whatever is short of either."""
    status, page = _json(capsys, "check", str(WORKBOAT))
    short = [f for f in page["findings"] if f["verdict"] == "short"]
    open_ = [f for f in page["findings"] if f["verdict"] == "not judged"]
    assert status == (1 if short else 3 if open_ else 0)


def test_a_panel_far_too_wide_is_short_and_exits_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = load(WORKBOAT)
    wide = replace(project.panels[0], b=800.0, l=1600.0)
    save(replace(project, panels=(wide, *project.panels[1:])), tmp_path / "wide.json")
    status, page = _json(capsys, "check", str(tmp_path / "wide.json"), "--no-mechanics")
    assert status == 1
    short = [f for f in page["findings"] if f["verdict"] == "short"]
    assert {f["subject"] for f in short} == {wide.id}
    assert all(f["demand"] > 0 and f["utilisation"] > 1 for f in short)


def test_an_unknown_laminate_exits_2_and_the_rest_is_still_judged(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = load(WORKBOAT)
    lost = replace(project.panels[0], laminate="l99")
    save(replace(project, panels=(lost, *project.panels[1:])), tmp_path / "lost.json")
    assert run(["check", str(tmp_path / "lost.json"), "--json"]) == 2
    printed = capsys.readouterr()
    assert "l99" in printed.err
    findings = json.loads(printed.out)["findings"]
    of_lost = [f for f in findings if f["subject"] == lost.id]
    assert [f["verdict"] for f in of_lost] == ["not judged"]
    assert "l99" in " ".join(of_lost[0]["notes"])
    assert any(f["verdict"] == "holds" for f in findings)


def test_a_member_dying_on_bare_skin_is_a_hard_spot(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = load(WORKBOAT)
    dying = replace(project.spans[0], ends=(End.HELD, End.SIMPLE))
    save(replace(project, spans=(dying, *project.spans[1:])), tmp_path / "dying.json")
    _, page = _json(capsys, "check", str(tmp_path / "dying.json"))
    spots = [f["subject"] for f in page["findings"] if f["aspect"] == "hard spot"]
    assert spots == [dying.id]


def test_pages_fit_100_columns_and_carry_notice_and_method(capsys: pytest.CaptureFixture[str]) -> None:
    for units in ("metric", "us"):
        run(["check", str(WORKBOAT), "--units", units, "--workings"])
        page = capsys.readouterr().out
        assert max(map(len, page.splitlines())) <= 100
        assert "naval architect" in page
        assert "superseded" in page


def test_workings_print_the_formula_its_numbers_and_its_source(capsys: pytest.CaptureFixture[str]) -> None:
    run(["check", str(LESSON), "--workings"])
    page = capsys.readouterr().out
    assert "√" in page
    assert "Source: ISO 12215-5:2008" in page
    assert " in " in page


def test_an_unknown_aspect_or_method_is_said_with_those_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(WORKBOAT), "--allow-not-judged", "glue"]) == 2
    assert "bond" in capsys.readouterr().err
    assert run(["check", str(WORKBOAT), "--method", "rule_of_thumb"]) == 2
    assert "iso_12215_5_2008" in capsys.readouterr().err


def test_a_missing_file_is_one_line_and_no_traceback(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "stringerlab", "check", str(tmp_path / "none.json")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert len(done.stderr.strip().splitlines()) == 1
    assert "none.json" in done.stderr


def test_a_pipe_closed_early_is_no_error() -> None:
    line = f"{sys.executable} -m stringerlab check {WORKBOAT} | head -n 1"
    done = subprocess.run(["bash", "-c", line], capture_output=True, text=True, check=True)
    assert done.stderr == ""
