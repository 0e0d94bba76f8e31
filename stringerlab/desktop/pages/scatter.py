"""Scatter: what varies in a hand lay-up at the left; each finding's chance to be short and what drives it."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.drawn import DrawnView
from stringerlab.desktop.studying.engines import AskScatter, ask_scatter, usual_inputs
from stringerlab.desktop.studying.folded import FoldedNotes
from stringerlab.desktop.studying.inputs import InputsForm
from stringerlab.desktop.studying.outputs import ask_file, columns, write_picture, write_table
from stringerlab.desktop.studying.placed import placed
from stringerlab.desktop.studying.rows import Head, ReadTable, Row
from stringerlab.desktop.studying.run_bar import RunBar
from stringerlab.desktop.verdicts import use_text
from stringerlab.drawing.studying import (
    chance_words,
    chances_picture,
    drivers_picture,
    interval_words,
    part_words,
)
from stringerlab.errors import StringerlabError
from stringerlab.methods import NOTICE
from stringerlab.project.wishes import Scatter
from stringerlab.report.csv_text import Table
from stringerlab.sizing.records import Chance, Scattering

_FIRST = (
    "No two hand lay-ups are alike. Say at the left what varies and how far, then run: the boat is judged as "
    "often as there are samples, and each finding’s chance to be short is given with its interval."
)
_TAKING = "Samples are taken; what comes of them stands here at the end."
_OF_METHOD = "Short is above the method’s own margin: no chance here is one of failure."
_HEADS = (
    Head("finding", "What is judged"),
    Head("chance", "To be short: utilisation above 1", number=True),
    Head("interval", "Of the chance at 95 %, for so many samples [%]", number=True),
    Head("nominal", "Utilisation without scatter", number=True),
    Head("5 %", "One sample in twenty is below", number=True),
    Head("50 %", "Half the samples are below", number=True),
    Head("95 %", "One sample in twenty is above", number=True),
)
_WIDTHS = {1: 70, 2: 104, 3: 64, 4: 54, 5: 54, 6: 54}
_LEFT = 494


class ScatterPage(QWidget):
    """Asked for by a button; what was found stays until it is asked for again."""

    title = "Scatter"

    def __init__(
        self,
        session: Session,
        parent: QWidget | None = None,
        *,
        engine: AskScatter = ask_scatter,
        usual: Callable[[], Mapping[str, tuple[Scatter, ...]]] = usual_inputs,
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._engine = engine
        self._found: Scattering | None = None
        self._told = ""
        """What was put in, how it was sampled and what was left out, for a copy."""
        self.form = InputsForm(session, usual)
        self.runner = RunBar(session, "&Run", "Take the samples (some seconds)")
        self.runner.wish(lambda: session.project.wishes.scatter)
        self.runner.run_wanted.connect(self.sample)
        self.runner.finished.connect(self._take)
        self.runner.failed.connect(self._failed)
        self.runner.begun.connect(self._forget)
        self.runner.changed.connect(self._wait)
        self.bars = DrawnView("Chance of each finding to be short")
        self.bars.picked.connect(self._pick)
        self.drivers = DrawnView("What drives the finding chosen")
        self.table_model = ReadTable(_HEADS, self)
        self.table = RowsTable("Chances to be short")
        self.table.setModel(self.table_model)
        self.table.selectionModel().currentRowChanged.connect(self._show_chance)
        self.table.copy_wanted.connect(self.copy)
        self.table.opened.connect(self._open)
        columns(self.table, _WIDTHS)
        self.copy_button = QPushButton("&Copy")
        self.copy_button.setToolTip("Copy the table and what was put in as text")
        self.copy_button.clicked.connect(self.copy)
        self.csv_button = QPushButton("Write CS&V…")
        self.csv_button.setToolTip("Write the table for spreadsheets")
        self.csv_button.clicked.connect(self._ask_csv)
        self.svg_button = QPushButton("Write the p&lot…")
        self.svg_button.setToolTip("Write the bars as SVG")
        self.svg_button.clicked.connect(self._ask_svg)
        self.says = QLabel(_FIRST)
        self.says.setAccessibleName("State of scatter")
        self.says.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.says.setWordWrap(True)
        self.says.setMargin(40)
        self.notes = FoldedNotes("What the chances are of")
        self.strip = ProblemStrip("Problems of scatter", self)
        self.strip.wanted.connect(session.take_to)
        self._lay_out()
        session.project_changed.connect(self.form.refresh)
        self.form.refresh()
        self._allow()

    # -- parts -----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        top = QHBoxLayout()
        top.setSpacing(10)
        top.addWidget(heading)
        top.addWidget(self.runner, 1)
        for button in (self.copy_button, self.csv_button, self.svg_button):
            top.addWidget(button)
        left = QScrollArea()
        left.setAccessibleName("What scatters")
        asked = QWidget()
        column = QVBoxLayout(asked)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(14)
        column.addWidget(self.form)
        column.addWidget(self.notes)
        column.addStretch(1)
        left.setWidget(asked)
        left.setWidgetResizable(True)
        left.setFixedWidth(_LEFT)
        left.setFrameShape(QScrollArea.Shape.NoFrame)
        left.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        for part in (self.bars, self.table, self.drivers):
            split.addWidget(part)
        split.setSizes([176, 164, 290])
        self._stack = QStackedWidget()
        self._stack.addWidget(self.says)
        self._stack.addWidget(split)
        middle = QHBoxLayout()
        middle.setSpacing(14)
        middle.addWidget(left)
        middle.addWidget(self._stack, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(8)
        page.addLayout(top)
        page.addLayout(middle, 1)
        page.addWidget(self.strip)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def found(self) -> Scattering | None:
        """What the last run has found."""
        return self._found

    @property
    def chance(self) -> Chance | None:
        """The finding chosen."""
        at = self.table.currentIndex().row()
        if self._found is None or not 0 <= at < len(self._found.chances):
            return None
        return self._found.chances[at]

    def sample(self) -> None:
        """Take the samples of the boat as she is now."""
        project, engine = self._session.project, self._engine
        plan = project.wishes.scatter
        self.strip.show_problems([])
        self.runner.start(lambda watch: engine(project, plan, watch))

    def copy(self) -> None:
        """Put the table, and what was put in, on the clipboard as text."""
        if self._found is not None:
            parts = [self.table_model.as_text(), self._told, NOTICE]
            QGuiApplication.clipboard().setText("\n\n".join(parts))
            self._session.said.emit("The chances are copied as text.")

    def write_csv(self, path: Path) -> None:
        """Write the table as CSV.

        Raises
        ------
        StringerlabError
            When it cannot be written; what was there stays.
        """
        if self._found is not None:
            write_table(chances_table(self._found), path)
            self._session.said.emit(f"The table is written to {path.name}.")

    def write_plot(self, path: Path) -> None:
        """Write the bars as SVG.

        Raises
        ------
        StringerlabError
            When it cannot be written; what was there stays.
        """
        found = self._found
        if found is not None:
            height = 6.5 * (len(found.chances) + 4)
            write_picture(chances_picture(found, size=(250.0, height)), path, "Chance to be short")
            self._session.said.emit(f"The plot is written to {path.name}.")

    # -- what was found --------------------------------------------------------------------------

    def _take(self, found: Scattering) -> None:
        self._found = found
        self.table_model.show([_row(each) for each in found.chances])
        self._stack.setCurrentIndex(1 if found.chances else 0)
        self.says.setText("\n".join((*found.notes, *found.left_out)) or "Nothing could be sampled.")
        count = len(found.left_out)
        left = [f"{count} finding{' is' if count == 1 else 's are'} left out"] if count else []
        said = [*found.notes, *left]
        told = [f"{each[:1].upper()}{each[1:].rstrip('.')}." for each in said]
        self.notes.say(f"{found.samples} samples, seed {found.plan.seed}. {_OF_METHOD}", told)
        self._told = "\n".join([*said, *found.left_out, *found.inputs])
        self.notes.rest.setToolTip("\n".join(found.left_out))
        if found.chances:
            self.table.selectRow(0)
        self._show_chance()

    def _failed(self, error: StringerlabError) -> None:
        self.strip.show_problems(placed(error.problems, self._session.project))

    def _wait(self) -> None:
        """Say what is under way, where nothing was found before."""
        if self._found is None:
            self.says.setText(_TAKING if self.runner.busy else _FIRST)

    def _forget(self) -> None:
        self._found = None
        self.table_model.show([])
        self._stack.setCurrentIndex(0)
        self.says.setText(_FIRST)
        self.notes.say("", ())
        self.strip.show_problems([])
        self._show_chance()

    def _show_chance(self, *_: object) -> None:
        found, chance = self._found, self.chance
        at = self.table.currentIndex().row()
        if found is None:
            self.bars.draw(None)
        else:
            self.bars.draw(lambda size: chances_picture(found, size=size, picked=at))
        self.drivers.draw(None if chance is None else lambda size: drivers_picture(chance, size=size))
        self._allow()

    def _pick(self, subject: str) -> None:
        kind, _, number = subject.partition("/")
        if kind == "chance":
            self.table.selectRow(int(number))
            self.table.setFocus()

    def _open(self, _: QModelIndex) -> None:
        if self.chance is not None:
            self._session.take_to(self.chance.subject)

    def _ask_csv(self) -> None:
        ask_file(self, self._session, "Write the table", "scatter.csv", "CSV (*.csv)", self.write_csv)

    def _ask_svg(self) -> None:
        ask_file(self, self._session, "Write the plot", "scatter.svg", "SVG (*.svg)", self.write_plot)

    def _allow(self) -> None:
        for button in (self.copy_button, self.csv_button, self.svg_button):
            button.setEnabled(self._found is not None)


def chances_table(found: Scattering) -> Table:
    """Return the chances as a table with numbers in full."""
    heads = ("finding", "aspect", "chance to be short", "low", "high", "nominal utilisation", "mean")
    return Table(
        heads=(*heads, "5 %", "50 %", "95 %", "driven by", "rank correlation"),
        rows=tuple(
            (
                each.name,
                each.aspect,
                each.short,
                each.low,
                each.high,
                each.nominal,
                each.mean,
                *each.percentiles,
                each.drivers[0].name if each.drivers else None,
                each.drivers[0].correlation if each.drivers else None,
            )
            for each in found.chances
        ),
    )


def _row(chance: Chance) -> Row:
    return Row(
        (
            chance_words(chance),
            part_words(chance.short),
            interval_words(chance.low, chance.high),
            use_text(chance.nominal),
            *(use_text(each) for each in chance.percentiles),
        ),
        use=chance.nominal,
    )


__all__ = ["ScatterPage", "chances_table"]
