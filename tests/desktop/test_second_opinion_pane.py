"""The second opinion beside the drawing: asked for, drawn, copied, stopped."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.desktop.facts import FactsPane
from stringerlab.desktop.models.second_opinion import DifferencesModel
from stringerlab.desktop.second_opinion import SecondOpinionPane
from stringerlab.desktop.session import Session
from stringerlab.drawing import Area
from stringerlab.drawing.second_opinion import Shown
from stringerlab.project import edits


@pytest.fixture
def facts(lesson_session: Session, qtbot: QtBot) -> Iterator[FactsPane]:
    made = FactsPane(lesson_session)
    qtbot.addWidget(made)
    made.resize(360, 700)
    with qtbot.waitExposed(made):
        made.show()
    made.show_section(lesson_session.project.sections[0].id)
    yield made
    made.close()


def pane_of(facts: FactsPane) -> SecondOpinionPane:
    found = facts.findChild(SecondOpinionPane)
    assert found is not None
    return found


def test_a_click_asks_and_both_are_shown(
    facts: FactsPane, lesson_session: Session, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    qtbot.mouseClick(facts.second_button, Qt.MouseButton.LeftButton)
    pane = pane_of(facts)
    assert pane.job.busy
    assert pane.stop_button.isEnabled()
    with qtbot.waitSignal(pane.job.finished, timeout=60_000):
        pass
    assert isinstance(pane.rows, DifferencesModel)
    qtmodeltester.check(pane.rows)
    assert pane.rows.rowCount() == 10
    assert "weights shear by E" in pane.notes.text()
    shaded = [item for item in pane.picture.picture if isinstance(item, Area) and item.shade is not None]
    assert len(shaded) > 10
    assert "full colour" in pane.caption.text()
    pane.what.setCurrentIndex(pane.what.findData(Shown.MESH.name))
    pane.what.activated.emit(pane.what.currentIndex())
    assert "triangles" in pane.caption.text()
    qtbot.mouseClick(pane.copy_button, Qt.MouseButton.LeftButton)
    assert "GJ\t" in QGuiApplication.clipboard().text()
    section = lesson_session.project.sections[0]
    lesson_session.edit("Rename section", edits.renamed, section.id, "Another")
    assert pane.state.text().startswith("Of an earlier drawing")


def test_stop_ends_it(facts: FactsPane, qtbot: QtBot) -> None:
    qtbot.mouseClick(facts.second_button, Qt.MouseButton.LeftButton)
    pane = pane_of(facts)
    qtbot.mouseClick(pane.stop_button, Qt.MouseButton.LeftButton)
    assert not pane.job.busy
    assert pane.state.text() == "Stopped."
    pane.job.stop()
    assert pane.rows.rowCount() == 0
    assert pane.again_button.isEnabled()


def test_closing_it_ends_what_is_under_way(facts: FactsPane, qtbot: QtBot) -> None:
    qtbot.mouseClick(facts.second_button, Qt.MouseButton.LeftButton)
    pane = pane_of(facts)
    pane.close()
    assert not pane.job.busy
    pane.job.stop()
