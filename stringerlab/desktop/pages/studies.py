"""Studies of one or two numbers: list and form at the left, curves or contours and a table at the right."""

from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.drawn import DrawnView
from stringerlab.desktop.studying.engines import AskStudy, ask_study
from stringerlab.desktop.studying.outputs import ask_file, write_picture, write_table
from stringerlab.desktop.studying.placed import placed
from stringerlab.desktop.studying.rows import ReadTable
from stringerlab.desktop.studying.run_bar import RunBar, Token
from stringerlab.desktop.studying.study_form import StudyForm
from stringerlab.desktop.studying.study_table import study_heads, study_rows
from stringerlab.desktop.studying.swept import sweeps
from stringerlab.drawing import Picture
from stringerlab.drawing.studying_contours import contours_picture
from stringerlab.drawing.studying_curves import curves_picture
from stringerlab.errors import StringerlabError
from stringerlab.methods import NOTICE
from stringerlab.project.wish_edits_studies import (
    with_study,
    with_study_copied,
    with_study_renamed,
    without_study,
)
from stringerlab.project.wishes import Study
from stringerlab.report.csv_text import Table
from stringerlab.sizing.records import Studied
from stringerlab.units import System

_ID = Qt.ItemDataRole.UserRole
_NONE = (
    "Sweep one number and see what it does; sweep two and see where the limit lies.\n\nNew study begins one."
)
_NOT_RUN = "This study has not been run."
_LEFT = 352
_PAGE = (250.0, 160.0)
"""Of the plot written [mm]."""


class _Kept(NamedTuple):
    """A study worked through, and of what boat and wish."""

    studied: Studied
    of: Token


