"""A fabric of several layers counts as those layers, and is spoken of as the one ply it was laid as."""

from collections.abc import Sequence
from dataclasses import replace
from math import pi, radians

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    Laminate,
    Ply,
    PlyNumbers,
    Resultants,
    Stack,
    abd,
    as_one,
    engineering_constants,
    first_failure,
    mark_of,
    resolve,
    uniaxial_strengths,
)
from stringerlab.materials import Book, records, shipped
from stringerlab.materials.records import (
    CouponSet,
    Estimate,
    Layer,
    Materials,
    PlyKind,
    Property,
    Reinforcement,
    Sourced,
)
from stringerlab.workings import Known

BIAS = Layer(kind=PlyKind.DOUBLE_BIAS, weight=610.0, glass=0.5, estimate=Estimate.MICROMECHANICS)
CROSS = Layer(kind=PlyKind.BIAXIAL, weight=610.0, glass=0.5)
MAT = Layer(kind=PlyKind.MAT, weight=229.0, glass=0.3)
UD = Layer(kind=PlyKind.UNIDIRECTIONAL, weight=300.0, glass=0.5, estimate=Estimate.MICROMECHANICS)


def fabric(name: str, *layers: Layer, kind: PlyKind = PlyKind.MAT_STITCHED) -> Reinforcement:
    dry = sum(layer.weight for layer in layers)
    return Reinforcement(
        id=name,
        name=name,
        kind=kind,
        fibre="e_glass",
        resin="polyester",
        weight=dry,
        glass=round(dry / sum(layer.weight / layer.glass for layer in layers), 3),
        layers=layers,
    )


def plain(layer: Layer) -> Reinforcement:
    return Reinforcement(
        id=layer.kind.value,
        name=layer.kind.value,
        kind=layer.kind,
        fibre="e_glass",
        resin="polyester",
        weight=layer.weight,
        glass=layer.glass,
        estimate=layer.estimate,
    )


F1808 = fabric("1808", BIAS, MAT)
E1808 = fabric("1808 cross", CROSS, MAT)
QUAD = fabric(
    "quad",
    UD,
    replace(UD, angle=45.0),
    replace(UD, angle=90.0),
    replace(UD, angle=-45.0),
    kind=PlyKind.QUADRIAXIAL,
)
BOOK = Book.of(
    Materials(reinforcements=(F1808, E1808, QUAD, plain(BIAS), plain(CROSS), plain(MAT), plain(UD))),
    shipped(),
)


def laid(*plies: Ply) -> Stack:
    return resolve(Laminate(id="l1", name="test", plies=plies), BOOK)


def refused(material: Reinforcement, ply: Ply | None = None) -> list[tuple[str, str]]:
    book = Book.of(Materials(reinforcements=(material,)), shipped())
    with pytest.raises(StringerlabError) as caught:
        resolve(Laminate(id="l1", name="Web", plies=(ply or Ply(material=material.id),)), book)
    return [(problem.where, problem.what) for problem in caught.value.problems]


def same(one: Sequence[PlyNumbers], other: Sequence[PlyNumbers]) -> bool:
    """Whether plies are equal in everything but what they are called and counted as."""
    return [replace(ply, name="", number=0, layer="") for ply in one] == [
        replace(ply, name="", number=0, layer="") for ply in other
    ]


@pytest.mark.parametrize(("layered", "first"), [("1808", BIAS), ("1808 cross", CROSS)])
@pytest.mark.parametrize("angle", [0.0, 30.0, -45.0, 90.0])
def test_a_1808_is_exactly_its_stitched_ply_and_its_mat_laid_one_after_the_other(
    layered: str, first: Layer, angle: float
) -> None:
    whole = laid(Ply(material=layered, angle=angle), Ply(material="csm450"))
    split = laid(
        Ply(material=first.kind.value, angle=angle), Ply(material=MAT.kind.value), Ply(material="csm450")
    )
    assert same(whole.plies, split.plies)
    assert np.array_equal(abd(whole), abd(split))
    assert np.array_equal(uniaxial_strengths(whole).tension, uniaxial_strengths(split).tension)


def test_plies_are_counted_as_drawn_up_and_layers_are_named() -> None:
    stack = laid(Ply(material="gelcoat", thickness=0.5), Ply(material="1808"), Ply(material="csm450"))
    assert stack.numbers == (1, 2, 2, 3)
    assert stack.labels[1:] == (
        "ply 2: 1808, ±45 stitched layer",
        "ply 2: 1808, mat layer",
        f"ply 3: {stack.plies[3].name}",
    )


def test_layers_of_one_kind_are_told_apart_by_their_angle_or_else_by_their_place() -> None:
    assert [ply.name for ply in laid(Ply(material="quad")).plies] == [
        "quad, unidirectional layer at 0°",
        "quad, unidirectional layer at 45°",
        "quad, unidirectional layer at 90°",
        "quad, unidirectional layer at −45°",
    ]
    twice = fabric("twice", MAT, CROSS, MAT)
    stack = resolve(
        Laminate(id="l1", name="", plies=(Ply(material="twice"),)),
        Book.of(Materials(reinforcements=(twice,)), shipped()),
    )
    assert [ply.name for ply in stack.plies] == [
        "twice, mat layer (1 of 3)",
        "twice, 0/90 stitched layer",
        "twice, mat layer (3 of 3)",
    ]


def test_the_ply_s_angle_turns_every_layer_but_a_mat() -> None:
    assert [ply.angle for ply in laid(Ply(material="quad", angle=10.0)).plies] == pytest.approx(
        [radians(angle) for angle in (10, 55, 100, -35)]
    )
    assert [ply.angle for ply in laid(Ply(material="1808", angle=90.0)).plies] == [
        pytest.approx(3 * pi / 4),
        0.0,
    ]


