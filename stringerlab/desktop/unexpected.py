"""What the program did not expect: told in a message that keeps the document and offers to save a copy."""

import sys
import threading
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QMessageBox, QWidget

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], object]


class Unexpected(QObject):
    """Catches exceptions that nothing else did, in slots, event handlers and threads alike."""

    _happened = Signal(str, str)

    def __init__(self, window: QWidget, save_copy: Callable[[], None]) -> None:
        super().__init__(window)
        self._window, self._save_copy = window, save_copy
        self._former: Hook = sys.excepthook
        self._former_of_threads = threading.excepthook
        self._box: QMessageBox | None = None
        self._happened.connect(self._show, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Catch from now on."""
        self._former, self._former_of_threads = sys.excepthook, threading.excepthook
        sys.excepthook = self.caught
        threading.excepthook = self._caught_in_thread

    def remove(self) -> None:
        """Catch no more."""
        sys.excepthook = self._former
        threading.excepthook = self._former_of_threads

    def caught(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Print it as ever, and tell the person; an interrupt by the keyboard is none of ours."""
        self._former(kind, error, trace)
        if issubclass(kind, Exception):
            self._happened.emit(
                f"{kind.__name__}: {error}", "".join(traceback.format_exception(kind, error, trace))
            )

    def _caught_in_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None:
            self.caught(args.exc_type, args.exc_value, args.exc_traceback)

    def _show(self, what: str, details: str) -> None:
        if self._box is not None:  # one message at a time; the rest stands on the terminal
            self._box.setDetailedText(f"{self._box.detailedText()}\n{details}")
            return
        box = self._box = QMessageBox(self._window)
        box.setObjectName("unexpected")
        box.setWindowTitle("Something unexpected")
        box.setText("stringerlab met something it did not expect. Your project is as it was before.")
        box.setInformativeText(f"{what}\n\nYou can go on; saving a copy first is the careful way.")
        box.setDetailedText(details)
        copy = box.addButton("Save a copy…", QMessageBox.ButtonRole.ActionRole)
        clip = box.addButton("Copy the details", QMessageBox.ButtonRole.ActionRole)
        go_on = box.addButton("Go on", QMessageBox.ButtonRole.AcceptRole)
        box.setDefaultButton(go_on)
        box.setEscapeButton(go_on)

        def answered() -> None:
            pressed, self._box = box.clickedButton(), None
            if pressed is clip:
                QGuiApplication.clipboard().setText(box.detailedText())
            box.deleteLater()
            if pressed is copy:
                self._save_copy()

        box.finished.connect(answered)
        box.open()
