"""One table of panels or spans with what can be done to its rows, and what is wrong said below it."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence, QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.subject_columns import MORE
from stringerlab.desktop.models.subject_field import Subject
from stringerlab.desktop.models.subject_fields import (
    copied,
    fresh,
    hull_deadrise,
    left_out,
    pasted,
    with_details_of,
)
from stringerlab.desktop.models.subjects import Row, SubjectsModel
from stringerlab.desktop.pages.subject_more import SubjectMore
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.subject_cells import SubjectCells
from stringerlab.desktop.verdicts import MARK, UseDelegate, VerdictDelegate, use_text
from stringerlab.errors import StringerlabError, shown
from stringerlab.layout import Zone
from stringerlab.project import several

HULL = "Hull's deadrise"
_SAID = 8
_WIDEST_VERDICT = "not judged: crown slenderness"
_MARGINS = 22
"""Pixels of a cell that its words do not have."""
_EMPTY = {
    "panel": "No panel yet. A panel is a piece of hull bottom between web roots and hull edges.\n"
    "Add one, or paste rows from a spreadsheet.",
    "span": "No span yet. A span is a member between two supports; it names a section and "
    "the plating under it.\n"
    "Add one, or paste rows from a spreadsheet.",
    "zone": "No zone yet. A zone is where a laminate of the hull lies; a panel or span whose laminate is\n"
    "'by place' has what the zones give there, laid over one another in the order of this table.",
}


class SubjectTable(QWidget):
    """The panels, or the spans: added, doubled, deleted, moved, typed in, copied and pasted."""

    def __init__(
        self, session: Session, kind: type[Subject], title: str, *, above: int = 0, below: int = 0
    ) -> None:
        super().__init__()
        self._session = session
        self._quiet = False
        self._copied: tuple[str, list[Subject]] = ("", [])
        """Rows last copied here, and as which text."""
        self.model = SubjectsModel(session, kind, self)
        self._name_width = self.model.width(0)
        self._word = self.model.word
        self.table = self._table(title)
        self.message = QLabel()
        self.message.setWordWrap(True)
        self.message.setAccessibleName(f"What is wrong with the {self._word}s")
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.message.setForegroundRole(QPalette.ColorRole.BrightText)
        self.message.hide()
        self._refusal = ""

        heading = QLabel(title)
        font = heading.font()
        font.setBold(True)
        heading.setFont(font)
        heading.setBuddy(self.table)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(heading)
        row.addSpacing(10)
        self.deeds = {action.text(): action for action in self._deeds()}
        for action in self.deeds.values():
            button = QToolButton()
            button.setDefaultAction(action)
            button.setAccessibleName(f"{action.text()}, {self._word}s")
            row.addWidget(button)
        if kind is Zone:
            self.deeds[HULL].setVisible(False)
        row.addStretch(1)
        empty = QLabel(_EMPTY[self._word])
        empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        empty.setWordWrap(True)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.table)
        self._stack.addWidget(empty)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, above, 0, below)
        column.setSpacing(6)
        column.addLayout(row)
        column.addWidget(self._stack, 1)
        if MORE[kind]:
            self.more = SubjectMore(session, kind, self)
            self.more.refused.connect(self._refuse)
            self.more.changed.connect(self._replace)
            column.addWidget(self.more)
        column.addWidget(self.message)

        self.model.refused.connect(self._refuse)
        session.project_changed.connect(self._clear_refusal)
        session.project_changed.connect(self._refresh)
        session.results_changed.connect(self._refresh)
        session.selection_changed.connect(self._follow)
        self.table.viewport().installEventFilter(self)
        self._refresh()
        self._follow(session.selected)

    # -- parts -----------------------------------------------------------------------------------

    def _table(self, title: str) -> RowsTable:
        table = RowsTable(title)
        table.setModel(self.model)
        table.setItemDelegate(SubjectCells(self._session, self.model, table))
        if self.model.use_column > 0:
            table.setItemDelegateForColumn(self.model.use_column, UseDelegate(table))
            table.setItemDelegateForColumn(self.model.verdict_column, VerdictDelegate(table))
        triggers = QAbstractItemView.EditTrigger
        table.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed)
        for number in range(self.model.columnCount()):
            table.setColumnWidth(number, self.model.width(number))
        header = table.horizontalHeader()
        header.setSectionResizeMode(self.model.verdict_column, QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(56)
        table.copy_wanted.connect(self.copy)
        table.paste_wanted.connect(self.paste)
        table.opened.connect(self._edit)
        selection = table.selectionModel()
        selection.currentRowChanged.connect(self._chosen)
        selection.selectionChanged.connect(self._enable)
        return table

    def _deeds(self) -> list[QAction]:
        word, of = self._word, self._action
        return [
            of("Add", "Ins", f"Add a {word}, like the selected one", self.add),
            of("Duplicate", "Ctrl+D", f"Add a copy of each selected {word}, with all it has", self.duplicate),
            of("Delete", "Del", f"Delete the selected {word}s; undo brings them back", self.delete),
            of("Up", "Alt+Up", f"Move the selected {word}s up", lambda: self.shift(-1)),
            of("Down", "Alt+Down", f"Move the selected {word}s down", lambda: self.shift(1)),
            of(HULL, "Ctrl+H", "Give the selected rows the hull's deadrise at their x", self.take_deadrise),
            of("Copy", "", "Copy the selected rows, or all, as tab-separated text (Ctrl+C)", self.copy),
            of("Paste", "", "Add rows from tab-separated text, columns as in the table (Ctrl+V)", self.paste),
        ]

    def _action(self, name: str, keys: str, tip: str, deed: Callable[[], object]) -> QAction:
        action = QAction(name, self)
        action.setToolTip(f"{tip} ({keys})" if keys else tip)
        if keys:
            action.setShortcut(QKeySequence(keys))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            self.table.addAction(action)
        action.triggered.connect(deed)
        return action

    # -- deeds -----------------------------------------------------------------------------------

    def add(self) -> None:
        """Add a row like the selected one, and begin to type its name."""
        project = self._session.project
        try:
            record = fresh(project, self._like(), self.model.kind)
        except StringerlabError as error:
            self._refuse(str(error))
            return
        if self._session.edit(f"Add {self._word} '{record.name}'", several.all_added, (record,)):
            last = self.model.rowCount() - 1
            self._select([last])
            self.table.setCurrentIndex(self.model.index(last, 0))
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
            self.table.edit(self.model.index(last, 0))

    def duplicate(self) -> None:
        """Add a copy of each selected row."""
        records = self._records()
        if not records:
            return
        names = {record.name for record in self.model.records}
        copies: list[Subject] = []
        for record in records:
            name = _unused(f"{record.name} copy", names)
            names.add(name)
            copies.append(replace(record, name=name))
        if self._session.edit(f"Duplicate {self._named(records)}", several.all_added, copies):
            count = self.model.rowCount()
            self._select(range(count - len(copies), count))

    def delete(self) -> None:
        """Delete the selected rows."""
        records, rows = self._records(), self.table.chosen()
        if not records:
            return
        ids = [record.id for record in records]
        if self._session.edit(f"Delete {self._named(records)}", several.all_removed, ids):
            self._select([min(rows[0], self.model.rowCount() - 1)] if self.model.rowCount() else [])

    def shift(self, step: int) -> None:
        """Move the selected rows up (−1) or down (1)."""
        records = self._records()
        ids = [record.id for record in records]
        moved = several.shifted(self._session.project, ids, step) if ids else self._session.project
        if moved == self._session.project:
            return
        way = "up" if step < 0 else "down"
        column = max(self.table.currentIndex().column(), 0)
        if self._session.edit(f"Move {self._named(records)} {way}", several.shifted, ids, step):
            places = [place for place, one in enumerate(self.model.records) if one.id in set(ids)]
            self._select(places, column)

    def take_deadrise(self) -> None:
        """Give the selected rows the hull's deadrise at their places."""
        project, changed = self._session.project, list[Subject]()
        for record in self._records():
            if isinstance(record, Zone):
                continue
            hull = hull_deadrise(project, record.x)
            if hull is None:
                self._refuse("The hull's stations are not sound, so its deadrise is not known.")
                return
            if round(hull, 1) != record.deadrise:
                changed.append(replace(record, deadrise=round(hull, 1)))
        if changed:
            self._session.edit(
                f"Take deadrise of {self._named(changed)} from the hull", several.all_replaced, changed
            )

    def copy(self) -> None:
        """Put the selected rows, or all, on the clipboard as tab-separated text."""
        rows = self.table.chosen() or list(range(self.model.rowCount()))
        if not rows:
            return
        held = [self.model.rows[row] for row in rows]
        further = ["\t".join(_judged(row)) for row in held]
        records = [row.record for row in held]
        text = copied(records, self._session.project, further)
        self._copied = (text, records)
        QGuiApplication.clipboard().setText(text)
        self._session.said.emit(f"{len(rows)} {self._word}{'s' if len(rows) > 1 else ''} copied.")

    def paste(self) -> None:
        """Add the rows that the clipboard's text means, or none and say everything that does not read.

        Rows copied here come with all they have; of others' rows it is said what text does not carry.
        """
        text = QGuiApplication.clipboard().text()
        copied_here, held = self._copied
        try:
            records = pasted(text, self.model.kind, self._session.project, self._like())
        except StringerlabError as error:
            self._refuse("\n".join(["Nothing was pasted.", *shown(error.problems, _SAID)]))
            return
        own = text == copied_here and len(held) == len(records)
        if own:
            records = with_details_of(records, held)
        if self._session.edit(f"Paste {self._named(records)}", several.all_added, records):
            count = self.model.rowCount()
            self._select(range(count - len(records), count))
            if not own and (missing := left_out(text, self.model.kind)):
                self._refuse("\n".join(f"'{name}' was pasted without its {said}." for name, said in missing))

    def _replace(self, key: str, records: list[Subject]) -> None:
        self._session.edit(f"Change {key} of {self._named(records)}", several.all_replaced, records)

    # -- inside ----------------------------------------------------------------------------------

    def _records(self) -> list[Subject]:
        held = self.model.records
        return [held[row] for row in self.table.chosen() if row < len(held)]

    def _like(self) -> Subject | None:
        row = self.table.currentIndex().row()
        held = self.model.records
        return held[row] if 0 <= row < len(held) else (held[-1] if held else None)

    def _named(self, records: list[Subject]) -> str:
        if len(records) == 1:
            return f"{self._word} '{records[0].name}'"
        return f"{len(records)} {self._word}s"

    def _select(self, rows: "range | list[int]", column: int = 0) -> None:
        flags = QItemSelectionModel.SelectionFlag
        selection = self.table.selectionModel()
        selection.clearSelection()
        for number, row in enumerate(rows):
            index = self.model.index(row, column)
            if not number:
                selection.setCurrentIndex(index, flags.NoUpdate)
                self.table.scrollTo(index)
            selection.select(index, flags.Select | flags.Rows)

    def _chosen(self, current: QModelIndex) -> None:
        if not self._quiet and current.isValid() and current.row() < self.model.rowCount():
            self._session.select(self.model.records[current.row()].id)

    def _follow(self, id: str) -> None:  # noqa: A002
        """Select the row of what is selected elsewhere."""
        place = next((place for place, one in enumerate(self.model.records) if one.id == id), None)
        if place is None:
            return
        if self.table.currentIndex().row() != place:
            self._quiet = True
            self._select([place])
            self._quiet = False

    def _edit(self, index: QModelIndex) -> None:
        if index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.table.edit(index)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Give names the room that verdicts leave."""
        if event.type() == QEvent.Type.Resize:
            self._make_room()
        return super().eventFilter(watched, event)

    def _make_room(self) -> None:
        """Widen the names to what they need where there is room, unless a person has set their width."""
        table, model = self.table, self.model
        if table.columnWidth(0) != self._name_width:
            return
        measure = table.fontMetrics().horizontalAdvance
        wanted = max((measure(record.name) for record in model.records), default=0) + _MARGINS
        others = sum(table.columnWidth(column) for column in range(1, model.verdict_column))
        spare = table.viewport().width() - others - measure(_WIDEST_VERDICT) - MARK - _MARGINS
        self._name_width = max(model.width(0), min(wanted, spare))
        table.setColumnWidth(0, self._name_width)

    def _refresh(self) -> None:
        self._make_room()
        self._stack.setCurrentIndex(0 if self.model.rowCount() else 1)
        self._enable()
        self._say()

    def _enable(self) -> None:
        some = bool(self.table.chosen())
        for name in ("Duplicate", "Delete", "Up", "Down", HULL):
            self.deeds[name].setEnabled(some)
        self.deeds["Copy"].setEnabled(bool(self.model.rowCount()))
        if MORE[self.model.kind]:
            self.more.show_records(self._records())

    def _refuse(self, words: str) -> None:
        self._refusal = f"! {words}"
        self._say()

    def _clear_refusal(self) -> None:
        self._refusal = ""

    def _say(self) -> None:
        """Say what was refused last, else what is wrong with rows, each problem once."""
        wrong = dict.fromkeys(problem for row in self.model.rows for problem in row.problems)
        words = self._refusal or "\n".join(f"! {line}" for line in shown(wrong, 3))
        if words != self.message.text():
            self.message.setText(words)
        self.message.setVisible(bool(words))


def _judged(row: Row) -> tuple[str, str]:
    """Return utilisation and verdict of a row, for a spreadsheet."""
    use = row.worst.utilisation if row.worst is not None and not row.problems else None
    return use_text(use), row.verdict.value if row.verdict else ""


def _unused(name: str, taken: set[str]) -> str:
    if name not in taken:
        return name
    return next(f"{name} {number}" for number in range(2, len(taken) + 3) if f"{name} {number}" not in taken)
