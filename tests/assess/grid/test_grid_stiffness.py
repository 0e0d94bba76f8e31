"""What the grid takes as a section's stiffness in shear and twist, against the finite elements' answer."""

import numpy as np
import pytest

from stringerlab.assess.grid.stiffness import stiffness
from stringerlab.assess.torsion import full_torsion
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Resolved, resolve
from stringerlab.section import Plating


@pytest.fixture(scope="module")
def boat() -> Resolved:
    return resolve(load(folder("sample_projects") / "tidewrack_layout.json"))


def named(boat: Resolved, name: str):
    case = next(one for one in boat.spans if one.section.name == name)
    return case.section, case.plating, case.drawn_deadrise


def test_shear_stiffness_of_a_floor_is_the_finite_elements_at_any_width_of_plating(boat: Resolved) -> None:
    floor = next(one for one in boat.spans if one.span.name.startswith("Floor"))
    widths = np.array([480.0, 520.0, 560.0, 580.0, 610.0])
    found = stiffness(floor.section, floor.plating, floor.drawn_deadrise, widths)
    assert found.thin
    # more plating, less shear stiffness, without a jump
    assert (np.diff(found.GA) < 0).all()
    for width in (520.0, 580.0):
        full = full_torsion(
            floor.section, Plating(stack=floor.plating, width=width, deadrise=floor.drawn_deadrise)
        )
        own = stiffness(floor.section, floor.plating, floor.drawn_deadrise, np.array([width]))
        assert own.GA[0] == pytest.approx(full.GA_z, rel=0.02)


def test_a_keel_girder_whose_flanges_lie_in_less_than_their_bead_hangs_together(boat: Resolved) -> None:
    shape, stack, deadrise = named(boat, "Keel girder")
    found = stiffness(shape, stack, deadrise, np.array([300.0]))
    full = full_torsion(shape, Plating(stack=stack, width=300.0, deadrise=deadrise))
    assert found.thin
    assert found.GJ[0] == pytest.approx(full.GJ, rel=0.05)
    assert found.GA[0] == pytest.approx(full.GA_z, rel=0.05)
