"""The window's process: what must be there before Qt starts, fonts and look, the window, the event loop."""

import gc
import os
import sys
from collections.abc import Generator, Sequence
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from stringerlab.desktop.libraries import library_problem, screen_problem
from stringerlab.errors import Problem, StringerlabError

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from stringerlab.desktop.window import Window
    from stringerlab.project import Project

CANNOT = 2
"""Exit status when no window can be opened."""
_CORE = (
    "assess.live",
    "assess.readings",
    "drawing",
    "drawing.governing",
    "drawing.overlays",
    "geometry.picking",
    "geometry.snapping",
    "geometry.typed",
    "project.again",
    "project.contents",
    "project.drafting",
    "project.drafting_regions",
    "project.drafting_starters",
    "section.catching",
    "section.mouldability",
    "section.shapes",
)
"""What the first page needs and is no widget."""


def main(argv: Sequence[str]) -> int:
    """Open the window, on a project file when one is given, and return the exit status.

    Parameters
    ----------
    argv
        The arguments after the program's name: nothing, or one path.
    """
    problem = screen_problem(os.environ) or library_problem(os.environ) or _no_qt()
    if problem is not None:
        print(problem, file=sys.stderr)
        return CANNOT
    app = application()
    window = open_window(app, Path(argv[0]) if argv else None)
    window.show()
    return app.exec()


def application() -> "QApplication":
    """Return the application with its fonts; what is missing of them is told on the terminal."""
    with _uncollected():
        return _application()


def _application() -> "QApplication":
    _load_core()
    from PySide6.QtWidgets import QApplication

    from stringerlab.desktop.theme import load_fonts, text_font

    found = QApplication.instance()
    if found is None:
        gc.freeze()  # what is loaded stays: no later search need look at it
    app = found if isinstance(found, QApplication) else QApplication(["stringerlab"])
    app.setApplicationName("stringerlab")
    app.setDesktopFileName("stringerlab")
    app.setStyle("Fusion")
    for problem in load_fonts():
        print(problem, file=sys.stderr)
    app.setFont(text_font())
    return app


def open_window(app: "QApplication", path: Path | None = None) -> "Window":
    """Return a window not yet shown: on a file when it can be opened, else on the first screen.

    It is checked after the window has been painted: a check under way takes the machine at every call to Qt.
    """
    from stringerlab.desktop.garbage import kept_to_this_thread

    kept_to_this_thread()
    return _open_window(app, path)


def _open_window(app: "QApplication", path: Path | None) -> "Window":
    from stringerlab.desktop.first_paint import FirstPaint
    from stringerlab.desktop.session import Session
    from stringerlab.desktop.settings import Store
    from stringerlab.desktop.theme import Dresser, Scheme
    from stringerlab.desktop.window import Window

    store = Store()
    Dresser.of_application().dress(Scheme(store.read().scheme))
    session = Session(_nothing(), held=True)
    refused: StringerlabError | None = None
    if path is not None:
        path = path.absolute()
        try:
            session.open(path)
        except StringerlabError as error:
            refused = error
    window = Window(session, has_project=path is not None and refused is None, store=store)
    session.setParent(window)
    window.unexpected.install()
    FirstPaint(window, session.let_go)
    app.aboutToQuit.connect(window.unexpected.remove)
    app.aboutToQuit.connect(session.close)
    if refused is not None:
        window.documents.say_refused(refused, path)
    window.documents.offer_recovery()
    return window


def _load_core() -> None:
    """Load what a first check needs, before Qt and before any thread.

    Qt's import hook reads the source of every module that comes after it, which takes time, and fails on a
    library that another thread has loaded half.
    """
    from stringerlab.files import codec
    from stringerlab.methods import available

    for name in _CORE:
        import_module(f"stringerlab.{name}")
    codec.adapter()
    available()


@contextmanager
def _uncollected() -> Generator[None]:
    """Spare the search for garbage while what is made is there to stay."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _nothing() -> "Project":
    """Return the least project, which stands behind the first screen."""
    from stringerlab.craft.records import Category, Craft
    from stringerlab.project import Project

    craft = Craft(name="", category=Category.C, waterline_length=6000, mass=1500, speed=25, stations=())
    return Project(name="", craft=craft)


def _no_qt() -> Problem | None:
    try:
        import_module("PySide6")
    except ModuleNotFoundError:
        return Problem(
            "The window needs PySide6, which is not installed.",
            remedy="pip install PySide6-Essentials. The command line works without: stringerlab --help.",
        )
    return None
