"""The boat page's hull bottom: stations as a table, and a picture of them."""

import re
from collections.abc import Sequence

from PySide6.QtCore import QItemSelection, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QSizePolicy,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.stations import StationModel
from stringerlab.desktop.player import PictureView
from stringerlab.desktop.session import Session
from stringerlab.drawing.hulls import stations_picture
from stringerlab.errors import Problem
from stringerlab.project.particulars import with_station, with_stations_sorted, without_stations

_STATION = re.compile(r", station (\d+)")


class StationTable(QTableView):
    """The stations; Ins adds one after the current, Del takes the selected out."""

    adding = Signal()
    removing = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Stations of the hull bottom")
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setTabKeyNavigation(False)
        self.setAlternatingRowColors(True)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setHighlightSections(False)
        self.verticalHeader().setDefaultSectionSize(26)
        self.verticalHeader().setMinimumWidth(34)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Add and remove by key; Enter edits."""
        if event.key() == Qt.Key.Key_Insert:
            self.adding.emit()
        elif event.key() == Qt.Key.Key_Delete:
            self.removing.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            if self.state() != QAbstractItemView.State.EditingState:  # an editor's own Enter comes by here
                self._edit()
        else:
            super().keyPressEvent(event)

    def _edit(self) -> None:
        index = self.currentIndex()
        if index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.edit(index)


class HullBottom(QWidget):
    """Stations and their picture."""

    refused = Signal(str)
    """Why what was typed does not read."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._drawn: tuple[object, ...] = ()
        self.model = StationModel(session, self)
        self.model.refused.connect(self.refused)
        self.table = StationTable(self)
        self.table.setModel(self.model)
        self.table.adding.connect(self.add)
        self.table.removing.connect(self.remove)
        self.table.selectionModel().selectionChanged.connect(self._selected)
        self.picture = PictureView("Hull bottom: plan, profile and sections by station", self)
        self.picture.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.picture.setMinimumHeight(150)
        self.add_button = self._button("Add", "A station after the current one, half way to the next (Ins)")
        self.add_button.clicked.connect(self.add)
        self.remove_button = self._button("Remove", "Take the selected stations out (Del)")
        self.remove_button.clicked.connect(self.remove)
        self.sort_button = self._button("Sort by x", "Put the stations in order from aft forward")
        self.sort_button.clicked.connect(self.sort)
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        for button in (self.add_button, self.remove_button, self.sort_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        left = QVBoxLayout()
        left.setSpacing(6)
        left.addWidget(self.table, 1)
        left.addLayout(buttons)
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(12)
        across.addLayout(left, 12)
        across.addWidget(self.picture, 11)

    def refresh(self, problems: Sequence[Problem]) -> None:
        """Show the session's stations, and which of these problems are a station's."""
        craft = self._session.shown.craft
        wrong: dict[int, str] = {}
        for problem in problems:
            if found := _STATION.search(problem.where):
                row = int(found[1]) - 1
                wrong[row] = "\n".join(
                    filter(None, (wrong.get(row), f"{problem.what} {problem.remedy}".strip()))
                )
        self.model.show_stations(craft.stations, wrong)
        places = [station.x for station in craft.stations]
        self.sort_button.setEnabled(places != sorted(places))
        self._buttons()
        self._draw()

    def add(self) -> None:
        """Add a station after the current one, or at the end, and go to it."""
        current = self.table.currentIndex()
        row = current.row() if current.isValid() else self.model.rowCount() - 1
        if self._session.edit("Add station", with_station, row if row >= 0 else None):
            self.table.setCurrentIndex(self.model.index(row + 1, 0))
            self.table.setFocus()

    def remove(self) -> None:
        """Take the selected stations out."""
        rows = self._rows()
        if rows:
            label = "Remove station" if len(rows) == 1 else f"Remove {len(rows)} stations"
            self._session.edit(label, without_stations, rows)

    def sort(self) -> None:
        """Put the stations in order."""
        self._session.edit("Sort stations", with_stations_sorted)

    def _button(self, words: str, tip: str) -> QPushButton:
        button = QPushButton(words, self)
        button.setToolTip(tip)
        return button

    def _rows(self) -> tuple[int, ...]:
        return tuple(sorted({index.row() for index in self.table.selectionModel().selectedIndexes()}))

    def _selected(self, now: QItemSelection, before: QItemSelection) -> None:
        del now, before
        self._buttons()
        self._draw()

    def _buttons(self) -> None:
        self.remove_button.setEnabled(bool(self._rows()))

    def _draw(self) -> None:
        craft, units = self._session.shown.craft, self._session.units
        rows = self._rows()
        selected = rows[0] + 1 if len(rows) == 1 else None
        if self._drawn != (craft, units, selected):
            self._drawn = (craft, units, selected)
            self.picture.show_picture(stations_picture(craft, selected=selected, units=units))
