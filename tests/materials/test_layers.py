"""Layers of a fabric: which kinds have them, and that they add up to the whole."""

from dataclasses import replace

import pytest

from stringerlab.materials import Book, material_problems, shipped
from stringerlab.materials.records import LAYERED, Estimate, Layer, Materials, PlyKind, Reinforcement

BOOK = Book.of(shipped())
LAYERS = [material for material in shipped().reinforcements if material.layers]


def fabric(identity: str) -> Reinforcement:
    found = BOOK.reinforcement(identity)
    assert found is not None
    return found


def said(material: Reinforcement) -> list[str]:
    return [str(problem) for problem in material_problems(Materials(reinforcements=(material,)), shipped())]


@pytest.mark.parametrize("material", LAYERS, ids=lambda each: each.id)
def test_layers_of_the_shipped_fabrics_add_up(material: Reinforcement) -> None:
    assert material.kind in LAYERED
    weights = [layer.weight for layer in material.layers]
    assert sum(weights) == pytest.approx(material.weight, rel=1e-6)
    resin = sum(layer.weight * (1 / layer.glass - 1) for layer in material.layers)
    assert sum(weights) / (sum(weights) + resin) == pytest.approx(material.glass, abs=0.005)


def test_triaxials_and_quadriaxials_are_balanced() -> None:
    for material in LAYERS:
        slanting = [layer for layer in material.layers if layer.kind is PlyKind.UNIDIRECTIONAL]
        by_angle = {layer.angle: layer.weight for layer in slanting}
        assert by_angle.get(45.0) == by_angle.get(-45.0)


def test_combinations_are_mat_and_one_stitched_fabric() -> None:
    combined = [material for material in LAYERS if material.kind is PlyKind.MAT_STITCHED]
    assert len(combined) >= 4
    for material in combined:
        mat, stitched = material.layers
        assert mat.kind is PlyKind.MAT
        assert stitched.kind in (PlyKind.BIAXIAL, PlyKind.DOUBLE_BIAS)
    twelve, seventeen, eighteen = (fabric(name).layers[1] for name in ("m1208", "m1708", "m1808"))
    assert (twelve.kind, seventeen.kind) == (PlyKind.DOUBLE_BIAS, PlyKind.DOUBLE_BIAS)
    assert eighteen.kind is PlyKind.BIAXIAL


@pytest.mark.parametrize("kind", LAYERED)
def test_a_kind_of_several_layers_must_state_them(kind: PlyKind) -> None:
    (text,) = said(replace(fabric("csm450"), kind=kind))
    assert f"a {kind} states its layers, and there are none." in text


@pytest.mark.parametrize("kind", [kind for kind in PlyKind if kind not in LAYERED])
def test_a_plain_kind_has_no_layers(kind: PlyKind) -> None:
    (text,) = said(replace(fabric("m1808"), kind=kind))
    assert f"a {kind} ply has no layers." in text


def test_layers_that_do_not_add_up_are_told() -> None:
    whole = fabric("m1808")
    assert said(replace(whole, weight=whole.weight * 1.009)) == []
    (heavy,) = said(replace(whole, weight=whole.weight * 1.02))
    assert "its layers weigh 839.2 g/m² together, the fabric 856.0 g/m²" in heavy
    assert said(replace(whole, glass=0.435)) == []
    (rich,) = said(replace(whole, glass=0.46))
    assert "have a glass content of 0.423 together, the fabric 0.46" in rich


def test_a_layer_is_never_of_layers_and_names_an_estimate_that_knows_it() -> None:
    whole = fabric("tri0_800")
    nested = Layer(kind=PlyKind.TRIAXIAL, weight=400.0, glass=0.5)
    wrong = Layer(kind=PlyKind.UNIDIRECTIONAL, weight=400.0, glass=0.5, estimate=Estimate.PUBLISHED_FIT)
    first, second = said(replace(whole, layers=(nested, wrong)))
    assert "layer 1, kind: a triaxial stitched is several layers itself." in first
    assert "layer 2, estimate: 'published fit' does not know a unidirectional ply." in second
    assert "rule of mixtures" in second
