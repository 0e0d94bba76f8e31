"""The lines of a material, changed one at a time."""

import math
from collections.abc import Callable

import pytest

from stringerlab.desktop.models.material_values import (
    Line,
    lines_of,
    with_choice,
    with_known,
    with_number,
    with_source,
)
from stringerlab.materials import AnyMaterial, material_problems, shipped
from stringerlab.materials.records import Estimate, Materials, PlyKind, Reinforcement
from stringerlab.units import System
from stringerlab.workings import Known

CHANGES: dict[str, Callable[[AnyMaterial], AnyMaterial]] = {
    "the same number": lambda m: with_number(m, lines_of(m)[-1], lines_of(m)[-1].number),
    "the same source": lambda m: with_source(m, lines_of(m)[0], lines_of(m)[0].source),
}


@pytest.mark.parametrize("change", CHANGES)
def test_what_is_typed_again_changes_nothing(change: str) -> None:
    core = shipped().adhesives[0]
    assert CHANGES[change](core) == core


def test_a_shared_mark_is_the_records_own() -> None:
    mat = shipped().reinforcements[0]
    [weight] = [line for line in lines_of(mat) if line.path == ("weight",)]
    marked = with_known(mat, weight, Known.TESTED)
    assert isinstance(marked, Reinforcement)
    assert (marked.known, marked.weight) == (Known.TESTED, mat.weight)


def shipped_fabric(id: str) -> Reinforcement:  # noqa: A002
    return next(material for material in shipped().reinforcements if material.id == id)


def line_of(material: Reinforcement, *path: str) -> Line:
    return next(line for line in lines_of(material) if line.path == path)


def test_a_fabrics_layers_are_lines_of_their_own() -> None:
    fabric = shipped_fabric("m1808")
    said = {line.name: line.text(System.METRIC) for line in lines_of(fabric)}
    assert said["Layers"] == "2 pcs"
    assert said["Layer 1, kind of ply"] == "mat"
    assert said["Layer 1, dry weight"] == "228.9 g/m²"
    assert said["Layer 2, glass content"] == "0.5"
    assert said["Layer 2, angle"] == "0 deg"
    assert "Layer 1, angle" not in said  # a mat is the same all round
    assert "Estimate" not in said
    assert "Layers" not in {line.name for line in lines_of(shipped_fabric("csm300"))}


def test_the_whole_follows_its_layers() -> None:
    fabric = shipped_fabric("m1808")
    heavier = with_number(fabric, line_of(fabric, "layers", "0", "weight"), 457.7)
    assert isinstance(heavier, Reinforcement)
    assert heavier.weight == pytest.approx(457.7 + 610.303, abs=0.001)
    # 1068.0 g/m² of glass in 457.7/0.3 + 610.3/0.5
    assert heavier.glass == 0.389
    assert heavier.source == "as entered"
    assert material_problems(Materials(reinforcements=(heavier,)), shipped()) == []
    turned = with_number(fabric, line_of(fabric, "layers", "1", "angle"), math.radians(30))
    assert isinstance(turned, Reinforcement)
    assert turned.layers[1].angle == 30.0


def test_a_layer_of_another_kind_takes_an_estimate_that_knows_it() -> None:
    fabric = shipped_fabric("m1808")
    bias = with_choice(fabric, line_of(fabric, "layers", "1", "kind"), "±45 stitched")
    assert isinstance(bias, Reinforcement)
    assert bias.layers[1].kind is PlyKind.DOUBLE_BIAS
    assert bias.layers[1].estimate is Estimate.MICROMECHANICS
    assert material_problems(Materials(reinforcements=(bias,)), shipped()) == []


def test_layers_are_added_and_taken_away_by_their_number() -> None:
    mat = shipped_fabric("csm300")
    kind = line_of(mat, "kind")
    bare = with_choice(mat, kind, "triaxial stitched")
    assert isinstance(bare, Reinforcement)
    assert line_of(bare, "layers").text(System.METRIC) == "0 pcs"
    three = with_number(bare, line_of(bare, "layers"), 3.0)
    assert isinstance(three, Reinforcement)
    assert [layer.weight for layer in three.layers] == [100.0, 100.0, 100.0]
    assert material_problems(Materials(reinforcements=(three,)), shipped()) == []
    two = with_number(three, line_of(three, "layers"), 2.0)
    assert isinstance(two, Reinforcement)
    assert (len(two.layers), two.weight) == (2, 200.0)
    none = with_number(two, line_of(two, "layers"), 0.0)
    assert isinstance(none, Reinforcement)
    assert (none.layers, none.weight) == ((), 200.0)
