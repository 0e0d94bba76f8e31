"""A laminate to scale, and its stiffness all round."""

from collections.abc import Callable
from dataclasses import replace
from math import cos, pi, radians, sin

import numpy as np
import pytest

from stringerlab.drawing import (
    Area,
    Label,
    Line,
    Mark,
    Picture,
    Role,
    Ticks,
    laminate_picture,
    moduli_round,
    polar_picture,
)
from stringerlab.errors import StringerlabError
from stringerlab.laminate import PlyNumbers, Stack, engineering_constants, resolve, thickness_with_gel
from stringerlab.laminate import Role as Does
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.materials import Book, shipped
from stringerlab.materials.records import PlyKind
from stringerlab.units import System


@pytest.fixture
def mixed(one_ply: Callable[..., PlyNumbers]) -> Stack:
    """Gel coat, mat, roving, a unidirectional ply at 30°, core, ±45."""
    return Stack(
        name="mixed",
        plies=(
            one_ply(0.5, 0.0, None, Does.GEL_COAT),
            one_ply(1.0, 7000.0, PlyKind.MAT),
            one_ply(0.8, 14000.0, PlyKind.WOVEN_ROVING),
            one_ply(0.6, 30000.0, PlyKind.UNIDIRECTIONAL, angle=radians(30)),
            one_ply(12.0, 80.0, None, Does.CORE),
            one_ply(0.7, 12000.0, PlyKind.DOUBLE_BIAS, angle=radians(45)),  # as it is resolved
        ),
    )


def unidirectional(angle: float) -> Stack:
    """A single ply of textbook glass and epoxy."""
    numbers = PlyNumbers(
        name="ud",
        role=Does.REINFORCED,
        kind=PlyKind.UNIDIRECTIONAL,
        angle=angle,
        thickness=1.0,
        mass=1500,
        dry_weight=900,
        glass=0.6,
        E1=38600.0,
        E2=8270.0,
        G12=4140.0,
        nu12=0.26,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(),
    )
    return Stack(name="ud", plies=(numbers,))


def test_plies_stand_on_one_another_at_true_thickness_from_the_mould(mixed: Stack) -> None:
    areas = [item for item in laminate_picture(mixed) if isinstance(item, Area)]
    assert [area.subject for area in areas] == [f"ply/{number}" for number in range(1, 7)]
    spans = [(area.rings[0][:, 1].min(), area.rings[0][:, 1].max()) for area in areas]
    assert [high - low for low, high in spans] == pytest.approx([ply.thickness for ply in mixed.plies])
    assert [low for low, _ in spans[1:]] == pytest.approx([high for _, high in spans[:-1]])
    assert spans[0][0] == 0
    assert spans[-1][1] == pytest.approx(thickness_with_gel(mixed))
    assert [area.role for area in areas] == [
        Role.GEL_COAT,
        Role.MAT,
        Role.ROVING,
        Role.UNIDIRECTIONAL,
        Role.CORE,
        Role.STITCHED,
    ]


def test_strokes_lie_along_the_fibres(mixed: Stack) -> None:
    picture = laminate_picture(mixed)
    ways = {
        item.subject: {
            round(float(np.degrees(np.arctan2(*(end - start)[::-1]))) % 180, 6)
            for start, end in zip(item.starts, item.ends, strict=True)
        }
        for item in picture
        if isinstance(item, Ticks) and item.role is Role.FIBRE
    }
    assert ways["ply/3"] == {0.0, 90.0}
    assert ways["ply/4"] == {30.0}
    assert ways["ply/6"] == {45.0, 135.0}
    assert len(ways["ply/2"]) > 8
    assert ways.keys() == {"ply/2", "ply/3", "ply/4", "ply/6"}


def test_a_double_bias_fabric_of_the_book_is_drawn_at_plus_and_minus_45() -> None:
    laid = Laminate(id="l1", name="bias", plies=(Ply(material="db600"),))
    picture = laminate_picture(resolve(laid, Book.of(shipped())))
    (strokes,) = (item for item in picture if isinstance(item, Ticks) and item.role is Role.FIBRE)
    ways = (strokes.ends - strokes.starts) / np.linalg.norm(strokes.ends - strokes.starts, axis=1)[:, None]
    assert np.abs(ways) == pytest.approx(np.full_like(ways, 0.5**0.5))


def test_strokes_stay_within_their_ply(mixed: Stack) -> None:
    picture = laminate_picture(mixed)
    boxes = {item.subject: item.rings[0] for item in picture if isinstance(item, Area)}
    for item in picture:
        if isinstance(item, Ticks) and item.role is Role.FIBRE:
            both = np.concatenate([item.starts, item.ends])
            box = boxes[item.subject]
            assert (both >= box.min(axis=0)).all()
            assert (both <= box.max(axis=0)).all()


def test_names_angles_and_thicknesses_stand_beside_the_plies(mixed: Stack) -> None:
    words = {
        item.subject: item.text
        for item in laminate_picture(mixed)
        if isinstance(item, Label) and item.subject
    }
    assert words["ply/4"] == "4  unidirectional  30°  0.6 mm"
    assert words["ply/5"] == "5  core  12.0 mm"
    inches = {
        item.subject: item.text
        for item in laminate_picture(mixed, units=System.US)
        if isinstance(item, Label) and item.subject
    }
    assert inches["ply/5"] == "5  core  0.472 in"


