"""Every finding as a table, most used first, with notes and workings of the one chosen."""

from collections import Counter
from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, Qt, QTimer
from PySide6.QtGui import QGuiApplication, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.finding_pane import FindingPane
from stringerlab.desktop.kinship import Kinship
from stringerlab.desktop.models.findings import (
    ASPECT,
    CAPACITY,
    DEMAND,
    FINDING_ROLE,
    KNOWN,
    OF_PARENT,
    PANEL,
    SOURCE,
    SPAN,
    SUBJECT,
    UTILISATION,
    VERDICT,
    Besides,
    FindingsFilter,
    FindingsModel,
    heading_text,
    row_text,
)
from stringerlab.desktop.pages.against import AgainstView
from stringerlab.desktop.pages.findings_head import FindingsHead, filter_combo
from stringerlab.desktop.pages.parent_boat import likeness_choices, likeness_of, set_likeness
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import SIGNS, UseDelegate, VerdictDelegate
from stringerlab.methods import Aspect, Finding, FindingKind, Verdict

_WIDTHS = {
    SUBJECT: 215, ASPECT: 140, DEMAND: 96, CAPACITY: 96,
    UTILISATION: 128, VERDICT: 104, SOURCE: 200, KNOWN: 116, OF_PARENT: 84,
}  # fmt: skip
_SIDE_BY_SIDE = 1500
"""Width from which the workings stand beside the table rather than below it."""
_NOTHING = (
    "Nothing is judged yet.\n\n"
    "Declare a panel (a piece of hull bottom between web roots) or a span (a member between two supports) "
    "on the page Panels and spans; its findings appear here by themselves."
)
_NO_FIT = "No finding fits what is asked for."


STALE_AFTER = 150
"""Milliseconds after which findings of an earlier state are shown as such."""


