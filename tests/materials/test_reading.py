"""Reading a book: units in every value, and what is said of a bad one."""

from pathlib import Path

import pytest

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials import read_materials, shipped
from stringerlab.materials.records import Materials, PlyKind


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
density = { value = 80, unit = "kg/m³", source = "", known = "memory M" }
modulus = { value = -90, unit = "MPa", source = "a sheet", known = "memory M" }
shear_modulus = { value = 27, unit = "MPa", known = "memory M" }
shear_strength = 1.1
compressive_strength = { value = "high", unit = "MPa", source = "a sheet", known = "heard" }
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
    assert (
        "no table of value, unit, source and known" in found["cores.toml, core 1 (x80), shear strength"].what
    )
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
        "".join(
            f'[[gel_coat]]\nid = "{name}"\nname = "{name}"\n'
            f'density = {{ value = {value}, unit = "kg/m³", source = "s", known = "read" }}\n'
            for name, value in (("g", "0.5"), ("h", "nan"))
        ),
    )
    with pytest.raises(StringerlabError) as caught:
        read_materials([path])
    assert [(problem.where, problem.what) for problem in caught.value.problems] == [
        ("gel.toml, gel coat 1 (g), density", "0.5 kg/m³ is outside 5 to 20000 kg/m³."),
        ("gel.toml, gel coat 2 (h), density", "nan is no finite number."),
    ]


RESIN = """
[[resin]]
id = "polyester"
name = "Polyester"
density = { value = 1200, unit = "kg/m³", source = "a sheet", known = "read" }
modulus = { value = 3.4, unit = "GPa", source = "a sheet", known = "read" }
poisson = { value = 0.36, source = "a sheet", known = "read" }
"""
MAT = """
[[reinforcement]]
id = "m1"
name = "Mat"
kind = "mat"
fibre = "e_glass"
resin = "polyester"
weight = { value = 1.5, unit = "oz/ft²" }
glass = 0.3
source = "a sheet"
known = "read"
"""


def read(folder: Path, text: str) -> Materials:
    return read_materials([written(folder, "own.toml", text)], shipped())


def refused(folder: Path, text: str) -> dict[str, Problem]:
    with pytest.raises(StringerlabError) as caught:
        read(folder, text)
    return {problem.where: problem for problem in caught.value.problems}


def test_values_are_read_in_their_units(tmp_path: Path) -> None:
    book = read(tmp_path, RESIN + MAT)
    (resin,) = book.resins
    (mat,) = book.reinforcements
    assert resin.modulus.value == 3400.0
    assert resin.density.value == 1200.0
    assert mat.weight == pytest.approx(457.7276, abs=5e-5)
    assert mat.glass == 0.3


@pytest.mark.parametrize(
    ("written_as", "grams"),
    [("g/m²", 1.0), ("g/m2", 1.0), ("gsm", 1.0), ("kg/m²", 1000.0), ("oz/yd2", 33.90575), ("osy", 33.90575),
     ("oz per sq ft", 305.1517)],
)  # fmt: skip
def test_usual_spellings_of_a_unit_are_read(tmp_path: Path, written_as: str, grams: float) -> None:
    value = 600 / grams
    text = MAT.replace('{ value = 1.5, unit = "oz/ft²" }', f'{{ value = {value!r}, unit = "{written_as}" }}')
    assert read(tmp_path, text).reinforcements[0].weight == pytest.approx(600, rel=1e-6)


@pytest.mark.parametrize(
    ("entry", "place", "what", "remedy"),
    [
        ('weight = 450', "weight", "450 has no unit.", 'unit = "g/m²"'),
        ('weight = { value = 450 }', "weight, unit", "is missing.", "oz/yd²"),
        ('weight = { value = 450, unit = "" }', "weight, unit", "is missing.", "g/m²"),
        ('weight = { value = 450, unit = "kg/m³" }', "weight, unit", "'kg/m³' is a unit of density", "oz"),
        ('weight = { value = 450, unit = "stone" }', "weight, unit", "'stone' is no unit known here", "g/m²"),
        ('weight = { value = 1.5, unit = "oz" }', "weight, unit", "'oz' is no unit", "oz/ft² for mat"),
        ('weight = { unit = "g/m²" }', "weight, value", "is missing.", "Give it."),
        ('weight = { value = "450", unit = "g/m²" }', "weight, value", "'450' is no number.", "number"),
        ('weight = { value = 450, unit = "g/m²", mark = 1 }', "weight", "'mark' is no key", "value, unit"),
    ],
)  # fmt: skip
def test_a_number_without_its_right_unit_is_refused(
    tmp_path: Path, entry: str, place: str, what: str, remedy: str
) -> None:
    text = MAT.replace('weight = { value = 1.5, unit = "oz/ft²" }', entry)
    found = refused(tmp_path, text)
    problem = found[f"own.toml, reinforcement 1 (m1), {place}"]
    assert what in problem.what
    assert remedy in problem.remedy
    assert len(found) == 1


def test_every_fault_of_a_value_is_told_at_once(tmp_path: Path) -> None:
    text = RESIN.replace('value = 3.4, unit = "GPa", source = "a sheet", known = "read"', "value = 3.4")
    text = text.replace('unit = "kg/m³"', 'unit = "kN/m²"').replace(
        "poisson = {", 'poisson = { unit = "MPa",'
    )
    found = refused(tmp_path, text)
    start = "own.toml, resin 1 (polyester)"
    assert found[f"{start}, modulus, unit"].what == "is missing."
    assert 'unit = "MPa"' in found[f"{start}, modulus, unit"].remedy
    assert found[f"{start}, modulus, known"].what == "is missing."
    assert found[f"{start}, modulus, source"].what == "is missing."
    assert "'kN/m²' is a unit of pressure; a density is wanted." in found[f"{start}, density, unit"].what
    assert "'MPa' is a unit of stress; a ratio is wanted." in found[f"{start}, poisson, unit"].what
    assert len(found) == 5


