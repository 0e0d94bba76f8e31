"""Editors of a table of panels, spans or what spans have: typed quantities with units, choices, names."""

from functools import partial

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QStyleOptionViewItem, QWidget

from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.span_parts import SpanPartsModel
from stringerlab.desktop.models.subjects import SubjectsModel
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import CellDelegate
from stringerlab.errors import StringerlabError
from stringerlab.units import parse

_TAKING = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
_TYPED = "typed value"
Index = QModelIndex | QPersistentModelIndex


class SubjectCells(CellDelegate):
    """Makes the editor that fits a cell; one that does not read stays open and says why."""

    def __init__(
        self, session: Session, model: SubjectsModel | SpanPartsModel, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._model = model

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return the editor of a cell."""
        del option
        field = self._model.field(index)
        assert field is not None
        if field.kind is not None:
            quantity = QuantityField(field.kind, field.title, parent)
            quantity.committed.connect(partial(quantity.setProperty, _TYPED))
            quantity.refused.connect(self._model.refused)
            return quantity
        if field.choices is not None:
            combo = QComboBox(parent)
            combo.setAccessibleName(field.title)
            for one in field.choices(self._session.project):
                combo.addItem(one.words)
            combo.activated.connect(lambda: self._take(combo))
            return combo
        line = QLineEdit(parent)
        line.setAccessibleName(field.title)
        return line

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show what the cell holds."""
        field, record = self._model.field(index), self._model.records[index.row()]
        assert field is not None
        text = str(index.data(Qt.ItemDataRole.EditRole))
        if isinstance(editor, QuantityField):
            if not editor.isModified():
                editor.show_value(field.value(record), self._session.units)
                editor.setText(text)  # every digit, so that typing on loses none
                editor.selectAll()
        elif isinstance(editor, QComboBox):
            choices = field.choices(self._session.project) if field.choices else ()
            held = field.value(record)
            place = next((place for place, one in enumerate(choices) if one.value == held), -1)
            editor.setCurrentIndex(place)
        elif isinstance(editor, QLineEdit) and not editor.isModified():
            editor.setText(text)

    def setModelData(self, editor: QWidget, model: QObject, index: Index) -> None:
        """Take what was typed or chosen."""
        del model
        field = self._model.field(index)
        if field is None:
            return
        if isinstance(editor, QuantityField):
            typed = editor.property(_TYPED)
            if editor.isModified():
                self._model.setData(index, editor.text())
            elif typed is not None:
                self._model.put(index, float(typed))
        elif isinstance(editor, QComboBox):
            choices = field.choices(self._session.project) if field.choices else ()
            if 0 <= editor.currentIndex() < len(choices):
                self._model.put(index, choices[editor.currentIndex()].value)
        elif isinstance(editor, QLineEdit) and editor.isModified():
            self._model.setData(index, editor.text())

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        """Give the editor the cell, and the width it needs."""
        del index
        wanted = editor.sizeHint().width() if isinstance(editor, QComboBox) else option.rect.width()
        editor.setGeometry(option.rect)
        if wanted > option.rect.width():
            editor.resize(wanted, option.rect.height())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep an editor open whose text does not read."""
        if (
            isinstance(watched, QuantityField)
            and isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() in _TAKING
            and watched.isModified()
        ):
            try:
                parse(watched.text(), watched.kind, self._session.units)
            except StringerlabError:
                watched.commit()  # marks the field and says why
                return True
        return super().eventFilter(watched, event)

    def _take(self, editor: QWidget) -> None:
        self.commitData.emit(editor)
        self.closeEditor.emit(editor, CellDelegate.EndEditHint.NoHint)
