"""The boat page: project and particulars, method, hull bottom, pressures along the length.

Every field is one edit of the project, taken back like any other.
"""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QFrame,
    QGroupBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from stringerlab.craft import Category
from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.pages.boat_particulars import (
    FOR_SOME,
    PARTICULARS,
    SEAS,
    Particular,
    category_meaning,
)
from stringerlab.desktop.pages.boat_pressures import PressurePane
from stringerlab.desktop.pages.bonding_form import BondingForm
from stringerlab.desktop.pages.hull_bottom import HullBottom
from stringerlab.desktop.pages.parent_boat import ParentBoat
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import available, method_named
from stringerlab.project.particulars import with_craft_values, with_particulars
from stringerlab.units import System, unit_named

_WIDTH = 408
"""Of the forms at the left, in pixels."""


class NotesField(QPlainTextEdit):
    """Several lines of text; leaving the field or Ctrl+Enter commits, Escape takes the typing back."""

    committed = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setTabChangesFocus(True)
        self._shown = ""

    def show_text(self, text: str) -> None:
        """Show a text; what is being typed is given up."""
        if text != self._shown or text != self.toPlainText():
            self._shown = text
            self.setPlainText(text)

    def commit(self) -> None:
        """Tell of a new text."""
        text = self.toPlainText()
        if text != self._shown:
            self._shown = text
            self.committed.emit(text)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Commit."""
        super().focusOutEvent(event)
        self.commit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Commit on Ctrl+Enter, take the typing back on Escape."""
        control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and control:
            self.commit()
        elif event.key() == Qt.Key.Key_Escape and self.toPlainText() != self._shown:
            self.setPlainText(self._shown)
        else:
            super().keyPressEvent(event)


