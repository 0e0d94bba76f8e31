"""The problems panel: everything wrong in meaning, where it is and what to do, live while a person edits.

The first fifty are listed, the rest counted. Enter or a double click goes to the place.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QAbstractTableModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QStackedLayout,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.errors import FIRST_SHOWN, Problem
from stringerlab.project.pointing import pointed_at

_COLUMNS = ("Where", "What", "What to do")
_NONE = "Nothing is wrong in the project: every panel and span can be judged."


@dataclass(frozen=True, slots=True)
class Line:
    """A problem as listed; a repair was put right by itself, a doubt is only asked about."""

    problem: Problem
    repaired: bool = False
    asked: bool = False

    @property
    def said(self) -> str:
        """What is said before it, of one that forbids nothing."""
        return "Put right: " if self.repaired else "Please check: " if self.asked else ""

    @property
    def texts(self) -> tuple[str, str, str]:
        """Where, what, what to do."""
        problem = self.problem
        what = f"{self.said}{problem.what}"
        return _begun(problem.where) or "Project", what, problem.remedy


class ProblemsModel(QAbstractTableModel):
    """The lines of the panel."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines: list[Line] = []

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show other lines; what stays keeps its selection."""
        show_rows(self, self._lines, lines, key=lambda line: line)

    def line(self, row: int) -> Line:
        """Return the line of a row."""
        return self._lines[row]

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many lines there are."""
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(_COLUMNS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Return a heading."""
        if role == Qt.ItemDataRole.DisplayRole and orientation == Qt.Orientation.Horizontal:
            return _COLUMNS[section]
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a cell's words; its tip is the whole problem."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return line.texts[index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"{line.problem}\nEnter or a double click goes there."
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        return None


class ProblemsTable(QTableView):
    """A table that goes to the place on Enter or a double click, and copies on the copy keys."""

    chosen = Signal(int)
    """A row a person wants to be taken to."""
    copying = Signal()
    """A person asks for the lines as text."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        self.horizontalHeader().setHighlightSections(False)
        self.doubleClicked.connect(self._double_clicked)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the place on Enter; copy on the copy keys."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.chosen.emit(self.currentIndex().row())
        elif event.matches(QKeySequence.StandardKey.Copy):
            self.copying.emit()
        else:
            super().keyPressEvent(event)

    def _double_clicked(self, index: QModelIndex) -> None:
        self.chosen.emit(index.row())


class ProblemsPanel(QWidget):
    """What is wrong in the project shown, and what was put right in it."""

    title = "Problems"
    count_changed = Signal(int)
    """How many problems there are now; repairs do not count."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("problems")
        self.setAccessibleName("Problems")
        self._session = session
        self._shown: tuple[Line, ...] = ()
        self.model = ProblemsModel(self)
        self.table = ProblemsTable(self)
        self.table.setModel(self.model)
        self.table.setAccessibleName("Problems: where, what, what to do")
        self.table.chosen.connect(self._go)
        self.table.copying.connect(self.copy_selected)
        self.summary = QLabel(self)
        self.summary.setAccessibleName("Number of problems")
        self.copy_button = QPushButton("Copy all", self)
        self.copy_button.setToolTip("Copy every problem as text, also those not listed")
        self.copy_button.clicked.connect(self.copy_all)
        self.empty = QLabel(_NONE, self)
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self.empty.setProperty("faint", True)
        head = QHBoxLayout()
        head.addWidget(self.summary, 1)
        head.addWidget(self.copy_button)
        body = QWidget(self)
        self._stack = QStackedLayout(body)
        self._stack.addWidget(self.empty)
        self._stack.addWidget(self.table)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 8)
        column.addLayout(head)
        column.addWidget(body, 1)
        self.setTabOrder(self.table, self.copy_button)
        session.shown_changed.connect(self._refresh)
        self._refresh()

    @property
    def count(self) -> int:
        """How many problems there are; repairs do not count."""
        return sum(not line.said for line in self._shown)

    def copy_all(self) -> None:
        """Put every problem on the clipboard as text."""
        self._copy(self._shown)

    def copy_selected(self) -> None:
        """Put the selected problems on the clipboard as text."""
        rows = sorted({index.row() for index in self.table.selectionModel().selectedRows()})
        self._copy([self.model.line(row) for row in rows])

    def _copy(self, lines: Sequence[Line]) -> None:
        if lines:
            words = (f"{line.said}{line.problem}" for line in lines)
            QGuiApplication.clipboard().setText("\n".join(words))
            self._session.said.emit(f"{_counted(len(lines), 'line')} copied.")

    def _go(self, row: int) -> None:
        target = pointed_at(self._session.shown, self.model.line(row).problem.where)
        if target:
            self._session.take_to(target)
        else:
            self._session.said.emit("This problem names no one place to go to.")

    def _refresh(self) -> None:
        resolved = self._session.resolved
        lines = (
            *(Line(problem) for problem in resolved.problems),
            *(Line(doubt, asked=True) for doubt in resolved.doubts),
            *(Line(repair, repaired=True) for repair in resolved.repairs),
        )
        if lines == self._shown and self.summary.text():
            return
        before = self.count
        self._shown = lines
        self.model.show_lines(lines[:FIRST_SHOWN])
        self.summary.setText(_summary(lines))
        self.copy_button.setEnabled(bool(lines))
        self._stack.setCurrentWidget(self.table if lines else self.empty)
        if self.count != before:
            self.count_changed.emit(self.count)


def _begun(words: str) -> str:
    """Return words as a line begins."""
    return words[:1].upper() + words[1:]


def _summary(lines: Sequence[Line]) -> str:
    if not lines:
        return "No problems"
    repaired, asked = sum(line.repaired for line in lines), sum(line.asked for line in lines)
    problems = len(lines) - repaired - asked
    parts = [_counted(problems, "problem")] if problems else []
    parts += [f"{asked} to check"] if asked else []
    parts += [f"{repaired} put right"] if repaired else []
    words = ", ".join(parts)
    more = len(lines) - FIRST_SHOWN
    return f"{words}; the first {FIRST_SHOWN} listed, {more} more" if more > 0 else words


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
