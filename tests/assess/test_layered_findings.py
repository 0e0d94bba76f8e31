"""A fabric of several layers in a project: findings, facts and corners speak of the ply as drawn up."""

from dataclasses import replace

import pytest

from stringerlab.assess import check
from stringerlab.assess.sections import section_facts
from stringerlab.desktop.finding_place import drawn_place
from stringerlab.laminate.records import Ply
from stringerlab.materials.records import Estimate, Layer, Materials, PlyKind, Reinforcement
from stringerlab.methods import Aspect
from stringerlab.project import Project, resolve
from stringerlab.project.beginning import new_boat
from stringerlab.section.mouldability import mouldability

F1808 = Reinforcement(
    id="f1808",
    name="1808",
    kind=PlyKind.MAT_STITCHED,
    fibre="e_glass",
    resin="polyester",
    weight=839.0,
    glass=0.423,
    layers=(
        Layer(kind=PlyKind.BIAXIAL, weight=610.0, glass=0.5, estimate=Estimate.MICROMECHANICS),
        Layer(kind=PlyKind.MAT, weight=229.0, glass=0.3),
    ),
)


@pytest.fixture(scope="module")
def boat() -> Project:
    """A new boat whose laminates are gel coat, and three plies of 1808."""
    plain = new_boat()
    plies = (Ply(material="gelcoat", thickness=0.5), *(Ply(material="f1808"),) * 3)
    return replace(
        plain,
        materials=Materials(reinforcements=(F1808,)),
        laminates=tuple(replace(laminate, plies=plies) for laminate in plain.laminates),
    )


def test_the_ply_that_governs_is_named_by_its_number_as_drawn_up_and_its_layer(boat: Project) -> None:
    resolved = resolve(boat)
    assert not resolved.problems
    found = [
        finding
        for finding in check(boat).findings
        if finding.aspect in (Aspect.PLY_STRENGTH, Aspect.INTERLAMINAR_SHEAR) and finding.governs
    ]
    assert found
    for finding in found:
        number = int(finding.governs.split(":")[0].removeprefix("ply "))
        assert 2 <= number <= 4
        assert finding.governs.endswith((": 1808, 0/90 stitched layer", ": 1808, mat layer"))
        assert drawn_place(finding, boat, resolved) == f"{boat.panels[0].laminate}/{number}"


def test_fabric_counts_once_for_all_its_layers(boat: Project) -> None:
    resolved = resolve(boat)
    shape = resolved.shapes[boat.sections[0].id]
    one_ply = replace(boat, laminates=tuple(replace(each, plies=each.plies[:2]) for each in boat.laminates))
    alone = section_facts(resolve(one_ply).shapes[boat.sections[0].id])
    facts = section_facts(shape)
    # three plies on one line, each a little longer or shorter than the first
    assert facts.fabric_area_per_length == pytest.approx(3 * alone.fabric_area_per_length, rel=0.05)
    assert facts.fabric_area_per_length == pytest.approx(3 * facts.girth / 1e3, rel=0.05)


def test_a_corner_too_tight_names_the_ply_as_drawn_up(boat: Project) -> None:
    shape = resolve(boat).shapes[boat.sections[0].id]
    bare = replace(shape, walls=tuple(replace(wall, fillets=()) for wall in shape.walls))
    words = [reading.words for reading in mouldability(bare) if "ply " in reading.words]
    assert words
    assert all(any(f"ply {number} (1808, " in text for number in (2, 3, 4)) for text in words)
    assert not any(f"ply {number}" in text for number in (5, 6, 7) for text in words)
