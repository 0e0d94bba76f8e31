"""On paper: the documents as they will be printed, what stands on them, and the files they are written to."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.paper.bar import PagesBar
from stringerlab.desktop.paper.choosing import NAMES, DocumentChoice
from stringerlab.desktop.paper.documents import Kind, Made
from stringerlab.desktop.paper.form import PaperForm
from stringerlab.desktop.paper.page_list import PageList
from stringerlab.desktop.paper.previewing import Previewer, State
from stringerlab.desktop.paper.view import PagesView
from stringerlab.desktop.paper.writing import FORM_WORDS, WORDS, Writer, Written
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem
from stringerlab.report.exports import FORMS

_LEFT = 306
_SAID = {
    State.NONE: "Nothing is set yet.",
    State.WAITING: "Waiting for the check …",
    State.SETTING: "Setting the pages …",
    State.FRESH: "As the project is now.",
    State.STALE: "These pages are of before the last change.",
    State.STOPPED: "Stopped. Refresh sets the pages.",
    State.REFUSED: "There are no pages.",
}


class PaperPage(QWidget):
    """Choices and particulars at the left, pages at the right, files above."""

    title = "Paper"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: Made | None = None
        self.previewer = Previewer(session, self)
        self.writer = Writer(session, self)
        self.choice = DocumentChoice(self)
        self.form = PaperForm(session, self)
        self.bar = PagesBar(self)
        self.list = PageList(self)
        self.view = PagesView(self)
        self.strip = ProblemStrip("What is not in the document", self)
        self._lay_out()
        self._connect()
        self._show()

    # -- parts -----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        self.write = QPushButton("Write PDF…", self)
        self.sheets = QPushButton("Write shop sheets…", self)
        self.sheets.setToolTip("Write the seven sheets into a folder, in place of sheets of the same names")
        self.export = QPushButton("Export…", self)
        self.export.setToolTip(
            "Write sections and layout as drawings; findings, properties, take-off as tables"
        )
        self.exports = QMenu(self.export)
        for what, forms in FORMS.items():
            for form in forms:
                action = self.exports.addAction(f"{WORDS[what]}: {FORM_WORDS[form]}…")
                action.triggered.connect(
                    lambda _=False, w=what, f=form: self.writer.ask_export(w, f, self.previewer.given())
                )
        self.folder = QPushButton("Open folder", self)
        top = QHBoxLayout()
        top.setSpacing(6)
        top.addWidget(heading)
        top.addStretch(1)
        for button in (self.write, self.sheets, self.export, self.folder):
            top.addWidget(button)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 8, 0)
        column.setSpacing(4)
        column.addWidget(self.choice)
        column.addWidget(self.form, 1)
        scrolls = QScrollArea(self)
        scrolls.setWidget(left)
        scrolls.setWidgetResizable(True)
        scrolls.setFixedWidth(_LEFT)
        scrolls.setFrameShape(QFrame.Shape.NoFrame)
        scrolls.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scrolls.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        pages = QHBoxLayout()
        pages.setSpacing(6)
        pages.addWidget(self.list)
        pages.addWidget(self.view, 1)
        right = QVBoxLayout()
        right.setSpacing(6)
        right.addWidget(self.bar)
        right.addLayout(pages, 1)
        right.addWidget(self.strip)
        middle = QHBoxLayout()
        middle.setSpacing(10)
        middle.addWidget(scrolls)
        middle.addLayout(right, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(8)
        page.addLayout(top)
        page.addLayout(middle, 1)

    def _connect(self) -> None:
        previewer, writer, bar, view = self.previewer, self.writer, self.bar, self.view
        self.write.clicked.connect(self.ask_document)
        self.sheets.clicked.connect(self.ask_sheets)
        self.export.clicked.connect(self.ask_export)
        self.folder.clicked.connect(writer.open_folder)
        self.choice.changed.connect(lambda: previewer.want(self.choice.wanted))
        previewer.changed.connect(self._show)
        previewer.progress.connect(self._progress)
        writer.changed.connect(self._show)
        writer.progress.connect(bar.show_progress)
        writer.done.connect(self._written)
        bar.refresh_wanted.connect(previewer.refresh)
        bar.stop_wanted.connect(self.stop)
        bar.larger.connect(view.zoom_in)
        bar.smaller.connect(view.zoom_out)
        bar.fitting.connect(view.fit_width)
        view.page_changed.connect(self._turned)
        view.zoom_changed.connect(self._zoomed)
        self.list.chosen.connect(view.go_to)
        self.strip.wanted.connect(self._session.take_to)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def busy(self) -> bool:
        """Whether pages are being set or waited for, or something is being written."""
        return self.writer.busy or not self.previewer.settled

    def ask_report(self) -> None:
        """Show the calculation report and ask where to write it."""
        self.choice.choose(Kind.REPORT)
        self.ask_document()

    def ask_document(self) -> None:
        """Ask where to write the document shown."""
        self.writer.ask_document(self.choice.wanted, self.previewer.given(), self.previewer.made)

    def ask_sheets(self) -> None:
        """Ask for the folder to write the shop sheets into."""
        self.writer.ask_sheets(self.previewer.given(), self.previewer.made)

    def ask_export(self) -> None:
        """Offer what can be exported, and in which forms."""
        self.exports.popup(self.export.mapToGlobal(QPoint(0, self.export.height())))

    def stop(self) -> None:
        """End what is being written; if nothing is, the setting of pages."""
        if self.writer.busy:
            self.writer.stop()
        else:
            self.previewer.stop()

    def showEvent(self, event: QShowEvent) -> None:
        """Set the pages when they can be seen."""
        super().showEvent(event)
        self.previewer.see(True)

    def hideEvent(self, event: QHideEvent) -> None:
        """Set no pages while they cannot be seen."""
        self.previewer.see(False)
        super().hideEvent(event)

    # -- keeping up ------------------------------------------------------------------------------

    def _show(self) -> None:
        made, state, writing = self.previewer.made, self.previewer.state, self.writer.busy
        if made is not self._shown or (made is None and not self.view.count):
            self._show_pages(made)
        busy = writing or state in (State.SETTING, State.WAITING)
        self.bar.show_busy(busy)
        stale = made is not None and state is not State.FRESH
        said = _SAID[State.STALE] if stale and state is State.NONE else _SAID[state]
        if writing:
            said = "Writing …"
        elif stale and busy:
            said = f"{_SAID[State.STALE]} {said}"
        self.bar.say(said)
        sheets = self.choice.wanted.kind is Kind.SHOP
        self.write.setEnabled(not writing and not sheets)
        self.write.setToolTip(
            "Shop sheets are written together, by the button beside"
            if sheets
            else f"Write the {NAMES[self.choice.wanted.kind].lower()} as PDF, as the project is now"
        )
        for button in (self.sheets, self.export):
            button.setEnabled(not writing)
        self.folder.setEnabled(self.writer.folder is not None)
        folder = self.writer.folder
        self.folder.setToolTip(f"Open {folder}" if folder else "Open the folder last written to")

    def _show_pages(self, made: Made | None) -> None:
        self._shown = made
        if made is not None:
            self.list.pages.show_pages(made.pages)
            self.view.show_pages(made.pages)
            self._tell(made.problems)
        else:
            error = self.previewer.error
            problems = map(str, error.problems) if error is not None else ()
            said = "\n\n".join(f"{words[:1].upper()}{words[1:]}" for words in problems)
            self.list.pages.show_pages(())
            self.view.show_words(said)
            self._tell(())
        self._zoomed()

    def _tell(self, problems: tuple[Problem, ...]) -> None:
        self.strip.show_problems([(f"Not in it: {problem}", "") for problem in problems])

    def _written(self, made: Written) -> None:
        if made.left_out:
            self._tell(made.left_out)

    def _progress(self, part: float, doing: str) -> None:
        if not self.writer.busy:
            self.bar.show_progress(part, doing)

    def _turned(self, page: int) -> None:
        self.bar.show_place(page, self.view.count)
        self.list.follow(page)

    def _zoomed(self) -> None:
        self.bar.show_zoom(self.view.zoom, self.view.fits_width, self.view.count > 0)
