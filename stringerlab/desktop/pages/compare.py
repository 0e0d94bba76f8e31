"""Layouts and boats side by side: chosen at the left; plot, table and sentences at the right."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
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

from stringerlab.compare import FEWEST, MOST, Chosen, Comparison, compare
from stringerlab.desktop.jobs import Job
from stringerlab.desktop.models.comparison import ComparisonTable
from stringerlab.desktop.names_first import NamesFirst
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.player import PictureView
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.drawing import PRINT, svg
from stringerlab.drawing.comparison import LEGEND, WIDE, comparison_picture
from stringerlab.errors import StringerlabError
from stringerlab.files import load, load_parent, parent_path
from stringerlab.project import Project
from stringerlab.report.writing import written

_KEY = Qt.ItemDataRole.UserRole
_FEW = (
    f"Choose {FEWEST} to {MOST} at the left: layouts of this boat, its parent boat, other files.\n\n"
    "The first is what the others are held against."
)
_WAITING = "Measuring …"


@dataclass(frozen=True, slots=True)
class _Key:
    """What a row of the list stands for: a file, empty for this boat; a layout's id, empty for none."""

    file: str
    layout: str
    parent: bool = False


class ComparePage(QWidget):
    """Two to six side by side; measured when this is seen, and again after each edit."""

    title = "Compare"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._found: Comparison | None = None
        self._of: object = None
        self._others: dict[str, Project] = {}
        """Projects of other files, by path."""
        self._parent: tuple[object, Path | None, Project | None] = (None, None, None)
        self._filling = False
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._failed)
        self._job.progress.connect(self._progress)
        self.choices = QListWidget()
        self.choices.setAccessibleName("What is compared")
        self.choices.setDragDropMode(QListWidget.DragDropMode.InternalMove)
        self.choices.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.choices.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.choices.itemChanged.connect(self._chosen)
        self.choices.model().rowsMoved.connect(self._chosen)
        self.table_model = ComparisonTable(self)
        self.table = RowsTable("Side by side")
        self.table.setModel(self.table_model)
        self._columns = NamesFirst(self.table)
        self.table.copy_wanted.connect(self.copy)
        self.plot = PictureView("Plans and bars side by side")
        self.words = QLabel()
        self.words.setAccessibleName("What the numbers say")
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.words.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self.says = QLabel(_FEW)
        self.says.setAccessibleName("State of the comparison")
        self.says.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.says.setWordWrap(True)
        self.says.setMargin(40)
        self.strip = ProblemStrip("Problems of what is compared", self)
        self.strip.wanted.connect(session.take_to)
        self._lay_out()
        session.project_changed.connect(self.refresh)
        session.file_changed.connect(self.refresh)
        self.refresh()

    # -- parts -----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        copy = QPushButton("Copy")
        copy.setToolTip("Copy table and sentences as text")
        copy.clicked.connect(self.copy)
        export = QPushButton("Write the plot…")
        export.setToolTip("Write the one-page plot as SVG")
        export.clicked.connect(self._export)
        self._outputs = (copy, export)
        top = QHBoxLayout()
        top.addWidget(heading)
        top.addStretch(1)
        top.addWidget(copy)
        top.addWidget(export)
        words = QScrollArea()
        words.setWidget(self.words)
        words.setWidgetResizable(True)
        self.words.setMargin(10)
        words.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        lower = QSplitter(Qt.Orientation.Horizontal)
        lower.setChildrenCollapsible(False)
        lower.addWidget(self.table)
        lower.addWidget(words)
        lower.setSizes([640, 264])
        lower.setStretchFactor(0, 1)
        lower.setStretchFactor(1, 1)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self.plot)
        split.addWidget(lower)
        split.setSizes([360, 300])
        self._stack = QStackedWidget()
        self._stack.addWidget(self.says)
        self._stack.addWidget(split)
        middle = QHBoxLayout()
        middle.setSpacing(14)
        middle.addWidget(self._left())
        middle.addWidget(self._stack, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(8)
        page.addLayout(top)
        page.addLayout(middle, 1)
        page.addWidget(self.strip)

    def _left(self) -> QWidget:
        add = QPushButton("&Add a file…")
        add.setToolTip("Put the layouts of another project file among them")
        add.clicked.connect(self._ask)
        first = QPushButton("&First")
        first.setToolTip("Hold the others against the one selected; rows can be dragged too")
        first.clicked.connect(self._to_front)
        row = QHBoxLayout()
        row.addWidget(add)
        row.addWidget(first)
        left = QWidget()
        left.setFixedWidth(238)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.choices, 1)
        column.addLayout(row)
        return left

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def found(self) -> Comparison | None:
        """The comparison shown."""
        return self._found

    @property
    def busy(self) -> bool:
        """Whether something is being measured."""
        return self._job.busy

    def refresh(self) -> None:
        """List what can be compared, and measure what is chosen where this is seen."""
        self._list()
        self._measure()

    def add_file(self, path: Path) -> bool:
        """Put the layouts of a project file among what can be compared, chosen while there is room."""
        try:
            project = load(path)
        except StringerlabError as error:
            self._session.problem.emit(error)
            return False
        self._others[str(path)] = project
        self._list(fresh=str(path))
        self._measure()
        return True

    def choose(self, names: Sequence[str]) -> None:
        """Choose rows by the words they show, and no others."""
        self._filling = True
        for row in range(self.choices.count()):
            item = self.choices.item(row)
            item.setCheckState(_checked(item.text() in names))
        self._filling = False
        self._measure()

    def copy(self) -> None:
        """Put table and sentences on the clipboard as text."""
        if self._found is not None:
            QGuiApplication.clipboard().setText(f"{self.table_model.as_text()}\n\n{self.words.text()}")
            self._session.said.emit("The comparison is copied as text.")

    def write_plot(self, path: Path) -> None:
        """Write the one-page plot as SVG.

        Raises
        ------
        StringerlabError
            When it cannot be written; what was there stays.
        """
        if self._found is None:
            return
        picture = comparison_picture(self._found, units=self._session.units)
        text = svg(picture, PRINT, title="Layouts and boats side by side", legend=LEGEND)
        written(path, text.encode("utf-8"))
        self._session.said.emit(f"The plot is written to {path.name}.")

    def showEvent(self, event: QShowEvent) -> None:
        """Measure what is chosen."""
        super().showEvent(event)
        self.refresh()

    # -- the list --------------------------------------------------------------------------------

    def _list(self, fresh: str = "") -> None:
        """Show what can be compared: rows keep their place and their tick, new ones stand last."""
        wanted = dict(self._offered())
        kept = [(self._key(row), self.choices.item(row)) for row in range(self.choices.count())]
        order = [key for key, _ in kept if key in wanted]
        ticked = {key for key, item in kept if item.checkState() is Qt.CheckState.Checked}
        begun = bool(kept)
        for key in wanted:
            if key not in order:
                order.append(key)
                if (not begun or key.file == fresh != "") and len(ticked & set(wanted)) < MOST:
                    ticked.add(key)
        selected = self.choices.currentRow()
        self._filling = True
        self.choices.clear()
        for key in order:
            item = QListWidgetItem(wanted[key])
            item.setData(_KEY, (key.file, key.layout, key.parent))
            item.setToolTip(f"{wanted[key]}\n{key.file or 'this project'}")
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(_checked(key in ticked))
            self.choices.addItem(item)
        self.choices.setCurrentRow(min(max(selected, 0), len(order) - 1))
        self._filling = False

    def _offered(self) -> list[tuple[_Key, str]]:
        """Return what can be compared, and its words."""
        project = self._session.project
        found = [(_Key("", layout), words) for layout, words in _rows_of(project)]
        path, kin = self._kin()
        if kin is not None and path is not None:
            found += [(_Key(str(path), layout, True), words) for layout, words in _rows_of(kin)]
        for file, other in self._others.items():
            found += [(_Key(file, layout), words) for layout, words in _rows_of(other)]
        return found

    def _kin(self) -> tuple[Path | None, Project | None]:
        """Return the parent boat's file and project, read once for as long as the same one is named."""
        project, own = self._session.project, self._session.path
        named = (own, project.parent.file if project.parent is not None else "")
        if self._parent[0] != named:
            try:
                path = parent_path(own, project)
                self._parent = (named, path, load_parent(own, project))
            except StringerlabError:
                self._parent = (named, None, None)  # the page Boat says what is wrong with it
        return self._parent[1], self._parent[2]

    def _key(self, row: int) -> _Key:
        file, layout, parent = self.choices.item(row).data(_KEY)
        return _Key(file, layout, parent)

    def _picked(self) -> list[Chosen]:
        own = self._session.project
        found: list[Chosen] = []
        for row in range(self.choices.count()):
            if self.choices.item(row).checkState() is not Qt.CheckState.Checked:
                continue
            key = self._key(row)
            kin = self._kin()[1] if key.parent else None
            project = kin or (self._others[key.file] if key.file else own)
            service = own.parent.service if key.parent and own.parent is not None else ""
            found.append(
                Chosen(project=project, layout=key.layout, parent=key.parent, service=service, file=key.file)
            )
        return found

    def _chosen(self) -> None:
        if not self._filling:
            self._measure()

    def _to_front(self) -> None:
        row = self.choices.currentRow()
        if row > 0:
            self._filling = True
            self.choices.insertItem(0, self.choices.takeItem(row))
            self._filling = False
            self.choices.setCurrentRow(0)
            self._measure()

    def _ask(self) -> None:
        start = self._session.path.parent if self._session.path is not None else Path.home()
        name, _ = QFileDialog.getOpenFileName(
            self, "Compare with a project", str(start), "Projects (*.json);;All files (*)"
        )
        if name:
            self.add_file(Path(name))

    def _export(self) -> None:
        start = self._session.path.parent if self._session.path is not None else Path.home()
        name, _ = QFileDialog.getSaveFileName(
            self, "Write the plot", str(start / "comparison.svg"), "SVG (*.svg)"
        )
        if not name:
            return
        try:
            self.write_plot(Path(name))
        except StringerlabError as error:
            self._session.problem.emit(error)

    # -- measuring -------------------------------------------------------------------------------

    def _measure(self) -> None:
        if not self.isVisible():
            return
        picked = self._picked()
        units = self._session.units
        of = (tuple(picked), units)
        if self._of == of:
            return
        self._of = of
        if not FEWEST <= len(picked) <= MOST:
            self._job.cancel()
            self._show(None)
            more = f"{len(picked)} are chosen. " if len(picked) > MOST else ""
            self.says.setText(more + _FEW)
            return
        self.says.setText(_WAITING)
        self._job.start(lambda watch: compare(picked, watch, system=units))

    def _progress(self, fraction: float, what: str) -> None:
        self.says.setText(f"{_WAITING}\n{what}, {fraction:.0%}")

    def _failed(self, error: StringerlabError) -> None:
        self._show(None)
        self.says.setText("\n".join(str(problem) for problem in error.problems))

    def _take(self, found: Comparison) -> None:
        self._show(found)

    def _show(self, found: Comparison | None) -> None:
        self._found = found
        for button in self._outputs:
            button.setEnabled(found is not None)
        self.table_model.show(found, self._session.units)
        self._stack.setCurrentIndex(0 if found is None else 1)
        if found is None:
            self.strip.show_problems([])
            return
        self._columns.fit()
        self.plot.show_picture(comparison_picture(found, units=self._session.units, page=WIDE))
        self.words.setText("\n\n".join((*found.sentences, *found.missing, *found.notes)))
        self.strip.show_problems(
            [(f"{one.letter}, {one.boat}: {problem}", "") for one in found.items for problem in one.problems]
        )


def _rows_of(project: Project) -> list[tuple[str, str]]:
    """Return the layouts of a project with their words; without any the boat itself."""
    if not project.layouts:
        return [("", project.name)]
    return [(layout.id, f"{layout.name}, {project.name}") for layout in project.layouts]


def _checked(on: bool) -> Qt.CheckState:
    return Qt.CheckState.Checked if on else Qt.CheckState.Unchecked
