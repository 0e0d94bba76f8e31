"""What is asked of the selected panels or spans beside their table: a line of fields below it."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.subject_columns import MORE
from stringerlab.desktop.models.subject_field import Field, Subject
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError

_NARROW, _MIDDLE = 76, 156
_NEEDS_PAN = ("pan.fully_bonded", "pan.voids")


class SubjectMore(QWidget):
    """Fields of the selected rows, the first one's shown; a change is made to all of them at once."""

    changed = Signal(str, list)
    """Which field, in words, and the records as they are to be."""
    refused = Signal(str)
    """Why what was typed does not read."""

    def __init__(self, session: Session, kind: type[Subject], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._records: list[Subject] = []
        self.fields = {field.key: self._editor(field) for field in MORE[kind]}
        self._titles: dict[str, QLabel] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for field in MORE[kind]:
            title = QLabel(field.title)
            title.setBuddy(self.fields[field.key])
            title.setToolTip(field.meaning)
            self._titles[field.key] = title
            row.addWidget(title)
            row.addWidget(self.fields[field.key])
            row.addSpacing(8)
        row.addStretch(1)
        self._kind = kind
        self.show_records([])

    def show_records(self, records: list[Subject]) -> None:
        """Show what is selected; nothing can be changed while nothing is."""
        self._records = records
        project, units = self._session.project, self._session.units
        first = records[0] if records else None
        for field in MORE[self._kind]:
            editor = self.fields[field.key]
            value = None if first is None else field.value(first)
            if isinstance(editor, QuantityField):
                editor.show_value(value, units)
                editor.setToolTip(field.meaning)
            elif field.choices is not None:
                editor.offer([(one.words, str(one.value)) for one in field.choices(project)])
                editor.show_value("" if value is None else str(value))
            pan = self.fields.get("pan")
            bare = field.key in _NEEDS_PAN and isinstance(pan, Choice) and not pan.value
            editor.setEnabled(first is not None and not bare)
            self._titles[field.key].setEnabled(editor.isEnabled())

    def _editor(self, field: Field) -> "QuantityField | Choice":
        if field.kind is not None:
            quantity = QuantityField(field.kind, field.title, self, optional=field.optional)
            quantity.setFixedWidth(_NARROW)
            quantity.committed.connect(partial(self._take, field))
            quantity.emptied.connect(partial(self._take, field, None))
            quantity.refused.connect(self.refused)
            return quantity
        choice = Choice(field.title, field.meaning, self)
        choice.setFixedWidth(_NARROW if field.key in _NEEDS_PAN else _MIDDLE)
        choice.activated.connect(lambda: self._choose(field, choice))
        return choice

    def _choose(self, field: Field, editor: Choice) -> None:
        assert field.choices is not None
        offered = field.choices(self._session.project)
        self._take(field, offered[editor.currentIndex()].value)

    def _take(self, field: Field, value: object) -> None:
        try:
            records = [field.put(record, value) for record in self._records]
        except StringerlabError as error:
            self.show_records(self._records)
            self.refused.emit(str(error))
            return
        if records != self._records:
            self.changed.emit(field.title, records)
