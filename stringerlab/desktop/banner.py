"""A line above the page that says what happened and offers what to do; it waits and blocks nothing."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt, SignalInstance
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

FIRST = 4
"""Lines shown at once; the rest is said by number and stands in the tip."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A button and what it does; the banner goes when it is pressed."""

    name: str
    does: Callable[[], object]


class Banner(QFrame):
    """Shows one message at a time, the latest."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("banner")
        self.setAccessibleName("Message")
        self._text = QLabel(self)
        self._text.setWordWrap(True)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._text.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._buttons = QHBoxLayout()
        self._buttons.setSpacing(6)
        self._shown: list[QPushButton] = []
        self._said = 0
        side = QVBoxLayout()
        side.addLayout(self._buttons)
        side.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 7, 10, 7)
        row.setSpacing(14)
        row.addWidget(self._text, 1)
        row.addLayout(side)
        self.hide()

    @property
    def text(self) -> str:
        """What is said."""
        return self._text.text()

    @property
    def offers(self) -> list[QPushButton]:
        """The buttons shown."""
        return list(self._shown)

    def say(
        self,
        lines: Sequence[str],
        offers: Sequence[Offer] = (),
        *,
        wrong: bool = False,
        until: SignalInstance | None = None,
    ) -> None:
        """Say something in place of what was said; ``wrong`` marks it as a refusal or a fault.

        It goes by itself when ``until`` is next emitted, unless something else is said by then.
        """
        self._said += 1
        if until is not None:
            until.connect(partial(self._past, self._said), Qt.ConnectionType.SingleShotConnection)
        for button in self._shown:
            self._buttons.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._shown = []
        more = len(lines) - FIRST
        shown = [*lines[:FIRST], f"… and {more} more (rest the pointer here)."] if more > 0 else lines
        self._text.setText("\n".join(shown))
        self._text.setToolTip("\n".join(lines) if more > 0 else "")
        self._text.setAccessibleName("\n".join(lines))
        self.setProperty("tone", "wrong" if wrong else "")
        self.style().unpolish(self)
        self.style().polish(self)
        for offer in (*offers, Offer("Dismiss", lambda: None)):
            button = QPushButton(offer.name, self)
            button.clicked.connect(partial(self._take, offer.does))
            self._buttons.addWidget(button)
            self._shown.append(button)
        self.show()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go on Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
            return
        super().keyPressEvent(event)

    def _past(self, said: int) -> None:
        if said == self._said:
            self.hide()

    def _take(self, does: Callable[[], object]) -> None:
        self.hide()
        does()
