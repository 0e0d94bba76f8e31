"""``book`` from the command line: checked, written, merged with conflicts shown, held against another."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import Lock, load, save
from stringerlab.files.books import load_book, save_book
from stringerlab.materials import shipped
from stringerlab.materials.merging import gathered
from stringerlab.materials.records import Sourced
from stringerlab.project import edits
from stringerlab.workings import Known

MAT = """
[[reinforcement]]
id = "csm450"
name = "Chopped mat 450 g/m²"
kind = "mat"
fibre = "e_glass"
resin = "polyester"
weight = { value = 1.5, unit = "oz/ft²" }
glass = 0.32
source = "roll label"
known = "stated"
"""
Out = pytest.CaptureFixture[str]


@pytest.fixture
def boat(tmp_path: Path) -> Path:
    path = tmp_path / "boat.json"
    path.write_bytes((folder("sample_projects") / "eelgrass_workboat.json").read_bytes())
    return path


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "yard.toml"
    path.write_text(MAT, encoding="utf-8")
    return path


@pytest.fixture
def other(tmp_path: Path) -> Path:
    """A book with a shipped foam of another density, and a foam of its own."""
    foam = next(one for one in shipped().cores if one.id == "pvc80")
    denser = Sourced(value=85, source="weighed", known=Known.TESTED)
    path = tmp_path / "other.toml"
    save_book(gathered([replace(foam, density=denser), replace(foam, id="own", name="Own")]), path)
    return path


def test_a_good_book_is_in_order(book: Path, capsys: Out) -> None:
    assert run(["book", "check", str(book)]) == 0
    assert capsys.readouterr().out == "yard.toml is in order: 1 reinforcement.\n"
    assert run(["book", "check", str(book), "--json"]) == 0
    page = json.loads(capsys.readouterr().out)
    assert page["materials"] == {"reinforcement": 1}
    assert page["questions"] == []


def test_a_mat_in_oz_per_square_yard_is_asked_about(tmp_path: Path, boat: Path, capsys: Out) -> None:
    book = tmp_path / "light.toml"
    book.write_text(MAT.replace("oz/ft²", "oz/yd²").replace("csm450", "light"), encoding="utf-8")
    assert run(["book", "check", str(book)]) == 0
    assert "oz/ft² meant?" in capsys.readouterr().out.replace("\n", " ")
    assert run(["book", "import", str(boat), str(book)]) == 0
    assert "oz/ft² meant?" in capsys.readouterr().err
    [mat] = load(boat).materials.reinforcements
    assert mat.weight == pytest.approx(50.86, abs=0.01)


def test_a_bad_book_says_everything_wrong(book: Path, capsys: Out) -> None:
    text = MAT.replace("oz/ft²", "oz").replace('source = "roll label"\n', "").replace('mat"', 'matt"', 1)
    book.write_text(text, encoding="utf-8")
    assert run(["book", "check", str(book)]) == 2
    said = capsys.readouterr().err.splitlines()
    assert len(said) == 3
    assert run(["book", "check", str(book), "--json"]) == 2
    where = [one["where"] for one in json.loads(capsys.readouterr().out)["problems"]]
    assert where == [
        f"yard.toml, reinforcement 1 (csm450), {field}" for field in ("kind", "weight, unit", "source")
    ]


# -- export --------------------------------------------------------------------------------------


def test_own_materials_are_written_with_what_they_need(boat: Path, tmp_path: Path, capsys: Out) -> None:
    project = load(boat)
    mat = next(one for one in shipped().reinforcements if one.id == "csm450")
    save(edits.added(project, replace(mat, id="", name="Yard mat")), boat)
    out = tmp_path / "mine.toml"
    assert run(["book", "export", str(boat), "-o", str(out)]) == 0
    assert capsys.readouterr().out.endswith("It holds 1 resin, 1 fibre, 1 reinforcement.\n")
    assert [one.name for one in load_book(out).reinforcements] == ["Yard mat"]
    assert run(["book", "export", str(boat), "-o", str(out)]) == 2
    assert "There is a file already" in capsys.readouterr().err
    assert run(["book", "export", str(boat), "-o", str(out), "--ids", "pvc80,wr600", "--replace"]) == 0
    assert [one.id for one in load_book(out).cores] == ["pvc80"]
    assert run(["book", "export", str(boat), "-o", str(out), "--in-use", "--replace"]) == 2


def test_all_writes_the_shipped_book(boat: Path, tmp_path: Path) -> None:
    out = tmp_path / "all.toml"
    assert run(["book", "export", str(boat), "-o", str(out), "--all", "--json"]) == 0
    assert load_book(out) == shipped()


def test_nothing_own_and_unknown_ids_are_refused(boat: Path, tmp_path: Path, capsys: Out) -> None:
    out = tmp_path / "none.toml"
    assert run(["book", "export", str(boat), "-o", str(out)]) == 2
    assert "no materials of its own" in capsys.readouterr().err
    assert run(["book", "export", str(boat), "-o", str(out), "--ids", "pvc81"]) == 2
    assert "Did you mean" in capsys.readouterr().err
    assert not out.exists()


# -- import --------------------------------------------------------------------------------------


def test_conflicts_are_listed_field_by_field_and_nothing_is_written(
    boat: Path, book: Path, capsys: Out
) -> None:
    before = boat.read_bytes()
    assert run(["book", "import", str(boat), str(book)]) == 2
    told = capsys.readouterr()
    assert "weight" in told.out
    assert "450.0 g/m²" in told.out
    assert "457.7 g/m²" in told.out
    assert "roll label" in told.out
    assert "mine the shipped one" in told.out
    assert max(map(len, told.out.splitlines())) <= 100
    assert "Nothing was written: 1 conflict to settle." in told.err
    assert boat.read_bytes() == before
    assert [path.name for path in boat.parent.iterdir() if path.name.startswith(".")] == []


def test_theirs_is_taken_and_the_laminates_it_changes_are_named(boat: Path, book: Path, capsys: Out) -> None:
    assert run(["book", "import", str(boat), str(book), "--take", "theirs"]) == 0
    said = capsys.readouterr().out.replace("\n", " ")
    assert "Changed by it: Bottom (l1), plies" in said
    [mat] = load(boat).materials.reinforcements
    assert (mat.id, mat.glass) == ("csm450", 0.32)


def test_one_may_be_settled_apart_from_the_rest(boat: Path, book: Path, other: Path, capsys: Out) -> None:
    book.write_text(MAT + other.read_text(encoding="utf-8"), encoding="utf-8")
    assert run(["book", "import", str(boat), str(book), "--take", "pvc80=both"]) == 2
    told = capsys.readouterr()
    assert "csm450" in told.out
    assert "pvc80" not in told.out
    assert run(["book", "import", str(boat), str(book), "--take", "mine", "--take", "pvc80=both"]) == 0
    held = load(boat).materials
    assert [one.id for one in held.cores] == ["pvc80_2", "own"]
    assert held.reinforcements == ()


def test_a_choice_that_is_none_is_refused(boat: Path, book: Path, capsys: Out) -> None:
    assert run(["book", "import", str(boat), str(book), "--take", "yours", "--take", "wr600=mine"]) == 2
    said = capsys.readouterr().err
    assert "'yours' is no choice" in said
    assert "no conflict over 'wr600'" in said


def test_another_file_is_written_and_never_over_one(boat: Path, book: Path, tmp_path: Path) -> None:
    before, out = boat.read_bytes(), tmp_path / "new.json"
    command = ["book", "import", str(boat), str(book), "--take", "both", "-o", str(out)]
    assert run(command) == 0
    assert boat.read_bytes() == before
    assert [one.id for one in load(out).materials.reinforcements] == ["csm450_2"]
    assert run(command) == 2


def test_a_project_another_writes_is_left_alone(boat: Path, book: Path, capsys: Out) -> None:
    before = boat.read_bytes()
    with Lock(boat):
        assert run(["book", "import", str(boat), str(book), "--take", "theirs"]) == 2
    assert "holds the project" in capsys.readouterr().err
    assert boat.read_bytes() == before


def test_an_import_as_json(boat: Path, book: Path, capsys: Out) -> None:
    assert run(["book", "import", str(boat), str(book), "--json"]) == 2
    page = json.loads(capsys.readouterr().out)
    assert page["written"] is None
    [conflict] = page["conflicts"]
    assert (conflict["id"], conflict["mine_is"], conflict["choice"]) == ("csm450", "shipped", None)
    weight = next(one for one in conflict["differences"] if one["field"] == "weight")
    assert weight["mine"] == {"value": 450.0, "unit": "g/m²"}
    assert run(["book", "import", str(boat), str(book), "--json", "--take", "theirs"]) == 0
    page = json.loads(capsys.readouterr().out)
    assert page["written"] == str(boat)
    assert "l1" in [one["id"] for one in page["changed"]]


# -- diff ----------------------------------------------------------------------------------------


def test_two_books_that_disagree_are_shown(other: Path, tmp_path: Path, capsys: Out) -> None:
    foams = tmp_path / "foams.toml"
    save_book(gathered(one for one in shipped().cores if one.id in ("pvc60", "pvc80")), foams)
    assert run(["book", "diff", str(foams), str(other)]) == 0
    said = capsys.readouterr().out
    assert "85.00 kg/m³ (tested: weighed)" in said
    assert "foams.toml" in said.splitlines()[1]
    assert "Only in foams.toml: core" in said
    assert "Only in other.toml: core 'Own' (own)." in said
    assert "They disagree in 1; 0 are the same in both." in said
    assert run(["book", "diff", str(foams), str(other), "--units", "us"]) == 0
    assert "lb/ft³" in capsys.readouterr().out


def test_equal_books_disagree_in_none(other: Path, capsys: Out) -> None:
    assert run(["book", "diff", str(other), str(other), "--json"]) == 0
    page = json.loads(capsys.readouterr().out)
    assert (page["conflicts"], page["only_first"], page["only_second"]) == ([], [], [])
    assert page["same"] == ["pvc80", "own"]


def test_what_is_wrong_with_both_is_said(tmp_path: Path, capsys: Out) -> None:
    paths = [tmp_path / "a.toml", tmp_path / "b.toml"]
    for path in paths:
        path.write_text("[[core]]\n", encoding="utf-8")
    assert run(["book", "diff", *map(str, paths)]) == 2
    said = capsys.readouterr().err
    assert "a.toml, core 1" in said
    assert "b.toml, core 1" in said


def test_each_part_explains_itself(capsys: Out) -> None:
    for part in ("check", "export", "import", "diff"):
        with pytest.raises(SystemExit) as stopped:
            run(["book", part, "--help"])
        assert stopped.value.code == 0
        assert part in capsys.readouterr().out
    with pytest.raises(SystemExit) as stopped:
        run(["book"])
    assert stopped.value.code == 2
