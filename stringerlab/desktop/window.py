"""The window: rail, page, problems, title block, menus. It brings the parts together and computes nothing."""

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QByteArray, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QSplitter, QVBoxLayout, QWidget

from stringerlab.desktop.actions import PAGES
from stringerlab.desktop.banner import Banner
from stringerlab.desktop.documents import Documents
from stringerlab.desktop.drawings import Drawings
from stringerlab.desktop.menus import Menus
from stringerlab.desktop.paging import Pages
from stringerlab.desktop.paper.doing import paper_doings
from stringerlab.desktop.rail import Rail
from stringerlab.desktop.session import Session
from stringerlab.desktop.settings import Place, Store
from stringerlab.desktop.theme import Dresser, Scheme
from stringerlab.desktop.title_block import TitleBlock
from stringerlab.desktop.unexpected import Unexpected
from stringerlab.desktop.whereabouts import file_dragged, focus_next, on_a_screen, page_of
from stringerlab.errors import StringerlabError
from stringerlab.methods import Verdict
from stringerlab.project.contents import things
from stringerlab.project.particulars import with_particulars
from stringerlab.units import System

if TYPE_CHECKING:
    from stringerlab.desktop.pages.plan import PlanPage
    from stringerlab.desktop.pages.sections import SectionsPage
    from stringerlab.desktop.plan.canvas import Plan
    from stringerlab.desktop.sheet import Sheet

_SMALLEST = (960, 620)
_FIRST = (1280, 800)


