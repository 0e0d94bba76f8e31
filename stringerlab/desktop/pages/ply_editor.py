"""One laminate's plies: its name, the table, and everything that can be done to plies, by key or button."""

import json
from collections.abc import Callable
from dataclasses import asdict

from PySide6.QtCore import QMimeData, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QSpinBox,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.ply_rows import choices, in_words, laminate_problems, ply_number
from stringerlab.desktop.models.ply_table import Column, PlyTable
from stringerlab.desktop.models.ply_text import as_text, from_text
from stringerlab.desktop.pages.ply_view import PlyView
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Laminate, Ply
from stringerlab.materials.records import Reinforcement
from stringerlab.project import book_of, edits
from stringerlab.project.ply_edits import (
    Middle,
    made_symmetric,
    plies_moved,
    plies_repeated,
    with_plies,
    without_plies,
)

PLIES = "application/x-stringerlab-plies"
"""Kind of clipboard content that holds plies exactly as they are drawn up."""


class PlyEditor(QWidget):
    """Edits the plies of one laminate."""

    picked = Signal(list)
    """Rows of the plies selected."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.model = PlyTable(session, self)
        self.view = PlyView(session, self.model)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the laminate")
        self.name.setPlaceholderText("Name of the laminate")
        self.name.editingFinished.connect(self._rename)
        self.problems = ProblemStrip("What is wrong with this laminate")
        self.problems.wanted.connect(self._take_to_ply)
        self.times = QSpinBox()
        self.times.setRange(2, 99)
        self.times.setSuffix(" times")
        self.times.setAccessibleName("How many times the plies are there after Repeat")
        self.times.setToolTip("How many times the selected plies are there after Repeat")
        self._make_actions()
        self._lay_out()
        self.view.moved.connect(self._move)
        self.view.selectionModel().selectionChanged.connect(self._selection_changed)
        self.view.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    @property
    def laminate(self) -> Laminate | None:
        """The laminate shown."""
        return self.model.laminate

    def show_laminate(self, laminate: Laminate | None) -> None:
        """Show a laminate of the project shown, or the same one as it is now."""
        session = self._session
        other = (laminate and laminate.id) != (self.laminate and self.laminate.id)
        self.model.show_laminate(laminate)
        if other or not self.name.isModified():
            self.name.setText(laminate.name if laminate else "")
        wrong = laminate_problems(session.shown, session.resolved, laminate) if laminate else ()
        links = [(in_words(p), str(n - 1) if (n := ply_number(p)) else "") for p in wrong]
        self.problems.show_problems(links)
        self.setEnabled(laminate is not None)
        if other and laminate and laminate.plies:
            with QSignalBlocker(self):
                self.view.setCurrentIndex(self.model.index(0, Column.MATERIAL))
        self._enable()
        if other:
            self.picked.emit(self.view.selected_rows())

    # -- what is done to plies -------------------------------------------------------------------

    def add(self) -> None:
        """Add a ply after the current one, of its material where it is a reinforcement."""
        if self.laminate is None:
            return
        rows = self.view.selected_rows()
        at = rows[-1] + 1 if rows else len(self.laminate.plies)
        beside = self.laminate.plies[at - 1].material if at else ""
        if not isinstance(book_of(self._session.project).find(beside), Reinforcement):
            beside = choices(self._session.project)["Reinforcements"][0].id
        if self._session.edit("Add ply", with_plies, self.laminate.id, at, [Ply(material=beside)]):
            self.view.select_rows([at], Column.MATERIAL)
            self.view.setFocus()

    def delete(self) -> None:
        """Delete the selected plies."""
        rows = self.view.selected_rows()
        if self.laminate is None or not rows:
            return
        if self._session.edit(_counted("Delete", rows), without_plies, self.laminate.id, rows):
            self._select_near(rows[0])

    def duplicate(self) -> None:
        """Put a copy of the selected plies after them."""
        self._repeat("Duplicate", 2)

    def repeat(self) -> None:
        """Have the selected plies, as one sequence, so many times."""
        self._repeat("Repeat", self.times.value())

    def move_up(self) -> None:
        """Move the selected plies one place towards the mould."""
        rows = self.view.selected_rows()
        if rows and rows[0] > 0:
            self._move(rows, rows[0] - 1)

    def move_down(self) -> None:
        """Move the selected plies one place away from the mould."""
        rows = self.view.selected_rows()
        if rows and rows[-1] < self.model.rowCount() - 1:
            self._move(rows, rows[-1] + 2)

    def make_symmetric(self, middle: Middle) -> None:
        """Mirror the plies, gel coat left out."""
        if self.laminate is not None:
            self._session.edit("Make laminate symmetric", made_symmetric, self.laminate.id, middle)

    def copy(self) -> None:
        """Copy the selected plies, or all, as text for a spreadsheet and exactly for another laminate."""
        rows = self.view.selected_rows() or list(range(self.model.rowCount()))
        if not rows:
            return
        held = [self.model.rows[row] for row in rows]
        data = QMimeData()
        data.setText(as_text(held, self._session.units))
        data.setData(PLIES, json.dumps([asdict(row.ply) for row in held]).encode())
        QGuiApplication.clipboard().setMimeData(data)
        self._session.said.emit(_counted("Copied", rows))

    def cut(self) -> None:
        """Copy the selected plies and delete them."""
        if self.view.selected_rows():
            self.copy()
            self.delete()

    def paste(self) -> None:
        """Put the plies on the clipboard after the selected ones; text from a spreadsheet too."""
        if self.laminate is None:
            return
        try:
            plies = self._on_clipboard()
        except StringerlabError as refused:
            self._session.problem.emit(refused)
            return
        rows = self.view.selected_rows()
        at = rows[-1] + 1 if rows else len(self.laminate.plies)
        pasted = list(range(at, at + len(plies)))
        if self._session.edit(_counted("Paste", pasted), with_plies, self.laminate.id, at, plies):
            self.view.select_rows(pasted)

    # -- inside ----------------------------------------------------------------------------------

    def _take_to_ply(self, row: str) -> None:
        self.view.select_rows([int(row)])
        self.view.setFocus()

    def _on_clipboard(self) -> tuple[Ply, ...]:
        data = QGuiApplication.clipboard().mimeData()
        if data.hasFormat(PLIES):
            try:
                return tuple(Ply(**held) for held in json.loads(bytes(data.data(PLIES).data())))
            except (TypeError, ValueError):
                problem = Problem("The plies on the clipboard do not read.", remedy="Copy them again.")
                raise StringerlabError(problem) from None
        return from_text(data.text(), book_of(self._session.project), self._session.units)

    def _repeat(self, word: str, times: int) -> None:
        rows = self.view.selected_rows()
        if self.laminate is None or not rows:
            return
        label = _counted(word, rows) if times == 2 else f"{_counted(word, rows)} {times} times"
        if self._session.edit(label, plies_repeated, self.laminate.id, rows, times):
            first = rows[-1] + 1
            self.view.select_rows(list(range(first, first + len(rows) * (times - 1))))

    def _move(self, rows: list[int], to: int) -> None:
        if self.laminate is None or not rows:
            return
        first = to - sum(row < to for row in rows)
        if self._session.edit(_counted("Move", rows), plies_moved, self.laminate.id, rows, to):
            self.view.select_rows(list(range(first, first + len(rows))))

    def _select_near(self, row: int) -> None:
        last = self.model.rowCount() - 1
        if last >= 0:
            self.view.select_rows([min(row, last)])

    def _rename(self) -> None:
        if self.laminate is None or not self.name.isModified():
            return
        self.name.setModified(False)
        name = self.name.text().strip()
        if name and name != self.laminate.name:
            label = f"Rename laminate {self.laminate.name}"
            self._session.edit(label, edits.renamed, self.laminate.id, name)
        else:
            self.name.setText(self.laminate.name)

    def _selection_changed(self) -> None:
        self._enable()
        self.picked.emit(self.view.selected_rows())

    def _enable(self) -> None:
        rows = self.view.selected_rows()
        for action in self._of_selection:
            action.setEnabled(bool(rows))
        self._up.setEnabled(bool(rows) and rows[0] > 0)
        self._down.setEnabled(bool(rows) and rows[-1] < self.model.rowCount() - 1)

    def _make_actions(self) -> None:
        keys = QKeySequence.StandardKey
        self._add = self._action("Add", "Add a ply after the selected one", self.add, "Ins")
        self._duplicate = self._action("Duplicate", "Copy the selected plies", self.duplicate, "Ctrl+D")
        self._repeat_action = self._action(
            "Repeat", "Have the selected plies, as one sequence, so many times", self.repeat, "Ctrl+R"
        )
        self._up = self._action("Up", "Move towards the mould", self.move_up, "Alt+Up")
        self._down = self._action("Down", "Move away from the mould", self.move_down, "Alt+Down")
        self._delete = self._action("Delete", "Delete the selected plies", self.delete, "Del")
        separator = QAction(self)
        separator.setSeparator(True)
        self.view.addAction(separator)
        self._cut = self._action("Cut", "Copy the selected plies and delete them", self.cut, keys.Cut)
        self._action("Copy", "Copy the selected plies, or all, as text too", self.copy, keys.Copy)
        self._action("Paste", "Put plies from the clipboard after the selected", self.paste, keys.Paste)
        self._of_selection = (self._duplicate, self._repeat_action, self._delete, self._cut)
        self._ply = self._action(
            "Symmetric about the last ply",
            "Mirror the plies; the last one stays single. A sandwich's inner skin mirrors the outer one",
            lambda: self.make_symmetric(Middle.PLY),
            "Ctrl+M",
        )
        self._face = self._action(
            "Symmetric about the last ply's face",
            "Mirror the plies; the last one comes twice",
            lambda: self.make_symmetric(Middle.FACE),
            "Ctrl+Shift+M",
        )

    def _action(
        self, words: str, tip: str, done: Callable[[], None], keys: str | QKeySequence.StandardKey
    ) -> QAction:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        shown = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        action.setToolTip(f"{tip} ({shown})" if shown else tip)
        action.triggered.connect(lambda _checked=False: done())
        self.view.addAction(action)
        return action

    def _lay_out(self) -> None:
        self.name.setProperty("heading", True)
        tools = QHBoxLayout()
        tools.setSpacing(4)
        for action in (self._add, self._duplicate, self._repeat_action):
            tools.addWidget(self._button(action))
        tools.addWidget(self.times)
        symmetric = QToolButton()
        symmetric.setText("Symmetric ▾")
        symmetric.setToolTip("Mirror the plies about the last one, gel coat left out")
        symmetric.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(symmetric)
        menu.addActions([self._ply, self._face])
        symmetric.setMenu(menu)
        tools.addWidget(symmetric)
        for action in (self._up, self._down, self._delete):
            tools.addWidget(self._button(action))
        tools.addStretch(1)
        note = QLabel("Plies count away from the mould; bold is typed, the rest follows from the material.")
        note.setProperty("faint", True)
        note.setWordWrap(True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self.name)
        layout.addLayout(tools)
        layout.addWidget(self.problems)
        layout.addWidget(self.view, 1)
        layout.addWidget(note)

    def _button(self, action: QAction) -> QToolButton:
        button = QToolButton()
        button.setDefaultAction(action)
        button.setAccessibleName(f"{action.text()} plies")
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return button


def _counted(word: str, rows: list[int]) -> str:
    return f"{word} ply {rows[0] + 1}" if len(rows) == 1 else f"{word} {len(rows)} plies"
