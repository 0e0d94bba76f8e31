"""Rows of a model told apart by value, so that a change elsewhere keeps what is selected and scrolled to."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QPersistentModelIndex, Qt

Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
"""The parent of a table's rows."""

SECOND_LINE = Qt.ItemDataRole.UserRole + 1
"""Role of a fainter line under an item's name; empty or None for none."""

_Row = TypeVar("_Row")


@dataclass(frozen=True, slots=True)
class Difference:
    """Rows ``start`` to ``start + removed`` have become ``inserted`` rows."""

    start: int
    removed: int
    inserted: int


def difference(before: Sequence[object], after: Sequence[object]) -> Difference:
    """Return the stretch in which two lists differ, as short as it can be at both ends."""
    shorter = min(len(before), len(after))
    start = 0
    while start < shorter and before[start] == after[start]:
        start += 1
    end = 0
    while end < shorter - start and before[-1 - end] == after[-1 - end]:
        end += 1
    return Difference(start, len(before) - start - end, len(after) - start - end)


def show_rows(
    model: QAbstractItemModel,
    rows: list[_Row],
    after: Sequence[_Row],
    key: Callable[[_Row], object],
    columns: int = 1,
) -> None:
    """Make a model's list of rows the same as another, telling its views only of what differs.

    Parameters
    ----------
    model
        The model of the rows, without children.
    rows
        The model's own list, changed in place.
    after
        What it is to hold.
    key
        What makes two rows the same row although they show other values.
    columns
        Of the model.
    """
    found = difference([key(row) for row in rows], [key(row) for row in after])
    common = min(found.removed, found.inserted)
    at = found.start + common
    if found.removed > common:
        model.beginRemoveRows(NOWHERE, at, found.start + found.removed - 1)
        del rows[at : found.start + found.removed]
        model.endRemoveRows()
    elif found.inserted > common:
        model.beginInsertRows(NOWHERE, at, found.start + found.inserted - 1)
        rows[at:at] = after[at : found.start + found.inserted]
        model.endInsertRows()
    changed = [i for i, (old, new) in enumerate(zip(rows, after, strict=True)) if old != new]
    if changed:
        rows[:] = after
        model.dataChanged.emit(model.index(changed[0], 0), model.index(changed[-1], columns - 1))
