"""Method against method: every subject by each; one subject's aspects as chart and table, and why."""

from collections.abc import Sequence

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt
from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess import Against, against
from stringerlab.assess.why import method_sentences, short_name, subject_sentences
from stringerlab.desktop.against_chart import AgainstChart
from stringerlab.desktop.jobs import Job
from stringerlab.desktop.models.against import ROW_ROLE, SideBySide, SideRow
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import CellDelegate, UseDelegate, VerdictDelegate
from stringerlab.errors import StringerlabError

_USE = 66
"""Width of a method's column among the subjects."""
_ASPECT = 132
_WAITING = "Judging by every method …"
_ANEW = ", being judged anew …"
_NOTHING = "Nothing to judge yet: declare a panel or a span on the page Panels and spans."
_ONE = "There is but one method to judge by, so nothing stands against it."


class AgainstView(QWidget):
    """Every method's findings side by side; they are judged when this is seen."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Method against method")
        self._session = session
        self._of: Against | None = None
        self._subject = ""
        self._following = False
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._failed)
        self._job.progress.connect(self._progress)
        self.subjects = SideBySide("subject", self, named=False)
        self.aspects = SideBySide("aspect", self)
        self.table = _table("Subjects by method", self.subjects)
        self.table.selectionModel().currentRowChanged.connect(self._chosen)
        self.table.opened.connect(self._open)
        self.one = _table("Aspects by method", self.aspects)
        self.one.copy_wanted.connect(self.copy)
        self.heading = QLabel()
        self.heading.setAccessibleName("Subject")
        font = self.heading.font()
        font.setBold(True)
        self.heading.setFont(font)
        self.chart = AgainstChart()
        self.why = QLabel()
        self.why.setAccessibleName("Why the methods differ")
        self.why.setWordWrap(True)
        self.why.setTextFormat(Qt.TextFormat.PlainText)
        self.why.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.why.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._lay_out()
        session.results_changed.connect(self._changed)
        session.selection_changed.connect(self._follow)

    def _lay_out(self) -> None:
        copy = QPushButton("Copy text")
        copy.setToolTip("Copy the subject's findings by every method, and why they differ, as text")
        copy.clicked.connect(self.copy)
        top = QHBoxLayout()
        top.addWidget(self.heading, 1)
        top.addWidget(copy)
        words = QScrollArea()
        words.setWidget(self.why)
        words.setWidgetResizable(True)
        words.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        words.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(12, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(top)
        column.addWidget(self.chart)
        column.addWidget(self.one)
        column.addWidget(words, 1)
        self._splitter = QSplitter(Qt.Orientation.Horizontal)
        self._splitter.setChildrenCollapsible(False)
        self._splitter.addWidget(self.table)
        self._splitter.addWidget(right)
        self._splitter.setStretchFactor(0, 2)
        self._splitter.setStretchFactor(1, 3)
        self.says = QLabel(_WAITING)
        self.says.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.says.setWordWrap(True)
        self.says.setMargin(60)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.says)
        self._stack.addWidget(self._splitter)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.addWidget(self._stack)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def shown(self) -> Against | None:
        """The methods side by side, None before the first have judged."""
        return self._of

    @property
    def busy(self) -> bool:
        """Whether the methods are judging."""
        return self._job.busy

    def copy(self) -> None:
        """Put the subject's findings and why they differ on the clipboard."""
        if self._of is None:
            return
        names = [method.name for method in self._of.methods]
        cells = [
            [self.aspects.index(row, column).data() for column in range(self.aspects.columnCount())]
            for row in range(self.aspects.rowCount())
        ]
        lines = ["\t".join(map(str, line)) for line in (["aspect", *names], *cells)]
        QGuiApplication.clipboard().setText("\n".join([self.heading.text(), *lines, "", self.why.text()]))
        self._session.said.emit("The methods side by side are copied as text.")

    def showEvent(self, event: QShowEvent) -> None:
        """Judge when first seen, and what changed since."""
        super().showEvent(event)
        if not event.spontaneous():
            self._splitter.setSizes([390, 610])
        self._changed()

    # -- inside ----------------------------------------------------------------------------------

    def _changed(self) -> None:
        session = self._session
        stale = self._of is None or self._of.project is not session.project
        if stale and session.fresh and self.isVisible():
            project = session.project
            if self._subject:
                self.heading.setText(f"{self.heading.text().partition(_ANEW)[0]}{_ANEW}")
            self._job.start(lambda watch: against(project, watch=watch))

    def _progress(self, fraction: float, what: str) -> None:
        self.says.setText(f"{_WAITING}\n{what}, {fraction:.0%}")

    def _failed(self, error: StringerlabError) -> None:
        self._of = None
        self.says.setText("\n".join(str(problem) for problem in error.problems))
        self._stack.setCurrentIndex(0)

    def _take(self, of: Against) -> None:
        if of.project is not self._session.project:
            return
        self._of = of
        self.subjects.show(
            [short_name(method) for method in of.methods],
            [
                SideRow(subject=id, words=of.of(id)[0].name, findings=of.governing(id))
                for id in of.subjects  # noqa: A001
            ],
            self._session.units,
        )
        self.says.setText(_NOTHING)
        self._stack.setCurrentIndex(1 if of.subjects else 0)
        self._share(self.table, VerdictDelegate(self.table), len(of.methods))
        header = self.table.horizontalHeader()
        for column in range(1, len(of.methods) + 1):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            self.table.setColumnWidth(column, _USE)
        if self._subject not in of.subjects:
            self._subject = ""
        self._follow(self._session.selected or self._subject)
        if not self.table.currentIndex().isValid() and of.subjects:
            self._choose(0)
        self._show_subject()

    def _share(self, table: RowsTable, delegate: CellDelegate, methods: int) -> None:
        table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        table.setItemDelegate(CellDelegate(table))
        for column in range(1, methods + 1):
            table.setItemDelegateForColumn(column, delegate)

    def _show_subject(self) -> None:
        of = self._of
        lines = of.of(self._subject) if of is not None else ()
        if of is None or not lines:
            return
        rows = [
            SideRow(subject=line.subject, words=line.aspect.value, findings=line.findings) for line in lines
        ]
        names = [short_name(method) for method in of.methods]
        self.aspects.show(names, rows, self._session.units)
        self._share(self.one, UseDelegate(self.one), len(names))
        self.one.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Fixed)
        self.one.setColumnWidth(0, _ASPECT)
        head = self.one.horizontalHeader().sizeHint().height()
        row = self.one.verticalHeader().defaultSectionSize()
        self.one.setFixedHeight(head + row * min(len(rows), 8) + 4)
        self.heading.setText(lines[0].name)
        self.chart.show_rows(names, rows)
        self.why.setText("\n\n".join(self._words(of)))

    def _words(self, of: Against) -> Sequence[str]:
        if len(of.methods) < 2:
            return (_ONE, *method_sentences(of))
        return (*subject_sentences(of, self._subject, self._session.units), *method_sentences(of))

    def _chosen(self, current: QModelIndex) -> None:
        row = current.data(ROW_ROLE)
        if isinstance(row, SideRow) and row.subject != self._subject:
            self._subject = row.subject
            self._show_subject()
            if not self._following:
                self._session.select(row.subject)

    def _follow(self, id: str) -> None:  # noqa: A002
        if id != self._subject or not self.table.currentIndex().isValid():
            row = next((i for i, one in enumerate(self.subjects.rows) if one.subject == id), None)
            if row is not None:
                self._choose(row)

    def _choose(self, row: int) -> None:
        index = self.subjects.index(row, 0)
        flags = QItemSelectionModel.SelectionFlag
        self._following = True
        self.table.selectionModel().setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
        self._following = False
        self.table.scrollTo(index)

    def _open(self, index: QModelIndex) -> None:
        row = index.data(ROW_ROLE)
        if isinstance(row, SideRow):
            self._session.take_to(row.subject)


def _table(name: str, model: SideBySide) -> RowsTable:
    table = RowsTable(name)
    table.setModel(model)
    return table
