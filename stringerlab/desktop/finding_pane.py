"""One finding in full: what was asked and what is there, notes, workings, and the ways to copy them."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from stringerlab.assess.relative import Beside
from stringerlab.desktop.choice import Choice
from stringerlab.desktop.finding_place import drawn_place
from stringerlab.desktop.models.known import mark_in_words
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import SIGNS, colour_of, use_text
from stringerlab.desktop.workings_view import WorkingsView
from stringerlab.layout import Panel
from stringerlab.methods import Finding
from stringerlab.units import System, format


class FindingPane(QWidget):
    """A finding with its notes and workings."""

    likeness_wanted = Signal(str, str)
    """A person wants a subject held against one of the parent boat's: both ids, the second empty for any."""
    place_wanted = Signal(str)
    """A person asks to be taken to the subject of the finding, or to where it governs, by an id."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._finding: Finding | None = None
        self.setAccessibleName("Finding")
        self.heading = _label("Finding")
        font = self.heading.font()
        font.setBold(True)
        self.heading.setFont(font)
        self.verdict = _label("Verdict of the finding")
        self.numbers = _label("Demand and capacity")
        self.notes = _label("Notes of the finding")
        self.notes.setProperty("faint", True)
        self.beside = _label("Beside the parent boat")
        self.like = Choice(
            "Held against, in the parent boat", "The parent's panel or span it is held against"
        )
        self.like.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.like.setMinimumContentsLength(22)
        self.like.activated.connect(self._set_like)
        self.show_beside(None, [], "")
        self.workings = WorkingsView(head=False)
        self.there = QPushButton("To the place")
        self.drawing = QPushButton("To the drawing")
        self.copy_text = QPushButton("Copy text")
        self.copy_text.setToolTip("Copy the finding with its workings as text")
        self.copy_picture = QPushButton("Copy picture")
        self.copy_picture.setToolTip("Copy the finding with its workings as a picture on paper")
        self.there.clicked.connect(self._go)
        self.drawing.clicked.connect(self._draw)
        self.copy_text.clicked.connect(self._copy_text)
        self.copy_picture.clicked.connect(self._copy_picture)

        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        for button in (self.there, self.drawing, self.copy_text, self.copy_picture):
            buttons.addWidget(button)
        buttons.addStretch(1)
        said = QWidget()
        column = QVBoxLayout(said)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        for widget in (self.heading, self.verdict, self.numbers, self.beside, self.like, self.notes):
            column.addWidget(widget)
        column.addStretch(1)
        self._said = QScrollArea()
        self._said.setWidget(said)
        self._said.setWidgetResizable(True)
        self._said.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._said.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._parts.setContentsMargins(0, 8, 0, 0)
        self._parts.setSpacing(16)
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(self._said, 1)
        left.addLayout(buttons)
        self._parts.addLayout(left, 2)
        self._parts.addWidget(self.workings, 3)
        self.setFocusProxy(self.workings)
        self.show_finding(None, System.METRIC)

    def show_finding(self, finding: Finding | None, system: System) -> None:
        """Show a finding; None for none."""
        self._finding = finding
        for button in (self.there, self.drawing, self.copy_text, self.copy_picture):
            button.setEnabled(finding is not None)
        self._name_places()
        if finding is None:
            for label in (self.heading, self.verdict, self.numbers, self.notes):
                label.setText("")
            self.heading.setText("Choose a finding to read its notes and workings.")
        else:
            self.heading.setText(f"{finding.name}: {finding.aspect.value}")
            self.verdict.setText(f"{SIGNS[finding.verdict]} {finding.verdict.value}")
            self._colour()
            self.numbers.setText(_numbers(finding, system))
            self.notes.setText(_notes(finding))
        self.workings.show_finding(finding, system)

    def show_beside(self, beside: Beside | None, choices: list[tuple[str, str]], chosen: str) -> None:
        """Show what stands beside the finding of a parent boat; None for nothing.

        Parameters
        ----------
        beside
            The finding's counterpart, with its words.
        choices
            The parent's subjects it could be held against, words and ids.
        chosen
            Id of the one that is named, empty for the nearest.
        """
        self.beside.setVisible(beside is not None)
        self.like.setVisible(beside is not None and bool(choices))
        self.beside.setText("" if beside is None else f"Of the parent: {beside.words}")
        self.like.offer([(f"held against {words}", id) for words, id in choices])  # noqa: A001
        self.like.show_value(chosen)

    def follow(self, findings: Sequence[Finding]) -> None:
        """Show what the finding shown has become among fresh ones; it stays where it is gone."""
        shown = self._finding
        for finding in findings if shown is not None else ():
            if shown is not None and finding.key == shown.key:
                self.show_finding(finding, self._session.units)
                return

    def stand(self, orientation: Qt.Orientation) -> None:
        """Stand below a table, with the workings at the right, or beside one, with the workings below."""
        below = orientation is Qt.Orientation.Vertical
        direction = QBoxLayout.Direction
        self._parts.setDirection(direction.LeftToRight if below else direction.TopToBottom)
        self._parts.setStretch(0, 2)
        self._parts.setStretch(1, 3 if below else 5)
        self._parts.setContentsMargins(0 if below else 12, 8 if below else 0, 0, 0)

    def changeEvent(self, event: QEvent) -> None:
        """Take the colour of the verdict from another theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self._finding is not None:
            self._colour()

    def _colour(self) -> None:
        if self._finding is not None:
            colour = colour_of(self._finding.verdict, self.palette()).name()
            self.verdict.setStyleSheet(f"color: {colour}; font-weight: 600")

    def _set_like(self) -> None:
        if self._finding is not None:
            self.likeness_wanted.emit(self._finding.subject, self.like.value)

    def _go(self) -> None:
        if self._finding is not None:
            self.place_wanted.emit(self._finding.subject)

    def _draw(self) -> None:
        if self._finding is not None and (place := self._drawn(self._finding)):
            self.place_wanted.emit(place)

    def open_place(self, finding: Finding) -> None:
        """Ask for a finding's place as Enter in a table does: a span's on the drawing, a panel's row."""
        panel = self._is_panel(finding.subject)
        self.place_wanted.emit((not panel and self._drawn(finding)) or finding.subject)

    def _is_panel(self, subject: str) -> bool:
        subjects = self._session.resolved.subjects
        return any(isinstance(one, Panel) and one.id == subject for one in subjects)

    def _drawn(self, finding: Finding) -> str:
        return drawn_place(finding, self._session.project, self._session.resolved)

    def _name_places(self) -> None:
        subject = self._finding.subject if self._finding else ""
        panel = self._is_panel(subject)
        given = {one.id for one in (*self._session.project.panels, *self._session.project.spans)}
        self.there.setText("To the panel" if panel else "To the span")
        self.drawing.setText("To the laminate" if panel else "To the drawing")
        enter = " (Enter in the table)"
        row = "Go to its row in Panels and spans" if subject in given else "Show it on the plan"
        self.there.setToolTip(f"{row}{enter if panel else ''}")
        self.drawing.setToolTip(
            "Go to the panel's laminate, to the ply that governs"
            if panel
            else f"Go to the section's drawing, to the wall that governs{enter}"
        )

    def _copy_text(self) -> None:
        self.workings.copy_text()
        self._session.said.emit("The workings are copied as text.")

    def _copy_picture(self) -> None:
        self.workings.copy_picture()
        self._session.said.emit("The workings are copied as a picture.")


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(
        Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
    )
    label.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
    return label


def _numbers(finding: Finding, system: System) -> str:
    said: list[str] = []
    if finding.demand is not None and finding.capacity is not None and finding.utilisation is not None:
        kind = finding.unit.kind
        said += [
            f"demand {format(finding.demand, kind, system)}",
            f"capacity {format(finding.capacity, kind, system)}",
            f"utilisation {use_text(finding.utilisation)}",
        ]
    lines = [", ".join(said)] if said else []
    return "\n".join([*lines, finding.source, f"known: {mark_in_words(finding.known)}"])


def _notes(finding: Finding) -> str:
    """Return the notes, one a line."""
    return "\n".join(f"– {note}" for note in finding.notes)
