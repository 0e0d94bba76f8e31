"""Small fields of the form: whole numbers, lines, a card of one wish with its button to drop it."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QFrame,
    QGroupBox,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.fields import QuantityField
from stringerlab.units import Kind, System, display_unit, trimmed, unit_named
from stringerlab.units.kinds import Unit

_DIGITS = 5
"""Of a number shown; a whole one has all of its own."""
_TYPED_AS = {Kind.LENGTH: "mm", Kind.SPEED: "kn", Kind.MASS: "kg"}


def typed_unit(kind: Kind) -> Unit | None:
    """Return the unit in which a record holds numbers of a kind; None for bare numbers."""
    symbol = _TYPED_AS.get(kind)
    return unit_named(symbol, kind) if symbol else None


class TypedField(QuantityField):
    """A quantity in the unit its record holds: mm, kn, kg; bare numbers and whole ones too."""

    def __init__(self, kind: Kind, name: str, tip: str, width: int, *, optional: bool = False) -> None:
        self._whole = kind is Kind.COUNT
        self._tip = tip
        super().__init__(Kind.RATIO if self._whole else kind, name, optional=optional)
        self._unit = typed_unit(kind)
        self.setToolTip(tip)
        self.setFixedWidth(width)

    def show_typed(self, value: float | None, system: System) -> None:
        """Show a record's number; what is being typed stays where the record says the same."""
        factor = self._unit.factor if self._unit else 1.0
        shown = None if value is None else value * factor
        if self.value == shown and self._system is system and (self.isModified() or self.text()):
            return
        self.show_value(shown, system)
        self.setCursorPosition(0)

    def typed(self, value: float) -> float:
        """Return a value of the program as the record holds it."""
        factor = self._unit.factor if self._unit else 1.0
        return float(f"{value / factor:.12g}")

    def _text(self, value: float) -> str:
        """Show a number as it is typed, 5 mm rather than 5.000 mm."""
        unit = display_unit(self.kind, self._system)
        return f"{trimmed(value / unit.factor, _DIGITS)} {unit.symbol}".rstrip()

    def commit(self) -> None:
        """Refuse parts of what is counted."""
        if self._whole and self.isModified():
            text = self.text().strip().replace("\N{NARROW NO-BREAK SPACE}", "").replace(" ", "")
            if text and not text.isdigit():
                self._mark("A whole number is asked for here, such as 3.")
                return
            self.setText(text)
            self.setModified(True)
        super().commit()

    def refuse(self, reason: str) -> None:
        """Leave what was typed, marked, with the reason as tip."""
        self._mark(reason)

    def _mark(self, reason: str) -> None:
        super()._mark(reason)
        self.setToolTip(reason or self._tip)


def wrong_label() -> QLabel:
    """Return the place where it is said what is wrong, hidden while nothing is."""
    label = QLabel()
    label.setWordWrap(True)
    label.setForegroundRole(QPalette.ColorRole.BrightText)
    label.hide()
    return label


def say_wrong(label: QLabel, problems: Sequence[str]) -> None:
    """Say what is wrong, or hide the place for it."""
    label.setText("\n".join(f"! {problem}" for problem in problems))
    label.setVisible(bool(problems))


def words(text: str) -> QLabel:
    """Return a word between fields."""
    label = QLabel(text)
    label.setProperty("faint", True)
    return label


def line(*parts: QWidget | str | None) -> QHBoxLayout:
    """Return widgets and words beside one another, None for room between them."""
    row = QHBoxLayout()
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(5)
    for part in parts:
        if part is None:
            row.addStretch(1)
        else:
            row.addWidget(words(part) if isinstance(part, str) else part)
    return row


class Card(QFrame):
    """One wish: its name, a button to drop it, its fields below, what is wrong with it last."""

    def __init__(self, drop: Callable[[], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = QLabel()
        self.heading.setWordWrap(True)
        font = self.heading.font()
        font.setBold(True)
        self.heading.setFont(font)
        self.drop = QToolButton()
        self.drop.setText("×")
        self.drop.setFixedSize(24, 22)
        self.drop.clicked.connect(drop)
        self.wrong = wrong_label()
        head = line()
        head.addWidget(self.heading, 1)
        head.addWidget(self.drop, 0, Qt.AlignmentFlag.AlignTop)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 6)
        self.column.setSpacing(4)
        self.column.addLayout(head)

    def add(self, part: QHBoxLayout | QWidget) -> None:
        """Put a line or a widget below."""
        if isinstance(part, QWidget):
            self.column.addWidget(part)
        else:
            self.column.addLayout(part)

    def done(self) -> None:
        """Put the place for problems last."""
        self.column.addWidget(self.wrong)

    def call(self, name: str) -> None:
        """Name what this is of."""
        self.heading.setText(name)
        self.setAccessibleName(name)
        self.drop.setAccessibleName(f"Take out: {name}")
        self.drop.setToolTip(f"Take out: {name} (Ctrl+Z brings it back)")

    def say(self, problems: tuple[str, ...]) -> None:
        """Say what is wrong here."""
        self.wrong.setAccessibleName(f"Wrong with {self.heading.text()}")
        say_wrong(self.wrong, problems)


def group(title: str) -> tuple[QGroupBox, QVBoxLayout]:
    """Return a group under a title and its column."""
    box = QGroupBox(title)
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 4, 0, 2)
    column.setSpacing(4)
    return box, column


def menu_button(text: str, tip: str) -> tuple[QPushButton, QMenu]:
    """Return a button that opens a menu."""
    button = QPushButton(text)
    button.setToolTip(tip)
    menu = QMenu(button)
    menu.setToolTipsVisible(True)
    button.setMenu(menu)
    return button, menu


def bold(label: QLabel) -> QLabel:
    """Return a label in heavier letters."""
    font = label.font()
    font.setBold(True)
    label.setFont(font)
    return label
