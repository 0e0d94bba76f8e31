"""Tested coupons on the materials page through real clicks and keys; their table as a model."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QToolButton
from pytestqt.qtbot import QtBot

from stringerlab.desktop.models.coupons import Column
from stringerlab.desktop.pages.coupons import CouponPanel
from stringerlab.desktop.pages.materials import MaterialsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.theme import load_fonts, text_font
from stringerlab.materials.records import CouponSet, Property
from stringerlab.project import edits
from stringerlab.units import System

Key, Mod, Left = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton
SIX = CouponSet(
    property=Property.TENSION_1,
    mean=104.0,
    deviation=4.0,
    count=6,
    glass=0.30,
    standard="ISO 527-4",
    source="report 3 of an invented yard",
)


@pytest.fixture
def page(qtbot: QtBot, qapp: QApplication, session: Session) -> MaterialsPage:
    load_fonts()
    qapp.setFont(text_font())
    page = MaterialsPage(session)
    page.resize(1170, 690)
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    session.select("csm450")
    return page


@pytest.fixture
def panel(page: MaterialsPage) -> CouponPanel:
    return page.coupons


def tested(page: MaterialsPage, session: Session, *coupons: CouponSet) -> None:
    """Make an own mat with these coupons, and show it."""
    page.copy_to_own()
    [own] = session.project.materials.reinforcements
    session.edit("Enter coupons", edits.replaced, replace(own, coupons=coupons))


def button(panel: CouponPanel, words: str) -> QToolButton:
    return next(one for one in panel.findChildren(QToolButton) if one.text() == words)


def text(panel: CouponPanel, row: int, column: Column) -> str:
    return str(panel.model.index(row, column).data())


def typed(qtbot: QtBot, panel: CouponPanel, row: int, column: Column, words: str) -> None:
    index = panel.model.index(row, column)
    qtbot.mouseClick(panel.table.viewport(), Left, pos=panel.table.visualRect(index).center())
    panel.table.setFocus()
    qtbot.keyClick(panel.table, Key.Key_F2)
    field = panel.table.viewport().findChild(QLineEdit)
    assert isinstance(field, QLineEdit)
    field.selectAll()
    qtbot.keyClick(field, Key.Key_Delete)
    qtbot.keyClicks(field, words)
    qtbot.keyClick(field, Key.Key_Return)
    qtbot.waitUntil(lambda: not panel.table.viewport().findChildren(QLineEdit))


def held(session: Session) -> tuple[CouponSet, ...]:
    return session.project.materials.reinforcements[0].coupons


def test_adding_to_a_shipped_material_makes_an_own_copy(
    qtbot: QtBot, panel: CouponPanel, page: MaterialsPage, session: Session
) -> None:
    assert not panel.table.isVisible()
    qtbot.mouseClick(button(panel, "Add"), Left)
    [own] = session.project.materials.reinforcements
    assert own.id != "csm450"
    assert [each.property for each in own.coupons] == [Property.TENSION_1]
    assert page.material == own
    assert panel.table.isVisible()
    assert session.undo_label == f"Add coupons to {own.name}"


def test_a_set_is_entered_cell_by_cell_and_takes_the_place_of_the_estimate(
    qtbot: QtBot, panel: CouponPanel, session: Session
) -> None:
    qtbot.mouseClick(button(panel, "Add"), Left)
    assert text(panel, 0, Column.METHOD) == "not used"
    typed(qtbot, panel, 0, Column.MEAN, "104")
    typed(qtbot, panel, 0, Column.DEVIATION, "580 psi")
    typed(qtbot, panel, 0, Column.COUNT, "50")
    typed(qtbot, panel, 0, Column.STANDARD, "ISO 527-4")
    typed(qtbot, panel, 0, Column.SOURCE, "report 3")
    typed(qtbot, panel, 0, Column.THICKNESS, "3.2")
    typed(qtbot, panel, 0, Column.GLASS, "31 %")
    [one] = held(session)
    assert one.deviation == pytest.approx(3.99896, abs=1e-4)  # 580 × 0.00689476
    assert (one.mean, one.count, one.standard, one.source) == (104.0, 50, "ISO 527-4", "report 3")
    assert (one.thickness, one.glass) == (3.2, pytest.approx(0.31))
    # 104 − 1.646 × 3.999 = 97.42; 0.9 × 104 = 93.6
    assert text(panel, 0, Column.BOUND) == "97.42"
    assert text(panel, 0, Column.METHOD) == "93.60"
    assert text(panel, 0, Column.ESTIMATE) == "85.00"
    assert str(session.undo_label).startswith("Change glass content of tension 1 coupons of Chopped mat 450")
    session.undo()
    assert held(session)[0].glass == 0.30


def test_another_property_is_picked(
    qtbot: QtBot, panel: CouponPanel, page: MaterialsPage, session: Session
) -> None:
    tested(page, session, SIX)
    panel.table.setCurrentIndex(panel.model.index(0, Column.PROPERTY))
    panel.table.setFocus()
    qtbot.keyClick(panel.table, Key.Key_F2)
    box = panel.table.viewport().findChild(QComboBox)
    assert isinstance(box, QComboBox)
    qtbot.keyClicks(box, "Flex")
    qtbot.keyClick(box, Key.Key_Return)
    qtbot.waitUntil(lambda: not panel.table.viewport().findChildren(QComboBox))
    assert held(session)[0].property is Property.FLEXURAL


def test_a_set_of_one_is_said_and_not_used(panel: CouponPanel, page: MaterialsPage, session: Session) -> None:
    tested(page, session, replace(SIX, count=1, deviation=0.0))
    assert text(panel, 0, Column.METHOD) == "not used"
    assert text(panel, 0, Column.BOUND) == "—"
    assert "one coupon has no deviation and gives no lower bound" in panel.said.text()
    tip = str(panel.model.index(0, Column.METHOD).data(Qt.ItemDataRole.ToolTipRole))
    assert tip == "Not used: one coupon has no deviation, so no lower bound; the estimate stands."


def test_a_bound_below_nought_is_said_as_a_problem(
    panel: CouponPanel, page: MaterialsPage, session: Session
) -> None:
    tested(page, session, replace(SIX, deviation=40.0))
    assert "is not above 0" in page.problems.text
    assert text(panel, 0, Column.METHOD) == "not used"


@pytest.mark.parametrize(
    ("column", "words", "said"),
    [
        (Column.COUNT, "2.5", "A number of coupons is whole."),
        (Column.SOURCE, "", "Coupons need a source: who tested, and which report."),
        (Column.MEAN, "", "This value cannot be left out."),
    ],
)
def test_what_cannot_be_is_said_and_changes_nothing(
    qtbot: QtBot,
    panel: CouponPanel,
    page: MaterialsPage,
    session: Session,
    column: Column,
    words: str,
    said: str,
) -> None:
    tested(page, session, SIX)
    with qtbot.waitSignal(session.said) as heard:
        typed(qtbot, panel, 0, column, words)
    assert heard.args == [said]
    assert held(session) == (SIX,)


def test_a_thickness_is_taken_away(
    qtbot: QtBot, panel: CouponPanel, page: MaterialsPage, session: Session
) -> None:
    tested(page, session, replace(SIX, thickness=3.2))
    typed(qtbot, panel, 0, Column.THICKNESS, "")
    assert held(session)[0].thickness is None


def test_sets_are_deleted_by_key_and_come_back(
    qtbot: QtBot, panel: CouponPanel, page: MaterialsPage, session: Session
) -> None:
    other = replace(SIX, property=Property.FLEXURAL, mean=170.0)
    tested(page, session, SIX, other)
    panel.table.setFocus()
    panel.table.selectRow(0)
    qtbot.keyClick(panel.table, Key.Key_Delete)
    assert held(session) == (other,)
    session.undo()
    assert held(session) == (SIX, other)


def test_rows_are_copied_as_text(
    qtbot: QtBot, panel: CouponPanel, page: MaterialsPage, session: Session
) -> None:
    tested(page, session, SIX)
    panel.table.setFocus()
    qtbot.keyClick(panel.table, Key.Key_C, Mod.ControlModifier)
    head, line = QGuiApplication.clipboard().text().split("\n")
    QGuiApplication.clipboard().clear()
    assert head.split("\t")[:2] == ["Property", "Mean, MPa"]
    assert line.split("\t")[:4] == ["Tension 1", "104.0", "4.000", "6"]


def test_units_are_switched_live(panel: CouponPanel, page: MaterialsPage, session: Session) -> None:
    tested(page, session, SIX)
    session.edit("Change units", lambda project: replace(project, units=System.US))
    assert text(panel, 0, Column.MEAN) == "15084"  # 104 / 0.00689476
    assert str(panel.model.headerData(Column.MEAN, Qt.Orientation.Horizontal)).endswith("psi")


def test_nothing_is_cut_off_in_a_small_window(
    panel: CouponPanel, page: MaterialsPage, session: Session, qtbot: QtBot
) -> None:
    tested(page, session, SIX)
    qtbot.waitUntil(lambda: panel.table.horizontalScrollBar().maximum() == 0)


def test_only_reinforcements_have_coupons(panel: CouponPanel, session: Session) -> None:
    assert panel.isVisible()
    session.select("pvc80")
    assert not panel.isVisible()


def test_a_fabric_of_several_layers_says_why_it_has_no_coupons(panel: CouponPanel, session: Session) -> None:
    session.select("m1808")
    assert panel.isVisible()
    assert "layer by layer" in panel.said.text()
    assert not panel.deeds["Add"].isEnabled()
    session.select("csm450")
    assert panel.deeds["Add"].isEnabled()


def test_a_shipped_materials_cells_are_read_only(panel: CouponPanel) -> None:
    model = panel.model
    assert not any(
        model.index(row, column).flags() & Qt.ItemFlag.ItemIsEditable
        for row in range(model.rowCount())
        for column in Column
    )


def test_the_model_keeps_qts_rules(
    panel: CouponPanel, page: MaterialsPage, session: Session, qtmodeltester: object
) -> None:
    tester = QAbstractItemModelTester(panel.model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    tested(page, session, SIX, replace(SIX, property=Property.MODULUS_1, mean=7000.0))
    qtmodeltester.check(panel.model)  # type: ignore[attr-defined]
    session.undo()
    session.select("pvc80")
    assert tester is not None
