"""The top line of the findings page: which findings, by which method, how many of which verdict."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QComboBox, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.methods import available, method_named
from stringerlab.project.particulars import with_particulars

if TYPE_CHECKING:
    from stringerlab.desktop.as_built import ChangesPane


class FindingsHead(QWidget):
    """Heading, summary, the choice of the method, and of the view."""

    view_changed = Signal(int)
    """Findings (0), or method against method (1)."""

    def __init__(self, session: Session, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        heading = QLabel(title)
        heading.setProperty("heading", True)
        self.summary = QLabel()
        self.summary.setAccessibleName("Summary of findings")
        self.state = QLabel()
        self.state.setProperty("faint", True)
        self.state.setAccessibleName("State of the check")
        self.state.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.state.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.state.setWordWrap(True)
        self.method = Choice("Method", "The method that judges this project: an edit like any other", self)
        self.method.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.method.setMinimumContentsLength(20)
        self.method.activated.connect(self._set_method)
        label = QLabel("by")
        label.setBuddy(self.method)
        self.one = _button("By this method", "Every finding by the project's own method")
        self.against = _button("Method against method", "Each subject by every method, and why they differ")
        self.built = QPushButton("As built")
        self.built.setToolTip("Check the boat as the shop measured it, and show what differs from as drawn")
        self.built.clicked.connect(self.show_as_built)
        self._changes: ChangesPane | None = None
        self.one.setChecked(True)
        self._views = QButtonGroup(self)
        self._views.addButton(self.one, 0)
        self._views.addButton(self.against, 1)
        self._views.idToggled.connect(self._toggled)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for widget in (heading, self.summary):
            row.addWidget(widget)
            row.addSpacing(6)
        row.addWidget(self.state, 1)
        row.addWidget(self.one)
        row.addWidget(self.against)
        row.addWidget(self.built)
        row.addSpacing(6)
        row.addWidget(label)
        row.addWidget(self.method)
        session.project_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the project's method."""
        self.built.setVisible(self._session.project.as_built is not None)
        own = self._session.project.method
        known = available()
        self.method.offer([(_name(id), id) for id in (*known, *([] if own in known else [own]))])  # noqa: A001
        self.method.show_value(own)

    def show_as_built(self) -> None:
        """Show what changes where the boat is taken as measured."""
        if self._changes is None:
            from stringerlab.desktop.as_built import ChangesPane

            self._changes = ChangesPane(self._session, self)
        self._changes.show()
        self._changes.ask()

    def _set_method(self) -> None:
        if self.method.value != self._session.project.method:
            self._session.edit("Change method", with_particulars, method=self.method.value)

    def _toggled(self, view: int, on: bool) -> None:
        if on:
            self.view_changed.emit(view)


def filter_combo(every: str, name: str, choices: Sequence[tuple[str, str]]) -> QComboBox:
    """Return a choice of a filter: all, or one of what is there."""
    combo = QComboBox()
    combo.setAccessibleName(name)
    combo.setToolTip(f"Show one {name.lower()} only")
    combo.addItem(every if every != "Subjects" else "Panels and spans", "")
    for words, value in choices:
        combo.addItem(words, value)
    return combo


def _button(words: str, tip: str) -> QPushButton:
    button = QPushButton(words)
    button.setCheckable(True)
    button.setToolTip(tip)
    return button


def _name(method: str) -> str:
    try:
        return method_named(method).name
    except StringerlabError:
        return f"'{method}', not known here"
