"""What is asked of the selected equipment besides its row: loads by kind, feet, blocks they bolt to."""

import re
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QFormLayout, QGroupBox, QLabel, QLineEdit, QVBoxLayout, QWidget

from stringerlab.desktop.models.subject_field import Field
from stringerlab.desktop.plan.panes.forms import FieldForm
from stringerlab.desktop.plan.panes.thing_fields import BY_KIND, FOOTED, INSERT, with_insert_value
from stringerlab.desktop.plan.panes.things import changed
from stringerlab.desktop.session import Session
from stringerlab.layout.plan import Equipment, EquipmentKind, Insert, PlanPoint
from stringerlab.project import planning
from stringerlab.units import Kind, display_unit, trimmed


class EquipmentForms(QWidget):
    """A form for each kind of equipment, of which one shows, its feet and its insert."""

    refused = Signal(str)
    """Why what was typed is not taken."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._thing: Equipment | None = None
        self.forms: dict[EquipmentKind, FieldForm] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for kind, fields in BY_KIND.items():
            form = FieldForm(session, fields, kind.value)
            form.put.connect(self._put)
            form.refused.connect(self.refused)
            form.hide()
            column.addWidget(form)
            self.forms[kind] = form
        self.feet = QLineEdit()
        self.feet.setAccessibleName("feet")
        self.feet.setToolTip(_FEET)
        self.feet.setPlaceholderText("one, in the middle")
        self.feet.editingFinished.connect(self._feet_typed)
        self._feet_row = QWidget()
        row = QFormLayout(self._feet_row)
        row.setContentsMargins(0, 0, 0, 0)
        self._feet_label = QLabel()
        self._feet_label.setBuddy(self.feet)
        row.addRow(self._feet_label, self.feet)
        self.bolted = QCheckBox("Feet are bolted to blocks laminated in")
        self.bolted.setToolTip("Bolts, blocks and edge distances are judged where they are")
        self.bolted.clicked.connect(self._bolt)
        self.insert = QGroupBox("Blocks and bolts of each foot")
        inside = QVBoxLayout(self.insert)
        inside.setContentsMargins(0, 4, 0, 4)
        self.insert_form = FieldForm(session, INSERT, "insert")
        self.insert_form.put.connect(self._put_insert)
        self.insert_form.refused.connect(self.refused)
        inside.addWidget(self.insert_form)
        for widget in (self._feet_row, self.bolted, self.insert):
            column.addWidget(widget)
        self.show_thing(None)

    def show_thing(self, thing: Equipment | None) -> None:
        """Show an equipment's, or nothing."""
        self._thing = thing
        for kind, form in self.forms.items():
            shows = thing is not None and thing.kind is kind
            form.setVisible(shows)
            form.show_record(thing if shows else None)
        footed = thing is not None and thing.kind in FOOTED
        self._feet_row.setVisible(footed)
        self.bolted.setVisible(footed)
        insert = thing.insert if thing is not None and footed else None
        self.bolted.setChecked(insert is not None)
        self.insert.setVisible(insert is not None)
        self.insert_form.show_record(insert)
        unit = display_unit(Kind.LENGTH, self._session.units)
        self._feet_label.setText(f"Feet, {unit.symbol}")
        if thing is not None:
            self.feet.setText(feet_words(thing.feet, unit.factor))

    # -- inside ----------------------------------------------------------------------------------

    def _put(self, field: Field, value: Any) -> None:
        if self._thing is not None:
            changed(self._session, self._thing, field, value)

    def _put_insert(self, field: Field, value: Any) -> None:
        if self._thing is not None:
            self._replace(
                f"Change {field.title} of {self._thing.name}", with_insert_value(self._thing, field, value)
            )

    def _bolt(self, on: bool) -> None:
        thing = self._thing
        if thing is not None:
            verb = "Bolt" if on else "Unbolt"
            self._session.edit(
                f"{verb} {thing.name}", planning.with_part_values, [thing.id], insert=Insert() if on else None
            )

    def _feet_typed(self) -> None:
        thing = self._thing
        if thing is None or not self.feet.isModified():
            return
        unit = display_unit(Kind.LENGTH, self._session.units)
        feet = feet_of(self.feet.text(), unit.factor)
        if feet is None:
            self.refused.emit(f"Feet of {thing.name}: write x y for each, feet parted by semicolons.")
            self.feet.setText(feet_words(thing.feet, unit.factor))
            return
        self.feet.setModified(False)
        self._session.edit(f"Change feet of {thing.name}", planning.with_part_values, [thing.id], feet=feet)

    def _replace(self, label: str, thing: Equipment) -> None:
        if thing != self._thing:
            self._session.edit(label, planning.with_part_replaced, thing)


_FEET = "Offsets from its middle, x y for each foot, feet parted by semicolons; none at all: one foot"


def feet_words(feet: tuple[PlanPoint, ...], factor: float) -> str:
    """Return feet as they are typed, in a unit of so many mm."""
    return "; ".join(f"{trimmed(x / factor, 6)} {trimmed(y / factor, 6)}" for x, y in feet)


def feet_of(text: str, factor: float = 1.0) -> tuple[PlanPoint, ...] | None:
    """Return the feet [mm] that words mean, in a unit of so many mm; None where they do not read."""
    feet: list[PlanPoint] = []
    for piece in (each.strip() for each in text.replace("−", "-").split(";")):
        if not piece:
            continue
        numbers = re.split(r"[\s]+", piece)
        try:
            x, y = (float(f"{float(each.replace(',', '.')) * factor:.12g}") for each in numbers)
        except ValueError:
            return None
        feet.append((x, y))
    return tuple(feet)
