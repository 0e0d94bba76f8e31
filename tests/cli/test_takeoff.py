"""``takeoff`` from the command line: tables, one subject alone, JSON with units, what is left out."""

import json
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.project.edits import replaced
from stringerlab.project.rates import with_price, with_rates

WORKBOAT = str(folder("sample_projects") / "eelgrass_workboat.json")
KG_PER_LB = 0.45359237


def page(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert run(["takeoff", *arguments]) == 0
    return capsys.readouterr().out


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    found: dict[str, object] = json.loads(page(capsys, *arguments, "--json"))
    return found


def test_members_sections_and_materials_are_printed_within_a_hundred_columns(
    capsys: pytest.CaptureFixture[str],
) -> None:
    for units in ("metric", "us"):
        text = page(capsys, WORKBOAT, "--units", units)
        assert max(map(len, text.splitlines())) <= 100
        assert "naval architect" in text
        assert "Hull plating is in no number" in text
        for words in ("Floor 3", "All members", "Plate floor", "Chopped mat 450 g/m²", "lay-up"):
            assert words in text
    assert "Sections, each foot" in text


def test_json_adds_up_and_every_number_has_its_unit(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, WORKBOAT)
    members, total = found["members"], found["total"]
    assert isinstance(members, list)
    assert isinstance(total, dict)
    assert sum(one["mass"]["value"] for one in members) == pytest.approx(total["mass"]["value"])
    assert sum(one["mass"]["value"] for one in total["materials"]) == pytest.approx(total["mass"]["value"])
    units = {key: total[key]["unit"] for key in ("mass", "bought", "fabric_area", "length")}
    assert units == {"mass": "kg", "bought": "kg", "fabric_area": "mm²", "length": "mm"}
    assert total["cost"] == {"value": None, "unit": ""}
    for sections in (found["sections_per_metre"],):
        assert isinstance(sections, list)
        assert all(one["length"] == {"value": 1000.0, "unit": "mm"} for one in sections)


def test_json_is_the_same_in_any_units(capsys: pytest.CaptureFixture[str]) -> None:
    assert as_json(capsys, WORKBOAT) == as_json(capsys, WORKBOAT, "--units", "us")


def test_one_member_alone_goes_by_id_or_name_and_weighs_its_share(capsys: pytest.CaptureFixture[str]) -> None:
    whole = as_json(capsys, WORKBOAT)
    members = whole["members"]
    assert isinstance(members, list)
    [floor] = [one for one in members if one["name"] == "Floor 2"]
    by_id, by_name = (as_json(capsys, WORKBOAT, wanted) for wanted in (floor["id"], "Floor 2"))
    assert by_id == by_name
    assert by_id["item"] == floor
    text = page(capsys, WORKBOAT, "Floor 2", "--units", "us")
    assert f"{floor['mass']['value'] / KG_PER_LB:.3f} lb" in text
    assert "Floor 1" not in text


def test_an_unknown_name_names_what_there_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["takeoff", WORKBOAT, "Floor 9"]) == 2
    assert "Floor 3" in capsys.readouterr().err


def test_prices_make_costs_and_what_has_none_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = with_rates(with_price(load(Path(WORKBOAT)), "csm450", 4.0), currency="EUR", fabric_waste=0.25)
    path = tmp_path / "priced.json"
    save(project, path)
    total = as_json(capsys, str(path))["total"]
    assert isinstance(total, dict)
    [mat] = [one for one in total["materials"] if one["material"] == "csm450"]
    assert mat["cost"]["value"] == pytest.approx(mat["mass"]["value"] * 1.25 * 4.0)
    assert mat["cost"]["unit"] == "EUR"
    assert mat["price"]["unit"] == "EUR/kg"
    assert "Woven roving 600 g/m²" in total["not_priced"]
    assert "Chopped mat 450 g/m²" not in total["not_priced"]
    text = page(capsys, str(path))
    assert f"{mat['cost']['value']:.2f} EUR" in text


def test_what_is_not_counted_is_said_and_the_status_is_bad_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = load(Path(WORKBOAT))
    section = project.sections[1]
    spoilt = replaced(project, type(section)(id=section.id, name=section.name, walls=()))
    path = tmp_path / "spoilt.json"
    save(spoilt, path)
    assert run(["takeoff", str(path)]) == 2
    heard = capsys.readouterr()
    assert "Not counted" in heard.out
    assert "Plate floor" in heard.out
    assert "wall" in heard.err
    assert run(["takeoff", str(path), "--json"]) == 2
    left = json.loads(capsys.readouterr().out)["not_counted"]
    assert {one["kind"] for one in left} == {"section", "span"}
    assert all(one["why"] for one in left)
    assert run(["takeoff", str(path), "Floor 1"]) == 2
    assert "wall" in capsys.readouterr().err
