"""The problems panel: live, with the way to each place."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.desktop.problems import ProblemsPanel
from stringerlab.desktop.session import Session
from stringerlab.errors import FIRST_SHOWN
from stringerlab.project import Project
from stringerlab.project.particulars import with_craft_values
from stringerlab.section import Section


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> ProblemsPanel:
    panel = ProblemsPanel(session)
    qtbot.addWidget(panel)
    panel.resize(900, 220)
    panel.show()
    return panel


def widened(project: Project, count: int = 1) -> Project:
    """Return the project with so many panels wider than long."""
    wide = tuple(replace(panel, b=9000.0) for panel in project.panels[:count])
    return replace(project, panels=(*wide, *project.panels[count:]))


def with_bare_sections(project: Project, count: int) -> Project:
    bare = tuple(Section(id=f"s{900 + i}", name=f"bare {i}", walls=()) for i in range(count))
    return replace(project, sections=(*project.sections, *bare))


def row_texts(panel: ProblemsPanel, row: int) -> list[object]:
    model = panel.model
    return [model.data(model.index(row, column)) for column in range(model.columnCount())]


def test_a_sound_project_says_that_nothing_is_wrong(panel: ProblemsPanel) -> None:
    assert panel.summary.text() == "No problems"
    assert panel.empty.isVisible()
    assert not panel.table.isVisible()
    assert not panel.copy_button.isEnabled()


def test_a_problem_comes_and_goes_with_the_edit(panel: ProblemsPanel, session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(panel.count_changed) as counted:
        session.edit("Widen", widened)
    assert counted.args == [1]
    assert panel.table.isVisible()
    where, what, remedy = row_texts(panel, 0)
    name = session.project.panels[0].name
    assert where == f"Panel '{name}' ({session.project.panels[0].id})"
    assert "b is the short side" in str(what)
    assert remedy == "Exchange b and l."
    with qtbot.waitSignal(panel.count_changed) as counted:
        session.undo()
    assert counted.args == [0]
    assert panel.empty.isVisible()


def test_a_preview_shows_its_problems_while_it_lasts(panel: ProblemsPanel, session: Session) -> None:
    session.preview(widened(session.project, 2))
    assert panel.count == 2
    session.preview(None)
    assert panel.count == 0


def test_enter_and_double_click_go_to_the_place(panel: ProblemsPanel, session: Session, qtbot: QtBot) -> None:
    session.edit("Widen", widened, 2)
    panel.table.setFocus()
    panel.table.setCurrentIndex(panel.model.index(1, 0))
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.keyClick(panel.table, Qt.Key.Key_Return)
    assert wanted.args == [session.project.panels[1].id]
    rect = panel.table.visualRect(panel.model.index(0, 1))
    viewport = panel.table.viewport()
    qtbot.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=rect.center())
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.mouseDClick(viewport, Qt.MouseButton.LeftButton, pos=rect.center())
    assert wanted.args == [session.project.panels[0].id]
    assert session.selected == session.project.panels[0].id


def test_the_boats_own_problem_goes_to_the_boat(panel: ProblemsPanel, session: Session, qtbot: QtBot) -> None:
    session.edit("Speed", with_craft_values, speed=500.0)
    panel.table.setCurrentIndex(panel.model.index(0, 0))
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.keyClick(panel.table, Qt.Key.Key_Enter)
    assert wanted.args == ["craft"]


def test_the_first_fifty_are_listed_and_the_rest_counted(panel: ProblemsPanel, session: Session) -> None:
    session.edit("Bare", with_bare_sections, 64)
    assert panel.model.rowCount() == FIRST_SHOWN
    assert panel.summary.text() == "64 problems; the first 50 listed, 14 more"


def test_all_of_them_are_copied(panel: ProblemsPanel, session: Session, qtbot: QtBot) -> None:
    session.edit("Bare", with_bare_sections, 64)
    qtbot.mouseClick(panel.copy_button, Qt.MouseButton.LeftButton)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == 64
    assert lines[0] == "section 'bare 0' (s900): It has no wall. Draw at least one."


def test_the_selected_ones_are_copied_by_the_copy_keys(
    panel: ProblemsPanel, session: Session, qtbot: QtBot
) -> None:
    session.edit("Bare", with_bare_sections, 3)
    panel.table.selectRow(1)
    qtbot.keyClick(panel.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QGuiApplication.clipboard().text() == "section 'bare 1' (s901): It has no wall. Draw at least one."


def test_a_repair_is_listed_as_put_right_and_not_counted(panel: ProblemsPanel, session: Session) -> None:
    [hat, *others] = session.project.sections
    wall = hat.walls[0]
    twin = replace(wall, id="w800", points=tuple((y + 1.0, z) for y, z in wall.points))
    overlapping = replace(hat, walls=(wall, twin))
    session.preview(replace(session.project, sections=(overlapping, *others)))
    repaired = [row_texts(panel, row)[1] for row in range(panel.model.rowCount())]
    assert session.resolved.repairs
    assert all(str(words).startswith("Put right: ") for words in repaired)
    assert (panel.count, panel.summary.text()) == (0, f"{len(repaired)} put right")


def test_the_current_line_stays_while_others_come_and_go(panel: ProblemsPanel, session: Session) -> None:
    session.edit("Widen", widened, 3)
    panel.table.setCurrentIndex(panel.model.index(2, 0))
    session.edit("Speed", with_craft_values, speed=500.0)
    assert panel.model.line(panel.table.currentIndex().row()).problem.where.startswith("panel")
    assert panel.table.currentIndex().row() == 3


def test_its_model_is_sound(panel: ProblemsPanel, session: Session, qtmodeltester: ModelTester) -> None:
    session.edit("Bare", with_bare_sections, 5)
    qtmodeltester.check(panel.model)
    session.undo()
    session.redo()
