"""What is to stand on the documents: number, revision, who, for whom, when, size, list of changes."""

from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QItemSelection, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFormLayout,
    QGroupBox,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.paper.revisions import RevisionModel, RevisionTable
from stringerlab.desktop.session import Session
from stringerlab.project import PageSize
from stringerlab.project.paper_edits import with_paper, with_revision, without_revisions


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the form: the field of `Paper` it is, its words, its meaning, the label of its edit."""

    field: str
    name: str
    tip: str
    label: str


LINES = (
    _Line("number", "Number", "Number of the document, by your own scheme", "Change document number"),
    _Line("revision", "Revision", "The revision on paper, as A or 1", "Change revision"),
    _Line("author", "Author", "Who made the calculation", "Change author"),
    _Line("reviewer", "Reviewer", "The naval architect who reviews and signs", "Change reviewer"),
    _Line("client", "Client", "For whom it is made", "Change client"),
    _Line("date", "Date", "As you write dates; the program enters none by itself", "Change date"),
)
_SIZES = {PageSize.A4: "A4", PageSize.LETTER: "US letter"}


class WordsField(QLineEdit):
    """A line of words; Escape takes the typing back."""

    def __init__(self, name: str, tip: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._held = ""
        self._tip = tip
        self.setAccessibleName(name)
        self.setObjectName(name)
        self.show_words("")

    def show_words(self, words: str) -> None:
        """Show words; what is being typed is given up where they are others."""
        if words != self._held or not self.isModified():
            self._held = words
            self.setText(words)
            self.setCursorPosition(0)
        self.setToolTip(f"{words}\n{self._tip}" if words else self._tip)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the typing back on Escape."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.setText(self._held)
            self.selectAll()
            return
        super().keyPressEvent(event)


class PaperForm(QWidget):
    """Particulars and list of changes; each value typed is one edit."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.lines: dict[str, WordsField] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self._particulars())
        column.addWidget(self._changes(), 1)
        session.shown_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what the project says."""
        paper = self._session.shown.paper
        for line in LINES:
            self.lines[line.field].show_words(str(getattr(paper, line.field)))
        self.size_choice.show_value(paper.size.value)
        self.model.show_changes(paper.changes)
        self._buttons()

    def add(self) -> None:
        """Add a line after the current one, or at the end, and go to it."""
        current = self.table.currentIndex()
        row = current.row() if current.isValid() else self.model.rowCount() - 1
        if self._session.edit("Add a change to the list", with_revision, row if row >= 0 else None):
            self.table.setCurrentIndex(self.model.index(row + 1, 0))
            self.table.setFocus()

    def remove(self) -> None:
        """Take the selected lines out."""
        if rows := self.table.chosen():
            self._session.edit("Remove from the list of changes", without_revisions, rows)

    # -- inside ----------------------------------------------------------------------------------

    def _particulars(self) -> QGroupBox:
        group = QGroupBox("On the paper", self)
        form = QFormLayout(group)
        form.setContentsMargins(0, 4, 0, 4)
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(5)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for line in LINES:
            field = WordsField(line.name, line.tip, group)
            field.editingFinished.connect(partial(self._typed, line))
            form.addRow(line.name, field)
            self.lines[line.field] = field
        self.size_choice = Choice("Page size", "Size of the sheets of every document", group)
        self.size_choice.offer([(words, size.value) for size, words in _SIZES.items()])
        self.size_choice.activated.connect(self._sized)
        form.addRow("Page size", self.size_choice)
        return group

    def _changes(self) -> QGroupBox:
        group = QGroupBox("List of changes", self)
        self.model = RevisionModel(self._session, group)
        self.table = RevisionTable(self.model, group)
        self.table.adding.connect(self.add)
        self.table.removing.connect(self.remove)
        self.table.selectionModel().selectionChanged.connect(self._selected)
        self.add_button = QPushButton("Add", group)
        self.add_button.setToolTip("A change after the current one (Ins)")
        self.add_button.clicked.connect(self.add)
        self.remove_button = QPushButton("Remove", group)
        self.remove_button.setToolTip("Take the selected changes out (Del)")
        self.remove_button.clicked.connect(self.remove)
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        buttons.addWidget(self.add_button)
        buttons.addWidget(self.remove_button)
        buttons.addStretch(1)
        column = QVBoxLayout(group)
        column.setContentsMargins(0, 4, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.table, 1)
        column.addLayout(buttons)
        return group

    def _typed(self, line: _Line) -> None:
        field = self.lines[line.field]
        words = field.text().strip()
        field.setModified(False)
        if words == getattr(self._session.project.paper, line.field):
            field.show_words(words)
            return
        self._session.edit(line.label, with_paper, **{line.field: words})

    def _sized(self) -> None:
        size = PageSize(self.size_choice.value)
        if size is not self._session.project.paper.size:
            self._session.edit("Change page size", with_paper, size=size)

    def _selected(self, now: QItemSelection, before: QItemSelection) -> None:
        del now, before
        self._buttons()

    def _buttons(self) -> None:
        self.remove_button.setEnabled(bool(self.table.chosen()))


__all__ = ["LINES", "PaperForm", "WordsField"]
