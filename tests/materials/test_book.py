"""The shipped book: what it holds, in range and sourced; lookup by id; references between its rows."""

from dataclasses import fields, replace
from itertools import pairwise

import pytest

from stringerlab.materials import Book, material_problems, shipped
from stringerlab.materials.book import AnyMaterial, every
from stringerlab.materials.records import Estimate, Materials, PlyKind, Reinforcement, Sourced
from stringerlab.units.ranges import range_problems
from stringerlab.workings import Known

BOOK = Book.of(shipped())
ROWS = every(shipped())


def sourced(record: object) -> list[Sourced]:
    values = [getattr(record, field.name) for field in fields(record)]  # pyright: ignore[reportArgumentType]
    return [value for value in values if isinstance(value, Sourced)]


@pytest.mark.parametrize("record", ROWS, ids=lambda record: record.id)
def test_every_row_is_in_range_sourced_and_found_by_id(record: AnyMaterial) -> None:
    assert range_problems(record) == []
    assert BOOK.find(record.id) is record
    assert all(value.source.strip() for value in sourced(record))
    if isinstance(record, Reinforcement):
        assert record.source != "as entered"
    else:
        assert sourced(record)


def test_book_holds_what_the_trade_asks_for() -> None:
    expected = (
        "csm225 csm300 csm450 csm600 csm900 csm075oz csm1oz csm15oz csm2oz wr300 wr500 wr600 wr800 wr18oz "
        "wr24oz bx600 bx800 db400 db600 db800 ud300 ud500 tri0_800 tri90_800 quad800 m1208 m1708 m1808 m2408 "
        "cud300 cbx400 cdb400 polyester isophthalic vinylester epoxy e_glass carbon gelcoat barrier_ve "
        "skin300 pvc60 pvc80 pvc100 pvc130 san85 pet100 pu6lb pp_comb80 pu_foam32 al5083 al6082 al6061 "
        "steel316 frp_block frp_solid dense_foam240 putty mma epoxy_paste polyester_paste pu_structural"
    )
    assert set(expected.split()) <= {record.id for record in ROWS}
    kinds = {material.kind for material in shipped().reinforcements}
    assert kinds == set(PlyKind)
    assert len({record.name for record in ROWS}) == len(ROWS)


@pytest.mark.parametrize(
    ("identity", "grams"),
    [("csm075oz", 228.86), ("csm1oz", 305.15), ("csm15oz", 457.73), ("csm2oz", 610.30), ("wr18oz", 610.30),
     ("wr24oz", 813.74), ("m1208", 635.73), ("m1708", 805.26), ("m1808", 839.17), ("m2408", 1042.60)],
)  # fmt: skip
def test_us_weights_are_those_of_their_ounces(identity: str, grams: float) -> None:
    material = BOOK.reinforcement(identity)
    assert material is not None
    assert material.weight == pytest.approx(grams, abs=0.005)


def test_foam_carries_nothing() -> None:
    foam = BOOK.solid("pu_foam32")
    assert foam is not None
    assert not foam.structural
    assert foam.modulus is None


@pytest.mark.parametrize("family", ["PVC foam", "Linear PVC", "SAN", "PET", "Closed-cell PU", "PP honeycomb"])
def test_lighter_cores_of_a_family_are_weaker(family: str) -> None:
    cores = [core for core in shipped().cores if core.name.startswith(family)]
    assert len(cores) >= 2
    for light, heavy in pairwise(sorted(cores, key=lambda core: core.density.value)):
        assert light.modulus.value < heavy.modulus.value
        assert light.shear_modulus.value < heavy.shear_modulus.value
        assert light.shear_strength.value < heavy.shear_strength.value
        assert light.compressive_strength.value < heavy.compressive_strength.value


def test_every_core_is_of_a_known_family_and_yields_only_where_its_foam_does() -> None:
    ductile = {core.id for core in shipped().cores if core.ductile}
    assert ductile == {core.id for core in shipped().cores if core.id.startswith(("san", "pvc_linear"))}


def test_own_material_stands_before_the_shipped_one() -> None:
    mat = BOOK.reinforcement("csm450")
    assert mat is not None
    own = replace(mat, glass=0.35)
    book = Book.of(Materials(reinforcements=(own,)), shipped())
    assert book.reinforcement("csm450") is own
    assert book.find("csm450") is own
    assert book.find("wr800") is BOOK.find("wr800")


def test_lookup_by_kind_knows_only_that_kind() -> None:
    assert BOOK.core("csm450") is None
    assert BOOK.gel_coat("gelcoat") is BOOK.find("gelcoat")
    assert BOOK.solid("al5083") is BOOK.find("al5083")
    assert BOOK.adhesive("mma") is BOOK.find("mma")
    assert BOOK.find("oak") is None


def test_ids_references_and_estimates_are_checked() -> None:
    mat = BOOK.reinforcement("csm450")
    assert mat is not None
    stray = replace(mat, id="stray", resin="honey", fibre="straw", source=" ")
    wrong = replace(mat, id="stray", name="Wrong", estimate=Estimate.MICROMECHANICS)
    found = [
        str(problem) for problem in material_problems(Materials(reinforcements=(stray, wrong)), shipped())
    ]
    assert len(found) == 5
    text = "\n".join(found)
    assert "there is no resin 'honey'" in text
    assert "there is no fibre 'straw'" in text
    assert "has no source" in text
    assert "its id is already that of" in text
    assert "does not know a mat ply" in text


def test_project_materials_may_name_shipped_resins() -> None:
    own = Reinforcement(
        id="r1", name="Own", kind=PlyKind.UNIDIRECTIONAL, fibre="e_glass", resin="epoxy", weight=250.0,
        glass=0.6, estimate=Estimate.MICROMECHANICS, known=Known.STATED,
    )  # fmt: skip
    assert material_problems(Materials(reinforcements=(own,)), shipped()) == []
    assert len(material_problems(Materials(reinforcements=(own,)))) == 2
