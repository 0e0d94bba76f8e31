"""A whole sample project judged by the class forms."""

from dataclasses import replace

import pytest

from stringerlab.assess import check
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.methods import Aspect, Verdict
from stringerlab.project import Project


@pytest.fixture(scope="module")
def boat() -> Project:
    project = load(str(folder("sample_projects") / "eelgrass_workboat.json"))
    craft = replace(project.craft, wave_height=600.0, running_trim=4.0, draught=380.0)
    return replace(project, craft=craft)


@pytest.mark.parametrize("method", ["class_guide_planing", "class_limits"])
def test_every_subject_is_judged_and_every_judged_number_names_its_edition_as_unknown(
    boat: Project, method: str
) -> None:
    found = check(boat, method).findings
    assert {one.subject for one in found} == {one.id for one in (*boat.panels, *boat.spans)}
    judged = [one for one in found if one.verdict is not Verdict.NOT_JUDGED]
    assert {one.subject for one in judged} == {one.subject for one in found}
    assert all("The edition is not known: compare with the rules in force." in one.notes for one in judged)
    assert all(one.notes[0] for one in found if one.verdict is Verdict.NOT_JUDGED)


def test_class_forms_count_the_plating_each_their_own_way(boat: Project) -> None:
    moduli = {
        method: next(one.capacity for one in check(boat, method).findings if one.aspect is Aspect.MODULUS)
        for method in ("class_guide_planing", "class_limits")
    }
    # 18 t and the base against 20 t and the base: the wider plating gives the stiffer section
    assert moduli["class_guide_planing"] is not None
    assert moduli["class_limits"] is not None
    assert moduli["class_guide_planing"] < moduli["class_limits"]


def test_without_wave_height_only_the_guide_has_a_load(boat: Project) -> None:
    calm = replace(boat, craft=replace(boat.craft, wave_height=None))

    def loaded(method: str) -> bool:
        aspects = (Aspect.PLY_STRENGTH, Aspect.MODULUS)
        return any(
            one.utilisation is not None for one in check(calm, method).findings if one.aspect in aspects
        )

    assert loaded("class_guide_planing")
    assert not loaded("class_limits")
