"""Own books on the materials page: a book in, a book out; in place of the page what a book would bring."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QMenu,
    QPushButton,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.pages.book_merge import BookMerge
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.files.books import load_book, save_book
from stringerlab.materials.book import every
from stringerlab.project.books import in_use, own_book

FILTER = "Books of materials (*.toml);;All files (*)"


class Books(QStackedWidget):
    """A page that gives way to a book's merge, or to what is wrong with a book, while there is one."""

    arrived = Signal(str)
    """The id of a material that a book brought."""

    def __init__(
        self, session: Session, chosen: Callable[[], Sequence[str]], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._session, self._chosen = session, chosen
        self.merge = BookMerge(session)
        self.merge.closed.connect(self._done)
        self.refused = _Refused()
        self.refused.closed.connect(self._show_page)
        self.tools = QWidget()
        self.import_button = QToolButton()
        self.export_button = QToolButton()
        self.export_menu = QMenu(self)
        self._set_up()

    def show_page(self, page: QWidget) -> None:
        """Take the page that is shown while no book is."""
        for part in (page, self.merge, self.refused):
            self.addWidget(part)

    # -- in --------------------------------------------------------------------------------------

    def ask_import(self) -> None:
        """Ask for a book and show what it would bring."""
        dialog = self._dialog("Import a book of materials", QFileDialog.AcceptMode.AcceptOpen)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(self._import_named)
        dialog.open()

    def _import_named(self, name: str) -> None:
        self.take_in(Path(name))

    def take_in(self, path: Path) -> None:
        """Show what a book would bring, or everything that is wrong with it."""
        try:
            self.merge.begin(load_book(path), path)
        except StringerlabError as refused:
            self.refused.say(path, [str(problem) for problem in refused.problems])
            self.setCurrentWidget(self.refused)
            self.refused.list.setFocus()
            return
        self.setCurrentWidget(self.merge)
        self.merge.list.setFocus()

    def _done(self, came: str) -> None:
        self._show_page()
        if came:
            self.arrived.emit(came)

    def _show_page(self) -> None:
        self.setCurrentIndex(0)

    # -- out -------------------------------------------------------------------------------------

    def ask_export(self, ids: Sequence[str] | None, *, with_shipped: bool = False) -> None:
        """Ask for a file and write these materials, None for all own ones, with what they need."""

        def named(name: str) -> None:
            self.write(Path(name), ids, with_shipped=with_shipped)

        dialog = self._dialog("Export a book of materials", QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("toml")
        dialog.selectFile("materials.toml")
        dialog.fileSelected.connect(named)
        dialog.open()

    def write(self, path: Path, ids: Sequence[str] | None, *, with_shipped: bool = False) -> None:
        """Write a book; a refusal is shown and leaves a former file as it was."""
        try:
            book = own_book(self._session.project, ids, with_shipped=with_shipped)
            save_book(book, path)
        except StringerlabError as refused:
            self._session.problem.emit(refused)
            return
        count = len(every(book))
        self._session.said.emit(f"Wrote {count} material{'s' if count > 1 else ''} to {path.name}.")

    def _offer(self) -> None:
        """Offer what there is to write now."""
        self.export_menu.clear()
        project = self._session.project
        own, used = every(project.materials), in_use(project)
        chosen = tuple(self._chosen())
        offers: tuple[tuple[str, str, Sequence[str] | None, bool, bool], ...] = (
            (
                f"Own materials in use ({len(used)})",
                "Named by a laminate or fill",
                used,
                False,
                bool(used),
            ),
            (f"All own materials ({len(own)})", "In use or not", None, False, bool(own)),
            (f"What is chosen in the list ({len(chosen)})", "Own or shipped", chosen, False, bool(chosen)),
            ("All, the shipped ones too", "Own ones in front of shipped ones", None, True, True),
        )
        for words, tip, ids, with_shipped, enabled in offers:
            action = self.export_menu.addAction(words)
            action.setToolTip(f"{tip}; a fabric brings its fibre and resin")
            action.setEnabled(enabled)
            action.triggered.connect(
                lambda _=False, i=ids, shipped_too=with_shipped: self.ask_export(i, with_shipped=shipped_too)
            )

    def _dialog(self, title: str, mode: QFileDialog.AcceptMode) -> QFileDialog:
        path = self._session.path
        dialog = QFileDialog(self, title, str(path.parent if path else Path.home()), FILTER)
        dialog.setAcceptMode(mode)
        dialog.finished.connect(dialog.deleteLater)
        return dialog

    def _set_up(self) -> None:
        self.import_button.setText("Import book…")
        self.import_button.setToolTip("Read a book of materials and see what it would bring")
        self.import_button.setAccessibleName("Import a book of materials")
        self.import_button.clicked.connect(self.ask_import)
        self.export_button.setText("Export book…")
        self.export_button.setToolTip("Write materials as a book for another project or yard")
        self.export_button.setAccessibleName("Export a book of materials")
        self.export_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.export_button.setMenu(self.export_menu)
        self.export_menu.setToolTipsVisible(True)
        self.export_menu.aboutToShow.connect(self._offer)
        row = QHBoxLayout(self.tools)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        row.addWidget(self.import_button)
        row.addWidget(self.export_button)
        row.addStretch(1)


class _Refused(QWidget):
    """Everything that is wrong with a book that was not taken in."""

    closed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.heading = QLabel()
        self.heading.setProperty("heading", True)
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self.says = QLabel()
        self.says.setProperty("faint", True)
        self.list = QListWidget()
        self.list.setAccessibleName("What is wrong with the book")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setWordWrap(True)
        self.list.setAlternatingRowColors(True)
        self.list.setStyleSheet("QListWidget::item { padding: 4px; }")
        self.close_button = QPushButton("Close")
        self.close_button.setToolTip("Back to the materials (Esc)")
        self.close_button.clicked.connect(self.closed)
        escape = QShortcut(QKeySequence("Esc"), self)
        escape.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        escape.activated.connect(self.closed)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 12, 12, 12)
        layout.addWidget(self.heading)
        layout.addWidget(self.says)
        layout.addWidget(self.list, 1)
        layout.addLayout(foot)

    def say(self, path: Path, problems: Sequence[str]) -> None:
        """Show all problems of a book."""
        count = len(problems)
        self.heading.setText(f"{path.name} was not taken in")
        self.heading.setToolTip(str(path))
        self.says.setText(f"{count} problem{'s' if count > 1 else ''}; the project is as it was.")
        self.list.clear()
        self.list.addItems(list(problems))
        self.list.setCurrentRow(0)
