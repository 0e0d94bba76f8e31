"""What waits for a window's first paint."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QWidget


class FirstPaint(QObject):
    """Does something once, when a widget has been painted for the first time."""

    def __init__(self, widget: QWidget, do: Callable[[], None]) -> None:
        super().__init__(widget)
        self._do = do
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Look for the paint; what is to be done comes after it."""
        if event.type() == QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self, self._do)
        return False
