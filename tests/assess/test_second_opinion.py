"""A section by us and by sectionproperties: bending alike, torsion closely, and why shear differs."""

import pytest

from stringerlab.assess.second_opinion import second_opinion
from stringerlab.assess.sections import reference_plating
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Resolved, resolve
from stringerlab.section import Plating, SectionShape

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"


@pytest.fixture(scope="module")
def floor() -> tuple[SectionShape, Plating | None]:
    project = load(WORKBOAT)
    resolved: Resolved = resolve(project)
    section = next(section for section in project.sections if section.name == "Plate floor")
    return resolved.shapes[section.id], reference_plating(resolved, section)


def test_a_workboats_floor_by_both(floor: tuple[SectionShape, Plating | None]) -> None:
    heard: list[float] = []
    found = second_opinion(*floor, watch=lambda fraction, _: heard.append(fraction))
    off = {row.key: row.difference for row in found.rows}
    for key in ("EA", "y_na", "z_na", "EI_y", "EI_z"):
        assert off[key] == pytest.approx(0.0, abs=1e-9), key
    assert off["GJ"] == pytest.approx(0.0, abs=0.02)
    assert found.shear is not None
    assert not found.shear.even
    why = {row.key: row.why for row in found.rows}
    assert not why["GJ"]
    assert "weights shear by E" in why["GA_z"]
    assert found.notes == (why["GA_z"],)
    assert heard == sorted(heard)


def test_no_torsion_is_said_and_bending_stays(
    floor: tuple[SectionShape, Plating | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("stringerlab.section.second_opinion.MOST", 100)
    found = second_opinion(*floor)
    assert found.shear is None
    assert found.stresses is None
    assert [row.key for row in found.rows] == ["EA", "y_na", "z_na", "EI_y", "EI_z"]
    assert "triangles; 100 are too many" in found.notes[0]
    assert "coarser mesh" in found.notes[0]


def test_too_little_time_is_a_message(floor: tuple[SectionShape, Plating | None]) -> None:
    with pytest.raises(StringerlabError, match=r"longer than 0\.05 s and was stopped"):
        second_opinion(*floor, limit=0.05)
