"""The field on the sheet: a line typed while drawing, or another number for a dimension."""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from stringerlab.desktop.sheet.dimensions import Dimension
from stringerlab.errors import StringerlabError
from stringerlab.geometry.typed import HOW
from stringerlab.units import Kind, System, parse

Take = Callable[[str], str]
"""Takes what was typed; returns why it does not read, empty when it did."""


class Inline(QLineEdit):
    """Opens where it is needed; Enter hands over what is typed, Escape or a click elsewhere gives it up."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._sheet = parent
        self._take: Take | None = None
        self.setObjectName("inline")
        self.setFixedWidth(150)
        self.hide()

    def ask(self, at: QPointF, name: str, tip: str, begun: str, take: Take) -> None:
        """Open at a pixel, with something typed already."""
        self._take = take
        self.setAccessibleName(name)
        self.setPlaceholderText(name)
        self._mark("", tip)
        self.setText(begun)
        room = self._sheet
        x = min(max(round(at.x()), 2), room.width() - self.width() - 2)
        y = min(max(round(at.y()), 2), room.height() - self.sizeHint().height() - 2)
        self.move(x, y)
        self.show()
        self.raise_()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def ask_line(self, at: QPointF, begun: str, take: Take) -> None:
        """Open beside the pointer for a length, an angle or a point."""
        self.ask(at + QPointF(14, 14), "length, angle or point", HOW, begun, take)

    def ask_number(
        self, patch: QRectF, number: Dimension, system: System, take: Callable[[float], bool]
    ) -> None:
        """Open over a number on the sheet."""

        def read(text: str) -> str:
            try:
                value = parse_number(text, number.kind, system)
            except StringerlabError as error:
                return str(error)
            return "" if take(value) else "It does not fit: see the status line."

        text = number.text(system).removeprefix(number.prefix)
        self.ask(patch.topLeft() - QPointF(2, 4), number.name, f"Type the {number.name}.", text, read)
        self.selectAll()

    def leave(self) -> None:
        """Close, and give the sheet the focus back."""
        if self.isVisible():
            had = self.hasFocus()
            self.hide()
            if had:
                self._sheet.setFocus(Qt.FocusReason.OtherFocusReason)
        self._take = None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give up on Escape, hand over on Enter; the sheet hears of neither."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._entered()
        else:
            super().keyPressEvent(event)

    def _entered(self) -> None:
        if self._take is None:
            return
        take, text = self._take, self.text()
        wrong = take(text)
        if wrong:
            self._mark(wrong, wrong)
        else:
            self.leave()

    def _mark(self, wrong: str, tip: str) -> None:
        self.setToolTip(tip)
        self.setProperty("wrong", bool(wrong))
        self.style().unpolish(self)
        self.style().polish(self)


def parse_number(text: str, kind: Kind, system: System) -> float:
    """Return a typed number in the program's unit; a bare angle is in degrees.

    Raises
    ------
    StringerlabError
        When it does not read.
    """
    bare = text.strip()
    if kind is Kind.ANGLE:
        negative = bare[:1] in {"-", "−"}
        value = parse(bare.lstrip("-−"), kind, system)
        return -value if negative else value
    return parse(bare, kind, system)
