"""The take-off page: tables that add up, prices and rates typed as edits, copying, what is not counted."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QLineEdit, QPushButton

from stringerlab.assess.takeoff import take_off
from stringerlab.desktop.models.takeoff import AmountsTable, ItemsTable, Of, Shown
from stringerlab.desktop.pages.takeoff import TakeOffPage
from stringerlab.project.edits import replaced
from stringerlab.project.particulars import with_particulars
from stringerlab.project.rates import with_price, with_rates
from stringerlab.units import System

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session

FIRST_MAT = "csm450"


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[TakeOffPage]:
    made = TakeOffPage(session)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    with qtbot.waitExposed(made):
        made.show()
    settled(made, session, qtbot)
    yield made
    made.hide()


def settled(page: TakeOffPage, session: Session, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: page.found is not None and page.found.project is session.project, timeout=10_000)


def names(page: TakeOffPage) -> list[str]:
    return [item.name for item in page.items.rows]


def retype(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def type_price(qtbot: QtBot, page: TakeOffPage, material: str, text: str) -> None:
    row = next(row for row, one in enumerate(page.amounts.rows) if one.material == material)
    index = page.amounts.index(row, Of.PRICE)
    page.materials.setCurrentIndex(index)
    page.materials.edit(index)
    editor = page.materials.viewport().findChildren(QLineEdit)[-1]
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    idle = QAbstractItemView.State.NoState
    qtbot.waitUntil(lambda: page.materials.state() == idle)  # Qt takes what was typed a moment later


def test_members_are_listed_with_their_sum_chosen(page: TakeOffPage, session: Session) -> None:
    assert names(page) == [*(span.name for span in session.project.spans), "All members"]
    assert page.table.currentIndex().row() == len(session.project.spans)
    assert page.chosen.text() == "Materials of all members"
    total = take_off(session.project).total
    assert page.amounts.rows == total.amounts
    assert f"{total.mass():.2f} kg" in page.summary.text()


def test_sections_stand_by_the_metre_or_foot_that_is_shown(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    page.tabs.setCurrentIndex(1)
    assert names(page) == [section.name for section in session.project.sections]
    assert page.items.headerData(0, Qt.Orientation.Horizontal) == "Section"
    page.show_item(session.project.sections[0].id)
    assert page.chosen.text() == f"Materials of {session.project.sections[0].name}, each metre"
    metre = page.items.rows[0]
    assert page.items.cell(0, 2) == f"{metre.mass():.3g}"
    session.edit("Units", with_particulars, units=System.US)
    settled(page, session, qtbot)
    assert page.chosen.text().endswith(", each foot")
    assert page.items.cell(0, 1) == "1.00"
    # kg a metre to lb a foot
    assert page.items.cell(0, 2) == f"{metre.mass() * 0.3048 / 0.45359237:.3g}"


def test_the_row_chosen_is_shown_material_by_material(page: TakeOffPage, qtbot: QtBot) -> None:
    page.table.setFocus()
    qtbot.keyClick(page.table, Qt.Key.Key_Home)
    qtbot.keyClick(page.table, Qt.Key.Key_Up)
    item = page.items.rows[page.table.currentIndex().row()]
    assert page.amounts.rows == item.amounts
    assert item.name in page.chosen.text()


def test_shares_of_the_mass_add_up_to_all_of_it(page: TakeOffPage) -> None:
    said = [page.amounts.cell(row, Of.SHARE) for row in range(page.amounts.rowCount())]
    assert sum(float(text.removesuffix(" %")) for text in said) == pytest.approx(100, abs=1.5)


def test_a_price_typed_is_one_edit_that_can_be_undone(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    type_price(qtbot, page, FIRST_MAT, "3,90")
    settled(page, session, qtbot)
    assert session.project.rates.prices[0].per_kg == 3.9
    assert session.undo_label is not None
    assert "price of Chopped mat 450" in session.undo_label
    [mat] = [one for one in page.amounts.rows if one.material == FIRST_MAT]
    assert mat.cost == pytest.approx(3.9 * mat.mass)
    assert "not all of it priced" in page.summary.text()
    type_price(qtbot, page, FIRST_MAT, "\b")
    settled(page, session, qtbot)
    assert session.project.rates.prices == ()
    session.undo()
    settled(page, session, qtbot)
    assert session.project.rates.prices[0].per_kg == 3.9


def test_a_price_is_typed_by_the_pound_where_pounds_are_shown(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    session.edit("Units", with_particulars, units=System.US)
    settled(page, session, qtbot)
    type_price(qtbot, page, FIRST_MAT, "2")
    settled(page, session, qtbot)
    assert session.project.rates.prices[0].per_kg == pytest.approx(2 / 0.45359237)
    row = next(row for row, one in enumerate(page.amounts.rows) if one.material == FIRST_MAT)
    assert page.amounts.cell(row, Of.PRICE) == "2.00"
    before = session.undo_label
    type_price(qtbot, page, FIRST_MAT, "2")
    assert session.undo_label == before


def test_a_price_that_does_not_read_changes_nothing_and_says_so(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    before = session.project
    with qtbot.waitSignal(session.said):
        type_price(qtbot, page, FIRST_MAT, "cheap")
    assert session.project is before


def test_rates_typed_are_edits_by_name_and_move_the_hours(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    retype(qtbot, page.rates.numbers["lay_up"], "0.5")
    settled(page, session, qtbot)
    assert session.project.rates.lay_up == 0.5
    assert session.undo_label == "Change hours of lay-up"
    found = page.found
    assert found is not None
    assert found.total.hours == pytest.approx(0.5 * found.total.labour[0].quantity)
    retype(qtbot, page.rates.numbers["fabric_waste"], "12 %")
    assert session.project.rates.fabric_waste == pytest.approx(0.12)
    retype(qtbot, page.rates.currency, "EUR")
    settled(page, session, qtbot)
    assert session.project.rates.currency == "EUR"
    assert "EUR/kg" in page.amounts.columns[Of.PRICE].head(page.amounts.shown)
    session.undo()
    session.undo()
    session.undo()
    assert page.rates.numbers["lay_up"].text() == ""


def test_a_rate_for_a_pound_is_kept_for_a_kilogram(page: TakeOffPage, session: Session, qtbot: QtBot) -> None:
    session.edit("Units", with_particulars, units=System.US)
    retype(qtbot, page.rates.numbers["lay_up"], "0.25")
    assert session.project.rates.lay_up == pytest.approx(0.25 / 0.45359237)
    assert page.rates.numbers["lay_up"].text() == "0.25"
    retype(qtbot, page.rates.numbers["bonding"], "0.1")
    assert session.project.rates.bonding == pytest.approx(0.1 / 0.3048)


def test_a_rate_of_metric_hours_is_shown_to_four_digits_in_us_units_and_stays_exact(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    retype(qtbot, page.rates.numbers["lay_up"], "0.35")
    session.edit("Units", with_particulars, units=System.US)
    field = page.rates.numbers["lay_up"]
    assert field.text() == "0.1588"  # 0.35 × 0.45359237 = 0.15875733 h/lb
    before = session.project
    retype(qtbot, field, "0.1588")
    assert session.project is before
    assert session.project.rates.lay_up == 0.35
    retype(qtbot, field, "0.16")
    assert session.project.rates.lay_up == pytest.approx(0.16 / 0.45359237)


def test_a_rate_out_of_its_range_stays_marked_and_is_no_edit(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    before = session.project
    field = page.rates.numbers["resin_waste"]
    retype(qtbot, field, "900")
    assert session.project is before
    assert field.property("wrong")
    assert "9" in field.toolTip()
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == ""
    assert not field.property("wrong")


def test_copying_gives_heads_with_units_and_every_row(page: TakeOffPage, qtbot: QtBot) -> None:
    for button in page.findChildren(QPushButton):
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
        lines = QGuiApplication.clipboard().text().splitlines()
        model = page.amounts if "materials" in button.accessibleName() else page.items
        assert len(lines) == 1 + model.rowCount()
        assert all(line.count("\t") == model.columnCount() - 1 for line in lines)
        assert "kg" in lines[0]
    page.table.selectAll()
    page.table.setFocus()
    qtbot.keySequence(page.table, QKeySequence(QKeySequence.StandardKey.Copy))
    assert QGuiApplication.clipboard().text().startswith("Member\tLength, m\tMass, kg")


def test_what_is_not_counted_is_said_with_a_link(page: TakeOffPage, session: Session, qtbot: QtBot) -> None:
    section = session.project.sections[1]
    session.edit("Spoil", replaced, type(section)(id=section.id, name=section.name, walls=()))
    settled(page, session, qtbot)
    assert f'href="{section.id}"' in page.strip.text
    assert "Not counted: Plate floor" in page.strip.text
    assert not any(name.startswith("Floor") for name in names(page))
    with qtbot.waitSignal(session.wanted) as asked:
        page.strip.wanted.emit(section.id)
    assert asked.args == [section.id]


def test_enter_goes_to_the_member(page: TakeOffPage, session: Session, qtbot: QtBot) -> None:
    page.show_item(session.project.spans[1].id)
    page.table.setFocus()
    with qtbot.waitSignal(session.wanted) as asked:
        qtbot.keyClick(page.table, Qt.Key.Key_Return)
    assert asked.args == [session.project.spans[1].id]


def test_what_is_selected_elsewhere_is_chosen_here(page: TakeOffPage, session: Session) -> None:
    wanted = session.project.spans[2]
    session.select(wanted.id)
    assert page.items.rows[page.table.currentIndex().row()].id == wanted.id


def test_nothing_is_computed_while_the_page_is_not_seen(
    page: TakeOffPage, session: Session, qtbot: QtBot
) -> None:
    page.hide()
    before = page.found
    session.edit("Rate", with_rates, lay_up=1.0)
    qtbot.waitUntil(lambda: session.fresh, timeout=10_000)
    assert page.found is before
    page.show()
    settled(page, session, qtbot)
    assert page.found is not before


def test_models_are_sound(session: Session, qtmodeltester: ModelTester) -> None:
    found = take_off(with_price(session.project, FIRST_MAT, 4.0))
    items, amounts = ItemsTable(), AmountsTable()
    items.show_all((*found.members, found.total), Shown(), lambda item: item.id)
    amounts.show_all(found.total.amounts, Shown(currency="EUR"), lambda one: one.material)
    qtmodeltester.check(items)
    qtmodeltester.check(amounts)
