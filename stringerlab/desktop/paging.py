"""The pages in the middle of the window: each made when it is first shown, and kept."""

from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from stringerlab.desktop.actions import Page
from stringerlab.desktop.session import Session

if TYPE_CHECKING:
    from stringerlab.desktop.pages.welcome import WelcomePage


class Pages(QStackedWidget):
    """The page shown, and those shown before."""

    open_wanted = Signal(str)
    """A file, by its path, from the first screen."""
    file_wanted = Signal()
    """A file that is still to be chosen."""
    sample_wanted = Signal(str)
    new_wanted = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.made: dict[str, QWidget] = {}
        self.page_id = ""
        """Id of the page shown, empty on the first screen."""
        self._welcome: WelcomePage | None = None

    def show_page(self, page: Page) -> None:
        """Show a page."""
        if page.id not in self.made:
            made = getattr(import_module(page.module), page.widget)(self._session, self)
            self.made[page.id] = made
            self.addWidget(made)
        self.page_id = page.id
        self.setCurrentWidget(self.made[page.id])

    def show_welcome(self, recent: tuple[str, ...]) -> None:
        """Show the first screen."""
        from stringerlab.desktop.pages.welcome import WelcomePage

        if self._welcome is None:
            welcome = self._welcome = WelcomePage(parent=self)
            welcome.open_requested.connect(self.open_wanted)
            welcome.file_requested.connect(self.file_wanted)
            welcome.sample_requested.connect(self.sample_wanted)
            welcome.new_requested.connect(self.new_wanted)
            self.addWidget(welcome)
        self._welcome.show_recent(recent)
        self.page_id = ""
        self.setCurrentWidget(self._welcome)
        self._welcome.new_button.setFocus()
