"""Books on disk: what comes back, and every book that is refused, with everything wrong in it at once."""

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import Lock
from stringerlab.files.books import LARGEST_BOOK, load_book, save_book
from stringerlab.materials import shipped
from stringerlab.materials.merging import gathered
from stringerlab.materials.records import GelCoat, Materials, Sourced
from stringerlab.workings import Known

GOOD = """
[[core]]
id = "foam"
name = "Yard foam"
density = { value = 80, unit = "kg/m³", source = "maker's sheet", known = "quoted" }
modulus = { value = 90, unit = "MPa", source = "maker's sheet", known = "quoted" }
shear_modulus = { value = 27, unit = "MPa", source = "maker's sheet", known = "quoted" }
shear_strength = { value = 1.15, unit = "MPa", source = "maker's sheet", known = "quoted" }
compressive_strength = { value = 1.4, unit = "MPa", source = "maker's sheet", known = "quoted" }
"""
MAT = """
[[reinforcement]]
id = "yard"
name = "Yard mat"
kind = "mat"
fibre = "e_glass"
resin = "polyester"
weight = { value = 1.5, unit = "oz/ft²" }
glass = 0.3
source = "roll label"
known = "stated"
"""
Refused = Callable[[str | bytes], tuple[Problem, ...]]


@pytest.fixture
def refused(tmp_path: Path) -> Refused:
    """Write a book, read it, and return why that is refused."""

    def read(given: str | bytes) -> tuple[Problem, ...]:
        path = tmp_path / "yard.toml"
        path.write_bytes(given.encode() if isinstance(given, str) else given)
        with pytest.raises(StringerlabError) as raised:
            load_book(path)
        assert all(
            problem.where.startswith("yard.toml")
            or str(path) in problem.where
            or problem.where.startswith("reinforcement")
            for problem in raised.value.problems
        )
        assert all("\n" not in str(problem) for problem in raised.value.problems)
        return raised.value.problems

    return read


def only(problems: tuple[Problem, ...]) -> Problem:
    [problem] = problems
    assert problem.remedy
    return problem


# -- round trip ----------------------------------------------------------------------------------


def test_the_shipped_book_is_saved_and_comes_back(tmp_path: Path) -> None:
    save_book(shipped(), tmp_path / "all.toml")
    assert load_book(tmp_path / "all.toml") == shipped()
    first = (tmp_path / "all.toml").read_bytes()
    save_book(shipped(), tmp_path / "all.toml")
    assert (tmp_path / "all.toml").read_bytes() == first
    assert [path.name for path in tmp_path.iterdir()] == ["all.toml"]


def test_values_may_be_in_any_unit_of_their_kind(tmp_path: Path) -> None:
    path = tmp_path / "yard.toml"
    path.write_text(MAT + GOOD.replace('80, unit = "kg/m³"', '5, unit = "lb/ft³"'), encoding="utf-8")
    book = load_book(path)
    assert book.reinforcements[0].weight == pytest.approx(457.73, abs=0.01)
    assert book.cores[0].density.value == pytest.approx(80.092, abs=1e-3)
    save_book(book, tmp_path / "again.toml")
    assert load_book(tmp_path / "again.toml") == book


def test_a_byte_order_mark_and_crlf_are_read(tmp_path: Path) -> None:
    path = tmp_path / "yard.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert load_book(path).cores[0].name == "Yard foam"


# -- what is wrong in a book ---------------------------------------------------------------------


def test_a_wrong_unit_says_what_is_wanted(refused: Refused) -> None:
    problem = only(refused(GOOD.replace('80, unit = "kg/m³"', '80, unit = "MPa"')))
    assert problem.where == "yard.toml, core 1 (foam), density, unit"
    assert "'MPa' is a unit of stress" in problem.what
    assert "kg/m³" in problem.remedy


def test_an_unknown_unit_is_no_unit(refused: Refused) -> None:
    problem = only(refused(GOOD.replace('27, unit = "MPa"', '27, unit = "MPaa"')))
    assert problem.where == "yard.toml, core 1 (foam), shear modulus, unit"
    assert "no unit known" in problem.what


def test_a_value_without_a_unit(refused: Refused) -> None:
    problem = only(refused(GOOD.replace('80, unit = "kg/m³"', "80")))
    assert problem.where == "yard.toml, core 1 (foam), density, unit"
    assert problem.what == "is missing."


def test_a_value_without_a_source(refused: Refused) -> None:
    problem = only(refused(GOOD.replace('"MPa", source = "maker\'s sheet", known', '"MPa", known', 1)))
    assert (problem.where, problem.what) == ("yard.toml, core 1 (foam), modulus, source", "is missing.")


