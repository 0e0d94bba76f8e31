"""The top line of the findings page: which findings, by which method, how many of which verdict."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.methods import available, method_named
from stringerlab.project.particulars import with_particulars


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
        row.addSpacing(6)
        row.addWidget(label)
        row.addWidget(self.method)
        session.project_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the project's method."""
        own = self._session.project.method
        known = available()
        self.method.offer([(_name(id), id) for id in (*known, *([] if own in known else [own]))])  # noqa: A001
        self.method.show_value(own)

    def _set_method(self) -> None:
        if self.method.value != self._session.project.method:
            self._session.edit("Change method", with_particulars, method=self.method.value)

    def _toggled(self, view: int, on: bool) -> None:
        if on:
            self.view_changed.emit(view)


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
