"""Editors of a table's cells: a field for a quantity with its unit, a box for a choice."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QComboBox, QWidget

from stringerlab.desktop.fields import QuantityField
from stringerlab.units import Kind, System


class CellField(QuantityField):
    """A quantity field as the editor of a cell."""

    def __init__(self, kind: Kind, name: str, parent: QWidget) -> None:
        super().__init__(kind, name, parent)
        self._began: float | None = None
        self._reason = ""
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setFrame(False)
        self.refused.connect(self._keep)

    def begin(self, value: float | None, system: System) -> None:
        """Show what the cell holds, unless something is being typed."""
        if not self.isModified():
            self._began = value
            self.show_value(value, system)

    def take(self, put: Callable[[float | None], object], said: Callable[[str], object]) -> None:
        """Put another value than the cell holds, None for an emptied field, or say why it does not read."""
        if not self.text().strip():
            if self._began is not None:
                put(None)
            return
        self._reason = "" if self.isModified() else self._reason
        self.commit()
        if self._reason:
            said(self._reason)
        elif self.value != self._began:
            put(self.value)

    def _keep(self, reason: str) -> None:
        self._reason = reason


class CellChoice(QComboBox):
    """A choice as the editor of a cell: arrows and letters choose, Enter or a click in the list takes it."""

    done = Signal()
    """The list has been shut, by a choice or without one."""

    def __init__(self, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setMaxVisibleItems(24)

    def hidePopup(self) -> None:
        """Shut the list, and with it the editor."""
        open_before = self.view().isVisible()
        super().hidePopup()
        if open_before:
            self.done.emit()


def open_choice(view: QAbstractItemView) -> None:
    """Open the list of the choice that a cell is edited with, if it is."""
    box = view.viewport().findChild(CellChoice)
    if isinstance(box, CellChoice):
        box.showPopup()
