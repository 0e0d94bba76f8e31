"""The section under the hand in numbers: stiffness, sizes, findings, in the same frame as the drawing."""

from math import nan
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    Qt,
    QTimer,
)
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListView,
    QPushButton,
    QSplitter,
    QStackedWidget,
    QTreeView,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess.live import Live, completed, live_section
from stringerlab.assess.readings import readings
from stringerlab.desktop.facts_basis import basis
from stringerlab.desktop.facts_row import FactsRow
from stringerlab.desktop.facts_torsion import TorsionAtRest
from stringerlab.desktop.finding_pane import FindingPane
from stringerlab.desktop.finding_row import FindingRow
from stringerlab.desktop.models.facts import CHANGE, NAME, VALUE, FactsModel
from stringerlab.desktop.models.findings import (
    FINDING_ROLE,
    UTILISATION,
    FindingsFilter,
    FindingsModel,
    heading_text,
    row_text,
)
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError, shown
from stringerlab.methods import Finding, FindingKey
from stringerlab.project import Project

if TYPE_CHECKING:
    from stringerlab.desktop.second_opinion import SecondOpinionPane

_PAUSE = 60
"""Milliseconds a drag must rest before the enclosed area, which is dear, is computed."""
_NO_SECTION = "Choose a section to see its numbers."
_NO_SPAN = "No span uses this section yet, so there is nothing to judge."


