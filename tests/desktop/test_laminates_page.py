"""The laminates page through real clicks and keys; the table of plies as a model."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import cast

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QListView,
    QToolButton,
)
from pytestqt.qtbot import QtBot

from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.ply_table import Column
from stringerlab.desktop.pages.cell_editors import SearchChoice, open_choice
from stringerlab.desktop.pages.laminates import LaminatesPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.theme import load_fonts, text_font
from stringerlab.drawing import Area, Role
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, Ply, thickness
from stringerlab.materials import shipped
from stringerlab.project import edits
from stringerlab.project.ply_edits import plies_moved, with_plies
from stringerlab.units import Kind, System, format

Key, Mod, Left = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton

PLAIN = Mod.NoModifier


@pytest.fixture
def page(qtbot: QtBot, qapp: QApplication, session: Session) -> Iterator[LaminatesPage]:
    load_fonts()
    qapp.setFont(text_font())
    page = LaminatesPage(session)
    page.resize(1170, 690)
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    yield page
    QGuiApplication.clipboard().clear()


def materials(page: LaminatesPage) -> list[str]:
    laminate = page.laminate
    assert laminate is not None
    return [ply.material for ply in laminate.plies]


def cell(page: LaminatesPage, row: int, column: int) -> QPoint:
    view = page.editor.view
    return view.visualRect(page.editor.model.index(row, column)).center()


def click(qtbot: QtBot, page: LaminatesPage, row: int, modifier: Qt.KeyboardModifier = PLAIN) -> None:
    qtbot.mouseClick(page.editor.view.viewport(), Left, modifier, cell(page, row, Column.MATERIAL))


def press(qtbot: QtBot, page: LaminatesPage, key: Qt.Key, modifier: Qt.KeyboardModifier = PLAIN) -> None:
    page.editor.view.setFocus()
    qtbot.keyClick(page.editor.view, key, modifier)


def typed(qtbot: QtBot, page: LaminatesPage, row: int, column: int, text: str) -> None:
    view = page.editor.view
    qtbot.mouseClick(view.viewport(), Left, Mod.NoModifier, cell(page, row, column))
    press(qtbot, page, Key.Key_F2)
    field = view.viewport().findChild(QuantityField)
    assert field is not None
    field.selectAll()
    if text:
        qtbot.keyClicks(field, text)
    else:
        qtbot.keyClick(field, Key.Key_Delete)
    qtbot.keyClick(field, Key.Key_Return)
    qtbot.waitUntil(lambda: view.state() != QAbstractItemView.State.EditingState)


def button(page: LaminatesPage, name: str) -> QToolButton:
    return next(one for one in page.findChildren(QToolButton) if one.accessibleName() == name)


# -- what is shown -------------------------------------------------------------------------------


def test_the_first_laminate_is_shown_with_all_its_plies(page: LaminatesPage, session: Session) -> None:
    first = session.project.laminates[0]
    assert page.editor.name.text() == first.name
    assert page.laminates.rowCount() == len(session.project.laminates)
    assert page.editor.model.rowCount() == len(first.plies)


def test_totals_are_those_of_the_laminate(page: LaminatesPage, session: Session) -> None:
    stack = session.resolved.stacks["l1"]
    assert page.totals.value("Thickness") == format(thickness(stack), Kind.LENGTH)
    assert page.totals.value("Mass") == format(sum(ply.mass for ply in stack.plies), Kind.AREAL_MASS)


def test_units_change_live_and_nothing_loses_its_place(
    page: LaminatesPage, session: Session, qtbot: QtBot
) -> None:
    click(qtbot, page, 3)
    session.edit("Change units", lambda project: replace(project, units=System.US))
    assert page.totals.value("Thickness").endswith(" in")
    head = page.editor.model.headerData(Column.THICKNESS, Qt.Orientation.Horizontal)
    assert head.endswith("in")
    assert page.editor.view.selected_rows() == [3]


def test_the_models_keep_qts_rules(
    page: LaminatesPage, session: Session, qtmodeltester: object, qtbot: QtBot
) -> None:
    strict = QAbstractItemModelTester.FailureReportingMode.Fatal
    testers = [QAbstractItemModelTester(model, strict) for model in (page.editor.model, page.laminates)]
    qtmodeltester.check(page.editor.model)  # type: ignore[attr-defined]
    qtmodeltester.check(page.laminates)  # type: ignore[attr-defined]
    click(qtbot, page, 2)
    press(qtbot, page, Key.Key_Insert)
    press(qtbot, page, Key.Key_Delete)
    press(qtbot, page, Key.Key_Down, Mod.AltModifier)
    page.duplicate()
    session.undo()
    session.undo()
    assert len(testers) == 2


def test_a_change_elsewhere_keeps_selection_and_scroll(
    page: LaminatesPage, session: Session, qtbot: QtBot
) -> None:
    session.edit("Grow", with_plies, "l1", 9, [Ply(material="wr600")] * 40)
    page.editor.view.select_rows([30])
    place = page.editor.view.verticalScrollBar().value()
    assert place > 0
    session.edit("Rename", edits.renamed, "l2", "Stringers")
    session.edit("Turn", edits.with_ply_replaced, "l1", 20, Ply(material="wr600", angle=45.0))
    assert page.editor.view.selected_rows() == [30]
    assert page.editor.view.verticalScrollBar().value() == place
    session.edit("Less", edits.without_ply, "l1", 2)
    assert page.editor.view.selected_rows() == [29]


def test_a_hidden_page_catches_up_when_it_is_shown(page: LaminatesPage, session: Session) -> None:
    page.hide()
    session.edit("Add ply", with_plies, "l1", 9, [Ply(material="csm450")])
    page.show()
    assert page.editor.model.rowCount() == 10


def test_undo_brings_a_deleted_laminate_back(page: LaminatesPage, session: Session) -> None:
    page.duplicate()
    copied = page.laminate
    assert copied is not None
    page.delete()
    assert page.laminate is not None
    assert page.laminate.id != copied.id
    session.undo()
    assert page.laminates.row_of(copied.id) == len(session.project.laminates) - 1


# -- plies by key and mouse ----------------------------------------------------------------------


def test_insert_adds_a_ply_after_the_selected_one(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    before = materials(page)
    click(qtbot, page, 3)
    press(qtbot, page, Key.Key_Insert)
    assert materials(page) == [*before[:4], before[3], *before[4:]]
    assert page.editor.view.selected_rows() == [4]
    assert session.undo_label == "Add ply"


def test_delete_removes_all_that_is_selected_at_once(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    before = materials(page)
    click(qtbot, page, 2)
    click(qtbot, page, 5, Mod.ControlModifier)
    press(qtbot, page, Key.Key_Delete)
    assert materials(page) == [*before[:2], *before[3:5], *before[6:]]
    assert session.undo_label == "Delete 2 plies"
    session.undo()
    assert materials(page) == before


def test_alt_and_arrows_move_plies_and_they_stay_selected(page: LaminatesPage, qtbot: QtBot) -> None:
    before = materials(page)
    click(qtbot, page, 2)
    press(qtbot, page, Key.Key_Down, Mod.AltModifier)
    assert materials(page) == [*before[:2], before[3], before[2], *before[4:]]
    assert page.editor.view.selected_rows() == [3]
    press(qtbot, page, Key.Key_Up, Mod.AltModifier)
    assert materials(page) == before
    assert page.editor.view.selected_rows() == [2]


def test_the_last_ply_moves_no_further(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    click(qtbot, page, 8)
    press(qtbot, page, Key.Key_Down, Mod.AltModifier)
    assert session.undo_label is None


def test_control_d_duplicates(page: LaminatesPage, qtbot: QtBot) -> None:
    before = materials(page)
    click(qtbot, page, 2)
    click(qtbot, page, 3, Mod.ShiftModifier)
    press(qtbot, page, Key.Key_D, Mod.ControlModifier)
    assert materials(page) == [*before[:4], *before[2:4], *before[4:]]
    assert page.editor.view.selected_rows() == [4, 5]


def test_repeat_n_times(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    before = materials(page)
    click(qtbot, page, 3)
    page.editor.times.setValue(4)
    qtbot.mouseClick(button(page, "Repeat plies"), Left)
    assert materials(page) == [*before[:4], *[before[3]] * 3, *before[4:]]
    assert session.undo_label == "Repeat ply 4 4 times"


def test_symmetric_by_key(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    page._take("l2")
    laid = materials(page)[1:]
    session.edit("Less", edits.without_ply, "l2", 5)
    press(qtbot, page, Key.Key_M, Mod.ControlModifier)
    assert materials(page)[1:] == [*laid[:4], *laid[2::-1]]
    refusals: list[StringerlabError] = []
    session.problem.connect(refusals.append)
    press(qtbot, page, Key.Key_M, Mod.ControlModifier)
    assert "symmetric already" in str(refusals[0])


def drag(qtbot: QtBot, page: LaminatesPage, start: int, end: QPoint, *, drop: bool = True) -> None:
    port = page.editor.view.viewport()
    begin = cell(page, start, Column.NUMBER)
    qtbot.mousePress(port, Left, Mod.NoModifier, begin)
    for part in (0.3, 0.7, 1.0):
        qtbot.mouseMove(port, begin + (end - begin) * part)
    if drop:
        qtbot.mouseRelease(port, Left, Mod.NoModifier, end)


def test_a_ply_dragged_by_its_number_lands_between_others(page: LaminatesPage, qtbot: QtBot) -> None:
    before = materials(page)
    above = page.editor.view.visualRect(page.editor.model.index(6, 0)).topLeft() + QPoint(10, 3)
    drag(qtbot, page, 1, above)
    assert materials(page) == [before[0], *before[2:6], before[1], *before[6:]]
    assert page.editor.view.selected_rows() == [5]


def test_several_selected_plies_are_dragged_together_to_the_end(page: LaminatesPage, qtbot: QtBot) -> None:
    before = materials(page)
    click(qtbot, page, 1)
    click(qtbot, page, 3, Mod.ControlModifier)
    below = page.editor.view.visualRect(page.editor.model.index(8, 0)).bottomLeft() + QPoint(10, 12)
    drag(qtbot, page, 3, below)
    assert materials(page) == [before[0], before[2], *before[4:], before[1], before[3]]


def test_escape_gives_a_drag_up(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    drag(qtbot, page, 1, cell(page, 6, 0), drop=False)
    qtbot.keyClick(page.editor.view, Key.Key_Escape)
    qtbot.mouseRelease(page.editor.view.viewport(), Left, Mod.NoModifier, cell(page, 6, 0))
    assert session.undo_label is None


# -- cells ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "thickness"), [("0,8", 0.8), ("0.8 mm", 0.8), ("1/32 in", 25.4 / 32), ("20 in", 508.0)]
)
def test_a_thickness_is_typed_with_any_unit(
    page: LaminatesPage, qtbot: QtBot, session: Session, text: str, thickness: float
) -> None:
    typed(qtbot, page, 0, Column.THICKNESS, text)
    laid = session.project.laminates[0].plies[0].thickness
    assert laid == pytest.approx(thickness, rel=1e-12)
    assert session.undo_label == "Change thickness of ply 1"


def test_an_angle_is_kept_in_degrees_to_the_last_digit(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    typed(qtbot, page, 3, Column.ANGLE, "33.3")
    assert session.project.laminates[0].plies[3].angle == 33.3
    assert session.resolved.stacks["l1"].plies[3].angle == pytest.approx(math.radians(33.3))


def test_a_glass_content_emptied_is_the_materials_own_again(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    typed(qtbot, page, 3, Column.GLASS, "0.5")
    assert session.project.laminates[0].plies[3].glass == 0.5
    typed(qtbot, page, 3, Column.GLASS, "")
    assert session.project.laminates[0].plies[3].glass is None


@pytest.mark.parametrize("selected", [False, True])
def test_a_double_click_edits_a_cell_of_any_row(
    page: LaminatesPage, qtbot: QtBot, session: Session, *, selected: bool
) -> None:
    view = page.editor.view
    page.editor.view.select_rows([0 if selected else 5])
    at = cell(page, 0, Column.THICKNESS)
    qtbot.mouseClick(view.viewport(), Left, PLAIN, at)
    qtbot.mouseDClick(view.viewport(), Left, PLAIN, at)
    field = view.viewport().findChild(QuantityField)
    assert field is not None
    assert field.text() == "0.6 mm"
    qtbot.keyClick(field, Key.Key_Escape)
    assert session.undo_label is None


def test_a_digit_typed_on_a_cell_begins_an_edit(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    view = page.editor.view
    qtbot.mouseClick(view.viewport(), Left, PLAIN, cell(page, 0, Column.THICKNESS))
    press(qtbot, page, Key.Key_1)
    field = view.viewport().findChild(QuantityField)
    assert field is not None
    qtbot.keyClick(field, Key.Key_Return)
    qtbot.waitUntil(lambda: session.project.laminates[0].plies[0].thickness == 1.0)


def test_what_does_not_read_is_said_and_changes_nothing(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    with qtbot.waitSignal(session.said) as said:
        typed(qtbot, page, 3, Column.WEIGHT, "plenty")
    assert said.args is not None
    assert "plenty" in said.args[0]
    assert session.undo_label is None


def test_the_angle_of_a_mat_says_nothing_and_cannot_be_typed(page: LaminatesPage) -> None:
    index = page.editor.model.index(1, Column.ANGLE)
    assert not index.flags() & Qt.ItemFlag.ItemIsEditable
    assert index.data() == "—"


def test_another_material_is_picked_by_key(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    view = page.editor.view
    click(qtbot, page, 3)
    press(qtbot, page, Key.Key_Return)
    box = view.viewport().findChild(QComboBox)
    assert box is not None
    assert box.currentData() == "wr800"
    held = [material.id for material in shipped().reinforcements]
    after = held[held.index("wr800") + 1]
    qtbot.keyClick(box, Key.Key_Down)
    assert session.undo_label is None
    qtbot.keyClick(box, Key.Key_Return)
    qtbot.waitUntil(lambda: materials(page)[3] == after)
    assert session.undo_label == "Change material of ply 4"


def opened_list(page: LaminatesPage, qtbot: QtBot, row: int) -> SearchChoice:
    index = page.editor.model.index(row, Column.MATERIAL)
    page.editor.view.setCurrentIndex(index)
    page.editor.view.edit(index)
    open_choice(page.editor.view)
    box = page.editor.view.viewport().findChild(SearchChoice)
    assert isinstance(box, SearchChoice)
    qtbot.waitUntil(box.view().isVisible)
    return box


def test_a_material_is_found_by_words_of_its_name_kind_or_fibre(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    box = opened_list(page, qtbot, 3)
    qtbot.keyClicks(box.search, "carbon unidir")
    rows = cast(QListView, box.view())
    shown = [box.itemText(row) for row in range(box.count()) if not rows.isRowHidden(row)]
    weights = (200, 300, 400, 600)
    assert shown == ["Unidirectional", *(f"Carbon unidirectional {weight} g/m²" for weight in weights)]
    qtbot.keyClick(box.search, Key.Key_Down)
    qtbot.keyClick(box.search, Key.Key_Return)
    qtbot.waitUntil(lambda: materials(page)[3] == "cud300")
    assert session.undo_label == "Change material of ply 4"


def test_a_click_in_the_list_takes_a_material(page: LaminatesPage, qtbot: QtBot) -> None:
    box = opened_list(page, qtbot, 3)
    index = box.model().index(box.findData("m1808"), 0)
    box.view().scrollTo(index)
    qtbot.wait(QApplication.doubleClickInterval() + 50)  # Qt takes no earlier click for one in the list
    qtbot.mouseClick(box.view().viewport(), Left, PLAIN, box.view().visualRect(index).center())
    qtbot.waitUntil(lambda: materials(page)[3] == "m1808")


def test_escape_leaves_the_material_whatever_was_searched(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    view = page.editor.view
    click(qtbot, page, 3)
    view.setCurrentIndex(page.editor.model.index(3, Column.MATERIAL))
    press(qtbot, page, Key.Key_1)
    box = view.viewport().findChild(SearchChoice)
    assert isinstance(box, SearchChoice)
    assert box.search.text() == "1"
    qtbot.keyClicks(box.search, "808")
    qtbot.keyClick(box.search, Key.Key_Escape)
    qtbot.waitUntil(lambda: not view.viewport().findChildren(SearchChoice))
    assert session.undo_label is None


def test_a_core_in_place_of_a_mat_drops_what_a_core_has_not(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    typed(qtbot, page, 3, Column.GLASS, "0.5")
    page.editor.model.setData(page.editor.model.index(3, Column.MATERIAL), "pvc80")
    assert session.project.laminates[0].plies[3] == Ply(material="pvc80")


# -- clipboard -----------------------------------------------------------------------------------


def test_plies_copied_in_one_laminate_are_pasted_in_another(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    typed(qtbot, page, 3, Column.ANGLE, "33.3")
    click(qtbot, page, 3)
    click(qtbot, page, 4, Mod.ShiftModifier)
    press(qtbot, page, Key.Key_C, Mod.ControlModifier)
    copied = session.project.laminates[0].plies[3:5]
    page._take("l4")
    click(qtbot, page, 0)
    press(qtbot, page, Key.Key_V, Mod.ControlModifier)
    assert session.project.laminates[3].plies[1:3] == copied
    assert page.editor.view.selected_rows() == [1, 2]
    assert session.undo_label == "Paste 2 plies"


def test_copied_text_has_heads_with_units_and_tabs(page: LaminatesPage, qtbot: QtBot) -> None:
    click(qtbot, page, 3)
    press(qtbot, page, Key.Key_C, Mod.ControlModifier)
    head, line = QGuiApplication.clipboard().text().split("\n")
    assert head.split("\t")[:5] == ["Ply", "Material", "Angle, deg", "Glass", "Dry weight, g/m²"]
    assert line.split("\t")[:5] == ["4", "Woven roving 800 g/m²", "0", "0.48", "800.0"]


def test_text_from_a_spreadsheet_is_pasted(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    QGuiApplication.clipboard().setText("Material\tAngle, deg\tThickness, in\nud300\t30\t\ngelcoat\t\t0.02\n")
    page._take("l4")
    click(qtbot, page, 2)
    press(qtbot, page, Key.Key_V, Mod.ControlModifier)
    laid = session.project.laminates[3].plies[3:]
    assert laid == (Ply(material="ud300", angle=30.0), Ply(material="gelcoat", thickness=0.508))


def test_every_line_that_does_not_read_is_named(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    QGuiApplication.clipboard().setText("teak\ncsm450\npine")
    refusals: list[StringerlabError] = []
    session.problem.connect(refusals.append)
    press(qtbot, page, Key.Key_V, Mod.ControlModifier)
    assert [problem.where for problem in refusals[0].problems] == ["pasted line 1", "pasted line 3"]
    assert session.undo_label is None


def test_cut_is_copy_and_delete(page: LaminatesPage, qtbot: QtBot) -> None:
    before = materials(page)
    click(qtbot, page, 3)
    press(qtbot, page, Key.Key_X, Mod.ControlModifier)
    assert materials(page) == [*before[:3], *before[4:]]
    press(qtbot, page, Key.Key_V, Mod.ControlModifier)
    assert sorted(materials(page)) == sorted(before)


# -- laminates -----------------------------------------------------------------------------------


def test_a_laminate_is_renamed_in_the_list(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    page.list.setFocus()
    qtbot.keyClick(page.list, Key.Key_F2)
    field = page.list.viewport().findChild(QLineEdit)
    assert field is not None
    field.selectAll()
    qtbot.keyClicks(field, "Hull bottom")
    qtbot.keyClick(field, Key.Key_Return)
    qtbot.waitUntil(lambda: session.project.laminates[0].name == "Hull bottom")
    assert page.editor.name.text() == "Hull bottom"


def test_a_laminate_is_renamed_over_its_table(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    name = page.editor.name
    name.setFocus()
    name.selectAll()
    qtbot.keyClicks(name, "Skin")
    qtbot.keyClick(name, Key.Key_Return)
    assert session.project.laminates[0].name == "Skin"
    assert session.undo_label == "Rename laminate Bottom"


def test_an_empty_name_is_none(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    name = page.editor.name
    name.setFocus()
    name.selectAll()
    qtbot.keyClick(name, Key.Key_Delete)
    qtbot.keyClick(name, Key.Key_Return)
    assert name.text() == "Bottom"
    assert session.undo_label is None


def test_a_new_laminate_is_shown_and_its_name_edited(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    page.list.setFocus()
    qtbot.keyClick(page.list, Key.Key_Insert)
    field = page.list.viewport().findChild(QLineEdit)
    assert field is not None
    qtbot.keyClicks(field, "Tabbing")
    qtbot.keyClick(field, Key.Key_Return)
    qtbot.waitUntil(lambda: session.project.laminates[-1].name == "Tabbing")
    assert page.laminate == session.project.laminates[-1]
    assert page.users.list.count() == 0


def test_a_laminate_in_use_stays_and_its_users_are_named(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    refusals: list[StringerlabError] = []
    session.problem.connect(refusals.append)
    qtbot.mouseClick(button(page, "Delete laminate"), Left)
    assert page.laminates.row_of("l1") == 0
    named = " ".join(problem.where for problem in refusals[0].problems)
    assert session.project.panels[0].name in named
    assert session.undo_label is None


def test_a_copy_is_deleted_by_key(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    page.list.setFocus()
    qtbot.keyClick(page.list, Key.Key_D, Mod.ControlModifier)
    assert page.laminate is not None
    assert page.laminate.name == "Bottom, copy"
    qtbot.keyClick(page.list, Key.Key_Delete)
    assert len(session.project.laminates) == 4


def test_where_it_is_used_takes_there(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    listed = page.users.list
    texts = [listed.item(i).text() for i in range(listed.count())]
    wanted = session.project.panels[0]
    row = texts.index(f"Panel {wanted.name}")
    with qtbot.waitSignal(session.wanted) as taken:
        qtbot.mouseClick(listed.viewport(), Left, pos=listed.visualItemRect(listed.item(row)).center())
    assert taken.args == [wanted.id]


def test_a_laminate_selected_elsewhere_is_shown(page: LaminatesPage, session: Session) -> None:
    session.take_to("l3")
    assert page.editor.name.text() == "Floor plate"
    assert page.list.currentIndex().row() == 2


# -- pictures ------------------------------------------------------------------------------------


def test_a_click_on_the_picture_picks_the_ply_in_the_table(page: LaminatesPage, qtbot: QtBot) -> None:
    def middle(number: int) -> QPoint:
        [ring] = next(
            item.rings
            for item in page.picture.picture
            if isinstance(item, Area) and item.subject == f"ply/{number}"
        )
        x, y = ring.mean(axis=0)
        return page.picture.to_screen.map(QPointF(float(x), float(y))).toPoint()

    qtbot.mouseClick(page.picture, Left, pos=middle(4))
    assert page.editor.view.selected_rows() == [3]
    qtbot.mouseClick(page.picture, Left, Mod.ControlModifier, pos=middle(6))
    assert page.editor.view.selected_rows() == [3, 5]
    assert page.picture.selected == (3, 5)


def test_plies_picked_in_the_table_are_marked_in_the_picture(page: LaminatesPage, qtbot: QtBot) -> None:
    click(qtbot, page, 5)
    marked = [item.subject for item in page.picture.picture if getattr(item, "role", None) is Role.SELECTED]
    assert marked == ["ply/6"]


# -- what is wrong -------------------------------------------------------------------------------


def test_a_broken_laminate_says_so_and_can_be_mended(
    page: LaminatesPage, qtbot: QtBot, session: Session
) -> None:
    session.edit("Add core", with_plies, "l1", 3, [Ply(material="pvc80")])
    assert "l1" not in session.resolved.stacks
    assert "has no thickness" in page.editor.problems.text
    assert page.editor.model.index(3, 0).data() == "4 !"
    assert page.editor.model.index(4, Column.E1).data() != "—"
    typed(qtbot, page, 3, Column.THICKNESS, "20")
    assert page.editor.problems.text == ""
    assert page.totals.value("Thickness") == format(thickness(session.resolved.stacks["l1"]), Kind.LENGTH)


def test_a_material_that_is_not_there_is_named(page: LaminatesPage, session: Session) -> None:
    session.edit("Spoil", edits.with_ply_replaced, "l1", 3, Ply(material="wr80o"))
    assert "wr80o" in page.editor.problems.text
    assert page.editor.model.index(3, Column.MATERIAL).data() == "wr80o"


def test_a_laminate_without_plies_can_be_filled(page: LaminatesPage, qtbot: QtBot, session: Session) -> None:
    session.edit("Add", edits.added, Laminate(id="", name="Empty", plies=()))
    page._take(session.project.laminates[-1].id)
    assert "no plies" in page.editor.problems.text
    press(qtbot, page, Key.Key_Insert)
    assert materials(page) == [shipped().reinforcements[0].id]
    assert page.editor.problems.text == ""


def test_moving_plies_elsewhere_shows_in_the_table(page: LaminatesPage, session: Session) -> None:
    session.edit("Move", plies_moved, "l1", [1], 4)
    shown = [page.editor.model.index(row, Column.MATERIAL).data(Qt.ItemDataRole.UserRole) for row in range(9)]
    assert shown == materials(page)


def test_a_ply_asked_for_from_elsewhere_is_selected(
    page: LaminatesPage, session: Session, qtbot: QtBot
) -> None:
    other = session.project.laminates[2]
    session.select(f"{other.id}/3")
    assert page.laminate is not None
    assert page.laminate.id == other.id
    assert page.editor.view.selected_rows() == [2]
    page.hide()
    session.select(f"{other.id}/2")
    with qtbot.waitExposed(page):
        page.show()
    assert page.editor.view.selected_rows() == [1]


def test_symbols_are_written_with_their_indices(page: LaminatesPage) -> None:
    labels = [label.text() for label in page.constants.findChildren(QLabel)]
    assert "Poisson ν<sub>xy</sub>" in labels
    assert "E<sub>x</sub>" in labels
