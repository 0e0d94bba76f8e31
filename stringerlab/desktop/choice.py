"""A list to choose from that a turn of the wheel over a page never changes by accident."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QWidget


class Choice(QComboBox):
    """A combo box that heeds the wheel only while it has the focus."""

    def __init__(self, name: str, tip: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setToolTip(tip)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def offer(self, wanted: list[tuple[str, str]], first: str = "") -> None:
        """Offer words with the value behind each; what is chosen stays so, else ``first`` or the top."""
        now = [(self.itemText(i), str(self.itemData(i))) for i in range(self.count())]
        if wanted == now:
            return
        kept = self.value if self.count() else first
        self.clear()
        for words, value in wanted:
            self.addItem(words, value)
        if wanted:
            self.setCurrentIndex(max(self.findData(kept), 0))

    @property
    def value(self) -> str:
        """The value behind what is chosen, empty for none."""
        data = self.currentData()
        return "" if data is None else str(data)

    def show_value(self, value: str) -> None:
        """Show a value as chosen."""
        self.setCurrentIndex(self.findData(value))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page unless this has the focus."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
