"""Rows of what was measured: a laminate's plies and, last, the whole of it; and rows of what it changes."""

from collections.abc import Sequence
from dataclasses import replace
from enum import IntEnum

from PySide6.QtCore import QAbstractTableModel, QObject, Qt
from PySide6.QtGui import QFont

from stringerlab.assess.as_built import Change
from stringerlab.desktop.models.rows import NOWHERE, Index
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import use_text
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, thickness
from stringerlab.layout.as_built import LaminateAsBuilt, PlyAsBuilt
from stringerlab.methods import Finding
from stringerlab.project.measuring import (
    measured_laminate,
    measured_ply,
    with_laminate_measured,
    with_ply_measured,
)
from stringerlab.project.problems import book_of
from stringerlab.units import Kind, format, parse, trimmed


class Column(IntEnum):
    """Columns of what was measured."""

    PLY = 0
    DRAWN = 1
    THICKNESS = 2
    GLASS = 3
    MISSING = 4


MEASURED = "◆"
"""Before what was measured."""
NOT_LAID = "not laid"
"""In place of the thickness of a ply that is missing."""
_TITLES = ("ply", "drawn", "measured", "glass", "missing")
_TIPS = (
    "Ply, counted away from the mould; last the whole laminate",
    "Thickness as drawn up",
    "Thickness as the shop measured it; blank where it was not",
    "Glass content by mass as burnt off, 0.42 or 42 %; blank where it was not",
    "Tick a ply that was not laid",
)


