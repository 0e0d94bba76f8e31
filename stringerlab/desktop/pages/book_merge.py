"""A book about to come in: what is new, the same, in conflict; each conflict settled side by side; accept."""

from functools import partial
from pathlib import Path

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QButtonGroup,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListView,
    QPushButton,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.book_rows import BookList, BookRow, FieldTable
from stringerlab.desktop.pages.two_lines import TwoLines
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.materials import material_doubts
from stringerlab.materials.differences import label
from stringerlab.materials.merging import Choice, Merge, gathered
from stringerlab.materials.records import Materials
from stringerlab.project.books import changes, merge_with, with_book

_CHOICES = (
    (Choice.MINE, "Keep &mine", "Mine stays as it is; theirs is left out"),
    (Choice.THEIRS, "Take &theirs", "Theirs takes its place: all that names it has theirs from then"),
    (Choice.BOTH, "Keep &both", "Mine stays; theirs comes in beside it under a new id"),
)
_MOST_CHANGED = 6


class BookMerge(QWidget):
    """The merge of one book into the project's own materials."""

    closed = Signal(str)
    """A person is done; the id of a material that came in, empty when nothing did."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("book_merge")
        self.setAccessibleName("Import a book")
        self._session = session
        self._book: Materials | None = None
        self._name = ""
        self._merge: Merge | None = None
        self._choices: dict[str, Choice] = {}
        self.rows = BookList(self)
        self.fields = FieldTable(self)
        self.heading = QLabel()
        self.summary = QLabel()
        self.list = QListView()
        self.subject = QLabel()
        self.table = QTableView()
        self.changed = QLabel()
        self.asked = QLabel()
        self.choice_buttons: dict[Choice, QPushButton] = {}
        self._group = QButtonGroup(self)
        self.accept_button = QPushButton("Accept")
        self.cancel_button = QPushButton("Cancel")
        self._everywhere: list[QPushButton] = []
        self._set_up()
        self._lay_out()
        session.project_changed.connect(self._project_changed)

    # -- what others call ------------------------------------------------------------------------

    def begin(self, book: Materials, path: Path) -> None:
        """Show what a book would bring.

        Raises
        ------
        StringerlabError
            When an id stands twice in the project's own materials.
        """
        self._merge = merge_with(self._session.project, book)
        self._book, self._name = book, path.name
        self._choices = {}
        self.heading.setText(f"{path.name} into own materials")
        self.heading.setToolTip(str(path))
        self._show(first=True)
        self.list.setFocus()

    def settle(self, choice: Choice) -> None:
        """Settle the conflict shown."""
        row = self._current()
        if row is not None and row.conflict is not None:
            self._choices[row.conflict.id] = choice
            self._show()

    def settle_all(self, choice: Choice) -> None:
        """Settle every conflict that is still open."""
        if self._merge is not None:
            open_still = [one.id for one in self._merge.conflicts if one.id not in self._choices]
            self._choices |= dict.fromkeys(open_still, choice)
            self._show()

    def accept(self) -> None:
        """Merge the book as one edit; a refusal is shown and changes nothing."""
        merge, book, choices = self._merge, self._book, dict(self._choices)
        if merge is None or book is None or self._open():
            return
        self._book = None  # the change this makes is its own
        if not self._session.edit(f"Import book {self._name}", with_book, book, choices):
            self._book = book
            return
        taken = [one for one in merge.conflicts if choices[one.id] is not Choice.MINE]
        self._session.said.emit(
            f"{self._name}: {len(merge.added)} added, {len(taken)} of {len(merge.conflicts)} conflicts "
            "taken from it."
        )
        new = dict(merge.renamed)
        came = [new.get(one.id, one.id) for one in merge.added]
        came += [one.new_id if choices[one.id] is Choice.BOTH else one.id for one in taken]
        self._end(came[0] if came else "")

    def cancel(self) -> None:
        """Leave everything as it was."""
        self._end("")

    # -- inside ----------------------------------------------------------------------------------

    def _end(self, came: str) -> None:
        self._book = self._merge = None
        self._choices = {}
        self.rows.show(None, {})
        self.closed.emit(came)

    def _project_changed(self) -> None:
        """Hold the book against what the project is now; what was settled stays so where it still can."""
        if self._book is None:
            return
        if self._session.undo_label is None and self._session.redo_label is None:
            self.cancel()  # another project was opened
            return
        try:
            self._merge = merge_with(self._session.project, self._book)
        except StringerlabError as refused:
            self._session.problem.emit(refused)
            self.cancel()
            return
        known = {one.id for one in self._merge.conflicts}
        self._choices = {id_: choice for id_, choice in self._choices.items() if id_ in known}
        self._show()

    def _open(self) -> list[str]:
        merge = self._merge
        return [one.id for one in merge.conflicts if one.id not in self._choices] if merge else []

    def _current(self) -> BookRow | None:
        return self.rows.at(self.list.currentIndex().row())

    def _show(self, *, first: bool = False) -> None:
        merge = self._merge
        if merge is None:
            return
        self.rows.show(merge, self._choices)
        if first or self._current() is None:
            self.list.setCurrentIndex(self.rows.index(self.rows.first()))
        counts = ((merge.conflicts, "in conflict"), (merge.added, "new"), (merge.same, "the same"))
        self.summary.setText(" · ".join(f"{len(held)} {words}" for held, words in counts))
        left = len(self._open())
        self.accept_button.setEnabled(not left)
        ready = "Bring it in as one edit, which undo takes back (Ctrl+Return)"
        self.accept_button.setToolTip(f"{left} still to settle" if left else ready)
        for button in self._everywhere:
            button.setEnabled(left > 0)
        self._show_row()
        self._show_changes()

    def _show_row(self) -> None:
        row = self._current()
        conflict = row.conflict if row else None
        self.fields.show(row, self._session.units)
        self.table.setColumnHidden(1, not self.fields.has_mine)
        if row is None or row.material is None:
            self.subject.setText("")
        elif conflict is None:
            self.subject.setText(f"{label(row.material)}: {row.second.partition(', ')[2]}")
        else:
            whose = "the project's own" if conflict.own else "the shipped one"
            self.subject.setText(f"{label(conflict.theirs)}: mine is {whose}")
        chosen = self._choices.get(conflict.id) if conflict else None
        self._group.setExclusive(False)
        for choice, button in self.choice_buttons.items():
            button.setVisible(conflict is not None)
            button.setChecked(choice is chosen)
        self._group.setExclusive(True)
        doubts = material_doubts(_alone(row)) if row else []
        self.asked.setText("\n".join(f"{one.what} {one.remedy}" for one in doubts))
        self.asked.setVisible(bool(doubts))

    def _show_changes(self) -> None:
        """Say which laminates would be others, once all is settled."""
        book, left = self._book, len(self._open())
        if book is None:
            return
        if left:
            self.changed.setText(f"{left} still to settle before it can come in.")
            return
        try:
            found = changes(
                self._session.project, with_book(self._session.project, book, dict(self._choices))
            )
        except StringerlabError as refused:
            self.changed.setText("! " + " ".join(str(problem) for problem in refused.problems))
            self.accept_button.setEnabled(False)
            return
        said = [f"{one.user.owner} ({one.user.part})" for one in found[:_MOST_CHANGED]]
        more = f" and {len(found) - _MOST_CHANGED} more" if len(found) > _MOST_CHANGED else ""
        self.changed.setText(f"Changes: {', '.join(said)}{more}." if said else "Changes no laminate.")

    def _picked(self, _index: QModelIndex) -> None:
        if self._merge is not None:
            self._show_row()

    def _set_up(self) -> None:
        self.heading.setProperty("heading", True)
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self.summary.setProperty("faint", True)
        self.summary.setAccessibleName("What the book brings")
        self.list.setModel(self.rows)
        self.list.setItemDelegate(TwoLines(self.list))
        self.list.setAccessibleName("Materials of the book")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.list.selectionModel().currentChanged.connect(self._picked)
        self.subject.setTextFormat(Qt.TextFormat.PlainText)
        self.subject.setWordWrap(True)
        for words in (self.asked, self.changed):
            words.setTextFormat(Qt.TextFormat.PlainText)
            words.setWordWrap(True)
        self.asked.setAccessibleName("Asked about this material")
        self.changed.setAccessibleName("What the book changes")
        self.table.setModel(self.fields)
        self.table.setAccessibleName("Mine and theirs, field by field")
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setStyleSheet("QTableView::item { padding: 3px 6px; }")
        self.table.setTabKeyNavigation(False)
        self.table.setWordWrap(True)
        self.table.verticalHeader().setVisible(False)
        self.table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head = self.table.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionsClickable(False)
        for column in range(self.fields.columnCount()):
            mode = QHeaderView.ResizeMode.Stretch if column else QHeaderView.ResizeMode.ResizeToContents
            head.setSectionResizeMode(column, mode)
        for choice, words, tip in _CHOICES:
            button = QPushButton(words)
            button.setCheckable(True)
            button.setToolTip(f"{tip} ({choice.value[0].upper()} in the list)")
            button.setAccessibleName(f"{words.replace('&', '')}: the conflict shown")
            button.clicked.connect(partial(self.settle, choice))
            self._group.addButton(button)
            self.choice_buttons[choice] = button
            key = QShortcut(QKeySequence(choice.value[0].upper()), self.list)
            key.setContext(Qt.ShortcutContext.WidgetShortcut)
            key.activated.connect(partial(self.settle, choice))
            every = QPushButton({"mine": "Mine", "theirs": "Theirs", "both": "Both"}[choice.value])
            every.setToolTip(f"All that is still to settle: {tip[0].lower()}{tip[1:]}")
            every.setAccessibleName(f"All still to settle: {choice.value}")
            every.clicked.connect(partial(self.settle_all, choice))
            self._everywhere.append(every)
        self.accept_button.setDefault(True)
        self.accept_button.clicked.connect(self.accept)
        self.cancel_button.setToolTip("Leave everything as it was (Esc)")
        self.cancel_button.clicked.connect(self.cancel)
        for keys, does in (("Esc", self.cancel), ("Ctrl+Return", self.accept)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(does)

    def _lay_out(self) -> None:
        every = QHBoxLayout()
        every.setSpacing(4)
        words = QLabel("All open:")
        words.setProperty("faint", True)
        every.addWidget(words)
        for button in self._everywhere:
            every.addWidget(button)
        every.addStretch(1)
        left, right = QWidget(), QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(12, 8, 8, 0)
        column.addWidget(self.list, 1)
        column.addLayout(every)
        choices = QHBoxLayout()
        choices.setSpacing(4)
        for button in self.choice_buttons.values():
            choices.addWidget(button)
        choices.addStretch(1)
        column = QVBoxLayout(right)
        column.setContentsMargins(8, 8, 12, 0)
        column.addWidget(self.subject)
        column.addLayout(choices)
        column.addWidget(self.asked)
        column.addWidget(self.table, 1)
        splitter = QSplitter()
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(left)
        splitter.addWidget(right)
        splitter.setStretchFactor(1, 1)
        splitter.setSizes([290, 850])
        head = QVBoxLayout()
        head.setContentsMargins(12, 12, 12, 0)
        head.setSpacing(2)
        head.addWidget(self.heading)
        head.addWidget(self.summary)
        foot = QHBoxLayout()
        foot.setContentsMargins(12, 0, 12, 12)
        foot.addWidget(self.changed, 1)
        foot.addWidget(self.cancel_button)
        foot.addWidget(self.accept_button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(head)
        layout.addWidget(splitter, 1)
        layout.addLayout(foot)


def _alone(row: BookRow) -> Materials:
    return gathered([row.material] if row.material is not None else [])
