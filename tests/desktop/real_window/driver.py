"""Drives the window on a real screen: open, drag a vertex, undo, redo, save, reopen, picture. Prints JSON.

Arguments: a project file, and where to put the picture of the screen. Mouse and keys enter at the platform's
window, as they do from a hand.
"""

import json
import sys
from pathlib import Path

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest

from stringerlab.desktop.app import application, open_window
from stringerlab.desktop.pages.sections import SectionsPage
from stringerlab.desktop.window import Window
from stringerlab.files import load
from stringerlab.project import Project

LEFT = Qt.MouseButton.LeftButton
CTRL = Qt.KeyboardModifier.ControlModifier
NONE = Qt.KeyboardModifier.NoModifier
CORNER, AWAY = (45.0, 135.0), (60.0, 150.0)


def main(path: Path, picture: Path) -> dict[str, object]:
    """Do it all and return what was seen."""
    app = application()
    window = open_window(app, path)
    window.resize(1280, 800)
    window.move(0, 0)
    window.show()
    assert QTest.qWaitForWindowExposed(window, 10_000)
    window.windowHandle().requestActivate()
    page = window.stack.currentWidget()
    assert isinstance(page, SectionsPage)
    _settle(window, page)
    before = window.session.project
    _click(window, page, (0.0, 135.0))
    selected = window.session.selected
    _drag(window, page, CORNER, AWAY)
    dragged = window.session.project
    label = window.session.undo_label
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Z, CTRL)
    undone = window.session.project is before
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_Y, CTRL)
    QTest.keyClick(window.windowHandle(), Qt.Key.Key_S, CTRL)
    saved = not window.session.unsaved and load(path) == dragged
    QTest.qWait(300)
    window.screen().grabWindow(window.winId()).save(str(picture))
    window.close()
    window.session.close()
    again = open_window(app, path)
    again.show()
    assert QTest.qWaitForWindowExposed(again, 10_000)
    reopened = again.session.project == dragged and again.page_id == "sections"
    again.close()
    again.session.close()
    return {
        "platform": app.platformName(),
        "selected": selected,
        "moved": _points(before) != _points(dragged),
        "label": label,
        "undone": undone,
        "saved": saved,
        "reopened": reopened,
    }


def _points(project: Project) -> object:
    return project.sections[0].walls[0].points


def _pixel(window: Window, page: SectionsPage, place: tuple[float, float]) -> QPoint:
    sheet = page.sheet
    return sheet.mapTo(window, QPointF(*sheet.view.to_screen(place))).toPoint()


def _settle(window: Window, page: SectionsPage) -> None:
    """Wait until the window is active and its drawing stands still, however busy the machine is."""
    still, seen = 0, QPoint()
    for _ in range(200):
        QTest.qWait(50)
        here = _pixel(window, page, CORNER)
        still = still + 1 if here == seen and window.isActiveWindow() else 0
        seen = here
        if still >= 6:
            return


def _click(window: Window, page: SectionsPage, place: tuple[float, float]) -> None:
    QTest.mouseMove(window.windowHandle(), _pixel(window, page, place))
    QTest.qWait(30)
    QTest.mouseClick(window.windowHandle(), LEFT, NONE, _pixel(window, page, place))
    QTest.qWait(50)


def _drag(window: Window, page: SectionsPage, start: tuple[float, float], end: tuple[float, float]) -> None:
    handle = window.windowHandle()
    QTest.mouseMove(handle, _pixel(window, page, start))
    QTest.qWait(30)
    QTest.mousePress(handle, LEFT, CTRL, _pixel(window, page, start))
    for step in range(1, 11):
        part = step / 10
        place = start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part
        QTest.mouseMove(handle, _pixel(window, page, place))
        QTest.qWait(20)
    QTest.mouseRelease(handle, LEFT, CTRL, _pixel(window, page, end))
    QTest.qWait(100)


if __name__ == "__main__":
    print(json.dumps(main(Path(sys.argv[1]), Path(sys.argv[2]))))
