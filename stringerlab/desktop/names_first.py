"""Widths of a table whose first column holds names: every column what it needs, names what is left.

Where all that is wider than the table, it scrolls sideways; nothing is squeezed until it cannot be read.
"""

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QHeaderView, QTableView

_LEAST, _MOST = 76, 188
"""Of a value's column, and of names before values have theirs [px]."""
_AIR = 6
"""Beside the widest words of a column [px]."""


class NamesFirst(QObject):
    """Sets the widths of a table's columns anew whenever it is resized or filled."""

    def __init__(self, table: QTableView) -> None:
        super().__init__(table)
        self._table = table
        self._wanted: list[int] = []
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        table.viewport().installEventFilter(self)

    def fit(self) -> None:
        """Measure what every column holds now, and set the widths."""
        table = self._table
        table.resizeColumnsToContents()
        count = table.model().columnCount()
        names, *values = [table.columnWidth(column) + _AIR for column in range(count)] or [0]
        self._wanted = [min(names, _MOST), *(max(width, _LEAST) for width in values)]
        self._set()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Set the widths when the table has another width."""
        if event.type() == QEvent.Type.Resize:
            self._set()
        return super().eventFilter(watched, event)

    def _set(self) -> None:
        if len(self._wanted) != self._table.model().columnCount():
            return
        names, *values = self._wanted
        room = self._table.viewport().width() - sum(values)
        for column, width in enumerate((max(names, room), *values)):
            if self._table.columnWidth(column) != width:
                self._table.setColumnWidth(column, width)