class FindingsPage(QWidget):
    """The findings of the whole project."""

    title = "Findings"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._model = FindingsModel(self)
        self._filter = FindingsFilter(self)
        self._filter.setSourceModel(self._model)
        self._following = False
        self._kinship = Kinship.of_session(session)

        self.head = FindingsHead(session, self.title)
        self.summary, self.state = self.head.summary, self.head.state

        self.table = self._table()
        self.pane = FindingPane(session)
        self.pane.place_wanted.connect(session.take_to)
        self.pane.likeness_wanted.connect(partial(set_likeness, session))
        self._middle = QStackedWidget()
        self._splitter = QSplitter(Qt.Orientation.Vertical)
        self._splitter.setChildrenCollapsible(False)
        self._splitter.addWidget(self._with_words())
        self._splitter.addWidget(self.pane)
        self._splitter.setStretchFactor(0, 1)
        self._splitter.setStretchFactor(1, 1)
        nothing = QLabel(_NOTHING)
        nothing.setWordWrap(True)
        nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        nothing.setMargin(60)
        self._middle.addWidget(self._splitter)
        self._middle.addWidget(nothing)

        self.edition = QLabel()
        self.edition.setWordWrap(True)
        self.edition.setProperty("faint", True)
        self.edition.setAccessibleName("Edition of the method, and what is wrong with the parent boat")

        self.against = AgainstView(session)
        one = QWidget()
        column = QVBoxLayout(one)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(self._asking())
        column.addWidget(self._middle, 1)
        column.addWidget(self.edition)
        views = QStackedWidget()
        views.addWidget(one)
        views.addWidget(self.against)
        self.head.view_changed.connect(views.setCurrentIndex)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(8)
        page.addWidget(self.head)
        page.addWidget(views, 1)
        self.setTabOrder(self.clear, self.table)
        self.setTabOrder(self.table, self.pane)

        self._late = QTimer(self, singleShot=True, interval=STALE_AFTER)
        self._late.timeout.connect(self._refresh)
        session.results_changed.connect(self._results_changed)
        session.busy_changed.connect(lambda: self.state.setText(_state(session)))
        session.selection_changed.connect(self._follow)
        self._kinship.changed.connect(self._refresh)
        self._refresh()

    # -- parts -----------------------------------------------------------------------------------

    def _table(self) -> RowsTable:
        table = RowsTable("Findings")
        table.setModel(self._filter)
        table.setSortingEnabled(True)
        table.sortByColumn(UTILISATION, Qt.SortOrder.DescendingOrder)
        table.setItemDelegateForColumn(VERDICT, VerdictDelegate(table))
        table.setItemDelegateForColumn(UTILISATION, UseDelegate(table))
        header = table.horizontalHeader()
        for column, width in _WIDTHS.items():
            table.setColumnWidth(column, width)
        header.setSectionResizeMode(SOURCE, QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(60)
        table.copy_wanted.connect(self.copy_rows)
        table.opened.connect(self._open)
        table.selectionModel().currentRowChanged.connect(self._chosen)
        return table

    def _with_words(self) -> QWidget:
        """Return the table with the words that stand in its place when nothing fits."""
        self._list = QStackedWidget()
        none = QFrame()
        words = QLabel(_NO_FIT)
        again = QPushButton("Show all findings")
        again.clicked.connect(self.show_all)
        column = QVBoxLayout(none)
        column.addStretch(1)
        column.addWidget(words, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(again, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(1)
        self._list.addWidget(self.table)
        self._list.addWidget(none)
        self._list.setMinimumHeight(150)
        return self._list

    def _asking(self) -> QHBoxLayout:
        self.words = QLineEdit()
        self.words.setPlaceholderText("Words in a row or its notes")
        self.words.setAccessibleName("Filter findings by words")
        self.words.setToolTip(
            "Show only findings that have every word. Escape clears it; ↓ goes to the table"
        )
        self.words.setClearButtonEnabled(True)
        self.words.setMinimumWidth(180)
        self.words.setMaximumWidth(320)
        self.words.installEventFilter(self)
        self.kind = filter_combo("Subjects", "Kind of subject", [("panels", PANEL), ("spans", SPAN)])
        self.aspect = filter_combo("All aspects", "Aspect", [(one.value, one.value) for one in Aspect])
        self.verdict = filter_combo(
            "All verdicts", "Verdict", [(f"{SIGNS[one]} {one.value}", one.value) for one in Verdict]
        )
        self.by = filter_combo(
            "Method and mechanics",
            "Origin of findings",
            [
                ("the method's own", FindingKind.RULE.value),
                ("mechanics under its pressure", FindingKind.MECHANICS.value),
                ("load shared by the grid", FindingKind.GRID.value),
            ],
        )
        self.by.setToolTip("Read the method's check, the mechanics under its pressure, or the grid's alone")
        self.clear = QPushButton("Show all")
        self.clear.setToolTip("Take every filter away")
        copy = QPushButton("Copy rows")
        copy.setToolTip("Copy the selected rows, or all that are shown, as tab-separated text (Ctrl+C)")
        self.words.textChanged.connect(self._ask)
        for combo in (self.kind, self.by, self.aspect, self.verdict):
            combo.currentIndexChanged.connect(self._ask)
        self.clear.clicked.connect(self.show_all)
        copy.clicked.connect(self.copy_rows)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.words, 1)
        for widget in (self.kind, self.by, self.aspect, self.verdict, self.clear):
            row.addWidget(widget)
        row.addStretch(0)
        row.addWidget(copy)
        return row

    # -- what others ask for ---------------------------------------------------------------------

    def show_all(self) -> None:
        """Take every filter away."""
        self.words.clear()
        for combo in (self.kind, self.by, self.aspect, self.verdict):
            combo.setCurrentIndex(0)

    def show_finding(self, finding: Finding) -> None:
        """Choose a finding by its key, taking filters away where they hide it."""
        for _ in range(2):
            for row in range(self._filter.rowCount()):
                held = self._held(row)
                if held is not None and held.key == finding.key:
                    self._choose(row)
                    return
            self.show_all()

    def copy_rows(self) -> None:
        """Put the selected rows, or all shown when none is, on the clipboard as tab-separated text."""
        rows = self.table.chosen() or range(self._filter.rowCount())
        held = [finding for row in rows if (finding := self._held(row)) is not None]
        if held:
            besides = self._besides()
            head = heading_text(of_parent=besides is not None)
            lines = [head, *(row_text(finding, self._session.units, besides) for finding in held)]
            QGuiApplication.clipboard().setText("\n".join(lines))
            self._session.said.emit(f"{len(held)} finding{'s' if len(held) != 1 else ''} copied.")

    # -- inside ----------------------------------------------------------------------------------

    def _results_changed(self) -> None:
        """Refresh at once with fresh results; show old ones as such only when a run takes its time."""
        if self._session.fresh or self._session.results is None:
            self._late.stop()
            self._refresh()
        elif not self._late.isActive():
            self._late.start()

    def _refresh(self) -> None:
        session, results = self._session, self._session.results
        findings: Sequence[Finding] = results.findings if results else ()
        of = results.project if results else session.project
        kinds = {one.id: PANEL for one in of.panels} | {one.id: SPAN for one in of.spans}
        self._filter.know(kinds, session.units)
        title = results.method.title if results else ""
        besides = self._besides()
        self._model.show(findings, session.units, stale=not session.fresh, title=title, besides=besides)
        self.table.setColumnHidden(OF_PARENT, besides is None)
        self.state.setText(_state(session))
        self.summary.setText(_summary(findings))
        edition = results.method.superseded if results else ""
        foot = "\n".join(filter(None, (edition, *self._kinship.troubles)))
        self.edition.setText(foot)
        self.edition.setVisible(bool(foot))
        # before the first results nothing is known to be empty
        empty = not findings and (session.fresh or not session.resolved.subjects)
        self._middle.setCurrentIndex(1 if empty else 0)
        self._show_list()
        if not self.table.currentIndex().isValid() and self._filter.rowCount():
            self._follow(session.selected)
            if not self.table.currentIndex().isValid():
                self._choose(0)
        self._show_chosen()

    def _ask(self) -> None:
        self._filter.ask(
            text=self.words.text(),
            kind=self.kind.currentData(),
            aspect=self.aspect.currentData(),
            verdict=self.verdict.currentData(),
            by=self.by.currentData(),
        )
        self._show_list()
        if not self.table.currentIndex().isValid() and self._filter.rowCount():
            self._choose(0)
        self._show_chosen()

    def _show_list(self) -> None:
        none = bool(self._model.findings) and not self._filter.rowCount()
        self._list.setCurrentIndex(1 if none else 0)
        self.clear.setEnabled(self._filter.narrowed)

    def _held(self, row: int) -> Finding | None:
        finding = self._filter.index(row, 0).data(FINDING_ROLE)
        return finding if isinstance(finding, Finding) else None

    def _choose(self, row: int) -> None:
        index = self._filter.index(row, 0)
        flags = QItemSelectionModel.SelectionFlag
        self._following = True
        self.table.selectionModel().setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
        self._following = False
        self.table.scrollTo(index)

    def _chosen(self, current: QModelIndex) -> None:
        self._show_chosen()
        finding = current.data(FINDING_ROLE)
        if isinstance(finding, Finding) and not self._following:
            self._session.select(finding.subject)

    def _show_chosen(self) -> None:
        index = self.table.currentIndex()
        finding = index.data(FINDING_ROLE) if index.isValid() else None
        shown = finding if isinstance(finding, Finding) else None
        self.pane.show_finding(shown, self._session.units)
        relative, theirs = self._kinship.relative, self._kinship.parent_results
        beside = relative.of(shown) if relative is not None and shown is not None else None
        if beside is None or theirs is None:
            self.pane.show_beside(None, [], "")
        else:
            own = beside.finding.subject
            choices = likeness_choices(self._session, theirs, own)
            self.pane.show_beside(beside, choices, likeness_of(self._session.project, own))

    def _besides(self) -> Besides | None:
        relative = self._kinship.relative
        return None if relative is None else relative.by_finding()

    def _follow(self, id: str) -> None:  # noqa: A002
        """Choose the first shown finding of what is selected elsewhere, unless one of it is chosen."""
        current = self.table.currentIndex()
        held = self._held(current.row()) if current.isValid() else None
        if held is not None and held.subject == id:
            return
        rows = range(self._filter.rowCount())
        row = next((row for row in rows if (one := self._held(row)) is not None and one.subject == id), None)
        if row is not None:
            self._choose(row)

    def _open(self, index: QModelIndex) -> None:
        finding = index.data(FINDING_ROLE)
        if isinstance(finding, Finding):
            self.pane.open_place(finding)

    def eventFilter(self, watched: object, event: QEvent) -> bool:
        """Clear the words on Escape; go down to the table."""
        if watched is self.words and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() == Qt.Key.Key_Escape and self.words.text():
                self.words.clear()
                return True
            if event.key() == Qt.Key.Key_Down:
                self.table.setFocus(Qt.FocusReason.OtherFocusReason)
                return True
        return False

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand the workings beside the table where there is room."""
        super().resizeEvent(event)
        wide = self.width() >= _SIDE_BY_SIDE
        wanted = Qt.Orientation.Horizontal if wide else Qt.Orientation.Vertical
        if self._splitter.orientation() != wanted:
            self._splitter.setOrientation(wanted)
            self.pane.stand(wanted)
            self._share()

    def showEvent(self, event: QShowEvent) -> None:
        """Share the room when first seen."""
        super().showEvent(event)
        if not event.spontaneous():
            self._share()

    def _share(self) -> None:
        sizes = (62, 38) if self._splitter.orientation() is Qt.Orientation.Horizontal else (45, 55)
        self._splitter.setSizes([size * 10 for size in sizes])


def _summary(findings: Sequence[Finding]) -> str:
    counts = Counter(finding.verdict for finding in findings)
    worst_first = (Verdict.SHORT, Verdict.TIGHT, Verdict.HOLDS, Verdict.NOT_JUDGED, Verdict.ADVICE)
    said = [f"{SIGNS[one]} {counts[one]} {one.value}" for one in worst_first if counts[one]]
    return "     ".join(said)


def _state(session: Session) -> str:
    if session.fresh:
        return ""
    before = "" if session.results is None else " The rows are of before the last change."
    return f"Checking …{before}" if session.busy else f"The check was stopped.{before} F5 checks again."
