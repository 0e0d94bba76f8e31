"""A section's numbers as a tree of groups, each with what it has changed by since the committed project."""

import math
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any, overload

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFont

from stringerlab.assess.readings import Reading
from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.units import Kind, System, format, rounded

NAME, VALUE, CHANGE = range(3)
_TITLES = ("", "value", "change")
CHANGED_ROLE = Qt.ItemDataRole.UserRole + 1
"""Whether a number differs from the committed project's."""
_LEAST = 0.1
"""Percent below which only that is said."""
_NOTHING = 5e-6
"""Part of a number below which a change is not worth a sign."""


class FactsModel(QAbstractItemModel):
    """Groups, and in each its readings: name, value with unit, change."""

    regrouped = Signal()
    """The groups are others than before."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._groups: list[tuple[str, list[Reading]]] = []
        self._base: Mapping[str, float] = {}
        self._system = System.METRIC
        self._bold = QFont()
        self._bold.setBold(True)

    def show(self, readings: Sequence[Reading], system: System, base: Mapping[str, float]) -> None:
        """Show readings; ``base`` has the committed project's value of each, empty where none is compared."""
        groups = [(name, list(held)) for name, held in groupby(readings, lambda reading: reading.group)]
        same = _shape(groups) == _shape(self._groups)
        self._base, self._system = base, system
        if not same:
            self.beginResetModel()
            self._groups = groups
            self.endResetModel()
            self.regrouped.emit()
            return
        self._groups = groups
        for number, (_, held) in enumerate(groups):
            above = self.index(number, 0)
            self.dataChanged.emit(self.index(0, VALUE, above), self.index(len(held) - 1, CHANGE, above))

    def text(self) -> str:
        """Return everything as lines of tab-separated text under the names of the groups."""
        lines: list[str] = []
        for name, held in self._groups:
            lines += ["", name] if lines else [name]
            for reading in held:
                cells = (reading.name, _value(reading, self._system), self._change(reading), reading.detail)
                lines.append("\t".join(cells).rstrip("\t"))
        return "\n".join(lines)

    # -- as Qt asks ------------------------------------------------------------------------------

    def index(self, row: int, column: int, parent: Index = NOWHERE) -> QModelIndex:
        """Return the place of a group, or of a reading in a group."""
        if not self.hasIndex(row, column, parent):
            return QModelIndex()
        return self.createIndex(row, column, parent.row() + 1 if parent.isValid() else 0)

    @overload
    def parent(self) -> QObject | None: ...

    @overload
    def parent(self, child: Index) -> QModelIndex: ...

    def parent(self, child: Index | None = None) -> QObject | QModelIndex | None:
        """Return the group of a reading; without one, the object the model belongs to."""
        if child is None:
            return QObject.parent(self)
        index = child
        group = index.internalId() if index.isValid() else 0
        return self.createIndex(int(group) - 1, 0, 0) if group else QModelIndex()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many groups there are, or readings in a group."""
        if not parent.isValid():
            return len(self._groups)
        if parent.internalId() or parent.column():
            return 0
        return len(self._groups[parent.row()][1])

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return name, value, change."""
        del parent
        return len(_TITLES)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return _TITLES[section] if 0 <= section < len(_TITLES) else None
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows or says."""
        if not index.isValid():
            return None
        group = int(index.internalId())
        if not group:
            if role == Qt.ItemDataRole.FontRole:
                return self._bold
            named = role == Qt.ItemDataRole.DisplayRole and index.column() == NAME
            return self._groups[index.row()][0] if named else None
        return self._of(self._groups[group - 1][1][index.row()], index, role)

    def _of(self, reading: Reading, index: QModelIndex | QPersistentModelIndex, role: int) -> Any:
        match role:
            case Qt.ItemDataRole.DisplayRole:
                if index.column() == NAME:
                    return reading.name
                if index.column() == VALUE:
                    return _value(reading, self._system)
                return self._change(reading)
            case Qt.ItemDataRole.ToolTipRole:
                where = f"\n{reading.detail}" if reading.detail else ""
                return f"{reading.meaning}.{where}"
            case Qt.ItemDataRole.AccessibleTextRole:
                said = (reading.name, _value(reading, self._system), self._change(reading))
                return " ".join(part for part in said if part)
            case Qt.ItemDataRole.TextAlignmentRole:
                side = Qt.AlignmentFlag.AlignLeft if index.column() == NAME else Qt.AlignmentFlag.AlignRight
                return side | Qt.AlignmentFlag.AlignVCenter
            case _:
                return bool(self._change(reading)) if role == CHANGED_ROLE else None

    def _change(self, reading: Reading) -> str:
        """Return ``▲ 2.4 %`` where a number has grown since the committed project."""
        before = self._base.get(reading.key, math.nan)
        difference = reading.value - before
        if reading.kind is Kind.ANGLE:  # of an axis: half a turn is none at all, and no part of it means much
            difference = math.remainder(difference, math.pi)
            before = 0.0
        if not math.isfinite(difference) or abs(difference) <= _NOTHING * max(
            abs(before), abs(reading.value)
        ):
            return ""
        sign = "▲" if difference > 0 else "▼"
        if abs(before) <= _NOTHING * abs(reading.value) or not before:
            return sign
        percent = abs(difference / before) * 100
        return f"{sign} {rounded(percent, 2)} %" if percent >= _LEAST else f"{sign} <{_LEAST} %"


def _value(reading: Reading, system: System) -> str:
    if math.isnan(reading.value):
        return "—"
    return f"{'≈ ' if reading.rough else ''}{format(reading.value, reading.kind, system)}"


def _shape(groups: Sequence[tuple[str, Sequence[Reading]]]) -> list[tuple[str, list[str]]]:
    return [(name, [reading.key for reading in held]) for name, held in groups]
