"""CSV of findings, properties and take-off: every number with its unit, words that stay words."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from math import nan
from typing import TYPE_CHECKING

import pytest

from stringerlab.assess import check, live_section, readings
from stringerlab.assess.live import at_rest
from stringerlab.assess.takeoff import take_off
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.methods import Verdict
from stringerlab.project import resolve
from stringerlab.project.rates import with_price, with_rates
from stringerlab.report.csv_text import GUARD, MARK, Table, csv_bytes
from stringerlab.report.exports import Form, What, exported
from stringerlab.report.paper import project_hash
from stringerlab.units import System, unit_named

if TYPE_CHECKING:
    from stringerlab.assess import Results
    from stringerlab.project import Project

KG_PER_LB = 0.45359237
MM_PER_IN = 25.4


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def results(boat: Project) -> Results:
    return check(boat)


def rows_of(data: bytes) -> list[dict[str, str]]:
    assert data.startswith(MARK)
    text = io.StringIO(data.decode("utf-8-sig"), newline="")
    heads, *rows = csv.reader(text, strict=True)
    assert len(set(heads)) == len(heads)
    assert {len(row) for row in rows} == {len(heads)}
    return [dict(zip(heads, row, strict=True)) for row in rows]


# -- findings ------------------------------------------------------------------------------------


def test_every_finding_is_a_row_with_its_numbers_and_their_unit(boat: Project, results: Results) -> None:
    rows = rows_of(exported(boat, What.FINDINGS, Form.CSV, results=results).data)
    assert len(rows) == len(results.findings)
    for row, finding in zip(rows, results.findings, strict=True):
        assert (row["subject"], row["aspect"], row["verdict"]) == (
            finding.subject,
            finding.aspect.value,
            finding.verdict.value,
        )
        assert row["known"] == finding.known.value
        unit = unit_named(row["unit of demand and capacity"], finding.unit.kind)
        for head, wanted in (("demand", finding.demand), ("capacity", finding.capacity)):
            if wanted is None:
                assert row[head] == ""
            else:
                assert float(row[head]) * unit.factor == pytest.approx(wanted, rel=1e-13)


def test_what_is_not_judged_has_no_number_and_says_why(boat: Project) -> None:
    section = boat.sections[0]
    spoilt = replace(boat, sections=(replace(section, walls=()), *boat.sections[1:]))
    made = exported(spoilt, What.FINDINGS, Form.CSV)
    rows = [row for row in rows_of(made.data) if row["verdict"] == Verdict.NOT_JUDGED.value]
    assert rows
    assert all(row["utilisation"] == "" for row in rows)
    assert any(row["notes"] for row in rows)
    assert made.left_out


def test_findings_in_us_units_are_the_same_findings(boat: Project, results: Results) -> None:
    metric, us = (
        rows_of(exported(boat, What.FINDINGS, Form.CSV, results=results, system=system).data)
        for system in System
    )
    thick = [
        (one, other)
        for one, other in zip(metric, us, strict=True)
        if one["unit of demand and capacity"] == "mm" and one["demand"]
    ]
    assert thick
    for one, other in thick:
        assert other["unit of demand and capacity"] == "in"
        assert float(other["demand"]) * MM_PER_IN == pytest.approx(float(one["demand"]), rel=1e-12)
    assert [row["utilisation"] for row in metric] == [row["utilisation"] for row in us]


def test_every_row_says_what_it_comes_from(boat: Project, results: Results) -> None:
    for row in rows_of(exported(boat, What.FINDINGS, Form.CSV, results=results).data):
        assert project_hash(boat) in row["from"]
        assert "not a class or conformity assessment" in row["from"]


# -- properties ----------------------------------------------------------------------------------


def test_properties_are_those_of_the_section_command_with_units_in_the_heads(boat: Project) -> None:
    rows = rows_of(exported(boat, What.PROPERTIES, Form.CSV).data)
    resolved = resolve(boat)
    assert [row["section"] for row in rows] == [section.id for section in boat.sections]
    for row in rows:
        live = at_rest(live_section(boat, resolved, row["section"]), resolved)
        found = {reading.key: reading for reading in readings(live)}
        for head, key, factor in (
            ("EI, horizontal axis [kN·m²]", "EI_y", 1e9),
            ("Neutral axis, z [mm]", "z_na", 1.0),
            ("Crown side [cm³]", "SM_top", 1e3),
            ("Web area [cm²]", "web_area", 1e2),
            ("GJ [kN·m²]", "GJ", 1e9),
        ):
            assert float(row[head]) * factor == pytest.approx(found[key].value, rel=1e-12), head
        assert row["Crown side, of ply"] == found["SM_top"].detail


def test_a_wrong_section_keeps_its_row_without_numbers(boat: Project) -> None:
    first, *others = boat.sections
    made = exported(replace(boat, sections=(*others, replace(first, walls=()))), What.PROPERTIES, Form.CSV)
    *_, last = rows_of(made.data)
    assert last["section"] == first.id
    assert last["EA [N]"] == ""
    assert "wall" in last["notes"]
    assert made.left_out


def test_one_section_alone(boat: Project) -> None:
    last = boat.sections[-1]
    [row] = rows_of(exported(boat, What.PROPERTIES, Form.CSV, section=last.id).data)
    assert row["name"] == last.name


# -- take-off ------------------------------------------------------------------------------------


def test_materials_of_members_add_up_to_all_members(boat: Project) -> None:
    rows = rows_of(exported(boat, What.TAKEOFF, Form.CSV).data)
    total = take_off(boat).total

    def mass(of: str) -> float:
        return sum(float(row["built in [kg]"]) for row in rows if row["of"] == of and row["built in [kg]"])

    assert mass("member") == pytest.approx(total.mass())
    assert mass("all members") == pytest.approx(total.mass())


def test_prices_labour_and_waste_stand_in_their_own_columns(boat: Project) -> None:
    priced = with_rates(
        with_price(boat, "csm450", 4.0), currency="EUR", fabric_waste=0.25, lay_up=2.0, hour=30.0
    )
    rows = rows_of(exported(priced, What.TAKEOFF, Form.CSV).data)
    mats = [row for row in rows if row["material"] == "csm450"]
    assert mats
    for row in mats:
        assert float(row["bought [kg]"]) == pytest.approx(1.25 * float(row["built in [kg]"]))
        assert float(row["cost [EUR]"]) == pytest.approx(4.0 * float(row["bought [kg]"]))
    laid = [row for row in rows if row["what"] == "lay-up"]
    assert laid
    for row in laid:
        assert float(row["hours [h]"]) == pytest.approx(2.0 * float(row["work [kg, m² or m]"]))
        assert float(row["cost [EUR]"]) == pytest.approx(30.0 * float(row["hours [h]"]))
        assert row["built in [kg]"] == ""


def test_a_take_off_in_us_units(boat: Project) -> None:
    metric, us = (rows_of(exported(boat, What.TAKEOFF, Form.CSV, system=system).data) for system in System)
    for one, other in zip(metric, us, strict=True):
        if one["built in [kg]"]:
            assert float(other["built in [lb]"]) * KG_PER_LB == pytest.approx(float(one["built in [kg]"]))
        assert float(other["length [ft]"]) * 0.3048 == pytest.approx(float(one["length [m]"]))


# -- words ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    ["=1+1", "+cmd", "-2", "@SUM(A1)", "\t=1", "\n=1", "  =1", "\u200b=1", "＝1+1", '=HYPERLINK("http://x")'],
)
def test_words_that_look_like_a_formula_are_guarded(name: str) -> None:
    [row] = rows_of(csv_bytes(Table(heads=("name", "z [mm]"), rows=((name, -2.0),))))
    assert row["name"] == GUARD + name
    assert row["z [mm]"] == "-2"


def test_a_name_with_a_formula_is_guarded_in_every_table(boat: Project) -> None:
    evil = '=HYPERLINK("http://x","y")'
    named = replace(
        boat,
        name=evil,
        sections=tuple(replace(one, name=evil) for one in boat.sections),
        spans=tuple(replace(one, name=evil) for one in boat.spans),
        panels=tuple(replace(one, name=evil) for one in boat.panels),
    )
    for what in (What.FINDINGS, What.PROPERTIES, What.TAKEOFF):
        rows = rows_of(exported(named, what, Form.CSV).data)
        assert any(row["name"] == GUARD + evil for row in rows)
        for row in rows:
            assert not any(cell.startswith(("=", "+", "@")) for cell in row.values())


@pytest.mark.parametrize(
    "name", ["a,b", 'the "big" one', "two\nlines", "漁船 Лодка קיל", "tab\there", "'own"]
)
def test_words_come_back_letter_by_letter(name: str) -> None:
    [row] = rows_of_any(csv_bytes(Table(heads=("name", "n"), rows=((name, 1),))))
    assert row == [name, "1"]


def rows_of_any(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""), strict=True))[1:]


def test_lines_end_as_rfc_4180_has_them(boat: Project, results: Results) -> None:
    data = exported(boat, What.FINDINGS, Form.CSV, results=results).data
    assert data.endswith(b"\r\n")
    assert data.count(b"\r\n") == len(results.findings) + 1
    assert b"\n" not in data.replace(b"\r\n", b"")


def test_what_no_cell_holds_becomes_a_blank() -> None:
    assert rows_of_any(csv_bytes(Table(heads=("n",), rows=(("a\x00b\ud800c\rd",),)))) == [["a b c d"]]


def test_numbers_come_back_and_what_is_not_known_is_empty() -> None:
    numbers = (0.1, -1 / 3, 1e-9, 6.02e23, 34101266.0964445)
    [row] = rows_of_any(csv_bytes(Table(heads=tuple("abcdefg"), rows=((*numbers, nan, None),))))
    assert [float(cell) for cell in row[:5]] == pytest.approx(numbers, rel=1e-14)
    assert row[5:] == ["", ""]


def test_a_row_that_does_not_fit_its_heads_is_refused() -> None:
    with pytest.raises(ValueError, match="2 cells under 1"):
        csv_bytes(Table(heads=("a",), rows=((1, 2),)))
