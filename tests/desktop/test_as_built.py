"""What the shop measured, typed in beside each ply; what it changes, in a window that follows each edit."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.desktop.as_built import ChangesPane, MeasuredTable
from stringerlab.desktop.models.as_built import Column, MeasuredModel
from stringerlab.desktop.pages.findings_head import FindingsHead
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.layout.as_built import LaminateAsBuilt, PlyAsBuilt
from stringerlab.project.measuring import (
    measured_bead,
    measured_laminate,
    measured_ply,
    with_laminate_measured,
)
from stringerlab.project.ply_edits import plies_moved

HULL = "l1"


@pytest.fixture
def table(session: Session, qtbot: QtBot) -> Iterator[MeasuredTable]:
    made = MeasuredTable(session)
    qtbot.addWidget(made)
    made.resize(620, 420)

    def follow() -> None:
        made.show_laminate(next(one for one in session.shown.laminates if one.id == HULL))

    follow()
    session.shown_changed.connect(follow)
    with qtbot.waitExposed(made):
        made.show()
    yield made
    session.shown_changed.disconnect(follow)
    made.close()


def typed(table: MeasuredTable, qtbot: QtBot, row: int, column: Column, text: str) -> None:
    """Type into a cell through its editor."""
    index = table.model.index(row, column)
    table.view.setCurrentIndex(index)
    table.view.edit(index)
    editor = table.view.findChild(QLineEdit)
    assert editor is not None
    editor.selectAll()
    qtbot.keyClick(editor, Qt.Key.Key_Delete)
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not table.view.findChildren(QLineEdit))


def test_a_ply_is_measured_by_typing_and_undone(table: MeasuredTable, session: Session, qtbot: QtBot) -> None:
    before = session.project
    typed(table, qtbot, 1, Column.THICKNESS, "1,2 mm")
    assert measured_ply(session.project, HULL, 2) == PlyAsBuilt(ply=2, thickness=1.2)
    assert session.undo_label == "Measure ply 2 of Bottom"
    typed(table, qtbot, 1, Column.GLASS, "0.31")
    assert measured_ply(session.project, HULL, 2) == PlyAsBuilt(ply=2, thickness=1.2, glass=0.31)
    typed(table, qtbot, 1, Column.THICKNESS, "")
    assert measured_ply(session.project, HULL, 2) == PlyAsBuilt(ply=2, glass=0.31)
    for _ in range(3):
        session.undo()
    assert session.project == before


def test_a_tick_leaves_a_ply_out(table: MeasuredTable, session: Session) -> None:
    index = table.model.index(2, Column.MISSING)
    assert table.model.setData(index, Qt.CheckState.Checked, Qt.ItemDataRole.CheckStateRole)
    assert measured_ply(session.project, HULL, 3).missing
    assert table.model.data(table.model.index(2, Column.MISSING), Qt.ItemDataRole.CheckStateRole) == (
        Qt.CheckState.Checked
    )


def test_the_last_row_is_the_whole(table: MeasuredTable, session: Session, qtbot: QtBot) -> None:
    last = table.model.rowCount() - 1
    typed(table, qtbot, last, Column.THICKNESS, "9 mm")
    assert measured_laminate(session.project, HULL) == LaminateAsBuilt(laminate=HULL, thickness=9.0)
    assert not table.model.flags(table.model.index(last, Column.MISSING)) & Qt.ItemFlag.ItemIsUserCheckable


def test_what_was_measured_is_marked_by_shape_word_and_weight(
    table: MeasuredTable, session: Session, qtbot: QtBot
) -> None:
    def said(row: int, column: Column, role: Qt.ItemDataRole = Qt.ItemDataRole.DisplayRole) -> str:
        return str(table.model.index(row, column).data(role) or "")

    tip, font = Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.FontRole
    assert not any("◆" in said(row, Column.PLY) for row in range(table.model.rowCount()))
    drawn = float(said(1, Column.DRAWN).removesuffix(" mm"))
    typed(table, qtbot, 1, Column.THICKNESS, f"{1.5 * drawn:.3f} mm")
    typed(table, qtbot, 1, Column.GLASS, "31 %")
    assert said(1, Column.PLY).startswith("◆ 2  ")
    assert said(1, Column.THICKNESS).startswith("◆ ")
    assert said(1, Column.GLASS) == "◆ 0.31"
    assert said(1, Column.GLASS, Qt.ItemDataRole.EditRole) == "0.31"
    assert "(+50 %)" in said(1, Column.THICKNESS, tip)
    assert "measured glass 31 %" in said(1, Column.PLY, tip)
    assert table.model.index(1, Column.GLASS).data(font).bold()
    assert table.model.index(1, Column.DRAWN).data(font) is None
    table.model.setData(
        table.model.index(2, Column.MISSING), Qt.CheckState.Checked, Qt.ItemDataRole.CheckStateRole
    )
    assert said(2, Column.THICKNESS) == "◆ not laid"
    assert said(2, Column.THICKNESS, Qt.ItemDataRole.EditRole) == ""
    assert said(2, Column.PLY).startswith("◆ 3  ")
    assert "it was not laid" in said(2, Column.PLY, Qt.ItemDataRole.AccessibleTextRole)


def test_a_mark_moves_with_its_ply_and_comes_back_by_undo(
    table: MeasuredTable, session: Session, qtbot: QtBot
) -> None:
    typed(table, qtbot, 1, Column.THICKNESS, "1.2 mm")
    session.edit("Move ply", plies_moved, HULL, [1], 4)
    marked = [
        row
        for row in range(table.model.rowCount())
        if str(table.model.index(row, Column.PLY).data()).startswith("◆")
    ]
    assert marked == [3]
    session.undo()
    assert measured_ply(session.project, HULL, 2) == PlyAsBuilt(ply=2, thickness=1.2)


def test_what_does_not_read_is_told(table: MeasuredTable, session: Session, qtbot: QtBot) -> None:
    before = session.project
    with qtbot.waitSignal(session.problem) as told:
        typed(table, qtbot, 1, Column.THICKNESS, "thick")
    assert told.args is not None
    assert isinstance(told.args[0], StringerlabError)
    assert session.project is before


def test_a_bead_is_measured_and_taken_back(table: MeasuredTable, session: Session, qtbot: QtBot) -> None:
    assert table.section.value == "s5"  # the floor is laminated in place
    assert table.section.count() == 1
    table.bead.setFocus()
    qtbot.keyClicks(table.bead, "7 mm")
    qtbot.keyClick(table.bead, Qt.Key.Key_Return)
    assert measured_bead(session.project, "s5") == 7.0
    session.undo()
    assert session.project.as_built is None
    assert table.bead.text() == ""


def test_the_model_is_sound(session: Session, qtmodeltester: ModelTester) -> None:
    model = MeasuredModel(session)
    model.show_laminate(session.project.laminates[0])
    qtmodeltester.check(model)


def test_what_it_changes_is_shown_and_follows(table: MeasuredTable, session: Session, qtbot: QtBot) -> None:
    assert not table.changes_button.isEnabled()
    missing = tuple(PlyAsBuilt(ply=n, missing=True) for n in (4, 5, 6))
    session.edit("Measure", with_laminate_measured, LaminateAsBuilt(laminate=HULL, plies=missing))
    qtbot.mouseClick(table.changes_button, Qt.MouseButton.LeftButton)
    pane = table.findChild(ChangesPane)
    assert pane is not None
    with qtbot.waitSignal(pane.job.finished, timeout=20_000):
        pass
    assert pane.rows.rowCount() > 0
    assert pane.rows.change(0).worse
    qtbot.mouseClick(pane.copy_button, Qt.MouseButton.LeftButton)
    assert QGuiApplication.clipboard().text().startswith("subject\taspect\tas drawn\tas built\n")
    with qtbot.waitSignal(pane.job.failed, timeout=20_000):
        qtbot.mouseClick(table.clear_button, Qt.MouseButton.LeftButton)
    assert "Nothing was measured" in pane.state.text()
    assert session.project.as_built is None
    pane.close()


def test_the_findings_offer_it_only_where_something_was_measured(session: Session, qtbot: QtBot) -> None:
    head = FindingsHead(session, "Findings")
    qtbot.addWidget(head)
    assert head.built.isHidden()
    missing = (PlyAsBuilt(ply=4, missing=True),)
    session.edit("Measure", with_laminate_measured, LaminateAsBuilt(laminate=HULL, plies=missing))
    assert not head.built.isHidden()
    head.built.click()
    pane = head.findChild(ChangesPane)
    assert pane is not None
    with qtbot.waitSignal(pane.job.finished, timeout=20_000):
        pass
    pane.close()
