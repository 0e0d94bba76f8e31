"""Where things are: the page that shows a thing, a window among screens, the keyboard, a file dragged in."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication, QWidget

from stringerlab.project import Project
from stringerlab.project.contents import things

_PAGE_OF_LIST = {
    "materials": "materials",
    "laminates": "laminates",
    "sections": "sections",
    "panels": "subjects",
    "spans": "subjects",
    "layouts": "plan",
    "findings": "findings",
    "craft": "boat",
}


def page_of(project: Project, id: str) -> str | None:  # noqa: A002
    """Return the page that shows the thing of an id, ``owner/part`` by its owner; None when there is none."""
    head = id.split("/")[0]
    if head in _PAGE_OF_LIST:
        return _PAGE_OF_LIST[head]
    path = next((thing.path for thing in things(project) if thing.record.id == head), None)
    return _PAGE_OF_LIST.get(str(path[0])) if path else None


def on_a_screen(place: QRect, screens: list[QRect]) -> QRect:
    """Return a window's place, moved and shrunk onto a screen when no screen shows enough of it."""
    enough = 120
    for screen in screens:
        seen = screen.intersected(place)
        if seen.width() >= enough and seen.height() >= enough and place.top() >= screen.top():
            return place
    if not screens:
        return place
    screen = screens[0]
    size = place.size().boundedTo(screen.size())
    moved = QRect(place.topLeft(), size)
    moved.moveCenter(screen.center())
    return moved


def focus_next(parts: Sequence[QWidget]) -> None:
    """Put the keyboard into the part after the one that has it, on the first widget that Tab reaches."""
    shown = [part for part in parts if part.isVisible()]
    focused = QApplication.focusWidget()
    at = next((i for i, part in enumerate(shown) if focused is not None and part.isAncestorOf(focused)), -1)
    for part in (*shown[at + 1 :], *shown[: at + 1]):
        if _focus_first(part):
            return


def _focus_first(part: QWidget) -> bool:
    """Put the keyboard on the first widget of a part that Tab reaches."""
    for widget in (part, *part.findChildren(QWidget)):
        if widget.isVisible() and widget.isEnabled() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
            widget.setFocus(Qt.FocusReason.TabFocusReason)
            return True
    return False


def file_dragged(event: QDropEvent) -> Path | None:
    """Return the one project file or drawing that is dragged, None for anything else."""
    urls = event.mimeData().urls()
    if len(urls) != 1 or not urls[0].isLocalFile():
        return None
    path = Path(urls[0].toLocalFile())
    return path if path.suffix.lower() in (".json", ".dxf") else None
