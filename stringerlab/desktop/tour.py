"""The first-run tour: three steps, each beside the part it speaks of; Escape or Skip ends it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

if TYPE_CHECKING:
    from stringerlab.desktop.window import Window


@dataclass(frozen=True, slots=True)
class Step:
    """One step: the part of the window it stands beside, and its words."""

    part: str
    title: str
    words: str


STEPS = (
    Step(
        "rail",
        "From boat to verdict",
        "The rail follows the work: the boat, its laminates and materials, the drawn sections, the panels "
        "and spans they make, what was found, what it takes to build, and what would be lighter. Ctrl+1 to "
        "Ctrl+0 go to the first ten.",
    ),
    Step(
        "page",
        "Draw, and watch the numbers",
        "Drag a point of a section: stiffness, mass and verdicts move with it. Every number takes its unit "
        "as typed, 3/8 in or 9,5 mm, and every edit can be undone by name.",
    ),
    Step(
        "title_block",
        "See why",
        "Down here stand what the next click does, how many findings hold or fall short, and what is wrong. "
        "Open a finding to read its formula, numbers and source, line by line.",
    ),
)


class _Ring(QWidget):
    """A ring round the part spoken of; the pointer goes through it."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_NoSystemBackground)

    def paintEvent(self, event: QPaintEvent) -> None:
        del event
        painter = QPainter(self)
        painter.setPen(QPen(QColor(self.palette().accent().color()), 3))
        painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.end()


class Tour(QFrame):
    """The card of the step shown."""

    ended = Signal()

    def __init__(self, window: "Window") -> None:
        super().__init__(window)
        self._window = window
        self._at = 0
        self._ring = _Ring(window)
        self.setObjectName("tour")
        self.setAccessibleName("Tour")
        self.setFixedWidth(360)
        self._title, self._words, self._count = QLabel(self), QLabel(self), QLabel(self)
        self._words.setWordWrap(True)
        self._count.setProperty("faint", True)
        self.skip = QPushButton("Skip", self)
        self.next = QPushButton("Next", self)
        self.next.setDefault(True)
        row = QHBoxLayout()
        row.addWidget(self._count, 1)
        row.addWidget(self.skip)
        row.addWidget(self.next)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(16, 14, 16, 12)
        column.setSpacing(8)
        column.addWidget(self._title)
        column.addWidget(self._words)
        column.addLayout(row)
        self.skip.clicked.connect(self.end)
        self.next.clicked.connect(self._go_on)
        window.installEventFilter(self)

    @property
    def step(self) -> Step:
        """The step shown."""
        return STEPS[self._at]

    def start(self) -> None:
        """Show the first step."""
        self._ring.show()
        self.show()
        self._show()

    def end(self) -> None:
        """End the tour for good."""
        self._window.removeEventFilter(self)
        self._ring.hide()
        self._ring.deleteLater()
        self.hide()
        self.setParent(None)
        self.deleteLater()
        self.ended.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape skips, Enter goes on."""
        if event.key() == Qt.Key.Key_Escape:
            self.end()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._go_on()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay beside the part when the window changes its size."""
        if event.type() == QEvent.Type.Resize:
            self._place()
        return super().eventFilter(watched, event)

    def _go_on(self) -> None:
        if self._at + 1 == len(STEPS):
            self.end()
            return
        self._at += 1
        self._show()

    def _show(self) -> None:
        if self.step.part == "page":
            self._window.show_page("sections")
        self._title.setText(f"<b>{self.step.title}</b>")
        self._words.setText(self.step.words)
        self._count.setText(f"{self._at + 1} of {len(STEPS)}")
        self.next.setText("Done" if self._at + 1 == len(STEPS) else "Next")
        self.setAccessibleDescription(f"{self.step.title}. {self.step.words}")
        self._column.activate()
        self._place()
        self.next.setFocus(Qt.FocusReason.OtherFocusReason)

    def _place(self) -> None:
        parts = {
            "rail": self._window.rail,
            "page": self._window.stack,
            "title_block": self._window.title_block,
        }
        part = parts[self.step.part]
        ring = QRect(part.mapTo(self._window, QPoint(0, 0)), part.size())
        self._ring.setGeometry(ring)
        self.resize(self.width(), self._column.totalHeightForWidth(self.width()))
        room = self._window.rect().adjusted(16, 16, -16, -16)
        card = QRect(QPoint(0, 0), self.size())
        if self.step.part == "rail":
            card.moveTopLeft(ring.topRight() + QPoint(16, 24))
        elif self.step.part == "page":
            card.moveBottomLeft(ring.bottomLeft() + QPoint(32, -32))
        else:
            card.moveBottomRight(ring.topRight() + QPoint(-24, -16))
        card.moveLeft(min(max(card.left(), room.left()), room.right() - card.width()))
        card.moveTop(min(max(card.top(), room.top()), room.bottom() - card.height()))
        self.setGeometry(card)
        self._ring.raise_()
        self.raise_()
