"""Typed quantities: a line edit that reads "3/8 in", "3,5 mm" or a bare number, or says why it does not."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from stringerlab.errors import StringerlabError
from stringerlab.units import Kind, System, display_unit, in_unit, parse, trimmed


class QuantityField(QLineEdit):
    """A quantity in the program's unit of its kind, shown and read in the units of a system.

    Enter or leaving the field commits; Escape takes the typing back. What does not read stays, marked,
    with the reason as its tip, and is never committed. Only an optional field may be left empty.
    """

    committed = Signal(float)
    """The value a person has put in, in the program's unit of the kind; not emitted when it is unchanged."""
    refused = Signal(str)
    """Why what was typed does not read."""
    emptied = Signal()
    """A person has taken the value of an optional field away."""

    def __init__(
        self, kind: Kind, name: str, parent: QWidget | None = None, *, optional: bool = False
    ) -> None:
        super().__init__(parent)
        self.kind = kind
        self._optional = optional
        self._system = System.METRIC
        self._value: float | None = None
        self.setAccessibleName(name)
        self.setObjectName(name)
        self.editingFinished.connect(self.commit)

    @property
    def value(self) -> float | None:
        """The value shown, None for an empty field."""
        return self._value

    def show_value(self, value: float | None, system: System) -> None:
        """Show a value; what is being typed is given up."""
        self._value, self._system = value, system
        self.setText("" if value is None else self._text(value))
        self._mark("")

    def _text(self, value: float) -> str:
        # a ratio has no unit to tell it by: 1 alike, not 1.000
        if self.kind is Kind.RATIO:
            return trimmed(value)
        return in_unit(value, display_unit(self.kind, self._system))

    def commit(self) -> None:
        """Read what is typed, and tell of a new value."""
        if not self.isModified():
            return
        if self._optional and not self.text().strip():
            had = self._value is not None
            self.show_value(None, self._system)
            if had:
                self.emptied.emit()
            return
        try:
            value = parse(self.text(), self.kind, self._system)
        except StringerlabError as error:
            self._mark(str(error))
            self.refused.emit(str(error))
            return
        self.setModified(False)
        changed = value != self._value
        self.show_value(value, self._system)
        if changed:
            self.committed.emit(value)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the typing back on Escape."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.show_value(self._value, self._system)
            self.selectAll()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select all, so that typing replaces."""
        super().focusInEvent(event)
        self.selectAll()

    def _mark(self, reason: str) -> None:
        self.setToolTip(reason)
        self.setProperty("wrong", bool(reason))
        self.style().unpolish(self)
        self.style().polish(self)
