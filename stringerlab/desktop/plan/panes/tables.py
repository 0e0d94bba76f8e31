"""A table under its name and its buttons; its rows follow what is selected, and select it."""

from collections.abc import Callable, Sequence
from typing import Any, Protocol, cast

from PySide6.QtCore import QAbstractItemModel, QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence, QPalette
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from stringerlab.desktop.models.span_parts import SpanPartsModel
from stringerlab.desktop.plan.panes.readings import ReadingsModel
from stringerlab.desktop.plan.panes.things import ThingsModel
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.subject_cells import SubjectCells
from stringerlab.desktop.verdicts import UseDelegate, VerdictDelegate

_ROW, _HEAD = 26, 30


class Copied(Protocol):
    """A model whose rows can be written as text."""

    def as_text(self, rows: Sequence[int]) -> str:
        """Return rows as lines with tabs between."""
        ...


class PaneTable(QWidget):
    """A table of a pane: copied by Ctrl+C; a chosen row is selected everywhere, and the other way round."""

    chosen = Signal(int)
    """Another row is current: its number, −1 for none."""

    def __init__(
        self,
        session: Session,
        title: str,
        model: "ThingsModel | ReadingsModel[Any]",
        id_of: Callable[[int], str],
        *,
        rows: int = 3,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._id_of = id_of
        self._quiet = False
        self.model: QAbstractItemModel = model
        self._written = cast(Copied, model)
        self.table = RowsTable(title)
        self.table.setModel(model)
        model.setParent(self.table)
        self.table.setMinimumHeight(_HEAD + rows * _ROW)
        self.table.horizontalHeader().setMinimumSectionSize(48)
        self.table.horizontalHeader().setStretchLastSection(True)
        triggers = QAbstractItemView.EditTrigger
        if isinstance(model, ThingsModel):
            self.table.setItemDelegate(SubjectCells(session, cast(SpanPartsModel, model), self.table))
            self.table.setEditTriggers(
                triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed
            )
            widths = [field.width for field in model.fields]
            model.refused.connect(self.refuse)
        else:
            self.table.setEditTriggers(triggers.NoEditTriggers)
            widths = [column.width for column in model.columns]
        for number, width in enumerate(widths):
            self.table.setColumnWidth(number, width)
        self.message = QLabel()
        self.message.setWordWrap(True)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setForegroundRole(QPalette.ColorRole.BrightText)
        self.message.setAccessibleName(f"What is wrong with {title.lower()}")
        self.message.hide()
        heading = QLabel(title)
        font = heading.font()
        font.setBold(True)
        heading.setFont(font)
        heading.setBuddy(self.table)
        self._head = QHBoxLayout()
        self._head.setSpacing(4)
        self._head.addWidget(heading)
        self._head.addStretch(1)
        self.deeds: dict[str, QAction] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(self._head)
        column.addWidget(self.table, 1)
        column.addWidget(self.message)
        self.add_deed("Copy", "", "Copy the selected rows, or all, as tab-separated text (Ctrl+C)", self.copy)
        self.table.copy_wanted.connect(self.copy)
        self.table.selectionModel().currentRowChanged.connect(self._chosen)
        session.project_changed.connect(self.message.hide)
        session.selection_changed.connect(self.follow)
        self.follow(session.selected)

    # -- what a pane sets up ---------------------------------------------------------------------

    def add_deed(self, name: str, keys: str, tip: str, deed: Callable[[], object]) -> QAction:
        """Add a button over the table; its keys work while the table has the keyboard."""
        action = self.add_key(name, keys, tip, deed)
        self._head.addWidget(self.button_of(action))
        return action

    def button_of(self, action: QAction) -> QToolButton:
        """Return a button of a deed, for where a pane wants it."""
        button = QToolButton()
        button.setDefaultAction(action)
        button.setAccessibleName(f"{action.text()}, {self.table.accessibleName().lower()}")
        return button

    def add_key(self, name: str, keys: str, tip: str, deed: Callable[[], object]) -> QAction:
        """Add what can be done with the rows, without a button over the table."""
        action = QAction(name, self)
        action.setToolTip(f"{tip} ({keys})" if keys else tip)
        if keys:
            action.setShortcut(QKeySequence(keys))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            self.table.addAction(action)
        action.triggered.connect(deed)
        self.deeds[name] = action
        return action

    def verdicts_in(self, use: int, verdict: int) -> None:
        """Paint utilisations and verdicts in two columns."""
        self.table.setItemDelegateForColumn(use, UseDelegate(self.table))
        self.table.setItemDelegateForColumn(verdict, VerdictDelegate(self.table))

    # -- deeds -----------------------------------------------------------------------------------

    @property
    def rows(self) -> list[int]:
        """Numbers of the selected rows."""
        return self.table.chosen()

    @property
    def ids(self) -> list[str]:
        """Ids of the selected rows."""
        return [self._id_of(row) for row in self.rows if row < self.model.rowCount()]

    def copy(self) -> None:
        """Put the selected rows, or all, on the clipboard as tab-separated text."""
        rows = self.rows if len(self.rows) > 1 else list(range(self.model.rowCount()))
        if rows:
            QGuiApplication.clipboard().setText(self._written.as_text(rows))
            self._session.said.emit(f"{len(rows)} row{'s' if len(rows) > 1 else ''} copied.")

    def refuse(self, reason: str) -> None:
        """Say under the table why something was not done."""
        self.message.setText(reason)
        self.message.show()

    def follow(self, id_: str) -> None:
        """Choose the row of what is selected elsewhere."""
        rows = range(self.model.rowCount()) if id_ else ()
        row = next((row for row in rows if self._id_of(row) == id_), None)
        if row is None or self.table.currentIndex().row() == row:
            return
        self._quiet = True
        index = self.model.index(row, max(self.table.currentIndex().column(), 0))
        flags = QItemSelectionModel.SelectionFlag
        self.table.selectionModel().setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
        self.table.scrollTo(index)
        self._quiet = False

    # -- inside ----------------------------------------------------------------------------------

    def _chosen(self, current: QModelIndex) -> None:
        row = current.row() if current.isValid() else -1
        mine = not self._quiet and self.table.hasFocus() and 0 <= row < self.model.rowCount()
        if mine and (id_ := self._id_of(row)):
            self._session.select(id_)
        self.chosen.emit(row)
