"""``section``, ``laminate``, ``new``, ``proof`` and ``schema`` from the command line."""

import json
from pathlib import Path

import pytest

from stringerlab import __version__
from stringerlab.assess.proof import published
from stringerlab.cli import run
from stringerlab.data import folder

WORKBOAT = str(folder("sample_projects") / "eelgrass_workboat.json")
LESSON = str(folder("sample_projects") / "first_hat_lesson.json")


def test_version_is_the_package_version(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        run(["--version"])
    assert stopped.value.code == 0
    assert capsys.readouterr().out.strip() == f"stringerlab {__version__}"


@pytest.mark.parametrize("command", ["section", "laminate"])
def test_a_unique_name_serves_as_an_id(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    by_id, name = {"section": ("s5", "Main stringer"), "laminate": ("l2", "Main stringer")}[command]
    assert run([command, WORKBOAT, by_id]) == 0
    page = capsys.readouterr().out
    assert run([command, WORKBOAT, name]) == 0
    assert capsys.readouterr().out == page
    assert "naval architect" in page
    assert max(map(len, page.splitlines())) <= 100


@pytest.mark.parametrize("command", ["section", "laminate"])
def test_an_unknown_id_names_what_there_is(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([command, WORKBOAT, "Main stringr"]) == 2
    assert "Main stringer" in capsys.readouterr().err


def test_section_json_modulus_is_stiffness_over_modulus_and_distance(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(["section", LESSON, "s3", "--json"]) == 0
    page = json.loads(capsys.readouterr().out)
    for fibre in page["fibres"]:
        expected = page["readings"]["EI_y"]["value"] / (fibre["E"] * abs(fibre["z"]))
        assert fibre["section_modulus"] == pytest.approx(expected, rel=1e-12)


def test_laminate_json_adds_up(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["laminate", WORKBOAT, "Bottom", "--json"]) == 0
    page = json.loads(capsys.readouterr().out)
    thicknesses = [ply["thickness"] for ply in page["plies"]]
    assert page["thickness_with_gel_coat"] == pytest.approx(sum(thicknesses), rel=1e-12)
    assert page["thickness"] == pytest.approx(sum(thicknesses[1:]), rel=1e-12)
    assert page["mass"] == pytest.approx(sum(ply["mass"] for ply in page["plies"]), rel=1e-12)


def test_units_shown_change_and_numbers_agree(capsys: pytest.CaptureFixture[str]) -> None:
    run(["laminate", WORKBOAT, "l1", "--units", "us"])
    us = capsys.readouterr().out
    run(["laminate", WORKBOAT, "l1"])
    metric = capsys.readouterr().out
    inches = float(us.split("thickness without gel coat")[1].split()[0])
    millimetres = float(metric.split("thickness without gel coat")[1].split()[0])
    assert inches * 25.4 == pytest.approx(millimetres, rel=1e-3)


def test_new_from_a_sample_checks_as_the_sample_and_never_overwrites(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "mine.json"
    assert run(["new", str(path), "--from", "first_hat_lesson"]) == 0
    assert path.read_bytes() == Path(LESSON).read_bytes()
    assert run(["new", str(path), "--from", "first_hat_lesson"]) == 2
    assert run(["new", str(tmp_path / "b.json"), "--from", "no_such"]) == 2
    assert "eelgrass_workboat" in capsys.readouterr().err


def test_proof_lists_every_published_value(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["proof", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    keys = ["source", "quantity", "published", "computed", "unit", "tolerance", "ok", "known"]
    assert all(list(row) == keys for row in listed)
    assert len(listed) == len(published()) > 100
    assert run(["proof"]) == 0
    assert f"{len(listed)} of {len(listed)} published values met." in capsys.readouterr().out


def test_schema_states_units(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["schema"]) == 0
    text = capsys.readouterr().out
    assert json.loads(text)
    for unit in ('"unit": "mm"', '"unit": "kn"', '"unit": "deg"', '"unit": "g/m²"'):
        assert unit in text
