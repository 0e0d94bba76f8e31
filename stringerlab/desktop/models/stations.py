"""The hull bottom's stations as a table: x, keel and chine typed with units, deadrise derived."""

import math
from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QObject, Qt, Signal

from stringerlab.craft import Station
from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.project.particulars import with_station_values
from stringerlab.units import Kind, display_unit, in_unit, parse, trimmed, unit_named

FIELDS = ("x", "keel_z", "chine_y", "chine_z")
_HEADINGS = ("x", "Keel z", "Chine y", "Chine z", "Deadrise")
_WORDS = ("place", "keel height", "chine half-beam", "chine height")
_TIPS = (
    "From the transom, forward",
    "Height of the keel, upward",
    "Half the beam over the chines",
    "Height of the chine, upward",
    "Slope from keel to chine; follows from the others",
)
DEADRISE = len(FIELDS)


class StationModel(QAbstractTableModel):
    """Stations as the session shows them; an edit is one step of its history."""

    refused = Signal(str)
    """Why what was typed does not read."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[Station] = []
        self._problems: dict[int, str] = {}
        self._units = session.units

    def show_stations(self, stations: Sequence[Station], problems: dict[int, str]) -> None:
        """Show stations, and what is wrong with them by row."""
        same_look = self._units is self._session.units and problems == self._problems
        self._units, self._problems = self._session.units, dict(problems)
        show_rows(self, self._rows, stations, key=lambda station: station.x)
        if not same_look and self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, DEADRISE))
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, DEADRISE)
            self.headerDataChanged.emit(Qt.Orientation.Vertical, 0, len(self._rows) - 1)

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many stations there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(_HEADINGS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a column's name with its unit, or a station's number, marked where something is wrong."""
        if orientation == Qt.Orientation.Vertical:
            if not 0 <= section < len(self._rows):
                return None
            wrong = self._problems.get(section)
            if role == Qt.ItemDataRole.DisplayRole:
                return f"{section + 1} !" if wrong else str(section + 1)
            return wrong if role == Qt.ItemDataRole.ToolTipRole else None
        if not 0 <= section < len(_HEADINGS):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            unit = "°" if section == DEADRISE else display_unit(Kind.LENGTH, self._units).symbol
            return f"{_HEADINGS[section]}\n{unit}"
        return _TIPS[section] if role == Qt.ItemDataRole.ToolTipRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell's number; to edit it, with its unit."""
        if not index.isValid():
            return None
        station, column = self._rows[index.row()], index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            if column == DEADRISE:
                return trimmed(_deadrise(station), 3)
            return trimmed(self._value(station, column) / display_unit(Kind.LENGTH, self._units).factor)
        if role == Qt.ItemDataRole.EditRole and column != DEADRISE:
            unit = display_unit(Kind.LENGTH, self._units)
            return in_unit(self._value(station, column), unit, digits=7)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._problems.get(index.row()) or _TIPS[column]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._spoken(index)
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Everything but the deadrise is edited."""
        flags = super().flags(index)
        if index.isValid() and index.column() != DEADRISE:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Change a station by what was typed; what does not read is refused, with the reason."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid() or index.column() == DEADRISE:
            return False
        row, column = index.row(), index.column()
        text = str(value)
        if text == self.data(index, Qt.ItemDataRole.EditRole):
            return False
        try:
            number = parse(text, Kind.LENGTH, self._units)
        except StringerlabError as error:
            self.refused.emit(f"Station {row + 1}, {_WORDS[column]}: {error}")
            return False
        return self._session.edit(
            f"Change {_WORDS[column]} of station {row + 1}",
            with_station_values,
            row,
            **{FIELDS[column]: number},
        )

    def _value(self, station: Station, column: int) -> float:
        return float(getattr(station, FIELDS[column]))

    def _spoken(self, index: Index) -> str:
        station, column = self._rows[index.row()], index.column()
        if column == DEADRISE:
            said = in_unit(math.radians(_deadrise(station)), unit_named("deg"), digits=3)
        else:
            said = in_unit(self._value(station, column), display_unit(Kind.LENGTH, self._units))
        return f"{_HEADINGS[column]} of station {index.row() + 1}: {said}"


def _deadrise(station: Station) -> float:
    return math.degrees(math.atan2(station.chine_z - station.keel_z, station.chine_y))