class BoatPage(QWidget):
    """Everything a project has one of."""

    title = "Boat"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("boat_page")
        self.setAccessibleName("Boat")
        self._session = session
        self._stale = True
        self.project_name = self._line("Project name", self._set_project_name)
        self.project_name.setProperty("meaning", "As it stands in lists and reports")
        self.notes = NotesField("Notes", self)
        self.notes.setFixedHeight(76)
        self.notes.setToolTip("What the project is and where its figures come from")
        self.notes.committed.connect(self._set_notes)
        self.boat_name = self._line("Boat's name", self._set_boat_name)
        self.boat_name.setProperty("meaning", "The boat's own name or model")
        self.category = Choice("Design category", "The wind and waves the boat is meant for", self)
        self.category.offer([(f"{each.value}, {SEAS[each][0]}", each.value) for each in Category])
        self.category.activated.connect(self._set_category)
        self.category_meaning = _words(self)
        self.numbers = {each.field: self._quantity(each) for each in PARTICULARS}
        self.numbers |= {each.field: self._quantity(each, optional=True) for each in FOR_SOME}
        self.method = Choice("Method", "The published form that gives demands and capacities", self)
        self.method.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.method.setMinimumContentsLength(20)
        self.method.activated.connect(self._set_method)
        self.edition = _words(self)
        self.edition.setAccessibleName("Edition of the method")
        self.parent_boat = ParentBoat(session, self)
        self.bonding = BondingForm(session, self)
        self.strip = ProblemStrip("Problems of the boat", self)
        self.hull = HullBottom(session, self)
        self.hull.refused.connect(self._refused)
        self.pressures = PressurePane(session, self)
        self._lay_out()
        session.shown_changed.connect(self._changed)

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the page was hidden."""
        super().showEvent(event)
        if self._stale:
            self._refresh()

    # -- making ----------------------------------------------------------------------------------

    def _line(self, name: str, commit: Callable[[], None]) -> QLineEdit:
        line = QLineEdit(self)
        line.setAccessibleName(name)
        line.setObjectName(name)
        line.editingFinished.connect(commit)
        return line

    def _quantity(self, particular: Particular, *, optional: bool = False) -> QuantityField:
        field = QuantityField(particular.kind, particular.name, self, optional=optional)
        field.committed.connect(partial(self._set_number, particular))
        field.emptied.connect(partial(self._set_number, particular, None))
        field.refused.connect(self._refused)
        return field

    def _lay_out(self) -> None:
        project, form = _group("Project", self)
        _row(form, "Name", self.project_name)
        _row(form, "Notes", self.notes)
        boat, form = _group("Boat", self)
        words = QLabel("Name")
        words.setBuddy(self.boat_name)
        form.addRow(words)
        form.addRow(self.boat_name)
        _row(form, "Design category", self.category)
        form.addRow(self.category_meaning)
        for particular in PARTICULARS:
            _row(form, particular.name, self.numbers[particular.field], particular.tip)
        some, form = _group("For some methods and surfaces", self)
        for particular in FOR_SOME:
            _row(form, particular.name, self.numbers[particular.field], particular.tip)
        method, form = _group("Method", self)
        form.addRow(self.method)
        form.addRow(self.edition)
        forms = QWidget(self)
        left = QVBoxLayout(forms)
        left.setContentsMargins(16, 4, 12, 12)
        left.setSpacing(4)
        for group in (project, boat, method, some, self.bonding, self.parent_boat):
            left.addWidget(group)
        left.addWidget(self.strip)
        left.addStretch(1)
        area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setFixedWidth(_WIDTH)
        area.setWidget(forms)
        hull, inside = _box("Hull bottom", self)
        inside.addWidget(self.hull)
        pressure, inside = _box("Design pressure along the boat", self)
        inside.addWidget(self.pressures)
        right = QVBoxLayout()
        right.setContentsMargins(8, 4, 16, 10)
        right.setSpacing(4)
        right.addWidget(hull, 5)
        right.addWidget(pressure, 7)
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(0)
        across.addWidget(area)
        across.addLayout(right, 1)

    # -- showing ---------------------------------------------------------------------------------

    def _changed(self) -> None:
        if self.isVisible():
            self._refresh()
        else:
            self._stale = True

    def _refresh(self) -> None:
        self._stale = False
        project, units = self._session.shown, self._session.units
        craft = project.craft
        own = f"craft '{craft.name}'"
        wrong = [
            problem
            for problem in self._session.resolved.problems
            if problem.where == own or problem.where.startswith(f"{own}, ") or problem.where == "method"
        ]
        _show_line(self.project_name, project.name)
        self.notes.show_text(project.notes)
        _show_line(self.boat_name, craft.name)
        self._show_category(craft.category, units)
        for particular in (*PARTICULARS, *FOR_SOME):
            field = self.numbers[particular.field]
            held: float | None = getattr(craft, particular.field)
            field.show_value(None if held is None else held * unit_named(particular.unit).factor, units)
            words = particular.field.replace("_", " ")
            said = [str(p.what) for p in wrong if p.where == f"{own}, {words}"]
            _mark(field, said[0] if said else "", particular.tip)
        self._show_method(project.method)
        self.strip.show_problems([(_said(problem, own), "") for problem in wrong])
        self.hull.refresh(wrong)
        self.pressures.refresh()

    def _show_category(self, category: Category, units: System) -> None:
        self.category.show_value(category.value)
        self.category_meaning.setText(category_meaning(category, units))

    def _show_method(self, method: str) -> None:
        known = available()
        ids = [*known, *([] if method in known else [method])]
        self.method.offer([(_method_name(each), each) for each in ids])
        self.method.show_value(method)
        try:
            found = method_named(method)
        except StringerlabError as error:
            self.edition.setText(str(error))
            return
        superseded = f" {found.superseded}" if found.superseded else ""
        self.edition.setText(f"Edition {found.edition}.{superseded}")

    # -- editing ---------------------------------------------------------------------------------

    def _set_project_name(self) -> None:
        if self.project_name.text() != self._session.project.name:
            self._session.edit("Change project name", with_particulars, name=self.project_name.text())

    def _set_notes(self, text: str) -> None:
        self._session.edit("Change notes", with_particulars, notes=text)

    def _set_boat_name(self) -> None:
        if self.boat_name.text() != self._session.project.craft.name:
            self._session.edit("Change boat's name", with_craft_values, name=self.boat_name.text())

    def _set_category(self) -> None:
        category = Category(self.category.value)
        self._session.edit("Change design category", with_craft_values, category=category)

    def _set_method(self) -> None:
        self._session.edit("Change method", with_particulars, method=self.method.value)

    def _set_number(self, particular: Particular, value: float | None) -> None:
        typed = None if value is None else float(f"{value / unit_named(particular.unit).factor:.12g}")
        self._session.edit(particular.label, with_craft_values, **{particular.field: typed})

    def _refused(self, reason: str) -> None:
        self.strip.show_problems([(reason, "")])
        self._session.said.emit(reason)


def _method_name(method: str) -> str:
    try:
        return method_named(method).name
    except StringerlabError:
        return f"'{method}', not known here"


def _said(problem: Problem, own: str) -> str:
    place = problem.where.removeprefix(own).removeprefix(", ")
    words = f"{place[0].upper()}{place[1:]}: {problem.what}" if place else problem.what
    return f"{words} {problem.remedy}".strip()


def _show_line(line: QLineEdit, text: str) -> None:
    if line.text() != text:
        line.setText(text)
        line.setCursorPosition(0)
    meaning = str(line.property("meaning"))
    line.setToolTip(f"{text}\n{meaning}" if text else meaning)


def _mark(field: QuantityField, wrong: str, tip: str) -> None:
    field.setToolTip(wrong or tip)
    if bool(field.property("wrong")) != bool(wrong):
        field.setProperty("wrong", bool(wrong))
        field.style().unpolish(field)
        field.style().polish(field)


def _words(parent: QWidget) -> QLabel:
    label = QLabel(parent)
    label.setWordWrap(True)
    label.setProperty("faint", True)
    label.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
    return label


def _group(title: str, parent: QWidget) -> tuple[QGroupBox, QFormLayout]:
    group = QGroupBox(title, parent)
    form = QFormLayout(group)
    form.setContentsMargins(0, 4, 0, 4)
    form.setHorizontalSpacing(10)
    form.setVerticalSpacing(6)
    form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    return group, form


def _box(title: str, parent: QWidget) -> tuple[QGroupBox, QVBoxLayout]:
    group = QGroupBox(title, parent)
    column = QVBoxLayout(group)
    column.setContentsMargins(0, 4, 0, 0)
    return group, column


def _row(form: QFormLayout, words: str, widget: QWidget, tip: str = "") -> None:
    label = QLabel(words)
    label.setBuddy(widget)
    label.setToolTip(tip or widget.toolTip())
    form.addRow(label, widget)