def test_an_empty_source_is_none(refused: Refused) -> None:
    problem = only(refused(GOOD.replace("maker's sheet", "  ", 1)))
    assert problem.where == "yard.toml, core 1 (foam), density, source"


def test_everything_wrong_is_said_at_once(refused: Refused) -> None:
    text = GOOD.replace('"kg/m³"', '"MPa"').replace("1.15", '"1.15"').replace("ductile", "x")
    text = text.replace('id = "foam"', 'id = "foam"\ncolour = "grey"')
    where = [problem.where for problem in refused(text + MAT.replace("glass = 0.3", "glass = 30"))]
    assert where == [
        "yard.toml, core 1 (foam)",
        "yard.toml, core 1 (foam), density, unit",
        "yard.toml, core 1 (foam), shear strength, value",
        "yard.toml, reinforcement 1 (yard), glass",
    ]


def test_a_resin_that_is_nowhere(refused: Refused) -> None:
    problem = only(refused(MAT.replace('"polyester"', '"polyster"')))
    assert problem.what == "there is no resin 'polyster'."
    assert problem.where.endswith("(yard), resin")


# -- what is wrong with a file -------------------------------------------------------------------


def test_missing_file(tmp_path: Path) -> None:
    with pytest.raises(StringerlabError, match="there is no such file"):
        load_book(tmp_path / "none.toml")


def test_a_folder_is_no_book(tmp_path: Path) -> None:
    with pytest.raises(StringerlabError, match="it is a folder"):
        load_book(tmp_path)


def test_what_is_no_ordinary_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    with pytest.raises(StringerlabError, match="Give the name of a book file"):
        load_book(tmp_path / "pipe.toml")


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "huge.toml"
    with path.open("wb") as file:
        file.truncate(LARGEST_BOOK + 1)
    with pytest.raises(StringerlabError) as refused:
        load_book(path)
    assert "above 5 MB no book is read" in str(refused.value)


def test_text_that_is_not_utf_8_says_where(refused: Refused) -> None:
    problem = only(refused(GOOD.encode().replace("m³".encode(), b"m\xb3", 1)))
    assert problem.what == "The file is not UTF-8 text: line 5, column 37 does not read."
    assert problem.remedy == "Save it as UTF-8."


@pytest.mark.parametrize("data", [b"", b"  \n\n", b"\xef\xbb\xbf"])
def test_an_empty_file(refused: Refused, data: bytes) -> None:
    assert only(refused(data)).what == "The file is empty."


def test_a_file_that_breaks_off(refused: Refused) -> None:
    problem = only(refused(GOOD[: GOOD.index("maker's") + 3]))
    assert problem.what.startswith("is no TOML")
    assert "at end of document" in problem.what


def test_a_project_is_no_book(refused: Refused) -> None:
    assert only(refused('{"format": "stringerlab project"}')).what.startswith("is no TOML")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a = " + "[" * 5000, "nest too deep"),
        ("a = 1" + "0" * 5000, "thousands of digits"),
        (GOOD.replace("value = 80", "value = 1" + "0" * 400), "no finite number"),
        (GOOD.replace("value = 80", "value = nan"), "no finite number"),
    ],
)
def test_numbers_and_brackets_no_book_has(refused: Refused, text: str, said: str) -> None:
    assert any(said in problem.what for problem in refused(text))


# -- writing -------------------------------------------------------------------------------------

GEL = GelCoat(id="g", name="Gel", density=Sourced(value=1300, source="sheet", known=Known.QUOTED))


def test_what_could_not_be_read_back_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "yard.toml"
    save_book(gathered([GEL]), path)
    before = path.read_bytes()
    bad = [
        replace(GEL, density=replace(GEL.density, source=" ")),
        replace(GEL, id="h", density=replace(GEL.density, value=float("nan"))),
    ]
    with pytest.raises(StringerlabError) as refused:
        save_book(gathered(bad), path)
    assert len(refused.value.problems) == 2
    assert path.read_bytes() == before


def test_a_former_book_stays_when_the_disk_is_full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "yard.toml"
    save_book(gathered([GEL]), path)
    before = path.read_bytes()

    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("stringerlab.files.store.os.write", full)
    with pytest.raises(StringerlabError):
        save_book(Materials(), path)
    monkeypatch.undo()
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["yard.toml"]


def test_a_book_another_writes_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "yard.toml"
    with Lock(path), pytest.raises(StringerlabError, match="holds the project"):
        save_book(gathered([GEL]), path)
    assert not path.exists()


def test_a_book_anew_never_replaces_one_that_is_there(tmp_path: Path) -> None:
    path = tmp_path / "yard.toml"
    path.write_text("mine")
    with pytest.raises(StringerlabError, match="There is a file already"):
        save_book(gathered([GEL]), path, anew=True)
    assert path.read_text() == "mine"
