"""What would help most: what is short or tight at the left, the steps that move one of it at the right."""

from functools import partial

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.drawn import DrawnView
from stringerlab.desktop.studying.engines import AskHelp, ask_help
from stringerlab.desktop.studying.outputs import columns
from stringerlab.desktop.studying.placed import placed
from stringerlab.desktop.studying.rows import Head, ReadTable, Row
from stringerlab.desktop.studying.run_bar import RunBar
from stringerlab.desktop.studying.steps import place_of, with_step
from stringerlab.desktop.verdicts import SIGNS, UseDelegate, use_text
from stringerlab.drawing.studying import change_words, helps_picture, signed
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import NOTICE, Verdict
from stringerlab.sizing.records import Helped, Sensitivity, Step

_FIRST = (
    "One step is tried in every number that can be changed, each alone, and the whole boat judged again:\n"
    "a height, a width, a layer more or less, spacing, speed.\n\n"
    "Find what helps lists what each does to every finding that is short or tight."
)
_FINDINGS = (
    Head("finding", "What is short or tight"),
    Head("used", "Utilisation as the boat is", number=True),
)
_STEPS = (
    Head("step", "One number changed by one step; a double click goes to where it is edited"),
    Head("then", "Utilisation after it", number=True),
    Head("change", "Of the utilisation", number=True),
    Head("mass", "Of members and of the plating judged", number=True),
    Head(
        "highest", "Highest utilisation of any finding after it; ■ where it makes another short", number=True
    ),
)
_USE, _CHANGE, _MASS = 120, 66, 84


