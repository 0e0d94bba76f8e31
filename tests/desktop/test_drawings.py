"""Drawings in and out through the window's menu, and files dragged onto it."""

from pathlib import Path

import ezdxf
import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from stringerlab.desktop.dxf_import import DxfImport
from stringerlab.desktop.pages.sections import SectionsPage
from stringerlab.desktop.window import Window

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def drawing(tmp_path: Path) -> Path:
    """A hat as one polyline, in millimetres."""
    made = ezdxf.new(units=4)  # pyright: ignore[reportPrivateImportUsage]
    points = [(-110, 0), (-60, 0), (-45, 120), (45, 120), (60, 0), (110, 0)]
    made.modelspace().add_lwpolyline(points)
    path = tmp_path / "hat.dxf"
    made.saveas(path)
    return path


def _drop(window: Window, path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    copy = Qt.DropAction.CopyAction
    QApplication.sendEvent(window, QDragEnterEvent(QPoint(300, 300), copy, data, left, none))
    QApplication.sendEvent(window, QDropEvent(QPointF(300, 300), copy, data, left, none))


def test_drawing_dragged_in_is_looked_at_and_becomes_walls(
    qtbot: QtBot, window: Window, drawing: Path
) -> None:
    before = window.session.project
    _drop(window, drawing)
    panel = window.stack.currentWidget()
    assert isinstance(panel, DxfImport)
    qtbot.waitUntil(lambda: panel.outlines is not None, timeout=10_000)
    assert window.session.project is before
    qtbot.mouseClick(panel.walls_button, Qt.MouseButton.LeftButton)
    after = window.session.project
    assert sum(len(s.walls) for s in after.sections) == sum(len(s.walls) for s in before.sections) + 1
    assert window.page_id == "sections"
    assert type(window.stack.currentWidget()).__name__ == "SectionsPage"
    window.session.undo()
    assert window.session.project is before


def test_drawing_is_laid_under_the_sheet(qtbot: QtBot, window: Window, drawing: Path) -> None:
    before = window.session.project
    _drop(window, drawing)
    panel = window.stack.currentWidget()
    assert isinstance(panel, DxfImport)
    qtbot.waitUntil(lambda: panel.outlines is not None, timeout=10_000)
    assert panel.underlay_button.isVisible()
    qtbot.mouseClick(panel.underlay_button, Qt.MouseButton.LeftButton)
    page = window.stack.currentWidget()
    assert isinstance(page, SectionsPage)
    laid = page.sheet.hand.sight.underlay
    assert laid is not None
    assert laid.bounds == pytest.approx((-110, 0, 110, 120))
    assert window.session.project is before
    page.sheet.hand.take("wall")
    place = page.sheet.view.to_screen((-45.0, 120.0))
    qtbot.mouseMove(page.sheet, QPointF(*place).toPoint() + QPoint(2, 2))
    page.sheet.flush()
    assert page.sheet.hand.touch is not None
    assert page.sheet.hand.touch.at == pytest.approx((-45.0, 120.0))


def test_panel_is_left_without_a_change(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_I, CTRL)
    panel = window.stack.currentWidget()
    assert isinstance(panel, DxfImport)
    panel.closed.emit()
    assert type(window.stack.currentWidget()).__name__ == "SectionsPage"


def test_drawing_without_a_project_is_told_what_it_needs(first_screen: Window, drawing: Path) -> None:
    _drop(first_screen, drawing)
    assert "open or begin one first" in first_screen.banner.text


@pytest.mark.parametrize("ending", ["svg", "png", "dxf"])
def test_sheet_is_exported(qtbot: QtBot, window: Window, tmp_path: Path, ending: str) -> None:
    qtbot.keyClick(window, Qt.Key.Key_E, CTRL)
    dialog = window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    target = tmp_path / f"sheet.{ending}"
    dialog.fileSelected.emit(str(target))
    dialog.close()
    qtbot.waitUntil(lambda: window.findChild(QFileDialog) is None)
    match ending:
        case "svg":
            assert target.read_text(encoding="utf-8").startswith(("<svg", "<?xml"))
        case "png":
            assert not QImage(str(target)).isNull()
        case _:
            assert len(list(ezdxf.readfile(target).modelspace())) > 10  # pyright: ignore[reportPrivateImportUsage]
    assert f"sheet.{ending}" in window.title_block.hint.whole


def test_export_that_cannot_be_written_is_told(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    qtbot.keyClick(window, Qt.Key.Key_E, CTRL)
    dialog = window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    dialog.fileSelected.emit(str(tmp_path / "missing" / "sheet.svg"))
    dialog.close()
    qtbot.waitUntil(lambda: window.findChild(QFileDialog) is None)
    assert window.banner.isVisible()
