"""Questions about a material: ounces of the wrong square, shares by volume, GPa taken for MPa."""

from dataclasses import replace

import pytest

from stringerlab.materials import Book, material_doubts, shipped, weight_doubt
from stringerlab.materials.doubts import glass_doubt
from stringerlab.materials.records import Layer, Materials, PlyKind, Reinforcement
from stringerlab.units import Kind, parse

BOOK = Book.of(shipped())


def grams(text: str) -> float:
    return parse(text, Kind.AREAL_MASS)


def mat(weight: float, glass: float = 0.3) -> Reinforcement:
    found = BOOK.reinforcement("csm450")
    assert found is not None
    return replace(found, weight=weight, glass=glass)


def test_nothing_is_asked_about_the_shipped_book() -> None:
    assert material_doubts(shipped()) == []


def test_a_mat_in_ounces_a_square_yard_is_questioned() -> None:
    (problem,) = material_doubts(Materials(reinforcements=(mat(grams("1.5 oz/yd²")),)))
    assert "oz/ft² meant? that is 457.7 g/m²" in problem.what
    assert "1.5 oz/yd²" in problem.what
    assert problem.where == "reinforcement 'Chopped mat 450 g/m²' (csm450), weight"


@pytest.mark.parametrize(
    ("kind", "text", "meant"),
    [
        (PlyKind.MAT, "0.75 oz/yd²", "228.9 g/m²"),
        (PlyKind.MAT, "2 oz/yd²", "610.3 g/m²"),
        (PlyKind.WOVEN_ROVING, "18 oz/ft²", "610.3 g/m²"),
        (PlyKind.BIAXIAL, "24 oz/ft²", "813.7 g/m²"),
        (PlyKind.WOVEN_ROVING, "24 g/m²", "813.7 g/m²"),
        (PlyKind.MAT_STITCHED, "22 g/m²", "745.9 g/m²"),
    ],
)
def test_the_other_ounce_is_offered(kind: PlyKind, text: str, meant: str) -> None:
    words = weight_doubt(kind, grams(text))
    assert "meant?" in words
    assert meant in words


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (PlyKind.MAT, "0.75 oz/ft²"),
        (PlyKind.MAT, "150 g/m²"),
        (PlyKind.MAT, "3 oz/ft²"),
        (PlyKind.WOVEN_ROVING, "24 oz/yd²"),
        (PlyKind.UNIDIRECTIONAL, "100 g/m²"),
        (PlyKind.MAT_STITCHED, "2400 g/m²"),
    ],
)
def test_what_the_trade_sells_is_not_questioned(kind: PlyKind, text: str) -> None:
    assert weight_doubt(kind, grams(text)) == ""


def test_weights_no_other_unit_explains_are_still_asked_about() -> None:
    assert weight_doubt(PlyKind.MAT, 2000) == "2000 g/m² is heavy for a mat: is it right?"
    assert weight_doubt(PlyKind.WOVEN_ROVING, 70) == "70 g/m² is light for a woven roving: is it right?"


def test_glass_contents_like_shares_by_volume_are_asked_about() -> None:
    assert "the share by volume?" in glass_doubt(PlyKind.MAT, 0.17)
    assert "much for a mat" in glass_doubt(PlyKind.MAT, 0.50)
    assert "the share by volume?" in glass_doubt(PlyKind.WOVEN_ROVING, 0.30)
    assert glass_doubt(PlyKind.MAT, 0.33) == ""
    (problem,) = material_doubts(Materials(reinforcements=(mat(450, 0.48),)))
    assert problem.where.endswith("(csm450), glass")


def test_layers_are_asked_about_each() -> None:
    whole = BOOK.reinforcement("m1808")
    assert whole is not None
    thin = Layer(kind=PlyKind.MAT, weight=25.4, glass=0.3)
    (problem,) = material_doubts(Materials(reinforcements=(replace(whole, layers=(thin, whole.layers[1])),)))
    assert problem.where.endswith("(m1808), layer 1, weight")
    assert "oz/ft² meant? that is 228.6 g/m²" in problem.what


def test_gpa_and_pounds_taken_for_the_books_own_units_are_asked_about() -> None:
    fibre, resin, core = BOOK.fibre("carbon"), BOOK.resin("epoxy"), BOOK.core("pvc80")
    assert fibre is not None
    assert resin is not None
    assert core is not None
    slips = Materials(
        fibres=(replace(fibre, modulus=replace(fibre.modulus, value=230.0)),),
        resins=(
            replace(resin, modulus=replace(resin.modulus, value=3.1)),
            replace(resin, id="psi", modulus=replace(resin.modulus, value=450_000.0)),
        ),
        cores=(replace(core, density=replace(core.density, value=5.0)),),
    )
    found = [str(problem) for problem in material_doubts(slips)]
    assert len(found) == 4
    text = "\n".join(found)
    assert "That is 80.09 kg/m³." in text
    assert "That is 230000 MPa." in text
    assert "That is 3100 MPa." in text
    assert "stiff for a cast resin" in text
