"""A book that is written is the book that is read: every shipped row, and names no one would choose."""

import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.materials import records, shipped
from stringerlab.materials.book import AnyMaterial, every
from stringerlab.materials.merging import gathered
from stringerlab.materials.reading import read_book
from stringerlab.materials.records import (
    Adhesive,
    Core,
    CouponSet,
    Estimate,
    Fibre,
    GelCoat,
    Layer,
    Materials,
    PlyKind,
    Property,
    Reinforcement,
    Resin,
    Solid,
    Sourced,
)
from stringerlab.materials.writing import book_text
from stringerlab.workings import Known

TEXT = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30).filter(str.strip)
KNOWN = st.sampled_from(Known)


def sourced(low: float, high: float) -> st.SearchStrategy[Sourced]:
    return st.builds(Sourced, value=st.floats(low, high), source=TEXT, known=KNOWN)


DENSITY, MODULUS, STRENGTH = sourced(5, 20_000), sourced(1e-6, 1e6), sourced(1e-9, 1e4)
POISSON, STRAIN = sourced(-0.5, 0.9), sourced(1e-12, 0.1)
MAYBE = {"modulus": st.none() | MODULUS, "strength": st.none() | STRENGTH, "strain": st.none() | STRAIN}
TESTED = st.builds(
    records.Tested,
    modulus_1=MAYBE["modulus"],
    tension_2=MAYBE["strength"],
    poisson=st.none() | POISSON,
    flexural=MAYBE["strength"],
)
COUPONS = st.lists(
    st.builds(
        CouponSet,
        property=st.sampled_from([Property.MODULUS_2, Property.SHEAR, Property.INTERLAMINAR]),
        mean=st.floats(100, 9000),
        deviation=st.floats(0, 1),
        count=st.integers(2, 10_000),
        glass=st.floats(0.1, 0.8),
        thickness=st.none() | st.floats(0.01, 100),
        standard=st.just("") | TEXT,
        source=TEXT,
    ),
    max_size=3,
).map(tuple)
RESIN = st.builds(
    Resin, id=st.just("r"), name=TEXT, density=DENSITY, modulus=MODULUS, poisson=POISSON,
    shear_strain=MAYBE["strain"],
)  # fmt: skip
FIBRE = st.builds(
    Fibre, id=st.just("f"), name=TEXT, density=DENSITY, modulus=MODULUS, transverse_modulus=MODULUS,
    shear_modulus=MODULUS, poisson=POISSON, tension_strain=MAYBE["strain"],
)  # fmt: skip
FABRIC = st.builds(
    Reinforcement, id=st.just("w"), name=TEXT, kind=st.just(PlyKind.BIAXIAL), fibre=st.just("f"),
    resin=st.just("r"), weight=st.floats(20, 5000), glass=st.floats(0.1, 0.8),
    estimate=st.just(Estimate.PUBLISHED_FIT), tested=TESTED, coupons=COUPONS, source=TEXT, known=KNOWN,
)  # fmt: skip
CORE = st.builds(
    Core, id=st.just("c"), name=TEXT, density=DENSITY, modulus=MODULUS, shear_modulus=MODULUS,
    shear_strength=STRENGTH, compressive_strength=STRENGTH, ductile=st.booleans(),
)  # fmt: skip
GEL = st.builds(GelCoat, id=TEXT.map(lambda text: f"g{text}"), name=TEXT, density=DENSITY)
SOLID = st.builds(
    Solid, id=st.just("s"), name=TEXT, density=DENSITY, modulus=MODULUS, strength=MAYBE["strength"],
    structural=st.booleans(),
)  # fmt: skip
GLUE = st.builds(
    Adhesive, id=st.just("a"), name=TEXT, density=DENSITY, modulus=MODULUS, shear_strength=STRENGTH
)
BOOK = st.tuples(RESIN, FIBRE, FABRIC, CORE, GEL, SOLID, GLUE).map(gathered)


def stated(value: float) -> Sourced:
    return Sourced(value=value, source="maker's sheet", known=Known.QUOTED)


