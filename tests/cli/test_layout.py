"""``layout`` from the command line: panels and spans found, cavities and their water, flotation, statuses."""

import json
from dataclasses import replace
from math import cos, radians, tan
from pathlib import Path
from typing import Any

import pytest

from stringerlab.cli import run
from stringerlab.craft import Station
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.layout.flotation import Drive
from stringerlab.layout.openings import Hole, Opening
from stringerlab.layout.plan import Cavity, Hand, Layout, Member, MemberKind, Use
from stringerlab.project import Project
from stringerlab.project.planning import (
    with_flotation,
    with_layout,
    with_layout_in_use,
    with_part,
    with_part_values,
)

BETA = radians(20)
LIMBER = Opening(kind=Hole.LIMBER, x=70, height=40, width=60)
CAVITIES = (
    Cavity(id="", name="Bilge", use=Use.BILGE, anchors=((500, 0),)),
    Cavity(id="", name="Tank bay", use=Use.TANK_BAY, anchors=((1500, 0),)),
    Cavity(
        id="",
        name="Void",
        use=Use.VOID,
        hand=Hand.PAIR,
        anchors=((1500, 700),),
        foam="pu_foam32",
        sealed=True,
        filled=0.5,
    ),
    Cavity(id="", name="Ice", use=Use.BOX, anchors=((2500, 0),), insulation=50, access="Two 200 mm plates."),
)


@pytest.fixture(scope="module")
def boat() -> Project:
    """A vee of 20° in a sample's laminates and sections: floors with a hole at the keel, two girders."""
    sample = load(folder("sample_projects") / "tidewrack_grid.json")
    craft = replace(
        sample.craft,
        stations=tuple(Station(x=x, keel_z=0, chine_y=1000, chine_z=1000 * tan(BETA)) for x in (0, 6000)),
    )
    floors = tuple(
        Member(
            id="",
            name=f"Floor {number}",
            kind=MemberKind.TRANSVERSE,
            points=((x, 0), (x, 1000)),
            section="s37",
            openings=(replace(LIMBER, x=0),),
        )
        for number, x in enumerate((1000.0, 2000.0, 3000.0), 1)
    )
    girder = Member(
        id="", name="Girder", kind=MemberKind.LONGITUDINAL, points=((0, 400), (6000, 400)), section="s26"
    )
    bare = replace(sample, craft=craft, panels=(), spans=(), layouts=(), layout="", parent=None)
    return with_layout(bare, Layout(id="", name="Vee", members=(*floors, girder), cavities=CAVITIES))


def ran(
    project: Project, place: Path, capsys: pytest.CaptureFixture[str], *more: str
) -> tuple[int, str, str]:
    file = place / "boat.json"
    save(project, file)
    status = run(["layout", str(file), *more])
    out, err = capsys.readouterr()
    return status, out, err


