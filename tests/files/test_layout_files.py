"""Layouts in files: read back as written, refused with the place in the plan, described by the schema."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from stringerlab.data import folder
from stringerlab.errors import FIRST_SHOWN, Problem
from stringerlab.files import VERSION, dumps, load, loads, schema
from stringerlab.layout.plan import Held, Use

KEPT = Path(__file__).parent / "versions" / f"version_{VERSION}.json"
Refused = Callable[[Any], tuple[Problem, ...]]


@pytest.fixture
def drawn() -> dict[str, Any]:
    return json.loads(KEPT.read_bytes())


def test_the_kept_layout_reads_as_it_was_drawn() -> None:
    boat = load(KEPT)
    [layout] = boat.layouts
    assert (boat.layout, layout.name) == ("y1", "Träger und Wrangen")
    assert layout.members[0].stretches[0].taper == 120.5
    assert layout.members[0].openings[0].x == 1500.5
    assert layout.cavities[0].use is Use.BILGE
    assert layout.equipment[0].feet == ((-200, -450), (200, 450))
    assert layout.equipment[0].torque == -350_000
    assert layout.supports.chine is Held.ELASTIC
    assert layout.combinations[0].parts[1].of == "e8"
    assert layout.bays[0].pan is not None
    assert layout.spans[0].between == ("b2@transom", "b2×b3")


@pytest.mark.parametrize("name", ["tidewrack_grid", "tidewrack_layout"])
def test_drawn_samples_are_written_as_they_are_kept(name: str) -> None:
    path = folder("sample_projects") / f"{name}.json"
    assert dumps(load(path)) == path.read_bytes()


def test_a_file_of_version_2_opens_without_a_layout() -> None:
    boat = load(KEPT.parent / "version_2.json")
    assert (boat.layouts, boat.layout) == ((), "")


def test_everything_wrong_in_a_layout_is_said_at_once_with_its_place(
    drawn: dict[str, Any], refused: Refused
) -> None:
    layout = drawn["project"]["layouts"][0]
    layout["members"][0]["points"][1][0] = "far"
    layout["members"][0]["stretches"][0]["tapper"] = 1
    layout["members"][1]["kind"] = "lengthwise"
    del layout["cavities"][0]["use"]
    layout["equipment"][0]["feet"][1] = [1]
    layout["equipment"][0]["at"][1] = None
    layout["combinations"][0]["parts"][0]["factor"] = "much"
    layout["spans"][0]["between"] = ["b2@transom"]
    found = {
        problem.where.removeprefix("boat.json, layout 'Träger und Wrangen' (y1), "): problem
        for problem in refused(drawn)
    }
    assert (
        found["member 'Längsträger' (b2), point 2, x"].remedy
        == "Write a number of mm without unit or quotes."
    )
    assert found["member 'Längsträger' (b2), stretch 1"].remedy == "Did you mean 'taper'?"
    assert "'longitudinal'" in found["member 'Wrange 1' (b3), kind"].what
    assert found["cavity 'Bilge' (c7)"].what == "'use' is missing."
    assert "equipment 'Engine' (e8), at, y" in found
    assert any(where.startswith("equipment 'Engine' (e8), foot 2") for where in found)
    assert "combination 'Slam and engine' (o9), part 1, factor" in found
    assert any(where.startswith("span 1 (m11), between") for where in found)


def test_a_key_given_twice_deep_in_a_layout_is_found(refused: Refused) -> None:
    text = KEPT.read_text().replace('"taper": 120.5', '"taper": 120.5, "taper": 60')
    [problem] = refused(text.encode())
    assert problem.what == "The key 'taper' is given twice."
    assert problem.where == (
        "boat.json, layout 'Träger und Wrangen' (y1), member 'Längsträger' (b2), stretch 1"
    )


def test_five_thousand_bad_members_are_counted_and_the_first_fifty_said(
    drawn: dict[str, Any], refused: Refused
) -> None:
    layout = drawn["project"]["layouts"][0]
    member = {**layout["members"][1], "kind": "lengthwise"}
    layout["members"] = [{**member, "id": f"b{number}"} for number in range(100, 5100)]
    problems = refused(drawn)
    assert len(problems) == 5000
    assert FIRST_SHOWN == 50
    assert problems[4999].what or problems[4999].where


def test_units_of_a_layout_stand_in_the_schema() -> None:
    stated = schema()["$defs"]
    x, y = stated["Member"]["properties"]["points"]["items"]["prefixItems"]
    assert (x["unit"], y["unit"]) == ("mm", "mm")
    assert stated["Equipment"]["properties"]["mass"]["unit"] == "kg"
    assert stated["Equipment"]["properties"]["torque"]["unit"] == "N·mm"
    assert stated["Equipment"]["properties"]["thrust"]["unit"] == "N"


def test_bytes_are_the_same_after_reading_twice() -> None:
    data = KEPT.read_bytes()
    assert dumps(loads(dumps(loads(data)))) == data
