"""Importing a DXF, by real events: unit and size agreed, walls in one step, or an underlay."""

from itertools import pairwise
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from stringerlab.desktop.dxf_import import DxfImport
from stringerlab.desktop.session import Session
from stringerlab.files import dxf_in
from stringerlab.project import Project
from stringerlab.project.particulars import with_particulars
from stringerlab.section import Side
from stringerlab.units import System

EZDXF: Any = ezdxf.filemanagement
HAT = [(0, 0), (50, 0), (60, 90), (140, 90), (150, 0), (200, 0)]


def drawing(path: Path, unit: int = 4, scale: float = 1.0) -> Path:
    document = EZDXF.new(units=unit)
    space = document.modelspace()
    for (y, z), (y_1, z_1) in pairwise(HAT):
        ends = (1000 + y * scale, 500 + z * scale), (1000 + y_1 * scale, 500 + z_1 * scale)
        space.add_line(*ends, dxfattribs={"layer": "hat"})
    space.add_lwpolyline(
        [(900, 400), (1300, 400), (1300, 700), (900, 700)], close=True, dxfattribs={"layer": "frame"}
    )
    space.add_text("A-A")
    document.saveas(path)
    return path


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> DxfImport:
    panel = DxfImport(session)
    qtbot.addWidget(panel, before_close_func=lambda panel: panel.stop())
    panel.resize(1170, 690)
    panel.show()
    return panel


def opened(panel: DxfImport, qtbot: QtBot, path: Path) -> None:
    with qtbot.waitSignal(panel.reader.finished):
        panel.open(path)


def leave_out(panel: DxfImport, qtbot: QtBot, row: int) -> None:
    panel.layers.setFocus()
    panel.layers.setCurrentRow(row)
    qtbot.keyClick(panel.layers, Qt.Key.Key_Space)


def test_a_drawing_is_chosen_read_and_its_size_said(
    panel: DxfImport, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = drawing(tmp_path / "hat.dxf")
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    with qtbot.waitSignal(panel.reader.finished):
        qtbot.mouseClick(panel.choose_button, Qt.MouseButton.LeftButton)
    assert panel.file.text() == "hat.dxf"
    assert panel.unit.value == "mm"
    assert panel.overall.text() == "400.0 mm wide, 300.0 mm high. Right? The file says mm."
    assert [panel.layers.item(i).text() for i in range(2)] == ["frame  (1 line)", "hat  (5 lines)"]
    assert "Makes 2 walls of 10 points" in panel.says.text()
    assert "Left out: 1 TEXT." in panel.says.text()


def test_the_size_is_in_the_projects_units(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))
    session.edit("US units", with_particulars, units=System.US)
    assert panel.overall.text().startswith("15.75 in wide, 11.81 in high.")


def test_walls_go_into_a_section_in_one_step(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))
    leave_out(panel, qtbot, 0)
    assert "Makes 1 wall of 6 points" in panel.says.text()
    before = session.project
    target = before.sections[0]
    panel.section.setFocus()
    qtbot.keyClick(panel.section, Qt.Key.Key_Down)
    assert panel.section.value == target.id
    with qtbot.waitSignal(panel.walls_added) as added:
        qtbot.mouseClick(panel.walls_button, Qt.MouseButton.LeftButton)
    assert added.args == [target.id]
    assert session.undo_label == "Import walls"
    wall = session.project.sections[0].walls[-1]
    assert wall.name == "hat"
    assert np.array(wall.points) == pytest.approx(np.array(HAT) - np.array([100, 0]))
    assert (wall.laminate, wall.side) == (before.laminates[0].id, Side.RIGHT)
    session.undo()
    assert session.project is before


def test_walls_make_a_new_section_named_after_the_file(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "deep floor.dxf"))
    leave_out(panel, qtbot, 0)
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.mouseClick(panel.walls_button, Qt.MouseButton.LeftButton)
    section = session.project.sections[-1]
    assert section.name == "deep floor"
    assert wanted.args == [section.id]


def test_as_drawn_keeps_the_drawings_own_place(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))
    leave_out(panel, qtbot, 0)
    panel.place.setFocus()
    qtbot.keyClick(panel.place, Qt.Key.Key_Down)
    qtbot.mouseClick(panel.walls_button, Qt.MouseButton.LeftButton)
    wall = session.project.sections[-1].walls[0]
    assert np.array(wall.points) == pytest.approx(np.array(HAT) + np.array([1000, 500]))