class Window(QMainWindow):
    """One window on one session; ``has_project`` false shows the first screen."""

    def __init__(self, session: Session, *, has_project: bool = True, store: Store | None = None) -> None:
        super().__init__()
        self.session = session
        self._ended = False
        self.setMinimumSize(*_SMALLEST)
        self.setAcceptDrops(True)
        self.dresser = Dresser.of_application()

        self.rail = Rail(self)
        self.banner = Banner(self)
        self.title_block = TitleBlock(self)
        self.stack = Pages(session, self)
        self.problems: QWidget | None = None
        self._split = QSplitter(Qt.Orientation.Vertical, self)
        self._split.setChildrenCollapsible(False)
        self._lay_out()

        self.documents = Documents(session, store or Store(), self.banner, self, has_project=has_project)
        self.documents.place = lambda: Place(page=self.page_id, selected=session.selected)
        documents = self.documents
        self.unexpected = Unexpected(self, documents.ask_save_copy)
        self.drawings = Drawings(session, self.stack, self.banner, self)
        self.menus = Menus(
            self,
            self._does(),
            recent=lambda: documents.settings.recent,
            open_file=documents.open,
            open_sample=documents.begin_sample,
        )
        self._connect()
        self._dress()
        settings = documents.settings
        self.menus.check(self.dresser.scheme.value)
        if not (settings.geometry and self.restoreGeometry(QByteArray.fromHex(settings.geometry.encode()))):
            self.resize(*_FIRST)
        self._show_problems(settings.problems_shown)
        self._went()
        if has_project:
            documents.remember_opened()
            self._arrive()
        else:
            self._leave()

    # -- making ----------------------------------------------------------------------------------

    def _lay_out(self) -> None:
        right = QVBoxLayout()
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(0)
        self._split.addWidget(self.stack)
        right.addWidget(self.banner)
        right.addWidget(self._split, 1)
        upper = QHBoxLayout()
        upper.setSpacing(0)
        upper.addWidget(self.rail)
        upper.addLayout(right, 1)
        centre = QWidget(self)
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(upper, 1)
        column.addWidget(self.title_block)
        self.setCentralWidget(centre)

    def _does(self) -> dict[str, Callable[[], object]]:
        documents = self.documents
        shows: dict[str, Callable[[], object]] = {
            f"page_{page.id}": lambda p=page.id: self.show_page(p) for page in PAGES
        }
        looks: dict[str, Callable[[], object]] = {s.value: lambda s=s: self.show_scheme(s) for s in Scheme}
        return {
            **shows,
            **looks,
            **paper_doings(self.show_page, self.stack.made),
            "new": documents.begin_new,
            "open": documents.ask_open,
            "save": documents.save,
            "save_as": documents.ask_save_as,
            "save_copy": documents.ask_save_copy,
            "close": documents.close,
            "import_dxf": self.import_dxf,
            "export": self.export_sheet,
            "quit": self.close,
            "undo": self.session.undo,
            "redo": self.session.redo,
            "metric": lambda: self.show_units(System.METRIC),
            "us": lambda: self.show_units(System.US),
            "problems": lambda: self._show_problems(self.problems is None or self.problems.isHidden()),
            "recheck": self.session.assess,
            "full": lambda: self.setWindowState(self.windowState() ^ Qt.WindowState.WindowFullScreen),
            "next_part": self.focus_next_part,
            "tour": self.start_tour,
            "about": self.show_about,
        }

    def _connect(self) -> None:
        session, block, documents = self.session, self.title_block, self.documents
        session.project_changed.connect(self._went)
        session.file_changed.connect(self._titled)
        session.results_changed.connect(self._judged)
        session.selection_changed.connect(self._allow)
        session.wanted.connect(self.show_thing)
        session.export_wanted.connect(self.export_sheet)
        session.problem.connect(self.show_problem)
        session.said.connect(block.hint.say)
        session.progress.connect(block.show_progress)
        session.busy_changed.connect(block.show_busy)
        block.problems_wanted.connect(self.menus.actions["problems"].trigger)
        block.findings_wanted.connect(lambda: self.show_page("findings"))
        block.notice_wanted.connect(self.show_about)
        block.stop_wanted.connect(self._stop)
        block.units_wanted.connect(self.show_units)
        self.rail.chosen.connect(self.show_page)
        self.stack.open_wanted.connect(self._open_named)
        self.stack.file_wanted.connect(documents.ask_open)
        self.stack.sample_wanted.connect(documents.begin_sample)
        self.stack.new_wanted.connect(documents.begin_new)
        documents.opened.connect(self._arrive)
        documents.closed.connect(self._leave)
        self.drawings.done.connect(self.show_page)
        self.dresser.changed.connect(self._dress)
        QGuiApplication.instance().screenRemoved.connect(self._screen_gone)  # pyright: ignore

    # -- pages -----------------------------------------------------------------------------------

    @property
    def page_id(self) -> str:
        """Id of the page shown, empty on the first screen."""
        return self.stack.page_id

    def show_page(self, page_id: str) -> None:
        """Show a page, made now if it was not shown before."""
        page = next(page for page in PAGES if page.id == page_id)
        if page.of_project and not self.documents.has_project:
            return
        self.stack.show_page(page)
        self.rail.show_page(page_id)
        self.title_block.hint.say(f"{page.tip}.")

    def show_thing(self, id: str) -> None:  # noqa: A002
        """Show the page of the thing with an id."""
        if page := page_of(self.session.project, id):
            self.show_page(page)

    def _arrive(self) -> None:
        """Go to the place in the project where a person was last."""
        path = self.session.path
        place = self.documents.settings.place(path) if path else Place()
        known = {page.id for page in PAGES if page.of_project}
        self.menus.check("metric" if self.session.units is System.METRIC else "us")
        self._went()
        self.rail.allow(True)
        self.show_page(place.page if place.page in known else "sections")
        ids = {thing.record.id for thing in things(self.session.project)}
        if place.selected in ids:
            self.session.select(place.selected)
        if not self.documents.settings.tour_done:
            QTimer.singleShot(0, self, self.start_tour)

    def _leave(self) -> None:
        """Show the first screen."""
        self.stack.show_welcome(self.documents.settings.recent)
        self.rail.show_page("")
        self.rail.allow(False)
        self.title_block.hint.say("Open a project, begin from a sample, or drag a file in.")
        self._went()

    def _open_named(self, name: str) -> None:
        self.documents.open(Path(name))

    @property
    def _drawn(self) -> "Sheet | Plan":
        """The plan while it is shown, else the sheet, whose page is shown then."""
        if self.page_id == "plan":
            return cast("PlanPage", self.stack.made["plan"]).plan
        self.show_page("sections")
        return cast("SectionsPage", self.stack.made["sections"]).sheet

    # -- keeping up ------------------------------------------------------------------------------

    def _went(self) -> None:
        shown = self.documents.has_project
        self.title_block.show_project(shown)
        self.title_block.show_units(self.session.units)
        self.menus.check("metric" if self.session.units is System.METRIC else "us")
        if self.problems is not None and not shown:
            self.problems.hide()
        self._titled()
        self._judged()

    def _titled(self) -> None:
        session = self.session
        if not self.documents.has_project:
            self.setWindowTitle("stringerlab")
            self.setWindowModified(False)
        else:
            where = session.path.name if session.path else "no file yet"
            self.setWindowTitle(f"{session.project.name} ({where})[*] – stringerlab")
            self.setWindowModified(session.unsaved)
        self._allow()

    def _allow(self) -> None:
        session = self.session
        self.menus.allow(
            project=self.documents.has_project,
            selection=bool(session.selected),
            undo=session.undo_label,
            redo=session.redo_label,
        )

    def _judged(self) -> None:
        results = self.session.results
        verdicts = (
            Counter[Verdict](finding.verdict for finding in results.findings)
            if results
            else Counter[Verdict]()
        )
        tokens = self.dresser.tokens
        self.title_block.show_verdicts(verdicts, tokens, fresh=self.session.fresh)
        self.rail.buttons["findings"].show_count(
            verdicts[Verdict.SHORT] if self.documents.has_project else 0, tokens
        )
        self._count_problems()

    def _count_problems(self) -> None:
        results = self.session.results
        listed = (results.problems, results.doubts, results.repairs) if results else ((), (), ())
        shown = self.problems is not None and not self.problems.isHidden()
        problems, asked, put_right = map(len, listed)
        self.title_block.show_problems(problems, asked, put_right, shown)

    def _stop(self) -> None:
        self.session.cancel()
        self.session.said.emit("Check stopped; what is shown may be of an earlier state. F5 checks again.")

    # -- what the menus do -----------------------------------------------------------------------

    def show_units(self, system: System) -> None:
        """Show the project in other units: an edit like any other."""
        if system is not self.session.project.units:
            self.session.edit(
                f"Show {'metric' if system is System.METRIC else 'US'} units", with_particulars, units=system
            )
        self.title_block.show_units(self.session.units)

    def show_scheme(self, scheme: Scheme) -> None:
        """Show light, dark, or as the system is, and remember it."""
        self.dresser.dress(scheme)
        self.documents.remember(scheme=scheme.value)

    def show_problem(self, refused: StringerlabError) -> None:
        """Say what was refused."""
        self.banner.say(list(map(str, refused.problems)), wrong=True, until=self.session.project_changed)

    def _show_problems(self, shown: bool) -> None:
        if shown and self.problems is None:
            from stringerlab.desktop.problems import ProblemsPanel

            self.problems = ProblemsPanel(self.session)
            self._split.addWidget(self.problems)
            self._split.setStretchFactor(0, 1)
            self._split.setSizes([560, 170])
        if self.problems is not None:
            self.problems.setVisible(shown)
        self.menus.check("problems", shown)
        self.documents.remember(problems_shown=shown)
        self._count_problems()

    def import_dxf(self, path: Path | None = None) -> None:
        """Take a drawing in."""
        if not self.documents.has_project:
            self.banner.say(["A drawing comes into a project: open or begin one first."], wrong=True)
            return
        self.drawings.take_in(self._drawn, path, page=self.page_id)

    def export_sheet(self) -> None:
        """Write the section or the plan drawn to a file."""
        self.drawings.ask_export(self._drawn, self.session.project.name)

    def show_about(self) -> None:
        """Show version, notice and licences."""
        from stringerlab.desktop.about import About

        About(self).open()

    def start_tour(self) -> None:
        """Show the window in three steps."""
        from stringerlab.desktop.tour import Tour

        if self.documents.has_project and self.findChild(Tour) is None:
            tour = Tour(self)
            tour.ended.connect(lambda: self.documents.remember(tour_done=True))
            tour.start()

    def focus_next_part(self) -> None:
        """Put the keyboard into the next part of the window: rail, page, problems, title block."""
        problems = [] if self.problems is None else [self.problems]
        focus_next([self.banner, self.rail, self.stack, *problems, self.title_block])

    # -- the window itself -----------------------------------------------------------------------

    def _dress(self) -> None:
        self.rail.dress(self.dresser.tokens)
        self._judged()

    def _screen_gone(self) -> None:
        QTimer.singleShot(0, self, self.come_back)

    def come_back(self) -> None:
        """Move onto a screen that is there, when the one the window was on is not."""
        screens = [screen.availableGeometry() for screen in QGuiApplication.screens()]
        self.setGeometry(on_a_screen(self.geometry(), screens))

    def showEvent(self, event: QShowEvent) -> None:
        """See to it that the window is where it can be seen."""
        super().showEvent(event)
        if not self.isMaximized() and not self.isFullScreen():
            self.come_back()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take one project file or drawing."""
        if file_dragged(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the file dragged in; a drawing needs a project to come into."""
        if (path := file_dragged(event)) is not None:
            event.acceptProposedAction()
            if path.suffix.lower() == ".dxf":
                self.import_dxf(path)
            else:
                self.documents.open(path)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about what is unsaved, then end."""
        if not self._ended and self.documents.has_project and self.session.unsaved:
            event.ignore()
            self.documents.leave(self.end)
            return
        self._remember_and_stop()
        super().closeEvent(event)

    def end(self) -> None:
        """Close without asking."""
        self._remember_and_stop()
        self.close()

    def _remember_and_stop(self) -> None:
        if not self._ended:
            self._ended = True
            self.documents.remember(geometry=bytes(self.saveGeometry().toHex().data()).decode())
            self.drawings.stop()
            self.documents.end()