def as_json(project: Project, place: Path, capsys: pytest.CaptureFixture[str], *more: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(ran(project, place, capsys, "--json", *more)[1])
    return found


def one(of: list[dict[str, Any]], name: str) -> dict[str, Any]:
    return next(each for each in of if each["name"] == name)


def test_the_page_says_what_is_found_and_held_within_a_hundred_columns(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for units in ("metric", "us"):
        status, text, errors = ran(boat, tmp_path, capsys, "--units", units)
        assert (status, errors) == (0, "")
        assert max(map(len, text.splitlines())) <= 100
        told = " ".join(text.split())
        for words in (
            "Found: 8 panels and 10 spans",
            "Tank bay",
            "how the tank comes out and is looked at is not noted",
            "Access: Two 200 mm plates.",
            "Drain: sealed, none.",
            "runs to bay",
            "through member 'Floor 1'",
            "air beside the foam",
            "heat through it 0.5 to 0.7 W/m²K",
            "33 CFR Part 183",
            "not known is her length overall, what drives her",
            "naval architect",
        ):
            assert words in told
    assert "in³" not in text
    assert "ft³" in text


def test_json_has_every_number_with_its_unit_and_the_same_in_any_units(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = as_json(boat, tmp_path, capsys)
    assert found == as_json(boat, tmp_path, capsys, "--units", "us")
    # panels between middles tile the bottom: 6 m by twice 1 m in plan, in the skin
    area = sum(panel["count"] * panel["area"]["value"] for panel in found["panels"])
    assert area == pytest.approx(2 * 6000 * 1000 / cos(BETA))
    assert all(panel["deadrise"]["value"] == pytest.approx(BETA) for panel in found["panels"])
    assert all(panel["laminate"] for panel in found["panels"])
    sides = [{side["name"] for side in panel["sides"]} for panel in found["panels"]]
    assert {"transom", "keel", "Floor 1", "Girder"} in sides
    assert {"forward edge", "chine", "Floor 3", "Girder"} in sides
    spans = [span for span in found["spans"] if span["member"] == boat.layouts[0].members[-1].id]
    assert sum(span["length"]["value"] for span in spans) == pytest.approx(6000)
    void = one(found["cavities"]["cavities"], "Void")
    assert void["count"] == 2
    assert void["foam_volume"]["value"] == pytest.approx(void["volume"]["value"] / 2)
    assert void["foam_mass"] == {
        "value": pytest.approx(32e-9 * void["foam_volume"]["value"]),
        "unit": "kg",
    }
    assert found["cavities"]["foam_mass"]["value"] == pytest.approx(2 * void["foam_mass"]["value"])
    assert found["flotation"]["needed"] == {"value": None, "unit": "mm³"}
    assert found["flotation"]["missing"][0] == "length"


def test_a_cavity_that_keeps_its_water_gives_1_and_its_place(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    layout = boat.layouts[0]
    shut = with_part_values(boat, [layout.members[0].id], openings=())
    status, text, errors = ran(shut, tmp_path, capsys)
    assert (status, errors) == (1, "")
    assert "finds no way to the bilge" in " ".join(text.split())
    drains = one(as_json(shut, tmp_path, capsys)["cavities"]["cavities"], "Tank bay")["drains"]
    assert [drain["reaches"] for drain in drains] == [False, False]
    assert all(1000 <= drain["x"] <= 2000 for drain in drains)


def test_water_that_stands_gives_1_and_its_depth(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    raised = (replace(LIMBER, x=0, bottom=25),)
    high = with_part_values(boat, [boat.layouts[0].members[0].id], openings=raised)
    status, text, _ = ran(high, tmp_path, capsys)
    assert status == 1
    assert "25 mm of water stands in it" in " ".join(text.split())


def test_a_limber_into_a_sealed_void_is_said_once_for_a_pair(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    girder = boat.layouts[0].members[-1]
    into = with_part_values(boat, [girder.id], openings=(replace(LIMBER, x=1500),))
    found = as_json(into, tmp_path, capsys)
    assert sum("leads into a sealed void" in each["what"] for each in found["cavities"]["amiss"]) == 1


def test_what_is_wrong_with_the_layout_gives_2(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    layout = boat.layouts[0]
    bare = with_part_values(boat, [layout.members[0].id], section="")
    status, text, errors = ran(bare, tmp_path, capsys)
    assert status == 2
    assert "It has no section" in errors
    assert "What is amiss" in text
    astray = with_part(boat, layout.id, Cavity(id="", name="Astray", use=Use.STORAGE, anchors=((9000, 0),)))
    status, text, _ = ran(astray, tmp_path, capsys)
    assert status == 2
    assert "lies in no bay" in text


def test_the_layout_asked_for_is_read_by_id_or_name(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    two = with_layout(boat, Layout(id="", name="Bare"))
    assert as_json(two, tmp_path, capsys)["name"] == "Vee"
    bare = as_json(two, tmp_path, capsys, "--layout", "Bare")
    assert bare["spans"] == []
    assert bare["cavities"]["cavities"] == []
    assert as_json(two, tmp_path, capsys, "--layout", two.layouts[1].id)["name"] == "Bare"
    none = with_layout_in_use(two, "")
    status, _, errors = ran(none, tmp_path, capsys)
    assert status == 2
    assert "Name one: " in errors
    assert ran(two, tmp_path, capsys, "--layout", "Vea")[0] == 2
    assert as_json(with_layout_in_use(boat, ""), tmp_path, capsys)["name"] == "Vee"  # the only one


def test_a_project_without_a_layout_is_refused_in_a_sentence(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, text, errors = ran(replace(boat, layouts=(), layout=""), tmp_path, capsys)
    assert (status, text) == (2, "")
    assert "has no layout" in errors


def test_flotation_is_reckoned_or_said_not_to_cover_her(
    boat: Project, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    layout = boat.layouts[0].id
    known = with_flotation(
        boat,
        layout,
        length=5800,
        drive=Drive.OUTBOARD,
        hull=500,
        deck=100,
        machinery=150,
        persons=400,
        capacity=600,
    )
    found = as_json(known, tmp_path, capsys)["flotation"]
    parts = sum(found[part]["value"] for part in ("hull", "machinery", "load"))
    assert found["needed"]["value"] == pytest.approx(parts)
    assert found["enough"] is (found["present"]["value"] >= found["needed"]["value"])
    assert "not the swamped test" in " ".join(ran(known, tmp_path, capsys)[1].split())
    long = with_flotation(known, layout, length=8200)
    assert "does not cover boats of 20 ft and longer" in " ".join(ran(long, tmp_path, capsys)[1].split())
    found = as_json(long, tmp_path, capsys)["flotation"]
    assert found["covered"] is False
    assert found["needed"]["value"] is None
