"""A picture made anew for each size of its widget; a click picks what it is on."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtGui import QMouseEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from stringerlab.desktop.player import MARGIN, PictureView
from stringerlab.drawing import Picture

MM = 0.25
"""A screen unit in mm of a picture."""
Drawing = Callable[[tuple[float, float]], Picture]
"""Makes a picture for a width and height [mm]."""


class DrawnView(PictureView):
    """A picture that fills its widget at one scale, whatever the widget's size."""

    picked = Signal(str)
    """Subject of what was clicked."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self._drawing: Drawing | None = None

    def draw(self, drawing: Drawing | None) -> None:
        """Show what a function draws for the space there is; nothing for None."""
        self._drawing = drawing
        self._draw()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw for the new size."""
        super().resizeEvent(event)
        self._draw()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick what is clicked."""
        item = self.item_at(event.position())
        if item is not None and item.subject:
            self.picked.emit(item.subject)
        super().mousePressEvent(event)

    def _draw(self) -> None:
        if self._drawing is None:
            self.show_picture(Picture())
            return
        width = max(self.width() - 2 * MARGIN, 80.0) * MM
        height = max(self.height() - 2 * MARGIN, 60.0) * MM
        self.show_picture(self._drawing((width, height)))