class StudiesPage(QWidget):
    """Studies are part of the project; what they bring is kept while the window is open."""

    title = "Studies"

    def __init__(
        self, session: Session, parent: QWidget | None = None, *, engine: AskStudy = ask_study
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._engine = engine
        self._kept: dict[str, _Kept] = {}
        self._shown: Studied | None = None
        self._filled: tuple[Studied, System] | None = None
        self._filling = False
        self.list = QListWidget()
        self.list.setAccessibleName("Studies")
        self.list.setToolTip("F2 or a double click renames")
        self.list.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.list.setMaximumHeight(112)
        self.list.currentItemChanged.connect(self._to_study)
        self.list.itemChanged.connect(self._renamed)
        self.new = QPushButton("&New study")
        self.new.setToolTip("Begin a study")
        self.new.clicked.connect(self.begin)
        self.double = QPushButton("D&uplicate")
        self.double.setToolTip("Copy the study chosen")
        self.double.clicked.connect(self.duplicate)
        self.drop = QPushButton("Remo&ve")
        self.drop.setToolTip("Take the study chosen out (Ctrl+Z brings it back)")
        self.drop.clicked.connect(self.remove)
        self.form = StudyForm(session)
        self.runner = RunBar(session, "&Run", "Judge the boat at every step")
        self.runner.wish(lambda: self.study)
        self.runner.run_wanted.connect(self.work)
        self.runner.finished.connect(self._take)
        self.runner.failed.connect(self._failed)
        self.runner.begun.connect(self._kept.clear)
        self.reading = Choice("Reading drawn", "Which reading the contours show")
        self.reading.activated.connect(self._draw)
        self.plot = DrawnView("The study as a plot")
        self.table_model = ReadTable((), self)
        self.table = RowsTable("The study as a table")
        self.table.setModel(self.table_model)
        self.table.copy_wanted.connect(self.copy)
        self.copy_button = QPushButton("&Copy")
        self.copy_button.setToolTip("Copy the table as text")
        self.copy_button.clicked.connect(self.copy)
        self.csv_button = QPushButton("Write CS&V…")
        self.csv_button.setToolTip("Write the table for spreadsheets, numbers in full")
        self.csv_button.clicked.connect(self._ask_csv)
        self.svg_button = QPushButton("Write the p&lot…")
        self.svg_button.setToolTip("Write the plot as SVG")
        self.svg_button.clicked.connect(self._ask_svg)
        self.says = QLabel(_NONE)
        self.says.setAccessibleName("State of the studies")
        self.says.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.says.setWordWrap(True)
        self.says.setMargin(40)
        self.notes = QLabel()
        self.notes.setAccessibleName("Notes")
        self.notes.setProperty("faint", True)
        self.notes.setWordWrap(True)
        self.strip = ProblemStrip("Problems of the study", self)
        self.strip.wanted.connect(session.take_to)
        self._lay_out()
        session.project_changed.connect(self.refresh)
        session.results_changed.connect(self._show_form)
        self._show(None)

    # -- parts -----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        top = QHBoxLayout()
        top.setSpacing(10)
        top.addWidget(heading)
        top.addWidget(self.runner, 1)
        for widget in (self.reading, self.copy_button, self.csv_button, self.svg_button):
            top.addWidget(widget)
        buttons = QHBoxLayout()
        for button in (self.new, self.double, self.drop):
            buttons.addWidget(button)
        scroll = QScrollArea()
        scroll.setAccessibleName("The study chosen")
        scroll.setWidget(self.form)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        left = QWidget()
        left.setFixedWidth(_LEFT)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.list)
        column.addLayout(buttons)
        column.addWidget(scroll, 1)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self.plot)
        split.addWidget(self.table)
        split.setSizes([400, 200])
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
        page.addWidget(self.notes)
        page.addWidget(self.strip)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def study(self) -> Study | None:
        """The study chosen."""
        row = self.list.currentRow()
        id = self.list.item(row).data(_ID) if row >= 0 else ""  # noqa: A001
        return next((one for one in self._session.project.wishes.studies if one.id == id), None)

    @property
    def studied(self) -> Studied | None:
        """What is shown of it."""
        return self._shown

    def refresh(self) -> None:
        """Show the project's studies where this is seen; the one chosen stays so."""
        if not self.isVisible():
            return
        studies = self._session.project.wishes.studies
        chosen = self.study
        before = [self.list.item(row).data(_ID) for row in range(self.list.count())]
        self._filling = True
        ids = [one.id for one in studies]
        fresh = [id for id in ids if id not in before]  # noqa: A001
        if ids != before:
            self.list.clear()
            for one in studies:
                item = QListWidgetItem(one.name)
                item.setData(_ID, one.id)
                item.setFlags(item.flags() | Qt.ItemFlag.ItemIsEditable)
                self.list.addItem(item)
            wanted = fresh[-1] if fresh and before else chosen.id if chosen else ""
            self.list.setCurrentRow(ids.index(wanted) if wanted in ids else 0 if ids else -1)
        for row, one in enumerate(studies):
            self.list.item(row).setText(one.name)
        self._filling = False
        self._show_study()

    def begin(self) -> None:
        """Begin a study of the first number there is."""
        project = self._session.project
        names = {one.name for one in project.wishes.studies}
        number = next(n for n in range(1, len(names) + 2) if f"Study {n}" not in names)
        first = next(iter(sweeps(project).values()))[1]
        study = Study(id="", name=f"Study {number}", along=(first,))
        if self._session.edit("Begin a study", with_study, study):
            self.list.setCurrentRow(self.list.count() - 1)

    def duplicate(self) -> None:
        """Copy the study chosen."""
        study = self.study
        if study is not None and self._session.edit(f"Duplicate {study.name}", with_study_copied, study.id):
            self.list.setCurrentRow(self.list.count() - 1)

    def remove(self) -> None:
        """Take the study chosen out."""
        study = self.study
        if study is not None:
            self._session.edit(f"Remove {study.name}", without_study, study.id)

    def work(self) -> None:
        """Run the study chosen."""
        study, project, engine = self.study, self._session.project, self._engine
        if study is not None:
            self.strip.show_problems([])
            self.runner.start(lambda watch: engine(project, study, watch))

    def copy(self) -> None:
        """Put the table on the clipboard as text."""
        if self._shown is not None:
            QGuiApplication.clipboard().setText(
                f"{self.table_model.as_text()}\n\n{self.notes.text()}\n\n{NOTICE}"
            )
            self._session.said.emit("The study is copied as text.")

    def write_csv(self, path: Path) -> None:
        """Write the table as CSV, numbers in the project's units and in full.

        Raises
        ------
        StringerlabError
            When it cannot be written; what was there stays.
        """
        if self._shown is not None:
            from stringerlab.sizing.studying.studies import studied_rows

            heads, rows = studied_rows(self._shown, self._session.units)
            write_table(Table(heads=heads, rows=rows), path)
            self._session.said.emit(f"The table is written to {path.name}.")

    def write_plot(self, path: Path) -> None:
        """Write the plot as SVG.

        Raises
        ------
        StringerlabError
            When it cannot be written; what was there stays.
        """
        if self._shown is not None:
            write_picture(self._picture(self._shown, _PAGE), path, self._shown.study.name)
            self._session.said.emit(f"The plot is written to {path.name}.")

    def showEvent(self, event: QShowEvent) -> None:
        """Show the studies as they are now."""
        super().showEvent(event)
        self.refresh()

    # -- the list --------------------------------------------------------------------------------

    def _to_study(self, *_: object) -> None:
        if not self._filling:
            self.strip.show_problems([])
            self._show_study()

    def _renamed(self, item: QListWidgetItem) -> None:
        if self._filling:
            return
        study = next((o for o in self._session.project.wishes.studies if o.id == item.data(_ID)), None)
        if study is None or study.name == item.text():
            return
        if not self._session.edit(f"Rename {study.name}", with_study_renamed, study.id, item.text()):
            self.refresh()

    def _show_study(self) -> None:
        study = self.study
        self._show_form()
        kept = self._kept.get(study.id) if study is not None else None
        self._show(kept)

    def _show_form(self) -> None:
        if self.isVisible():
            self.form.show_study(self.study)

    # -- what was found --------------------------------------------------------------------------

    def _take(self, found: Studied) -> None:
        of = self.runner.token
        if of is not None:
            self._kept[found.study.id] = _Kept(found, of)
        self._show_study()

    def _failed(self, error: StringerlabError) -> None:
        self.strip.show_problems(placed(error.problems, self._session.project, self.study))

    def _show(self, kept: _Kept | None) -> None:
        studied = kept.studied if kept is not None else None
        self._shown = studied
        self.runner.recall(kept.of if kept is not None else None)
        self.runner.run.setEnabled(self.study is not None and not self.runner.busy)
        for button in (self.double, self.drop):
            button.setEnabled(self.study is not None)
        for button in (self.copy_button, self.csv_button, self.svg_button):
            button.setEnabled(studied is not None)
        self._stack.setCurrentIndex(0 if studied is None else 1)
        if studied is None:
            self.says.setText(_NOT_RUN if self.study is not None else _NONE)
            self.reading.hide()
            self.notes.setText("")
            return
        self.reading.setVisible(len(studied.axes) > 1)
        self.reading.offer([(name, str(number)) for number, name in enumerate(studied.reading_names)])
        self._fill(studied)
        said = [*_outside(studied), *studied.notes]
        if studied.problems:
            many = len(studied.problems)
            rows = f"{many} steps could not be judged; their rows say why."
            said.insert(0, "1 step could not be judged; its row says why." if many == 1 else rows)
        self.notes.setText(" ".join(said))
        self.notes.setVisible(bool(said))
        self._draw()

    def _fill(self, studied: Studied) -> None:
        units = self._session.units
        if self._filled == (studied, units):
            return
        self._filled = (studied, units)
        self.table_model.show(study_rows(studied, units), study_heads(studied, units))
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)

    def _draw(self) -> None:
        studied = self._shown
        self.plot.draw(None if studied is None else lambda size: self._picture(studied, size))

    def _picture(self, studied: Studied, size: tuple[float, float]) -> Picture:
        units = self._session.units
        if len(studied.axes) == 1:
            return curves_picture(studied, size=size, units=units)
        reading = int(self.reading.value or 0)
        return contours_picture(studied, min(reading, len(studied.reading_names) - 1), size=size, units=units)

    def _ask_csv(self) -> None:
        ask_file(self, self._session, "Write the table", "study.csv", "CSV (*.csv)", self.write_csv)

    def _ask_svg(self) -> None:
        ask_file(self, self._session, "Write the plot", "study.svg", "SVG (*.svg)", self.write_plot)


def _outside(studied: Studied) -> list[str]:
    """Return a sentence where the boat's own place is not in the range swept."""
    names = [
        name
        for name, axis, here in zip(studied.axis_names, studied.axes, studied.present, strict=True)
        if not min(axis) <= here <= max(axis)
    ]
    return [f"The boat as she is lies outside the range of: {', '.join(names)}."] if names else []


__all__ = ["StudiesPage"]
