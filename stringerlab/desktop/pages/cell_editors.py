"""Editors of a table's cells: a field for a quantity with its unit, a box for a choice."""

from collections.abc import Callable
from typing import cast

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QBoxLayout,
    QComboBox,
    QLineEdit,
    QListView,
    QStyledItemDelegate,
    QWidget,
)

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
        self.setItemDelegate(QStyledItemDelegate(self))  # shows which row Enter would take

    def hidePopup(self) -> None:
        """Shut the list, and then the editor: Qt shuts the list first and chooses what was picked after."""
        open_before = self.view().isVisible()
        super().hidePopup()
        if open_before:
            QTimer.singleShot(0, self, self.done.emit)


class SearchChoice(CellChoice):
    """A choice among many: kinds under heads, and a field over the list that narrows it by words.

    Any letter or digit opens the list with the field begun.
    """

    def __init__(self, name: str, hint: str, parent: QWidget) -> None:
        super().__init__(name, parent)
        self.search = QLineEdit()
        self.search.setAccessibleName(f"Search: {name}")
        self.search.setPlaceholderText(hint)
        self.search.textChanged.connect(self._narrow)
        self.search.installEventFilter(self)
        self._words: list[str] = []
        """What each row is found by, empty for a head."""

    @property
    def _list(self) -> QListView:
        return cast(QListView, self.view())

    def add_head(self, words: str) -> None:
        """Add the head over the items that follow; it cannot be chosen."""
        bold = QFont(self.font())
        bold.setBold(True)
        self.addItem(words)
        self.setItemData(self.count() - 1, bold, Qt.ItemDataRole.FontRole)
        self.setItemData(self.count() - 1, 0, Qt.ItemDataRole.UserRole - 1)  # its flags: none
        self._words.append("")

    def add(self, words: str, value: str, found_by: str) -> None:
        """Add an item with the value behind it and the words by which it is found."""
        self.addItem(words, value)
        self._words.append(found_by.casefold())

    def showPopup(self) -> None:
        """Open the whole list, the field over it ready to be typed into."""
        container = self._list.parentWidget()
        layout = container.layout() if container is not None else None
        if isinstance(layout, QBoxLayout) and self.search.parentWidget() is not container:
            layout.insertWidget(0, self.search)
        self._list.setMinimumWidth(self._list.sizeHintForColumn(0) + 40)
        self.search.clear()
        super().showPopup()
        self.search.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the list with what is typed in its field; arrows choose without it."""
        if event.text().strip() and event.text().isprintable():
            self.showPopup()
            self.search.setText(event.text())
            return
        super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let the list have the keys that move in it, take from it, or shut it."""
        if watched is self.search and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            key = Qt.Key
            moving = (key.Key_Up, key.Key_Down, key.Key_PageUp, key.Key_PageDown)
            if event.key() == key.Key_Escape:
                self.hidePopup()
                return True
            if event.key() in (*moving, key.Key_Return, key.Key_Enter):
                QApplication.sendEvent(self._list, event)
                return True
        return super().eventFilter(watched, event)

    def _narrow(self, text: str) -> None:
        wanted = text.casefold().split()
        head, first = -1, -1
        for row, words in enumerate(self._words):
            kept = bool(words) and all(word in words for word in wanted)
            self._list.setRowHidden(row, not kept)
            if not words:
                head = row
            elif kept:
                if head >= 0:
                    self._list.setRowHidden(head, False)
                first = row if first < 0 else first
        if wanted:
            self._list.setCurrentIndex(self.model().index(first, 0))
            self._list.scrollToTop()
        else:
            self._list.setCurrentIndex(self.model().index(self.currentIndex(), 0))


def open_choice(view: QAbstractItemView) -> None:
    """Open the list of the choice that a cell is edited with, if it is."""
    box = view.viewport().findChild(CellChoice)
    if isinstance(box, CellChoice):
        box.showPopup()