def test_a_quadriaxial_of_equal_layers_is_alike_all_round_in_its_plane() -> None:
    A = abd(laid(Ply(material="quad")))[:3, :3]
    turned = abd(laid(Ply(material="quad", angle=17.0)))[:3, :3]
    assert turned == pytest.approx(A, rel=1e-9, abs=1e-9 * A[0, 0])
    assert A[2, 2] == pytest.approx((A[0, 0] - A[0, 1]) / 2)


def test_a_dry_weight_of_the_ply_is_shared_out_as_the_layers_weights_are() -> None:
    bias, mat = laid(Ply(material="1808", weight=2 * 839.0)).plies
    assert (bias.dry_weight, mat.dry_weight) == pytest.approx((2 * 610.0, 2 * 229.0))
    assert (bias.glass, mat.glass) == (0.5, 0.3)


@pytest.mark.parametrize("glass", [0.35, 0.42, 0.5])
def test_a_glass_content_of_the_ply_is_met_by_one_factor_on_the_layers_resin(glass: float) -> None:
    plies = laid(Ply(material="1808", glass=glass)).plies
    dry, wet = sum(ply.dry_weight for ply in plies), sum(ply.mass for ply in plies)
    assert dry == pytest.approx(839.0)
    assert dry / wet == pytest.approx(glass)
    resin = [ply.mass - ply.dry_weight for ply in plies]
    # as stated: 610 g/m² of fabric at 0.5 holds 610 g/m² of resin, 229 of mat at 0.3 holds 229 × 7/3
    assert resin[0] / 610.0 == pytest.approx(resin[1] / (229.0 * 7 / 3))
    assert all(mark_of(ply, "E1") is not Known.PROVED for ply in plies)


def test_a_measured_thickness_of_the_ply_is_shared_out_as_the_layers_thicknesses_are() -> None:
    nominal, measured = (laid(Ply(material="1808", thickness=t)).plies for t in (None, 2.0))
    assert sum(ply.thickness for ply in measured) == pytest.approx(2.0)
    assert measured[0].thickness / measured[1].thickness == pytest.approx(
        nominal[0].thickness / nominal[1].thickness
    )
    assert [mark_of(ply, "thickness") for ply in measured] == [Known.STATED] * 2
    assert [ply.mass for ply in measured] == [ply.mass for ply in nominal]


def test_what_cannot_be_of_a_layer_is_told_of_that_layer() -> None:
    found = refused(F1808, Ply(material="1808", thickness=0.3))
    assert [where for where, _ in found] == ["laminate 'Web' (l1), ply 1, ±45 stitched layer"]
    assert found[0][1].endswith("is less than its dry fibre's alone, 0.238 mm.")  # 610 g/m² at 2560 kg/m³
    found = refused(F1808, Ply(material="1808", glass=0.75))
    assert [where for where, _ in found] == ["laminate 'Web' (l1), ply 1, ±45 stitched layer, glass"]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (replace(F1808, layers=()), "'1808' is a mat-stitched combination, but states no layers."),
        (
            replace(F1808, weight=700.0),
            "the layers of '1808' weigh 839 g/m² together, the fabric 700.",
        ),
        (
            replace(F1808, glass=0.5),
            "the layers of '1808' have a glass content of 0.423 together, the fabric 0.5.",
        ),
        (
            replace(F1808, layers=(BIAS, replace(MAT, kind=PlyKind.TRIAXIAL))),
            "layer 2 of '1808' is a triaxial stitched, which is several layers itself.",
        ),
    ],
)
def test_a_fabric_whose_layers_are_not_it_is_refused(wrong: Reinforcement, said: str) -> None:
    assert said in [what for _, what in refused(wrong)]


def test_tested_values_of_a_whole_fabric_are_refused_for_it_is_reckoned_layer_by_layer() -> None:
    test = records.Tested(modulus_1=Sourced(value=15_000.0, source="own test", known=Known.STATED))
    coupons = CouponSet(property=Property.TENSION_1, mean=200.0, deviation=10.0, count=5, glass=0.45)
    for wrong in (replace(F1808, tested=test), replace(F1808, coupons=(coupons,))):
        assert [what for _, what in refused(wrong)] == [
            "'1808' has tested values of the whole, but is reckoned layer by layer."
        ]


def test_the_ply_that_fails_first_is_named_by_its_number_as_drawn_up_and_its_layer() -> None:
    stack = laid(Ply(material="ud300"), Ply(material="quad"), Ply(material="ud300"))
    pull, _ = first_failure(stack, Resultants(N=(1.0, 0.0, 0.0)))
    # pulled along x the fibres across it part first
    assert (pull.ply, pull.name) == (2, "quad, unidirectional layer at 90°")


def test_a_fabric_as_one_has_the_moduli_of_its_layers_along_its_roll_and_no_strength() -> None:
    turned = laid(Ply(material="1808 cross", angle=30.0)).plies
    alone = engineering_constants(laid(Ply(material="1808 cross")))
    one = as_one("1808 cross", turned, 30.0)
    assert pytest.approx((alone.Ex, alone.Ey, alone.Gxy)) == (one.E1, one.E2, one.G12)
    assert one.mass == pytest.approx(610 / 0.5 + 229 / 0.3)
    assert one.thickness == pytest.approx(sum(ply.thickness for ply in turned))
    assert one.tension_1 is None
    assert as_one("ud300", turned[:1], 30.0) is turned[0]
