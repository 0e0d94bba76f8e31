"""What is wrong with the thing a page shows, said where it is edited; links lead to the place."""

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QWidget

FIRST_SHOWN = 4


class ProblemStrip(QFrame):
    """A few lines of problems; hidden while there are none."""

    wanted = Signal(str)
    """The link of the problem that a person wants to be taken to."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("problem_strip")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._label = QLabel()
        self._label.setWordWrap(True)
        self._label.setTextFormat(Qt.TextFormat.RichText)
        self._label.setTextInteractionFlags(Qt.TextInteractionFlag.LinksAccessibleByMouse)
        self._label.linkActivated.connect(self.wanted)
        self._label.setAccessibleName(name)
        self._label.setForegroundRole(QPalette.ColorRole.BrightText)
        self._label.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 4)
        layout.addWidget(self._label)
        self.hide()

    def changeEvent(self, event: QEvent) -> None:
        """Show links in the colour of another look: they keep the one there was when they were written."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and not self.isHidden():
            said = self._label.text()
            self._label.clear()
            self._label.setText(said)

    @property
    def text(self) -> str:
        """What is said, as rich text."""
        return self._label.text() if not self.isHidden() else ""

    def show_problems(self, problems: Sequence[tuple[str, str]]) -> None:
        """Show problems, each with the link to its place, empty for none."""
        shown = [
            f"! {escape(words)}" if not link else f'! <a href="{escape(link)}">{escape(words)}</a>'
            for words, link in problems[:FIRST_SHOWN]
        ]
        if len(problems) > FIRST_SHOWN:
            shown.append(f"… and {len(problems) - FIRST_SHOWN} more")
        self._label.setText("<br>".join(shown))
        self.setVisible(bool(problems))
