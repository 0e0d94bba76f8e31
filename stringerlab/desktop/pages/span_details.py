"""Ends and openings of the selected span: a panel that opens under the spans."""

from functools import partial
from typing import Any

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QAction, QKeySequence, QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.span_columns import LANDING, OUTBOARDS, Part, summary
from stringerlab.desktop.models.span_parts import SpanPartsModel
from stringerlab.desktop.models.subject_field import Field
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.subject_cells import SubjectCells
from stringerlab.errors import StringerlabError
from stringerlab.layout import Crossing, Landing, Opening, Span, TransomLoad
from stringerlab.project import span_details
from stringerlab.project.span_problems import ENDS
from stringerlab.units import Kind

_ROWS = 3
"""Rows of a table that show at once, at least."""
_NARROW, _ROW, _FRAME = 90, 26, 4
_FRESH = TransomLoad(thrust=5000, weight=3000, depth=400, overhang=300, share=0.5, times=3)
"""Outboards to begin from: of some middling boat, one of two members."""


class SpanDetails(QWidget):
    """A button that opens the panel, and the panel."""

    opened = Signal(bool)
    """Whether the panel is open now."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._id = ""
        self.button = QToolButton(self)
        self.button.setText("Ends and openings…")
        self.button.setCheckable(True)
        self.button.setToolTip(
            "Holes in its webs, how its ends land, what crosses it, outboards on it: of the selected span"
        )
        self.button.setAccessibleName("Ends and openings of the selected span")
        self.button.toggled.connect(self._open)
        self.about = QLabel(self)
        self.about.setTextFormat(Qt.TextFormat.PlainText)
        self.message = QLabel(self)
        self.message.setTextFormat(Qt.TextFormat.PlainText)
        self.message.setWordWrap(True)
        self.message.setAccessibleName("What is wrong with ends and openings")
        self.message.setForegroundRole(QPalette.ColorRole.BrightText)
        self.message.hide()
        self.openings = _PartTable(session, Opening, "Openings", self)
        self.crossings = _PartTable(session, Crossing, "Crossings", self)
        self.landings = tuple(_FieldRow(session, LANDING, f"{end} end", self) for end in ENDS)
        self.has_outboards = QCheckBox("Outboards", self)
        self.has_outboards.setToolTip("Whether outboards hang on this member where it ends at the transom")
        self.has_outboards.clicked.connect(self._outboards)
        self.outboards = _FieldRow(session, OUTBOARDS, "outboards", self)
        self.outboards.changed.connect(self._load)
        for end, row in enumerate(self.landings):
            row.changed.connect(partial(self._landing, end))
        for part in (self.openings, self.crossings, self.outboards, *self.landings):
            part.refused.connect(self._refuse)
        head = QHBoxLayout()
        head.addWidget(self.button)
        head.addSpacing(8)
        head.addWidget(self.about, 1)
        self.body = QWidget(self)
        self._lay_out()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.body)
        column.addWidget(self.message)
        self.body.hide()
        session.selection_changed.connect(self.show_selected)
        session.project_changed.connect(self._refresh)
        self.show_selected(session.selected)

    def _lay_out(self) -> None:
        tables = QHBoxLayout()
        tables.setSpacing(16)
        tables.addWidget(self.openings, 1)
        tables.addWidget(self.crossings, 1)
        rows = QGridLayout()
        rows.setHorizontalSpacing(10)
        rows.setVerticalSpacing(6)
        for number, row in enumerate(self.landings):
            rows.addWidget(QLabel(f"{ENDS[number].capitalize()} end"), number, 0)
            rows.addWidget(row, number, 1)
        rows.addWidget(self.has_outboards, 2, 0)
        rows.addWidget(self.outboards, 2, 1)
        rows.setColumnStretch(1, 1)
        column = QVBoxLayout(self.body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(tables, 1)
        column.addLayout(rows)

    @property
    def span(self) -> Span | None:
        """The span shown, None while there is none."""
        return next((span for span in self._session.project.spans if span.id == self._id), None)

    def show_selected(self, id: str) -> None:  # noqa: A002
        """Show the selected span; what else is selected leaves the last one."""
        if any(span.id == id for span in self._session.project.spans):
            self._id = id
        self._refresh()

    def _refresh(self) -> None:
        span = self.span
        self._refuse("")
        self.button.setEnabled(bool(self._session.project.spans))
        self.body.setEnabled(span is not None)
        for table in (self.openings, self.crossings):
            table.show_span(span)
        for end, row in enumerate(self.landings):
            row.show_record(None if span is None else span.landings[end])
        load = None if span is None else span.transom
        self.has_outboards.setChecked(load is not None)
        self.outboards.show_record(load)
        if span is None:
            self.about.setText("Select a span." if self._session.project.spans else "")
        else:
            held = summary(span.landings, len(span.openings), len(span.crossings), span.transom)
            self.about.setText(f"{span.name}: {held or 'none so far'}")

    def _open(self, shown: bool) -> None:
        if shown and self.span is None and self._session.project.spans:
            self._session.select(self._session.project.spans[0].id)
        self.body.setVisible(shown)
        self.opened.emit(shown)

    def _refuse(self, words: str) -> None:
        self.message.setText(f"! {words}" if words else "")
        self.message.setVisible(bool(words))

    # -- edits -----------------------------------------------------------------------------------

    def _landing(self, end: int, title: str, landing: Landing) -> None:
        if (span := self.span) is not None:
            label = f"Change {title} of the {ENDS[end]} end of span '{span.name}'"
            self._session.edit(label, span_details.with_landing, span.id, end, landing)

    def _outboards(self, wanted: bool) -> None:
        if (span := self.span) is not None:
            label = f"{'Hang outboards on' if wanted else 'Take outboards off'} span '{span.name}'"
            self._session.edit(label, span_details.with_outboards, span.id, _FRESH if wanted else None)

    def _load(self, title: str, load: TransomLoad) -> None:
        if (span := self.span) is not None:
            label = f"Change {title} of the outboards on span '{span.name}'"
            self._session.edit(label, span_details.with_outboards, span.id, load)


class _FieldRow(QWidget):
    """One record's fields side by side."""

    changed = Signal(str, object)
    """Which field, in words, and the record as it is to be."""
    refused = Signal(str)

    def __init__(self, session: Session, fields: tuple[Field, ...], of: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._fields = fields
        self._record: Any = None
        self.editors = {field.key: self._editor(field, of) for field in fields}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for field in fields:
            title = QLabel(field.title)
            title.setBuddy(self.editors[field.key])
            title.setToolTip(field.meaning)
            row.addWidget(title)
            row.addWidget(self.editors[field.key])
            row.addSpacing(8)
        row.addStretch(1)

    def show_record(self, record: object) -> None:
        """Show a record, None for none: then nothing can be changed."""
        self._record = record
        for field in self._fields:
            editor = self.editors[field.key]
            value = None if record is None else field.value(record)
            if isinstance(editor, QuantityField):
                editor.show_value(value, self._session.units)
                editor.setToolTip(field.meaning)
            else:
                editor.show_value("" if value is None else str(value))
        self.setEnabled(record is not None)

    def _editor(self, field: Field, of: str) -> QuantityField | Choice:
        name = f"{field.title}, {of}"
        if field.kind is not None:
            quantity = QuantityField(field.kind, name, self, optional=field.optional)
            quantity.setFixedWidth(field.width if field.kind is Kind.RATIO else _NARROW)
            quantity.committed.connect(partial(self._take, field))
            quantity.emptied.connect(partial(self._take, field, None))
            quantity.refused.connect(self.refused)
            return quantity
        assert field.choices is not None
        choice = Choice(name, field.meaning, self)
        choice.setFixedWidth(field.width)
        choice.offer([(one.words, str(one.value)) for one in field.choices(self._session.project)])
        choice.activated.connect(lambda: self._choose(field, choice))
        return choice

    def _choose(self, field: Field, choice: Choice) -> None:
        assert field.choices is not None
        self._take(field, field.choices(self._session.project)[choice.currentIndex()].value)

    def _take(self, field: Field, value: object) -> None:
        if self._record is None:
            return
        changed = field.put(self._record, value)
        if changed != self._record:
            self.changed.emit(field.title, changed)


class _PartTable(QWidget):
    """Openings or crossings of the span: added by Ins, taken out by Del, typed over."""

    refused = Signal(str)

    def __init__(self, session: Session, kind: type[Part], title: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._span: Span | None = None
        self.model = SpanPartsModel(session, kind, self)
        self.model.refused.connect(self.refused)
        self._word = self.model.word
        self.table = RowsTable(f"{title} of the selected span", self)
        self.table.setModel(self.model)
        self.table.setItemDelegate(SubjectCells(session, self.model, self.table))
        triggers = QAbstractItemView.EditTrigger
        self.table.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed)
        for number, field in enumerate(self.model.fields):
            self.table.setColumnWidth(number, field.width)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(len(self.model.fields) - 1, QHeaderView.ResizeMode.Stretch)
        self.table.setMinimumHeight(header.sizeHint().height() + _ROW * _ROWS + _FRAME)
        self.table.opened.connect(self._edit)
        self.table.selectionModel().selectionChanged.connect(self._enable)
        self.deeds = {
            action.text(): action
            for action in (
                self._action("Add", "Ins", "Add an opening where there is room", self.add)
                if kind is Opening
                else self._action("Add", "Ins", "Add a crossing in the middle", self.add),
                self._action("Remove", "Del", f"Take the selected {self._word}s out", self.remove),
            )
        }
        heading = QLabel(title)
        font = heading.font()
        font.setBold(True)
        heading.setFont(font)
        heading.setBuddy(self.table)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(heading)
        row.addSpacing(8)
        for action in self.deeds.values():
            button = QToolButton(self)
            button.setDefaultAction(action)
            button.setAccessibleName(f"{action.text()}, {self._word}s")
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self.table, 1)

    def show_span(self, span: Span | None) -> None:
        """Show what a span has."""
        self._span = span
        self.model.show_span(span)
        self._enable()

    def add(self) -> None:
        """Add one that fits, and go to it."""
        span, project = self._span, self._session.project
        if span is None:
            return
        label = f"Add {self._word} to span '{span.name}'"
        try:
            if self.model.kind is Opening:
                hole = span_details.fresh_opening(project, span.id)
                done = self._session.edit(label, span_details.with_opening, span.id, hole)
            else:
                crossing = span_details.fresh_crossing(project, span.id)
                done = self._session.edit(label, span_details.with_crossing, span.id, crossing)
        except StringerlabError as error:
            self.refused.emit(str(error))
            return
        if done:
            self.table.setCurrentIndex(self.model.index(self.model.rowCount() - 1, 0))
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def remove(self) -> None:
        """Take the selected ones out."""
        rows, span = tuple(self.table.chosen()), self._span
        if span is None or not rows:
            return
        words = f"{self._word} {rows[0] + 1}" if len(rows) == 1 else f"{len(rows)} {self._word}s"
        edit = span_details.without_openings if self.model.kind is Opening else span_details.without_crossings
        self._session.edit(f"Remove {words} of span '{span.name}'", edit, span.id, rows)

    def _action(self, name: str, keys: str, tip: str, deed: Any) -> QAction:
        action = QAction(name, self)
        action.setToolTip(f"{tip} ({keys})")
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.table.addAction(action)
        action.triggered.connect(deed)
        return action

    def _edit(self, index: QModelIndex) -> None:
        self.table.edit(index)

    def _enable(self) -> None:
        self.deeds["Add"].setEnabled(self._span is not None)
        self.deeds["Remove"].setEnabled(bool(self.table.chosen()))
