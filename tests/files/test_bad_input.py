"""Every bad file of the trade: what is wrong, where, and what to do, all at once and in one line each."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from stringerlab.errors import FIRST_SHOWN, Problem, StringerlabError
from stringerlab.files import load, loads

Refused = Callable[[Any], tuple[Problem, ...]]
Bare = dict[str, Any]


def only(problems: tuple[Problem, ...]) -> Problem:
    [problem] = problems
    assert problem.what
    assert problem.where.startswith("boat.json")
    assert problem.remedy
    return problem


def test_missing_field_names_it_its_record_and_its_unit(bare: Bare, refused: Refused):
    del bare["project"]["panels"][0]["b"]
    problem = only(refused(bare))
    assert problem.what == "'b' is missing."
    assert problem.where == "boat.json, panel 'Aft bottom, port' (p7)"
    assert problem.remedy == 'Add it: "b": a number of mm.'


def test_null_where_a_number_is_needed(bare: Bare, refused: Refused):
    bare["project"]["craft"]["mass"] = None
    problem = only(refused(bare))
    assert problem.what == "null stands where a number of kg is wanted."
    assert problem.where == "boat.json, craft, mass"
    assert problem.remedy == "Give a value."


def test_null_where_a_default_would_do_says_the_key_may_go(bare: Bare, refused: Refused):
    bare["project"]["panels"][0]["camber"] = None
    assert only(refused(bare)).remedy == "Take the key out, or give a value."


@pytest.mark.parametrize("token", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_number_that_is_not_finite_is_refused_with_its_place(bare: Bare, refused: Refused, token: str):
    bare["project"]["sections"][0]["walls"][0]["points"][3][1] = "HERE"
    problem = only(refused(json.dumps(bare).replace('"HERE"', token).encode()))
    assert problem.where == "boat.json, section 'Main stringer' (s4), wall 'Hat' (w5), point 4, z"
    assert "a number of mm is wanted" in problem.what
    assert problem.remedy == "Give a number of mm."


def test_whole_number_with_thousands_of_digits(bare: Bare, refused: Refused):
    bare["project"]["craft"]["mass"] = "HERE"
    text = json.dumps(bare, indent=1).replace('"HERE"', "1" + "0" * 6000)
    problem = only(refused(text.encode()))
    line = text[: text.index("1000000")].count("\n") + 1
    assert f"line {line}, column" in problem.what
    assert "thousands of digits" in problem.what


def test_number_in_quotes_says_to_take_them_off(bare: Bare, refused: Refused):
    bare["project"]["panels"][1]["l"] = "900,5"
    problem = only(refused(bare))
    assert problem.what == "The text '900,5' stands where a number of mm is wanted."
    assert problem.where == "boat.json, panel 'Tank bay' (p8), l"
    assert problem.remedy == "Write 900.5 without quotes."


def test_number_with_its_unit_in_quotes(bare: Bare, refused: Refused):
    bare["project"]["panels"][1]["l"] = "35 in"
    assert only(refused(bare)).remedy == "Write a number of mm without unit or quotes."


@pytest.mark.parametrize("given", [True, False])
def test_true_is_no_number(bare: Bare, refused: Refused, given: bool):
    bare["project"]["craft"]["speed"] = given
    assert only(refused(bare)).what == f"{json.dumps(given)} stands where a number of kn is wanted."


def test_one_is_not_true(bare: Bare, refused: Refused):
    bare["project"]["spans"][0]["attached"] = 1
    problem = only(refused(bare))
    assert problem.what == "1 stands where true or false is wanted."
    assert problem.where == "boat.json, span 'Main stringer, bay 2' (m9), attached"


def test_whole_number_does_for_a_decimal_one(bare: Bare):
    bare["project"]["craft"]["speed"] = 30
    speed = loads(json.dumps(bare).encode()).craft.speed
    assert speed == 30.0
    assert isinstance(speed, float)


def test_counter_with_a_decimal_point(bare: Bare, refused: Refused):
    bare["project"]["counter"] = 22.0
    assert only(refused(bare)).remedy == "Write it without a decimal point."


def test_unknown_key_offers_the_nearest(bare: Bare, refused: Refused):
    bare["project"]["panels"][0]["deadrize"] = 12
    problem = only(refused(bare))
    assert problem.what == "There is no key 'deadrize' here."
    assert problem.where == "boat.json, panel 'Aft bottom, port' (p7)"
    assert problem.remedy == "Did you mean 'deadrise'?"


@pytest.mark.parametrize(
    "path",
    [
        (),
        ("project",),
        ("project", "craft"),
        ("project", "craft", "stations", 0),
        ("project", "materials"),
        ("project", "materials", "reinforcements", 0),
        ("project", "materials", "reinforcements", 0, "tested"),
        ("project", "materials", "reinforcements", 0, "tested", "modulus_1"),
        ("project", "laminates", 0),
        ("project", "laminates", 0, "plies", 0),
        ("project", "sections", 0),
        ("project", "sections", 0, "walls", 0),
        ("project", "sections", 0, "fills", 0),
        ("project", "sections", 0, "reference"),
        ("project", "panels", 0),
        ("project", "spans", 0),
    ],
)
def test_unknown_key_is_refused_in_every_record(bare: Bare, refused: Refused, path: tuple[Any, ...]):
    record = bare
    for step in path:
        record = record[step]
    record["qqqq"] = 1
    problem = only(refused(bare))
    assert problem.what == "There is no key 'qqqq' here."
    assert problem.remedy.startswith("Take it out; the keys here are ")


def test_unknown_choice_says_which_there_are(bare: Bare, refused: Refused):
    bare["project"]["sections"][0]["walls"][0]["side"] = "lft"
    problem = only(refused(bare))
    assert problem.what == "The text 'lft' stands where one of 'left', 'right' is wanted."
    assert problem.remedy == "Did you mean 'left'?"
    bare["project"]["sections"][0]["walls"][0]["side"] = "starboard"
    assert "'left', 'right'" in only(refused(bare)).what


def test_point_of_three_numbers_and_of_one(bare: Bare, refused: Refused):
    points = bare["project"]["sections"][0]["walls"][0]["points"]
    points[1] = [1, 2, 3]
    points[2] = [1]
    many, few = refused(bare)
    assert many.what == "3 given, a list of 2 in [ ] is wanted."
    assert many.where.endswith("wall 'Hat' (w5), point 2")
    assert few.what == "1 given, a list of 2 in [ ] is wanted."
    assert few.where.endswith("wall 'Hat' (w5), point 3")


def test_record_without_name_or_id_goes_by_its_number(bare: Bare, refused: Refused):
    bare["project"]["sections"][0]["walls"][0].update(name="", side=3)
    assert only(refused(bare)).where.endswith("section 'Main stringer' (s4), wall 1 (w5), side")
    del bare["project"]["sections"][0]["walls"][0]["id"]
    places = {problem.where for problem in refused(bare)}
    assert any(place.endswith("section 'Main stringer' (s4), wall 1, side") for place in places)


def test_number_where_a_sourced_value_is_wanted_says_what_to_write(bare: Bare, refused: Refused):
    bare["project"]["materials"]["solids"][0]["density"] = 700
    problem = only(refused(bare))
    assert problem.where == "boat.json, solid 'Tank bed block' (x21), density"
    assert problem.remedy == 'Write {"value": …, "source": …, "known": …}.'


def test_list_where_a_record_is_wanted(bare: Bare, refused: Refused):
    bare["project"]["craft"] = []
    assert only(refused(bare)).what == "A list stands where a record in { } is wanted."


def test_faults_are_all_listed_at_once(bare: Bare, refused: Refused):
    del bare["project"]["craft"]["speed"]
    bare["project"]["panels"][0]["b"] = "420"
    bare["project"]["spans"][1]["ends"] = ["held"]
    bare["project"]["colour"] = "red"
    assert {problem.where for problem in refused(bare)} == {
        "boat.json, craft",
        "boat.json, panel 'Aft bottom, port' (p7), b",
        "boat.json, span 'Main stringer, bay 3' (m10), ends",
        "boat.json",
    }


def test_one_fault_three_thousand_times_shows_fifty_and_counts_the_rest(bare: Bare):
    panel = bare["project"]["panels"][0]
    bare["project"]["panels"] = [{**panel, "id": f"p{i}", "b": "420"} for i in range(3000)]
    with pytest.raises(StringerlabError) as raised:
        loads(json.dumps(bare).encode(), "boat.json")
    assert len(raised.value.problems) == 3000
    lines = str(raised.value).splitlines()
    assert len(lines) == FIRST_SHOWN + 1
    assert lines[-1] == "… and 2950 more of 3000."


def test_key_given_twice_is_refused_with_its_place(bare: Bare, refused: Refused):
    text = json.dumps(bare).replace('"lu": 1100,', '"lu": 1100, "lu": 1200,')
    problem = only(refused(text.encode()))
    assert problem.what == "The key 'lu' is given twice."
    assert problem.where == "boat.json, span 'Main stringer, bay 2' (m9)"


def test_key_given_twice_is_listed_with_the_other_faults(bare: Bare, refused: Refused):
    bare["project"]["panels"][0]["b"] = None
    text = json.dumps(bare).replace('"lu": 1100,', '"lu": 1100, "lu": 1200,')
    assert len(refused(text.encode())) == 2


def test_empty_file(refused: Refused):
    assert only(refused(b" \n")).what == "The file is empty."


def test_text_that_is_not_json(refused: Refused):
    assert only(refused(b"# Saltmere 6\nbeam: 2 m\n")).what.startswith("The file is not JSON: it begins with")


def test_picture_that_is_not_text(refused: Refused):
    problem = only(refused(b'{"format":\n "\xff\xd8\xff"}'))
    assert problem.what == "The file is not UTF-8 text: line 2, column 3 does not read."


def test_json_with_a_slip_gives_line_and_column(refused: Refused):
    problem = only(refused(b'{"format": "stringerlab project",\n "version" 1}'))
    assert problem.what == "The file is not JSON at line 2, column 12: a colon is missing."


@pytest.mark.parametrize("part", [0.1, 0.5, 0.9, 0.999])
def test_truncated_file_says_where_it_breaks_off(bare: Bare, refused: Refused, part: float):
    data = json.dumps(bare, indent=1).encode()
    data = data[: int(len(data) * part)].rstrip()
    what = only(refused(data)).what
    assert what.startswith(("The file breaks off at line", "The file is not JSON at line"))
    assert "column" in what


def test_file_cut_inside_a_text_breaks_off(refused: Refused):
    problem = only(refused(b'{"format": "stringerlab pro'))
    assert problem.what == "The file breaks off at line 1, column 12: its end is missing."


@pytest.mark.parametrize("depth", [150, 250, 5000, 200_000])
def test_deep_nesting_gives_line_and_column(refused: Refused, depth: int):
    start = b'{"format": "stringerlab project", "version": 1,\n "project": '
    problem = only(refused(start + b"[" * depth + b"]" * depth + b"}"))
    if depth < 200:
        assert problem.what == "A list stands where a record in { } is wanted."
    else:
        assert "nest more than 100 deep at line 2, column 112" in problem.what


def test_brackets_in_texts_are_no_nesting(bare: Bare):
    bare["project"]["notes"] = '[{"' * 500
    assert loads(json.dumps(bare).encode()).notes == '[{"' * 500


def test_half_a_character_is_refused_and_a_whole_one_read(bare: Bare, refused: Refused):
    bare["project"]["notes"] = "HERE"
    text = json.dumps(bare)
    assert "is half a character" in only(refused(text.replace("HERE", r"\ud83d!").encode())).what
    assert loads(text.replace("HERE", r"\ud83d\ude00").encode()).notes == "😀"
    assert loads(text.replace("HERE", r"\\ud83d").encode()).notes == r"\ud83d"


def test_json_of_something_else(refused: Refused):
    assert only(refused([])).what == "The file is JSON but no project."
    assert only(refused({"type": "FeatureCollection"})).what == "The file does not say that it is a project."
    assert "something else" in only(refused({"format": "layout", "version": 1})).what


def test_byte_order_mark_is_read_over(bare: Bare):
    assert loads(b"\xef\xbb\xbf" + json.dumps(bare).encode()).name == "Saltmere 6"


def test_file_above_fifty_megabytes_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "huge.json"
    with path.open("wb") as file:
        file.truncate(50_000_001)

    def never(*_: object, **__: object) -> object:
        raise AssertionError("The file was opened.")

    monkeypatch.setattr(Path, "open", never)
    with pytest.raises(StringerlabError) as raised:
        load(path)
    [problem] = raised.value.problems
    assert problem.what == "The file has 50.1 MB; above 50 MB it is not read."
    assert problem.where == str(path)
    assert problem.remedy


def test_file_that_is_not_there(tmp_path: Path):
    with pytest.raises(StringerlabError, match=r"Cannot be read: there is no such file\. Check the name"):
        load(tmp_path / "none.json")


def test_folder_instead_of_a_file(tmp_path: Path):
    with pytest.raises(StringerlabError, match=r"Cannot be read: it is a folder\. Give the name of a file"):
        load(tmp_path)


def test_device_instead_of_a_file():
    with pytest.raises(StringerlabError, match="no ordinary file"):
        load("/dev/zero")


def test_file_without_right_to_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    path = tmp_path / "boat.json"
    path.write_bytes(b"{}")

    def locked(*_: object, **__: object) -> object:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", locked)
    with pytest.raises(StringerlabError, match="you have no right to read it"):
        load(path)


@pytest.mark.parametrize(
    ("field", "value"),
    [("deadrise", 90), ("b", -400), ("b", 0), ("l", 1e30), ("laminate", "l99"), ("id", "p8")],
)
def test_file_of_the_right_shape_opens_whatever_it_means(bare: Bare, field: str, value: Any):
    bare["project"]["panels"][0][field] = value
    assert getattr(loads(json.dumps(bare).encode()).panels[0], field) == value


def test_faults_without_end_are_counted_without_wording_each(bare: Bare):
    bare["project"]["panels"] = ["x"] * 20_000
    with pytest.raises(StringerlabError) as raised:
        loads(json.dumps(bare).encode(), "boat.json")
    assert len(raised.value.problems) == 20_000
    assert str(raised.value).splitlines()[-1] == "… and 19950 more of 20000."


def test_name_of_many_lines_stays_on_one_line_of_the_message(bare: Bare, refused: Refused):
    bare["project"]["panels"][0].update(name="Aft\nbottom \x1b[31m", b=None)
    assert only(refused(bare)).where == "boat.json, panel 'Aft·bottom ·[31m' (p7), b"


def test_endless_key_and_text_are_cut_short(bare: Bare, refused: Refused):
    bare["project"]["k" * 100_000] = 1
    bare["project"]["units"] = "u" * 100_000
    assert all(len(str(problem)) < 400 for problem in refused(bare))
