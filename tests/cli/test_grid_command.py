"""The command ``grid`` on a sample: its numbers as the analysis gives them, and its exit status."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.assess.grid import analysed, analysing, ground_of
from stringerlab.cli.parser import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.layout.plan import Held, MemberKind, Supports
from stringerlab.methods import method_named
from stringerlab.project import resolve

SAMPLE = str(folder("sample_projects") / "tidewrack_layout.json")


def test_json_gives_the_analysis_own_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    run(["grid", SAMPLE, "--json"])
    printed = json.loads(capsys.readouterr().out)
    project = load(SAMPLE)
    ground = ground_of(project, resolve(project))
    assert ground is not None
    results = analysed(ground, method_named(project.method))
    assert printed["solved"]
    assert {one["id"]: one["M_max"]["value"] for one in printed["spans"]} == {
        one.id: one.M_max.value for one in results.spans.values()
    }
    assert len(printed["reactions"]) == len(results.reactions)
    assert any("half the patches' step" in note for note in printed["notes"])


def test_the_page_names_what_governs_and_what_is_carried(capsys: pytest.CaptureFixture[str]) -> None:
    run(["grid", SAMPLE])
    page = capsys.readouterr().out
    for words in ("crown in tension", "Greatest shear", "Natural frequencies in air", "carried by members"):
        assert words in page
    assert "never rule compliance" in page


def test_a_project_without_a_layout_is_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["grid", str(folder("sample_projects") / "first_hat_lesson.json")]) == 2
    assert "no layout" in capsys.readouterr().err


def test_what_stands_off_the_bottom_is_said_once_and_with_its_place(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    boat = load(SAMPLE)
    (one, *rest) = boat.layouts
    off = tuple(
        replace(each, at=(15_000.0, 0.0)) if each.name == "Fuel tank" else each for each in one.equipment
    )
    path = tmp_path / "off.json"
    save(replace(boat, layouts=(replace(one, equipment=off), *rest)), path)
    assert run(["grid", str(path)]) == 2
    said = capsys.readouterr().err
    assert said.count("It stands off the bottom.") == 1
    assert "at x 15000, y 0 mm" in said


def test_a_grid_that_nothing_holds_says_where(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    boat = load(SAMPLE)
    (one, *rest) = boat.layouts
    members = tuple(each for each in one.members if each.kind is not MemberKind.BULKHEAD)
    free = Supports(transom=Held.FREE, chine=Held.FREE, forward=Held.FREE, keel=Held.FREE)
    loose = replace(one, members=members, supports=free)
    path = tmp_path / "loose.json"
    save(replace(boat, layouts=(loose, *rest)), path)
    assert run(["grid", str(path)]) == 2
    printed = capsys.readouterr()
    assert "It could not be analysed." in printed.out
    assert "Nothing holds this part of the grid" in printed.err
    assert "at x 0, y 0 mm" in printed.err


def test_too_many_spans_are_refused_with_their_count_and_what_to_do(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    found = resolve(load(SAMPLE)).found
    assert found is not None
    monkeypatch.setattr(analysing, "MOST_SPANS", len(found.spans) - 1)
    assert run(["grid", SAMPLE]) == 2
    said = capsys.readouterr().err
    assert f"members make {len(found.spans)} spans; up to {len(found.spans) - 1} are analysed" in said
    assert "Draw fewer members" in said