@pytest.mark.parametrize(
    ("entry", "field"),
    [
        ('glass = "35 vol%"', "glass"),
        ('glass = "35 % by volume"', "glass"),
        ('glass = "0,35 v/v"', "glass"),
        ('glass = { value = 35, unit = "vol%" }', "glass"),
        ("glass_by_volume = 0.35", "glass by volume"),
        ("glass_volume = 35", "glass volume"),
        ("Vf = 0.35", "Vf"),
    ],
)
def test_glass_by_volume_is_refused_with_the_mass_it_would_be(tmp_path: Path, entry: str, field: str) -> None:
    found = refused(tmp_path, RESIN + MAT.replace("glass = 0.3", entry))
    problem = found[f"own.toml, reinforcement 1 (m1), {field}"]
    assert "by volume; it is by mass here" in problem.what
    # 0.35·2560/(0.35·2560 + 0.65·1200)
    assert "glass = 0.535" in problem.remedy
    assert "E-glass in Polyester" in problem.remedy
    assert len(found) == 1


def test_the_mass_told_follows_the_rows_own_fibre_and_resin(tmp_path: Path) -> None:
    text = MAT.replace("glass = 0.3", 'glass = "60 vol%"').replace('"e_glass"', '"carbon"')
    (problem,) = refused(tmp_path, text.replace('"polyester"', '"epoxy"')).values()
    # 0.6·1790/(0.6·1790 + 0.4·1150)
    assert "glass = 0.7 " in problem.remedy
    (problem,) = refused(tmp_path, text.replace('"polyester"', '"honey"')).values()
    assert problem.remedy == "Write glass = the share by mass."


def test_a_glass_content_in_words_is_no_number(tmp_path: Path) -> None:
    (problem,) = refused(tmp_path, MAT.replace("glass = 0.3", 'glass = "30 %"')).values()
    assert problem.what == "'30 %' is no number."


LAYERED = (
    MAT.replace('"mat"', '"mat-stitched combination"')
    .replace('value = 1.5, unit = "oz/ft²"', 'value = 839.17, unit = "g/m²"')
    .replace("glass = 0.3", "glass = 0.42")
    + """
[[reinforcement.layers]]
kind = "mat"
weight = { value = 0.75, unit = "oz/ft²" }
glass = 0.3

[[reinforcement.layers]]
kind = "±45 stitched"
weight = { value = 18, unit = "oz/yd²" }
glass = 0.5
angle = { value = 90, unit = "deg" }
estimate = "rule of mixtures and Halpin–Tsai"
"""
)


def test_layers_and_coupons_are_read_as_rows_of_their_own(tmp_path: Path) -> None:
    coupons = (
        MAT
        + """
[[reinforcement.coupons]]
property = "tension_1"
mean = { value = 15, unit = "ksi" }
deviation = { value = 6, unit = "MPa" }
count = 5
glass = 0.31
thickness = { value = 0.125, unit = "in" }
standard = "ISO 527-4"
source = "own laboratory"
"""
    )
    (layered,) = read(tmp_path, LAYERED).reinforcements
    assert [layer.kind for layer in layered.layers] == [PlyKind.MAT, PlyKind.DOUBLE_BIAS]
    assert sum(layer.weight for layer in layered.layers) == pytest.approx(839.17, abs=0.005)
    assert layered.layers[1].angle == 90.0
    (tested,) = read(tmp_path, coupons).reinforcements
    (one,) = tested.coupons
    assert one.mean == pytest.approx(103.4214, abs=5e-5)
    assert (one.count, one.thickness) == (5, pytest.approx(3.175))
    found = refused(
        tmp_path, coupons.replace("count = 5", "count = 5.5").replace("glass = 0.31", "glass_vol = 18")
    )
    assert found["own.toml, reinforcement 1 (m1), coupon 1, count"].what == "5.5 is no whole number."
    # 0.18·2560/(0.18·2560 + 0.82·1200)
    assert "glass = 0.319" in found["own.toml, reinforcement 1 (m1), coupon 1, glass vol"].remedy


def test_faults_of_a_layer_are_told_with_its_number(tmp_path: Path) -> None:
    wrong = LAYERED.replace('value = 18, unit = "oz/yd²"', "value = 18").replace("glass = 0.3\n", "")
    found = refused(tmp_path, wrong.replace('unit = "deg"', 'unit = "mm"'))
    start = "own.toml, reinforcement 1 (m1)"
    assert found[f"{start}, layer 1, glass"].what == "is missing."
    assert found[f"{start}, layer 2, weight, unit"].what == "is missing."
    assert "'mm' is a unit of length" in found[f"{start}, layer 2, angle, unit"].what
    table = MAT + 'layers = "two"\n'
    assert "[[reinforcement.layers]]" in refused(tmp_path, table)[f"{start}, layers"].remedy


def test_an_own_book_reaches_the_shipped_fibres_only_where_it_is_told_to(tmp_path: Path) -> None:
    path = written(tmp_path, "own.toml", RESIN + MAT)
    assert read_materials([path], shipped()).reinforcements[0].fibre == "e_glass"
    with pytest.raises(StringerlabError, match="there is no fibre 'e_glass'"):
        read_materials([path])