def test_layers_of_a_fabric_are_drawn_each_and_are_the_one_ply_they_were_laid_as(
    one_ply: Callable[..., PlyNumbers],
) -> None:
    layers = [
        replace(one_ply(0.5, 9000.0, kind), name=f"1808, {kind} layer", layer=f"{kind} layer", number=2)
        for kind in (PlyKind.DOUBLE_BIAS, PlyKind.MAT)
    ]
    first = replace(one_ply(1.0, 7000.0, PlyKind.MAT), name="mat", number=1)
    picture = laminate_picture(Stack(name="layered", plies=(first, *layers)))
    areas = [item for item in picture.items if isinstance(item, Area)]
    assert [area.subject for area in areas] == ["ply/1", "ply/2", "ply/2"]
    assert [area.tip.split("  ")[1] for area in areas] == ["mat", *(layer.name for layer in layers)]
    beside = [item.text for item in picture.items if isinstance(item, Label) and item.subject]
    assert [words.split("  ")[:2] for words in beside] == [
        ["1", "mat"],
        ["2", "±45 stitched"],
        ["2", "1808: mat"],
    ]


def test_names_of_many_plies_lie_as_far_apart_as_those_of_few(one_ply: Callable[..., PlyNumbers]) -> None:
    def gap(count: int) -> float:
        stack = Stack(name="many", plies=(one_ply(1.0, 7000.0, PlyKind.MAT),) * count)
        labels = [one for one in laminate_picture(stack).items if isinstance(one, Label) and one.subject]
        return (labels[1].at[1] - labels[0].at[1]) / thickness_with_gel(stack)

    assert gap(16) == pytest.approx(gap(8))
    assert gap(4) == pytest.approx(2 * gap(8))


def test_thickness_is_dimensioned_with_and_without_gel_coat(mixed: Stack) -> None:
    words = [item.text for item in laminate_picture(mixed) if isinstance(item, Label) and not item.subject]
    assert "15.6 mm\n15.1 mm\nwithout\ngel coat" in words


def test_laminate_without_plies_has_an_empty_picture() -> None:
    assert laminate_picture(Stack(name="none", plies=())).items == ()


def test_polar_curve_of_a_single_ply_is_the_textbook_transformation() -> None:
    """1/Ex = c⁴/E1 + (1/G12 − 2ν12/E1) c²s² + s⁴/E2: Kaw, eq. 2.112a (memory M)."""
    ud = unidirectional(0.0)
    angles = np.radians(np.arange(0, 180, 15.0))
    for angle, found in zip(angles.tolist(), moduli_round(ud, angles), strict=True):
        c, s = cos(angle), sin(angle)
        flexible = c**4 / 38600 + (1 / 4140 - 2 * 0.26 / 38600) * c * c * s * s + s**4 / 8270
        assert found == pytest.approx(1 / flexible, rel=1e-9)


def test_polar_curve_turns_with_the_ply() -> None:
    angles = np.radians(np.arange(0, 180, 7.0))
    turned = moduli_round(unidirectional(radians(35)), angles + radians(35))
    assert turned == pytest.approx(moduli_round(unidirectional(0.0), angles), rel=1e-9)


def test_polar_curve_holds_the_engineering_constants(mixed: Stack) -> None:
    picture = polar_picture(mixed)
    constants = engineering_constants(mixed)
    (curve,) = [item.rings[0] for item in picture if isinstance(item, Area)]
    rings = [item.text for item in picture if isinstance(item, Label) and item.text.endswith("GPa")]
    largest = next(text for text in rings if not text.startswith("E"))
    scale = 100.0 / (float(largest.split()[0]) * 1e3)
    assert curve[0] == pytest.approx([scale * constants.Ex, 0])
    assert curve[len(curve) // 4] == pytest.approx([0, scale * constants.Ey])
    assert np.hypot(*curve.T).max() <= 100 * (1 + 1e-12)


def test_polar_rings_are_round_numbers_in_the_project_s_units(mixed: Stack) -> None:
    def rings(units: System) -> list[str]:
        picture: Picture = polar_picture(mixed, units=units)
        return [
            item.text
            for item in picture
            if isinstance(item, Label) and item.small and not item.text.startswith("E")
        ]

    assert rings(System.METRIC)[-1].endswith(" GPa")
    assert rings(System.US)[-1].endswith(" ksi")
    assert 3 <= len(rings(System.METRIC)) <= 5


def test_polar_of_a_gel_coat_alone_is_refused(one_ply: Callable[..., PlyNumbers]) -> None:
    bare = Stack(name="gel", plies=(one_ply(0.5, 0.0, None, Does.GEL_COAT),))
    with pytest.raises(StringerlabError):
        polar_picture(bare)


def test_polar_angles_run_with_the_sign_of_ply_angles() -> None:
    angles = np.array([pi / 6, -pi / 6])
    along, across = moduli_round(unidirectional(pi / 6), angles)
    assert along == pytest.approx(38600, rel=1e-9)
    assert across < along / 2


def test_polar_figures_lie_apart_where_rings_lie_close(mixed: Stack) -> None:
    for stack in (mixed, unidirectional(0.0)):
        items = tuple(polar_picture(stack))
        rings = [item for item in items if isinstance(item, Line) and item.closed]
        figures = [item for item in items if isinstance(item, Label) and item.small]
        assert 3 <= len(rings) <= 5
        assert len(figures) == (len(rings) if len(rings) < 5 else 3)
        tips = [item.tip for item in items if isinstance(item, Mark)]
        assert [tip.split()[0] for tip in tips] == ["Ex", "Ey"]
        assert all(tip.endswith(" GPa") for tip in tips)