def triaxial() -> Reinforcement:
    zero = Layer(kind=PlyKind.UNIDIRECTIONAL, weight=400, glass=0.5, estimate=Estimate.MICROMECHANICS)
    plus = replace(zero, weight=200.5, angle=45.0)
    return Reinforcement(
        id="tx",
        name="Triaxial 801",
        kind=PlyKind.TRIAXIAL,
        fibre="e_glass",
        resin="polyester",
        weight=801.0,
        glass=0.5,
        estimate=Estimate.MICROMECHANICS,
        layers=(zero, plus, replace(plus, angle=-45.0)),
        tested=records.Tested(modulus_1=stated(18_500.5)),
        source="roll label",
        known=Known.STATED,
    )


@pytest.mark.parametrize("material", every(shipped()), ids=lambda one: one.id)
def test_every_shipped_row_comes_back_as_it_was(material: AnyMaterial) -> None:
    alone = gathered([material])
    assert read_book(book_text(alone), "book.toml", shipped()) == alone


def test_the_whole_shipped_book_comes_back_in_its_order() -> None:
    assert read_book(book_text(shipped()), "book.toml") == shipped()


@given(book=BOOK)
@settings(max_examples=30, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_any_book_comes_back_whatever_its_names_and_numbers(book: Materials) -> None:
    text = book_text(book)
    assert read_book(text, "book.toml") == book
    assert read_book(text.encode().decode(), "book.toml") == book


@pytest.mark.parametrize(
    "name",
    [
        'with "quotes" and a \\ backslash',
        "'''single''' and \"\"\"triple\"\"\"",
        "two\nlines\r\nand\ta tab",
        "Стеклоткань 600 г/м²",
        "ガラスマット",
        "نسيج زجاجي",
        "[[resin]] # not a table",
        "nul \x00 and delete \x7f",
    ],
)
def test_odd_names_come_back(name: str) -> None:
    gel = GelCoat(id=name, name=name, density=Sourced(value=1300, source=name, known=Known.READ))
    assert read_book(book_text(Materials(gel_coats=(gel,))), "book.toml").gel_coats == (gel,)


def test_layers_and_tested_values_come_back() -> None:
    book = Materials(reinforcements=(triaxial(),))
    assert read_book(book_text(book), "book.toml", shipped()) == book


def test_every_value_has_unit_source_and_mark() -> None:
    core = next(one for one in shipped().cores if one.id == "pvc80")
    lines = book_text(Materials(cores=(core,))).splitlines()
    [density] = [line for line in lines if line.startswith("density")]
    assert density == 'density = {value = 80, unit = "kg/m³", source = "nominal", known = "stated"}'
    text = book_text(Materials(reinforcements=(triaxial(),)))
    assert 'weight = {value = 200.5, unit = "g/m²"}' in text
    assert 'angle = {value = -45, unit = "deg"}' in text


def test_what_a_shop_states_in_its_own_unit_is_written_so() -> None:
    fabric = next(one for one in shipped().reinforcements if one.id == "m1808")
    text = book_text(Materials(reinforcements=(fabric,)))
    assert 'weight = {value = 24.75, unit = "oz/yd²"}' in text  # 18 oz/yd² and ¾ oz/ft², 9 ft² to the yd²
    assert 'weight = {value = 18, unit = "oz/yd²"}' in text
    assert 'weight = {value = 0.75, unit = "oz/ft²"}' in text


def test_the_same_set_is_the_same_bytes() -> None:
    code = (
        "import sys; from stringerlab.materials import shipped;"
        "from stringerlab.materials.writing import book_text;"
        "sys.stdout.buffer.write(book_text(shipped()).encode())"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert done.stdout == book_text(shipped()).encode()


def test_half_a_character_is_refused_with_its_material() -> None:
    gel = GelCoat(id="g", name="half \ud800", density=stated(1300))
    with pytest.raises(StringerlabError) as refused:
        book_text(Materials(gel_coats=(gel,)))
    assert "half a character" in str(refused.value)


def test_nothing_is_loaded_for_writing_before_something_is_written() -> None:
    code = "import sys, stringerlab.materials.writing; print('tomlkit' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