class HelpsPage(QWidget):
    """Asked for by a button; what was found stays until it is asked for again."""

    title = "What would help most"

    def __init__(
        self, session: Session, parent: QWidget | None = None, *, engine: AskHelp = ask_help
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._engine = engine
        self._found: Sensitivity | None = None
        self._units = session.units
        """In which what was found is said."""
        self.runner = RunBar(
            session, "&Find what helps", "Try one step in every number (some seconds)", worded=True
        )
        self.runner.run_wanted.connect(self.look)
        self.runner.finished.connect(self._take)
        self.runner.failed.connect(self._failed)
        self.runner.begun.connect(self._forget)
        self.runner.changed.connect(self._allow)
        self.mechanics = QCheckBox("&Mechanics too")
        self.mechanics.setToolTip(
            "Judge the mechanics and the grid at every step, not the method alone: minutes"
        )
        self.mechanics.setChecked(not session.project.layout)
        self.findings = RowsTable("Findings that are short or tight")
        self.findings_model = ReadTable(_FINDINGS, self)
        self.findings.setModel(self.findings_model)
        self.findings.setItemDelegateForColumn(1, UseDelegate(self.findings))
        self.findings.selectionModel().currentRowChanged.connect(self._to_finding)
        self.findings.opened.connect(self._open_finding)
        self.findings.copy_wanted.connect(self.copy)
        self.steps = RowsTable("Steps that would change it")
        self.steps_model = ReadTable(_STEPS, self)
        self.steps.setModel(self.steps_model)
        self.steps.setItemDelegateForColumn(1, UseDelegate(self.steps))
        self.steps.selectionModel().currentRowChanged.connect(self._allow)
        self.steps.opened.connect(self._go)
        self.steps.copy_wanted.connect(self.copy)
        self.picture = DrawnView("Change in utilisation by step")
        self.picture.picked.connect(self._pick)
        self.words = QLabel()
        self.words.setAccessibleName("What would help, in words")
        self.words.setWordWrap(True)
        self.words.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self.go = QPushButton("&Show it")
        self.go.setToolTip("Go to where the number is edited; a double click on the step does the same")
        self.go.clicked.connect(partial(self._go, QModelIndex()))
        self.do = QPushButton("&Do it")
        self.do.setToolTip("Take this step in the project, as one edit that undo takes back")
        self.do.clicked.connect(self.do_it)
        self.says = QLabel(_FIRST)
        self.says.setAccessibleName("State of what would help")
        self.says.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.says.setWordWrap(True)
        self.says.setMargin(40)
        self.notes = QLabel()
        self.notes.setAccessibleName("Notes")
        self.notes.setProperty("faint", True)
        self.notes.setWordWrap(True)
        self.strip = ProblemStrip("Steps that could not be tried", self)
        self.strip.wanted.connect(session.take_to)
        self._lay_out()
        self._allow()

    # -- parts -----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        top = QHBoxLayout()
        top.setSpacing(12)
        top.addWidget(heading)
        top.addWidget(self.runner, 1)
        top.addWidget(self.mechanics)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(10, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.words)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self.picture)
        split.addWidget(self.steps)
        split.setSizes([260, 240])
        column.addWidget(split, 1)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.go)
        row.addWidget(self.do)
        column.addLayout(row)
        whole = QSplitter(Qt.Orientation.Horizontal)
        whole.setChildrenCollapsible(False)
        whole.addWidget(self.findings)
        whole.addWidget(right)
        whole.setSizes([470, 680])
        whole.setStretchFactor(1, 1)
        columns(self.findings, {1: _USE})
        columns(self.steps, {1: _USE, 2: _CHANGE, 3: _MASS, 4: _CHANGE + 6})
        self._stack = QStackedWidget()
        self._stack.addWidget(self.says)
        self._stack.addWidget(whole)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(8)
        page.addLayout(top)
        page.addWidget(self._stack, 1)
        page.addWidget(self.notes)
        page.addWidget(self.strip)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def found(self) -> Sensitivity | None:
        """What the last run has found."""
        return self._found

    @property
    def finding(self) -> Helped | None:
        """The finding chosen."""
        at = self.findings.currentIndex().row()
        if self._found is None or not 0 <= at < len(self._found.helped):
            return None
        return self._found.helped[at]

    @property
    def step(self) -> Step | None:
        """The step chosen."""
        helped, at = self.finding, self.steps.currentIndex().row()
        return helped.steps[at] if helped is not None and 0 <= at < len(helped.steps) else None

    def look(self) -> None:
        """Find what would help the boat as she is now."""
        project, mechanics, engine = self._session.project, self.mechanics.isChecked(), self._engine
        self.strip.show_problems([])
        self.runner.start(lambda watch: engine(project, watch, mechanics))

    def do_it(self) -> None:
        """Take the step chosen in the project."""
        step = self.step
        if step is not None and self._session.edit(_begun(step.name), with_step, step):
            self._session.said.emit(f"Done: {step.name}. Undo takes it back.")

    def copy(self) -> None:
        """Put findings and the steps of the one chosen on the clipboard as text."""
        if self._found is not None:
            parts = [self.findings_model.as_text(), self.steps_model.as_text(), self.words.text(), NOTICE]
            QGuiApplication.clipboard().setText("\n\n".join(part for part in parts if part))
            self._session.said.emit("What would help is copied as text.")

    # -- what was found --------------------------------------------------------------------------

    def _take(self, found: Sensitivity) -> None:
        self._found, self._units = found, self._session.units
        self.findings_model.show([_finding_row(each) for each in found.helped])
        self._stack.setCurrentIndex(1 if found.helped else 0)
        self.says.setText("\n".join(found.notes) or "Nothing is short or tight.")
        notes = [f"{found.tried} steps were tried.", *found.notes]
        self.notes.setText(" ".join(notes))
        self.strip.show_problems(placed(found.problems, self._session.project))
        if found.helped:
            self.findings.selectRow(0)
        self._show_finding()

    def _failed(self, error: StringerlabError) -> None:
        self.strip.show_problems(placed(error.problems, self._session.project))
        if self._found is None:
            self.says.setText("\n".join(str(each) for each in error.problems))

    def _forget(self) -> None:
        self._found = None
        self.mechanics.setChecked(not self._session.project.layout)
        self.findings_model.show([])
        self._stack.setCurrentIndex(0)
        self.says.setText(_FIRST)
        self.notes.setText("")
        self.strip.show_problems([])
        self._show_finding()

    def _to_finding(self, *_: object) -> None:
        self._show_finding()

    def _show_finding(self) -> None:
        helped, units = self.finding, self._units
        if helped is None:
            self.steps_model.show([])
            self.picture.draw(None)
            self.words.setText("")
        else:
            self.steps_model.show([_step_row(each, change_words(each, units)) for each in helped.steps])
            self.picture.draw(lambda size: helps_picture(helped, size=size, units=units))
            self.words.setText(helped.words)
            if helped.steps:
                self.steps.selectRow(0)
        self._allow()

    def _pick(self, subject: str) -> None:
        kind, _, number = subject.partition("/")
        if kind == "step":
            self.steps.selectRow(int(number))
            self.steps.setFocus()

    def _open_finding(self, _: QModelIndex) -> None:
        helped = self.finding
        if helped is not None:
            self._session.take_to(helped.subject)

    def _go(self, _: QModelIndex) -> None:
        step = self.step
        if step is None:
            return
        place = place_of(self._session.project, step)
        if place is None:
            gone = Problem(
                f"{step.name}: the boat has changed, there is no such step now.", "", "Look again."
            )
            self._session.problem.emit(StringerlabError(gone))
        else:
            self._session.take_to(place.id)

    def _allow(self, *_: object) -> None:
        chosen = self.step is not None
        self.go.setEnabled(chosen)
        self.do.setEnabled(chosen and not self.runner.stale and not self.runner.busy)
        self.mechanics.setEnabled(not self.runner.busy)


def _finding_row(helped: Helped) -> Row:
    kind = "" if helped.kind == "rule" else f" ({helped.kind})"
    name = f"{helped.name}, {helped.aspect}{kind}"
    return Row((name, use_text(helped.use)), tip=f"{name}\n{helped.words}", use=helped.use)


def _step_row(step: Step, mass: str) -> Row:
    change = signed(f"{step.use_change:.3f}".replace("-", "−"), step.use_change)
    worst = (
        f"{SIGNS[Verdict.SHORT]} {use_text(step.worst_after)}" if step.spoils else use_text(step.worst_after)
    )
    cells = (step.name, use_text(step.use), change, mass, worst)
    return Row(cells, tip=step.words or step.name, use=step.use)


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]


__all__ = ["HelpsPage"]
