"""Torsion and shear among a section's numbers: quick under the hand, in full at rest, told apart."""

from dataclasses import replace

import pytest

from stringerlab.assess.live import at_rest, live_section
from stringerlab.assess.readings import TORSION, readings
from stringerlab.assess.sections import reference_plating, sound_shape
from stringerlab.assess.torsion import full_torsion, quick_torsion
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project, Resolved, resolve
from stringerlab.section.torsion import thin_walls, warping

STRINGER = "s5"


@pytest.fixture(scope="module")
def workboat() -> tuple[Project, Resolved]:
    project = load(folder("sample_projects") / "eelgrass_workboat.json")
    return project, resolve(project)


def test_under_the_hand_the_numbers_are_those_of_thin_walls(workboat: tuple[Project, Resolved]) -> None:
    live = live_section(*workboat, STRINGER)
    shape = sound_shape(workboat[1], live.section)
    quick = thin_walls(shape, live.plating)
    found = {one.key: one for one in readings(live) if one.group == TORSION}
    assert [*found] == ["GJ", "z_s", "y_s", "GA_z", "GA_y"]
    assert (found["GJ"].value, found["GA_z"].value) == (quick.GJ, quick.GA_z)
    assert {one.rough for one in found.values()} == {True}


def test_at_rest_they_are_those_of_the_finite_elements(workboat: tuple[Project, Resolved]) -> None:
    live = live_section(*workboat, STRINGER)
    rested = at_rest(live, workboat[1])
    full = warping(sound_shape(workboat[1], live.section), live.plating)
    found = {one.key: one for one in readings(rested) if one.group == TORSION}
    assert (found["GJ"].value, found["z_s"].value, found["GA_y"].value) == (full.GJ, full.z_s, full.GA_y)
    assert found["y_s"].value == 0  # of a symmetric hat
    assert {one.rough for one in found.values()} == {False}
    assert "finite elements, within" in found["GJ"].detail
    assert rested.properties is live.properties


def test_both_are_far_apart_on_short_thick_walls_and_that_is_said(workboat: tuple[Project, Resolved]) -> None:
    project, resolved = workboat
    section = project.sections[0]
    shape, plating = sound_shape(resolved, section), reference_plating(resolved, section)
    assert full_torsion(shape, plating).warning is None
    # The same drawing a fifth of the size: walls as thick as they are long.
    walls = tuple(
        replace(
            wall,
            points=tuple((y / 5, z / 5) for y, z in wall.points),
            fillets=tuple(0.0 for _ in wall.fillets),
        )
        for wall in shape.walls
    )
    small = replace(shape, walls=walls, fills=(), bead=0.0)
    far = full_torsion(small, None).warning
    assert far is not None
    assert "far from the full solution" in far.what


def test_walls_that_do_not_hang_together_have_no_quick_answer(workboat: tuple[Project, Resolved]) -> None:
    project, resolved = workboat
    section = project.sections[0]
    shape, plating = sound_shape(resolved, section), reference_plating(resolved, section)
    assert plating is not None
    walls = tuple(replace(wall, points=tuple((y, z + 30) for y, z in wall.points)) for wall in shape.walls)
    apart = replace(shape, walls=walls, fills=())
    assert quick_torsion(apart, plating) is None
    with pytest.raises(StringerlabError, match="do not touch"):
        full_torsion(apart, plating)


def test_a_beads_shear_modulus_is_its_adhesives(workboat: tuple[Project, Resolved]) -> None:
    project, resolved = workboat
    section = project.sections[0]
    shape, plating = sound_shape(resolved, section), reference_plating(resolved, section)
    assert section.bead > 0
    assert shape.bead_G == pytest.approx(413 / 2.8)  # the shipped methacrylate's E/(2(1 + 0.4))
    soft = replace(project, sections=(replace(section, adhesive="pu_elastic"), *project.sections[1:]))
    elastic = sound_shape(resolve(soft), soft.sections[0])
    assert elastic.bead_G == pytest.approx(5 / 2.8)
    given, taken = warping(shape, plating), warping(elastic, plating)
    # The crown goes on carrying by itself; the shell hangs on by the bead.
    assert taken.GJ < 0.8 * given.GJ
    # So soft a bead passes its shear over the flange's whole width, which thin walls take too coarsely.
    assert full_torsion(shape, plating).warning is None
    assert full_torsion(elastic, plating).warning is not None
    assert not given.notes


def test_a_bead_of_unknown_adhesive_is_said_so_by_both(workboat: tuple[Project, Resolved]) -> None:
    project, resolved = workboat
    section = project.sections[0]
    shape, plating = sound_shape(resolved, section), reference_plating(resolved, section)
    unknown = replace(shape, bead_G=None)
    for notes in (warping(unknown, plating).notes, thin_walls(unknown, plating).remarks):
        assert [note.what for note in notes] == [
            "The adhesive of its bead is not known; its shear modulus is taken as 150 MPa."
        ]
