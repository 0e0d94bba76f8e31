"""Sizing in words: how large a space is, what was seen of it, what a design changes."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.modeltest import ModelTester

from stringerlab.desktop.sizing.designs import DesignsTable, SortedDesigns, all_designs
from stringerlab.desktop.sizing.said import (
    Look,
    axes_of,
    boat_words,
    differences,
    grouped,
    seen_words,
    space_words,
    value_of,
)
from stringerlab.project.wishes import Aim, SizingPlan, Weights
from stringerlab.sizing.records import Design, Sized
from stringerlab.units import System

_ACROSS = Qt.Orientation.Horizontal
NOW = Design(
    genes=(1, 0),
    values=("135 mm", "csm450, wr600"),
    ratios=(1.1,),
    use=1.1,
    mass=50.0,
    cost=None,
    hours=20.0,
    governing="Bay 1, thickness",
)
LIGHT = replace(NOW, genes=(0, 0), values=("95 mm", "csm450, wr600"), ratios=(0.9,), use=0.9, mass=46.0)
FOUND = Sized(
    plan=SizingPlan(),
    names=("hat height of Main stringer", "plies of Main stringer"),
    front=(LIGHT, replace(LIGHT, values=("105 mm", "csm450"), mass=47.0, use=0.8, ratios=(0.8,))),
    present=NOW,
    present_exact=True,
    space=4320,
    judged=1200,
    ruled_out=3120,
    proven=True,
)


@pytest.mark.parametrize(
    ("count", "read"),
    [
        (1, "1"),
        (4320, "4\u202f320"),
        (999_999_999, "999\u202f999\u202f999"),
        (3 * 10**30, "3·10³⁰"),
        (299 * 10**28, "3·10³⁰"),
        (996 * 10**20, "10²³"),
        (10**400, "10⁴⁰⁰"),
    ],
)
def test_counts_are_read_at_a_glance(count: int, read: str) -> None:
    assert grouped(count) == read


def test_a_space_says_whether_all_of_it_can_be_judged() -> None:
    assert space_words(4320, whole=True) == "4\u202f320 designs: every one will be judged or ruled out"
    assert space_words(3 * 10**30, whole=False) == "3·10³⁰ designs: searched, not proven"
    assert space_words(1, whole=True) == "1 design: it will be judged"


def test_what_was_seen_is_said_with_whether_it_is_proven() -> None:
    assert seen_words(FOUND) == (
        "Proven: of 4\u202f320 designs, 1\u202f200 judged, 3\u202f120 ruled out by bounds; "
        "no better one is among them."
    )
    searched = replace(FOUND, proven=False, space=10**31, judged=2000)
    assert seen_words(searched).startswith("Found, not proven: 2\u202f000 of 10³¹ designs judged")
    assert "none of them holds" in seen_words(replace(FOUND, front=()))
    assert "no proof" in seen_words(replace(searched, front=()))


def test_a_boat_that_is_no_design_stands_for_herself_where_her_numbers_are_known() -> None:
    near = replace(FOUND, present_exact=False)
    hers = replace(near, boat=replace(NOW, mass=52.0, values=("137 mm and others", "csm450, wr600")))
    assert boat_words(near) == "The choices nearest to the present boat"
    assert boat_words(hers) == "The present boat"
    said = differences(hers, LIGHT, Look())
    assert said[0] == "Hat height of Main stringer: 137 mm and others → 95 mm"
    assert said[1] == "Mass 46.00 kg: 6.000 kg less (−11.5 %)"
    assert all_designs(hers)[0].mass == 52.0


def test_differences_are_said_in_the_units_of_the_project() -> None:
    said = differences(FOUND, LIGHT, Look())
    assert said == (
        "Hat height of Main stringer: 135 mm → 95 mm",
        "Mass 46.00 kg: 4.000 kg less (−8.0 %)",
        "Labour 20.0 h: as now",
        "Highest utilisation 0.900: 0.200 less (−18.2 %)",
    )
    us = differences(FOUND, LIGHT, Look(system=System.US))
    assert us[1].startswith("Mass 101.4 lb: 8.818 lb less")


def test_axes_are_the_first_two_aims() -> None:
    assert axes_of(SizingPlan()) == (Aim.MASS, Aim.USE)
    assert axes_of(SizingPlan(aims=(Aim.COST,))) == (Aim.COST, Aim.USE)
    assert axes_of(SizingPlan(aims=(Aim.USE,))) == (Aim.USE, Aim.MASS)
    assert axes_of(SizingPlan(aims=(Aim.LABOUR, Aim.LABOUR, Aim.MIX))) == (Aim.LABOUR, Aim.MIX)


def test_a_mix_weighs_what_is_known() -> None:
    plan = SizingPlan(aims=(Aim.MIX,), weights=Weights(mass=2.0, labour=3.0))
    assert value_of(LIGHT, Aim.MIX, plan) == 2 * 46.0 + 3 * 20.0


def test_designs_are_rows_sorted_by_number_not_by_letters(qtmodeltester: ModelTester) -> None:
    table = DesignsTable()
    table.show_sized(FOUND, Look())
    qtmodeltester.check(table, force_py=True)
    titles = [table.headerData(i, _ACROSS).replace("\n", " ") for i in range(table.columnCount())]
    assert titles == ["design", "mass", "labour", "use", *FOUND.names, "governs"]
    ordered = SortedDesigns(table)
    ordered.sort(titles.index(FOUND.names[0]))
    assert [ordered.index(row, 4).data() for row in range(3)] == ["95 mm", "105 mm", "135 mm"]
    assert [ordered.number(row) for row in range(3)] == [1, 2, 0]
    assert [ordered.row(number) for number in range(3)] == [2, 0, 1]
    assert table.index(0, 0).data() == "× present"
    assert table.index(1, 0).data() == "1"


def test_choices_nearest_to_the_boat_are_not_called_the_boat() -> None:
    table = DesignsTable()
    table.show_sized(replace(FOUND, present_exact=False), Look())
    assert table.index(0, 0).data() == "× nearest"
    assert table.index(0, 0).data(Qt.ItemDataRole.ToolTipRole).startswith("Choices nearest to her")
    assert boat_words(FOUND) == "The present boat"
    assert "nearest" in boat_words(replace(FOUND, present_exact=False))


def test_mechanics_have_columns_where_they_were_asked() -> None:
    table = DesignsTable()
    asked = replace(LIGHT, mechanics=1.2, mechanics_governing="Bay 1, bond")
    table.show_sized(replace(FOUND, front=(asked,)), Look())
    titles = [table.headerData(i, _ACROSS) for i in range(table.columnCount())]
    at = titles.index("mechanics")
    assert [table.index(row, at).data() for row in range(2)] == ["—", "1.200"]
    assert table.index(1, titles.index("governs there")).data() == "Bay 1, bond"
    table.show_sized(None, Look())
    assert table.rowCount() == table.columnCount() == 0
