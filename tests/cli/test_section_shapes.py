"""``stringerlab section`` on every starting shape: its numbers, and what is said of a pan on the hull."""

import json
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.files import save
from stringerlab.project.beginning import new_boat
from stringerlab.project.drafting_starters import begun, with_starter
from stringerlab.section import Reference
from stringerlab.section.shapes import STARTERS


@pytest.fixture(scope="module")
def boat(tmp_path_factory: pytest.TempPathFactory) -> Path:
    project = new_boat()
    bottom, stringer = (laminate.id for laminate in project.laminates)
    for shape in STARTERS:
        reference = Reference(laminate=bottom, width=300)
        project = with_starter(
            project, None, begun(project, shape.id, stringer), bead=3.0, reference=reference
        )
    path = tmp_path_factory.mktemp("shapes") / "shapes.json"
    save(project, path)
    return path


@pytest.mark.parametrize("name", [shape.name for shape in STARTERS])
def test_section_prints_a_shapes_numbers(name: str, boat: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["section", str(boat), name, "--json"]) == 0
    said = capsys.readouterr()
    found = json.loads(said.out)
    assert said.err == ""
    assert found["name"] == name
    assert found["readings"]["EI_y"]["value"] > 0
    assert found["readings"]["mass"]["value"] > 0
    # Two hats 500 mm apart reach beyond their 300 mm of plating: no torsion passes between them.
    expected = {"Pan lying on the hull": "not counted", "Grid pan of two hats": "do not touch"}
    assert bool(found["notes"]) is (name in expected)
    assert expected.get(name, "") in " ".join(found["notes"])
    torsional = found["readings"]["GJ"]["value"]
    assert torsional is None if name == "Grid pan of two hats" else torsional > 0


def test_section_says_that_a_pan_is_not_counted(boat: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["section", str(boat), "Pan lying on the hull"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Pan on hull not counted: left pan is not marked fully bonded." in said