class MeasuredModel(QAbstractTableModel):
    """One laminate's measurements; every cell typed or ticked is an edit of its own."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._laminate: Laminate | None = None

    def show_laminate(self, laminate: Laminate | None) -> None:
        """Show a laminate as it is now."""
        self.beginResetModel()
        self._laminate = laminate
        self.endResetModel()

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return one row a ply, and one for the whole."""
        if parent.isValid() or self._laminate is None:
            return 0
        return len(self._laminate.plies) + 1

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(Column)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a column's heading, or its meaning."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return _TITLES[section]
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.ToolTipRole:
            return _TIPS[section]
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Say which cells may be typed in or ticked."""
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if index.column() in (Column.THICKNESS, Column.GLASS):
            return flags | Qt.ItemFlag.ItemIsEditable
        if index.column() == Column.MISSING and not self._is_whole(index.row()):
            return flags | Qt.ItemFlag.ItemIsUserCheckable
        return flags

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell."""
        laminate = self._laminate
        if not index.isValid() or laminate is None:
            return None
        row, column = index.row(), Column(index.column())
        if role == Qt.ItemDataRole.CheckStateRole and column == Column.MISSING and not self._is_whole(row):
            missing = measured_ply(self._session.shown, laminate.id, row + 1).missing
            return Qt.CheckState.Checked if missing else Qt.CheckState.Unchecked
        if role == Qt.ItemDataRole.FontRole:
            missing = column is Column.THICKNESS and self._said(laminate, row, Column.MISSING)
            return _bold() if missing or self._said(laminate, row, column) else None
        if role == Qt.ItemDataRole.ToolTipRole:
            said = self._said(laminate, row, column)
            return f"{_TIPS[column]}\n{MEASURED} {said}" if said else _TIPS[column]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            said = self._said(laminate, row, column)
            text = self._text(laminate, row, column)
            return f"{text}, {said}".removeprefix(", ") if said else text
        if role == Qt.ItemDataRole.DisplayRole:
            text = self._text(laminate, row, column)
            held = self._measured(laminate, row)
            if column is Column.THICKNESS and isinstance(held, PlyAsBuilt) and held.missing:
                return f"{MEASURED} {NOT_LAID}"
            marked = column is not Column.MISSING and self._said(laminate, row, column)
            return f"{MEASURED} {text}" if marked else text
        return self._text(laminate, row, column) if role == Qt.ItemDataRole.EditRole else None

    def setData(self, index: Index, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take what was typed or ticked; what does not read is told and changes nothing."""
        laminate = self._laminate
        if not index.isValid() or laminate is None:
            return False
        column = Column(index.column())
        if role == Qt.ItemDataRole.CheckStateRole and column is Column.MISSING:
            ticked = Qt.CheckState(value) is Qt.CheckState.Checked
            return self._set_ply(laminate, index.row(), missing=ticked)
        if role != Qt.ItemDataRole.EditRole or column not in (Column.THICKNESS, Column.GLASS):
            return False
        kind = Kind.LENGTH if column is Column.THICKNESS else Kind.RATIO
        text = str(value).strip()
        try:
            number = parse(text, kind, self._session.units) if text else None
        except StringerlabError as refused:
            self._session.problem.emit(refused)
            return False
        if self._is_whole(index.row()):
            return self._set_whole(laminate, column, number)
        if column is Column.THICKNESS:
            return self._set_ply(laminate, index.row(), thickness=number)
        return self._set_ply(laminate, index.row(), glass=number)

    def _is_whole(self, row: int) -> bool:
        return self._laminate is not None and row == len(self._laminate.plies)

    def _set_ply(self, laminate: Laminate, row: int, **values: float | bool | None) -> bool:
        held: PlyAsBuilt = measured_ply(self._session.project, laminate.id, row + 1)
        new = PlyAsBuilt(
            **{name: values.get(name, getattr(held, name)) for name in PlyAsBuilt.__slots__}  # pyright: ignore
        )
        if new == held:
            return False
        label = f"Measure ply {row + 1} of {laminate.name}"
        return self._session.edit(label, with_ply_measured, laminate.id, new)

    def _set_whole(self, laminate: Laminate, column: Column, number: float | None) -> bool:
        held: LaminateAsBuilt = measured_laminate(self._session.project, laminate.id)
        new = replace(held, thickness=number) if column is Column.THICKNESS else replace(held, glass=number)
        if new == held:
            return False
        return self._session.edit(f"Measure laminate {laminate.name}", with_laminate_measured, new)

    def _measured(self, laminate: Laminate, row: int) -> LaminateAsBuilt | PlyAsBuilt:
        if self._is_whole(row):
            return measured_laminate(self._session.shown, laminate.id)
        return measured_ply(self._session.shown, laminate.id, row + 1)

    def _drawn(self, laminate: Laminate, row: int) -> float | None:
        """Return a row's thickness as drawn up, None where it is not known."""
        stack = self._session.resolved.stacks.get(laminate.id)
        if stack is None:
            return None
        if self._is_whole(row):
            return thickness(stack)
        plies = zip(stack.numbers, stack.plies, strict=True)
        layers = [ply.thickness for number, ply in plies if number == row + 1]
        return sum(layers) if layers else None

    def _text(self, laminate: Laminate, row: int, column: Column) -> str:
        system, held = self._session.units, self._measured(laminate, row)
        match column:
            case Column.PLY:
                return self._name(laminate, row)
            case Column.DRAWN:
                drawn = self._drawn(laminate, row)
                return "—" if drawn is None else format(drawn, Kind.LENGTH, system)
            case Column.THICKNESS:
                return "" if held.thickness is None else format(held.thickness, Kind.LENGTH, system)
            case Column.GLASS:
                return "" if held.glass is None else trimmed(held.glass)
            case Column.MISSING:
                return ""

    def _name(self, laminate: Laminate, row: int) -> str:
        if self._is_whole(row):
            return "whole, without gel coat"
        material = book_of(self._session.shown).find(laminate.plies[row].material)
        return f"{row + 1}  {laminate.plies[row].material if material is None else material.name}"

    def _said(self, laminate: Laminate, row: int, column: Column) -> str:
        """Return in words what was measured of a cell, of a whole row in its first; empty for nothing."""
        held = self._measured(laminate, row)
        match column:
            case Column.PLY:
                cells = (Column.THICKNESS, Column.GLASS, Column.MISSING)
                return "; ".join(said for each in cells if (said := self._said(laminate, row, each)))
            case Column.THICKNESS if held.thickness is not None:
                words = f"measured {format(held.thickness, Kind.LENGTH, self._session.units)}"
                drawn = self._drawn(laminate, row)
                if not drawn:
                    return words
                more = 100 * (held.thickness / drawn - 1)
                drawn_words = format(drawn, Kind.LENGTH, self._session.units)
                return f"{words}, drawn {drawn_words} ({more:+.0f} %)".replace("-", "−")
            case Column.GLASS if held.glass is not None:
                return f"measured glass {trimmed(100 * held.glass)} %"
            case Column.MISSING if isinstance(held, PlyAsBuilt) and held.missing:
                return "missing: it was not laid"
            case _:
                return ""


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font


_CHANGES = ("subject", "aspect", "as drawn", "as built")


class ChangesModel(QAbstractTableModel):
    """What measurements change, worse verdicts first."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[Change, ...] = ()

    def show(self, rows: Sequence[Change]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self._rows = tuple(rows)
        self.endResetModel()

    def change(self, row: int) -> Change:
        """Return the change of a row."""
        return self._rows[row]

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of columns."""
        return 0 if parent.isValid() else len(_CHANGES)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a column's heading."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return _CHANGES[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell."""
        if not index.isValid() or role != Qt.ItemDataRole.DisplayRole:
            return None
        change = self._rows[index.row()]
        cells = (change.name, change.aspect.value, _said(change.before), _said(change.after))
        return cells[index.column()]

    def text(self) -> str:
        """Return all rows as tab-separated text."""
        lines = ["\t".join(_CHANGES)]
        lines += [
            "\t".join((one.name, one.aspect.value, _said(one.before), _said(one.after))) for one in self._rows
        ]
        return "\n".join(lines)


def _said(finding: Finding | None) -> str:
    if finding is None:
        return "not asked"
    if finding.utilisation is None:
        return finding.verdict.value
    return f"{use_text(finding.utilisation)} {finding.verdict.value}"
