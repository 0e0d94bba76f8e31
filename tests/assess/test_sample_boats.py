"""The launch with a full grid, the same hull with plain stringers, and their parent boat, as shipped."""

from pathlib import Path

import pytest

from stringerlab.assess import check
from stringerlab.assess.against import against
from stringerlab.assess.relative import relative
from stringerlab.assess.takeoff import take_off
from stringerlab.data import folder
from stringerlab.files import load, samples
from stringerlab.files.parents import load_parent
from stringerlab.layout import Surface
from stringerlab.methods import Verdict, available
from stringerlab.project import Project, resolve

SAMPLES = folder("sample_projects")
GRID, PLAIN, PARENT = (
    SAMPLES / f"{name}.json" for name in ("tidewrack_grid", "tidewrack_plain", "bladderwrack_parent")
)


@pytest.fixture(scope="module")
def grid() -> Project:
    return load(GRID)


@pytest.fixture(scope="module")
def plain() -> Project:
    return load(PLAIN)


@pytest.mark.parametrize("name", samples())
def test_every_sample_is_sound_and_nothing_in_it_is_short_by_its_own_method_or_the_mechanics(
    name: str,
) -> None:
    results = check(load(SAMPLES / f"{name}.json"))
    assert (results.problems, results.repairs) == ((), ())
    assert [f"{one.name}: {one.aspect}" for one in results.findings if one.verdict is Verdict.SHORT] == []
    assert any(one.verdict is Verdict.HOLDS for one in results.findings)


def test_both_layouts_stand_in_the_same_hull(grid: Project, plain: Project) -> None:
    assert grid.craft == plain.craft
    assert grid.rates == plain.rates


def test_the_grid_uses_every_starting_shape(grid: Project) -> None:
    named = {section.name for section in grid.sections}
    assert named == {
        "Keel girder",
        "Grid pan",
        "Outer longitudinal",
        "Engine bed",
        "Floor",
        "Chine landing",
        "Box under the sole",
        "Bulkhead",
        "Knee at the side door",
        "Longitudinal with pan on hull",
    }
    assert {span.section for span in grid.spans} == {section.id for section in grid.sections}


def test_the_launch_has_a_subject_on_every_surface(grid: Project) -> None:
    assert {panel.surface for panel in grid.panels} == set(Surface)


def test_the_keel_panels_have_the_keel_strip_laid_over_the_bottom(grid: Project) -> None:
    case = next(one for one in resolve(grid).panels if one.panel.name == "Keel to inner longitudinal, bay 2")
    assert case.notes == ("plating by place, at its middle: Bottom, all over, Keel strip",)


@pytest.mark.parametrize("path", [GRID, PLAIN], ids=["grid", "plain"])
def test_findings_are_shown_relative_to_the_parent_boat(path: Path) -> None:
    project = load(path)
    assert project.parent is not None
    found = relative(check(project), check(load_parent(path, project)), project.parent)
    assert found.problems == ()
    with_ratio = [one for one in found.besides if one.ratio is not None]
    assert len(with_ratio) > len(found.besides) / 2
    assert all("ten years" in one.words for one in with_ratio[:3])
    for one in with_ratio:
        own, parents = one.finding, one.counterpart
        assert parents is not None
        assert own.utilisation is not None
        assert parents.utilisation is not None
        assert one.ratio == pytest.approx(own.utilisation / parents.utilisation)


def test_all_methods_judge_the_launch(grid: Project) -> None:
    found = against(grid)
    assert len(found.results) == len(available()) == 5
    for results in found.results:
        assert any(one.utilisation is not None for one in results.findings)


def test_the_grid_is_taken_off_whole_and_every_rate_is_used(grid: Project) -> None:
    sheet = take_off(grid)
    assert sheet.problems == ()
    assert {one.material for one in sheet.total.amounts if one.cost is None} == set()
    assert all(one.hours for one in sheet.total.labour)
