"""Fields of one record in a column, each with its name: typed quantities with units, choices, words."""

from collections.abc import Sequence
from functools import partial
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLabel, QLineEdit, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.subject_field import Field
from stringerlab.desktop.session import Session


class FieldForm(QWidget):
    """A form that shows a record and tells what a person puts in; the edit is for its pane to make."""

    put = Signal(object, object)
    """A field and its value, a quantity in the program's unit, None for one taken away."""
    refused = Signal(str)
    """Why what was typed does not read."""

    def __init__(
        self, session: Session, fields: Sequence[Field], of: str = "", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._session = session
        self.fields: dict[str, Field] = {field.key: field for field in fields}
        self.editors: dict[str, QuantityField | Choice | QLineEdit] = {}
        self._record: object = None
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(4)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for field in fields:
            editor = self._editor(field, f"{of}, {field.title}" if of else field.title)
            label = QLabel(field.title[:1].upper() + field.title[1:])
            label.setBuddy(editor)
            label.setToolTip(field.meaning)
            editor.setToolTip(field.meaning)
            form.addRow(label, editor)
            self.editors[field.key] = editor

    def show_record(self, record: object) -> None:
        """Show a record's values; None empties and disables the form."""
        self._record = record
        self.setEnabled(record is not None)
        project = self._session.project
        for key, editor in self.editors.items():
            field = self.fields[key]
            if isinstance(editor, QuantityField):
                editor.show_value(None if record is None else field.value(record), project.units)
                editor.setToolTip(field.meaning)
            elif isinstance(editor, Choice):
                self._show_choice(editor, field)
            elif not editor.isModified() or not editor.hasFocus():
                editor.setText("" if record is None else str(field.value(record)))

    # -- inside ----------------------------------------------------------------------------------

    def _editor(self, field: Field, name: str) -> QuantityField | Choice | QLineEdit:
        if field.kind is not None:
            quantity = QuantityField(field.kind, name, self, optional=field.optional)
            quantity.committed.connect(partial(self._put, field))
            quantity.emptied.connect(partial(self._put, field, None))
            quantity.refused.connect(self.refused)
            return quantity
        if field.choices is not None:
            choice = Choice(name, field.meaning, self)
            choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            choice.setMinimumContentsLength(10)
            choice.activated.connect(partial(self._chosen, field, choice))
            return choice
        line = QLineEdit(self)
        line.setAccessibleName(name)
        line.editingFinished.connect(partial(self._typed, field, line))
        return line

    def _show_choice(self, editor: Choice, field: Field) -> None:
        offered = field.choices(self._session.project) if field.choices else ()
        editor.offer([(one.words, str(number)) for number, one in enumerate(offered)])
        held = None if self._record is None else field.value(self._record)
        place = next((number for number, one in enumerate(offered) if one.value == held), -1)
        editor.setCurrentIndex(place)

    def _put(self, field: Field, value: Any) -> None:
        if self._record is not None:
            self.put.emit(field, value)

    def _chosen(self, field: Field, editor: Choice, number: int) -> None:
        del editor
        offered = field.choices(self._session.project) if field.choices else ()
        if 0 <= number < len(offered):
            self._put(field, offered[number].value)

    def _typed(self, field: Field, line: QLineEdit) -> None:
        if line.isModified():
            line.setModified(False)
            self._put(field, line.text().strip())