def test_an_absent_unit_is_asked_for(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "inches.dxf", unit=0, scale=1 / 25.4))
    assert panel.unit.currentText() == "Choose its unit…"
    assert panel.overall.text() == "The file states no unit: choose what it is drawn in."
    assert not panel.walls_button.isEnabled()
    assert not panel.underlay_button.isEnabled()
    leave_out(panel, qtbot, 0)
    with qtbot.waitSignal(panel.reader.finished):
        panel.unit.setFocus()
        qtbot.keyClick(panel.unit, "i")
    assert panel.unit.value == "in"
    assert panel.overall.text() == "200.0 mm wide, 90.00 mm high. Right? The file states no unit."
    assert panel.walls_button.isEnabled()
    assert panel.layers.item(0).checkState() is Qt.CheckState.Unchecked


def test_a_wrong_unit_is_put_right_by_hand(panel: DxfImport, qtbot: QtBot, tmp_path: Path) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf", unit=6))
    assert "a section is drawn within 10 m" in panel.says.text()
    assert not panel.walls_button.isEnabled()
    with qtbot.waitSignal(panel.reader.finished):
        panel.unit.setFocus()
        qtbot.keyClick(panel.unit, Qt.Key.Key_Home)
        qtbot.keyClick(panel.unit, Qt.Key.Key_Down)
    assert panel.unit.value == "mm"
    assert panel.walls_button.isEnabled()


def test_an_underlay_is_offered_as_lines_and_edits_nothing(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))
    leave_out(panel, qtbot, 0)
    with qtbot.waitSignal(panel.underlay_chosen) as chosen:
        qtbot.mouseClick(panel.underlay_button, Qt.MouseButton.LeftButton)
    assert chosen.args is not None
    [lines] = chosen.args
    assert len(lines) == 5
    assert np.concatenate(lines).min(axis=0) == pytest.approx([-100, 0])
    assert session.undo_label is None


def test_a_file_that_is_no_dxf_is_said_and_the_next_is_read(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    text = tmp_path / "notes.dxf"
    text.write_text("not a drawing")
    with qtbot.waitSignals([panel.reader.failed, session.said]):
        panel.open(text)
    assert panel.message.isVisible()
    assert panel.message.text().startswith("! It is no DXF.")
    assert not panel.walls_button.isEnabled()
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))
    assert not panel.message.isVisible()
    assert panel.walls_button.isEnabled()


def test_reading_is_cancelled_by_the_button(
    panel: DxfImport, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "large.dxf"
    document = EZDXF.new(units=4)
    for i in range(4000):
        document.modelspace().add_line((0, i), (10, i))
    document.saveas(path)
    monkeypatch.setattr(dxf_in, "_EVERY", 64)
    with qtbot.waitSignal(panel.reader.progress):
        panel.open(path)
    assert panel.bar.isVisible()
    qtbot.mouseClick(panel.cancel_button, Qt.MouseButton.LeftButton)
    assert not panel.reader.busy
    assert not panel.bar.isVisible()
    panel.stop()
    QApplication.processEvents()
    assert panel.outlines is None


def test_a_late_reading_is_dropped(panel: DxfImport, qtbot: QtBot, tmp_path: Path) -> None:
    first, second = drawing(tmp_path / "first.dxf"), drawing(tmp_path / "second.dxf", scale=2)
    with qtbot.waitSignal(panel.reader.finished) as read:
        panel.open(first)
        panel.open(second)
    assert read.args is not None
    assert read.args[0].name == "second.dxf"
    panel.stop()


def test_a_layer_with_nothing_left_says_so(panel: DxfImport, qtbot: QtBot, tmp_path: Path) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))
    leave_out(panel, qtbot, 0)
    leave_out(panel, qtbot, 1)
    assert not panel.walls_button.isEnabled()
    assert not panel.underlay_button.isEnabled()
    assert panel.preview.picture.items == ()


def test_without_a_laminate_only_an_underlay_is_made(
    panel: DxfImport, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))

    def bare(project: Project) -> Project:
        from dataclasses import replace

        return replace(project, laminates=(), sections=(), panels=(), spans=())

    session.edit("Bare", bare)
    assert panel.says.text() == "The project has no laminate yet: walls need one."
    assert not panel.walls_button.isEnabled()
    assert panel.underlay_button.isEnabled()


def test_closing_is_asked_for(panel: DxfImport, qtbot: QtBot) -> None:
    with qtbot.waitSignal(panel.closed):
        qtbot.mouseClick(panel.close_button, Qt.MouseButton.LeftButton)


def test_the_wheel_changes_a_choice_only_with_the_focus(
    panel: DxfImport, qtbot: QtBot, tmp_path: Path
) -> None:
    opened(panel, qtbot, drawing(tmp_path / "hat.dxf"))

    def turn() -> None:
        middle = QPointF(panel.side.rect().center())
        event = QWheelEvent(
            middle,
            panel.side.mapToGlobal(middle),
            QPoint(0, 0),
            QPoint(0, -120),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(panel.side, event)

    panel.layers.setFocus()
    turn()
    assert panel.side.value == "right"
    panel.side.setFocus()
    turn()
    assert panel.side.value == "left"
