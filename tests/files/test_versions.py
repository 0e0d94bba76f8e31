import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import VERSION, dumps, load
from stringerlab.files.migrations import STEPS, migrated
from stringerlab.units import System

VERSIONS = Path(__file__).parent / "versions"


def test_one_file_of_every_version_is_kept():
    kept = {json.loads(path.read_bytes())["version"] for path in VERSIONS.glob("version_*.json")}
    assert kept == set(range(1, VERSION + 1))
    assert len(STEPS) == VERSION - 1


@pytest.mark.parametrize("path", sorted(VERSIONS.glob("version_*.json")), ids=lambda path: path.stem)
def test_file_of_every_version_still_opens(path: Path):
    boat = load(path)
    assert boat.name == "Saltmere 6"
    assert boat.units is System.METRIC
    assert boat.craft.speed == 28.5
    assert boat.craft.stations[1].keel_z == -10.5
    assert [ply.material for ply in boat.laminates[2].plies][3] == "pvc80"
    assert boat.sections[0].walls[0].points[2] == (-45.0, 120.0)
    assert boat.sections[0].walls[0].fillets == (0, 12, 12, 12, 12, 0)
    tested = boat.materials.reinforcements[0].tested.modulus_1
    assert tested is not None
    assert tested.value == 15200
    assert boat.counter == 22


def test_todays_version_is_written_as_it_was_kept():
    path = VERSIONS / f"version_{VERSION}.json"
    assert dumps(load(path)) == path.read_bytes()


def test_newer_version_is_refused_politely(
    bare: dict[str, Any], refused: Callable[[Any], tuple[Problem, ...]]
):
    bare["version"] = VERSION + 6
    bare["project"]["unheard_of"] = {}
    [problem] = refused(bare)
    assert (
        problem.what == f"The file is of version {VERSION + 6}; the newest this program reads is {VERSION}."
    )
    assert problem.remedy == "Open it with a newer stringerlab. The file is left as it is."


@pytest.mark.parametrize("version", [0, -3])
def test_version_that_never_was(
    bare: dict[str, Any], refused: Callable[[Any], tuple[Problem, ...]], version: int
):
    bare["version"] = version
    assert "never was" in refused(bare)[0].what


@pytest.mark.parametrize("version", [None, "1", 1.0, True])
def test_version_that_is_no_whole_number(
    bare: dict[str, Any], refused: Callable[[Any], tuple[Problem, ...]], version: Any
):
    bare["version"] = version
    assert "version" in refused(bare)[0].what


def test_older_file_passes_every_step_from_its_version_on():
    def first(document: dict[str, Any]) -> dict[str, Any]:
        return {**document, "project": {"beam": document["project"]["width"]}}

    def second(document: dict[str, Any]) -> dict[str, Any]:
        return {**document, "project": {**document["project"], "notes": ""}}

    old = {"version": 1, "project": {"width": 2}}
    assert migrated(old, "", (first, second)) == {"version": 3, "project": {"beam": 2, "notes": ""}}
    assert old == {"version": 1, "project": {"width": 2}}
    middle = {"version": 2, "project": {"beam": 2}}
    assert migrated(middle, "", (first, second)) == {"version": 3, "project": {"beam": 2, "notes": ""}}
    today = {"version": 3, "project": {"beam": 2, "notes": ""}}
    assert migrated(today, "", (first, second)) is today
    with pytest.raises(StringerlabError, match="the newest this program reads is 3"):
        migrated({"version": 4}, "", (first, second))
