"""A table with names in its first column: names are read however many values stand beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QTableView

from stringerlab.desktop.names_first import NamesFirst

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

NAME = "Members in Deep floor"


@pytest.mark.parametrize("values", [2, 6])
def test_names_keep_their_width_beside_few_values_and_many(qtbot: QtBot, values: int) -> None:
    model = QStandardItemModel()
    model.appendRow([QStandardItem(NAME), *(QStandardItem("6710.96 crowns") for _ in range(values))])
    table = QTableView()
    qtbot.addWidget(table)
    table.setModel(model)
    columns = NamesFirst(table)
    table.resize(520, 200)
    with qtbot.waitExposed(table):
        table.show()
    columns.fit()
    assert table.columnWidth(0) >= table.fontMetrics().horizontalAdvance(NAME)
    whole = sum(table.columnWidth(column) for column in range(1 + values))
    room = table.viewport().width()
    assert whole == room if values == 2 else whole > room
    table.resize(1400, 200)
    qtbot.waitUntil(lambda: sum(map(table.columnWidth, range(1 + values))) == table.viewport().width())
    model.deleteLater()