class FactsPane(QWidget):
    """Live numbers and findings of one section."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._section = ""
        self._live: Live | None = None
        self._base: dict[str, float] = {}
        self._used: dict[FindingKey, float] = {}
        self._base_of: tuple[Project, str] | None = None
        self._enclosed = nan
        self._resting = QTimer(self, singleShot=True, interval=_PAUSE)
        self._resting.timeout.connect(self._rested)

        self.heading = QLabel()
        self.heading.setWordWrap(True)
        font = self.heading.font()
        font.setBold(True)
        self.heading.setFont(font)
        self.basis = _faint("What the numbers count")
        self.copy_button = QPushButton("Copy")
        self.copy_button.setToolTip("Copy numbers and findings as tab-separated text (Ctrl+C)")
        self.copy_button.setAccessibleName("Copy numbers and findings")
        self.copy_button.clicked.connect(self.copy)
        self.second_button = QPushButton("Second opinion")
        self.second_button.setToolTip("Hold the section's numbers against another library's, with its mesh")
        self.second_button.clicked.connect(self.ask_second_opinion)
        self.problems = QLabel()
        self.problems.setWordWrap(True)
        self.problems.setAccessibleName("What forbids a number")
        self.problems.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

        self._facts = FactsModel(self)
        self.tree = self._tree()
        self._findings = FindingsModel(self)
        self._order = FindingsFilter(self)
        self._order.setDynamicSortFilter(False)
        self._order.setSourceModel(self._findings)
        self.list = self._list()
        self.found = _faint("Findings of the section's spans")
        self._lay_out()

        session.shown_changed.connect(self._refresh)
        session.results_changed.connect(self._checked)
        session.selection_changed.connect(self._follow)
        self._torsion = TorsionAtRest(self)
        self._torsion.found.connect(self._settled)
        self._torsion.said.connect(self._say_basis)
        self._workings: FindingPane | None = None
        self._second: SecondOpinionPane | None = None
        self._follow(session.selected)
        self._refresh()

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def section(self) -> str:
        """Id of the section shown, empty for none."""
        return self._section

    @property
    def live(self) -> Live | None:
        """The numbers shown."""
        return self._live

    def show_section(self, id: str) -> None:  # noqa: A002
        """Show a section's numbers from now on; an empty id for none."""
        if id != self._section:
            self._section = id
            self._refresh()

    def text(self) -> str:
        """Return numbers and findings as tab-separated text."""
        parts = [f"{self.heading.text()}\n{self.basis.text()}", self._facts.text()]
        found = [row_text(finding, self._session.units) for finding in self._in_order()]
        if found:
            parts.append("\n".join([heading_text(), *found]))
        return "\n\n".join(part for part in parts if part)

    def copy(self) -> None:
        """Put numbers and findings on the clipboard as text."""
        QGuiApplication.clipboard().setText(self.text())
        self._session.said.emit("The section's numbers and findings are copied.")

    def open_workings(self, finding: Finding) -> None:
        """Show a finding's workings in a window of their own beside the drawing; it follows each edit."""
        if self._workings is None:
            pane = FindingPane(self._session, self)
            pane.setWindowFlag(Qt.WindowType.Dialog)
            pane.setContentsMargins(10, 4, 10, 8)
            pane.stand(Qt.Orientation.Horizontal)
            pane.resize(620, 640)
            pane.place_wanted.connect(self._session.take_to)
            pane.installEventFilter(self)
            self._workings = pane
        self._workings.setWindowTitle(f"Workings: {finding.name}, {finding.aspect.value}")
        self._workings.show_finding(finding, self._session.units)
        self._workings.show()

    def ask_second_opinion(self) -> None:
        """Ask another library about the section, in a window of its own beside the drawing."""
        if self._second is None:
            from stringerlab.desktop.second_opinion import SecondOpinionPane

            self._second = SecondOpinionPane(self._session, self)
            self._second.setWindowFlag(Qt.WindowType.Dialog)
            self._second.resize(620, 680)
        self._second.show()
        self._second.ask(self._section)

    # -- parts -----------------------------------------------------------------------------------

    def _tree(self) -> QTreeView:
        tree = QTreeView()
        tree.setModel(self._facts)
        tree.setAccessibleName("Numbers of the section")
        tree.setItemDelegate(FactsRow(tree))
        tree.setHeaderHidden(True)
        tree.setIndentation(10)
        tree.setUniformRowHeights(True)
        tree.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        tree.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        tree.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        tree.installEventFilter(self)
        header = tree.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        # of fixed width: a column that measured its cells would do so at every frame of a drag
        for column, words in ((VALUE, "000000 lbf·ft²"), (CHANGE, "▲ 00.0 %")):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            header.resizeSection(column, tree.fontMetrics().horizontalAdvance(words) + 10)
        header.moveSection(CHANGE, VALUE)  # the numbers stand at the edge, what changes beside them
        self._facts.regrouped.connect(self._spread)
        return tree

    def _list(self) -> QListView:
        view = QListView()
        view.setModel(self._order)
        view.setAccessibleName("Findings of the section's spans")
        view.setItemDelegate(FindingRow(view))
        view.setUniformItemSizes(True)
        view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setToolTip("Click or Enter opens the workings")
        view.clicked.connect(self._open)
        view.installEventFilter(self)
        return view

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.heading, 1)
        top.addWidget(self.second_button, 0, Qt.AlignmentFlag.AlignTop)
        top.addWidget(self.copy_button, 0, Qt.AlignmentFlag.AlignTop)
        upper = QWidget()
        above = QVBoxLayout(upper)
        above.setContentsMargins(0, 0, 0, 0)
        above.setSpacing(4)
        above.addLayout(top)
        above.addWidget(self.basis)
        above.addWidget(self.problems)
        above.addWidget(self.tree, 1)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 6, 0, 0)
        below.setSpacing(4)
        below.addWidget(self.found)
        below.addWidget(self.list, 1)
        parts = QSplitter(Qt.Orientation.Vertical)
        parts.setChildrenCollapsible(False)
        parts.addWidget(upper)
        parts.addWidget(lower)
        parts.setStretchFactor(0, 3)
        parts.setStretchFactor(1, 2)
        none = QLabel(_NO_SECTION)
        none.setWordWrap(True)
        none.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._stack = QStackedWidget()
        self._stack.addWidget(parts)
        self._stack.addWidget(none)
        page = QVBoxLayout(self)
        page.setContentsMargins(8, 8, 8, 8)
        page.addWidget(self._stack)
        self.setMinimumWidth(300)

    # -- numbers ---------------------------------------------------------------------------------

    def _follow(self, id: str) -> None:  # noqa: A002
        """Show the section that what is selected is, stands in or uses; else go on with the present one."""
        for section in self._session.shown.sections:
            if id == section.id or any(part.id == id for part in (*section.walls, *section.fills)):
                self.show_section(section.id)
                return
        span = next((span for span in self._session.shown.spans if span.id == id), None)
        if span is not None:
            self.show_section(span.section)

    def _refresh(self) -> None:
        session, dragged = self._session, self._session.shown is not self._session.project
        known = any(section.id == self._section for section in session.shown.sections)
        self._stack.setCurrentIndex(0 if known else 1)
        self._torsion.drop()
        if not known:
            self._resting.stop()
            self._live = None
            self._facts.show((), session.units, {})
            self._findings.show((), session.units)
            return
        try:
            self._live = live_section(session.shown, session.resolved, self._section)
        except StringerlabError as error:
            self._live = None
            self._facts.show((), session.units, {})
            self._findings.show((), session.units)
            self._say_problems(str(error))
            return
        if dragged:
            self._resting.start()
        else:
            self._resting.stop()
            self._enclosed = self._area()
        self._show_numbers(dragged=dragged)
        self._show_findings(dragged=dragged)
        if not dragged and self._live.properties is not None:
            self._torsion.ask(self._live, session.resolved)

    def _settled(self, live: Live) -> None:
        """Show torsion and shear in full; a drag goes on comparing quick answer with quick answer."""
        self._live = live
        self._facts.show(readings(live, enclosed=self._enclosed), self._session.units, {})

    def _show_numbers(self, *, dragged: bool) -> None:
        assert self._live is not None
        section = self._live.section
        found = readings(self._live, enclosed=self._enclosed)
        if not dragged:
            self._base = {reading.key: reading.value for reading in found}
            self._base_of = (self._session.project, section.id)
        compared = dragged and self._base_of == (self._session.project, section.id)
        self._facts.show(found, self._session.units, self._base if compared else {})
        _say(self.heading, section.name)
        self._say_basis()
        self._say_problems("\n".join(shown(self._live.problems, 3)))

    def _show_findings(self, *, dragged: bool) -> None:
        assert self._live is not None
        findings = completed(
            self._live.findings, self._session.results, settled=not dragged and self._session.fresh
        )
        compared = dragged and self._base_of == (self._session.project, self._section)
        self._findings.show(findings, self._session.units, before=self._used if compared else None)
        if not dragged:  # under the hand rows stay where they are
            self._used = {one.key: one.utilisation for one in findings if one.utilisation is not None}
            self._order.sort(UTILISATION, Qt.SortOrder.DescendingOrder)
        spans = len({finding.subject for finding in findings})
        _say(self.found, f"Findings of {spans} span{'s' if spans != 1 else ''}" if spans else _NO_SPAN)
        if self._workings is not None and self._workings.isVisible() and not dragged:
            self._workings.follow(findings)

    def _checked(self) -> None:
        if self._live is not None and self._session.shown is self._session.project:
            self._show_findings(dragged=False)

    def _area(self) -> float:
        """Return the enclosed area; nan where there is none to be had."""
        if self._live is None or self._live.facts is None:
            return nan
        try:
            return self._live.facts.enclosed_area
        except StringerlabError:
            return nan

    def _rested(self) -> None:
        self._enclosed = self._area()
        if self._live is not None:
            self._show_numbers(dragged=self._session.shown is not self._session.project)

    def _say_basis(self) -> None:
        if self._live is not None:
            shown, notes = self._session.shown, self._torsion.notes
            _say(self.basis, basis(self._live, shown.laminates, self._session.units, notes))

    def _say_problems(self, words: str) -> None:
        _say(self.problems, words)
        self.problems.setVisible(bool(words))

    # -- gestures --------------------------------------------------------------------------------

    def _in_order(self) -> list[Finding]:
        held = (self._order.index(row, 0).data(FINDING_ROLE) for row in range(self._order.rowCount()))
        return [finding for finding in held if isinstance(finding, Finding)]

    def _open(self, index: QModelIndex) -> None:
        finding = index.data(FINDING_ROLE)
        if isinstance(finding, Finding):
            self.open_workings(finding)

    def _spread(self) -> None:
        self.tree.expandAll()
        for row in range(self._facts.rowCount()):
            self.tree.setFirstColumnSpanned(row, QModelIndex(), True)

    def eventFilter(self, watched: object, event: QEvent) -> bool:
        """Copy from tree and list, open from the list, close the workings."""
        if event.type() not in (QEvent.Type.KeyPress, QEvent.Type.ShortcutOverride):
            return False
        key = cast(QKeyEvent, event)
        if watched is self._workings:
            if event.type() == QEvent.Type.KeyPress and key.key() == Qt.Key.Key_Escape:
                cast(QWidget, watched).hide()
                return True
            return False
        if key.matches(QKeySequence.StandardKey.Copy):
            if event.type() == QEvent.Type.KeyPress:
                self.copy()
            event.accept()
            return True
        entered = key.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if watched is self.list and entered and event.type() == QEvent.Type.KeyPress:
            self._open(self.list.currentIndex())
            return True
        return False


def _faint(name: str) -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    label.setAccessibleName(name)
    label.setProperty("faint", True)
    return label


def _say(label: QLabel, words: str) -> None:
    """Set a label's words where they are others: a label that is told again lays itself out again."""
    if label.text() != words:
        label.setText(words)
