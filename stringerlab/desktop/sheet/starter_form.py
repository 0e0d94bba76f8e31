"""The parameters of a section begun from a starting shape, while it is drawn just as they draw it.

What was begun, or redrawn by typing, is remembered by what was drawn while the window is open: undo finds its
parameters again. Anything drawn otherwise is walls like any other, and the form goes.
"""

from collections.abc import Callable
from dataclasses import replace
from math import degrees, radians

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QFormLayout, QLabel, QSpinBox, QVBoxLayout, QWidget

from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.sheet.canvas import Sheet
from stringerlab.desktop.sheet.choices import Choice, solids_of
from stringerlab.desktop.sheet.tool import Edit
from stringerlab.project import Project
from stringerlab.project.drafting_starters import StarterParameters, with_starter
from stringerlab.section import Section
from stringerlab.section.shapes import Asked, Parameter, starter
from stringerlab.section.shapes.making import MOST_COATS
from stringerlab.units import Kind

_KINDS = {Asked.LENGTH: Kind.LENGTH, Asked.ANGLE: Kind.ANGLE}
_MOST = 200
"""Drawings remembered."""


class StarterForm(QWidget):
    """One field a parameter; every value typed is one edit."""

    def __init__(self, sheet: Sheet, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = sheet
        self.session = sheet.session
        self._known: dict[object, StarterParameters] = {}
        self._built = ""
        self.fields: dict[str, QuantityField] = {}
        self.counts: dict[str, QSpinBox] = {}
        self.choices: dict[str, Choice] = {}
        self.heading = QLabel()
        self.heading.setWordWrap(True)
        self._form: QWidget | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 6)
        self._column.setSpacing(5)
        self._column.addWidget(self.heading)
        self.setAccessibleName("Shape")

    def remember(self, section: Section, parameters: StarterParameters) -> None:
        """Remember what a section was drawn from."""
        while len(self._known) >= _MOST:
            del self._known[next(iter(self._known))]
        self._known[_drawing(section)] = parameters

    def parameters(self, section: Section) -> StarterParameters | None:
        """Return what a section is drawn from; None where it is not known or no longer so."""
        return self._known.get(_drawing(section))

    def show_section(self, section: Section | None) -> None:
        """Show the parameters of a section, or nothing."""
        found = self.parameters(section) if section else None
        shape = starter(found.starter) if found else None
        self.setVisible(shape is not None)
        if found is None or shape is None:
            return
        if self._built != shape.id:
            self._build(shape.parameters)
            self._built = shape.id
            self.heading.setText(shape.name)
            self.heading.setToolTip(
                f"{shape.tip}. Drawn anew with every value, until something in it is drawn by hand."
            )
        laminates = [(each.id, each.name) for each in self.session.project.laminates]
        for key, field in self.fields.items():
            value = found.sizes[key]
            field.show_value(radians(value) if field.kind is Kind.ANGLE else value, self.session.units)
        for key, counter in self.counts.items():
            with QSignalBlocker(counter):
                counter.setValue(int(found.sizes[key]))
        for key, box in self.choices.items():
            if key in found.laminates:
                box.offer(laminates, found.laminates[key])
            else:
                box.offer(solids_of(self.session.project), found.solids[key])

    # -- inside ----------------------------------------------------------------------------------

    def _build(self, parameters: tuple[Parameter, ...]) -> None:
        if self._form is not None:
            self._column.removeWidget(self._form)
            self._form.hide()
            self._form.deleteLater()
        self._form = QWidget()
        rows = QFormLayout(self._form)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setVerticalSpacing(5)
        rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.fields, self.counts, self.choices = {}, {}, {}
        for each in parameters:
            if each.asked in _KINDS:
                field = QuantityField(_KINDS[each.asked], each.name)
                field.setToolTip(each.tip)
                field.committed.connect(self._typed(each))
                self.fields[each.key] = field
                rows.addRow(each.name, field)
            elif each.asked is Asked.COUNT:
                counter = QSpinBox()
                counter.setRange(0, MOST_COATS)
                counter.setKeyboardTracking(False)
                counter.setAccessibleName(each.name)
                counter.setToolTip(each.tip)
                counter.valueChanged.connect(self._typed(each))
                self.counts[each.key] = counter
                rows.addRow(each.name, counter)
            else:
                box = Choice(each.name, each.tip)
                box.activated.connect(self._chosen(each, box))
                self.choices[each.key] = box
                rows.addRow(each.name, box)
        self._column.addWidget(self._form)

    def _typed(self, parameter: Parameter) -> Callable[[float], None]:
        def take(value: float) -> None:
            exact = round(degrees(value), 9) if parameter.asked is Asked.ANGLE else value
            self._change(parameter, lambda now: replace(now, sizes={**now.sizes, parameter.key: exact}))

        return take

    def _chosen(self, parameter: Parameter, box: Choice) -> Callable[[], None]:
        def take() -> None:
            key, chosen = parameter.key, box.chosen
            if parameter.asked is Asked.LAMINATE:
                self._change(parameter, lambda now: replace(now, laminates={**now.laminates, key: chosen}))
            else:
                self._change(parameter, lambda now: replace(now, solids={**now.solids, key: chosen}))

        return take

    def _change(self, parameter: Parameter, change: Callable[[StarterParameters], StarterParameters]) -> None:
        scene = self.sheet.hand.scene()
        now = self.parameters(scene.section) if scene else None
        if scene is None or now is None:
            return
        new, section = change(now), scene.section.id
        edit = Edit(
            label=f"Change {parameter.name.lower()}",
            change=lambda project: self._redrawn(project, section, new),
        )
        if not self.sheet.hand.do(edit):
            self.show_section(scene.section)

    def _redrawn(self, project: Project, section_id: str, parameters: StarterParameters) -> Project:
        """Return the project with the shape drawn anew, remembered before anyone looks at it."""
        changed = with_starter(project, section_id, parameters)
        drawn = next(section for section in changed.sections if section.id == section_id)
        self.remember(drawn, parameters)
        return changed


def _drawing(section: Section) -> object:
    """What a section is drawn like, ids, names and marks aside."""
    walls = tuple(
        (wall.points, wall.fillets, wall.side, wall.closed, wall.laminate) for wall in section.walls
    )
    return walls, tuple((fill.points, fill.material) for fill in section.fills)
