"""The shipped book, row by row, and what is said of a bad one."""

from dataclasses import fields, replace
from itertools import pairwise
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, Ply, Role, resolve
from stringerlab.materials import Book, material_problems, read_materials, shipped
from stringerlab.materials.book import AnyMaterial, every
from stringerlab.materials.records import (
    Adhesive,
    Core,
    Estimate,
    Fibre,
    GelCoat,
    Materials,
    PlyKind,
    Reinforcement,
    Resin,
    Solid,
    Sourced,
)
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


@pytest.mark.parametrize("record", ROWS, ids=lambda record: record.id)
def test_every_row_makes_what_it_is_for(record: AnyMaterial) -> None:
    match record:
        case Reinforcement():
            stack = resolve(Laminate(id="l1", name="one", plies=(Ply(material=record.id),)), BOOK)
            ply = stack.plies[0]
            assert ply.dry_weight == record.weight
            assert ply.mass == pytest.approx(record.weight / record.glass)
            assert ply.E1 >= ply.E2
            assert ply.E2 > ply.G12
            assert ply.G12 > 0
            assert None not in (ply.tension_1, ply.compression_1, ply.tension_2, ply.compression_2, ply.shear)
            assert set(dict(ply.marks)) >= {"thickness", "E1", "E2", "G12", "nu12", "tension_1", "shear"}
        case Core() | GelCoat():
            core = Ply(material=record.id, thickness=8.0)
            around = Ply(material="csm300")
            plies = (around, core, around) if isinstance(record, Core) else (core, around)
            stack = resolve(Laminate(id="l1", name="one", plies=plies), BOOK)
            placed = next(ply for ply in stack.plies if ply.role is not Role.REINFORCED)
            assert placed.mass == pytest.approx(record.density.value * 8.0)
        case Resin():
            base = BOOK.reinforcement("ud300")
            assert base is not None
            own = Materials(reinforcements=(replace(base, id="own", resin=record.id),))
            book = Book.of(own, shipped())
            ply = resolve(Laminate(id="l1", name="one", plies=(Ply(material="own"),)), book).plies[0]
            assert record.modulus.value < ply.E2
        case Fibre():
            ply = resolve(Laminate(id="l1", name="one", plies=(Ply(material="ud300"),)), BOOK).plies[0]
            assert record.modulus.value * 0.25 < ply.E1 < record.modulus.value
        case Solid():
            assert not record.structural or record.modulus is not None
        case Adhesive():
            assert record.shear_strength.value < record.modulus.value


def test_book_holds_what_the_trade_asks_for() -> None:
    expected = (
        "csm300 csm450 csm600 wr500 wr600 wr800 bx600 bx800 db400 db600 db800 ud300 ud500 polyester "
        "vinylester epoxy e_glass pvc60 pvc80 pvc100 pvc130 gelcoat pu_foam32 al5083 frp_block putty mma"
    )
    assert {record.id for record in ROWS} == set(expected.split())


def test_foam_carries_nothing() -> None:
    foam = BOOK.solid("pu_foam32")
    assert foam is not None
    assert not foam.structural
    assert foam.modulus is None


def test_lighter_cores_are_weaker() -> None:
    cores = sorted(shipped().cores, key=lambda core: core.density.value)
    for light, heavy in pairwise(cores):
        assert light.modulus.value < heavy.modulus.value
        assert light.shear_modulus.value < heavy.shear_modulus.value
        assert light.shear_strength.value < heavy.shear_strength.value
        assert light.compressive_strength.value < heavy.compressive_strength.value


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


def written(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_bad_book_tells_every_problem_with_file_row_and_field(tmp_path: Path) -> None:
    first = written(
        tmp_path,
        "cores.toml",
        """
[[core]]
id = "x80"
name = "Foam"
density = { value = 80, source = "", known = "memory M" }
modulus = { value = -90, source = "a sheet", known = "memory M" }
shear_modulus = { value = 27, known = "memory M" }
shear_strength = 1.1
compressive_strength = { value = "high", source = "a sheet", known = "heard" }
ductil = true

[[cores]]
id = "y"
""",
    )
    second = written(tmp_path, "other.toml", "[[resin]\n")
    third = written(
        tmp_path, "mats.toml", '[[reinforcement]]\nid = "m"\nname = "M"\nkind = "felt"\nfibre = "e_glass"\n'
    )
    with pytest.raises(StringerlabError) as caught:
        read_materials([first, second, third, tmp_path / "gone.toml"])
    found = {problem.where: problem for problem in caught.value.problems}
    assert found["cores.toml, core 1 (x80), density, source"].what == "is no text, or empty."
    assert found["cores.toml, core 1 (x80), shear modulus, source"].what == "is missing."
    assert "no table of value, source and known" in found["cores.toml, core 1 (x80), shear strength"].what
    assert "no number" in found["cores.toml, core 1 (x80), compressive strength, value"].what
    assert "'heard' is none" in found["cores.toml, core 1 (x80), compressive strength, known"].what
    assert found["cores.toml, core 1 (x80)"].remedy == "Did you mean 'ductile'?"
    assert found["cores.toml"].what == "'cores' is no table known here."
    assert found["other.toml"].what.startswith("is no TOML")
    assert "'felt' is none" in found["mats.toml, reinforcement 1 (m), kind"].what
    for field in ("resin", "weight", "glass", "source", "known"):
        assert found[f"mats.toml, reinforcement 1 (m), {field}"].what == "is missing."
    assert found["gone.toml"].what.startswith("cannot be read")


def test_bad_book_tells_numbers_out_of_range(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        "gel.toml",
        '[[gel_coat]]\nid = "g"\nname = "G"\ndensity = { value = 0.5, source = "s", known = "read" }\n'
        '[[gel_coat]]\nid = "h"\nname = "H"\ndensity = { value = nan, source = "s", known = "read" }\n',
    )
    with pytest.raises(StringerlabError) as caught:
        read_materials([path])
    assert [(problem.where, problem.what) for problem in caught.value.problems] == [
        ("gel.toml, gel coat 1 (g), density", "0.5 kg/m³ is outside 5 to 20000 kg/m³."),
        ("gel.toml, gel coat 2 (h), density", "nan is no finite number."),
    ]


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
